"""Where pages go, what is kept when they break off, and a saved plan printed again."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from cutopt.app import deliver
from cutopt.app.saved import UNKNOWN
from cutopt.check import check
from cutopt.cli import BAD_INPUT, DONE, OUR_ERROR, STOPPED
from cutopt.tables import read_job, read_plan
from tests.cli.cli_help import QUICK, Write, run


def pages(folder: Path) -> dict[str, bytes]:
    return {
        str(path.relative_to(folder)): path.read_bytes()
        for path in folder.rglob("*")
        if path.is_file()
    }


def test_the_whole_name_of_a_folder_counts(write: Write) -> None:
    """Both were written into out/orchard, the second over the first."""
    for name in ("orchard.spring", "orchard.autumn"):
        assert run("plan", write(name), *QUICK) == DONE
        assert (Path("out") / name / "plan.pdf").exists()
    assert deliver.home_of(Path("orchard.spring/job.toml")) == Path(
        "out/orchard.spring"
    )
    assert deliver.home_of(Path("orchard.xlsx")) == Path("out/orchard")


def test_two_jobs_never_write_over_each_other(
    write: Write, capsys: pytest.CaptureFixture[str], here: Path
) -> None:
    (here / "a").mkdir()
    (here / "b").mkdir()
    assert run("plan", write("a/quilt"), *QUICK) == DONE
    before = pages(Path("out/quilt"))
    other = write("b/quilt", pile_txt="pear 19 x 9\noat 8 x 6 less 3 x 2\n")
    capsys.readouterr()
    assert run("plan", other, *QUICK) == BAD_INPUT
    said = capsys.readouterr().err
    assert "holds the pages of another job" in said
    assert str(here / "a" / "quilt") in said
    assert pages(Path("out/quilt")) == before
    assert run("plan", other, *QUICK, "--out", "pages-of-b") == DONE
    assert run("plan", here / "a" / "quilt", *QUICK) == DONE  # the same job again
    (here / "a" / "quilt").rename(here / "moved")
    assert (
        run("plan", here / "b" / "quilt", *QUICK) == DONE
    )  # the other is not there any more


@pytest.mark.parametrize(
    ("stop", "code"),
    [(KeyboardInterrupt(), STOPPED), (RuntimeError("nobody foresaw this"), OUR_ERROR)],
)
def test_the_plan_is_kept_when_its_pages_break_off(
    write: Write,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
    stop: BaseException,
    code: int,
) -> None:
    folder = write()

    def breaks(*_: object) -> None:
        raise stop

    with monkeypatch.context() as patch:
        patch.delenv("CUTOPT_DEBUG")
        patch.setattr(deliver, "write_each", breaks)
        assert run("plan", folder, *QUICK) == code
    said = capsys.readouterr().err
    kept = Path("out/small/plan.json")
    assert f"The plan is kept in {kept}" in said
    assert f"cutopt print {folder} {kept}" in said
    assert "Traceback" not in said
    assert ("An error of the program, not of your job" in said) == (code == OUR_ERROR)
    job = read_job(folder)
    plan = read_plan(kept, job)
    assert check(job, plan) == []
    assert list(pages(Path("out/small"))) == ["plan.json"]
    assert run("print", folder, kept) == DONE
    assert read_plan(kept, job) == plan
    assert {"plan.pdf", "shopping.csv", "cut-list.csv", "overview.png"} <= {
        *pages(Path("out/small"))
    }
    assert "To buy" in capsys.readouterr().out


def test_where_an_error_came_from(
    write: Write, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def breaks(*_: object) -> None:
        raise RuntimeError("nobody foresaw this")

    monkeypatch.setenv("CUTOPT_DEBUG", "1")
    monkeypatch.setattr(deliver, "write_each", breaks)
    assert run("plan", write(), *QUICK) == OUR_ERROR
    assert "Traceback" in capsys.readouterr().err


def test_a_plan_that_does_not_hold_is_not_printed(
    write: Write, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = write()
    run("plan", folder, *QUICK)
    told = json.loads(Path("out/small/plan.json").read_text())
    step = told["cuts"][0]
    step["x" if "x" in step else "y"] += 1
    Path("broken.json").write_text(json.dumps(told))
    before = pages(Path("out/small"))
    capsys.readouterr()
    assert run("print", folder, "broken.json") == BAD_INPUT
    assert "does not hold" in capsys.readouterr().err
    assert pages(Path("out/small")) == before


@pytest.mark.parametrize("command", ["print", "check"])
def test_a_plan_of_another_job_is_told_in_few_lines(
    write: Write, capsys: pytest.CaptureFixture[str], command: str
) -> None:
    """It was told in a line for every part of the plan, over 200 of them."""
    run("plan", write("one"), *QUICK)
    other = write(
        "other", cuts_csv="cut,count,width,length,fabrics\npatch,1,2,2,pear\n"
    )
    capsys.readouterr()
    assert run(command, other, "out/one/plan.json") == BAD_INPUT
    told = capsys.readouterr().out.splitlines()
    assert (
        told[0] == "This plan was made for another job: the tables have changed since."
    )
    assert len(told) == 7 + (command == "check")
    assert told[6].startswith("... and ")
    assert told[7:] in (
        [],
        ["So its cuts do not fit the tables as they are now: plan again."],
    )


def test_a_plan_whose_cuts_still_fit_changed_tables_says_so(
    write: Write, capsys: pytest.CaptureFixture[str]
) -> None:
    """A piece that lies uncut is measured again: nothing of the plan is touched by it."""
    tables = {
        "fabrics_csv": "fabric\npear\noat\n",
        "cuts_csv": "cut,count,width,length,fabrics\npatch,2,2,2,pear\n",
    }
    run("plan", write("one", pile_txt="pear 9 x 9\noat 7 x 8\n", **tables), *QUICK)
    for name, pile, changed in (
        ("uncut", "pear 9 x 9\noat 7 x 9\n", []),
        (
            "larger",
            "pear 9 x 9 1/2\n",
            ["pear-1 was 9 x 9 then, and is 9 x 9 1/2 now."],
        ),
        ("gone", "oat 9 x 9\n", ["pear-1 (9 x 9 then) is not on the pile any more."]),
    ):
        other = write(name, pile_txt=pile, **tables)
        capsys.readouterr()
        assert run("check", other, "out/one/plan.json") == BAD_INPUT
        told = capsys.readouterr().out.splitlines()
        assert told[0].startswith("This plan was made for another job")
        assert [text for text in told if " then" in text] == changed
        assert ("still fit the tables as they are now" in told[-1]) == (name != "gone")


def test_a_printed_plan_tells_what_the_job_tells_and_what_it_does_not_know(
    write: Write, capsys: pytest.CaptureFixture[str]
) -> None:
    """Notes that come of the job alone, and the reason of the bound, were lost without a word."""
    folder = write(
        fabrics_csv="fabric,shrink_across\npear,3%\noat,\n",
        shop_csv="fabric,usable_width,sold_by,price\npear,42,1/8 yd,8\n",
        cuts_csv="cut,count,width,length,fabrics\nsquare,40,3,3,pear\n",
    )
    run("plan", folder, *QUICK)
    planned = capsys.readouterr().out
    assert "pear: wash what you buy before you cut it" in planned
    assert ", because " in planned
    assert run("print", folder, "out/small/plan.json", "--out", "again") == DONE
    printed = capsys.readouterr().out
    assert "pear: wash what you buy before you cut it" in printed
    assert ", because " in printed
    assert UNKNOWN in printed


def test_the_fuller_pages_of_the_same_plan_stay(
    write: Write, capsys: pytest.CaptureFixture[str]
) -> None:
    """They were replaced silently by pages that know less."""
    folder = write()
    run("plan", folder, *QUICK)
    before = pages(Path("out/small"))
    capsys.readouterr()
    assert run("print", folder, "out/small/plan.json") == DONE
    assert "they are kept" in capsys.readouterr().err
    assert pages(Path("out/small")) == before
    assert run("print", folder, "out/small/plan.json", "--out", "out/small") == DONE
    assert pages(Path("out/small"))["plan.pdf"] != before["plan.pdf"]


def test_pages_of_other_offers_of_an_older_plan_go(write: Write) -> None:
    folder = write()
    stale = Path("out/small/simplest-to-cut")
    stale.mkdir(parents=True)
    (stale / "plan.pdf").write_bytes(b"old")
    (stale / "plan.json").write_bytes(b"old")
    mine = Path("out/small/keeps-the-biggest-pieces/my-notes.txt")
    mine.parent.mkdir()
    mine.write_text("mine")
    assert run("plan", folder, *QUICK) == DONE
    assert not stale.exists()
    assert mine.read_text() == "mine"


def test_no_name_steers_the_terminal(
    write: Write, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = write(job_toml='name = "red \\u001b[31m\\u202e quilt"\nunit = "in"\n')
    assert run("plan", folder, *QUICK) == BAD_INPUT
    said = capsys.readouterr()
    assert said.err.startswith('job.toml row 1, name: "red ')
    assert all(line.isprintable() for text in said for line in text.split("\n"))


def test_the_version(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as stopped:
        run("--version")
    assert stopped.value.code == 0
    assert capsys.readouterr().out.startswith("cutopt ")
