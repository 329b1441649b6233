"""Backs that lines divide at random: the plan that is worked out on paper passes, and each change of it is judged rightly.

The plans come from :func:`tests.check.backs_by_hand.divided`, which goes from the whole to its parts by finished sizes;
the checker goes from the parts to the whole by cut sizes. What the limits of the rules are is read from the drawing.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from random import Random

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from cutopt.check import check
from cutopt.geometry import rectangle
from cutopt.job import Job
from cutopt.lengths import INCH
from cutopt.piecing import Back, BackRules, BlockWish, SpareBlock
from cutopt.plan import Plan, Seam, Trim, Use
from tests.check.backs_by_hand import (
    GOOD_BACKS,
    Drawn,
    Field,
    Line,
    Part,
    divided,
    fields,
    halves,
)
from tests.check.changes import row

LEAST = 3 * INCH
SIDES = {"left": "right", "right": "left", "below": "above", "above": "below"}
ALLOWANCES = (0, INCH // 4, 3 * INCH // 8, INCH // 2, 2345)


@dataclass(frozen=True, kw_only=True)
class Sketch:
    """A drawing, the plan that is worked out from it, and the fields of its parts."""

    drawn: Line
    job: Job
    plan: Plan
    parts: list[tuple[Part, Field]]

    @property
    def back(self) -> Back:
        return self.job.backs[0]

    @property
    def least(self) -> int:
        """The least finished side of its cloth."""
        sides = [(f[2] - f[0], f[3] - f[1]) for part, f in self.parts if not part.block]
        return min(map(min, sides))

    def margin(self, back: Back) -> int:
        """How near its blocks come to an edge."""
        wide, high = back.width, back.length
        blocks = [f for part, f in self.parts if part.block]
        return min(min(f[0], f[1], wide - f[2], high - f[3]) for f in blocks)


def ruled(sketch: Sketch, **fields: object) -> list[str]:
    """The faults under other rules."""
    back = sketch.back
    change = row("backs", 0, rules=replace(back.rules, **fields))
    return check(*change((sketch.job, sketch.plan)))


def drawing(luck: Random, field: Field, parts: int, block: bool) -> Drawn:
    """A field that lines divide into so many parts, or fewer where there is no room."""
    left, below, right, above = field
    ways = [("up", left, right), ("across", below, above)]
    ways = [way for way in ways if way[2] - way[1] >= 2 * LEAST]
    if parts == 1 or not ways:
        return Part(
            fabric=luck.choice(["pear", "plum"]),
            turned=luck.random() < 0.5,
            block="star" if block and luck.random() < 0.3 else "",
        )
    runs, start, end = luck.choice(ways)
    at = luck.choice([luck.randint(start + LEAST, end - LEAST), start + LEAST])
    low = luck.randint(1, parts - 1)
    line = Line(runs=runs, at=at, low=Part(), high=Part(), swapped=luck.random() < 0.5)
    first, second = halves(line, field)
    return replace(
        line,
        low=drawing(luck, first, low, block),
        high=drawing(luck, second, parts - low, block),
    )


def sketch(seed: int, block: bool = True) -> Sketch:
    """A back of 5 to 12 parts, some of them blocks, cut to any tick."""
    luck = Random(seed)
    wide, high = (luck.randint(30 * INCH, 90 * INCH) for _ in range(2))
    allowances = [luck.choice(ALLOWANCES) for _ in range(2)]
    back = Back(
        name="B1",
        width=wide,
        length=high,
        rules=BackRules(seam=allowances[0], block_seam=allowances[1], overage=0),
        blocks=(BlockWish(name="any"),),
    )
    parts: list[tuple[Part, Field]] = []
    while len(parts) < 5 or all(part.block for part, _ in parts):
        drawn = drawing(luck, (0, 0, wide, high), luck.randint(5, 12), block)
        parts = list(fields(drawn, (0, 0, wide, high)))
    _, plan = divided(back, drawn)
    star = SpareBlock(
        name="star",
        width=max([INCH, *(trim.width for trim in plan.trims)]),
        length=max([INCH, *(trim.length for trim in plan.trims)]),
        count=max(1, len(plan.trims)),
        may_trim_to=(INCH, INCH),
    )
    job, plan = divided(back, drawn, blocks=(star,))
    return Sketch(drawn=drawn, job=job, plan=plan, parts=parts)


sketches = st.integers(0, 2**32 - 1).map(sketch)
of_cloth = st.integers(0, 2**32 - 1).map(lambda seed: sketch(seed, block=False))


def numbered(seams: list[Seam]) -> tuple[Seam, ...]:
    return tuple(replace(seam, n=n) for n, seam in enumerate(seams, start=1))


def lines_round(drawn: Drawn) -> Iterator[tuple[str, ...]]:
    """For each part the directions of the lines that divide what it lies in, the last one drawn last."""
    if isinstance(drawn, Part):
        yield ()
        return
    for half in (drawn.low, drawn.high):
        for ways in lines_round(half):
            yield drawn.runs, *ways


@settings(max_examples=40)
@given(sketches)
def test_a_back_worked_out_on_paper_has_no_fault(sketch: Sketch) -> None:
    assert check(sketch.job, sketch.plan) == []
    whole = len(sketch.parts)
    assert ruled(sketch, most_parts=whole, most_seams=whole - 1) == []
    assert len(ruled(sketch, most_parts=whole - 1)) == 1
    assert len(ruled(sketch, most_seams=whole - 2)) == 1
    assert ruled(sketch, run=sketch.drawn.runs) == []
    assert (
        len(ruled(sketch, run={"up": "across", "across": "up"}[sketch.drawn.runs])) == 1
    )


@settings(max_examples=40)
@given(sketches)
def test_limits_are_those_of_the_drawing(sketch: Sketch) -> None:
    """The smallest part, the way of blocks to the edge, and the fabric of the largest part."""
    least = sketch.least
    assume(2 * (least + sketch.back.rules.seam) < 29 * INCH)
    assert ruled(sketch, smallest_part=least) == []
    narrow = [
        f
        for part, f in sketch.parts
        if not part.block and min(f[2] - f[0], f[3] - f[1]) == least
    ]
    assert len(ruled(sketch, smallest_part=least + 1)) == len(narrow)
    areas = [
        ((f[2] - f[0]) * (f[3] - f[1]), part.fabric)
        for part, f in sketch.parts
        if not part.block
    ]
    most = max(areas)[0]
    for fabric in ("pear", "plum"):
        assert bool(ruled(sketch, main=fabric)) == ((most, fabric) not in areas)


@settings(max_examples=40)
@given(sketches)
def test_blocks_keep_as_far_off_as_they_are_drawn(sketch: Sketch) -> None:
    assume(sketch.plan.trims)
    margin = sketch.margin(sketch.back)
    assert ruled(sketch, overage=margin) == []
    assert ruled(sketch, overage=margin + 1)


@settings(max_examples=40)
@given(sketches, st.data())
def test_another_allowance_is_seen(sketch: Sketch, data: st.DataObject) -> None:
    """That of any one seam is the only right one, blocks or none."""
    seams = list(sketch.plan.seams)
    i = data.draw(st.integers(0, len(seams) - 1))
    other = data.draw(st.sampled_from(ALLOWANCES) | st.integers(0, INCH))
    assume(other != seams[i].seam)
    seams[i] = replace(seams[i], seam=other)
    assert check(sketch.job, replace(sketch.plan, seams=tuple(seams)))


@settings(max_examples=40)
@given(sketches, st.data())
def test_a_part_of_another_size_is_seen(sketch: Sketch, data: st.DataObject) -> None:
    """But where all lines round it run the same way: then the whole back is a little larger."""
    i = data.draw(st.integers(0, len(sketch.job.pieces) - 1))
    across = data.draw(st.booleans())
    by = data.draw(
        st.integers(-2 * INCH, 2 * INCH).filter(bool) | st.sampled_from([-1, 1])
    )
    piece = sketch.job.pieces[i]
    wide, long = piece.outline[2]
    if across:
        wide += by
    else:
        long += by
    change = row("pieces", i, outline=rectangle(wide, long))
    faults = check(*change((sketch.job, sketch.plan)))
    ways = [
        ways
        for ways, (part, _) in zip(lines_round(sketch.drawn), sketch.parts, strict=True)
        if not part.block
    ]
    order = [use.part for use in sketch.plan.uses].index(piece.name)
    hangs_across = across != sketch.plan.uses[order].turned
    grows = set(ways[order]) == {"up" if hangs_across else "across"}
    if grows and 0 < by < INCH:
        # a block at the edge lies beyond that of the back as asked
        assert not faults or sketch.plan.trims
    else:
        assert faults


@settings(max_examples=40)
@given(sketches, st.data())
def test_a_block_of_another_size_is_seen(sketch: Sketch, data: st.DataObject) -> None:
    assume(sketch.plan.trims)
    trims = list(sketch.plan.trims)
    i = data.draw(st.integers(0, len(trims) - 1))
    by = data.draw(st.integers(-2 * INCH, -1))
    field = data.draw(st.sampled_from(["width", "length"]))
    trims[i] = replace(trims[i], **{field: getattr(trims[i], field) + by})
    assert check(sketch.job, replace(sketch.plan, trims=tuple(trims)))


@settings(max_examples=40)
@given(of_cloth, st.data())
def test_another_side_is_seen_or_is_the_mirror_image(
    sketch: Sketch, data: st.DataObject
) -> None:
    """Sewn to the opposite side the same parts make as good a back; to any other side they do not."""
    seams = list(sketch.plan.seams)
    i = data.draw(st.integers(0, len(seams) - 1))
    side = data.draw(st.sampled_from(sorted(SIDES)))
    assume(side != seams[i].side)
    mirrored = side == SIDES[seams[i].side]
    seams[i] = replace(seams[i], side=side)
    # what lay at the edge of the back may lie within it now, and show less
    change = row("backs", 0, rules=replace(sketch.back.rules, smallest_part=INCH))
    case = change((sketch.job, replace(sketch.plan, seams=tuple(seams))))
    assert bool(check(*case)) != mirrored


@settings(max_examples=40)
@given(sketches, st.data())
def test_another_order_is_seen_where_it_cannot_be_sewn(
    sketch: Sketch, data: st.DataObject
) -> None:
    seams = data.draw(st.permutations(sketch.plan.seams))
    there: set[str] = {seam.gives for seam in seams}
    can_be_sewn = True
    for seam in seams:
        if {seam.a, seam.b} & there:
            can_be_sewn = False
        there.discard(seam.gives)
    plan = replace(sketch.plan, seams=numbered(seams))
    assert bool(check(sketch.job, plan)) != can_be_sewn
    if [seam.n for seam in seams] != sorted(seam.n for seam in seams):
        assert check(sketch.job, replace(plan, seams=tuple(seams)))


@settings(max_examples=40)
@given(sketches, st.data())
def test_another_name_or_a_seam_dropped_is_seen(
    sketch: Sketch, data: st.DataObject
) -> None:
    """Every part, block and what each seam gives is taken once."""
    seams = list(sketch.plan.seams)
    i = data.draw(st.integers(0, len(seams) - 1))
    taken = {name for seam in seams for name in (seam.a, seam.b, seam.gives)}
    free = {"", "other", "blocks/star/99", "blocks/star/0"}
    field = data.draw(st.sampled_from(["a", "b", "gives"]))
    name = data.draw(st.sampled_from(sorted(taken | free)))
    assume(name != getattr(seams[i], field))
    # the whole may be called as it likes
    assume(i < len(seams) - 1 or field != "gives" or name in taken)
    seams[i] = replace(seams[i], **{field: name})
    assert check(sketch.job, replace(sketch.plan, seams=tuple(seams)))
    dropped = sketch.plan.seams[:i] + sketch.plan.seams[i + 1 :]
    told = replace(sketch.plan.totals, seams=len(dropped))
    fewer = replace(sketch.plan, seams=numbered(list(dropped)), totals=told)
    assert check(sketch.job, fewer)


NAMES = st.sampled_from(
    ["a", "b", "c", "S1", "B1.1", "B1.2", "blocks/star/1", "blocks/ship/9", "", "q"]
)
TICKS = st.integers(-5, 60 * INCH) | st.sampled_from([0, INCH // 4, INCH // 2])
SEAMS = st.builds(
    Seam,
    n=st.integers(-1, 7),
    back=st.sampled_from(["B1", "B2", "B7", ""]),
    a=NAMES,
    b=NAMES,
    side=st.sampled_from([*SIDES, "top"]),
    seam=TICKS,
    gives=NAMES,
)
TRIMS = st.builds(Trim, block=NAMES, width=TICKS, length=TICKS, turned=st.booleans())
USES = st.builds(
    Use,
    part=NAMES,
    for_=st.sampled_from(["backs/B1", "backs/B2", "backs/B7"]),
    turned=st.booleans(),
)


@settings(max_examples=100)
@given(
    st.sampled_from(list(GOOD_BACKS)),
    st.lists(SEAMS, max_size=4).map(tuple),
    st.lists(TRIMS, max_size=2).map(tuple),
    st.lists(USES, max_size=2).map(tuple),
)
def test_any_seams_are_answered_in_sentences(
    name: str,
    seams: tuple[Seam, ...],
    trims: tuple[Trim, ...],
    uses: tuple[Use, ...],
) -> None:
    job, plan = GOOD_BACKS[name]()
    mixed = replace(
        plan,
        seams=(*plan.seams, *seams),
        trims=(*plan.trims, *trims),
        uses=(*plan.uses, *uses),
    )
    for other in (mixed, replace(plan, seams=seams, trims=trims, uses=uses)):
        faults = check(job, other)
        assert bool(faults) == (other != plan)
        assert all(fault[-1] == "." and "\n" not in fault for fault in faults)
