"""`cutopt check`, `new` and `bench`."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from cutopt.cli import BAD_INPUT, DONE, SHORT
from tests.cli.cli_help import QUICK, Write, run


def planned(folder: Path) -> Path:
    run("plan", folder, *QUICK, "--out", "pages")
    return Path("pages/plan.json")


def test_a_good_plan(write: Write, capsys: pytest.CaptureFixture[str]) -> None:
    folder = write()
    plan = planned(folder)
    capsys.readouterr()
    assert run("check", folder, plan) == DONE
    assert "The plan holds" in capsys.readouterr().out


def test_a_plan_that_lacks_something(
    write: Write, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = write(cuts_csv="cut,count,width,length\ndoor,1,12,20\nsquare,1,3,3\n")
    plan = planned(folder)
    capsys.readouterr()
    assert run("check", folder, plan) == SHORT
    assert "It lacks 1 of door." in capsys.readouterr().out


def test_a_plan_that_was_tampered_with(
    write: Write, capsys: pytest.CaptureFixture[str]
) -> None:
    """One cut moved by a tick."""
    folder = write()
    plan = planned(folder)
    told = json.loads(plan.read_text())
    step = told["cuts"][0]
    step["x" if "x" in step else "y"] += 1
    plan.write_text(json.dumps(told))
    capsys.readouterr()
    assert run("check", folder, plan) == BAD_INPUT
    assert capsys.readouterr().out.strip()


def test_a_job_that_has_changed_since(
    write: Write, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = write()
    plan = planned(folder)
    (folder / "pile.txt").write_text("pear 9 x 10\noat 8 x 6 less 3 x 2\n")
    capsys.readouterr()
    assert run("check", folder, plan) == BAD_INPUT
    assert "the tables have changed" in capsys.readouterr().out


@pytest.mark.parametrize("text", ["", "{", "[]", '{"format": "other"}'])
def test_a_file_that_is_no_plan(
    write: Write, capsys: pytest.CaptureFixture[str], text: str
) -> None:
    folder = write()
    Path("plan.json").write_text(text)
    assert run("check", folder, "plan.json") == BAD_INPUT
    said = capsys.readouterr().err
    assert said.startswith("plan.json")
    assert "Traceback" not in said


@pytest.mark.parametrize("unit", ["in", "cm"])
def test_a_new_job_can_be_planned_at_once(
    here: Path, capsys: pytest.CaptureFixture[str], unit: str
) -> None:
    assert run("new", "quilt", "--unit", unit) == DONE
    assert "cutopt plan quilt" in capsys.readouterr().out
    assert run("plan", "quilt", *QUICK) == DONE
    assert (here / "out" / "quilt" / "plan.pdf").stat().st_size > 0


def test_a_new_job_never_writes_over_another(
    here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    run("new", "quilt")
    before = {path.name: path.read_bytes() for path in (here / "quilt").iterdir()}
    capsys.readouterr()
    assert run("new", "quilt") == BAD_INPUT
    assert "written over" in capsys.readouterr().err
    assert {
        path.name: path.read_bytes() for path in (here / "quilt").iterdir()
    } == before


def test_bench_on_one_small_instance(
    here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A 4 x 4 sheet filled by four 2 x 2 worth 3 each: 12 is the most (arithmetic identity)."""
    instance = {
        "name": "four",
        "source": "worked by hand",
        "licence": "CC0",
        "rotate": False,
        "objective": "max value",
        "stock": [{"w": 4, "h": 4, "count": 1, "cost": 1}],
        "items": [{"w": 2, "h": 2, "max": 5, "value": 3}],
        "known": {"value": 12, "status": "optimal", "source": "worked by hand"},
    }
    (here / "data").mkdir()
    (here / "data" / "tiny.json").write_text(json.dumps([instance]))
    assert (
        run(
            "bench",
            "--data",
            "data",
            "--family",
            "tiny",
            "--seconds",
            "1",
            "--json",
            "figures.json",
        )
        == DONE
    )
    assert "four" in capsys.readouterr().out
    (figures,) = json.loads((here / "figures.json").read_text())["instances"]
    assert figures["value"] == 12
    assert run("bench", "--data", "data", "--family", "nowhere") == BAD_INPUT
