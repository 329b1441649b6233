"""The README says what is so: its two commands, its first job, its links."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from cutopt import Work, check, solve
from cutopt.tables import new_job, read_job
from tests.places import ROOT
from tests.written import README


def test_the_two_commands() -> None:
    """Word for word: a release is tried with them."""
    start = "python3 -m venv .venv && .venv/bin/pip install "
    assert f"{start}. && .venv/bin/cutopt plan data/orchard\n" in README.blocks("sh")
    assert f'{start}-e ".[test]" && .venv/bin/pytest\n' in README.blocks("sh")


def test_the_job_stands_on_top_in_one_paragraph_with_a_picture_below() -> None:
    _, first, second, *_ = README.text.split("\n\n")
    assert len(first.split()) < 150
    assert "leftovers" in first
    assert second.startswith("![")


def test_it_is_short_and_cautions_stand_once() -> None:
    assert len(README.text.encode()) < 7000
    assert len(re.findall(r"\bblade|rotary cutter", README.text)) == 1


@pytest.fixture
def first_job(tmp_path: Path) -> Path:
    """The examples in the place of those of a new job, as a reader is told to put them."""
    folder = tmp_path / "my-quilt"
    new_job(folder)
    (folder / "pile.txt").write_text(README.blocks("text")[0], encoding="utf-8")
    for name, text in zip(("cuts", "shop"), README.blocks("csv"), strict=True):
        told = README.text[: README.text.index(text)]
        assert told.rindex(f"`{name}.csv`") > told.rindex("```\n\n")
        (folder / f"{name}.csv").write_text(text, encoding="utf-8")
    return folder


@pytest.mark.parametrize("dropped", [(), ("strips.csv", "fabrics.csv")])
def test_the_first_job_is_planned_whole(first_job: Path, dropped: tuple[str]) -> None:
    """With the tables that a new job has beside them, and without."""
    for name in dropped:
        (first_job / name).unlink()
    job = read_job(first_job)
    assert {cut.count for cut in job.cuts} == {24, 8, 6}
    result = solve(job, stop=Work(1000))
    assert check(job, result.plan) == []
    assert result.complete == bool(dropped)


def test_links_and_pictures_are_there() -> None:
    assert len(README.links()) >= 10
    for place in README.links():
        assert place.exists(), place


def test_every_file_of_the_pages_is_named() -> None:
    names = {name for row in README.rows(2) for name in re.findall(r"`(.*?)`", row[0])}
    assert {
        "plan.pdf",
        "cut-list.csv",
        "shopping.csv",
        "overview.png",
        "plan.json",
    } <= names
    assert (ROOT / "data" / "pictures" / "orchard-plan.png").is_file()
