"""A folder to work in, and small jobs in it."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import pytest

from tests.cli.cli_help import SMALL, Write
from tests.places import ROOT


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty current folder."""
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.fixture
def write(here: Path) -> Write:
    """Write the small job with some files changed; keywords spell job.toml as job_toml."""

    def written(name: str = "small", **changed: str) -> Path:
        folder = here / name
        folder.mkdir()
        for file, text in (
            SMALL | {".".join(k.rsplit("_", 1)): v for k, v in changed.items()}
        ).items():
            (folder / file).write_text(text, encoding="utf-8")
        return folder

    return written


@pytest.fixture
def environment() -> dict[str, str]:
    """For commands run as processes of their own: the package of this checkout, words at once."""
    paths = os.pathsep.join(filter(None, (str(ROOT), os.environ.get("PYTHONPATH"))))
    return os.environ | {"PYTHONPATH": paths, "PYTHONUNBUFFERED": "1"}


@pytest.fixture
def command() -> list[str]:
    return [sys.executable, "-m", "cutopt"]
