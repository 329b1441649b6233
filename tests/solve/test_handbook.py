"""The solver against figures that stand outside the project: counts, identities and worked examples of the trade."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest

from cutopt.check import check
from cutopt.fabric import ByLength, Fabric, Piece
from cutopt.job import Job
from cutopt.lengths import INCH, YARD
from cutopt.result import Result
from cutopt.settings import Settings
from cutopt.solve.control.progress import Progress
from cutopt.solve.control.stop import Work
from cutopt.solve.cuts.checked_plan import checked_plan
from cutopt.solve.explain.other_widths import Widths
from cutopt.solve.run import Run
from cutopt.solve.solver import solve
from cutopt.wanted import Cut, Strip
from tests.solve.small import lengths_of
from tests.thinned import partly_slow

YARD_SIZE = (42, 36)
FAT_QUARTER = (21, 18)
SQUARES = (
    "1 1/2",
    "2",
    "2 1/2",
    "3",
    "3 1/2",
    "4",
    "4 1/2",
    "5",
    "5 1/2",
    "6",
    "6 1/2",
    "6 7/8",
    "7 1/4",
    "8 1/2",
    "9",
    "10",
    "10 1/2",
    "12 1/2",
)
# piece, best from a yard 36 x 42 and from a fat quarter 18 x 21, both directions allowed (arithmetic identity: exact
# dynamic programme on the half-inch grid)
BOTH_WAYS = (
    ("2 1/2", "4 1/2", 134, 33),
    ("2 1/2", "6 1/2", 91, 22),
    ("2 1/2", "12 1/2", 44, 10),
    ("3 1/2", "6 1/2", 66, 15),
    ("3 1/2", "12 1/2", 33, 7),
    ("4 1/2", "6 1/2", 50, 12),
    ("4 1/2", "8 1/2", 36, 8),
    ("5", "10", 28, 6),
    ("6 1/2", "12 1/2", 15, 3),
    ("8 1/2", "12 1/2", 13, 3),
    ("10", "18", 8, 2),
    ("12 1/2", "18 1/2", 5, 1),
)


def ticks(text: str) -> int:
    """Ticks of a length in inches."""
    return int(sum(Fraction(part) for part in text.split()) * INCH)


def as_many_as_fit(
    size: tuple[int, int], width: str, length: str, count: int
) -> Result:
    """A job that asks for more than one piece of cloth can give."""
    piece = Piece.of_size("cloth", "oat", size[0] * INCH, size[1] * INCH)
    cut = Cut(
        name="part",
        width=ticks(width),
        length=ticks(length),
        count=count,
        importance="if left",
    )
    job = Job(fabrics=(Fabric(name="oat"),), pieces=(piece,), cuts=(cut,))
    result = solve(job, Work(1500))
    assert check(job, result.plan) == []
    return result


def proved_left_out(result: Result) -> bool:
    """Whether the result says that no plan cuts more."""
    return next(
        level.proved
        for level in result.levels
        if level.name == "wished for but left out"
    )


@pytest.mark.parametrize("size", [YARD_SIZE, FAT_QUARTER], ids=["yard", "fat-quarter"])
@pytest.mark.parametrize("square", partly_slow(SQUARES, SQUARES[:4]))
def test_squares_of_one_size(square: str, size: tuple[int, int]) -> None:
    """Floor times floor is the true maximum of equal squares parallel to the edges (arithmetic identity: that many
    points, a little less than a square apart, cover every square)."""
    expected = (size[0] * INCH // ticks(square)) * (size[1] * INCH // ticks(square))
    result = as_many_as_fit(size, square, square, expected + 7)
    assert len(result.plan.uses) == expected
    assert proved_left_out(result)


@pytest.mark.parametrize("size", [YARD_SIZE, FAT_QUARTER], ids=["yard", "fat-quarter"])
@pytest.mark.parametrize("row", BOTH_WAYS, ids=lambda row: f"{row[0]}x{row[1]}")
def test_rectangles_in_both_directions(
    row: tuple[str, str, int, int], size: tuple[int, int]
) -> None:
    expected = row[2] if size == YARD_SIZE else row[3]
    result = as_many_as_fit(size, row[0], row[1], expected + 7)
    assert len(result.plan.uses) == expected
    assert proved_left_out(result)


def test_setting_triangles_from_one_length() -> None:
    """On-point throw, 12-in blocks: three 18 1/4 and two 9 3/8 squares take 36 1/2 in of 42-in fabric, where strips
    of one size each take 36 1/2 + 9 3/8 = 45 7/8 (arithmetic identity, as the squares fit two strips of 18 1/4)."""
    job = Job(
        settings=Settings(square_up_end=0),
        fabrics=(Fabric(name="oat"),),
        shop=(
            ByLength(
                fabric="oat",
                usable_width=42 * INCH,
                sold_by=INCH // 8,
                price=Decimal("9.00"),
            ),
        ),
        cuts=(
            Cut(name="side", width=ticks("18 1/4"), length=ticks("18 1/4"), count=3),
            Cut(name="corner", width=ticks("9 3/8"), length=ticks("9 3/8"), count=2),
        ),
    )
    result = solve(job, Work(3000))
    assert check(job, result.plan) == []
    assert lengths_of(result.plan) == {"oat": ticks("36 1/2")}
    assert result.levels[0].proved


def l_shape(
    width: int, length: int, cut_width: int, cut_length: int
) -> tuple[tuple[int, int], ...]:
    """An L in inches: a rectangle less a corner at its upper right."""
    inches = (
        (0, 0),
        (width, 0),
        (width, length - cut_length),
        (width - cut_width, length - cut_length),
        (width - cut_width, length),
        (0, length),
    )
    return tuple((x * INCH, y * INCH) for x, y in inches)


@pytest.mark.parametrize(
    ("first", "second"), [((42, 16), (12, 20)), ((12, 36), (30, 16))]
)
def test_one_cut_splits_an_l_into_two_rectangles(
    first: tuple[int, int], second: tuple[int, int]
) -> None:
    """42 x 36 less 30 x 20 at a corner is 42 x 16 + 12 x 20 or 12 x 36 + 30 x 16, 912 sq in either way (identity)."""
    assert first[0] * first[1] + second[0] * second[1] == 912
    cuts = tuple(
        Cut(name=name, width=w * INCH, length=h * INCH, grain="along")
        for name, (w, h) in (("a", first), ("b", second))
    )
    piece = Piece(name="l", fabric="oat", outline=l_shape(42, 36, 30, 20))
    job = Job(fabrics=(Fabric(name="oat"),), pieces=(piece,), cuts=cuts)
    result = solve(job, Work(500))
    assert result.complete
    assert len(result.plan.cuts) == 1
    assert check(job, result.plan) == []


def test_the_largest_rectangle_first_is_not_always_best() -> None:
    """Of this L the largest rectangle is 42 x 16 (672 sq in), but what is wanted lies in 12 x 36 and 30 x 16."""
    piece = Piece(name="l", fabric="oat", outline=l_shape(42, 36, 30, 20))
    cuts = (
        Cut(name="long", width=12 * INCH, length=36 * INCH),
        Cut(name="square", width=15 * INCH, length=16 * INCH, count=2),
    )
    job = Job(
        fabrics=(Fabric(name="oat"),),
        pieces=(piece,),
        cuts=cuts,
        shop=(
            ByLength(
                fabric="oat",
                usable_width=42 * INCH,
                sold_by=YARD // 8,
                price=Decimal("9.00"),
            ),
        ),
    )
    result = solve(job, Work(1500))
    assert result.complete
    assert result.plan.totals.money == 0
    assert check(job, result.plan) == []


@pytest.mark.parametrize(("count", "inches"), [(1, 60), (16, 60), (17, 120)])
def test_strips_in_one_piece_longer_than_the_fabric_is_wide_are_cut_along_it(
    count: int, inches: int
) -> None:
    """16 strips of 2 1/2 in lie side by side on 42 in (arithmetic identity: 42 / 2 1/2 = 16.8)."""
    strip = Strip(
        name="tie",
        width=5 * INCH // 2,
        total_length=60 * INCH,
        count=count,
        join="none",
        fabrics=("oat",),
    )
    bolt = ByLength(fabric="oat", usable_width=42 * INCH, sold_by=INCH)
    job = Job(
        settings=Settings(square_up_end=0),
        fabrics=(Fabric(name="oat"),),
        shop=(bolt,),
        strips=(strip,),
    )
    result = solve(job, Work(3_000), offers=False)
    assert result.complete
    assert check(job, result.plan) == []
    assert sum(lengths_of(result.plan).values()) == inches * INCH


def test_other_widths_have_lengths_of_their_own_to_buy() -> None:
    """A plan on narrow cloth is no start on wide cloth, of which less is on sale (plain Python sees bad indices)."""
    strip = Strip(
        name="tie",
        width=5 * INCH // 2,
        total_length=60 * INCH,
        count=17,
        join="none",
        fabrics=("oat",),
    )
    bolt = ByLength(fabric="oat", usable_width=42 * INCH, sold_by=INCH)
    job = Job(
        settings=Settings(square_up_end=0),
        fabrics=(Fabric(name="oat"),),
        shop=(bolt,),
        strips=(strip,),
    )
    run = Run(job, Work(50), 0, Progress(), offers=False)
    run.engine.first()
    run.engine.use_plain()
    layout = run.engine.layout()
    plan = checked_plan(run.model, layout, run.cutter)
    assert plan is not None
    widths = Widths.of(run, layout)
    assert widths is not None
    cases = widths.cases(plan)
    assert [case.usable_width // INCH for case in cases] == [40, 41, 42, 43]
    assert all(case.complete for case in cases)
