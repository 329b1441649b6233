"""`cutopt plan`: pages, words, exit codes; nothing half-written."""

from __future__ import annotations

import csv
import json
import re
import signal
import subprocess
from pathlib import Path

import pypdf
import pytest

from cutopt.app import deliver
from cutopt.check import check
from cutopt.cli import BAD_INPUT, DONE, OUR_ERROR, SHORT
from cutopt.result import Result
from cutopt.tables import read_job, read_plan
from tests.cli.cli_help import QUICK, Write, run
from tests.places import ROOT

PAGES = {"plan.pdf", "cut-list.csv", "shopping.csv", "plan.json", "overview.png"}
NOT_FOR_MAKERS = ("utilisation", "feasible", "priority number", "objective", "goods")
INCH = re.compile(r"\d\s*(in|yd)\b|\(in\)|\binch|\byard|\d/\d")


def names(folder: Path) -> set[str]:
    return {path.name for path in folder.rglob("*")} - {".cutopt-job"}


def test_the_orchard(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = {path: path.read_bytes() for path in (ROOT / "data" / "orchard").iterdir()}
    assert run("plan", ROOT / "data" / "orchard", *QUICK) == DONE
    assert {
        path: path.read_bytes() for path in (ROOT / "data" / "orchard").iterdir()
    } == before
    assert names(here / "out" / "orchard") == PAGES
    job = read_job(ROOT / "data" / "orchard")
    assert check(job, read_plan(here / "out" / "orchard" / "plan.json", job)) == []
    said = capsys.readouterr()
    for words in (
        "orchard lap quilt",
        "To buy",
        "How sure",
        "usable width 42 in",
        "wash what you buy",
    ):
        assert words in said.out
    for path in sorted(PAGES):
        assert str(Path("out", "orchard", path)) in said.out
    assert not any(word in said.out.lower() for word in NOT_FOR_MAKERS)
    assert "A first plan is there." in said.err
    assert "\r" not in said.err
    assert not any(word in said.err.lower() for word in NOT_FOR_MAKERS)


def test_a_metric_job_shows_no_inch(
    here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert (
        run("plan", ROOT / "data" / "metric-cushion", *QUICK, "--out", "cushion")
        == DONE
    )
    said = capsys.readouterr()
    pdf = "\n".join(
        page.extract_text()
        for page in pypdf.PdfReader(here / "cushion" / "plan.pdf").pages
    )
    tables = "".join(
        (here / "cushion" / f"{name}.csv").read_text()
        for name in ("cut-list", "shopping")
    )
    assert " cm" in pdf
    assert "€" in said.out
    for text in (said.out, said.err, pdf, tables):
        assert INCH.search(text) is None


@pytest.mark.slow
def test_every_offer_has_pages_where_asked(here: Path) -> None:
    run("plan", ROOT / "data" / "orchard", "--work", "3000", "--all", "--out", "o")
    inner = [path for path in (here / "o").iterdir() if path.is_dir()]
    job = read_job(ROOT / "data" / "orchard")
    for folder in inner:
        assert names(folder) == PAGES
        assert check(job, read_plan(folder / "plan.json", job)) == []


def test_what_must_be_cut_and_cannot(
    write: Write, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = write(cuts_csv="cut,count,width,length\nsquare,2,3,3\ndoor,1,12,20\n")
    assert run("plan", folder, *QUICK) == SHORT
    assert names(Path("out/small")) == PAGES
    said = capsys.readouterr().out
    assert "Something that must be cut is missing" in said
    assert "1 of door is not in this plan" in said
    assert "large enough for 12 x 20" in said
    short = json.loads(Path("out/small/plan.json").read_text())["short"]
    assert [(item["for"], item["count"]) for item in short] == [("cuts/door", 1)]
    used = json.loads(Path("out/small/plan.json").read_text())["uses"]
    assert [use["for"] for use in used] == ["cuts/square"] * 2


def test_every_mistake_is_told_one_a_line(
    write: Write, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = write(
        pile_txt="pear 9 by\nquince 4 x 4\n",
        cuts_csv="cut,count,width,length\nsquare,x,3,3\nleaf,2,0,4\n",
    )
    assert run("plan", folder) == BAD_INPUT
    said = capsys.readouterr()
    lines = sorted(said.err.splitlines())  # by table and row
    assert len(lines) == 3
    assert lines[0].startswith("cuts.csv row 2, count:")
    assert lines[1].startswith("cuts.csv row 3, width:")
    assert lines[2].startswith("pile.txt row 1")
    assert said.out == ""
    assert not Path("out").exists()


@pytest.mark.parametrize(
    ("arguments", "word"),
    [
        (("--seconds", "0"), "seconds"),
        (("--seconds", "nan"), "seconds"),
        (("--work", "-5"), "rounds"),
        (("--work", "5", "--seed", "-1"), "seed"),
    ],
)
def test_numbers_that_make_no_sense(
    write: Write,
    capsys: pytest.CaptureFixture[str],
    arguments: tuple[str, ...],
    word: str,
) -> None:
    assert run("plan", write(), *arguments) == BAD_INPUT
    said = capsys.readouterr().err
    assert word in said
    assert len(said.splitlines()) == 1


@pytest.mark.parametrize(
    "arguments",
    [("--seconds", "5", "--work", "5"), ("--seconds", "soon"), ("--wrok", "5")],
)
def test_a_command_line_that_makes_no_sense(
    write: Write, arguments: tuple[str, ...]
) -> None:
    with pytest.raises(SystemExit) as stopped:
        run("plan", write(), *arguments)
    assert stopped.value.code == BAD_INPUT


def test_a_folder_that_is_not_there(
    here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run("plan", "nowhere") == BAD_INPUT
    assert "nowhere" in capsys.readouterr().err
    assert list(here.iterdir()) == []


def test_a_place_that_cannot_be_written_is_told_before_the_search(
    write: Write, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = write()
    Path("taken").write_text("a file")
    assert run("plan", folder, "--out", "taken/pages") == BAD_INPUT
    said = capsys.readouterr().err
    assert said.startswith("--out:")
    assert "first plan" not in said


def test_a_plan_that_does_not_pass_the_check_is_not_written(
    write: Write, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(deliver, "check", lambda *_: ["Cut 3 runs through no cloth."])
    assert run("plan", write(), *QUICK) == OUR_ERROR
    said = capsys.readouterr()
    assert "not of your job" in said.err
    assert "Cut 3 runs through no cloth." in said.err
    assert said.out == ""
    assert names(Path("out")) == {"small"}


def test_pages_that_break_off_leave_the_older_ones(
    write: Write, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = write()
    run("plan", folder, *QUICK)
    old = {path.name: path.read_bytes() for path in Path("out/small").iterdir()}
    job = read_job(folder)
    real = deliver.write_each

    def breaks(results: list[tuple[Result, Path]], *_: object) -> None:
        real(results)
        raise OSError(28, "No space left on device", str(results[0][1]))

    monkeypatch.setattr(deliver, "write_each", breaks)
    assert run("plan", folder, *QUICK, "--seed", "3") == BAD_INPUT
    left = {path.name: path.read_bytes() for path in Path("out/small").iterdir()}
    assert check(job, read_plan(Path("out/small/new-plan.json"), job)) == []
    assert left.pop("new-plan.json")
    assert left == old


def test_the_same_work_gives_the_same_plan(write: Write) -> None:
    folder = write()
    for place in ("a", "b"):
        run("plan", folder, *QUICK, "--seed", "4", "--out", place)
    for name in ("plan.json", "cut-list.csv", "shopping.csv"):
        assert Path("a", name).read_bytes() == Path("b", name).read_bytes()


def test_the_cut_list_adds_up_to_what_is_wanted(write: Write) -> None:
    run("plan", write(), *QUICK)
    with Path("out/small/cut-list.csv").open(newline="", encoding="utf-8-sig") as file:
        rows = list(csv.DictReader(file))
    counts = {
        name: sum(int(row["count"]) for row in rows if row["wanted"] == name)
        for name in ("square", "leaf")
    }
    assert counts == {"square": 6, "leaf": 2}


@pytest.mark.slow
def test_ctrl_c_writes_the_best_plan_so_far(
    here: Path, command: list[str], environment: dict[str, str]
) -> None:
    """It is sent when the first plan is there, and would else search for hours."""
    process = subprocess.Popen(
        [*command, "plan", str(ROOT / "data" / "orchard"), "--seconds", "20000"],
        env=environment,
        text=True,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    )
    assert process.stderr is not None
    while "A first plan is there." not in process.stderr.readline():
        assert process.poll() is None
    process.send_signal(signal.SIGINT)
    out, err = process.communicate()
    assert process.returncode == DONE
    assert "Stopped: this is the best plan so far." in err
    assert "Traceback" not in err
    assert "it was stopped" in out
    assert names(here / "out" / "orchard") == PAGES
