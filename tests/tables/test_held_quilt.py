"""A job holds the quilt that it was worked out from: its text is read once, and again where the job was changed."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from cutopt.errors import JobError
from cutopt.fabric import ByLength, Fabric
from cutopt.job import Job
from cutopt.lengths import INCH, YARD
from cutopt.settings import Settings
from cutopt.tables import new_job, read_job, save_job
from cutopt.tables.recipe import quilt as quilt_module
from cutopt.tables.recipe.quilt import quilt_of
from tests.places import ROOT

FILES = {
    "job.toml": 'unit = "in"\n',
    "pile.txt": "pear 40 x 40\n",
    "shop.csv": "fabric,usable_width,sold_by,price\noat,40,1/8 yd,9.60\n",
    "quilt.toml": 'top = "58 x 66"\nbinding = "from oat"\nbacking = "oat"\n'
    '[how]\nextra = "1/4 yd"\nsquare_up_end = "0"\n',
}


def with_lengths_told(folder: Path) -> Path:
    """A job whose quilt changes settings of the job itself."""
    for name, text in FILES.items():
        (folder / name).write_text(text)
    return folder


def in_workbook(folder: Path) -> Path:
    new_job(folder / "mine.xlsx", "cm", quilt=True)
    return folder / "mine.xlsx"


JOBS = {
    "orchard": lambda _: ROOT / "data" / "orchard",
    "lengths told": with_lengths_told,
    "workbook": in_workbook,
}


@pytest.mark.parametrize("name", JOBS)
def test_the_text_is_read_once(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    job = read_job(JOBS[name](tmp_path))
    again = quilt_of(replace(job, worked_out=None))
    monkeypatch.setattr(quilt_module, "worked_out", None)
    assert quilt_of(job) is not None
    assert quilt_of(job) is quilt_of(job)
    assert quilt_of(job) == again
    assert quilt_of(replace(job, name="another", cuts=())) is quilt_of(job)


@pytest.mark.parametrize("name", JOBS)
def test_it_is_no_part_of_the_job(tmp_path: Path, name: str) -> None:
    job = read_job(JOBS[name](tmp_path))
    bare = replace(job, worked_out=None)
    assert job.worked_out is not None
    assert bare == job
    assert hash(bare) == hash(job)
    assert bare.digest == job.digest
    assert "worked_out" not in repr(job)
    save_job(bare, tmp_path / "saved")
    assert read_job(tmp_path / "saved") == job


def test_what_was_changed_since_is_read_again(tmp_path: Path) -> None:
    """Strips of 58 + 66 + 58 + 66 + 10 = 258 in from cloth of 40 or of 60, and of a top one inch wider."""
    job = read_job(with_lengths_told(tmp_path))
    held = quilt_of(job)
    assert held is not None
    assert held.how.usable_width == 40 * INCH
    oat = replace(job.shop[0], usable_width=60 * INCH)
    wide = quilt_of(replace(job, shop=(oat,)))
    assert wide is not None
    assert wide.how.usable_width == 60 * INCH
    metric = quilt_of(replace(job, settings=Settings.metric()))
    assert metric is not None
    assert metric.how.unit == "cm"
    larger = quilt_of(replace(job, quilt='top = "59 x 66"'))
    assert larger is not None
    assert held.wanted != larger.wanted
    assert quilt_of(replace(job, quilt="")) is None


def test_a_job_made_of_values_may_have_a_text() -> None:
    oat = Fabric(name="oat")
    shop = ByLength(fabric="oat", usable_width=42 * INCH, sold_by=YARD // 8)
    job = Job(fabrics=(oat,), shop=(shop,), quilt='top = "58 x 66"\nbacking = "oat"')
    made = quilt_of(job)
    assert made is not None
    assert made.backing == ("oat",)
    assert quilt_of(job) is made
    with pytest.raises(JobError, match="it says nothing"):
        quilt_of(replace(job, quilt="# nothing"))
