"""The label and the wash card. That a label carries name and date: Purdue Extension, 4-H Quilting Project, 2020."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pymupdf
import pytest

from cutopt.job import Job
from cutopt.pages.first_page import cautions
from cutopt.pages.label import write_label
from cutopt.pages.quilt import remarks_of
from cutopt.tables import read_job
from cutopt.tables.recipe.quilt import quilt_of
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
        "Measured when bound: ____",
        "The top was 42 1/2 x 48 1/2 in before it was quilted",
    ):
        assert word in text
    assert "bound, before its first wash" not in text


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


@pytest.mark.parametrize(("use", "told"), [("", 1), ("baby", 1), ("lap", 0)])
def test_where_babies_sleep_is_told_where_it_may_be_a_babys(
    tmp_path: Path, use: str, told: int
) -> None:
    """Once on page 1 and once on the card that is given along: not for a lap, but where nobody says for whom."""
    job = read_job(ROOT / "data" / "orchard")
    line = f'use = "{use}"' if use else ""
    job = replace(job, quilt=job.quilt.replace('use = "lap"', line))
    heads = [head for head, _ in cautions(job)]
    assert heads.count("Babies") == told
    assert text_of(job, tmp_path).count("Never for sleep under 12 months") == told
    quilt = quilt_of(job)
    assert quilt is not None
    assert not any("12 months" in text for text in remarks_of(quilt, None))
