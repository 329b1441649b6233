"""A line says one thing, a function has what a stranger needs to call it, and nothing decides by its own English."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1] / "cutopt"
PATHS = sorted(ROOT.rglob("*.py"))
LOOPS = (ast.ListComp, ast.SetComp, ast.DictComp, ast.GeneratorExp)
FUNCTIONS = (ast.FunctionDef, ast.AsyncFunctionDef)


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


@pytest.mark.parametrize("path", PATHS, ids=str)
def test_no_condition_inside_a_condition(path: Path) -> None:
    for node in parts_of(tree_of(path), (ast.IfExp,)):
        inner = [part for part in parts_of(node, (ast.IfExp,)) if part is not node]
        assert not inner, f"{path}:{node.lineno} holds a choice within a choice"


@pytest.mark.parametrize("path", PATHS, ids=str)
def test_one_loop_in_a_line(path: Path) -> None:
    lines = [node.lineno for node in parts_of(tree_of(path), LOOPS)]
    twice = {line for line in lines if lines.count(line) > 1}
    assert not twice, f"{path}: two loops in lines {sorted(twice)}"


@pytest.mark.parametrize("path", PATHS, ids=str)
def test_public_functions_say_what_they_take_and_raise(path: Path) -> None:
    for function in public(tree_of(path)):
        told = ast.get_docstring(function) or ""
        where = f"{path}:{function.lineno} {function.name}"
        assert told, f"{where} has no docstring"
        if len(named(function)) > 2:
            assert "Parameters\n" in told, f"{where}: no Parameters"
        if raises(function):
            assert "Raises\n" in told, f"{where}: no Raises"


@pytest.mark.parametrize("path", PATHS, ids=str)
def test_functions_fit_a_screen_and_modules_a_sitting(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    for node in parts_of(ast.parse(text), FUNCTIONS):
        assert node.end_lineno - node.lineno < 60, f"{path}:{node.lineno} {node.name}"
    lines = [line.strip() for line in text.splitlines()]
    code = [line for line in lines if line and not line.startswith("#")]
    assert len(code) <= 350, f"{path} has {len(code)} lines"


def test_the_formatter_is_nowhere_switched_off() -> None:
    for path in ROOT.rglob("*.py"):
        assert "fmt:" + " skip" not in path.read_text(encoding="utf-8"), path
