"""A size found rather than set, and a quilt for a bed. Counting and sums: identities; mattresses: common practice, no source."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cutopt.answers.sizes import more_or_less
from cutopt.errors import JobError
from cutopt.lengths import INCH
from cutopt.quilt.recipe.layout import patches_of
from cutopt.quilt.surds import ROOT2
from cutopt.settings import Settings
from cutopt.tables.log import Log
from cutopt.tables.recipe.quilt import quilt, read_quilt

BLOCKS = 'blocks = ["{n} squares of 6 from oat"]\n'


def found(n: int, words: str, rest: str = "") -> tuple[int, int]:
    made = quilt(BLOCKS.format(n=n) + f'setting = "as large as it goes{words}"\n{rest}')
    assert made.setting is not None
    return made.setting.across, made.setting.down


def test_as_large_as_it_goes() -> None:
    """56 blocks of 6, no narrower than 36, between square and 4:3: 7 x 8 takes all, 42 x 48 (identity)."""
    assert found(56, ", no narrower than 36, between square and 4:3") == (7, 8)
    made = quilt(
        BLOCKS.format(n=56) + 'setting = "as large as it goes, no narrower than 36"\n'
    )
    assert made.finished is not None
    assert made.how.size(*made.finished) == "42 x 48"
    assert (
        made.notes[0]
        == "size found: 7 x 8 blocks of 6 x 6: 42 x 48 finished; 0 of 56 blocks left over"
    )
    assert len(patches_of(made)) == 56


def wanted(text: str) -> dict[str, int]:
    return {row.name: row.count for row in quilt(text).wanted}


def test_what_is_left_over_is_not_cut() -> None:
    """72 blocks, at most 42 wide and 48 long: 7 x 8 = 56 of them, 16 left; 40 and 32 share 56 as 31 and 25 (identity).

    40 x 56 / 72 = 31.11 and 32 x 56 / 72 = 24.89.
    """
    setting = 'setting = "as large as it goes, no wider than 42, no longer than 48"\nbinding = "no"\n'
    assert wanted(BLOCKS.format(n=72) + setting) == {"square": 56}
    two = 'blocks = ["a: 40 squares of 6 from oat", "b: 32 nine patches of 6 from oat and bark"]\n'
    made = quilt(two + setting)
    assert [block.count for block in made.blocks] == [31, 25]
    assert {row.name: row.count for row in made.wanted} == {
        "a": 31,
        "b first": 125,
        "b second": 100,
    }
    assert (
        "there is no place for 9 of 40 a and 7 of 32 b, so they are not cut"
        in " ".join(made.notes)
    )
    assert len(patches_of(made)) == 31 + 25 * 9
    nice = two.replace('from oat"', 'from oat, nice"')
    assert [block.count for block in quilt(nice + setting).blocks] == [
        24,
        32,
    ]  # what must be cut has its place first
    none = (
        'blocks = ["a: 6 squares of 6 from oat", "b: 9 squares of 6 from bark, nice"]\n'
    )
    assert wanted(none + 'setting = "2 across, 3 down"\nbinding = "no"\n') == {"a": 6}


def test_more_blocks_than_places() -> None:
    """4 x 5 places of 23 blocks: 3 have none; larger blocks have theirs first, 2 of them stand in 4 places.

    Arithmetic identity.
    """
    plain = 'blocks = ["{n} squares of 6", "gate: 2 rectangles of 6 x 12"]\nsetting = "4 across, 5 down"\nbinding = "no"\n'
    assert wanted(plain.format(n=19)) == {"square": 16, "gate": 2}
    assert wanted(plain.format(n=16)) == {"square": 16, "gate": 2}
    log = Log()
    read_quilt(plain.format(n=19), Settings(), log)
    (told,) = log.notices
    assert told.startswith(
        "quilt.toml row 2, setting: there is no place for 3 of 19 square, so they are not cut; "
    )


def test_a_block_larger_than_the_setting() -> None:
    """Arithmetic identity."""
    gates = 'blocks = ["4 squares of 6", "gate: 2 rectangles of 6 x 12"]\nsetting = "8 across, 1 down"\n'
    with pytest.raises(JobError, match="gate reaches over 1 x 2 places"):
        quilt(gates)


@settings(max_examples=60, deadline=None)
@given(
    st.integers(1, 6),
    st.integers(1, 6),
    st.lists(st.integers(1, 40), min_size=1, max_size=4),
)
def test_as_many_blocks_as_places(across: int, down: int, counts: list[int]) -> None:
    """Whatever there is too much of: each place has a block, and no kind gives up more than its share and one.

    Arithmetic identity.
    """
    blocks = ", ".join(f'"k{i}: {n} squares of 6"' for i, n in enumerate(counts))
    text = f'blocks = [{blocks}]\nsetting = "{across} across, {down} down"\nbinding = "no"\n'
    places = across * down
    total = sum(counts)
    if total < places:
        with pytest.raises(JobError, match="places and blocks for"):
            quilt(text)
        return
    given_ = wanted(text)
    assert sum(given_.values()) == places
    assert all(
        abs(given_.get(f"k{i}", 0) - n * places / total) < 1
        for i, n in enumerate(counts)
    )


@pytest.mark.parametrize(
    ("kinds", "inside"),
    [
        ((12, 6), {"k1": 6}),
        ((6, 12), {"k0": 6}),
        ((12, 4, 2), {"k1": 4, "k2": 2}),
        ((18,), {"k0": 6}),
        ((9, 9), {"k0": 3, "k1": 3}),
        ((14, 4), {"k1": 4, "k0": 2}),
    ],
)
def test_alternate_blocks_alternate_on_point(
    kinds: tuple[int, ...], inside: dict[str, int]
) -> None:
    """3 x 4 on point: 12 places along the edges and 6 between them, and every neighbour is of the other sort.

    Kinds that fill the inner ones just so lie there alone.
    Identity.
    """
    blocks = ", ".join(f'"k{i}: {n} squares of 6"' for i, n in enumerate(kinds))
    made = quilt(
        f'blocks = [{blocks}]\nsetting = "3 across, 4 down, on point, from oat"\nbinding = "no"\n'
    )
    step = 6 * INCH * ROOT2
    counted: dict[str, int] = {}
    for patch in patches_of(made):
        name = patch.row.removeprefix("cuts/")
        if not name.startswith("k"):
            continue
        across = sum(x for x, _ in patch.corners) / 4 / float(step)
        between = (
            abs(across - round(across)) < 0.01
        )  # whole diagonals from the edge: the inner places
        counted[name] = counted.get(name, 0) + between
    assert {name: n for name, n in counted.items() if n} == inside


def test_limits_hold() -> None:
    """57 blocks: 7 x 8 again, one left; at most 40 wide: 6 x 8 (4:3); no longer than 40: 6 x 6 (identity)."""
    assert found(57, "") == (7, 8)
    assert found(56, ", no wider than 40") == (6, 8)
    assert found(56, ", no longer than 40") == (6, 6)
    assert found(56, ", between 3:2 and 2:1") == (6, 9)
    assert found(56, ", no wider than 24, of any shape") == (4, 14)


def test_borders_and_sashing_count() -> None:
    """With borders of 3: 7 x 6 + 6 = 48 wide; no wider than 47 leaves 6. Sashing 2 inner: 7 x 8 - 2 = 54 (identity)."""
    border = 'borders = ["3 from bark"]\n'
    assert found(56, ", no wider than 48", border) == (7, 8)
    assert found(56, ", no wider than 47", border) == (6, 8)
    sashed = ", inner sashing 2 with cornerstones, from bark"
    assert found(56, f", no wider than 54{sashed}") == (7, 8)
    assert found(56, f", no wider than 53{sashed}") == (
        6,
        7,
    )  # 6 x 8 is 46 x 62, longer than 4:3
    assert found(
        56, ", no wider than 53, framed sashing 2 with cornerstones, from bark"
    ) == (6, 8)


@pytest.mark.parametrize(
    ("words", "what"),
    [
        (", no narrower than 300", "no size within these limits"),
        (", no thinner than 3", "not understood"),
        (", between round and 4:3", "not a shape"),
        (", on point, inner sashing 1", "on point"),
    ],
)
def test_what_cannot_be_found_is_said(words: str, what: str) -> None:
    """Sizes and words are invented."""
    with pytest.raises(JobError, match=what):
        quilt(BLOCKS.format(n=12) + f'setting = "as large as it goes{words}"\n')


@settings(max_examples=40, deadline=None)
@given(st.integers(1, 60), st.integers(0, 40), st.integers(0, 3))
def test_nothing_larger_would_do(blocks: int, least: int, border: int) -> None:
    """By trying every number of rows and columns (identity)."""
    able = [
        (n, m)
        for n in range(1, blocks + 1)
        for m in range(1, blocks // n + 1)
        if 6 * n + 2 * border >= least
        and 6 * n + 2 * border <= 6 * m + 2 * border <= (6 * n + 2 * border) * 4 / 3
    ]
    rest = f'borders = ["{border} from bark"]\n' if border else ""
    words = f", no narrower than {least}" if least else ""
    if not able:
        with pytest.raises(JobError, match="limits"):
            found(blocks, words, rest)
        return
    n, m = found(blocks, words, rest)
    assert (n, m) in able
    area = max((6 * a + 2 * border) * (6 * b + 2 * border) for a, b in able)
    assert (6 * n + 2 * border) * (6 * m + 2 * border) == area


def test_one_more_or_less() -> None:
    """7 x 8 blocks of 6: a row more is 7 blocks, 42 x 54; a column less frees 8, 36 x 48 (identity)."""
    made = quilt(BLOCKS.format(n=56) + 'setting = "7 across, 8 down"\n')
    assert more_or_less(made) == (
        "one row more needs 7 more blocks, 42 x 54 finished; one row less frees 7, 42 x 42",
        "one column more needs 8 more blocks, 48 x 48 finished; one column less frees 8, 36 x 48",
    )
    sashed = quilt(
        BLOCKS.format(n=1)
        + 'setting = "1 across, 1 down, framed sashing 2 with cornerstones"\n'
    )
    assert (
        more_or_less(sashed)[0] == "one row more needs 1 more block, 10 x 18 finished"
    )
    assert more_or_less(quilt('top = "58 x 66"')) == ()


@pytest.mark.parametrize(
    ("blocks", "told"),
    [
        (63, "7 more blocks (7 that you asked for have no place now), 42 x 54"),
        (58, "7 more blocks (2 that you asked for have no place now), 42 x 54"),
    ],
)
def test_blocks_without_a_place_are_counted_towards_one_more(
    blocks: int, told: str
) -> None:
    """7 x 8 places leave 2 of 58 blocks, and of 63 the 7 that a row more takes (counting)."""
    made = quilt(BLOCKS.format(n=blocks) + 'setting = "7 across, 8 down"\n')
    assert told in more_or_less(made)[0]


def test_one_more_or_less_on_point() -> None:
    """A row more on point: 3 and the 2 between, 6 x 1.4142 = 8.49 longer (identity: nm + (n-1)(m-1)), 25.46 in all."""
    made = quilt(
        'blocks = ["8 squares of 6 from oat"]\nsetting = "3 across, 2 down, on point, from bark"\n'
    )
    assert more_or_less(made)[0].startswith(
        "one row more needs 5 more blocks, 25 7/16 x 25 7/16 finished"
    )


def test_a_bed() -> None:
    """Queen 60 x 80, drop 12, tuck 10: 84 x 102 (identity; mattress: common practice, no source)."""
    made = quilt('bed = "queen, drop 12, tuck 10"\nbacking = "oat"\n')
    assert made.top is not None
    assert made.how.size(*made.top.size("trimmed", made.how)) == "84 x 102"
    assert made.notes[0] == "for this bed: 60 + 2 x 12 = 84; 80 + 12 + 10 = 102"
    assert (
        "hangs 12 on each side; with as much at the foot 10 is left to tuck"
        in made.notes[2]
    )
    assert (
        quilt('bed = "39 x 75, drop 12"\n').notes[0]
        == "for this bed: 39 + 2 x 12 = 63; 75 + 12 = 87"
    )


def test_a_top_beside_its_bed() -> None:
    """64 x 80 on a twin of 38 x 75 (common practice, no source): (64 - 38) / 2 = 13 a side, 80 - 75 - 13 = 8 short
    (identity)."""
    made = quilt('top = "64 x 80"\nbed = "twin, drop 12"\n')
    assert made.top is not None
    assert made.how.size(made.top.width, made.top.length) == "64 x 80"
    assert made.notes[1] == "twin, 38 x 75 (common practice, no source): measure yours"
    told = "it hangs 13 on each side; with as much at the foot it is 8 short"
    assert told in made.notes[2]
    narrow = quilt('top = "30 x 80"\nbed = "twin, drop 12"\n')
    assert "does not cover" in narrow.notes[2]


@pytest.mark.parametrize(
    ("words", "what"),
    [
        ("queen", "how far it hangs"),
        ("hammock, drop 3", "not understood"),
        ("queen, drip 3", "not understood"),
    ],
)
def test_a_bed_that_is_not_understood(words: str, what: str) -> None:
    """Sizes and words are invented."""
    with pytest.raises(JobError, match=what):
        quilt(f'bed = "{words}"\n')


@pytest.mark.parametrize("blocks", [1, 5, 8, 13, 18, 20, 40])
def test_on_point_as_large_as_it_goes(blocks: int) -> None:
    """Identity: n x m on point take nm + (n - 1)(m - 1) blocks and reach n 6 √2 by m 6 √2; by trying all of them."""
    able = [
        (n, m)
        for n in range(1, blocks + 1)
        for m in range(n, blocks + 1)
        if n * m + (n - 1) * (m - 1) <= blocks and 3 * m <= 4 * n
    ]
    n, m = max(able, key=lambda pair: (pair[0] * pair[1], -abs(pair[0] - pair[1])))
    made = quilt(
        f'blocks = ["{blocks} squares of 6"]\nsetting = "as large as it goes, on point, from oat"\n'
    )
    assert made.setting is not None
    assert (made.setting.across, made.setting.down) == (n, m)
    assert made.finished is not None
    assert made.finished[0] == 6 * INCH * n * ROOT2
    left = blocks - n * m - (n - 1) * (m - 1)
    assert any(f"{left} of {blocks} blocks left over" in note for note in made.notes)
