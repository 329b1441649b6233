"""A small sound job as text, to be spoilt in one place by each test."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

SOUND = {
    "job.toml": 'unit = "in"\n',
    "fabrics.csv": "fabric,value,tags,one_way\npear,medium,greens,\noat,light,,\nblossom,,prints,along\n",
    "pieces.csv": "piece,fabric,count,width,length,outline,flaws\nbib,pear,2,11,7,,\n",
    "shop.csv": "fabric,usable_width,sold_by,price\noat,42,1/8 yd,9.60\n",
    "cuts.csv": "cut,count,width,length,fabrics\nsquare,10,2 1/2,2 1/2,pear|any light\n",
}

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
                (folder / name).write_bytes(text if isinstance(text, bytes) else text.encode())
        return folder

    return written
