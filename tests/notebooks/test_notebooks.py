"""Every notebook works from top to bottom, its assertions hold, and it is kept without outputs."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import nbformat
import pytest
from nbclient import NotebookClient

ROOT = Path(__file__).parents[2]
NOTEBOOKS = sorted((ROOT / "notebooks").glob("*.ipynb"))
HOMES = ("JUPYTER_CONFIG_DIR", "JUPYTER_DATA_DIR", "JUPYTER_RUNTIME_DIR", "IPYTHONDIR")
COMMON = {"cells", "metadata", "nbformat", "nbformat_minor"}


def test_there_are_notebooks() -> None:
    assert NOTEBOOKS


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.name)
def test_kept_without_outputs(path: Path) -> None:
    book = nbformat.read(path, as_version=4)
    nbformat.validate(book)
    assert set(book) == COMMON
    for cell in book.cells:
        if cell.cell_type == "code":
            assert cell.outputs == []
            assert cell.execution_count is None


def test_no_notebook_prints_over_other_pages() -> None:
    """Each has a folder of its own, which is not that of `cutopt plan data/JOB` (out/JOB)."""
    folders = [set(re.findall(r"\.\./out/([\w-]+)", path.read_text(encoding="utf-8"))) for path in NOTEBOOKS]
    assert all(len(own) == 1 for own in folders)
    assert len(set.union(*folders)) == len(NOTEBOOKS)
    assert not set.union(*folders) & {job.name for job in (ROOT / "data").iterdir()}


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.name)
def test_runs_from_top_to_bottom(path: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """In a copy of the folder, so that nothing is written beside the sources."""
    for name in HOMES:
        monkeypatch.setenv(name, str(tmp_path / name.lower()))
    shutil.copytree(ROOT / "data", tmp_path / "data")
    (tmp_path / "notebooks").mkdir()
    book = nbformat.read(path, as_version=4)
    NotebookClient(
        book, timeout=None, kernel_name="python3", resources={"metadata": {"path": str(tmp_path / "notebooks")}}
    ).execute()
    shown = [output for cell in book.cells if cell.cell_type == "code" for output in cell.outputs]
    assert any("text/html" in output.get("data", {}) for output in shown)
    assert any("image/png" in output.get("data", {}) for output in shown)
    assert not any(output.output_type == "stream" and output.name == "stderr" for output in shown)
    assert any(tmp_path.glob("out/*/plan.pdf"))
