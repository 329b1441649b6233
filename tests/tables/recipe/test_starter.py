"""The starter with a quilt to fill in: it reads, its sums are right, and it can be cut in full."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from cutopt.check import check
from cutopt.cli import main
from cutopt.solve.control.stop import Work
from cutopt.solve.solver import solve
from cutopt.tables import new_job, read_job
from cutopt.tables.columns import COLUMNS
from cutopt.tables.job.starter import QUILT_FILES
from cutopt.tables.recipe.quilt import KEYS, quilt, quilt_of


@pytest.mark.parametrize(("unit", "size"), [("in", "28 x 40"), ("cm", "70 x 100")])
def test_it_reads_and_can_be_cut_in_full(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], unit: str, size: str
) -> None:
    """4 x 6 blocks of 6 and a border of 2: 28 x 40; of 15 and 5: 70 x 100 (identity)."""
    assert main(["new", str(tmp_path / "mine"), "--unit", unit, "--quilt"]) == 0
    assert "Fill in quilt.toml" in capsys.readouterr().out
    assert {path.name for path in (tmp_path / "mine").iterdir()} == set(QUILT_FILES)
    job = read_job(tmp_path / "mine")
    made = quilt_of(job)
    assert made is not None
    assert made.finished is not None
    assert made.how.size(*made.finished) == size
    assert made.notes == ()
    assert all(row.why for row in job.wanted)
    result = solve(job, Work(100), offers=False)
    assert result.complete
    assert check(job, result.plan) == []


@pytest.mark.parametrize("unit", ["in", "cm"])
def test_each_line_that_is_commented_out_is_understood(
    tmp_path: Path, unit: str
) -> None:
    """Lines such as # sleeve = "from oat" work when the # is taken off; other ways named after "or:" too.

    Our own starter.
    """
    new_job(tmp_path, unit, quilt=True)
    text = (tmp_path / "quilt.toml").read_text(encoding="utf-8")
    settings = read_job(tmp_path).settings
    offers = re.findall(r'^# (\w+ = (?:".*?"|\[.*?\]))', text, re.MULTILINE)
    assert len(offers) >= 7
    for line in offers:
        key = line.split(" ")[0]
        if key == "top":
            found = quilt(line, settings)
            assert "out of square" in found.notes[0]
        else:
            found = quilt(
                re.sub(rf"^# (?={key} = )", "", text, flags=re.MULTILINE), settings
            )
            assert found.top is not None
    for key, other in (
        ("setting", "across"),
        ("binding", "from bark, bias"),
        ("borders", "mitred"),
    ):
        assert key in KEYS
        assert other in text
    blocks = re.search(r"blocks = \[.*?\n\]", text, re.DOTALL)
    assert blocks
    for told in re.findall(r"# or: (\d across.*)$", text, re.MULTILINE):
        assert quilt(f'{blocks[0]}\nsetting = "{told}"\n', settings).top is not None


def test_nothing_is_written_over(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "quilt.toml").write_text("mine")
    assert main(["new", str(tmp_path), "--quilt"]) == 2
    assert "written over" in capsys.readouterr().err
    assert [path.name for path in tmp_path.iterdir()] == ["quilt.toml"]


def test_a_metric_one_has_no_inch(tmp_path: Path) -> None:
    """Our own starter."""
    new_job(tmp_path, "cm", quilt=True)
    for path in tmp_path.iterdir():
        text = path.read_text(encoding="utf-8")
        assert not re.search(r"inch|\byd\b|\b\d/\d|\bin of\b", text)
    assert (tmp_path / "shop.csv").read_text().splitlines()[0] == ",".join(
        COLUMNS["shop"]
    )
