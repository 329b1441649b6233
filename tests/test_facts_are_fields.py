"""Nothing is decided by the wording of a sentence of our own: facts are fields, and only what others wrote is parsed.

What can be seen without running the code is a phrase, a constant with two letters or more, that some text is asked
for: ``"in half" in fold``, ``said.endswith("edge")``, ``noun.removeprefix("the rest of ")``. Whether the text is our
own nobody can tell from the syntax alone: the rooms that read what a maker or another program wrote are named below
with what they read, and so are containers that are no texts. A phrase that is put together elsewhere is not seen.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator

import pytest

from tests.places import ROOT

PACKAGE = ROOT / "cutopt"
ASKING = {
    "count",
    "endswith",
    "find",
    "fullmatch",
    "index",
    "match",
    "partition",
    "removeprefix",
    "removesuffix",
    "replace",
    "rindex",
    "rfind",
    "rpartition",
    "rsplit",
    "search",
    "split",
    "startswith",
    "sub",
}
# what others wrote, and the keys of a plan, which are of the public format: cuts/NAME
READ = {
    "app/editor/texts.py": "files of a job",
    "bench/memory.py": "what the system tells of a process",
    "check/sums.py": "keys of a plan",
    "colours.py": "the maker's colours",
    "fabric_words.py": "the maker's words for fabrics",
    "lengths.py": "the maker's lengths",
    "piecing.py": "keys of a plan, and the maker's names",
    "pages/phrases.py": "keys of a plan",
    "quilt/top.py": "the maker's size of a top",
    "tables/": "files of a job or a plan",
}
# asked for a member, and no texts
CONTAINERS = {
    ("app/editor/widget.py", "content"),
    ("app/progress.py", "shell.config"),
    ("draw/letters.py", "font"),
    ("draw/piece_marks.py", "kinds"),
}
SIZED = (ast.Tuple, ast.List, ast.Set, ast.Dict)


def phrases(node: ast.AST) -> list[str]:
    """The words that are looked for: of a constant, of several, or of a text put together of them."""
    if isinstance(node, ast.Tuple):
        return [phrase for part in node.elts for phrase in phrases(part)]
    if isinstance(node, ast.JoinedStr):
        return [phrase for part in node.values for phrase in phrases(part)]
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        return [node.value] if re.search("[A-Za-z]{2}", node.value) else []
    return []


def asked(tree: ast.AST) -> Iterator[tuple[int, str, str]]:
    """Line, expression, and what is asked, wherever a phrase is looked for."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Compare) and isinstance(
            node.ops[0], ast.In | ast.NotIn
        ):
            inside = node.comparators[0]
            if phrases(node.left) and not isinstance(inside, SIZED):
                yield node.lineno, ast.unparse(node), ast.unparse(inside)
        elif isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute):
            first = node.args[:1]
            if node.func.attr in ASKING and first and phrases(first[0]):
                yield node.lineno, ast.unparse(node), ast.unparse(node.func.value)


def is_read(name: str) -> bool:
    return any(name == room or name.startswith(room) for room in READ)


NAMES = [path.relative_to(PACKAGE).as_posix() for path in PACKAGE.rglob("*.py")]


def test_no_sentence_is_asked_what_it_says() -> None:
    found = [
        f"{name}:{line}: {text}"
        for name in sorted(NAMES)
        if not is_read(name)
        for line, text, owner in asked(ast.parse((PACKAGE / name).read_text("utf-8")))
        if (name, owner) not in CONTAINERS
    ]
    assert not found, "\n".join(found)


@pytest.mark.parametrize(
    "line",
    [
        'layers = 4 if "once more" in fold else 2',
        'odd = "strip" not in way.kind',
        'short = told.startswith(("Together", "Nothing"))',
        'buying = level.name.startswith("money")',
        'fabric = key.removesuffix(" each")',
        'corner = edge.replace(f"{side} edge", "corner")',
        're.sub(r"^by | (grain|joins)$", "", word)',
    ],
)
def test_what_was_found_once_is_found_again(line: str) -> None:
    """Each of these once decided something in this package."""
    assert list(asked(ast.parse(line)))


@pytest.mark.parametrize(
    "line",
    [
        'known = word in ("in", "cm")',
        'known = "pear" in {"pear", "oat"}',
        'ending = text.endswith(".")',
        'cells = line.split(",")',
        'text.join("words")',
    ],
)
def test_what_asks_nothing_of_a_sentence_is_let_be(line: str) -> None:
    assert not list(asked(ast.parse(line)))


def test_what_is_excused_is_there() -> None:
    files = {name for name in NAMES if is_read(name)}
    assert all(any(name.startswith(room) for name in files) for room in READ)
    for name, owner in CONTAINERS:
        tree = ast.parse((PACKAGE / name).read_text(encoding="utf-8"))
        assert owner in {other for _, _, other in asked(tree)}, (name, owner)
