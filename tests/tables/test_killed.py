"""Whatever moment a process is killed in, a reader finds the old files or the new ones, and no leftovers."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from cutopt.errors import Problem
from cutopt.tables.files.atomic import settle, staged, write_whole
from tests.places import ROOT

TABLES = ["cuts.csv", "fabrics.csv", "job.toml", "pieces.csv", "shop.csv", "strips.csv"]
OWN = ["notes", "notes/cuts.csv", "photo.jpg"]
needs_fork = pytest.mark.skipif(
    not hasattr(os, "fork"), reason="this system has no fork"
)


def killed(what: str, home: Path) -> list[tuple[object, list[str]]]:
    """What was found after each kill (see killed.py, which runs apart: this process may have threads)."""
    command = [
        sys.executable,
        str(Path(__file__).with_name("killed.py")),
        what,
        str(home),
    ]
    run = subprocess.run(
        command,
        capture_output=True,
        text=True,
        check=True,
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
    )
    return [(found, files) for found, files in json.loads(run.stdout)]


# a job and its cut
OLD = "old old square"
NEW = "new new square"


@needs_fork
def test_a_job_that_is_saved_over_another(tmp_path: Path) -> None:
    told = killed("saving", tmp_path / "job")
    names = [name for name, _ in told]
    assert set(names) == {OLD, NEW}
    first = names.index(NEW)
    assert names == [OLD] * first + [NEW] * (len(names) - first)
    assert first > 10
    assert len(names) - first > len(TABLES)  # killed between any two of its moves
    assert all(files == sorted([*TABLES, *OWN]) for _, files in told)


@needs_fork
def test_a_starter_that_was_killed_can_be_written_again(tmp_path: Path) -> None:
    told = killed("new", tmp_path / "home")
    assert len(told) > 10
    assert {name for name, _ in told} == {
        "my quilt square slat window trunk beam pocket coaster"
    }
    assert all(not any(".cutopt" in file for file in files) for _, files in told)


@needs_fork
def test_a_workbook_that_is_saved_over_another(tmp_path: Path) -> None:
    told = killed("book", tmp_path / "job")
    assert {name for name, _ in told} == {OLD, NEW}
    assert all(files == ["job.xlsx"] for _, files in told)


@needs_fork
def test_any_set_of_files_killed_twice(tmp_path: Path) -> None:
    told = killed("pages", tmp_path / "out")
    assert {" ".join(found) for found, _ in told} == {"old old old", "new new new"}  # type: ignore[arg-type]
    assert all(
        files == ["a.txt", "b.txt", "simplest", "simplest/a.txt"] for _, files in told
    )


def test_what_another_process_writes_is_not_cleared_away(tmp_path: Path) -> None:
    with staged(tmp_path) as one:
        with staged(tmp_path) as other:
            (other / "b").write_text("b")
        settle(tmp_path)
        assert one.is_dir()
        (one / "a").write_text("a")
    assert sorted(path.name for path in tmp_path.iterdir()) == ["a", "b"]


def test_a_block_that_fails_leaves_no_trace(tmp_path: Path) -> None:
    with pytest.raises(FileNotFoundError), staged(tmp_path / "out") as beside:
        (beside / "no such folder" / "a").write_text("a")
    assert list(tmp_path.iterdir()) == []


def write_three(folder: Path) -> None:
    """Three files in one step."""
    with staged(folder) as beside:
        for name in "abc":
            (beside / name).write_text("new")


def test_a_place_that_cannot_be_taken(tmp_path: Path) -> None:
    (tmp_path / "b").mkdir()
    (tmp_path / "b" / "mine").write_text("mine")
    with pytest.raises(Problem, match=r"b: a new version waits to take its place"):
        write_three(tmp_path)
    with pytest.raises(Problem, match="waits"):
        settle(tmp_path)
    (tmp_path / "b").rename(tmp_path / "d")
    settle(tmp_path)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["a", "b", "c", "d"]
    assert (tmp_path / "c").read_text() == "new"


def test_a_single_file_leaves_nothing_beside_it(tmp_path: Path) -> None:
    write_whole(tmp_path / "a" / "x.csv", "x")
    assert [path.name for path in (tmp_path / "a").iterdir()] == ["x.csv"]
