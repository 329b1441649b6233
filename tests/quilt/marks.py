"""Where a number in a test of the trade comes from: the marks, and how they are found beside the checks."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Final

SAID: Final = {
    "follows from geometry or counting, or an oracle worked it out": (
        r"\bidentit(y|ies)\b|\bcounting\b|\boracle\b"
    ),
    "makers do so": r"common practice, no source",
    "nobody looked it up": r"from memory",
    "made up for the test": r"\binvented\b",
    "this program's own choice": r"\bour own\b",
}
PUBLISHED: Final = (
    "AATCC TM135",
    "ADA Standards",
    "American Academy of Pediatrics",
    "Andrade, Birgin and Morabito",
    "CMS State Operations Manual",
    r"ISO \d+",
    "NIST Handbook 44",
    "Purdue Extension",
    "State quilt guild",
    "Univ. of Kentucky",
    r"\d+ CFR \d+",
)
MARK: Final = re.compile("|".join((*SAID.values(), *PUBLISHED)), re.IGNORECASE)
_SMALL: Final = (0, 1, 2)
FUNCTIONS: Final = (ast.FunctionDef, ast.AsyncFunctionDef)


@dataclass(frozen=True, slots=True, kw_only=True)
class Unmarked:
    """A test that checks a number and does not say where it is from."""

    path: Path
    line: int
    name: str


def unmarked(path: Path) -> Iterator[Unmarked]:
    """Tests of a module that hold a number and no mark.

    A mark stands in the test, in the table that it takes its cases from, or in the comment above either. Where all of a
    module is made up, its docstring may say so for all: with the word *invented*, and with no other mark.
    """
    text = path.read_text(encoding="utf-8")
    tree = ast.parse(text)
    of_all = (ast.get_docstring(tree) or "").lower()
    if re.search(SAID["made up for the test"], of_all):
        return
    tables = {
        target.id: node
        for node in tree.body
        if isinstance(node, ast.Assign)
        for target in node.targets
        if isinstance(target, ast.Name)
    }
    for node in tree.body:
        if not isinstance(node, FUNCTIONS) or not node.name.startswith("test_"):
            continue
        names = {part.id for part in ast.walk(node) if isinstance(part, ast.Name)}
        parts = [node, *(tables[name] for name in sorted(names & set(tables)))]
        told = "\n".join(_with_comments(text, part) for part in parts)
        if any(map(_holds_a_number, parts)) and not MARK.search(told):
            yield Unmarked(path=path, line=node.lineno, name=node.name)


def _with_comments(text: str, node: ast.stmt) -> str:
    """The lines of a statement, its decorators and the comment above it."""
    lines = text.splitlines()
    decorators = getattr(node, "decorator_list", [])
    first = min([node.lineno, *(each.lineno for each in decorators)]) - 1
    while first and lines[first - 1].startswith("#"):
        first -= 1
    return "\n".join(lines[first : node.end_lineno])


def _holds_a_number(node: ast.AST) -> bool:
    """Whether there is a number above 2 or a part of one, as a number or in a text; docstrings apart."""
    told = {
        id(part.body[0].value)
        for part in ast.walk(node)
        if isinstance(part, FUNCTIONS) and isinstance(part.body[0], ast.Expr)
    }
    for part in ast.walk(node):
        if not isinstance(part, ast.Constant) or id(part) in told:
            continue
        value = part.value
        if isinstance(value, str) and re.search(r"\d", value):
            return True
        if type(value) in (int, float) and value not in _SMALL:
            return True
    return False
