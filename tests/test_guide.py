"""The guide says what is so: its code runs, its tables make jobs, its words are those that the code reads."""

from __future__ import annotations

import csv
import io
import re
import shlex
import shutil
from dataclasses import fields
from fractions import Fraction
from pathlib import Path
from typing import get_args, get_type_hints

import pytest

from cutopt.check import check
from cutopt.cli import parser
from cutopt.fabric import Fabric
from cutopt.job import Job
from cutopt.lengths import CM, INCH, parse_length, parse_number
from cutopt.piecing import RULES
from cutopt.precuts import NAMES as PRECUTS
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.pieced.library import TRADITIONAL
from cutopt.settings import Settings
from cutopt.solve.control.stop import Work
from cutopt.solve.solver import solve
from cutopt.tables import pile, read_job
from cutopt.tables.columns import COLUMNS
from cutopt.tables.files.csv_tables import as_sheet
from cutopt.tables.job.back_rules import usual_rules
from cutopt.tables.job.settings import KNOWN
from cutopt.tables.log import Log
from cutopt.tables.recipe.habits import HABITS
from cutopt.tables.recipe.kinds.articles import ARTICLES
from cutopt.tables.recipe.kinds.blocks import BLOCKS, block_of
from cutopt.tables.recipe.kinds.row_units import UNITS
from cutopt.tables.recipe.quilt import KEYS, quilt, read_sheet
from cutopt.wanted import Cut
from tests.places import ROOT
from tests.tables.sentences.corpus import TOLD
from tests.tables.sentences.saying import summary
from tests.written import GUIDE, PAGES, README, Page, page

TABLES = {
    text.split(",", 1)[0]: text
    for name in ("pile", "tables", "workbook")
    for text in PAGES[name].blocks("csv")
}
# the first column of a table is named after what a row of it is
FIRST = {columns[0]: name for name, columns in COLUMNS.items() if name != "shop"}
SHOP = next(t for t in PAGES["tables"].blocks("csv") if "usable_width" in t)
FABRICS = next(t for t in PAGES["tables"].blocks("csv") if "one_way" in t)
CSV = {FIRST[column]: text for column, text in TABLES.items() if column != "fabric"}
CSV |= {"shop": SHOP, "fabrics": FABRICS}
KINDS_OF_BLOCKS = {"sh", "text", "csv", "toml", "python"}


def named(cell: str) -> list[str]:
    """The words between back-ticks."""
    return re.findall(r"`([^`]+)`", cell)


# -- the pages -------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", PAGES)
def test_a_page_has_one_title_and_its_links_lead_somewhere(name: str) -> None:
    titles = re.findall(r"^# ", PAGES[name].text, re.MULTILINE)
    commented = sum(
        len(re.findall(r"^# ", block, re.MULTILINE))
        for kind in KINDS_OF_BLOCKS
        for block in PAGES[name].blocks(kind)
    )
    assert len(titles) - commented == 1
    for place in PAGES[name].links():
        assert place.exists(), place
        # the guide is shipped alone, beside a job
        assert place.parent == GUIDE, place


def test_the_index_and_the_readme_name_the_pages() -> None:
    """And every page leads back to the index."""
    others = {path for path in GUIDE.glob("*.md") if path.name != "index.md"}
    assert set(PAGES["index"].links()) == others
    # and no picture lies there that is on no page
    shown = {place for told in PAGES.values() for place in told.links()}
    assert shown >= set(GUIDE.iterdir()) - {GUIDE / "index.md"}
    assert GUIDE / "index.md" in README.links()
    for place in others:
        assert GUIDE / "index.md" in page(place).links()


@pytest.mark.parametrize("told", [*PAGES.values(), README], ids=[*PAGES, "README"])
def test_every_block_says_what_it_is_and_lines_fit(told: Page) -> None:
    kinds = re.findall(r"^```(\w*)$", told.text, re.MULTILINE)[::2]
    assert set(kinds) <= KINDS_OF_BLOCKS
    words = re.sub(r"^```.*?^```", "", told.text, flags=re.DOTALL | re.MULTILINE)
    for line in words.splitlines():
        assert len(line) <= 90 or line.startswith(("| ", "![")), line


# -- commands and Python ---------------------------------------------------------------------------


def test_every_command_is_one_of_the_program() -> None:
    lines = [
        line
        for told in (*PAGES.values(), README)
        for text in told.blocks("sh")
        for line in text.splitlines()
        if line.startswith("cutopt ")
    ]
    helps = {name: sub.format_help() for name, sub in commands().items()}
    for line in lines:
        _, command, *words = shlex.split(re.sub(r"[][|]", " ", line))
        for option in (word for word in words if word.startswith("--")):
            assert option in helps[command], line
    listed = PAGES["commands"].blocks("sh")[0].splitlines()
    assert {line.split()[1] for line in listed} == set(helps)
    for line in listed:
        options = set(re.findall(r"--[a-z-]+", helps[line.split()[1]])) - {"--help"}
        assert set(re.findall(r"--[a-z-]+", line)) == options


def commands() -> dict[str, object]:
    return next(
        action.choices
        for action in parser()._actions
        if isinstance(action.choices, dict)
    )  # type: ignore[return-value]


@pytest.mark.parametrize("name", ["backing", "python"])
def test_the_python_code_runs(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert [told for told in PAGES if PAGES[told].blocks("python")] == [
        "backing",
        "python",
    ]
    shutil.copytree(ROOT / "data" / "orchard", tmp_path / "data" / "orchard")
    monkeypatch.chdir(tmp_path)
    names: dict[str, object] = {}
    for text in PAGES[name].blocks("python"):
        exec(compile(text, f"{name}.md", "exec"), names)
    assert (tmp_path / "out" / "orchard" / "plan.pdf").is_file() == (name == "python")


# -- tables ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("table", COLUMNS)
def test_the_columns_of_a_table(table: str) -> None:
    """In an example, and those whose name does not say what they are in words too."""
    assert tuple(CSV[table].splitlines()[0].split(",")) == COLUMNS[table]


def test_the_examples_together_are_a_job(tmp_path: Path) -> None:
    files = {f"{name}.csv": CSV[name] for name in CSV if name not in ("job", "quilt")}
    files["job.toml"] = PAGES["settings"].blocks("toml")[0]
    files["pile.txt"] = PAGES["pile"].blocks("text")[0]
    for name, text in files.items():
        (tmp_path / name).write_text(text, encoding="utf-8")
    job = read_job(tmp_path)
    assert len(job.cuts) == 5
    assert len(job.strips) == 1
    assert [back.name for back in job.backs] == ["lap"]
    assert job.backs[0].rules.main == "oat"
    assert job.backs[0].least_of(job.spare_blocks[0]) == 2
    assert job.settings.turns == 4
    assert {row.importance for row in job.cuts} == {"must", "nice"}
    assert len({piece.fabric for piece in job.pieces}) == 5


def test_every_line_of_the_pile_makes_pieces() -> None:
    lines = PAGES["pile"].blocks("text")[0].splitlines()
    assert len(lines) >= 10
    for line in lines:
        assert len(pile(line)) == 1


def test_the_sheets_of_a_workbook() -> None:
    rows = list(csv.reader(io.StringIO(CSV["quilt"])))
    log = Log()
    made = read_sheet(
        as_sheet("workbook.md", list(enumerate(rows, 1)), "quilt", log), Settings(), log
    )
    log.finish()
    assert made is not None
    assert made.quilt.finished is not None
    assert made.quilt.how.machine == "longarm"
    assert {placed.row for placed in made.rows} == {2, 3, 5, 6}
    settings = [row[0] for row in csv.reader(io.StringIO(CSV["job"]))][1:]
    of_backs = [f"back.lap.{rule}" for rule in RULES]
    assert set(settings) <= {*KNOWN, *of_backs}


# -- settings --------------------------------------------------------------------------------------


def test_the_settings_and_their_defaults() -> None:
    told = {
        named(row[0])[0]: row[1:3]
        for row in PAGES["settings"].rows(4)
        if named(row[0]) and "back." not in row[0]
    }
    assert set(told) == set(KNOWN)
    for which, (settings, unit) in enumerate(
        [(Settings(), INCH), (Settings.metric(), CM)]
    ):
        values = {name: cells[which] for name, cells in told.items()}
        assert values.pop("unit") == f"`{settings.unit}`"
        for name in ("preference", "shrinkage"):
            assert values.pop(name) == f"{float(getattr(settings, name)):.0%}"
        keep = (settings.keep_width, settings.keep_length)
        sides = [parse_number(side) for side in values.pop("keep").split(" x ")]
        assert sides == [Fraction(side, unit) for side in keep]
        for name in PRECUTS:
            told_size = [
                parse_length(s, settings.unit) for s in values.pop(name).split(" x ")
            ]
            assert tuple(told_size) == settings.precuts.of(name), name
        assert values.pop("name") == {f.name: f.default for f in fields(Job)}["name"]
        for name in ("turns", "currency", "prewash"):
            assert values.pop(name) == ""
        for name, value in values.items():
            assert parse_number(value) == Fraction(getattr(settings, name), unit), name
    assert Settings().turns is None


def test_what_stands_under_back_and_its_defaults() -> None:
    told = {
        named(row[0])[0]: row[1:3]
        for row in PAGES["settings"].rows(4)
        if "`back." in row[0]
    }
    assert set(told) == {f"back.NAME.{rule}" for rule in RULES}
    for which, settings in enumerate((Settings(), Settings.metric())):
        usual = usual_rules(settings)
        unit = (INCH, CM)[which]
        for name, cells in told.items():
            value = getattr(usual, name.rpartition(".")[2])
            if isinstance(value, bool):
                assert cells[which] == ("yes" if value else "no"), name
            elif isinstance(value, int):
                assert parse_number(cells[which]) == Fraction(value, unit), name
            else:
                assert cells[which] == (value or ""), name


def test_what_stands_under_how_and_its_defaults() -> None:
    told = {named(row[0])[0]: row[1:3] for row in PAGES["how"].rows(4)[1:]}
    assert set(told) == set(HABITS)
    for which, how in enumerate((Conventions(), Conventions.metric())):
        unit = INCH if which == 0 else CM
        for name, cells in told.items():
            default = getattr(how, name)
            if default is None:
                assert cells[which] == "", name
            elif isinstance(default, int) and name != "spares":
                assert parse_number(cells[which]) == Fraction(default, unit), name
            else:
                assert cells[which] == str(default), name


def test_the_words_of_a_setting_under_how_are_all_told() -> None:
    """Those that a setting knows: each is the default, or stands in the row."""
    rows = {named(row[0])[0]: row for row in PAGES["how"].rows(4)[1:]}
    for name, kind in get_type_hints(Conventions).items():
        for word in get_args(kind) if name in rows else ():
            if isinstance(word, str):
                assert any(word in cell for cell in rows[name]), (name, word)


# -- the quilt -------------------------------------------------------------------------------------


def test_the_two_quilts_read() -> None:
    top, recipe = (quilt(text) for text in PAGES["quilt"].blocks("toml"))
    assert [row.key for row in top.wanted] == ["strips/binding"]
    assert len(recipe.wanted) >= 14
    assert recipe.finished is not None
    assert recipe.spare == ()


def test_the_sentences_of_the_guide_read() -> None:
    text, _ = PAGES["quilt"].blocks("text")
    sentences = [line.split("#")[0].strip() for line in text.splitlines()]
    assert len(sentences) > 8
    for sentence in sentences:
        assert not summary("blocks", sentence).startswith(TOLD), sentence


def test_the_sentences_of_the_other_parts_read() -> None:
    _, text = PAGES["quilt"].blocks("text")
    for line in text.splitlines():
        part, sentence = line.split(maxsplit=1)
        key = {"for": "use", "setting": "places"}.get(part, part)
        assert not summary(key, sentence).startswith(TOLD), line


def test_the_shapes_of_the_guide_read() -> None:
    (text,) = PAGES["shapes"].blocks("toml")
    made = quilt(text)
    assert len(made.wanted) >= 11
    assert len(made.laid) == 4


def test_the_blocks_read() -> None:
    """Sentences in text and examples; sizes of the table leave clean marks; cloths are told in the order of the library."""
    told = PAGES["blocks"]
    made = [quilt(text).blocks for text in told.blocks("toml")]
    sentences = [word for word in told.code_words() if re.match(r"\d+ \w+ .*of ", word)]
    read = [block_of(word, Conventions()) for word in sentences if "made" in word]
    assert made
    assert read
    listed = {row[0]: row for row in told.rows(4)[1:] if not row[0].startswith("-")}
    assert set(listed) == set(TRADITIONAL)
    for many, (_, cloths, sizes, _) in listed.items():
        pattern = TRADITIONAL[many]
        if many not in ("rail fences", "courthouse steps"):
            assert len(cloths.split(",")) == len(pattern.cloths)
        for size in sizes.split(","):
            assert block_of(f"2 {many} of {size}", Conventions()).made.notes == ()


def test_what_goes_round_reads() -> None:
    """Each sentence of a border, a setting and a binding in the first column is understood as it stands."""
    page_ = PAGES["round"]
    (made,) = (quilt(text) for text in page_.blocks("toml"))
    assert len(made.wanted) == 6
    blocks = 'blocks = ["18 squares of 12"]\n'
    read = []
    for row in page_.rows(2):
        for said in named(row[0]):
            words = said.replace("\\|", "|")
            value: str | list[str] = words
            before = 'top = "57 x 65"\n'
            key = "binding"
            if words.startswith(("inner", "framed", "upright", "on point", "from oat")):
                before, key = blocks, "setting"
                if words.startswith(("upright", "from")):
                    words = f"framed sashing 2, {words}"
                value = f"3 across, 4 down, {words}"
            elif re.match(r"[1-9](?! 1/4)|squares|rectangles|coping|flange", words):
                key = "borders"
                after = ["squares of 2"] if "coping" in words else []
                first = ["coping"] if re.match("squares|rectangles", words) else []
                value = [*first, words, *after]
            read.append(quilt(f"{before}{key} = {value!r}\n".replace("'", '"')))
    assert len(read) >= 20


def test_every_kind_key_and_article_is_named() -> None:
    told = " ".join((PAGES["quilt"].text + PAGES["blocks"].text).split())
    kinds = (kind.many for kind in (*BLOCKS, *UNITS, *ARTICLES))
    for word in (*kinds, *KEYS):
        assert word in told, word
    parts = [
        word
        for line in re.findall(r"^- (.*?):", PAGES["quilt"].text, re.MULTILINE)
        for word in named(line)
    ]
    assert set(parts) | {"blocks", "measured", "how"} >= set(KEYS) >= set(parts)


def test_a_plan_goes_on_from_what_is_cut_already() -> None:
    """4 squares are there and 8 come of 20 x 9: all 12 (4 x 4 1/2 = 18 across, 2 x 4 1/2 = 9 along; counting)."""
    told = next(text for text in PAGES["pages"].blocks("text") if "use first" in text)
    square = Cut(name="square", count=12, width=9 * INCH // 2, length=9 * INCH // 2)
    pieces = pile(told)
    job = Job(fabrics=(Fabric(name="pear"),), pieces=pieces, cuts=(square,))
    plan = solve(job, Work(20)).plan
    assert check(job, plan) == []
    assert not plan.short
    uncut = {source.id for source in plan.sources} - {cut.part for cut in plan.cuts}
    assert len(uncut) == 4
