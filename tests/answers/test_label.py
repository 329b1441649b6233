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
    """ISO 3758:2023, care labelling by symbols: tubs of 30, 40, 50, 60, 70 and 95 degrees."""
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
        ("baby", "no buttons, beads or other small parts"),
        ("cot", "no buttons, beads or other small parts"),
        ("ward", "their own rules come first"),
        ("ward", "low heat and a chlorine rinse (CMS State Operations Manual)"),
        ("ward", "kept from smoke and pets"),
        ("ward", "pins and needles counted"),
        ("ward", "clean, sealed bag (common practice, no source)"),
        ("chair with wheels", "spokes"),
    ],
)
def test_each_use_has_its_caution(tmp_path: Path, use: str, word: str) -> None:
    """Published: American Academy of Pediatrics 2022; 16 CFR 1501; CMS State Operations Manual. Smoke, pets, pins, bag
    and spokes: common practice, no source."""
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


def test_small_parts_are_no_matter_on_a_lap(tmp_path: Path) -> None:
    assert "small parts" not in text_of(read_job(ROOT / "data" / "orchard"), tmp_path)


def test_colours_are_tried_before_cloth_is_cut_that_may_bleed() -> None:
    """Common practice, no source: only where something is bought, or is not washed yet."""
    job = replace(read_job(ROOT / "data" / "orchard"), shop=())
    washed = tuple(replace(fabric, washed=True) for fabric in job.fabrics)
    for cloth, told in ((job.fabrics, True), (washed, False)):
        heads = [head for head, _ in cautions(replace(job, fabrics=cloth))]
        assert ("Colours" in heads) == told


def test_the_blade_is_told_with_the_guidance_for_young_people() -> None:
    """Published: Univ. of Kentucky Cooperative Extension, 4-H Needlework: Quilting, 4JF-12PB, 2011 (supervision); a dull
    blade: common practice, no source."""
    told = dict(cautions(read_job(ROOT / "data" / "orchard")))
    assert "4JF-12PB" in told["Blade"]
    assert "dull blade" in told["Blade"]
    assert "pins and needles" in told["Iron and pins"]


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
