"""Whatever is in the tables: exit code 2 and a short sentence for each mistake; no traceback, no hang, no gigabytes."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path

import openpyxl
import pytest

from cutopt.cli import BAD_INPUT, main
from cutopt.errors import JobError, Problem
from cutopt.lengths import INCH, parse_length
from cutopt.signs import unseen_sign
from cutopt.tables import pile, read_job, save_job
from cutopt.tables.columns import COLUMNS
from tests.places import ROOT
from tests.tables.hostile import (
    BOOKS,
    FILES,
    KINDS,
    NAMES,
    NUMBERS,
    PLANS,
    QUILTS,
    SIGNS,
    TOMLS,
    sound_book,
)
from tests.tables.sound_job import SOUND

Tell = Callable[..., list[str]]


@pytest.fixture
def tell(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Tell:
    """What `cutopt check` says of the sound job with some files spoilt: one short line for each mistake."""

    def told(
        spoilt: dict[str, str | bytes | Callable[[Path], None]], plan: str = "plan.json"
    ) -> list[str]:
        folder = tmp_path / "job"
        folder.mkdir()
        for name, text in (SOUND | spoilt).items():
            if callable(text):
                text(folder / name)
            else:
                (folder / name).write_bytes(
                    text.encode() if isinstance(text, str) else text
                )
        book = next((folder / name for name in spoilt if name.endswith(".xlsx")), None)
        assert main(["check", str(book or folder), str(folder / plan)]) == BAD_INPUT
        lines = capsys.readouterr().err.splitlines()
        assert lines
        assert max(map(len, lines)) < 1_000
        assert not any(unseen_sign(line) for line in lines)
        return lines

    return told


def one(lines: list[str], file: str) -> None:
    """There is one sentence, and it names the file."""
    assert len(lines) == 1, lines
    assert lines[0].startswith(file), lines


def row(table: str, **cells: str) -> str:
    """A table with one row."""
    columns = [column for column in COLUMNS[table] if column in cells]
    quoted = ",".join(
        '"' + cells[column].replace('"', '""') + '"' for column in columns
    )
    return ",".join(columns) + "\n" + quoted + "\n"


def in_table(table: str, column: str, **others: str) -> Callable[[str], dict[str, str]]:
    """A table with a text in that column."""
    return lambda text: {f"{table}.csv": row(table, **{**others, column: text})}


NUMBER_COLUMNS = {
    "cut width": in_table("cuts", "width", cut="a", length="5"),
    "cut count": in_table("cuts", "count", cut="a", width="5", length="5"),
    "most each": in_table("cuts", "most_each", cut="a", width="5", length="5"),
    "strip total": in_table("strips", "total_length", strip="a", width="2"),
    "piece width": in_table("pieces", "width", piece="a", fabric="pear", length="5"),
    "usable width": in_table("shop", "usable_width", fabric="oat"),
    "sold by": in_table("shop", "sold_by", fabric="oat"),
    "price": in_table("shop", "price", fabric="oat"),
    "setting": lambda text: {"job.toml": f'unit = "in"\nseam = "{text}"\n'},
    "longest cut": lambda text: {"job.toml": f'unit = "in"\nlongest_cut = "{text}"\n'},
    "turns": lambda text: {"job.toml": f'unit = "in"\nturns = "{text}"\n'},
}


@pytest.mark.parametrize("place", NUMBER_COLUMNS)
@pytest.mark.parametrize("number", NUMBERS)
def test_numbers_that_are_none(tell: Tell, place: str, number: str) -> None:
    spoilt = NUMBER_COLUMNS[place](NUMBERS[number])
    one(tell(spoilt), next(iter(spoilt)))


@pytest.mark.parametrize("number", NUMBERS)
def test_numbers_that_are_none_in_a_pile(tell: Tell, number: str) -> None:
    one(tell({"pile.txt": f"pear {NUMBERS[number]} x 7 ?\n"}), "pile.txt row 1")


@pytest.mark.parametrize("number", NUMBERS)
def test_numbers_that_are_none_in_a_corner(tell: Tell, number: str) -> None:
    outline = f"0 0; 5 0; {NUMBERS[number]} !"
    one(
        tell(in_table("pieces", "outline", piece="a", fabric="pear")(outline)),
        "pieces.csv row 2, outline",
    )


def test_digits_of_other_scripts() -> None:
    """Python's int reads all decimal digits of Unicode (category Nd), so that these are exact: 12, 3, 34 1/2."""
    assert parse_length("１２") == 12 * INCH
    assert parse_length("٣") == 3 * INCH
    assert parse_length("३४ १/२") == Fraction(69, 2) * INCH
    assert pile("pear ٣ x １２")[0].size == (3 * INCH, 12 * INCH)


NAME_COLUMNS = {
    "cut": in_table("cuts", "cut", width="5", length="5"),
    "strip": in_table("strips", "strip", width="2", total_length="50"),
    "piece": in_table("pieces", "piece", fabric="pear", width="5", length="5"),
    "fabric": lambda text: {"fabrics.csv": SOUND["fabrics.csv"] + f'"{text}",,,\n'},
    "tag": lambda text: {"fabrics.csv": SOUND["fabrics.csv"] + f'plum,,"{text}",\n'},
    "colour": in_table("fabrics", "colour", fabric="pear")
    and (
        lambda text: {
            "fabrics.csv": f'fabric,colour,tags\noat,,light\nblossom,,\npear,"{text}",\n'
        }
    ),
    "together": in_table("cuts", "together", cut="a", width="5", length="5"),
    "pile": lambda text: {
        "pile.txt": f"{text} 5 x 5\n",
        "fabrics.csv": SOUND["fabrics.csv"] + f"{text[:9]},,,\n",
    },
}


@pytest.mark.parametrize(
    "place", ["cut", "strip", "piece", "fabric", "tag", "colour", "together"]
)
@pytest.mark.parametrize("name", NAMES)
def test_names_that_cannot_be_shown(tell: Tell, place: str, name: str) -> None:
    spoilt = NAME_COLUMNS[place](NAMES[name])
    lines = tell(spoilt)
    if place not in (
        "fabric",
        "colour",
    ):  # else more may be wrong: the fabric is not there
        one(lines, next(iter(spoilt)))


@pytest.mark.parametrize("name", SIGNS)
@pytest.mark.parametrize("file", FILES)
def test_signs_that_nobody_sees_are_told_wherever_they_stand(
    tell: Tell, name: str, file: str
) -> None:
    told = tell({file: SOUND.get(file, "") + f"# {SIGNS[name]}\n"})
    assert any(
        line.startswith(f"{file} row") and "nobody can see (U+" in line for line in told
    )


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("file", FILES)
def test_files_that_are_none(tell: Tell, kind: str, file: str) -> None:
    lines = tell({file: KINDS[kind]})
    assert any(line.startswith(file) for line in lines)
    if kind in ("dead_link", "looped_link", "pipe", "folder", "huge") and file in (
        "pile.txt",
        "quilt.toml",
        "job.toml",
    ):
        one(lines, file)


@pytest.mark.parametrize("kind", KINDS)
def test_plans_that_are_no_files(tell: Tell, kind: str) -> None:
    lines = tell({"plan.json": KINDS[kind]})
    assert all(line.startswith("plan.json") for line in lines)


@pytest.mark.parametrize("kind", KINDS)
def test_workbooks_that_are_no_files(tell: Tell, kind: str) -> None:
    if kind == "folder":
        pytest.skip("a folder of that name is a job of tables")
    one(tell(dict.fromkeys(SOUND, pass_over) | {"mine.xlsx": KINDS[kind]}), "mine.xlsx")


def pass_over(path: Path) -> None:
    """Write nothing."""


@pytest.mark.parametrize("book", BOOKS)
def test_workbooks(tell: Tell, book: str) -> None:
    lines = tell(dict.fromkeys(SOUND, pass_over) | {"mine.xlsx": BOOKS[book]()})
    assert all(line.startswith(("mine.xlsx", "there may be more")) for line in lines)
    if "rows" not in book and "no sheet" not in book:
        assert len(lines) <= 2, lines


@pytest.mark.parametrize("toml", TOMLS)
def test_settings(tell: Tell, toml: str) -> None:
    lines = tell({"job.toml": TOMLS[toml]})
    assert all(line.startswith("job.toml") for line in lines)
    assert len(lines) <= 3


@pytest.mark.parametrize("toml", QUILTS)
def test_quilts(tell: Tell, toml: str) -> None:
    lines = tell({"quilt.toml": QUILTS[toml]})
    assert all(line.startswith("quilt.toml") for line in lines)
    assert len(lines) <= 2


@pytest.mark.parametrize("plan", PLANS)
def test_plans(tell: Tell, plan: str) -> None:
    lines = tell({"plan.json": PLANS[plan]})
    assert all(line.startswith(("plan.json", "there may be more")) for line in lines)
    assert len(lines) <= 201


@pytest.mark.parametrize("file", FILES[:-1])
def test_a_second_spelling_of_a_file(tell: Tell, file: str) -> None:
    """On a disk that tells capitals apart only one of them can be meant."""
    text = SOUND.get(file, "pear 5 x 5\n")
    (line,) = tell({file: text, file.capitalize(): text})
    assert (
        line
        == f"{file.capitalize()}: {file} is there too, and only one of them can be read; keep one"
    )


@pytest.mark.parametrize("name", ["Cuts.csv", "CUTS.CSV"])
def test_a_file_in_capitals_is_read(tmp_path: Path, name: str) -> None:
    for file, text in SOUND.items():
        (tmp_path / (name if file == "cuts.csv" else file)).write_text(text)
    assert read_job(tmp_path).cuts[0].count == 10


@pytest.mark.parametrize("ends", ["\r\n", "\r", "\n"])
@pytest.mark.parametrize("mark", ["", "\ufeff"])
def test_line_ends_and_a_byte_order_mark(tmp_path: Path, ends: str, mark: str) -> None:
    for file, text in (SOUND | {"pile.txt": "pear 5 x 5\n\noat 6 x 6\n"}).items():
        (tmp_path / file).write_bytes((mark + text).replace("\n", ends).encode())
    assert [piece.name for piece in read_job(tmp_path).pieces] == [
        "pear-1",
        "oat-1",
        "bib",
    ]


@pytest.mark.parametrize(
    ("unit", "line", "mend"),
    [
        ("in", "pear 1100 x 900", "mm if millimetres are meant"),
        ("in", "pear 1100 by 900", "mm if millimetres are meant"),
        ("in", "pear 1100 x 40", "across first and then along"),
        ("in", "pear 40 x 1100", "mm if millimetres are meant, or in if it is so"),
        ("in", "20 squares pear 500", "mm if millimetres are meant"),
        ("in", "pear 30 m x 30 m", "check the numbers"),
        ("cm", "pear 400 x 300", "across first and then along"),
        ("cm", "pear 1100 x 900", "mm if millimetres are meant"),
    ],
)
def test_cloth_wider_than_any_is_asked_back(unit: str, line: str, mend: str) -> None:
    """The widest on sale: about 3 m or 120 in across; bolts hold up to about 30 yd (common practice, no source)."""
    with pytest.raises(JobError, match=mend):
        pile(line, unit)


@pytest.mark.parametrize(
    "line",
    [
        "pear 120 x 90",
        "pear 44 x 1080",
        "pear 1100 x 900 mm",
        "pear 1100 mm x 900 mm",
        "pear 140 in x 60",
    ],
)
def test_cloth_that_may_be_so_wide(line: str) -> None:
    assert pile(line)


@pytest.mark.parametrize(
    "spoilt",
    [
        in_table("pieces", "outline", piece="a", fabric="pear")(
            "0 0; 1100 0; 1100 900; 0 900"
        ),
        in_table("pieces", "width", piece="a", fabric="pear", length="900")("1100"),
        in_table("shop", "each_width", fabric="pear", each_length="900")("1100"),
        in_table("cuts", "width", cut="a", length="900")("1100"),
        in_table("pieces", "outline", piece="a", fabric="pear")(
            "; ".join(f"{i} {i * i}" for i in range(1001))
        ),
        in_table("pieces", "flaws", piece="a", fabric="pear", width="9", length="9")(
            "|".join(["1 x 1 at 1 1"] * 101)
        ),
        in_table("pieces", "outline", piece="a", fabric="pear")(
            "0 0; 5 0; 1" + " " * 1000 + "?"
        ),
        in_table("pieces", "outline", piece="a", fabric="pear")(
            "0 0; 5 0; " + "1 " * 1000
        ),
        in_table("pieces", "outline", piece="a", fabric="pear")("0 0; 3 m 0; 0 99 m"),
        {"cuts.csv": ",".join("abcdefgh" * 20) + "\n"},
        {"cuts.csv": "cut,width,length\na,5,5" + ",x" * 5000 + "\n"},
        {"cuts.csv": 'cut,width,length\n"a,5,5\n' + "b,5,5\n" * 100},
        {"cuts.csv": "cut,width,length,note\na,5,5," + "n" * 3000 + "\n"},
        {"cuts.csv": "cut,width,length\n" + ",,\n" * 10_001},
        {"pile.txt": "\n" * 10_001},
        {"pile.txt": "pear 5 x 5, note " + "n" * 2000 + "\n"},
        {"pile.txt": "1 " * 499 + "\n"},
        {"pile.txt": "pear " + "1-" * 490 + "\n"},
        {"pile.txt": '"' * 999 + "\n"},
        {"pile.txt": "pear 5 x 5" + " less 1 x 1" * 80 + "\n"},
        {"pile.txt": "99999999999999999999 pear 5 x 5\n"},
    ],
)
def test_too_much(tell: Tell, spoilt: dict[str, str]) -> None:
    one(tell(spoilt), next(iter(spoilt)))


def test_very_many_mistakes_are_told_in_part(tell: Tell) -> None:
    lines = tell({"cuts.csv": "cut,width,length\n" + "a,five,5\n" * 9_000})
    assert len(lines) == 201
    assert lines[-1] == "there may be more mistakes than these; mend these first"


@pytest.mark.parametrize(
    "path", ["nowhere", "nowhere.xlsx", "job/cuts.csv", "job/pipe", "a" * 3000]
)
def test_paths_that_are_no_jobs(
    tell: Tell, tmp_path: Path, path: str, capsys: pytest.CaptureFixture[str]
) -> None:
    tell({"pipe": KINDS["pipe"]})
    assert main(["check", str(tmp_path / path), "plan.json"]) == BAD_INPUT
    assert len(capsys.readouterr().err.splitlines()) == 1


def limited(code: str, *arguments: object) -> str:
    """What a script prints that may use 2 GiB of addresses and 60 s of a processor, and no more."""
    limits = "import resource as r\nr.setrlimit(r.RLIMIT_AS, (2**31, 2**31))\nr.setrlimit(r.RLIMIT_CPU, (60, 60))\n"
    environment = os.environ | {"PYTHONPATH": str(ROOT), "OPENBLAS_NUM_THREADS": "1"}
    command = [sys.executable, "-c", limits + code, *map(str, arguments)]
    run = subprocess.run(
        command, capture_output=True, text=True, check=True, env=environment
    )
    return run.stdout


READ = """
import sys
from cutopt import read_job
from cutopt.errors import JobError, Problem
try:
    job = read_job(sys.argv[1])
except JobError as error:
    print(error)
else:
    print(len(job.pieces), len(job.cuts), job.pieces[-1].name)
"""
not_windows = pytest.mark.skipif(
    os.name != "posix", reason="no limits of memory on this system"
)


@not_windows
def test_a_stray_cell_in_the_last_row(tmp_path: Path) -> None:
    (tmp_path / "mine.xlsx").write_bytes(sound_book())
    book = openpyxl.load_workbook(tmp_path / "mine.xlsx")
    book["pile"]["A1048576"] = "pear 4 x 4"
    book["cuts"]["Z1048576"] = "?"
    book.save(tmp_path / "mine.xlsx")
    told = limited(READ, tmp_path / "mine.xlsx")
    assert told.startswith(
        'mine.xlsx sheet cuts row 1048576: "?" stands in a column without a heading'
    )


@not_windows
def test_a_pile_of_ten_thousand_lines_of_one_fabric(tmp_path: Path) -> None:
    (tmp_path / "job.toml").write_text('unit = "in"\n')
    (tmp_path / "cuts.csv").write_text(SOUND["cuts.csv"].replace("pear|any light", ""))
    (tmp_path / "pile.txt").write_text("pear 11 x 7\n" * 10_000)
    assert limited(READ, tmp_path) == "10000 1 pear-10000\n"


@not_windows
def test_every_line_a_fabric_of_its_own(tmp_path: Path) -> None:
    lines = [f'"f{i}" 11 x 7' for i in range(5_000)]
    (tmp_path / "job.toml").write_text('unit = "in"\n')
    (tmp_path / "cuts.csv").write_text(
        "cut,width,length,fabrics\n" + "".join(f"c{i},5,5,f{i}\n" for i in range(5_000))
    )
    (tmp_path / "pile.txt").write_text("\n".join(lines))
    assert limited(READ, tmp_path) == "5000 5000 f4999-1\n"


def test_a_job_of_long_names_is_not_saved_half(tmp_path: Path) -> None:
    job = read_job(ROOT / "data" / "orchard")
    with pytest.raises(Problem, match="cannot be written as tables"):
        save_job(
            type(job)(name="n" * 5000, fabrics=job.fabrics, cuts=job.cuts),
            tmp_path / "new",
        )
    assert list(tmp_path.iterdir()) == []
