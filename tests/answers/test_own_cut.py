"""How the maker's own cloth is cut for a back, and her batting joined. Sums are identities."""

from __future__ import annotations

from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st
from matplotlib.patches import Rectangle

from cutopt.answers import backing_to_buy, batting_to_buy
from cutopt.answers.own_cut import cut_from_own, joined_so, strips_on
from cutopt.draw.joined import draw_joined
from cutopt.fabric import ByLength
from cutopt.lengths import INCH, YARD
from cutopt.quilt.backs.sewn import parts_of
from cutopt.quilt.backs.way import OnHand
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.surds import exact
from cutopt.quilt.top import Needed
from cutopt.tables import pile

FOUR = Conventions(back_overage=4 * INCH)


def bolt(name: str, usable: int, price: str) -> ByLength:
    return ByLength(
        fabric=name,
        usable_width=usable * INCH,
        sold_by=YARD // 4,
        price=Decimal(price),
    )


@given(
    st.tuples(st.integers(1, 90), st.integers(1, 90)),
    st.lists(st.tuples(st.integers(1, 60), st.integers(1, 60)), min_size=1, max_size=4),
)
def test_parts_side_by_side_are_on_the_cloth(
    cloth: tuple[int, int], sizes: list[tuple[int, int]]
) -> None:
    """Together no wider, and none longer, than the piece is; each of the size that it hangs in, or turned."""
    held = OnHand(name="mine", width=cloth[0], length=cloth[1])
    found = strips_on(held, [(exact(a), exact(b)) for a, b in sizes])
    able = [
        sum(one) <= wide and max(other) <= long
        for one, other in (
            tuple(zip(*sizes, strict=True)),
            tuple(zip(*sizes, strict=True))[::-1],
        )
        for wide, long in (cloth, cloth[::-1])
    ]
    assert (found is not None) == any(able)
    if found is not None:
        side, other = cloth if found.up else cloth[::-1]
        assert sum(float(each) for each in found.wide) <= side
        assert max(found.long) <= other
        both = list(zip(found.wide, found.long, strict=True))
        assert both in (
            [(exact(a), exact(b)) for a, b in sizes],
            [(exact(b), exact(a)) for a, b in sizes],
        )


def test_what_comes_from_the_pile_has_its_cuts() -> None:
    """58 x 74 + 4 a side is 66 x 82: 82 - 44 + 1 leaves a strip of 39, of two segments of (66 + 1) / 2 = 33 1/2."""
    shop = [bolt("cream", 44, "9.60")]
    answer = backing_to_buy("58 x 74", shop, FOUR, on_hand=pile("cream 36 x 84"))
    ways = [way for way in answer.ways if way.from_hand]
    assert ways
    for way in ways:
        assert any(part.own == "cream-1" for part in parts_of(way.sewn))
        assert len(cut_from_own(answer, way)) == 1
    strip = next(
        way for way in ways if way.kind == "one width and a strip from cream-1"
    )
    assert cut_from_own(answer, strip) == [
        "Your own cream-1 (36 x 84): cut 2 parts, each 39 long, straight across; trim each to 33 1/2 wide."
    ]
    none = next(way for way in answer.ways if not way.from_hand)
    assert cut_from_own(answer, none) == []


def test_her_own_batting_is_told_and_drawn() -> None:
    """34 wide: 62 long and 30 of the other turned are 92 for 82; 66 - 34 = 32 x 82 is bought (sums)."""
    need = Needed(
        what="batting",
        width=exact(66 * INCH),
        length=exact(82 * INCH),
        base="raw top",
        overage=(0, 0),
        why="",
    )
    mine = [
        OnHand(name="fluff-1", width=30 * INCH, length=60 * INCH),
        OnHand(name="fluff-2", width=34 * INCH, length=62 * INCH),
    ]
    shop = [bolt("fluff", 90, "14.00")]
    answer = batting_to_buy(need, shop, Conventions(), on_hand=mine)
    way = answer.ways[0]
    told = (
        "34 wide: fluff-2 (34 x 62); fluff-1 (30 x 60), turned, trimmed to 34 x 30; "
        "trim the last so that all is 82 long."
    )
    assert joined_so(answer, way) == [told, "Beside it fluff, 32 x 82."]
    drawn = [
        patch
        for patch in draw_joined(answer, way).axes[0].patches
        if isinstance(patch, Rectangle) and not patch.get_fill()
    ]
    areas = [patch.get_width() * patch.get_height() for patch in drawn]
    share = [round(area / sum(areas), 4) for area in areas]
    whole = 66 * 82
    assert share == [round(area / whole, 4) for area in (34 * 62, 34 * 20, 32 * 82)]


def test_a_part_of_her_own_that_is_turned_says_so() -> None:
    """A part 40 1/2 x 34 as it hangs: of 42 wide x 34 long it is cut as it hangs, of 34 x 42 a quarter turned."""
    how = Conventions(back_overage=2 * INCH)
    for own, turned in (("cream 42 x 34", False), ("cream 34 x 42", True)):
        answer = backing_to_buy(
            "36 1/2 x 48 1/2", [bolt("cream", 44, "9")], how, on_hand=pile(own)
        )
        way = next(way for way in answer.ways if way.kind == "cream-1 and one width")
        (part,) = (part for part in parts_of(way.sewn) if part.own)
        assert (part.width, part.height) == (exact(INCH * 81) / 2, exact(INCH * 34))
        (told,) = cut_from_own(answer, way)
        assert ("turned a quarter" in told) == turned
