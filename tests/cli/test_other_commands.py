"""`cutopt check`, `new` and `open`."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import time
import urllib.request
from pathlib import Path

import nbformat
import pytest
from cli_help import QUICK, ROOT, Write, run

from cutopt.app.workshop import lab_command, set_up
from cutopt.cli import BAD_INPUT, DONE, SHORT
from cutopt.errors import JobError
from cutopt.tables import read_job


def planned(folder: Path) -> Path:
    run("plan", folder, *QUICK, "--out", "pages")
    return Path("pages/plan.json")


def test_a_good_plan(write: Write, capsys: pytest.CaptureFixture[str]) -> None:
    folder = write()
    plan = planned(folder)
    capsys.readouterr()
    assert run("check", folder, plan) == DONE
    assert "The plan holds" in capsys.readouterr().out


def test_a_plan_that_lacks_something(write: Write, capsys: pytest.CaptureFixture[str]) -> None:
    folder = write(cuts_csv="cut,count,width,length\ndoor,1,12,20\nsquare,1,3,3\n")
    plan = planned(folder)
    capsys.readouterr()
    assert run("check", folder, plan) == SHORT
    assert "It lacks 1 of door." in capsys.readouterr().out


def test_a_plan_that_was_tampered_with(write: Write, capsys: pytest.CaptureFixture[str]) -> None:
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


def test_a_job_that_has_changed_since(write: Write, capsys: pytest.CaptureFixture[str]) -> None:
    folder = write()
    plan = planned(folder)
    (folder / "pile.txt").write_text("pear 9 x 10\noat 8 x 6 less 3 x 2\n")
    capsys.readouterr()
    assert run("check", folder, plan) == BAD_INPUT
    assert "the tables have changed" in capsys.readouterr().out


@pytest.mark.parametrize("text", ["", "{", "[]", '{"format": "other"}'])
def test_a_file_that_is_no_plan(write: Write, capsys: pytest.CaptureFixture[str], text: str) -> None:
    folder = write()
    Path("plan.json").write_text(text)
    assert run("check", folder, "plan.json") == BAD_INPUT
    said = capsys.readouterr().err
    assert said.startswith("plan.json")
    assert "Traceback" not in said


@pytest.mark.parametrize("unit", ["in", "cm"])
def test_a_new_job_can_be_planned_at_once(here: Path, capsys: pytest.CaptureFixture[str], unit: str) -> None:
    assert run("new", "quilt", "--unit", unit) == DONE
    assert "cutopt plan quilt" in capsys.readouterr().out
    assert run("plan", "quilt", *QUICK) == DONE
    assert (here / "out" / "quilt" / "plan.pdf").stat().st_size > 0


def test_a_new_job_never_writes_over_another(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    run("new", "quilt")
    before = {path.name: path.read_bytes() for path in (here / "quilt").iterdir()}
    capsys.readouterr()
    assert run("new", "quilt") == BAD_INPUT
    assert "written over" in capsys.readouterr().err
    assert {path.name: path.read_bytes() for path in (here / "quilt").iterdir()} == before


def test_a_workshop_has_copies_and_keeps_what_was_changed(here: Path) -> None:
    first = set_up(here / "shop")
    assert first.name == "01_use_up_scraps.ipynb"
    assert read_job(here / "shop" / "data" / "orchard") == read_job(ROOT / "data" / "orchard")
    (here / "shop" / "data" / "orchard" / "pile.txt").write_text("pear 5 x 5\n")
    set_up(here / "shop")
    assert (here / "shop" / "data" / "orchard" / "pile.txt").read_text() == "pear 5 x 5\n"


def test_a_workshop_for_a_job_of_ones_own(write: Write, here: Path) -> None:
    folder = write('my "first" {quilt}')
    notebook = set_up(here / "shop", folder)
    book = nbformat.read(notebook, as_version=4)
    nbformat.validate(book)
    for cell in book.cells:
        if cell.cell_type == "code":
            compile(cell.source, "cell", "exec")
    assert '../data/my \\"first\\" {quilt}' in book.cells[1].source
    assert '../out/my \\"first\\" {quilt}-notebook"' in book.cells[-1].source  # not where `cutopt plan` writes
    assert read_job(here / "shop" / "data" / folder.name) == read_job(folder)


def test_a_workshop_tells_the_mistakes_of_a_job(write: Write, here: Path) -> None:
    with pytest.raises(JobError, match="pile"):
        set_up(here / "shop", write(pile_txt="pear 9 by\n"))
    assert not (here / "shop").exists()


def test_jupyter_answers_on_this_machine_alone(
    here: Path, command: list[str], environment: dict[str, str]
) -> None:  # fmt: skip
    """The command is started for real; the server is asked for its state and for the notebook, then ended."""
    homes = {"JUPYTER_CONFIG_DIR", "JUPYTER_DATA_DIR", "JUPYTER_RUNTIME_DIR", "IPYTHONDIR"}
    told = environment | {name: str(here / name.lower()) for name in homes}
    process = subprocess.Popen(
        [*command, "open", "--no-browser"], env=told, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
    )
    try:
        server = waited_for(here / "jupyter_runtime_dir", process)
        assert server["hostname"] == "127.0.0.1"
        assert Path(server["root_dir"]) == (here / "cutopt-workshop").resolve()
        address = f"{server['url']}api/contents/notebooks/01_use_up_scraps.ipynb?content=0&token={server['token']}"
        with urllib.request.urlopen(address) as answer:
            assert json.load(answer)["type"] == "notebook"
    finally:
        process.send_signal(signal.SIGTERM)
        process.wait()


def waited_for(runtime: Path, process: subprocess.Popen[bytes]) -> dict[str, str]:
    """What the server writes about itself once it is up."""
    while True:
        assert process.poll() is None
        for path in runtime.glob("jpserver-*.json"):
            text = path.read_text()
            if text.strip():
                server = json.loads(text)
                try:
                    with urllib.request.urlopen(f"{server['url']}api/status?token={server['token']}"):
                        return dict(server)
                except OSError:
                    pass
        time.sleep(0.2)


def test_the_command_asks_nothing_of_the_network() -> None:
    words = " ".join(lab_command(Path("shop"), Path("shop/notebooks/a.ipynb"), browser=False))
    for option in ("ip=127.0.0.1", "NeverCheckForUpdate", "extension_manager=readonly", "news_url=None"):
        assert option in words
    assert ("--allow-root" in words) == (os.name == "posix" and os.geteuid() == 0)


def test_bench_on_one_small_instance(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A 4 x 4 sheet filled by four 2 x 2 worth 3 each: 12 is the most (arithmetic identity)."""
    instance = {
        "name": "four", "source": "worked by hand", "licence": "CC0", "rotate": False, "objective": "max value",
        "stock": [{"w": 4, "h": 4, "count": 1, "cost": 1}], "items": [{"w": 2, "h": 2, "max": 5, "value": 3}],
        "known": {"value": 12, "status": "optimal", "source": "worked by hand"},
    }  # fmt: skip
    (here / "data").mkdir()
    (here / "data" / "tiny.json").write_text(json.dumps([instance]))
    assert run("bench", "--data", "data", "--family", "tiny", "--seconds", "1", "--json", "figures.json") == DONE
    assert "four" in capsys.readouterr().out
    (figures,) = json.loads((here / "figures.json").read_text())["instances"]
    assert figures["value"] == 12
    assert run("bench", "--data", "data", "--family", "nowhere") == BAD_INPUT
