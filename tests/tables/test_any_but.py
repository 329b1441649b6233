"""``any but cream`` from the tables or a sentence, through a plan, its lists, saving and reading back."""

from __future__ import annotations

from pathlib import Path

import pytest

from cutopt.check import check
from cutopt.errors import JobError
from cutopt.job import Job
from cutopt.solve.control.stop import Work
from cutopt.solve.solver import solve
from cutopt.tables import read_job, save_job
from cutopt.tables.plan.plan_file import plan_from_json, plan_to_json

PILE = "cream 12 x 12\ngold 12 x 12\noat 12 x 12\n"


def job_of(folder: Path, **files: str) -> Job:
    for name, text in ({"job_toml": 'unit = "in"\n', "pile_txt": PILE} | files).items():
        (folder / name.replace("_", ".")).write_text(text, encoding="utf-8")
    return read_job(folder)


def cuts(words: str) -> str:
    return f'cut,count,width,length,fabrics\nsquare,6,5,5,"{words}"\n'


def test_nothing_is_cut_from_what_is_kept_out(tmp_path: Path) -> None:
    """A square of 12 gives four of 5 (counting): six want both other fabrics."""
    job = job_of(tmp_path, cuts_csv=cuts("any but cream"))
    result = solve(job, stop=Work(500), seed=0)
    assert check(job, result.plan) == []
    assert result.complete
    taken = {source.piece for source in result.plan.sources}
    assert taken == {"gold-1", "oat-1"}
    again = plan_from_json(plan_to_json(result.plan), job)
    assert check(job, again) == []


def test_the_checker_refuses_what_is_kept_out(tmp_path: Path) -> None:
    free = job_of(tmp_path, cuts_csv=cuts("cream"))
    plan = solve(free, stop=Work(500), seed=0).plan
    strict = job_of(tmp_path, cuts_csv=cuts("any but cream"))
    assert any("may not be cut from" in fault for fault in check(strict, plan))


def test_it_is_saved_and_read_back(tmp_path: Path) -> None:
    job = job_of(tmp_path, cuts_csv=cuts("any but cream or gold|gold"))
    (row,) = job.cuts
    assert row.fabrics == ("any but cream or gold", "gold")
    assert job.allowed(row) == ("oat", "gold")
    for where in ("again", "book.xlsx"):
        save_job(job, tmp_path / "out" / where)
        assert read_job(tmp_path / "out" / where) == job


@pytest.mark.parametrize(
    ("said", "allowed"),
    [
        ("from any but cream", ("gold", "oat")),
        ("from any but cream or gold", ("oat",)),
        ("from oat|any but cream", ("oat", "gold")),
    ],
)
def test_it_is_said_in_a_sentence(
    tmp_path: Path, said: str, allowed: tuple[str, ...]
) -> None:
    text = f'blocks = ["8 squares of 4 {said}"]\nbinding = "none"\n'
    job = job_of(tmp_path, quilt_toml=text)
    assert job.allowed(job.cuts[0]) == allowed


@pytest.mark.parametrize("mended", ["any but cream or gold", "gold and any but cream"])
def test_and_behind_it_is_asked_back(tmp_path: Path, mended: str) -> None:
    """It may keep gold out too, or have it for the next kind of patch."""
    text = 'blocks = ["8 nine patches of 6 from {}"]\nbinding = "none"\n'
    with pytest.raises(JobError, match="may keep gold out too") as caught:
        job_of(tmp_path, quilt_toml=text.format("any but cream and gold"))
    assert mended in str(caught.value)
    assert job_of(tmp_path, quilt_toml=text.format(mended)).cuts
