"""The two hands: what they buy on jobs small enough to reckon by head, and a plan that is never worse."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from cutopt.bench.hand_methods import careful_hand, largest_rectangle, strip_method
from cutopt.fabric import ByLength, Fabric, Piece
from cutopt.job import Job
from cutopt.lengths import INCH, YARD
from cutopt.settings import Settings
from cutopt.solve.control.stop import Work
from cutopt.solve.model.from_job import model_of
from cutopt.solve.solver import solve
from cutopt.tables import read_job
from cutopt.wanted import Cut, Strip
from tests.places import ORCHARD

SHOP = (
    ByLength(
        fabric="oat", usable_width=42 * INCH, sold_by=YARD // 8, price=Decimal("8.00")
    ),
)


def job(
    *pieces: Piece, cuts: tuple[Cut, ...] = (), strips: tuple[Strip, ...] = ()
) -> Job:
    """A job of one fabric, nothing lost at the ends."""
    settings = Settings(square_up_end=0)
    return Job(
        settings=settings,
        fabrics=(Fabric(name="oat"),),
        pieces=pieces,
        shop=SHOP,
        cuts=cuts,
        strips=strips,
    )


def test_strips_of_squares_and_a_binding() -> None:
    """99 squares of 5: 8 a strip, 13 strips, 65 in; binding of 190 in from 42-in strips of 2 1/2, diagonal: 5 strips,
    12 1/2 in (arithmetic identity). Together 77 1/2 in, 2 1/4 yd."""
    squares = Cut(name="square", width=5 * INCH, length=5 * INCH, count=99)
    binding = Strip(name="binding", width=5 * INCH // 2, total_length=190 * INCH)
    wanted = job(cuts=(squares,), strips=(binding,))
    assert strip_method(wanted).bought == {"oat": YARD * 9 // 4}
    assert strip_method(wanted).cost == Decimal("18.00")


def test_a_shop_that_has_too_little_sells_nothing() -> None:
    """99 squares of 5 are 13 strips, 65 in, of which a yard and a half is on sale; 8 of 5 are one (identity)."""
    row = Cut(name="square", width=5 * INCH, length=5 * INCH, count=99)
    few = replace(row, name="few", count=8)
    wanted = replace(job(cuts=(row, few)), shop=(replace(SHOP[0], most=3 * YARD // 2),))
    assert strip_method(wanted).bought == {"oat": YARD // 4}
    assert strip_method(wanted).missing == 99


def test_the_careful_hand_looks_at_the_pile_first() -> None:
    squares = Cut(name="square", width=5 * INCH, length=5 * INCH, count=9)
    leftover = Piece.of_size("left", "oat", 11 * INCH, 6 * INCH)
    assert strip_method(job(leftover, cuts=(squares,))).bought == {"oat": YARD * 3 // 8}
    assert careful_hand(job(leftover, cuts=(squares,))).bought == {"oat": YARD // 4}


def test_the_largest_rectangle_of_an_l() -> None:
    """42 x 36 less 30 x 20 at a corner: 42 x 16, 672 sq in (arithmetic identity)."""
    corners = ((0, 0), (42, 0), (42, 16), (12, 16), (12, 36), (0, 36))
    piece = Piece(
        name="l", fabric="oat", outline=tuple((x * INCH, y * INCH) for x, y in corners)
    )
    model = model_of(job(piece, cuts=(Cut(name="c", width=INCH, length=INCH),)))
    wide, long = largest_rectangle(model.sheets[0])
    assert (wide * model.step, long * model.step) == (42 * INCH, 16 * INCH)


def test_a_plan_pays_no_more_than_either_hand() -> None:
    orchard = read_job(ORCHARD)
    plan = solve(orchard, Work(3000)).plan
    assert plan.totals.money is not None
    assert plan.totals.money < careful_hand(orchard).cost < strip_method(orchard).cost


def test_a_hand_finds_what_the_plan_finds_off_the_grid() -> None:
    """A tower of 2 in that stands 1 1/16 in from the left holds a gate of 2 x 4; the shop sells nothing."""
    a = 17 * INCH // 16
    b = 49 * INCH // 16
    side = 4 * INCH
    outline = (
        (0, 0),
        (side, 0),
        (side, INCH),
        (b, INCH),
        (b, side),
        (a, side),
        (a, INCH),
        (0, INCH),
    )
    scrap = Piece(name="tower", fabric="oat", outline=outline)
    gate = Cut(name="gate", width=2 * INCH, length=side)
    found = careful_hand(replace(job(scrap, cuts=(gate,)), shop=()))
    assert (found.missing, found.bought) == (0, {})
