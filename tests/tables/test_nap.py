"""Cloth with a nap: all that is cut from it lies the same way up (common practice, no source)."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from cutopt.check import check
from cutopt.errors import JobError
from cutopt.fabric import Fabric, Piece
from cutopt.job import Job
from cutopt.lengths import INCH
from cutopt.solve.control.stop import Work
from cutopt.solve.solver import solve
from cutopt.tables import read_job, save_job
from cutopt.wanted import Cut, Strip

VELVET = Fabric(name="dusk", kind="cotton velvet", nap=True)
# three of 3 x 8 lie in 9 x 8 along its length; in 8 x 9 only across it, or two of them along
ROW = Cut(name="panel", count=3, width=3 * INCH, length=8 * INCH)


def job_of(fabric: Fabric, width: int, length: int, row: Cut | Strip = ROW) -> Job:
    piece = Piece.of_size("d", "dusk", width * INCH, length * INCH)
    rows = {"cuts": (row,)} if isinstance(row, Cut) else {"strips": (row,)}
    return Job(fabrics=(fabric,), pieces=(piece,), **rows)  # type: ignore[arg-type]


def there(job: Job) -> int:
    result = solve(job, stop=Work(500), seed=0)
    assert check(job, result.plan) == []
    return len(result.plan.uses)


def test_parts_are_not_turned() -> None:
    """Counting: 9 = 3 x 3 across and 8 along; turned, 8 across takes two of 3 and 9 along one of 8."""
    assert there(job_of(VELVET, 9, 8)) == 3
    assert there(job_of(VELVET, 8, 9)) == 2
    assert there(job_of(replace(VELVET, nap=False, one_way=""), 8, 9)) == 3
    assert there(job_of(replace(VELVET, one_way="across"), 8, 9)) == 3
    assert there(job_of(replace(VELVET, one_way="across"), 9, 8)) == 2


def test_without_known_grain_nothing_is_cut() -> None:
    job = job_of(VELVET, 9, 8)
    blind = replace(job, pieces=(replace(job.pieces[0], grain_known=False),))
    assert there(blind) == 0


def test_the_checker_refuses_a_turned_part() -> None:
    free = job_of(replace(VELVET, nap=False, one_way=""), 8, 9)
    plan = solve(free, stop=Work(500), seed=0).plan
    napped = job_of(VELVET, 8, 9)
    faults = [fault for fault in check(napped, plan) if "nap of dusk" in fault]
    assert len(faults) == 3


def test_a_strip_goes_as_its_row_says() -> None:
    """A binding goes round four sides, so its nap cannot run one way (as a one-way print: facts of practice)."""
    strip = Strip(name="b", width=2 * INCH, total_length=8 * INCH, join="none", count=4)
    assert there(job_of(VELVET, 8, 9, strip)) == 4
    assert there(job_of(VELVET, 9, 8, replace(strip, upright="along"))) == 4
    assert there(job_of(VELVET, 8, 9, replace(strip, upright="along"))) == 4


HEAD = "fabric,kind,one_way\n"


@pytest.mark.parametrize(
    ("cells", "one_way", "nap", "told"),
    [
        ("cotton velvet,", "along", True, "lies the same way up"),
        ("Corduroy,", "along", True, "lies the same way up"),
        ("velvet,nap", "along", True, ""),
        ("velvet,nap across", "across", True, ""),
        ("velvet,none", "", False, ""),
        ("velvet,along", "along", False, "only rows that are upright"),
        ("felt,nap", "along", True, ""),
        ("flannel,", "", False, ""),
        ("furnishing cotton,", "", False, ""),
    ],
)
def test_what_fabrics_csv_says(
    tmp_path: Path, cells: str, one_way: str, nap: bool, told: str
) -> None:
    (tmp_path / "job.toml").write_text('unit = "in"\n', encoding="utf-8")
    (tmp_path / "pile.txt").write_text("dusk 9 x 8\n", encoding="utf-8")
    (tmp_path / "fabrics.csv").write_text(f"{HEAD}dusk,{cells}\n", encoding="utf-8")
    (tmp_path / "cuts.csv").write_text(
        "cut,width,length,count\na,3,8,3\n", encoding="utf-8"
    )
    job = read_job(tmp_path)
    (fabric,) = job.fabrics
    assert (fabric.one_way, fabric.nap) == (one_way, nap)
    assert told in " ".join(job.notices)
    assert bool(told) == any("nap" in notice for notice in job.notices)
    save_job(job, tmp_path / "again")
    assert read_job(tmp_path / "again") == job


def test_a_grain_against_the_nap_is_told() -> None:
    with pytest.raises(JobError, match="nap of its cloth runs the other way"):
        job_of(VELVET, 9, 8, replace(ROW, grain="across"))
    assert there(job_of(VELVET, 9, 8, replace(ROW, grain="along"))) == 3
