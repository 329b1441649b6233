"""The child process that compiles must do so for the package that asked, wherever it is started."""

from __future__ import annotations

import subprocess
from pathlib import Path

import pytest

import cutopt
from cutopt.check import check
from cutopt.fabric import ByLength, Fabric
from cutopt.job import Job
from cutopt.lengths import INCH, YARD
from cutopt.solve import prepare
from cutopt.solve.engine import Engine
from cutopt.solve.kernels.loader import cache_folder
from cutopt.solve.prepare import own_python
from cutopt.solve.solver import solve
from cutopt.solve.stop import Seconds
from cutopt.wanted import Cut


def test_the_child_uses_this_package_and_not_one_in_the_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "cutopt").mkdir()
    (tmp_path / "cutopt" / "__init__.py").write_text('raise ImportError("another cutopt")\n')
    monkeypatch.chdir(tmp_path)
    code = (
        "import cutopt; from cutopt.solve.kernels.loader import cache_folder as f; print(cutopt.__file__); print(f())"
    )
    command, env = own_python(code)
    said = subprocess.run(command, env=env, capture_output=True, text=True, check=True).stdout.splitlines()
    assert said == [cutopt.__file__, str(cache_folder())]


class Child:
    """A compiling child that is done when it is asked for the second time, or never."""

    def __init__(self, *, ends: bool) -> None:
        self.asked, self.ends = 0, ends

    def poll(self) -> int | None:
        self.asked += 1
        return 0 if self.ends and self.asked > 1 else None


def pear_job() -> Job:
    """Many small rectangles and a bolt: the first plan in plain Python can be bettered for a long time."""
    sizes = ((5, 7), (9, 11), (13, 8), (6, 15))
    cuts = tuple(Cut(name=f"c{w}", width=w * INCH // 2, length=h * INCH // 2, count=30) for w, h in sizes)
    bolt = ByLength(fabric="pear", usable_width=41 * INCH, sold_by=YARD // 8)
    return Job(fabrics=(Fabric(name="pear"),), shop=(bolt,), cuts=cuts)


@pytest.mark.parametrize("ends", [True, False])
def test_a_search_takes_the_compiled_kernel_as_soon_as_it_is_there(ends: bool, monkeypatch: pytest.MonkeyPatch) -> None:
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
    assert all(share < 0.5 for share in shares)  # not only when the time for buying less is over
    assert check(result.job, result.plan) == []
