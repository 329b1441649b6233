"""The texts for developers name files and values that are there."""

from __future__ import annotations

import ast
import re
import tomllib
from pathlib import Path
from typing import Any

import pytest

from tests.places import ROOT
from tests.written import Page, page

TEXTS = [
    page(ROOT / name)
    for name in (
        "DEVELOPERS.md",
        "cutopt/HOW_IT_WORKS.md",
        "tests/solve/EXPERIMENTS.md",
    )
]
MAP = TEXTS[0]
ROOMS = [ROOT / name for name in ("cutopt", "tests", "data", "notebooks")]
FILES = {
    f"/{path.relative_to(ROOT)}"
    for room in ROOMS
    for path in (room, *ROOT.glob("*.*"), *room.rglob("*"))
}
SOURCES = "\n".join(
    path.read_text(encoding="utf-8")
    for room in ROOMS
    for path in room.rglob("*")
    if path.suffix in {".py", ".toml", ".json"}
)
# rooms kept free for what is yet to be built
TO_COME = {"lessons/", "ledger.py"}


def is_there(name: str) -> bool:
    """Whether some file or folder of the project is called so, as far as the name goes."""
    return any(f"{path}/".endswith(f"/{name.strip('/')}/") for path in FILES)


@pytest.mark.parametrize("told", TEXTS, ids=lambda told: told.path.name)
def test_what_is_named_is_there(told: Page) -> None:
    """Files, and what is called by one word in the code."""
    files = [w for w in told.code_words() if re.search(r"^\w.*(\.(py|md|js)|/)$", w)]
    assert len(files) > 10
    for word in files:
        meant = word in TO_COME or re.search("[A-Z]{3}|out/", word)
        assert is_there(word) or meant, word
    for word in told.code_words():
        if re.fullmatch(r"@?_?[a-zA-Z]\w*", word):
            assert re.search(rf"\b{word.strip('@')}\b", SOURCES), word


def list_of_floors(name: str) -> list[Any]:
    """A list of `tests/test_floors.py`, which is the order of the rooms."""
    tree = ast.parse((ROOT / "tests" / "test_floors.py").read_text(encoding="utf-8"))
    (found,) = (
        node.value
        for node in tree.body
        if isinstance(node, ast.Assign) and ast.unparse(node.targets[0]) == name
    )
    return list(ast.literal_eval(found))


def drawn_map() -> str:
    (told,) = re.findall(r"^6  app/.*?(?=^```)", MAP.text, re.DOTALL | re.MULTILINE)
    return str(told)


def test_the_map_has_the_rooms_on_their_floors() -> None:
    floors = re.split(r"^(?=\d  )", drawn_map(), flags=re.MULTILINE)[:0:-1]
    inside = {room for group in list_of_floors("INSIDE_SOLVE") for room in group}
    unseen = {name.strip("/").removesuffix(".py") for name in TO_COME} | {"__main__"}
    for told, row in zip(floors, list_of_floors("FLOORS"), strict=True):
        rooms = {room for group in row for room in group} - unseen
        named = set(re.findall(r"^(?:\d  |   )(\w+)", told, re.MULTILINE))
        named |= set(re.findall(r"(?<=\s)(\w+)\.py\b", told))
        assert named - (inside - rooms) == rooms
        if "solve" in rooms:
            assert inside <= set(re.findall(r"(\w+)(?=/|\.py)", told))


def test_the_rooms_of_the_map_are_there() -> None:
    told = drawn_map()
    names = re.findall(r"\b(\w+/|\w+\.py)(?=\s)", told)
    assert len(names) > 40
    for name in names:
        assert is_there(name), name


def test_what_is_to_be_opened_has_what_is_named_beside_it() -> None:
    """``file (`name`: ...)`` and ``name in file`` in the table of how to add."""
    table = MAP.text[MAP.text.index("## How to add") :].partition("\n## ")[0]
    beside = re.findall(r"`([\w/]+\.py)` \(((?:`[^`]*`|[^`()])*)\)", table)
    pairs = [
        (name, file) for file, told in beside for name in re.findall("`(.*?)`", told)
    ]
    pairs += re.findall(r"`([\w ]+)` in `([\w/]+\.py)`", table)
    assert len(pairs) > 8
    for name, file in pairs:
        if name.isidentifier():
            text = (ROOT / "cutopt" / file).read_text(encoding="utf-8")
            assert re.search(rf"\b{name}\b", text), (file, name)


def test_the_values_of_the_dictionary_are_there() -> None:
    told = re.findall(r"`([A-Z]\w+)(?:\.\w+)?`", " ".join(map(str, MAP.rows(4))))
    assert len(set(told)) > 40
    for word in told:
        assert re.search(rf"^(class )?{word}\b", SOURCES, re.MULTILINE), word


@pytest.mark.parametrize("told", TEXTS, ids=lambda told: told.path.name)
def test_links_lead_somewhere(told: Page) -> None:
    for place in told.links():
        assert Path(place).exists(), place


def test_why_each_dependency() -> None:
    told = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    extras = told["project"]["optional-dependencies"]
    needed = [*told["project"]["dependencies"], *extras["bench"], *extras["test"]]
    table = MAP.text[MAP.text.index("| package | why |") :].partition("\n\n")[0]
    words = set(re.findall(r"[a-z][a-z-]+\d?", table))
    assert {re.split("[>=<]", each)[0] for each in needed} <= words


def test_the_licence_and_the_changes_are_told() -> None:
    """As the metadata of the package name them."""
    told = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    (licence,) = told["project"]["license-files"]
    assert "MIT License" in (ROOT / licence).read_text(encoding="utf-8")
    changes = (ROOT / "cutopt" / "CHANGELOG.md").read_text(encoding="utf-8")
    newest = re.findall(r"^## (\S+?),? ", changes, re.MULTILINE)[0]
    assert newest == told["project"]["version"]


def test_the_map_is_short() -> None:
    assert len(MAP.text.encode()) < 15_000


@pytest.mark.parametrize(
    "room",
    sorted(path.parent for path in (ROOT / "cutopt").glob("*/**/__init__.py")),
    ids=str,
)
def test_each_room_tells_of_every_module_in_it(room: Path) -> None:
    """Who opens a folder reads in its docstring what each file is for, and of no file that is gone."""
    told = ast.get_docstring(ast.parse((room / "__init__.py").read_text("utf-8"))) or ""
    named = set(re.findall(r"`([a-z_]+)(?:\.py)?`", told))
    here = {path.stem for path in room.glob("*.py")} - {"__init__"}
    assert here <= named, f"{room} does not tell of {sorted(here - named)}"
    files = re.findall(r"`([a-z_]+\.py)`", told)
    gone = [name for name in files if not (room / name).exists()]
    assert not gone, f"{room} tells of {gone}"
