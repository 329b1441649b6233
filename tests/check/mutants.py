"""Mutation testing of the checker: change its code in one place after another and see that its tests notice.

By hand, half an hour: ``python -m tests.check.mutants [module ...]``. For each mutant a process of its own loads
the changed module and runs the tests that find most mutants first: good plans and plans broken on purpose, the
geometry, random changes. A mutant that lives through all of them is printed as a survivor.
"""

from __future__ import annotations

import ast
import contextlib
import copy
import io
import multiprocessing
import os
import signal
import sys
from collections.abc import Iterator
from pathlib import Path

HERE = Path(__file__).parent
CHECK = HERE.parents[1] / "cutopt" / "check"
MODULES = (
    "shapes",
    "sources",
    "replay",
    "uses",
    "laid",
    "finished",
    "sewing",
    "sums",
    "__init__",
)
FILES = (
    "test_rules.py",
    "test_shapes.py",
    "test_sewing.py",
    "test_mutated.py",
    "test_sewn_at_random.py",
)
FLIPS: dict[type[ast.cmpop], tuple[type[ast.cmpop], ...]] = {
    ast.Lt: (ast.LtE, ast.GtE),
    ast.LtE: (ast.Lt, ast.Gt),
    ast.Gt: (ast.GtE, ast.LtE),
    ast.GtE: (ast.Gt, ast.Lt),
    ast.Eq: (ast.NotEq,),
    ast.NotEq: (ast.Eq,),
    ast.In: (ast.NotIn,),
    ast.NotIn: (ast.In,),
    ast.Is: (ast.IsNot,),
    ast.IsNot: (ast.Is,),
}
SWAPS: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Add,
    ast.BitOr: ast.BitAnd,
    ast.BitAnd: ast.BitOr,
    ast.Div: ast.Mult,
    ast.FloorDiv: ast.Div,
    ast.Mod: ast.FloorDiv,
}
NAMES = {"min": "max", "max": "min", "any": "all", "all": "any"}


def variants(node: ast.AST) -> Iterator[ast.AST]:
    """Every small change of one node."""
    if isinstance(node, ast.Compare):
        for i, op in enumerate(node.ops):
            for flip in FLIPS[type(op)]:
                other = copy.deepcopy(node)
                other.ops[i] = flip()
                yield other
    elif isinstance(node, ast.BoolOp):
        yield ast.BoolOp(
            op=ast.Or() if isinstance(node.op, ast.And) else ast.And(),
            values=node.values,
        )
        for i in range(len(node.values)):
            rest = node.values[:i] + node.values[i + 1 :]
            yield rest[0] if len(rest) == 1 else ast.BoolOp(op=node.op, values=rest)
    elif isinstance(node, ast.BinOp) and type(node.op) in SWAPS:
        yield ast.BinOp(left=node.left, op=SWAPS[type(node.op)](), right=node.right)
    elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not | ast.USub):
        yield node.operand
    elif isinstance(node, ast.Constant) and type(node.value) in (int, bool):
        changed = (
            [not node.value]
            if isinstance(node.value, bool)
            else [node.value + 1, node.value - 1]
        )
        yield from (ast.Constant(value=value) for value in changed)
    elif (
        isinstance(node, ast.Name)
        and node.id in NAMES
        and isinstance(node.ctx, ast.Load)
    ):
        yield ast.Name(id=NAMES[node.id], ctx=node.ctx)
    elif isinstance(node, ast.IfExp):
        yield ast.IfExp(test=node.test, body=node.orelse, orelse=node.body)
    elif isinstance(node, ast.Expr) and not isinstance(node.value, ast.Constant):
        yield ast.Expr(
            value=_nothing(node.value)
        )  # drops a rule: nothing is yielded or called
    elif isinstance(node, ast.Continue | ast.AugAssign) or (
        isinstance(node, ast.Return) and node.value is None
    ):
        yield ast.Pass()


def _nothing(value: ast.expr) -> ast.expr:
    """A statement without effect that keeps a generator a generator."""
    if isinstance(value, ast.Yield | ast.YieldFrom):
        return ast.YieldFrom(value=ast.Tuple(elts=[], ctx=ast.Load()))
    return ast.Constant(value=None)


def mutants(source: str) -> Iterator[tuple[int, str, str]]:
    """`(line, what was changed to what, changed source)`, one for each mutant."""
    tree = ast.parse(source)
    told = _annotations_and_words(tree)
    for parent in ast.walk(tree):
        for field, value in ast.iter_fields(parent):
            nodes = value if isinstance(value, list) else [value]
            for i, node in enumerate(nodes):
                if not isinstance(node, ast.AST) or id(node) in told:
                    continue
                for other in variants(node):
                    old = ast.unparse(node)
                    _put(parent, field, i, other)
                    text = ast.unparse(ast.fix_missing_locations(tree))
                    _put(parent, field, i, node)
                    yield (
                        getattr(node, "lineno", 0),
                        f"{old}  ->  {ast.unparse(other)}",
                        text,
                    )


def _put(parent: ast.AST, field: str, i: int, node: ast.AST) -> None:
    value = getattr(parent, field)
    if isinstance(value, list):
        value[i] = node
    else:
        setattr(parent, field, node)


def _annotations_and_words(tree: ast.AST) -> set[int]:
    """Nodes that do nothing when the checker runs: annotations, and what is said in f-strings."""
    quiet: set[int] = set()
    for node in ast.walk(tree):
        parts: list[ast.AST | None] = []
        if isinstance(node, ast.FunctionDef):
            parts = [node.returns, *(arg.annotation for arg in node.args.args)]
        elif isinstance(node, ast.AnnAssign):
            parts = [node.annotation, node.value if _is_type(node) else None]
        elif isinstance(node, ast.JoinedStr):
            parts = [node]
        for part in parts:
            quiet.update(
                id(inner) for inner in (ast.walk(part) if part is not None else ())
            )
        if isinstance(node, ast.keyword) and node.arg in (
            "frozen",
            "slots",
            "kw_only",
            "strict",
            "mark",
        ):
            quiet.add(id(node.value))
    return quiet


def _is_type(node: ast.AnnAssign) -> bool:
    return "TypeAlias" in ast.unparse(node.annotation)


def killed(module: str, text: str) -> bool:
    """Whether the tests notice this text in place of the module; in a process of its own, which ends here."""
    import resource

    resource.setrlimit(
        resource.RLIMIT_CPU, (120, 121)
    )  # a mutant that never ends is noticed too
    signal.signal(signal.SIGXCPU, _too_long)
    name = "cutopt.check" if module == "__init__" else f"cutopt.check.{module}"
    _load(name, text)
    with (
        contextlib.redirect_stdout(io.StringIO()),
        contextlib.redirect_stderr(io.StringIO()),
    ):
        return _noticed()


def _too_long(*_: object) -> None:
    raise TimeoutError


def _noticed() -> bool:
    """The quickest tests first, without pytest around them."""
    import pytest
    import shapely  # noqa: F401

    try:
        from tests.check import test_broken, test_sewing

        for name in test_sewing.GOOD_BACKS:
            test_sewing.test_a_good_back_has_no_fault(name)
        for name in test_broken.GOOD:
            test_broken.test_a_good_plan_has_no_fault(name)
        for _, *broken in test_broken.BROKEN:
            test_broken.test_a_broken_plan_has_its_faults_and_no_other(*broken)
        for _, *broken in test_sewing.BROKEN:
            test_sewing.test_a_broken_back_has_its_faults_and_no_other(*broken)
        rest = [str(HERE / name) for name in FILES]
        options = [
            "-x",
            "-q",
            # in this process: a worker would load the checker without the change
            "-n",
            "0",
            "-p",
            "no:cacheprovider",
            "-W",
            "ignore::pytest.PytestAssertRewriteWarning",
        ]
        return pytest.main([*options, *rest]) != 0
    except Exception:
        return True


def _load(name: str, text: str) -> None:
    """Make every later import of `name` give the mutant."""
    import importlib.abc
    import importlib.util

    class Loader(importlib.abc.SourceLoader):
        def get_data(self, _: str | bytes) -> bytes:
            return text.encode()

        def get_filename(self, fullname: str) -> str:
            return f"<mutant of {fullname}>"

        def is_package(self, fullname: str) -> bool:
            return fullname == "cutopt.check"

    class Finder(importlib.abc.MetaPathFinder):
        def find_spec(self, fullname: str, *_: object) -> object:
            if fullname != name:
                return None
            spec = importlib.util.spec_from_loader(
                fullname, Loader(), is_package=fullname == "cutopt.check"
            )
            if spec is not None and fullname == "cutopt.check":
                spec.submodule_search_locations = [str(CHECK)]
            return spec

    sys.meta_path.insert(0, Finder())


def judge(texts: list[tuple[str, str]]) -> list[bool]:
    """Whether each `(module, text)` is noticed: two at a time, in forks that have the slow libraries loaded."""
    import hypothesis

    hypothesis.settings.register_profile(
        "mutants",
        derandomize=True,
        database=None,
        deadline=None,
        phases=[hypothesis.Phase.explicit, hypothesis.Phase.generate],
    )
    os.environ["CUTOPT_RANDOM_TESTS"] = "mutants"
    with multiprocessing.get_context("fork").Pool(2, maxtasksperchild=1) as pool:
        return pool.starmap(killed, texts, chunksize=1)


def main(modules: tuple[str, ...]) -> int:
    """Judge all mutants of the modules and tell those that live."""
    count = alive = 0
    for module in modules:
        source = (CHECK / f"{module}.py").read_text(encoding="utf-8")
        found = [(0, "no change at all", source), *mutants(source)]
        judged = judge([(module, text) for _, _, text in found])
        if judged[0]:
            raise SystemExit("the tests fail without any change; mend that first")
        survivors = [
            mutant for mutant, dead in zip(found, judged, strict=True) if not dead
        ][1:]
        count = count + len(found) - 1
        alive = alive + len(survivors)
        for line, change, _ in survivors:
            print(f"{module}.py {line}: {change}", flush=True)  # noqa: T201 - a script
    print(f"{count} mutants, {count - alive} noticed, {alive} not")  # noqa: T201 - a script
    return 0


if __name__ == "__main__":
    raise SystemExit(main(tuple(sys.argv[1:]) or MODULES))
