"""The starter and the demo jobs."""

from __future__ import annotations

from pathlib import Path

import pytest

from cutopt.errors import Problem
from cutopt.fabric import ByLength, ByPiece
from cutopt.job import Job
from cutopt.lengths import CM, INCH
from cutopt.tables import new_job, read_job
from cutopt.tables.columns import COLUMNS
from tests.places import ROOT


@pytest.fixture(scope="module")
def orchard() -> Job:
    """The demo job."""
    return read_job(ROOT / "data" / "orchard")


@pytest.mark.parametrize("unit", ["in", "cm"])
def test_the_starter_reads_and_shows_each_form(tmp_path: Path, unit: str) -> None:
    new_job(tmp_path / "quilt", unit)
    job = read_job(tmp_path / "quilt")
    assert job.settings.unit == unit
    assert {len(piece.outline) for piece in job.pieces} >= {3, 4, 6, 8}
    assert any(p.flaws for p in job.pieces)
    assert any(p.about and p.edges == "raw" for p in job.pieces)
    assert any(not p.grain_known for p in job.pieces)
    assert {type(row) for row in job.shop} == {ByLength, ByPiece}
    assert {cut.importance for cut in job.cuts} == {"must", "nice", "if left"}
    assert any(cut.upright for cut in job.cuts)
    assert any(cut.most_each for cut in job.cuts)
    assert sum(cut.together == "wood" for cut in job.cuts) == 2
    for table in ("fabrics", "shop", "cuts", "strips"):
        header = (tmp_path / "quilt" / f"{table}.csv").read_text().splitlines()[0]
        assert tuple(header.split(",")) == COLUMNS[table]


def test_a_metric_starter_has_no_inch(tmp_path: Path) -> None:
    new_job(tmp_path, "cm")
    for path in tmp_path.iterdir():
        text = path.read_text(encoding="utf-8")
        assert "inch" not in text
        assert "yd" not in text
        assert "1/2" not in text


@pytest.mark.parametrize(
    "name", ["cuts.csv", "pile.txt", "pieces.csv", "Job.toml", "mine.xlsx"]
)
def test_the_starter_writes_nothing_over(tmp_path: Path, name: str) -> None:
    (tmp_path / name).write_text("mine")
    with pytest.raises(
        Problem, match=r"is in the folder \".*\" already and would be written over"
    ):
        new_job(tmp_path)
    assert [path.read_text() for path in tmp_path.iterdir()] == ["mine"]


def test_the_starter_keeps_other_files(tmp_path: Path) -> None:
    (tmp_path / "photo.png").write_text("mine")
    new_job(tmp_path)
    assert (tmp_path / "photo.png").read_text() == "mine"
    with pytest.raises(Problem, match="not a folder"):
        new_job(tmp_path / "photo.png")
    with pytest.raises(Problem, match="not a unit of a job"):
        new_job(tmp_path / "x", "mm")


def test_the_demo_is_said_to_be_invented() -> None:
    for name in ("orchard", "orchard-back", "metric-cushion"):
        assert (
            "INVENTED"
            in (ROOT / "data" / name / "job.toml")
            .read_text(encoding="utf-8")
            .splitlines()[0]
        )


def test_the_orchard_is_a_real_job(orchard: Job) -> None:
    assert len(orchard.fabrics) == 6
    assert len(orchard.pieces) >= 28
    irregular = [p for p in orchard.pieces if not p.is_rectangle or p.flaws]
    assert len(irregular) >= 10
    assert {len(p.outline) for p in irregular} >= {3, 4, 6, 8}
    assert any(p.edges == "raw" for p in orchard.pieces)
    assert sum(p.about for p in orchard.pieces) == 1
    assert sum(not p.grain_known for p in orchard.pieces) == 1
    assert (
        len({row.usable_width for row in orchard.shop if isinstance(row, ByLength)})
        == 2
    )
    assert any(
        isinstance(row, ByPiece) and row.price is not None for row in orchard.shop
    )
    assert sum(cut.count for cut in orchard.cuts) >= 150
    assert len({(cut.width, cut.length) for cut in orchard.cuts}) >= 8
    assert {cut.importance for cut in orchard.cuts} == {"must", "nice", "if left"}
    assert any(
        cut.upright and orchard.fabric(cut.fabrics[0]).one_way for cut in orchard.cuts
    )
    assert [(strip.width, strip.total_length) for strip in orchard.strips] == [
        (5 * INCH // 2, 190 * INCH)
    ]


def test_the_orchard_pile_covers_most_of_the_need(orchard: Job) -> None:
    """Between 70 and 85 % by area, so that a little must be bought; and more of no fabric than is there."""
    pile = sum(p.area * p.count for p in orchard.pieces if p.wish != "do not touch")
    need = sum(
        cut.width * cut.length * cut.count
        for cut in orchard.cuts
        if cut.importance == "must"
    )
    need += sum(strip.width * strip.total_length for strip in orchard.strips)
    assert 0.70 <= pile / need <= 0.85


def test_the_orchard_blocks_make_the_quilt(orchard: Job) -> None:
    """56 blocks of 6 in finished, seams 1/4 in: the cut patches less their seams cover 42 x 48 exactly.

    A patch a x b loses 1/2 in each way (arithmetic identity); trees, crates and halves are 6 in wide together.
    """
    half = INCH // 2
    area = sum(
        (c.width - half) * (c.length - half) * c.count
        for c in orchard.cuts
        if c.importance == "must"
    )
    assert area == 42 * 48 * INCH * INCH
    assert orchard.strips[0].total_length == (2 * (42 + 48) + 10) * INCH


def test_the_metric_cushion(tmp_path: Path) -> None:
    """5 x 5 patches of 7 cm and a border of 5 cm: 45 cm finished; seams 0.75 cm (arithmetic identity)."""
    job = read_job(ROOT / "data" / "metric-cushion")
    assert job.settings.unit == "cm"
    assert job.settings.currency == "€"
    patch, border, short, back = job.cuts
    seam = 2 * job.settings.seam
    assert 5 * (patch.width - seam) + 2 * (border.width - seam) == 45 * CM
    assert border.length == back.width == 45 * CM + seam
    assert short.length == 35 * CM + seam
