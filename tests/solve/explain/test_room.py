"""How much smaller a cloth may be: what is told holds on the smaller cloth."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pytest

from cutopt.check import check
from cutopt.cloth import replay
from cutopt.fabric import Piece
from cutopt.geometry import bounds, is_rectangle, rectangle
from cutopt.job import Job
from cutopt.lengths import INCH
from cutopt.moves import Mat, single
from cutopt.plan import CutStep, Plan, Source, Spare, Use
from cutopt.result import Room
from cutopt.solve.control.stop import Work
from cutopt.solve.explain.room import room_of
from cutopt.solve.solver import solve
from cutopt.wanted import Strip
from tests.solve.generate import generated
from tests.solve.small import bolt, cut, inch, job, laid, piece, solved


def strip_of(width: float, flawed: bool) -> Job:
    """Two parts of 4 x 10 from a piece 10 in long, with a stain from 4 to 6 in across all of it where it is flawed."""
    stain = tuple((x + inch(4), y) for x, y in rectangle(inch(2), inch(10)))
    cloth = Piece.of_size("cloth", "pear", inch(width), inch(10))
    return job(replace(cloth, flaws=(stain,) if flawed else ()), cut("slat", 4, 10, 2))


@pytest.mark.parametrize(("flawed", "across"), [(True, 0), (False, 2)])
def test_a_flaw_keeps_its_place(flawed: bool, across: int) -> None:
    """Without the stain a piece 8 in wide would do; with it a slat must lie on either side of the stain."""
    result = solved(strip_of(10, flawed))
    assert result.complete
    (room,) = result.room
    assert (room.across, room.along) == (inch(across), 0)
    smaller = strip_of(10 - across, flawed)
    again = solve(smaller, Work(300))
    assert again.complete
    assert check(smaller, again.plan) == []
    assert not solve(strip_of(10 - across - 0.5, flawed), Work(300)).complete


def room_laid(task: Job, *copies: Sequence[tuple[int, float, float]]) -> list[Room]:
    """The rooms of a plan that lies as it is told (see :func:`tests.solve.small.laid`)."""
    return list(room_of(task, laid(task, *copies)))


def slats(task: Job, axis: int, *second: float) -> Plan:
    """Each copy of the first piece cut at 4 in and then where the second slat begins, and where it ends if that is not
    the end of the piece; with the spare cloth between them where it begins later.
    """
    steps: list[CutStep] = []
    uses = []
    spare = []
    sources = []
    for copy, begins in enumerate(second, start=1):
        source = f"S{copy}"
        sources.append(Source(id=source, piece=task.pieces[0].name, copy=copy))
        rest = source
        kept = []
        for at in sorted({4, begins, begins + 4} - {10}):
            names = f"{source}.{at}", f"{source}.after {at}"
            x, y = (inch(at), None) if axis == 0 else (None, inch(at))
            steps.append(CutStep(n=len(steps) + 1, part=rest, gives=names, x=x, y=y))
            kept = [*kept, names[0]]
            rest = names[1]
        kept.append(rest)
        uses += [
            Use(part=kept[0], for_="cuts/slat"),
            Use(part=kept[1 if begins == 4 else 2], for_="cuts/slat"),
        ]
        spare.append(Spare(part=kept[2 if begins == 4 else 1]))
    return Plan(
        job=task.digest,
        sources=tuple(sources),
        cuts=tuple(steps),
        uses=tuple(uses),
        spare=tuple(spare),
        origin=task,
    )


@pytest.mark.parametrize(("second", "across"), [(4, 2), (6, 0)])
def test_spare_cloth_in_the_middle_is_no_room(second: float, across: float) -> None:
    """Two slats of 4 x 10 from 10 x 10: with the spare 2 in at the far end that may be missing, not between them.

    The slat at the left is measured from the left edge, then the spare cloth from the new edge: cut off 2 in. What is
    left is the other slat, and if the piece is narrower so is that.
    """
    task = job(piece("p", 10, 10), cut("slat", 4, 10, 2))
    (room,) = room_of(task, slats(task, 0, second))
    assert (room.across, room.along) == (inch(across), 0)
    assert bool(as_printed(task, slats(task, 0, second), "S1", inch(2), 0)) == (
        across == 0
    )


def test_along_it_is_the_same() -> None:
    task = job(piece("p", 10, 10), cut("slat", 10, 4, 2))
    found = [room_of(task, slats(task, 1, second))[0] for second in (4, 6)]
    assert [(room.across, room.along) for room in found] == [(0, inch(2)), (0, 0)]


def test_a_raw_edge_keeps_its_loss() -> None:
    """1/4 in is squared up at either side: of 9 in 8 1/2 are left, so that 1/2 in may be missing beside two of 4 in."""
    task = job(piece("p", 9, 11, edges="raw"), cut("slat", 4, 10, 2))
    (room,) = room_laid(task, [(0, 0.25, 0.25), (0, 4.25, 0.25)])
    assert (room.across, room.along) == (inch(0.5), inch(0.5))


def test_each_copy_has_its_own_room() -> None:
    task = job(piece("p", 10, 10, count=2), cut("slat", 4, 10, 4))
    assert [room.across for room in room_of(task, slats(task, 0, 4, 6))] == [inch(2), 0]


def test_a_flaw_in_the_middle_is_spare_cloth_too() -> None:
    """A stain from 4 1/2 to 5 1/2 in between two slats that take up all the rest."""
    stain = tuple((x + inch(4.5), y) for x, y in rectangle(inch(1), inch(10)))
    task = job(piece("p", 10, 10, flaws=(stain,)), cut("slat", 4, 10, 2))
    (room,) = room_of(task, slats(task, 0, 6))
    assert (room.across, room.along) == (0, 0)


def test_a_piece_that_is_used_as_it_is_has_none() -> None:
    (room,) = room_laid(job(piece("p", 10, 10), cut("square", 10, 10)), [(0, 0, 0)])
    assert (room.across, room.along) == (0, 0)


def test_of_bought_cloth_the_ends_stay_squared_up() -> None:
    """A length of 4 1/2 in less 1/2 in at each end holds 3 1/2 in by the skin of its teeth; 2 in across are spare."""
    result = solved(job(bolt(), cut("slat", 40, 3.5)))
    (room,) = result.room
    assert (room.across, room.along) == (inch(2), 0)


def test_an_odd_shape_may_be_tight_one_way_alone() -> None:
    """12 x 9 less 3 x 2 in a corner: a part of 12 x 4 has nothing to spare across, and 3 in of 7 along (identity)."""
    corners = ((0, 0), (12, 0), (12, 9), (3, 9), (3, 7), (0, 7))
    outline = tuple((inch(x), inch(y)) for x, y in corners)
    cloth = Piece(name="moss", fabric="pear", outline=outline)
    (room,) = solved(job(cloth, cut("mat", 12, 4, grain="along"))).room
    assert (room.across, room.along) == (0, inch(0.5))


@pytest.mark.parametrize(("long", "along"), [(40, 0.5), (41.25, 0.25), (41.5, 0)])
def test_a_segment_may_be_shorter_while_the_strip_is_long_enough(
    long: float, along: float
) -> None:
    """Two of 21 in less twice a seam of 1/4 in are 41 1/2 in (identity): what is beyond is to spare along each."""
    edge = Strip(name="edge", width=inch(2.5), total_length=inch(long), join="straight")
    result = solved(job(piece("end", 2.5, 21, count=2), edge))
    assert result.complete
    spare = [(room.across, room.along) for room in result.room]
    assert spare == [(0, inch(along))] * 2


def test_of_an_odd_shape_either_end_may_be_missing() -> None:
    """An L of 10 x 10 with arms of 5 in: a square of 4 in has 1/2 in to spare and more, one of 5 in none."""
    outline = tuple(
        (inch(x), inch(y))
        for x, y in ((0, 0), (10, 0), (10, 5), (5, 5), (5, 10), (0, 10))
    )
    cloth = Piece(name="ell", fabric="pear", outline=outline)
    (tight,) = solved(job(cloth, cut("square", 5, 5, 3))).room
    assert (tight.across, tight.along) == (0, 0)


def as_printed(
    task: Job, plan: Plan, source: str, less: int, axis: int
) -> set[tuple[str, int]]:
    """Parts that are wanted and come out too small on a rectangle that is shorter, with how much they lack.

    Cut by cut in numbers alone: where each part begins and ends along the axis, as far as it is measured.
    """
    mat = Mat(task, plan)
    parts = replay(task, plan)
    box = bounds(parts[source])
    ends = {source: (int(box[axis]), int(box[axis + 2]) - less)}
    for step in plan.cuts:
        if step.part not in ends:
            continue
        move, (low, high), was = (
            single(mat, step),
            ends[step.part],
            bounds(parts[step.part]),
        )
        assert move.mark is not None
        from_high = move.mark.at == was[axis + 2]
        at = (
            high - int(was[axis + 2] - move.at)
            if from_high
            else low + int(move.at - was[axis])
        )
        for name in step.gives:
            below = bounds(parts[name])[axis] < move.at
            cut_here = (low, min(at, high)) if below else (max(at, low), high)
            ends[name] = cut_here if move.axis == axis else (low, high)
    lacks = {}
    for use in plan.uses:
        if use.part in ends:
            low, high = ends[use.part]
            size = bounds(parts[use.part])
            lacks[use.part] = int(size[axis + 2] - size[axis]) - (high - low)
    return {(name, lack) for name, lack in lacks.items() if lack}


@pytest.mark.parametrize(
    ("seeds", "least"), [([0], 1), pytest.param(range(6), 5, marks=pytest.mark.slow)]
)
def test_what_is_told_holds_and_no_more_would(seeds: Sequence[int], least: int) -> None:
    """On random jobs: every part comes out at that room; nothing is told of which more is true, but for edges lost."""
    told = 0
    for seed in seeds:
        task = generated(seed, 8, 24)
        plan = solve(task, Work(150), seed=0, offers=False).plan
        odd = {
            p.name
            for p in task.pieces
            if p.flaws or not is_rectangle(p.outline) or p.edges == "raw" or p.about
        }
        plain = {
            source.id
            for source in plan.sources
            if source.piece and source.piece not in odd
        }
        for room in (room for room in room_of(task, plan) if room.source in plain):
            for axis, spare in enumerate((room.across, room.along)):
                assert not as_printed(task, plan, room.source, spare, axis), (
                    seed,
                    room,
                )
                assert as_printed(task, plan, room.source, spare + 1, axis), (
                    seed,
                    room,
                )
                told += spare > INCH // 32
    assert told >= least
