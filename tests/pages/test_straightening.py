"""A straightening cut, drawn and told: the one cut that need not follow the grain."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString
from shapely import Polygon as Shape
from shapely.ops import split as shapely_split

from cutopt.check import check
from cutopt.draw.views import views
from cutopt.fabric import Fabric, Piece
from cutopt.geometry import Polygon, area2, split, split_along
from cutopt.job import Job
from cutopt.lengths import INCH
from cutopt.pages import write_pages
from cutopt.pages.steps import sections
from cutopt.plan import Plan
from cutopt.result import Offer, Result
from cutopt.wanted import Cut
from tests.draw.sample import Maker, inches

U = ((0, 0), (15, 0), (15, 10), (10, 10), (10, 4), (5, 4), (5, 10), (0, 10))
TENT = ((0, 0), (20, 0), (10, 10))
BOX = ((0, 0), (20, 0), (20, 12), (0, 12))
points = st.tuples(st.integers(-4, 24), st.integers(-4, 24))


@given(st.sampled_from((U, TENT, BOX)), points, points)
def test_a_line_cuts_as_shapely_does(
    outline: tuple[tuple[int, int], ...], a: tuple[int, int], b: tuple[int, int]
) -> None:
    if a == b:
        return
    left, right = split_along(outline, (a, b))
    assert sum(area2(part) for part in (*left, *right)) == area2(outline)  # exact
    far = [(a[0] + k * (b[0] - a[0]), a[1] + k * (b[1] - a[1])) for k in (-100, 100)]
    whole = shapely_split(Shape(outline), LineString(far))
    ours = sorted(float(area2(part)) / 2 for part in (*left, *right))
    assert ours == pytest.approx(sorted(part.area for part in whole.geoms), abs=1e-6)
    for parts, sign in ((left, 1), (right, -1)):
        for x, y in (corner for part in parts for corner in part):
            assert sign * ((b[0] - a[0]) * (y - a[1]) - (b[1] - a[1]) * (x - a[0])) >= 0


@pytest.mark.parametrize("outline", [U, TENT, BOX])
def test_along_the_grain_it_is_an_ordinary_cut(
    outline: tuple[tuple[int, int], ...],
) -> None:
    # left of a line that runs up is the low side of x; left of one that runs to the left is the low side of y
    assert [
        list(map(ring, side)) for side in split_along(outline, ((7, 0), (7, 3)))
    ] == [list(map(ring, side)) for side in split(outline, "x", 7)]
    below, above = split_along(outline, ((9, 5), (1, 5)))
    low, high = split(outline, "y", 5)
    assert list(map(ring, below)) == list(map(ring, low))[::-1]
    assert list(map(ring, above)) == list(map(ring, high))[::-1]


def ring(part: Polygon) -> Polygon:
    """The same outline from its first corner on."""
    start = part.index(min(part))
    return (*part[start:], *part[:start])


def skew_plan() -> Plan:
    """A rectangle with a crooked right side: straightened along a line from (10, 0) to (12, 9), then cut."""
    i = inches
    piece = Piece.of_size("skew", "mist", i(14), i(9))
    job = Job(
        fabrics=(Fabric(name="mist"),),
        pieces=(piece,),
        cuts=(Cut(name="square", width=i(4), length=i(4), count=2),),
    )
    maker = Maker(job)
    rest, _ = maker.straighten(maker.take("skew"), ((i(10), 0), (i(12), i(9))))
    row, _ = maker.cut(rest, y=i(4))
    maker.run(row, "x", i(4), 2, "cuts/square")
    return maker.plan()


def test_it_passes_the_checker_and_is_drawn_where_it_runs() -> None:
    plan = skew_plan()
    assert plan.origin is not None
    assert check(plan.origin, plan) == []
    shown = views(plan)[0]
    assert shown.lines[0].stretches == (((10 * INCH, 0), (12 * INCH, 9 * INCH)),)
    assert (
        sum(Fraction(area2(part.polygon)) for part in shown.parts)
        == 2 * 14 * 9 * INCH**2
    )
    assert (
        max(x for part in shown.parts if part.kind == "used" for x, _ in part.polygon)
        == 8 * INCH
    )


def test_it_is_told() -> None:
    step = sections(skew_plan())[0].steps[0]
    assert step.text == (
        "Straighten it first: cut along the line drawn, from 10 from the left end of the bottom edge "
        "to 12 from the left end of the top edge."
    )
    assert [found.text for found in sections(skew_plan())[0].steps[1:]] == [
        "Cut a strip 4 wide from the bottom edge.",
        "From it cut 2 at 4 from the left edge.",
    ]


def test_the_line_runs_only_through_cloth() -> None:
    i = inches
    piece = Piece(name="u", fabric="mist", outline=tuple((i(x), i(y)) for x, y in U))
    job = Job(
        fabrics=(Fabric(name="mist"),),
        pieces=(piece,),
        cuts=(Cut(name="square", width=i(3), length=i(3)),),
    )
    maker = Maker(job)
    parts = maker.straighten(maker.take("u"), ((i(16), i(9)), (i(-1), i(8))))
    maker.use(maker.cut(maker.cut(parts[0], x=i(3))[0], y=i(3))[0], "cuts/square")
    plan = maker.plan()
    assert plan.origin is not None
    assert check(plan.origin, plan) == []
    # y = 8 + (x + 1) / 17 crosses the two prongs, from x = 15 to 10 and from x = 5 to 0 (arithmetic identity)
    at = [[x / INCH for x, _ in ends] for ends in views(plan)[0].lines[0].stretches]
    assert at == [[15, 10], [5, 0]]
    assert len(parts) == 3


def test_pages_of_a_plan_with_a_straightening_cut(tmp_path: Path) -> None:
    plan = skew_plan()
    offer = Offer(name="thriftiest", plan=plan, minutes=1, spare=0, biggest_spare=0)
    assert plan.origin is not None
    written = write_pages(
        Result(job=plan.origin, offers=(offer,), complete=True), tmp_path
    )
    assert all(path.stat().st_size for path in written)
    assert "4 x 4 in" in (tmp_path / "cut-list.csv").read_text(encoding="utf-8-sig")
    assert "piece of cloth" in plan._repr_html_()
