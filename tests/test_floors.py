"""Imports go only to a lower floor, or leftward within a floor; the checker knows nothing of the solver."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from functools import cache
from itertools import chain
from pathlib import Path

ROOT = Path(__file__).parents[1] / "cutopt"
FLOORS = [  # from the ground up, each from left to right; the rooms of one group may use each other
    [
        {"signs"},
        {"shown"},
        {"colours"},
        {"errors"},
        {"lengths"},
        {"geometry"},
        {"crossing"},
        {"measure"},
        {"svg"},
    ],
    [
        {"precuts"},
        {"fabric"},
        {"wanted"},
        {"settings"},
        {"piecing"},
        {"fabric_words"},
        {"job"},
        {"plan"},
        {"cloth"},
        {"strips"},
        {"mixture"},
        {"moves"},
        {"back_letters"},
        {"sewn_back"},
    ],
    [{"quilt"}, {"check"}, {"result"}, {"reprs"}, {"tables"}],
    [{"solve"}],
    [{"answers"}],
    [{"draw"}, {"pages"}, {"ledger"}, {"lessons"}, {"bench"}],
    [{"app"}, {"cli"}, {"__main__"}],
]
INSIDE_SOLVE = [  # the same for what lies inside it: imports go to an earlier line only, or stay in the room
    {"kernels"},
    {"cpsat"},
    {"control"},
    {"plates"},
    {"model"},
    {"bounds"},
    {"cuts"},
    {"search"},
    {"context"},
    {"explain"},
    {"fabrics_named_first"},
    {"finish"},
    {"run"},
    {"empty_job"},
    {"piecing"},
    {"solver"},
]
ROOMS = {
    room: (floor, place)
    for floor, row in enumerate(FLOORS)
    for place, group in enumerate(row)
    for room in group
}
KERNELS = (
    "cutopt",
    "solve",
    "kernels",
)  # loaded twice, as two packages, so that compiled ones meet compiled ones


@cache
def nodes_of(path: Path) -> tuple[ast.Import | ast.ImportFrom, ...]:
    """The import statements of a file, wherever in it they stand."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    kinds = (ast.Import, ast.ImportFrom)
    return tuple(node for node in ast.walk(tree) if isinstance(node, kinds))


@cache
def imports(path: Path) -> set[tuple[str, ...]]:
    """The cutopt modules that a file imports, wherever in it the import stands."""
    found: set[tuple[str, ...]] = set()
    for node in nodes_of(path):
        if isinstance(node, ast.Import):
            found |= {tuple(alias.name.split(".")) for alias in node.names}
        else:
            inside = path.parent == ROOT / "solve" / "kernels"
            name = (
                *(KERNELS if inside and node.level else ()),
                *(node.module or "").split("."),
            )
            sibling = inside and name[:3] == KERNELS and name[3:] != ("loader",)
            assert node.level == sibling, (
                f"{path}: write imports out in full, but those of a kernel in a kernel from ."
            )
            found |= {(*name, alias.name) for alias in node.names}
    return {name[1:] for name in found if name[0] == "cutopt" and len(name) > 1}


FILES = [path for path in sorted(ROOT.rglob("*.py")) if path != ROOT / "__init__.py"]


def test_imports_go_down_or_left() -> None:
    faults = []
    for path in FILES:
        room = path.relative_to(ROOT).parts[0].removesuffix(".py")
        rooms = {other for other, *_ in imports(path)}
        above = sorted(other for other in rooms if ROOMS[other] > ROOMS[room])
        faults += [f"{path} imports {other}, which is not below it" for other in above]
    assert not faults, "\n".join(faults)


def rooms_of_solve_in(path: Path) -> set[str]:
    """The rooms inside the solver that a file of it imports."""
    return {name[1] for name in imports(path) if name[0] == "solve" and len(name) > 2}


def test_imports_inside_the_solver_go_one_way() -> None:
    places = {room: n for n, group in enumerate(INSIDE_SOLVE) for room in group}
    faults = []
    for path in sorted((ROOT / "solve").rglob("*.py")):
        room = path.relative_to(ROOT / "solve").parts[0].removesuffix(".py")
        if room != "__init__":
            rooms = sorted(rooms_of_solve_in(path))
            above = [other for other in rooms if places[other] > places[room]]
            faults += [f"{path} imports {other}" for other in above]
    assert not faults, "\n".join(faults)


def modules() -> dict[tuple[str, ...], Path]:
    """All modules of the package by their names, a room by that of its folder."""
    found = {}
    for path in FILES:
        name = path.relative_to(ROOT).with_suffix("").parts
        found[name[:-1] if name[-1] == "__init__" else name] = path
    return found


def test_no_module_needs_itself() -> None:
    """No circle of imports between modules, lazy ones and those for typing counted."""
    known = modules()
    needed = {
        name: {other if other in known else other[:-1] for other in imports(path)}
        for name, path in known.items()
    }
    left = set(known)
    while free := {name for name in left if not (needed[name] & left) - {name}}:
        left -= free
    assert not left, f"these import each other, or something that does: {sorted(left)}"


def test_the_checker_has_its_own_geometry() -> None:
    """Of the solver, of the other replay and of `geometry` no more than names of types."""
    for path in (ROOT / "check").glob("*.py"):
        for name in imports(path):
            assert name[0] not in {"solve", "cloth"}, (path, name)
            assert name[0] != "geometry" or name[1:] in {("Number",), ("Point",)}, (
                path,
                name,
            )


TESTS = sorted((ROOT.parent / "tests").rglob("*.py"))
SHARED = {path.stem for path in TESTS} - {"__init__", "conftest"}


def foreign(node: ast.Import | ast.ImportFrom) -> Iterator[tuple[str, int]]:
    """The modules that an import statement names, and how many dots stand before."""
    if isinstance(node, ast.Import):
        yield from ((alias.name, 0) for alias in node.names)
    else:
        yield node.module or "", node.level
        yield from ((f"{node.module}.{alias.name}", 0) for alias in node.names)


def wrongly_shared(path: Path) -> Iterator[str]:
    """What is wrong with the imports of one file of the tests."""
    for name, level in chain.from_iterable(map(foreign, nodes_of(path))):
        room = name.split(".")[0]
        last = name.split(".")[-1]
        by_mutants = path.name == "mutants.py" and last in (
            "test_broken",
            "test_sewing",
        )
        if level:
            yield f"{path}: write the import of {name} out in full"
        if room != "tests" and room in SHARED:
            yield f"{path}: tests...{name}"
        if room == "tests" and last.startswith("test_") and not by_mutants:
            yield f"{path} imports the test {name}"


def test_tests_share_helpers_by_full_name_and_no_tests() -> None:
    """What two tests need stands in a module that is no test, and is imported from `tests.`."""
    faults = [fault for path in TESTS for fault in wrongly_shared(path)]
    assert not faults, "\n".join(faults)
