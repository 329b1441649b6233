"""Every notebook works from top to bottom, says what is so, takes a maker's changes, and is kept without outputs."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import nbformat
import pytest
from nbclient import NotebookClient

from tests.notebooks.checks import CHECKS
from tests.places import ROOT
from tests.thinned import mostly_slow

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
    folders = [
        set(re.findall(r"\.\./out/([\w-]+)", path.read_text(encoding="utf-8")))
        for path in NOTEBOOKS
    ]
    assert all(len(own) == 1 for own in folders)
    assert len(set.union(*folders)) == len(NOTEBOOKS)
    assert not set.union(*folders) & {job.name for job in (ROOT / "data").iterdir()}


# rounds of the quick tests; a back with wishes takes more of them to be found at all
SHORT = {"03_piece_the_back.ipynb": 20_000}
# searches that are given seconds or rounds
LONG = re.compile(r"co\.(Seconds|Work)\([\d_]+\)")


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.name)
@pytest.mark.parametrize("whole", mostly_slow([False, True], {False}))
def test_runs_from_top_to_bottom(
    path: Path, whole: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """In a copy of the folder, so that nothing is written beside the sources; else the searches are shorter."""
    for name in HOMES:
        monkeypatch.setenv(name, str(tmp_path / name.lower()))
    shutil.copytree(ROOT / "data", tmp_path / "data")
    (tmp_path / "notebooks").mkdir()
    book = nbformat.read(path, as_version=4)
    book.cells = [cell for own in book.cells for cell in with_check(path.name, own)]
    rounds = f"co.Work({SHORT.get(path.name, 300)})"
    for cell in book.cells:
        cell.source = cell.source if whole else LONG.sub(rounds, cell.source)
    client(book, tmp_path).execute()
    shown = [
        output
        for cell in book.cells
        if cell.cell_type == "code"
        for output in cell.outputs
    ]
    assert any("text/html" in output.get("data", {}) for output in shown)
    assert any("image/png" in output.get("data", {}) for output in shown)
    assert any(
        "page 1 of plan.pdf" in output.get("data", {}).get("text/html", "")
        for output in shown
    )
    assert not any(
        output.output_type == "stream" and output.name == "stderr" for output in shown
    )
    assert any(tmp_path.glob("out/*/plan.pdf"))


def client(book: nbformat.NotebookNode, home: Path, **told: bool) -> NotebookClient:
    place = {"metadata": {"path": str(home / "notebooks")}}
    return NotebookClient(
        book, timeout=None, kernel_name="python3", resources=place, **told
    )


def with_check(
    notebook: str, cell: nbformat.NotebookNode
) -> list[nbformat.NotebookNode]:
    """A cell and what must be so after it."""
    code = [
        check
        for words, check in CHECKS[notebook].items()
        if cell.cell_type == "code" and words in cell.source
    ]
    return [cell, *map(nbformat.v4.new_code_cell, code)]


def test_every_check_has_its_cell() -> None:
    for path in NOTEBOOKS:
        code = [
            cell.source
            for cell in nbformat.read(path, as_version=4).cells
            if cell.cell_type == "code"
        ]
        for words in CHECKS[path.name]:
            assert sum(words in source for source in code) == 1, words
        assert not any("assert" in source for source in code)


PILE = "\n    oat 16 x 9 1/2\n    pear 12 x 10 less 3 x 4\n"


@pytest.mark.parametrize(
    ("lines", "said"),
    [
        ("pear 5 x 5", ""),
        ("pear 5 x 5\noat 3 x 9\n2 strips bark 2 1/2 x 12", ""),
        ("navy 12 x 9", ""),
        ("", ""),
        ("pear 5 by", "pile"),
    ],
)
def test_the_pile_of_the_first_lesson_may_be_changed(
    lines: str, said: str, tmp_path: Path
) -> None:
    """One line, three, a fabric that is new: all are taken; a mistake is one sentence and no traceback."""
    book = nbformat.read(ROOT / "notebooks" / "01_use_up_scraps.ipynb", as_version=4)
    wanted = ("job = co.read_job(", "found = co.pile(", "bigger = job.with_pieces")
    code = [cell for cell in book.cells if cell.cell_type == "code"]
    book.cells = [
        next(cell for cell in code if words in cell.source) for words in wanted
    ]
    assert PILE in book.cells[1].source
    book.cells[1].source = book.cells[1].source.replace(PILE, f"\n{lines}\n")
    shutil.copytree(ROOT / "data", tmp_path / "data")
    (tmp_path / "notebooks").mkdir()
    client(book, tmp_path, allow_errors=bool(said)).execute()
    errors = [
        output for output in book.cells[1].outputs if output.output_type == "error"
    ]
    assert bool(errors) == bool(said)
    for error in errors:
        (sentence,) = error.traceback
        assert sentence.startswith(said)
        assert "\n" not in sentence
