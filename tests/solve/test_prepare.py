"""The child process that compiles must do so for the package that asked, wherever it is started."""

from __future__ import annotations

import subprocess
from pathlib import Path

import pytest

import cutopt
from cutopt.solve.kernels.loader import cache_folder
from cutopt.solve.prepare import own_python


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
