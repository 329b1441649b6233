"""A job of a few files, for tests of what lies in its pile."""

from __future__ import annotations

from pathlib import Path


def written(folder: Path, **files: str) -> Path:
    """A job of some files; what is not given is as small as can be."""
    usual = {
        "job_toml": 'unit = "in"\n',
        "pile_txt": "",
        "cuts_csv": "cut,count,width,length\nsquare,1,5,5\n",
    }
    for name, text in (usual | files).items():
        path = folder / name.replace("_", ".")
        path.write_text(text, encoding="utf-8")
    return folder
