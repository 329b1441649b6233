"""A maker who sews by the page: every seam joins equal sides, and what comes last is the size to reach or more.

Identities worked out here from the sentences: two parts sewn together are as long as both less twice the seam.
"""

from __future__ import annotations

import re
from fractions import Fraction

import pytest

from cutopt.answers import backing_to_buy
from cutopt.answers.backing import BackingAnswer
from cutopt.draw.backing import draw_backing
from cutopt.draw.lengths import cutting_order
from cutopt.draw.sewing import sewing_order
from cutopt.fabric import ByLength, ByPiece, Fabric
from cutopt.lengths import CM
from cutopt.lengths import INCH as TICKS
from cutopt.quilt.backs.cut_order import numbered
from cutopt.quilt.backs.sewn import lies_across, parts_of
from cutopt.quilt.backs.way import Way
from cutopt.quilt.conventions import Conventions
from cutopt.tables import pile
from tests.draw.printed_back import UNIT, asked, number, printed

SEAM = re.compile(
    r"Sew (.*), (above|on the left), to (.*) along their (.*) (?:in|cm) sides: "
    r"now (?:the back|([A-Z]+)), (.*) x (.*)\."
)
Size = tuple[Fraction, Fraction]


def as_cut(way: Way, answer: BackingAnswer) -> dict[str, Size]:
    """Each part that is numbered as it hangs, read from the cutting order: turned where the page says so."""
    if not numbered(way.sewn):
        return {}
    last = cutting_order(answer, way)[-1]
    found = {}
    for n, (wide, long) in printed(last).items():
        own = re.search(rf"\b{n}: ([^;(]*)", last)
        assert own is not None
        turned = own[1].strip().endswith("turned a quarter")
        found[f"part {n}"] = (long, wide) if turned else (wide, long)
    return found


def follow(way: Way, answer: BackingAnswer) -> None:
    """Sew a way by its page; of what is not numbered the sides that are told are believed."""
    unit = UNIT[answer.how.unit]
    lost = 2 * Fraction(answer.how.back_seam) / unit
    held = as_cut(way, answer)
    told = sewing_order(way, answer.how)
    assert len(told) == len(list(parts_of(way.sewn))) - 1 == way.seams + way.joins
    size: Size = (Fraction(0), Fraction(0))
    for text in told:
        found = SEAM.fullmatch(text)
        assert found is not None, text
        one, lies, other, side, name, *both = found.groups()
        size = number(both[0]), number(both[1])
        along, on = (0, 1) if lies == "above" else (1, 0)
        known = [held.pop(each, None) for each in (one, other)]
        for each in known:
            assert each is None or each[along] == number(side), text
        assert size[along] == number(side), text
        sides = [each[on] for each in known if each is not None]
        if len(sides) == 2:
            assert size[on] == sum(sides) - lost, text
        held[name] = size
    assert len(held) == 1
    assert size[0] * unit >= answer.need.width.plain
    assert size[1] * unit >= answer.need.length.plain


@pytest.mark.parametrize("percent", [0, 3])
@pytest.mark.parametrize(
    ("unit", "top", "usable"),
    [
        ("in", "36 1/2 x 48 1/2", "44"),
        ("in", "58 x 66", "43 1/2"),
        ("in", "76 1/2 x 80", "108"),
        ("in", "90 1/16 x 104 3/16", "56"),
        ("cm", "110.5 x 123.3", "107"),
        ("cm", "200.7 x 222", "274"),
    ],
)
def test_every_seam_joins_equal_sides(
    unit: str, top: str, usable: str, percent: int
) -> None:
    answer = asked(top, usable, Fraction(percent, 100), unit)
    sewn = [way for way in answer.ways if way.seams + way.joins]
    assert sewn
    for way in sewn:
        follow(way, answer)


def test_panels_that_are_turned_say_so() -> None:
    """40 1/2 x 52 1/2 of a piece of 42 x 34: 52 1/2 - 34 + 1 = 19 1/2 x 40 1/2 is wanting, in two of 20 3/4."""
    shop = ByLength(fabric="linen", usable_width=44 * TICKS, sold_by=9 * TICKS)
    linen = Fabric(name="linen")
    how = Conventions(back_overage=2 * TICKS)
    answer = backing_to_buy(
        "36 1/2 x 48 1/2", [shop], how, [linen], on_hand=pile("linen 42 x 34")
    )
    way = next(
        way
        for way in answer.ways
        if way.kind == "linen-1 and 2 panels cut 2 abreast, end to end"
    )
    said = cutting_order(answer, way)[-1]
    assert said.count("19 1/2 x 20 3/4, turned a quarter") == 2
    assert sewing_order(way, how) == [
        "Sew part 1, on the left, to part 2 along their 19 1/2 in sides: now A, 40 1/2 x 19 1/2.",
        "Sew linen-1, above, to A along their 40 1/2 in sides: now the back, 40 1/2 x 52 1/2.",
    ]


def test_the_width_that_is_needed_is_that_of_the_panels() -> None:
    """Two panels of 19 1/2 side by side need 39 of the 42.24 that 44 in less 4 % leave."""
    share = Fraction(4, 100)
    shop = ByLength(fabric="linen", usable_width=44 * TICKS, sold_by=9 * TICKS)
    linen = Fabric(name="linen", shrink_across=share, shrink_along=share)
    how = Conventions(back_overage=2 * TICKS)
    answer = backing_to_buy(
        "36 1/2 x 48 1/2",
        [shop],
        how,
        [linen],
        on_hand=pile("linen 42 x 34"),
    )
    way = next(way for way in answer.ways if "2 abreast" in way.kind)
    parts = numbered(way.sewn).values()
    assert len(parts) == 2
    wide = sum(part.place[2].plain for part in parts if part.place) / TICKS
    assert wide == 39
    wash = cutting_order(answer, way)[0]
    assert "Then measure: 39 in of width" in wash


def test_whole_pieces_are_sewn_in_rows_too() -> None:
    """Four sheets of 100 x 100 cm, two by two, for 190 x 190: less the seams of each row."""
    how = Conventions.metric()
    sheet = ByPiece(fabric="calm", each_width=100 * CM, each_length=100 * CM)
    answer = backing_to_buy("180 x 180", [sheet], how)
    way = next(way for way in answer.ways if way.tiles == (2, 2))
    follow(way, answer)
    assert len(sewing_order(way, how)) == 3


def test_the_drawing_says_which_are_turned() -> None:
    """Wherever a size stands across the fabric first and hangs the other way, in any of the ways."""
    answer = asked("58 x 66", "43 1/2", Fraction(0), "in")
    way = next(
        way
        for way in answer.ways
        if way.fitted and any(map(lies_across, parts_of(way.sewn)))
    )
    told = " ".join(
        text.get_text() for text in draw_backing(answer, [way]).axes[0].texts
    )
    across = sum(map(lies_across, parts_of(way.sewn)))
    assert told.count(", turned") == across
