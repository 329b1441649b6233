"""A small sound job in a folder, to be spoilt in one place by each test."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from tests.tables.sound_job import SOUND

Write = Callable[..., Path]


@pytest.fixture
def write(tmp_path: Path) -> Write:
    """Write the sound job with some files changed (None takes one away); keywords spell job.toml as job_toml."""

    def written(**changed: str | bytes | None) -> Path:
        files: dict[str, str | bytes | None] = {**SOUND}
        files |= {".".join(name.rsplit("_", 1)): text for name, text in changed.items()}
        folder = tmp_path / "job"
        folder.mkdir(exist_ok=True)
        for name, text in files.items():
            if text is not None:
                (folder / name).write_bytes(
                    text if isinstance(text, bytes) else text.encode()
                )
        return folder

    return written
