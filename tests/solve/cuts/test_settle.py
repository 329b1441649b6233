"""Parts pushed together: fewer cuts, larger spare, and nothing that could not be cut as it lies."""

from __future__ import annotations

import pytest
from shapely import Polygon, box, union_all

from cutopt.cloth import Cloth, replay
from cutopt.fabric import Outline
from cutopt.geometry import bounds, rectangle
from cutopt.lengths import INCH
from cutopt.plan import Plan
from cutopt.result import estimate_minutes
from cutopt.settings import Settings
from cutopt.solve.cuts.cut_parts import Rect
from cutopt.solve.cuts.cutter import Cutter, CutUp
from cutopt.solve.cuts.offers import BIGGEST, SIMPLEST, THRIFTIEST
from cutopt.solve.cuts.sequence import cut_tree, in_order
from cutopt.solve.cuts.settle import UsableGround, settled
from tests.solve.small import cut, job, laid, piece

GRID = INCH // 4
CORNERS = ((0, 0), (12, 0), (12, 8), (8, 8), (8, 4), (4, 4), (4, 8), (0, 8))
NOTCHED: Outline = tuple((x * INCH, y * INCH) for x, y in CORNERS)
SLANTED: Outline = ((0, 0), (12 * INCH, 0), (7 * INCH, 9 * INCH), (2 * INCH, 9 * INCH))


def at(*boxes: tuple[float, float, float, float]) -> list[Rect]:
    """Parts at x, y, of width and length, in inches."""
    return [
        Rect(
            tag=k,
            x1=int(x * INCH),
            y1=int(y * INCH),
            x2=int((x + w) * INCH),
            y2=int((y + h) * INCH),
        )
        for k, (x, y, w, h) in enumerate(boxes)
    ]


def cloth_of(
    outline: Outline, margin: int = 0, flaws: tuple[Outline, ...] = ()
) -> Cloth:
    return Cloth(
        fabric="pear", outline=outline, margins=(margin,) * len(outline), flaws=flaws
    )


def best(cloth: Cloth, rects: list[Rect], **more: object) -> CutUp:
    settings = Settings(keep_width=2 * INCH, keep_length=4 * INCH, **more)  # type: ignore[arg-type]
    ways = Cutter(settings, GRID).ways(cloth, rects)
    return min(ways, key=lambda way: (len(way.steps), -way.spare))


def test_gaps_in_a_row_become_one_spare_at_its_end() -> None:
    # three 4 in squares on a strip of 4 x 20 in with gaps of 2, 2 and 4 in: by hand, each part takes one cut when
    # they touch (at 4, 8 and 12), and what is left is one piece of 8 x 4 in
    strip = cloth_of(rectangle(20 * INCH, 4 * INCH))
    apart = at((0, 0, 4, 4), (6, 0, 4, 4), (12, 0, 4, 4))
    way = best(strip, apart)
    assert [step.at for step in way.steps] == [4 * INCH, 8 * INCH, 12 * INCH]
    assert way.spare == way.biggest == 8 * 4 * INCH * INCH


def test_rows_are_pushed_onto_each_other() -> None:
    # two rows of two 3 in squares, 2 in apart on 6 x 10 in: at 3 and at 6 along, then each row in two, are four cuts
    way = best(
        cloth_of(rectangle(6 * INCH, 10 * INCH)),
        at((0, 0, 3, 3), (3, 0, 3, 3), (0, 5, 3, 3), (3, 5, 3, 3)),
    )
    assert len(way.steps) == 4
    assert way.biggest == 6 * 4 * INCH * INCH


def test_parts_of_one_length_lie_side_by_side() -> None:
    # 3, 2, 3, 2 in high on a strip 3 in high: in order, the two low ones share one trim (3 cuts across, 1 trim, and
    # one cut between the low ones), where each apart takes its own (3 across, 2 trims)
    strip = cloth_of(rectangle(8 * INCH, 3 * INCH))
    mixed = at((0, 0, 2, 3), (2, 0, 2, 2), (4, 0, 2, 3), (6, 0, 2, 2))
    way = best(strip, mixed)
    assert len(way.steps) == 4
    assert sum(not node.rects for _, node in way.leaves) == 1


def test_a_row_on_a_row_is_pushed_together_beside_a_part_over_both() -> None:
    # beside a part of 6 x 5 three squares of 3, and on them three of 2, their left sides on each other, on 15 x 5 in:
    # at 9 across, at 3 along, each row in three, and 3 in off the upper one are 7 cuts; pair by pair they are 9
    rows = [(3 * k, y, side, side) for y, side in ((0, 3), (3, 2)) for k in range(3)]
    way = best(cloth_of(rectangle(15 * INCH, 5 * INCH)), at(*rows, (9, 0, 6, 5)))
    assert len(way.steps) == 7
    assert sum(not node.rects for _, node in way.leaves) == 1


@pytest.mark.parametrize("turns", [None, 2, 3])
def test_no_more_cuts_and_no_fewer_parts_than_as_they_were_laid(
    turns: int | None,
) -> None:
    cloth = cloth_of(rectangle(12 * INCH, 9 * INCH))
    rects = at((1, 1, 4, 3), (6, 1, 3, 2), (1, 5, 5, 3))
    lost: list[Rect] = []
    steps, _ = in_order(cut_tree(cloth.outline, rects, 0.0, turns, left_out=lost), "S")
    way = best(cloth, rects, turns=turns)
    assert sum(len(node.rects) for _, node in way.leaves) == 3 - len(lost)
    assert len(way.steps) < len(steps)


def test_of_ways_as_good_the_ruler_is_set_least_often() -> None:
    # 2 and 3 in wide in turn, all 4 long on 10 x 4: side by side with their like the ruler is set twice (2, then 3 or
    # the other way round); as laid four times. The minutes count it: 3 cuts, 3 for the piece, 2 settings
    task = job(piece("bit", 10, 4), cut("narrow", 2, 4, 2), cut("wide", 3, 4, 2))
    plan = laid(task, [(0, 0, 0), (1, 2, 0), (0, 5, 0), (1, 7, 0)])
    assert len(plan.cuts) == 3
    assert estimate_minutes(plan) == 3 + 3 + 2


@pytest.mark.parametrize("name", [THRIFTIEST, SIMPLEST, BIGGEST])
def test_of_as_few_cuts_those_are_made_that_leave_more_to_keep(name: str) -> None:
    # one 3 x 4 from 10 x 10, kept from 5 x 5 on: across first leaves 7 x 10, along first only 10 x 6; two cuts each way
    settings = Settings(keep_width=5 * INCH, keep_length=5 * INCH)
    task = job(
        piece("bit", 10, 10), cut("leaf", 3, 4, grain="along"), settings=settings
    )
    plan = laid(task, [(0, 0, 0)], name=name)
    assert [step.x for step in plan.cuts] == [3 * INCH, None]
    assert [spare.keep for spare in plan.spare].count(True) == 1


@pytest.mark.parametrize("name", [THRIFTIEST, SIMPLEST, BIGGEST])
def test_the_settings_of_a_way_are_those_of_the_minutes(name: str) -> None:
    task = job(
        piece("bit", 13, 9),
        cut("square", 4, 4, 2),
        cut("leaf", 3, 2),
        cut("slat", 2, 6),
    )
    plan = laid(task, [(0, 0, 0), (0, 5, 0), (1, 0, 5), (2, 10, 1)], name=name)
    cloth = cloth_of(rectangle(13 * INCH, 9 * INCH))
    parts = replay(task, plan)
    boxes = [bounds(parts[use.part]) for use in plan.uses]
    rects = [
        Rect(tag=k, x1=int(a), y1=int(b), x2=int(c), y2=int(d))
        for k, (a, b, c, d) in enumerate(boxes)
    ]
    made = [
        ("x" if cut.x is not None else "y", cut.x if cut.x is not None else cut.y)
        for cut in plan.cuts
    ]
    ways = Cutter(task.settings, GRID).ways(cloth, rects)
    same = next(
        way for way in ways if [(step.axis, step.at) for step in way.steps] == made
    )
    assert estimate_minutes(plan) == len(plan.cuts) + 3 + same.settings


FINE = Settings(grid=INCH // 16)


def slivers(plan: Plan) -> list[float]:
    """How thin the waste is that is thinner than 1/8 in, inches."""
    parts = replay(plan.origin, plan) if plan.origin else {}
    boxes = [bounds(parts[spare.part]) for spare in plan.spare]
    return [
        thin / INCH
        for b in boxes
        if (thin := min(b[2] - b[0], b[3] - b[1])) < INCH // 8
    ]


def test_a_sliver_goes_with_the_spare_where_it_can() -> None:
    # two squares of 4 and a leaf 4 x 3 15/16 in side by side on 14 x 6 in: a strip 4 wide would leave 1/16 to trim off
    # the leaf; cut across first, the leaf has its own length at once, and no more than a cut for each side is needed
    task = job(piece("bit", 14, 6), cut("square", 4, 4, 2), cut("leaf", 4, 3.9375))
    plan = laid(task, [(0, 0, 0), (0, 4, 0), (1, 8, 0)])
    assert slivers(plan) == []
    assert len(plan.cuts) <= 6


def test_a_sliver_between_parts_goes_to_the_end() -> None:
    # laid with 1/16 in between them and 1/16 in after them: one trim of 1/8 in place of two slivers
    task = job(piece("bit", 8.125, 4), cut("square", 4, 4, 2), settings=FINE)
    plan = laid(task, [(0, 0, 0), (0, 4.0625, 0)])
    assert slivers(plan) == []
    assert [step.x for step in plan.cuts] == [4 * INCH, 8 * INCH]


def test_what_the_cloth_leaves_is_trimmed_off_all_the_same() -> None:
    # 4 1/16 in of cloth for a square of 4: nothing to choose, and the part has its size
    task = job(piece("bit", 4.0625, 4), cut("square", 4, 4), settings=FINE)
    plan = laid(task, [(0, 0, 0)])
    assert slivers(plan) == [0.0625]
    assert len(plan.uses) == 1


def usable(cloth: Cloth) -> Polygon:
    """Shapely's word for it: the outline less what is near a raw edge, less the flaws (with a hair of a tick)."""
    shape = Polygon(cloth.outline).buffer(1e-3 - cloth.margins[0], join_style="mitre")
    return shape.difference(
        union_all([Polygon(flaw).buffer(-1e-3) for flaw in cloth.flaws])
    )


CLOTHS = [
    cloth_of(rectangle(13 * INCH, 9 * INCH)),
    cloth_of(rectangle(13 * INCH, 9 * INCH), GRID),
    cloth_of(
        rectangle(13 * INCH, 9 * INCH),
        0,
        (((3 * INCH, 0), (4 * INCH, 0), (4 * INCH, 2 * INCH)),),
    ),
    cloth_of(NOTCHED),
    cloth_of(NOTCHED, GRID),
    cloth_of(SLANTED, GRID),
]
LAID = [
    at((4.5, 0.5, 2, 2), (7.75, 0.5, 1.5, 2), (4.5, 3, 4, 0.75)),
    at((0.5, 0.5, 2, 3), (4.25, 2.25, 1, 1), (8, 0.25, 1.5, 3.5)),
    at(
        (4.5 + 1 / 64, 0.5, 2 - 1 / 64, 2), (7.75, 0.5, 1.5, 2 - 1 / 64)
    ),  # sizes that are not on the grid
]


USABLE = [
    (cloth, rects)
    for cloth in CLOTHS
    for rects in LAID
    if all(
        usable(cloth).covers(box(r.x1, r.y1, r.x2, r.y2)) for r in rects
    )  # what the search could have laid
]


def test_there_is_a_laying_for_each_cloth() -> None:
    assert {cloth.outline for cloth, _ in USABLE} == {cloth.outline for cloth in CLOTHS}
    assert len(USABLE) >= 8


@pytest.mark.parametrize("lying", USABLE)
def test_moved_parts_keep_their_size_and_lie_apart_on_usable_cloth(
    lying: tuple[Cloth, list[Rect]],
) -> None:
    cloth, rects = lying
    for moved in settled(rects, UsableGround(cloth, GRID)):
        shapes = [box(r.x1, r.y1, r.x2, r.y2) for r in moved]
        assert [(r.tag, r.x2 - r.x1, r.y2 - r.y1) for r in moved] == [
            (r.tag, r.x2 - r.x1, r.y2 - r.y1) for r in rects
        ]
        assert all(usable(cloth).covers(shape) for shape in shapes)
        assert union_all(shapes).area == sum(shape.area for shape in shapes)
    ways = Cutter(Settings(), GRID).ways(cloth, rects)
    assert all(
        len(rects) == sum(len(node.rects) for _, node in way.leaves) for way in ways
    )


@pytest.mark.parametrize("turns", [None, 3])
def test_whoever_asks_to_stop_gets_one_way(turns: int | None) -> None:
    """Four parts apart from each other can be pushed together and cut in many ways."""
    rects = at((1, 1, 3, 2), (5, 1, 2, 2), (1, 4, 2, 3), (8, 4, 3, 2))
    cloth = cloth_of(rectangle(13 * INCH, 9 * INCH))
    settings = Settings(turns=turns)
    assert len(Cutter(settings, GRID).ways(cloth, rects)) > 1
    assert len(Cutter(settings, GRID, lambda: True).ways(cloth, rects)) == 1
