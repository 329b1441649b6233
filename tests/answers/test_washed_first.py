"""Unwashed cloth of the maker's own in a back: all of it is washed once more by the test, and still reaches.

Sums are identities; that cloth which shrinks is washed before it is cut is common practice, no source.
"""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest

from cutopt.answers import backing_to_buy, batting_to_buy
from cutopt.answers.backing import BackingAnswer
from cutopt.answers.choosing import choosing
from cutopt.answers.own_cut import cut_from_own
from cutopt.fabric import ByLength, Fabric
from cutopt.job import Job
from cutopt.lengths import INCH, YARD
from cutopt.quilt.backs.sewn import parts_of
from cutopt.quilt.conventions import Conventions
from cutopt.settings import Settings
from cutopt.tables import pile
from cutopt.wanted import Cut

PLAIN = Conventions(back_overage=0, square_up_end=0)
SHARE = Fraction(4, 100)
LINEN = Fabric(name="linen", washed=False, shrink_across=SHARE, shrink_along=SHARE)


def asked(top: str, own: str, linen: Fabric = LINEN) -> BackingAnswer:
    shop = ByLength(
        fabric="linen",
        usable_width=44 * INCH,
        sold_by=YARD // 4,
        price=Decimal("12.80"),
    )
    return backing_to_buy(top, [shop], PLAIN, [linen], on_hand=pile(own))


def test_a_piece_of_just_the_size_is_too_small_when_it_is_washed() -> None:
    """42 x 34 that loses 4 % is 40.32 x 32.64."""
    answer = asked("42 x 34", "linen 42 x 34")
    assert not any(way.kind == "one piece on hand" for way in answer.ways)
    washed = asked("42 x 34", "linen 42 x 34", replace(LINEN, washed=True))
    assert any(way.kind == "one piece on hand" for way in washed.ways)
    enough = asked("40 1/4 x 32 1/2", "linen 42 x 34")
    assert enough.best[0].way.kind == "one piece on hand"


@pytest.mark.parametrize("top", ["58 x 40", "66 x 38", "48 x 60"])
@pytest.mark.parametrize("edges", ["", ", raw"])
def test_what_is_cut_from_her_own_is_there_after_the_wash(top: str, edges: str) -> None:
    """Of 42 x 34 that lose 4 %, and what is squared up where they are ragged, each part is cut."""
    answer = asked(top, f"linen 42 x 34{edges}")
    ways = [way for way in answer.ways if way.from_hand]
    assert ways
    off = Fraction(2 * Settings().square_up, INCH) if edges else 0
    there = sorted(side * (1 - SHARE) - off for side in (42, 34))
    for way in ways:
        # they lie side by side on it
        assert cut_from_own(answer, way), way.kind
        for part in parts_of(way.sewn):
            if part.own:
                sides = sorted((part.width.plain / INCH, part.height.plain / INCH))
                assert all(a <= b for a, b in zip(sides, there, strict=True)), way.kind


def test_it_is_told_wherever_the_back_is_told() -> None:
    """42 - 4 % is 40.32, and 34 - 4 % is 32.64: 40 5/16 and 32 5/8 by a ruler of sixteenths."""
    answer = asked("40 1/4 x 32 1/2", "linen 42 x 34")
    note = (
        "linen-1: wash it before you cut it; its shrinkage is counted in. "
        "Then measure: 40 5/16 x 32 5/8 in of it is counted on."
    )
    assert note in answer.said
    (back,) = choosing(answer, None)
    assert "Wash linen-1 before you cut" in back.options[0].told("in", "$")
    (cut,) = cut_from_own(answer, answer.best[0].way)
    assert cut.startswith("Your own linen-1, washed first (40 5/16 x 32 5/8 then): ")


def test_cloth_of_which_nobody_knows_what_it_shrinks() -> None:
    """It is counted as measured, and that is told."""
    answer = asked("42 x 34", "linen 42 x 34", Fabric(name="linen", washed=False))
    assert answer.best[0].way.kind == "one piece on hand"
    assert any("if you wash it, measure it again" in text for text in answer.said)
    (back,) = choosing(answer, None)
    assert "if you wash it, measure it again" in back.options[0].note


def test_of_another_shape_the_rectangle_is_washed_too() -> None:
    """60 x 50 less a corner of 10 x 10 has 50 x 50 and 60 x 40: 48 x 48 and 57.6 x 38.4 after the wash."""
    answer = asked("47 x 47", "linen 60 x 50 less 10 x 10")
    way = answer.best[0].way
    assert way.kind == "one piece on hand"
    assert way.from_hand == ("48 x 48 of linen-1",)
    assert not any(
        way.kind == "one piece on hand"
        for way in asked("49 x 49", "linen 60 x 50 less 10 x 10").ways
    )


def test_own_batting_that_is_not_washed_is_counted_as_the_wash_leaves_it() -> None:
    """Two of 40 x 40 at 4 % are 76.8 long when they are washed (identity): a quilt of 78 is not reached by them."""
    wool = Fabric(
        name="wool",
        kind="batting",
        washed=False,
        shrink_across=SHARE,
        shrink_along=SHARE,
    )
    job = Job(
        settings=Settings(),
        fabrics=(wool,),
        pieces=pile("2 wool 40 x 40"),
        cuts=(Cut(name="patch", width=INCH, length=INCH),),
    )
    how = Conventions(back_overage=0, batting_overage=0)
    held = batting_to_buy("36 x 70", job, how).hand
    washed = 40 * INCH * (1 - SHARE)
    assert held
    assert all(each.width <= washed and each.length <= washed for each in held)
    known = replace(wool, washed=True)
    kept = batting_to_buy("36 x 70", replace(job, fabrics=(known,)), how).hand
    assert all(each.width == 40 * INCH for each in kept)
