"""A line says one thing, a function has what a stranger needs to call it, and nothing decides by its own English."""

from __future__ import annotations

import ast
from collections import Counter
from collections.abc import Iterator
from functools import cache
from pathlib import Path

ROOT = Path(__file__).parents[1] / "cutopt"
PATHS = sorted(ROOT.rglob("*.py"))
LOOPS = (ast.ListComp, ast.SetComp, ast.DictComp, ast.GeneratorExp)
FUNCTIONS = (ast.FunctionDef, ast.AsyncFunctionDef)


@cache
def tree_of(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"))


def parts_of(node: ast.AST, kinds: tuple[type[ast.AST], ...]) -> Iterator[ast.AST]:
    return (part for part in ast.walk(node) if isinstance(part, kinds))


def named(function: ast.FunctionDef) -> list[str]:
    """The parameters that a caller gives."""
    given = function.args
    names = [a.arg for a in [*given.posonlyargs, *given.args, *given.kwonlyargs]]
    return [name for name in names if name not in {"self", "cls"}]


def public(tree: ast.Module) -> Iterator[ast.FunctionDef]:
    """Functions of a module and methods of its classes that others call."""
    for node in tree.body:
        inner = node.body if isinstance(node, ast.ClassDef) else [node]
        hidden = isinstance(node, ast.ClassDef) and node.name.startswith("_")
        for function in inner:
            if hidden or not isinstance(function, FUNCTIONS):
                continue
            if not function.name.startswith("_"):
                yield function


def raises(function: ast.FunctionDef) -> bool:
    own = [part for part in ast.walk(function) if isinstance(part, ast.Raise)]
    return any(part.exc is not None for part in own)


def test_no_condition_inside_a_condition() -> None:
    faults = [
        f"{path}:{node.lineno} holds a choice within a choice"
        for path in PATHS
        for node in parts_of(tree_of(path), (ast.IfExp,))
        if sum(1 for _ in parts_of(node, (ast.IfExp,))) > 1
    ]
    assert not faults, "\n".join(faults)


def test_one_loop_in_a_line() -> None:
    faults = []
    for path in PATHS:
        lines = Counter(node.lineno for node in parts_of(tree_of(path), LOOPS))
        twice = sorted(line for line, count in lines.items() if count > 1)
        faults += [f"{path}:{line} holds two loops" for line in twice]
    assert not faults, "\n".join(faults)


def not_told(function: ast.FunctionDef) -> Iterator[str]:
    """What the docstring of a function lacks."""
    told = ast.get_docstring(function) or ""
    if not told:
        yield "no docstring"
    if len(named(function)) > 2 and "Parameters\n" not in told:
        yield "no Parameters"
    if raises(function) and "Raises\n" not in told:
        yield "no Raises"


def test_public_functions_say_what_they_take_and_raise() -> None:
    faults = [
        f"{path}:{function.lineno} {function.name}: {fault}"
        for path in PATHS
        for function in public(tree_of(path))
        for fault in not_told(function)
    ]
    assert not faults, "\n".join(faults)


def code_of(path: Path) -> list[str]:
    """The lines that are neither empty nor a comment."""
    lines = [line.strip() for line in path.read_text(encoding="utf-8").splitlines()]
    return [line for line in lines if line and not line.startswith("#")]


def test_functions_fit_a_screen_and_modules_a_sitting() -> None:
    faults = [
        f"{path}:{node.lineno} {node.name} is of more than 60 lines"
        for path in PATHS
        for node in parts_of(tree_of(path), FUNCTIONS)
        if node.end_lineno - node.lineno >= 60
    ]
    sizes = {path: len(code_of(path)) for path in PATHS}
    faults += [f"{path} has {size} lines" for path, size in sizes.items() if size > 350]
    assert not faults, "\n".join(faults)


def test_the_formatter_is_nowhere_switched_off() -> None:
    for path in ROOT.rglob("*.py"):
        assert "fmt:" + " skip" not in path.read_text(encoding="utf-8"), path
