"""Backing seams clear of the long seams of the top (common practice, no source); positions are identities."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cutopt.answers import backing_to_buy
from cutopt.fabric import ByLength, ByPiece
from cutopt.lengths import INCH, YARD
from cutopt.quilt.backs.seams import abs_, seams_at
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.recipe.layout import patches_of
from cutopt.quilt.recipe.long_seams import long_seams
from cutopt.quilt.recipe.quilt import Quilt
from cutopt.quilt.surds import Exact
from cutopt.settings import Settings
from cutopt.tables.recipe.quilt import quilt

PLAIN = 'blocks = ["{n} squares of {size} from oat"]\nsetting = "{across} across, {down} down{more}"\n'


def made(
    across: int, down: int, size: str = "6", more: str = "", rest: str = "", n: int = 0
) -> Quilt:
    text = PLAIN.format(
        n=n or across * down, size=size, across=across, down=down, more=more
    )
    return quilt(text + rest, Settings())


def inches(values: tuple[Exact, ...]) -> list[float]:
    return [float(value) / INCH for value in values]


def bolt(usable: int = 42, **more: int) -> ByLength:
    return ByLength(
        fabric="cotton", usable_width=usable * INCH, sold_by=YARD // 8, **more
    )


def test_between_blocks() -> None:
    seams = long_seams(made(4, 5))
    assert seams is not None
    assert inches(seams.upright) == [6, 12, 18]
    assert inches(seams.level) == [6, 12, 18, 24]


def test_on_both_sides_of_the_sashing_and_along_borders() -> None:
    """Border 3, blocks of 12 with 2 between: 3, 15, 17, 29, 31, 43 and the far border's 43."""
    seams = long_seams(
        made(
            3,
            1,
            "12",
            ", inner sashing 2 with cornerstones",
            'borders = ["3 from bark"]\n',
        )
    )
    assert seams is not None
    assert inches(seams.upright) == [3, 15, 17, 29, 31, 43]
    assert inches(seams.level) == [3, 15]
    framed = long_seams(made(2, 1, "12", ", framed sashing 2 with cornerstones"))
    assert framed is not None
    assert inches(framed.upright) == [2, 14, 16, 28]


def test_on_point_and_a_bare_size() -> None:
    """Blocks on point meet askew: only the border has a long seam along the edge, 4 in from it on each side."""
    seams = long_seams(
        made(2, 2, "6", ", on point", 'borders = ["4 from bark"]\n', n=5)
    )
    assert seams is not None
    assert len(seams.upright) == 2
    assert inches(seams.upright)[0] == 4
    assert long_seams(quilt('top = "58 x 66"', Settings())) is None


@settings(max_examples=40, deadline=None)
@given(
    st.integers(1, 6),
    st.integers(1, 6),
    st.sampled_from(["", "inner", "framed"]),
    st.booleans(),
    st.lists(st.integers(1, 4), max_size=2),
)
def test_no_patch_lies_across_a_seam(
    across: int, down: int, sashing: str, corners: bool, borders: list[int]
) -> None:
    """Of the drawn patches none but borders and unbroken sashes is crossed by a long seam, and each seam has edges."""
    # nothing is sashed inside of one block, and a fabric for it is told as a mistake
    if across * down == 1 and sashing == "inner":
        sashing = ""
    told = (
        f", {sashing} sashing 2 {'with' if corners else 'without'} cornerstones, from mist"
        if sashing
        else ""
    )
    round_it = ", ".join(f'"border {i}: {w} from bark"' for i, w in enumerate(borders))
    rest = f"borders = [{round_it}]\n"
    top = made(across, down, "6", told, rest)
    seams = long_seams(top)
    assert seams is not None
    edges: tuple[set[int], set[int]] = set(), set()
    high = max(y for patch in patches_of(top) for _, y in patch.corners)
    for patch in patches_of(top):
        for side, lines, found in zip(
            (0, 1), (seams.upright, seams.level), edges, strict=True
        ):
            at = [
                corner[side] if side == 0 else high - corner[side]
                for corner in patch.corners
            ]
            found |= {round(v) for v in at}
            if "border" not in patch.row and "sash" not in patch.row:
                assert not any(
                    min(at) + 1 < float(line) < max(at) - 1 for line in lines
                )
    for lines, found in zip((seams.upright, seams.level), edges, strict=True):
        assert {round(float(line)) for line in lines} <= found


@settings(max_examples=15, deadline=None)
@given(
    st.integers(3, 12),
    st.integers(3, 12),
    st.integers(3, 9),
    st.sampled_from([40, 42, 56]),
)
def test_clear_means_clear(across: int, down: int, size: int, usable: int) -> None:
    """Whatever is called clear is an inch from each long seam and 2 in from the middle, and still covers the need."""
    top = made(across, down, str(size))
    how = Conventions()
    answer = backing_to_buy(top, [bolt(usable)], how)
    lines = long_seams(top)
    assert lines is not None
    for way in answer.ways:
        if way.lies != "clear":
            continue
        up = way.run == "up"
        need = answer.need.width if up else answer.need.length
        shift = float(way.shift[0 if up else 1])
        assert abs(shift) <= float(way.spare_across) / 2
        over = answer.need.overage[0]
        for at in seams_at(way):
            mine = (
                float(at) - float(way.spare_across) / 2 - over + shift
            )  # from the raw edge of the top
            assert abs(mine - float(need - 2 * over) / 2) >= 2 * INCH - 1e-6
            for line in lines.upright if up else lines.level:
                assert abs(mine - float(line) - how.seam) >= INCH - 1e-6


def test_it_is_told_and_drawn_from_the_recipe() -> None:
    """10 x 10 blocks of 6: raw 60 1/2, 64 1/2 to reach; two widths of 42 (83) meet in the middle, between blocks.

    The next place a quarter clear of 30 1/4 +- 2 and of the seams at 24, 30, 36 (+ 1/4, +- 1) is 2 in off.
    """
    answer = backing_to_buy(made(10, 10), [bolt()])
    two = next(way for way in answer.ways if way.kind == "2 widths" and way.run == "up")
    assert two.lies == "clear"
    assert abs_(two.shift[0]) == 2 * INCH
    row = answer.rows[answer.ways.index(two)]
    assert "clear, 2 to one side" in row


def test_nothing_is_said_of_the_seams_of_a_top_of_which_only_its_size_is_known() -> (
    None
):
    """58 1/8 x 74 as measured: the middle can be kept clear of, and what lies elsewhere nobody has told us."""
    answer = backing_to_buy("58 1/8 x 74", [bolt(44)])
    seamed = [way for way in answer.ways if way.seams]
    assert {way.lies for way in seamed} <= {"not in the middle", "in the middle"}
    said = " ".join((*answer.said, *(cell for row in answer.rows for cell in row)))
    assert "no seam lies in the middle" in said
    assert "seam of the top" not in said
    assert "clear" not in said


def test_no_seam_in_the_middle_is_first_of_all_one_that_needs_no_shift() -> None:
    """74 + 4 = 78 down: two widths of 44 meet 39 from the edge, and are clear of the middle only if shifted by 2 in.

    Where one of them is halved, or a strip is sewn on, the seams hang clear of it by themselves.
    """
    never = Conventions(back_middle="never")
    answer = backing_to_buy("58 1/8 x 74", [bolt(44)], never)
    two = [way for way in answer.ways if way.kind == "2 widths"]
    assert all(any(way.shift) for way in two)
    assert all(not any(choice.way.shift) for choice in answer.best)


def test_seams_too_near_together_cannot_be_kept_clear_of() -> None:
    """Blocks of 1 1/2: every place lies within an inch of a seam. It is told, nothing is left out."""
    answer = backing_to_buy(made(40, 40, "1 1/2"), [bolt()])
    seamed = [way for way in answer.ways if way.seams]
    assert seamed
    assert {way.lies for way in seamed} <= {"under a seam of the top", "in the middle"}
    assert any(
        "a seam lies under a long seam of the top; no way in the table is clear" in n
        for n in answer.notes
    )


def test_of_two_alike_the_clear_one_comes_first() -> None:
    """60 x 60 costs the same both ways; strips 1 1/2 wide leave no clear place for a seam that runs up."""
    square = quilt(
        'blocks = ["80 rectangles of 1 1/2 x 30 from oat"]\nsetting = "40 across, 2 down"\n',
        Settings(),
    )
    both = backing_to_buy(square, [bolt(42)], Conventions()).ways
    plain = [way for way in both if way.kind == "2 widths"]
    assert [way.run for way in plain] == ["across", "up"]
    assert [way.lies for way in plain] == ["clear", "under a seam of the top"]
    assert plain[0].bought == plain[1].bought


def test_whole_pieces_are_looked_at_both_ways() -> None:
    sheet = ByPiece(fabric="sheet", each_width=40 * INCH, each_length=40 * INCH)
    answer = backing_to_buy("60 x 70", [sheet])
    assert answer.ways[0].tiles == (2, 2)
    assert answer.ways[0].lies == "not in the middle"
    assert [abs(float(by)) / INCH for by in answer.ways[0].shift] == [2, 2]
    assert answer.rows[0][2] == "both"
    tight = backing_to_buy(
        "60 x 74", [sheet]
    )  # 78 of 79 down: it cannot be shifted by 2
    assert tight.ways[0].lies == "in the middle"


def test_the_distance_is_a_setting() -> None:
    """Blocks of 6: 2 1/2 in clear of each seam leaves a place; 3 1/4 in leaves none."""
    for clear, word in (
        (Fraction(5, 2), "clear"),
        (Fraction(13, 4), "under a seam of the top"),
    ):
        how = Conventions(seam_clear=int(clear * INCH))
        two = next(
            w
            for w in backing_to_buy(made(10, 10), [bolt()], how).ways
            if w.kind == "2 widths"
        )
        assert two.lies == word


@pytest.mark.parametrize("run", ["up", "across"])
def test_one_width_has_no_seam_to_place(run: str) -> None:
    answer = backing_to_buy("30 x 30", [bolt()])
    assert all(
        way.lies == "" for way in answer.ways if way.run == run and not way.seams
    )
