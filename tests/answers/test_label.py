"""The label and the wash card. That a label carries name and date: Purdue Extension, 4-H Quilting Project, 2020."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pymupdf
import pytest

from cutopt.job import Job
from cutopt.pages.label import write_label
from cutopt.tables import read_job
from tests.places import ROOT


def text_of(job: Job, folder: Path) -> str:
    with pymupdf.open(write_label(job, folder / "label.pdf")) as pdf:
        assert len(pdf) == 1
        return " ".join(pdf[0].get_text().split())


def test_name_date_and_wash(tmp_path: Path) -> None:
    """ISO 3758 (from memory): tubs of 30, 40, 50, 60, 70 and 95 degrees."""
    text = text_of(read_job(ROOT / "data" / "orchard"), tmp_path)
    assert "Made by the mending circle" in text
    assert "Date ____" in text
    for word in (
        *(f"{heat} C" for heat in (30, 40, 50, 60, 70, 95)),
        "gentle",
        "42 1/2 x 48 1/2 in",
        "Never for sleep under 12 months",
    ):
        assert word in text


@pytest.mark.parametrize(
    ("use", "word"),
    [
        ("baby", "Not for a sleeping baby"),
        ("ward", "their own rules come first"),
        ("chair with wheels", "spokes"),
    ],
)
def test_each_use_has_its_caution(tmp_path: Path, use: str, word: str) -> None:
    job = read_job(ROOT / "data" / "orchard")
    text = text_of(
        replace(job, quilt=job.quilt.replace('use = "lap"', f'use = "{use}"')), tmp_path
    )
    assert word in text


def test_a_date_in_the_words_is_enough(tmp_path: Path) -> None:
    job = read_job(ROOT / "data" / "orchard")
    said = job.quilt.replace(
        "for the reading corner", "for the reading corner, May 2026"
    )
    assert "Date ____" not in text_of(replace(job, quilt=said), tmp_path)


def test_a_job_without_a_quilt_has_lines_to_fill_in(tmp_path: Path) -> None:
    job = replace(read_job(ROOT / "data" / "orchard"), quilt="")
    assert "Made by ____" in text_of(job, tmp_path)
