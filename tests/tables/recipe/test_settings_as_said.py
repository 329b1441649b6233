"""Settings, borders and edges in whole sentences: how many of what, added up here from the numbers that are said.

The sentences are invented; every sum is an identity of a grid of blocks of 6 in with seams of 1/4 in.
"""

from __future__ import annotations

import pytest

from cutopt.errors import JobError
from cutopt.fabric import Fabric
from cutopt.job import Settings
from cutopt.lengths import INCH
from cutopt.quilt.recipe.layout import patches_of
from cutopt.quilt.recipe.quilt import Quilt
from cutopt.tables.log import Log
from cutopt.tables.recipe.habits import cloth_known
from cutopt.tables.recipe.quilt import read_quilt
from cutopt.wanted import Cut

CLOTH = cloth_known((), [Fabric(name=name) for name in ("oat", "plum", "navy", "rose")])
SIDE = 6


def made(text: str) -> Quilt:
    log = Log()
    found = read_quilt(text, Settings(), log, cloth=CLOTH)
    log.finish()
    assert found is not None
    return found.quilt


def settled(sentence: str) -> Quilt:
    """As many squares of 6 in as the setting has places for."""
    quoted = sentence.replace('"', '\\"')
    return made(f'blocks = ["squares of 6 from rose"]\nsetting = "{quoted}"\n')


def counts(quilt: Quilt) -> dict[str, int]:
    return {row.name: row.count for row in quilt.wanted if isinstance(row, Cut)}


def inches(quilt: Quilt) -> tuple[float, float]:
    """The finished size."""
    assert quilt.finished is not None
    width, length = quilt.finished
    return float(width) / INCH, float(length) / INCH


SASHED = {
    # across, down, width of the sashing, whether it goes round
    "6 rows of 5 blocks with 2 inch finished sashing in oat and navy posts": (
        5,
        6,
        2.0,
        False,
    ),
    "rows of 4, 5 of them, joined by 2-inch strips of plum": (4, 5, 2.0, False),
    '20 blocks, 4 to a row, oat sashing (1 1/2" finished)': (4, 5, 1.5, False),
    "sash every block with 2 inches of oat, 4 across x 5 down": (4, 5, 2.0, False),
    "5 x 6 straight setting with 1½ inch sashing strips of oat all the way round": (
        5,
        6,
        1.5,
        True,
    ),
    "4 across, 5 down, sashing an inch and a half, oat, round the outside edge too": (
        4,
        5,
        1.5,
        True,
    ),
    "seven rows with five blocks in each, cut the sashing 2 inches wide, oat": (
        5,
        7,
        1.5,
        False,
    ),
}


@pytest.mark.parametrize("sentence", SASHED)
def test_sashing_round_blocks(sentence: str) -> None:
    """Of m x n blocks (m - 1) n + m (n - 1) sashes and (m - 1)(n - 1) stones lie inside; round them one more each way."""
    m, n, wide, framed = SASHED[sentence]
    quilt = settled(sentence)
    across, down = m - 1 + 2 * framed, n - 1 + 2 * framed
    assert counts(quilt) == {
        "square": m * n,
        "sash": across * n + m * down,
        "cornerstone": across * down,
    }
    assert inches(quilt) == (SIDE * m + wide * across, SIDE * n + wide * down)


ALTERNATING = {
    "Blocks take turns with plain oat squares, seven rows of seven.": (7, 7),
    "Checkerboard of the pieced blocks and plain oat ones, 5 by 7": (5, 7),
    "4 across and 6 down; every other block is plain oat": (4, 6),
    "5 x 5, alternate blocks oat": (5, 5),
    "3 across, 4 down, every other one a plain block of oat": (3, 4),
}


@pytest.mark.parametrize("sentence", ALTERNATING)
def test_plain_blocks_lie_like_the_fields_of_a_board(sentence: str) -> None:
    """Of m x n fields of a board half are of one colour, the odd one of the other; none lies beside its like."""
    m, n = ALTERNATING[sentence]
    quilt = settled(sentence)
    plain = m * n // 2
    assert counts(quilt) == {"square": m * n - plain, "plain block": plain}
    where = {}
    for patch in patches_of(quilt):
        x = min(float(corner[0]) for corner in patch.corners)
        y = min(float(corner[1]) for corner in patch.corners)
        where[round(x / (SIDE * INCH)), round(y / (SIDE * INCH))] = patch.row
    assert len(where) == m * n
    assert all(where[c, r] != where.get((c + 1, r)) for c, r in where)
    assert all(where[c, r] != where.get((c, r + 1)) for c, r in where)


def test_plain_blocks_on_point_lie_between_the_others() -> None:
    """Of 3 x 4 on point 12 lie at the points and 2 x 3 between; 10 sides are 3 squares cut in four, 4 corners 2 in two."""
    quilt = settled("On point, 3 across and 4 down, plain oat squares between")
    assert counts(quilt) == {
        "square": 12,
        "plain block": 6,
        "side triangles": 3,
        "corner triangles": 2,
    }


def test_more_blocks_than_places_beside_the_plain_ones_are_told() -> None:
    text = 'blocks = ["20 squares of 6"]\nsetting = "5 x 5, alternate blocks oat"\n'
    with pytest.raises(JobError, match="13 others have a place, and 20 are said"):
        made(text)


def test_sashing_on_a_line_of_its_own() -> None:
    blocks = 'blocks = ["squares of 6 from rose"]\nsetting = "4 across, 5 down"\n'
    quilt = made(f'{blocks}sashing = "2 inches, oat"\nfor = "lap"\n')
    assert counts(quilt)["sash"] == 3 * 5 + 4 * 4
    assert quilt.use == "lap"
    plain = made(f'{blocks}sashing = "none, thanks"\n')
    assert counts(plain) == {"square": 20}
    with pytest.raises(JobError, match="no setting is said"):
        made('top = "40 x 50"\nsashing = "2, oat"\n')


def test_a_checkerboard_of_two_rows() -> None:
    """Round 12 x 18 lie (16 x 22 - 12 x 18) / 4 = 34 squares of 2, round those (20 x 26 - 16 x 22) / 4 = 42."""
    checks = "checkerboard of 2 inch squares, 2 rows deep, oat and plum"
    text = 'blocks = ["6 squares of 6"]\nsetting = "2 x 3"\n'
    text += f'borders = ["{checks}"]\n'
    found = counts(made(text))
    assert sum(many for name, many in found.items() if "border square" in name) == 34
    assert sum(many for name, many in found.items() if "border 2" in name) == 42


NOTES = {  # a part and its sentence: what is told beside the plan
    'binding = "from oat and plum"': "as much of oat as of plum",
    'binding = "oat, because it is for a show"': 'nothing is planned by "because it is for a show"',
    'binding = "oat, 3/8 finished"': "6 x 3/8 = 2 1/4",
    'binding = "none, it will be tied"': "none is planned, as you say",
    'batting = "cotton, 2 inches bigger"': "2 inches larger on each side",
    'use = "lap quilt for my aunt, 50 x 65"': "50 x 65 is said, and it finishes 39 1/2 x 49 1/2",
    'backing = "two widths of oat joined down the middle"': "goes by the cloth",
    'backing = "oat 108 inches wide"': "as wide as the shop has it",
}


@pytest.mark.parametrize("said", NOTES)
def test_what_a_plan_cannot_show_is_told_beside_it(said: str) -> None:
    notes = made(f'top = "40 x 50"\n{said}\n').notes
    assert any(NOTES[said] in note for note in notes), notes


def test_a_size_that_a_use_aims_at_is_the_size_where_nothing_else_is_said() -> None:
    quilt = made('use = "a lap quilt, 50 x 65"\nbinding = "oat"\n')
    assert inches(quilt)[0] == pytest.approx(50, abs=1)
    assert quilt.top is not None


def test_a_slip_in_a_word_that_has_cautions_is_told() -> None:
    with pytest.raises(JobError, match="wheelchiar"):
        made('top = "40 x 50"\nuse = "lap quilt for a wheelchiar"\n')


def test_rows_that_are_shifted_are_told_with_a_setting_that_reads() -> None:
    with pytest.raises(JobError) as caught:
        settled("Stagger every other row like a brick wall, 7 a row, 8 rows")
    (problem,) = caught.value.problems
    assert counts(settled(problem.mend.split('"')[1])) == {"square": 56}
