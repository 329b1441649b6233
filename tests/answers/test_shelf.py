"""What a cutting plan leaves of a shop and of a pile for the backing (counting)."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from cutopt.answers import backing_to_buy
from cutopt.answers.shelf import left_in_shop, left_of_pile
from cutopt.fabric import ByLength, ByPiece, Offered
from cutopt.lengths import INCH, YARD
from cutopt.pages.quilt import made
from cutopt.plan import Plan, Source
from cutopt.tables import pile, read_job
from tests.places import ROOT

BOLT = ByLength(
    fabric="mist",
    usable_width=42 * INCH,
    sold_by=YARD // 8,
    smallest=YARD // 4,
    most=2 * YARD,
)
BIN = ByPiece(fabric="mist", each_width=21 * INCH, each_length=18 * INCH, most=3)


def bought(length: int, width: int = 42 * INCH, fabric: str = "mist") -> Source:
    return Source(id="S1", bought=fabric, width=width, length=length)


def left(
    rows: list[Offered], *sources: Source
) -> tuple[list[int | None], tuple[str, ...]]:
    kept, told = left_in_shop(rows, Plan(job="", sources=sources), "in")
    return [row.most for row in kept], told


def test_what_the_plan_buys_is_taken_off() -> None:
    most, told = left([BOLT], bought(YARD // 2))
    assert most == [3 * YARD // 2]
    assert told == (
        "mist: the shop has 2 yd in all and the cutting plan takes 1/2 yd, so 1 1/2 yd is left for the backing",
    )


def test_less_than_a_sale_is_nothing() -> None:
    most, told = left([BOLT], bought(15 * YARD // 8))
    assert most == []
    assert "not enough is left" in told[0]


def test_each_row_for_itself() -> None:
    """Other widths, other fabrics and a shop without an end keep what they have; pieces are counted."""
    wide = replace(BOLT, usable_width=108 * INCH)
    endless = replace(BOLT, most=None)
    assert left([wide, endless, BIN], bought(YARD)) == ([2 * YARD, None, 3], ())
    assert left([BOLT], bought(YARD, fabric="oat")) == ([2 * YARD], ())
    piece = replace(bought(18 * INCH, 21 * INCH), by_piece=True)
    most, told = left([BOLT, BIN], piece, piece)
    assert most == [2 * YARD, 1]
    assert "takes 2 by the piece" in told[0]
    assert left([BIN], piece, piece, piece)[0] == []


def test_no_way_takes_more_than_is_left() -> None:
    """60 x 80 in two widths takes 4 3/4 yd (2 x 84 + 1 = 169 in): of 5 yd less 1/2 yd it is not to be had."""
    row = replace(BOLT, most=5 * YARD, price=Decimal("10"))
    whole = backing_to_buy("60 x 80", [row])
    assert any(way.bought == 19 * YARD // 4 for way in whole.ways)
    less = backing_to_buy(
        "60 x 80", [row], plan=Plan(job="", sources=(bought(YARD // 2),))
    )
    assert less.ways
    assert all(way.bought <= 9 * YARD // 2 for way in less.ways)
    assert sum("mist: the shop has" in text for text in less.said) == 1


def test_near_misses_keep_to_the_shop() -> None:
    """36 x 44 at 4: one in less a side would save a yard, but not where the shop has half a yard."""
    from cutopt.quilt.conventions import Conventions

    how = Conventions(overage_from="finished", square_up_end=0, back_overage=4 * INCH)
    row = replace(BOLT, most=None)
    assert backing_to_buy("36 x 44", [row], how).near
    assert not backing_to_buy("36 x 44", [replace(row, most=YARD)], how).near


def test_a_width_for_each_row_of_one_fabric() -> None:
    """Two widths of one fabric are two rows: neither hides the other, and the table names the width."""
    narrow = replace(BOLT, most=None, price=Decimal("9"))
    wide = replace(narrow, usable_width=108 * INCH, price=Decimal("60"))
    answer = backing_to_buy("60 x 80", [narrow, wide])
    assert {row[0] for row in answer.rows} == {"mist, 42 wide", "mist, 108 wide"}
    assert answer.best[0].way.offered == narrow
    assert answer.best[-1].way.offered == wide
    assert any(text.startswith("mist, 108 wide, one width") for text in answer.said)


def test_what_the_plan_does_not_cut_is_on_hand() -> None:
    pieces = pile("mist 50 x 20\n3 strips oat 5 x 40\npear 4 x 4")
    plan = Plan(
        job="",
        sources=tuple(
            Source(id=f"S{i}", piece=name) for i, name in enumerate(("mist-1", "oat-1"))
        ),
    )
    assert [(piece.name, piece.count) for piece in left_of_pile(pieces, plan)] == [
        ("oat-1", 2),
        ("pear-1", 1),
    ]


@pytest.mark.parametrize("taken", [0, YARD // 2, 7 * YARD // 8])
def test_the_orchard_counts_what_its_plan_buys(taken: int) -> None:
    """The shop has 2 yd of mist: no way on the pages takes more than the plan leaves."""
    job = read_job(ROOT / "data" / "orchard")
    sources = (bought(taken),) if taken else ()
    shown = made(job, Plan(job=job.digest, sources=sources, origin=job))
    assert shown is not None
    assert shown.backing is not None
    mist = [way.bought for way in shown.backing.ways if way.fabric == "mist"]
    assert all(length + taken <= 2 * YARD for length in mist)
    assert (
        f"takes {'1/2' if taken == YARD // 2 else '7/8'} yd"
        in " ".join(shown.backing.said)
    ) == bool(taken)
