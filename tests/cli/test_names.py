"""The package's names: few, quick to import, and not hidden by the rooms of the same name."""

from __future__ import annotations

import subprocess
import sys

import pytest

import cutopt

HEAVY = (
    "numpy",
    "matplotlib",
    "ortools",
    "numba",
    "pandas",
    "reportlab",
    "tqdm",
    "ipywidgets",
)


def run(code: str) -> str:
    return subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True
    ).stdout


def test_at_most_twenty_five_names() -> None:
    assert len(cutopt.__all__) <= 25
    assert sorted(cutopt.__all__) == cutopt.__all__


@pytest.mark.parametrize("name", cutopt.__all__)
def test_every_name_is_there_and_documented(name: str) -> None:
    value = getattr(cutopt, name)
    assert callable(value)
    assert value.__doc__
    assert name in dir(cutopt)


def test_an_unknown_name() -> None:
    with pytest.raises(AttributeError, match="no attribute 'solver'"):
        _ = cutopt.solver


def test_importing_the_package_loads_nothing_heavy() -> None:
    loaded = run(
        f"import sys, cutopt; print([m for m in {HEAVY!r} if m in sys.modules])"
    )
    assert loaded.strip() == "[]"


def test_rooms_do_not_hide_the_functions() -> None:
    """`cutopt.solve` and `cutopt.check` are rooms too; importing them later must not take the names."""
    code = "import cutopt as co; import cutopt.solve.solver, cutopt.check.replay, cutopt.draw.pile"
    assert (
        run(code + "; print(type(co.solve).__name__, type(co.check).__name__)").split()
        == ["function"] * 2
    )


def test_the_version_is_that_of_the_installed_package() -> None:
    from importlib.metadata import PackageNotFoundError, version

    try:
        assert cutopt.__version__ == version("cutopt")
    except PackageNotFoundError:
        pytest.skip("run from a checkout that is not installed")


def test_the_module_runs_as_a_command() -> None:
    told = subprocess.run(
        [sys.executable, "-m", "cutopt", "--help"],
        capture_output=True,
        text=True,
        check=True,
    )
    assert "plan" in told.stdout
    codes = " ".join(told.stdout.split()).partition("Exit codes: ")[2]
    assert [part.split()[0] for part in codes.split("; ")] == [
        "0",
        "1",
        "2",
        "3",
        "130",
    ]
