"""The README says what is so: its code runs, its tables are a job, its commands and defaults exist."""

from __future__ import annotations

import csv
import io
import re
import shlex
import shutil
from fractions import Fraction
from pathlib import Path

import pytest

from cutopt.cli import parser
from cutopt.job import Settings
from cutopt.lengths import CM, INCH, parse_number
from cutopt.tables import pile, read_job
from cutopt.tables.columns import COLUMNS
from cutopt.tables.log import Log
from cutopt.tables.recipe.quilt import read_sheet
from cutopt.tables.settings import KNOWN
from cutopt.tables.sheets import as_sheet
from tests.places import ROOT

TEXT = (ROOT / "README.md").read_text(encoding="utf-8")
BLOCKS = re.findall(r"```(\w+)\n(.*?)```", TEXT, re.DOTALL)
TABLES = dict(
    re.findall(r"^`(\w+)\.csv`: .*?```csv\n(.*?)```", TEXT, re.DOTALL | re.MULTILINE)
)
QUILT_SHEET = re.search(r"The sheet `quilt` says.*?```csv\n(.*?)```", TEXT, re.DOTALL)


def blocks(kind: str) -> list[str]:
    return [text for told, text in BLOCKS if told == kind]


def test_the_two_commands() -> None:
    """Word for word: a release is tried with them."""
    start = "python3 -m venv .venv && .venv/bin/pip install "
    assert f"{start}. && .venv/bin/cutopt plan data/orchard\n" in blocks("sh")
    assert f'{start}-e ".[test]" && .venv/bin/pytest\n' in blocks("sh")


def test_every_command_is_one_of_the_program() -> None:
    lines = [
        line
        for text in blocks("sh")
        for line in text.splitlines()
        if line.startswith("cutopt ")
    ]
    assert len(lines) >= 8
    helps = {name: sub.format_help() for name, sub in _commands().items()}
    for line in lines:
        _, command, *words = shlex.split(
            line.replace("[", " ").replace("]", " ").replace("|", " ")
        )
        for option in (word for word in words if word.startswith("--")):
            assert option in helps[command], line
    told = {line.split()[1] for line in lines}
    assert told == set(helps)


def _commands() -> dict[str, object]:
    return next(
        action.choices
        for action in parser()._actions
        if isinstance(action.choices, dict)
    )  # type: ignore[return-value]


def test_the_python_code_runs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    shutil.copytree(ROOT / "data" / "orchard", tmp_path / "data" / "orchard")
    monkeypatch.chdir(tmp_path)
    names: dict[str, object] = {}
    for text in blocks("python"):
        exec(compile(text, "README.md", "exec"), names)
    assert (tmp_path / "out" / "orchard" / "plan.pdf").is_file()


@pytest.mark.parametrize(
    "table", [name for name in COLUMNS if name not in ("job", "quilt")]
)
def test_the_columns_of_a_table(table: str) -> None:
    assert tuple(TABLES[table].splitlines()[0].split(",")) == COLUMNS[table]


def test_the_examples_together_are_a_job(tmp_path: Path) -> None:
    (tmp_path / "job.toml").write_text(blocks("toml")[0], encoding="utf-8")
    (tmp_path / "pile.txt").write_text(blocks("text")[0], encoding="utf-8")
    for name, text in TABLES.items():
        (tmp_path / f"{name}.csv").write_text(text, encoding="utf-8")
    job = read_job(tmp_path)
    assert len(job.cuts) == 5
    assert len(job.strips) == 1
    assert job.settings.turns == 4
    assert {row.importance for row in job.cuts} == {"must", "nice"}
    assert len({piece.fabric for piece in job.pieces}) == 5


def test_the_quilt_of_a_sheet() -> None:
    assert QUILT_SHEET
    rows = list(csv.reader(io.StringIO(QUILT_SHEET[1])))
    assert tuple(rows[0]) == COLUMNS["quilt"]
    log = Log()
    sheet = as_sheet("README.md", list(enumerate(rows, 1)), "quilt", log)
    made = read_sheet(sheet, Settings(), log)
    log.finish()
    assert made is not None
    assert made.quilt.finished is not None
    assert made.quilt.how.machine == "longarm"
    assert {placed.row for placed in made.rows} == {2, 3, 5, 6}


def test_every_line_of_the_pile_makes_pieces() -> None:
    lines = blocks("text")[0].splitlines()
    assert len(lines) >= 10
    for line in lines:
        assert len(pile(line)) == 1


def test_the_settings_and_their_defaults() -> None:
    rows = re.findall(r"^\| `(\w+)` \|([^|]*)\|([^|]*)\|", TEXT, re.MULTILINE)
    told = {name: (inch.strip(), metric.strip()) for name, inch, metric in rows}
    assert set(told) == set(KNOWN) - {"name"}
    for which, (settings, unit) in enumerate(
        [(Settings(), INCH), (Settings.metric(), CM)]
    ):
        assert told["unit"][which] == f"`{settings.unit}`"
        for name in (
            "grid",
            "seam",
            "square_up",
            "square_up_end",
            "extra",
            "about",
            "longest_cut",
        ):
            assert parse_number(told[name][which]) == Fraction(
                getattr(settings, name), unit
            ), name
        sides = [parse_number(side) for side in told["keep"][which].split(" x ")]
        assert sides == [
            Fraction(settings.keep_width, unit),
            Fraction(settings.keep_length, unit),
        ]
        assert told["preference"][which] == f"{float(settings.preference):.0%}"
        assert (told["turns"][which], told["currency"][which]) == ("", "")
    assert Settings().turns is None


def test_links_and_pictures_are_there() -> None:
    places = [
        place for place in re.findall(r"\]\(([^)]+)\)", TEXT) if "://" not in place
    ]
    assert len(places) >= 4
    for place in places:
        assert (ROOT / place).exists(), place


def test_the_job_stands_on_top_in_one_paragraph() -> None:
    first = TEXT.split("\n\n")[1]
    assert len(first.split()) < 150
    assert "leftovers" in first
