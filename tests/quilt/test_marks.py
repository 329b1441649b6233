"""Every check of a number of the trade says where the number comes from; the finder itself is tried on made-up modules."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.places import ROOT
from tests.quilt.marks import MARK, unmarked

ROOMS = ("quilt", "quilt_tables", "tables/recipe", "worked")
PATHS = sorted(
    path for room in ROOMS for path in (ROOT / "tests" / room).rglob("test_*.py")
)
BARE = "def test_it():\n    assert cut('4') == '4 1/2'\n"


@pytest.mark.parametrize("path", PATHS, ids=lambda path: str(path.relative_to(ROOT)))
def test_each_number_has_its_mark(path: Path) -> None:
    found = [f"line {each.line}, {each.name}" for each in unmarked(path)]
    assert not found, (
        f"{path}: {'; '.join(found)}: say in the docstring where the numbers are from: a published source by name, "
        '"identity", "common practice, no source", "from memory" or "invented"'
    )


@pytest.mark.parametrize(
    ("module", "names"),
    [
        (BARE, ["test_it"]),
        (BARE.replace(":\n", ':\n    """4 + 2 x 1/4."""\n', 1), ["test_it"]),
        (BARE.replace(":\n", ':\n    """4 + 2 x 1/4 (identity)."""\n', 1), []),
        (
            BARE.replace(":\n", ':\n    """A habit (common practice)."""\n', 1),
            ["test_it"],
        ),
        (f"# from memory\n{BARE}", []),
        (f"# from memory\n\n{BARE}", ["test_it"]),
        ("SIZES = [3]  # ISO 216\n\ndef test_it():\n    assert len(SIZES)\n", []),
        ("SIZES = [3]\n\ndef test_it():\n    assert len(SIZES)\n", ["test_it"]),
        ("def test_it():\n    assert len('abc') > 1\n", []),
        (f'"""Sentences are invented."""\n{BARE}', []),
        (f'"""Sizes are common practice, no source."""\n{BARE}', ["test_it"]),
    ],
)
def test_what_is_found(module: str, names: list[str], tmp_path: Path) -> None:
    """Modules are invented."""
    path = tmp_path / "test_it.py"
    path.write_text(module, encoding="utf-8")
    assert [each.name for each in unmarked(path)] == names


def test_practice_is_never_named_without_saying_that_it_has_no_source() -> None:
    for path in PATHS:
        if path == Path(__file__):
            continue
        text = " ".join(path.read_text(encoding="utf-8").split())
        bare = text.lower().replace("common practice, no source", "")
        bare = bare.replace("common practice and have no source", "")
        assert "common practice" not in bare, path


def test_marks_are_words_that_stand_alone() -> None:
    for word in ("identity", "identities", "invented", "from memory", "counting"):
        assert MARK.search(f"({word})")
    assert not MARK.search("accounting for reinvented identitys")
