"""The child process that compiles must do so for the package that asked, wherever it is started."""

from __future__ import annotations

import os
import shutil
import subprocess
import tempfile
import time
from pathlib import Path
from types import FunctionType
from typing import Any

import pytest
from numba.core.dispatcher import Dispatcher

import cutopt
from cutopt.check import check
from cutopt.fabric import ByLength, Fabric
from cutopt.job import Job
from cutopt.lengths import INCH, YARD
from cutopt.solve.control.stop import Seconds, Work
from cutopt.solve.kernels.loader import cache_folder, load
from cutopt.solve.search import prepare
from cutopt.solve.search.engine import Engine
from cutopt.solve.search.prepare import own_python
from cutopt.solve.solver import solve
from cutopt.wanted import Cut


def test_the_child_uses_this_package_and_not_one_in_the_folder(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "cutopt").mkdir()
    (tmp_path / "cutopt" / "__init__.py").write_text(
        'raise ImportError("another cutopt")\n'
    )
    monkeypatch.chdir(tmp_path)
    code = "import cutopt; from cutopt.solve.kernels.loader import cache_folder as f; print(cutopt.__file__); print(f())"
    command, env = own_python(code)
    said = subprocess.run(
        command, env=env, capture_output=True, text=True, check=True
    ).stdout.splitlines()
    assert said == [cutopt.__file__, str(cache_folder())]


@pytest.fixture
def homeless(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """No place for compiled code but temporary ones, in the folder that it gives."""
    in_the_way = tmp_path / "file"
    in_the_way.touch()
    (tmp_path / "temporary").mkdir()
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path / "temporary"))
    monkeypatch.setenv("NUMBA_CACHE_DIR", str(in_the_way))
    return tmp_path / "temporary"


def fresh_folder() -> Path:
    """What a new process would find."""
    return cache_folder.__wrapped__()  # type: ignore[attr-defined,no-any-return]


def test_where_nothing_can_be_written_every_process_finds_the_same_temporary_folder(
    homeless: Path,
) -> None:
    folder = fresh_folder()
    assert folder.is_dir()
    assert homeless in folder.parents
    assert fresh_folder() == folder


def test_without_a_home_there_is_a_folder(
    homeless: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def nobodys() -> Path:
        raise RuntimeError("Could not determine home directory.")

    monkeypatch.delenv("NUMBA_CACHE_DIR")
    monkeypatch.delenv("XDG_CACHE_HOME", raising=False)
    monkeypatch.setattr(Path, "home", nobodys)
    assert homeless in fresh_folder().parents


@pytest.mark.skipif(
    not hasattr(os, "getuid"), reason="this system has no numbers of users"
)
def test_a_folder_that_others_can_write_is_not_trusted(homeless: Path) -> None:
    """Compiled code is run: nobody else may lay it there."""
    theirs = homeless / f"cutopt-{os.getuid()}"
    theirs.mkdir()
    theirs.chmod(0o777)
    folder = fresh_folder()
    assert theirs not in folder.parents
    assert fresh_folder() != folder


class Child:
    """A compiling child that is done when it is asked for the second time, or never."""

    def __init__(self, *, ends: bool) -> None:
        self.asked = 0
        self.ends = ends

    def poll(self) -> int | None:
        self.asked += 1
        return 0 if self.ends and self.asked > 1 else None


def pear_job() -> Job:
    """Many small rectangles and a bolt: the first plan in plain Python can be bettered for a long time."""
    sizes = ((5, 7), (9, 11), (13, 8), (6, 15))
    cuts = tuple(
        Cut(name=f"c{w}", width=w * INCH // 2, length=h * INCH // 2, count=30)
        for w, h in sizes
    )
    bolt = ByLength(fabric="pear", usable_width=41 * INCH, sold_by=YARD // 8)
    return Job(fabrics=(Fabric(name="pear"),), shop=(bolt,), cuts=cuts)


@pytest.mark.parametrize("ends", [True, False])
def test_a_search_takes_the_compiled_kernel_as_soon_as_it_is_there(
    ends: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    shares: list[float] = []
    compiled = Engine.use_compiled

    def noted(self: Engine) -> bool:
        shares.append(self.meter.share)
        return compiled(self)

    prepare.wait()  # the real ones: the child below only says when
    monkeypatch.setattr(prepare, "is_ready", lambda: False)
    monkeypatch.setattr(prepare, "start", lambda: Child(ends=ends))
    monkeypatch.setattr(Engine, "use_compiled", noted)
    result = solve(pear_job(), Seconds(4 if ends else 1))
    slow = [text for text in result.notices if "first search on this machine" in text]
    assert len(slow) == (not ends)
    assert len(shares) == ends
    assert all(
        share < 0.5 for share in shares
    )  # not only when the time for buying less is over
    assert check(result.job, result.plan) == []


def test_a_kernel_is_compiled_once_and_counts_no_references() -> None:
    """Else getting ready takes twice as long and a round four times; both hang on what numba lets us ask for."""
    assert solve(pear_job(), Work(200)).complete
    kernels = {
        value for value in met("search", compiled=True) if hasattr(value, "signatures")
    }
    assert {"run", "ruin", "cloth"} <= {
        kernel.__name__ for kernel in kernels
    }  # from file to file
    assert max(len(kernel.signatures) for kernel in kernels) == 1
    assert all(kernel.targetoptions["_nrt"] is False for kernel in kernels)


def met(name: str, *, compiled: bool) -> set[Any]:
    """The functions of a kernel module, and of all kernel modules that these can reach by name."""
    found = set()
    todo = [
        value
        for value in vars(load(name, compiled=compiled)).values()
        if is_kernel(value)
    ]
    while todo:
        if (function := todo.pop()) not in found:
            found.add(function)
            plain = getattr(function, "py_func", function)
            todo += [value for value in plain.__globals__.values() if is_kernel(value)]
    return found


def is_kernel(value: object) -> bool:
    """Whether this is a function of the search or of a bound, and not of what loads them."""
    plain = getattr(value, "py_func", value)
    return (
        isinstance(plain, FunctionType)
        and plain.__module__ != load.__module__
        and "kernels" in plain.__module__
    )


@pytest.mark.parametrize(
    "name",
    ["exact", "lanes", "loss", "plates", "search", "tight", "tilings", "windows"],
)
def test_kernels_meet_their_own_kind(name: str) -> None:
    """A compiled one that reached a plain one would not compile; a plain one that reached a compiled one would wait."""
    plain = met(name, compiled=False)
    compiled = met(name, compiled=True)
    assert not any(isinstance(kernel, Dispatcher) for kernel in plain)
    assert all(isinstance(kernel, Dispatcher) for kernel in compiled)
    assert sorted(kernel.__name__ for kernel in plain) == sorted(
        kernel.__name__ for kernel in compiled
    )


def folder_of(home: Path, name: str, days: float) -> Path:
    """A folder of compiled code that was last used so many days ago."""
    folder = home / name
    (folder / "kernels_1").mkdir(parents=True)
    (folder / "kernels_1" / "search.nbc").write_bytes(b"code")
    (folder / ".write").touch()
    then = time.time() - days * 24 * 3600
    for path in (folder / ".write", folder):
        os.utime(path, (then, then))
    return folder


def test_compiled_code_that_nobody_uses_is_removed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    own = folder_of(tmp_path, "0" * 16, 90)
    recent = folder_of(tmp_path, "1" * 16, 29)
    old = folder_of(tmp_path, "2" * 16, 31)
    left = folder_of(tmp_path, ".gone-3", 31)
    others = [
        folder_of(tmp_path, name, 90)
        for name in ("my photographs", "2" * 15, "kernels_1")
    ]
    bare = tmp_path / (
        "4" * 16
    )  # of 16 letters too, but without the sign that it is ours
    bare.mkdir()
    monkeypatch.setattr(prepare, "cache_folder", lambda: own)
    prepare.clear_old()
    assert not old.exists()
    assert not left.exists()
    assert sorted(tmp_path.iterdir()) == sorted([own, recent, bare, *others])
    assert (own / "kernels_1" / "search.nbc").read_bytes() == b"code"


def test_clearing_never_fails(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """As where another process was quicker, or the folder belongs to somebody else."""
    own = folder_of(tmp_path, "0" * 16, 0)
    old = folder_of(tmp_path, "2" * 16, 31)
    monkeypatch.setattr(prepare, "cache_folder", lambda: own)

    def quicker(self: Path, target: Path) -> Path:
        shutil.rmtree(self)
        raise FileNotFoundError(self, target)

    monkeypatch.setattr(Path, "rename", quicker)
    prepare.clear_old()
    assert not old.exists()
    other = folder_of(tmp_path, "3" * 16, 31)

    def forbidden(self: Path, target: Path) -> Path:
        raise PermissionError(self, target)

    monkeypatch.setattr(Path, "rename", forbidden)
    prepare.clear_old()
    assert other.exists()


def test_two_processes_clear_at_once(tmp_path: Path) -> None:
    for n in range(200):
        folder_of(tmp_path, f"{n:016x}", 31)
    command, env = own_python(
        "from cutopt.solve.search.prepare import clear_old; clear_old()"
    )
    env["NUMBA_CACHE_DIR"] = str(tmp_path)
    both = [
        subprocess.Popen(command, env=env, stderr=subprocess.PIPE) for _ in range(2)
    ]
    assert [process.communicate()[1] for process in both] == [b"", b""]
    assert [process.returncode for process in both] == [0, 0]
    assert [path.name for path in tmp_path.iterdir()] == [cache_folder().name]
