"""Cloth as it is bought, in pile and shop: its usual sizes, its edges, and how much can be cut from it.

Sizes of precuts are common practice, no source (from memory); the counts are arithmetic identities: equal squares
parallel to the edges of a rectangle, floor(W/a) x floor(H/a) of them, and no cutting gives more.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from cutopt.check import check
from cutopt.cloth import cloth_of_piece
from cutopt.errors import JobError
from cutopt.fabric import ByPiece, Piece
from cutopt.job import Job
from cutopt.lengths import CM, INCH
from cutopt.precuts import Precuts
from cutopt.settings import Settings
from cutopt.solve.control.stop import Work
from cutopt.solve.solver import solve
from cutopt.tables import pile, read_job, save_job
from cutopt.wanted import Cut
from tests.tables.pile.small_job import written


def area(line: str) -> float:
    """Square inches of all pieces of a line."""
    (piece,) = pile(line)
    return piece.count * piece.area / INCH**2


def test_areas_of_precuts() -> None:
    """An 18 x 21 quarter is a quarter of 36 x 42; 42 squares of 5, 42 of 10 and 40 strips 2 1/2 x 42: identities."""
    assert area("1 fat quarter plum") * 4 == 36 * 42
    assert area("1 fat quarter plum") == area("quarter yard plum") == 378
    assert area("1 fat eighth plum") * 2 == 378
    assert area("pack of 42 charm squares greens") == 42 * 25 == 1050
    assert area("stack of 42 layer squares greens") == 4200
    assert area("strip bundle of 40 greens") == 40 * 105 == 4200


@pytest.mark.parametrize(
    ("line", "side", "most"),
    [
        # floor(21/a) x floor(18/a)
        ("1 fat quarter plum", 2.5, 8 * 7),
        ("1 fat quarter plum", 5, 4 * 3),
        ("1 fat quarter plum", 6.5, 3 * 2),
        # floor(21/a) x floor(9/a)
        ("1 fat eighth plum", 4.5, 4 * 2),
        # of 18 in half an inch is squared up at each end: floor(42/5) x floor(17/5)
        ("1/2 yd plum", 5, 8 * 3),
        # one of 10 in gives four of 5
        ("1 layer square plum", 5, 4),
    ],
)
def test_squares_from_it(line: str, side: float, most: int) -> None:
    square = Cut(
        name="square",
        count=most + 1,
        width=int(side * INCH),
        length=int(side * INCH),
        importance="nice",
    )
    job = Job(cuts=(square,)).with_pieces(pile(line))
    result = solve(job, stop=Work(2000), seed=0)
    assert check(job, result.plan) == []
    assert len(result.plan.uses) == most


def test_what_pinking_takes_is_a_setting() -> None:
    """By default the points are the edge; down to the valleys 1/16 in comes off each side (common practice, no source)."""
    (charm,) = pile("1 charm square plum")
    assert charm.edges == "pinked"
    assert cloth_of_piece(charm, Settings()).margins == (0, 0, 0, 0)
    trimmed = Settings(pinked=INCH // 16)
    assert cloth_of_piece(charm, trimmed).margins == (INCH // 16,) * 4
    square = Cut(name="square", width=5 * INCH, length=5 * INCH)
    smaller = replace(square, width=39 * INCH // 8, length=39 * INCH // 8)
    for settings, row, fits in (
        (Settings(), square, True),
        (trimmed, square, False),
        (trimmed, smaller, True),
    ):
        job = Job(settings=settings, cuts=(row,)).with_pieces([charm])
        result = solve(job, stop=Work(500), seed=0)
        assert check(job, result.plan) == []
        assert result.complete == fits


def test_words_say_what_edges_it_has() -> None:
    edges = {line: pile(line)[0].edges for line in EDGES}
    assert edges == EDGES


EDGES = {
    "1 fat quarter plum": "true",
    "1 fat quarter plum raw": "raw",
    "20 charm squares plum": "pinked",
    "20 charm squares plum cut": "true",
    "strip bundle of 40 plum": "pinked",
    "plum 5 x 5 pinked": "pinked",
    "1/2 yd plum": "raw ends",
    "1/2 yd plum cut": "true",
    "1/2 yd plum raw": "raw",
}


def test_raw_ends_lose_what_ends_from_the_shop_lose() -> None:
    """Half an inch at each end, nothing along the selvages, in whatever order the corners are."""
    (half,) = pile("1/2 yd plum")
    ends = INCH // 2
    assert cloth_of_piece(half, Settings()).margins == (ends, 0, ends, 0)
    turned = replace(half, outline=(*half.outline[1:], half.outline[0]))
    cloth = cloth_of_piece(turned, Settings())
    for (a, b), lost in zip(
        zip(cloth.outline, (*cloth.outline[1:], cloth.outline[0]), strict=True),
        cloth.margins,
        strict=True,
    ):
        assert lost == (ends if a[1] == b[1] else 0)


def test_sizes_are_settings(tmp_path: Path) -> None:
    folder = written(
        tmp_path,
        job_toml='unit = "in"\nfat_quarter = "20 x 18"\ncharm_square = "4 7/8"\n',
        pile_txt="2 fat quarters plum\ncharm square oat\n",
    )
    job = read_job(folder)
    assert [piece.size for piece in job.pieces] == [
        (20 * INCH, 18 * INCH),
        (39 * INCH // 8, 39 * INCH // 8),
    ]
    save_job(job, tmp_path / "again")
    again = read_job(tmp_path / "again")
    assert again == job
    assert again.settings.precuts == replace(
        Precuts(),
        fat_quarter=(20 * INCH, 18 * INCH),
        charm_square=(39 * INCH // 8,) * 2,
    )


def test_metric_sizes() -> None:
    """Half a metre of half of 106 usable cm; squares of 5 in are 12.7 cm (1 in = 25.4 mm, agreement of 1959)."""
    (quarter, charm, length) = pile(
        "1 fat quarter plum\n1 charm square oat\n1 m mist", "cm"
    )
    assert quarter.size == (53 * CM, 50 * CM)
    assert charm.size == (127 * CM // 10, 127 * CM // 10)
    assert length.size == (106 * CM, 100 * CM)


def test_a_length_is_as_wide_as_the_shop_sells_it(tmp_path: Path) -> None:
    shop = "fabric,usable_width,sold_by\noat,40,1/8 yd\noat,44,1/8 yd\n"
    folder = written(tmp_path, pile_txt="1/2 yd oat\n1/2 yd plum\n", shop_csv=shop)
    widths = [piece.size[0] for piece in read_job(folder).pieces]
    assert widths == [40 * INCH, 42 * INCH]


def test_precuts_in_the_shop(tmp_path: Path) -> None:
    shop = (
        "fabric,most,price,each_width,each_length\n"
        "pear,3,3.40,fat quarter,\n"
        "plum,,2.10,,Fat Eighths\n"
        "oat,,0.30,charm squares,charm squares\n"
        "mist,,1.00,18,22\n"
    )
    job = read_job(written(tmp_path, pile_txt="pear 3 x 3\n", shop_csv=shop))
    sizes = [
        (row.each_width, row.each_length)
        for row in job.shop
        if isinstance(row, ByPiece)
    ]
    inches = [(21, 18), (21, 9), (5, 5), (18, 22)]
    assert sizes == [(a * INCH, b * INCH) for a, b in inches]
    save_job(job, tmp_path / "again")
    assert read_job(tmp_path / "again") == job


@pytest.mark.parametrize(
    ("cells", "what", "mend"),
    [
        ("fat quarter,18", "both a precut and a size", "write fat quarter alone"),
        ("strip bundle,", "is sold whole", "into the pile once you have it"),
        ("fat querter,", "not a length", "2 1/2"),
    ],
)
def test_what_a_shop_row_cannot_say(
    tmp_path: Path, cells: str, what: str, mend: str
) -> None:
    shop = f"fabric,each_width,each_length\npear,{cells}\n"
    with pytest.raises(JobError) as caught:
        read_job(written(tmp_path, pile_txt="pear 3 x 3\n", shop_csv=shop))
    told = " ".join(f"{p.what}; {p.mend}" for p in caught.value.problems)
    assert what in told
    assert mend in told


def test_only_a_rectangle_has_raw_ends() -> None:
    (triangle,) = pile("triangle plum 14 x 9")
    with pytest.raises(Exception, match="only a rectangle has raw ends"):
        Piece(name="x", fabric="plum", outline=triangle.outline, edges="raw ends")
