"""Mistakes of all parts are told in one run; sentences and fabrics are invented."""

from __future__ import annotations

from cutopt.settings import Settings
from cutopt.tables.log import Log
from cutopt.tables.recipe.quilt import read_quilt

OTHERS = """borders = ["2 from oat, zig", "coping from oat, zag", "squares of 2 from oat and plum, zug"]
binding = "from bark, zog"
sleeve = "from oat, zeg"
articles = ["4 coasters from oat, zik"]
backing = "oat, zyg"
batting = "any, zwg"
"""
WORDS = ("zig", "zag", "zug", "zog", "zeg", "zik", "zyg", "zwg")


def told(text: str) -> list[str]:
    """What is told of a quilt.toml, one mistake after the other."""
    log = Log()
    assert read_quilt(text, Settings(), log) is None
    return [problem.what for problem in log.problems]


def are_told(whats: list[str]) -> bool:
    """Whether each of the words is told once, and nothing else of their sentences."""
    found = [[what for what in whats if what.startswith(f'"{w}"')] for w in WORDS]
    return all(len(each) == 1 for each in found)


def test_of_a_block_that_is_not_understood() -> None:
    whats = told(
        f'blocks = ["20 zepps of 6"]\nsetting = "4 across, 5 down, zip"\n{OTHERS}'
    )
    assert '"zepps"' in whats[0]
    assert whats[1].startswith('"zip"')
    assert are_told(whats)
    assert len(whats) == 2 + len(WORDS)


def test_of_a_setting_that_is_not_understood() -> None:
    """How many blocks without a number there are goes by the setting: that is told alone."""
    whats = told(
        f'blocks = ["nine patches of 9 from oat and plum"]\nsetting = "4 across, zip"\n{OTHERS}'
    )
    assert whats[0].startswith('"zip"')
    assert are_told(whats)
    assert len(whats) == 1 + len(WORDS)


def test_of_a_top_that_is_not_understood() -> None:
    whats = told(f'top = "58 by y"\n{OTHERS}')
    assert are_told(whats)
    assert len(whats) == 1 + len(WORDS)


def test_a_border_behind_one_that_is_not_understood() -> None:
    whats = told('top = "58 x 66"\nborders = ["2, zig", "3, zag"]\n')
    assert [what[:5] for what in whats] == ['"zig"', '"zag"']


def test_no_border_beside_borders() -> None:
    whats = told('top = "58 x 66"\nborders = ["none", "2"]\n')
    assert whats == ['"none" stands beside borders']
