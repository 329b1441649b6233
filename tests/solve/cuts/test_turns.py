"""At most so many changes of cutting direction, also where sizes are off the grid and must be trimmed."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest

from cutopt.check import check
from cutopt.fabric import Fabric, Piece
from cutopt.geometry import rectangle
from cutopt.job import Job
from cutopt.lengths import INCH
from cutopt.plan import Plan
from cutopt.settings import Settings
from cutopt.solve.control.stop import Work
from cutopt.solve.cuts.cut_parts import Rect
from cutopt.solve.cuts.sequence import NotSeparableError, cut_tree
from cutopt.solve.model.from_job import model_of
from cutopt.solve.solver import solve
from cutopt.wanted import Cut, Strip
from tests.pages.measured import faults_of
from tests.solve.generate import generated
from tests.thinned import mostly_slow


def off_grid(seed: int, turns: int, pieces: int = 12, wanted: int = 50) -> Job:
    """A generated job whose sizes are a hair more than marks of the ruler (37/8128 in and the like)."""
    rnd = random.Random(seed)
    job = generated(seed, pieces, wanted)
    cuts = tuple(
        replace(
            row,
            width=row.width + rnd.choice((0, 37, 100)),
            length=row.length + rnd.choice((0, 53, 11)),
        )
        for row in job.cuts
    )
    return replace(job, settings=replace(job.settings, turns=turns), cuts=cuts)


def most_turns(plan: Plan) -> int:
    """The most runs of cuts in one direction on the way from a cloth to a part that is used."""
    parent = {part: cut for cut in plan.cuts for part in cut.gives}
    most = 0
    for use in plan.uses:
        ways = []
        part = use.part
        while part in parent:
            ways.append(parent[part].x is None)
            part = parent[part].part
        most = max(most, sum(a != b for a, b in zip(ways, [None, *ways], strict=False)))
    return most


@pytest.mark.parametrize("turns", [2, 3])
@pytest.mark.parametrize("seed", mostly_slow([1, 5, 6, 8], {1}))
def test_sizes_off_the_grid_give_a_plan_within_the_turns(seed: int, turns: int) -> None:
    result = solve(off_grid(seed, turns), Work(100), seed=seed)
    for offer in result.offers:
        assert check(result.job, offer.plan) == []
        assert most_turns(offer.plan) <= turns
        assert faults_of(offer.plan) == []
        assert all(short.why for short in offer.plan.short)


def two_rows(turns: int | None) -> Job:
    """Two rectangles of 2 and of 2 in less a hair, side by side on a cloth that holds just these."""
    cuts = (
        Cut(name="whole", width=3 * INCH, length=2 * INCH),
        Cut(name="hair", width=3 * INCH, length=2 * INCH - 37),
    )
    return Job(
        settings=Settings(turns=turns),
        fabrics=(Fabric(name="pear"),),
        pieces=(Piece.of_size("bit", "pear", 6 * INCH, 2 * INCH),),
        cuts=cuts,
    )


def test_one_turn_is_left_for_trimming() -> None:
    assert [model_of(two_rows(turns)).turns for turns in (None, 2, 3, 4)] == [
        None,
        2,
        2,
        3,
    ]
    on_grid = replace(two_rows(4), cuts=two_rows(4).cuts[:1])
    assert model_of(on_grid).turns == 4


@pytest.mark.parametrize("turns", [None, 3, 2])
def test_a_trim_takes_a_turn(turns: int | None) -> None:
    # cut across (one run), then the hair off one of the two (a second run): two turns do
    result = solve(two_rows(turns), Work(40))
    assert result.complete
    assert check(result.job, result.plan) == []


@pytest.mark.parametrize("turns", [2, 3])
def test_what_cannot_be_trimmed_is_short_and_says_why(turns: int) -> None:
    # the three rectangles of RECTS in inches, on a cloth that holds just these
    cuts = (
        Cut(name="tall", width=4 * INCH, length=8 * INCH, grain="along"),
        Cut(name="low", width=4 * INCH, length=4 * INCH),
        Cut(name="hair", width=4 * INCH - 37, length=4 * INCH, grain="along"),
    )
    bit = Piece.of_size("bit", "pear", 8 * INCH, 8 * INCH)
    job = Job(
        settings=Settings(turns=turns),
        fabrics=(Fabric(name="pear"),),
        pieces=(bit,),
        cuts=cuts,
    )
    result = solve(job, Work(100))
    assert check(job, result.plan) == []
    assert most_turns(result.plan) <= turns
    assert result.complete == (turns == 3)
    if turns == 2:
        short = result.plan.short[0]
        assert (short.for_, short.count) == ("cuts/hair", 1)
        assert short.why.startswith(
            "its size is not on the grid, and to cut it out takes more than 2 changes"
        )
        assert (
            short.mends[0]
            == "allow 3 (turns in job.toml, now 2): then everything is there"
        )


RECTS = [  # two columns of 4, the right one in two; its upper part is a hair narrower, which takes a third run
    Rect(tag=0, x1=0, y1=0, x2=4, y2=8),
    Rect(tag=1, x1=4, y1=0, x2=8, y2=4),
    Rect(tag=2, x1=4, y1=4, x2=7, y2=8),
]


def test_what_the_turns_do_not_suffice_for_is_left_out() -> None:
    cloth = rectangle(8, 8)
    lost = list[Rect]()
    with pytest.raises(NotSeparableError):
        cut_tree(cloth, RECTS, 0.0, 2)
    tree = cut_tree(cloth, RECTS, 0.0, 2, left_out=lost)
    assert [rect.tag for rect in lost] == [2]
    assert sorted(rect.tag for rect in leaves(tree)) == [0, 1]
    none_lost = list[Rect]()
    tree = cut_tree(cloth, RECTS, 0.0, 3, left_out=none_lost)
    assert none_lost == []
    assert sorted(rect.tag for rect in leaves(tree)) == [0, 1, 2]


def leaves(node) -> list[Rect]:  # type: ignore[no-untyped-def]
    """The rects of the parts that are not cut again."""
    return (
        [rect for child in node.children for rect in leaves(child)]
        if node.axis
        else list(node.rects)
    )


@pytest.mark.parametrize("seed", mostly_slow([104, 116, 125, 131], {116}))
def test_ruler_widths_of_a_strip_that_is_given_up_do_not_count(seed: int) -> None:
    """A segment that would need a third turn is lost, so its strip is short and what was cut for it is spare."""
    rnd = random.Random(seed)
    task = off_grid(seed, 2, 8, 20)
    strips = tuple(
        Strip(
            name=f"band {k}",
            width=rnd.choice((1, 2)) * INCH + rnd.choice((37, 100)),
            join="straight",
            total_length=rnd.randint(20, 60) * INCH,
            shortest=rnd.choice((4, 8)) * INCH,
        )
        for k in range(4)
    )
    result = solve(replace(task, strips=strips), Work(60), offers=False)
    assert any(short.for_.startswith("strips/") for short in result.plan.short)
    assert check(result.job, result.plan) == []
