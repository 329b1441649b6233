"""Backs to be pieced and spare blocks: read from a folder or workbook, written, and each mistake with its mend.

Sizes with their overage are sums that stand beside the tests; what seams and overages are usual is common practice,
no source.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cutopt.errors import JobError, Problem
from cutopt.fabric import Fabric
from cutopt.job import Job
from cutopt.lengths import CM, INCH, MM
from cutopt.piecing import LOOKS, RUNS, Back, BackRules, BlockWish, SpareBlock
from cutopt.settings import Settings
from cutopt.tables import read_job, save_job
from cutopt.tables.job.back_rules import usual_rules
from cutopt.tables.job.saving import tables_of
from cutopt.tables.rows.backs import wishes
from tests.check.backs_by_hand import GOOD_BACKS

Write = Callable[..., Path]
BACKS = "back,width,length,seam,fabrics,blocks,importance,note\n"
BLOCKS = "block,count,width,length,may_trim_to,note\n"
STARS = BLOCKS + "star,3,12 1/2,12 1/2,12,\ncrate,1,6 1/2,9 1/2,,\n"
LAP = BACKS + "lap,44,50,,,any|must star,,\n"
INCHES = 'unit = "in"\n'


def problems(folder: Path) -> tuple[Problem, ...]:
    with pytest.raises(JobError) as caught:
        read_job(folder)
    return caught.value.problems


# -- what is read ------------------------------------------------------------------------------------


def test_a_back_with_all_that_can_be_said_of_it(write: Write) -> None:
    told = (
        "[back.lap]\nblock_seam = '3/8'\noverage = 4\nsmallest_part = 3.5\n"
        "edge_part = '8 in'\nmost_parts = 9\nmost_seams = 8\nmain = 'oat'\nrun = 'Across'\n"
        "middle = false\nupright = true\nlook = 'calm'\n"
    )
    table = BACKS + "lap,44,1 1/2 yd,3/8,oat|any light,any|must 2 star,nice,mine\n"
    job = read_job(
        write(job_toml=INCHES + told, backs_csv=table, blocks_csv=STARS, cuts_csv=None)
    )
    rules = BackRules(
        seam=3 * INCH // 8,
        block_seam=3 * INCH // 8,
        overage=4 * INCH,
        smallest_part=7 * INCH // 2,
        edge_part=8 * INCH,
        most_parts=9,
        most_seams=8,
        main="oat",
        run="across",
        middle=False,
        upright=True,
        look="calm",
    )
    assert job.backs == (
        Back(
            name="lap",
            width=44 * INCH,
            length=54 * INCH,
            fabrics=("oat", "any light"),
            blocks=(BlockWish(name="any"), BlockWish(name="star", least=2)),
            importance="nice",
            note="mine",
            rules=rules,
        ),
    )
    half = INCH // 2
    assert job.spare_blocks == (
        SpareBlock(
            name="star",
            count=3,
            width=25 * half,
            length=25 * half,
            may_trim_to=(24 * half, 24 * half),
        ),
        SpareBlock(name="crate", width=13 * half, length=19 * half),
    )
    assert job.notices == ()


def test_what_is_usual_follows_the_unit_and_the_seam_of_the_job(write: Write) -> None:
    inches = read_job(
        write(job_toml=INCHES + "seam = '3/8'\n", backs_csv=LAP, blocks_csv=STARS)
    )
    assert inches.backs[0].rules == BackRules(block_seam=3 * INCH // 8)
    metric = read_job(
        write(job_toml='unit = "cm"\n', backs_csv=BACKS + "lap,110,125,,,,,\n")
    )
    assert metric.backs[0].rules == BackRules.metric()
    assert (metric.backs[0].rules.seam, metric.backs[0].rules.overage) == (CM, 5 * CM)


def test_a_seam_may_stand_in_either_place_or_in_both_alike(write: Write) -> None:
    row = BACKS + "lap,44,50,{},,,,\n"
    there = INCHES + '[back.lap]\nseam = "5/8"\n'
    seams = [
        read_job(write(job_toml=toml, backs_csv=row.format(cell))).backs[0].rules.seam
        for toml, cell in ((INCHES, "5/8"), (there, ""), (there, "0.625"))
    ]
    assert seams == [5 * INCH // 8] * 3


@pytest.mark.parametrize(
    ("text", "read"),
    [
        ("any", [("any", 0)]),
        ("Star | crate", [("star", 0), ("crate", 0)]),
        ("must star", [("star", 1)]),
        ("Must  3 STAR", [("star", 3)]),
        ("must all star|any", [("star", 7), ("any", 0)]),
        ("3 boats", [("3 boats", 0)]),
        ("must 3 boats", [("3 boats", 1)]),
        ("must 1 3 boats", [("3 boats", 1)]),
        ("must all 3 boats", [("3 boats", 2)]),
        ("", []),
    ],
)
def test_which_blocks_may_and_must_go_in(
    text: str, read: list[tuple[str, int]]
) -> None:
    found = wishes(text, {"star": 7, "crate": 1, "3 boats": 2})
    assert [(wish.name, wish.least) for wish in found] == read


def test_in_a_workbook_each_rule_is_a_setting_of_the_sheet_job(tmp_path: Path) -> None:
    import openpyxl

    book = openpyxl.Workbook()
    sheets = {
        "job": [
            ("setting", "value"),
            ("unit", "in"),
            ("back.lap.middle", False),
            ("Back . lap . Most seams", 4),
        ],
        "pile": [("pear 11 x 7",)],
        "backs": [("back", "width", "length"), ("lap", 44, 50)],
        "blocks": [("block", "width", "length"), ("star", 6.5, 6.5)],
    }
    for name, rows in sheets.items():
        sheet = book.create_sheet(name)
        for row in rows:
            sheet.append(row)
    book.save(tmp_path / "quilt.xlsx")
    job = read_job(tmp_path / "quilt.xlsx")
    assert job.backs[0].rules == BackRules(middle=False, most_seams=4)
    assert job.spare_blocks[0].width == 13 * INCH // 2
    assert any("none is given for star" in notice for notice in job.notices)


def test_blocks_without_a_back_are_noticed(write: Write) -> None:
    job = read_job(write(blocks_csv=STARS))
    assert len(job.spare_blocks) == 2
    (notice,) = job.notices
    assert notice.startswith("blocks.csv: spare blocks go into a back")


# -- what is wrong -----------------------------------------------------------------------------------

# changed files | where: file, row, field | part of what is wrong | part of the mend
MISTAKES: dict[str, tuple[dict[str, str], tuple[str, int, str], str, str]] = {
    "seam in two places": (
        {
            "job_toml": INCHES + '[back.lap]\nseam = "3/8"\n',
            "backs_csv": BACKS + "lap,44,50,1/2,,,,\n",
        },
        ("backs.csv", 2, "seam"),
        'the seam is "1/2" here, and "3/8" in job.toml row 3',
        "here or there",
    ),
    "a word that is no rule": (
        {"job_toml": INCHES + "[back.lap]\nmost_seem = 3\n"},
        ("job.toml", 3, "back.lap.most_seem"),
        '"most_seem"',
        'did you mean "most_seams"?',
    ),
    "a word like no rule": (
        {"job_toml": INCHES + "[back.lap]\nzigzag = 3\n"},
        ("job.toml", 3, "back.lap.zigzag"),
        '"zigzag"',
        "smallest_part",
    ),
    "a back that is not there": (
        {"job_toml": INCHES + "[back.lapp]\nseam = 1\n"},
        ("job.toml", 3, "back"),
        'there is no back "lapp"',
        "[back.lap]",
    ),
    "an empty section of a back that is not there": (
        {"job_toml": INCHES + "[back.cot]\n"},
        ("job.toml", 2, "back"),
        'there is no back "cot"',
        "backs.csv",
    ),
    "no name of a back": (
        {"job_toml": INCHES + "[back]\nseam = 1\n"},
        ("job.toml", 3, "back"),
        "of which back",
        "[back.NAME]",
    ),
    "a misspelt section": (
        {"job_toml": INCHES + "[bakc.lap]\nseam = 1\n"},
        ("job.toml", 2, "bakc"),
        '"bakc"',
        '"back"',
    ),
    "a list": (
        {"job_toml": INCHES + "[back.lap]\nmain = ['oat', 'pear']\n"},
        ("job.toml", 3, "back.lap.main"),
        "a list",
        "",
    ),
    "twice": (
        {"job_toml": INCHES + "[back.lap]\nmost_seams = 3\nMost-Seams = 3\n"},
        ("job.toml", 4, "back.lap.most_seams"),
        "set twice",
        "keep one",
    ),
    "run": (
        {"job_toml": INCHES + "[back.lap]\nrun = 'acros'\n"},
        ("job.toml", 3, "back.lap.run"),
        '"acros"',
        '"across"',
    ),
    "look": (
        {"job_toml": INCHES + "[back.lap]\nlook = 'zzz'\n"},
        ("job.toml", 3, "back.lap.look"),
        '"zzz"',
        "calm, busy",
    ),
    "middle": (
        {"job_toml": INCHES + "[back.lap]\nmiddle = 'maybe'\n"},
        ("job.toml", 3, "back.lap.middle"),
        '"maybe"',
        "yes or no",
    ),
    "no parts": (
        {"job_toml": INCHES + "[back.lap]\nmost_parts = 0\n"},
        ("job.toml", 3, "back.lap.most_parts"),
        "",
        "",
    ),
    "a length that is none": (
        {"job_toml": INCHES + "[back.lap]\noverage = 'some'\n"},
        ("job.toml", 3, "back.lap.overage"),
        '"some" is not a length',
        "2 1/2",
    ),
    "a seam below 0": (
        {"job_toml": INCHES + "[back.lap]\nseam = -1\n"},
        ("job.toml", 3, "back.lap.seam"),
        "below 0",
        "0 or more",
    ),
    "several main fabrics": (
        {"job_toml": INCHES + "[back.lap]\nmain = 'oat|pear'\n"},
        ("job.toml", 3, "back.lap.main"),
        "several",
        "one fabric",
    ),
    "a main fabric that nobody knows": (
        {"job_toml": INCHES + "[back.lap]\nmain = 'peer'\n"},
        ("job.toml", 3, "back.lap.main"),
        '"peer"',
        '"pear"',
    ),
    "a main fabric that is none of the fabrics": (
        {
            "job_toml": INCHES + "[back.lap]\nmain = 'oat'\n",
            "backs_csv": BACKS + "lap,44,50,,pear|prints,,,\n",
        },
        ("job.toml", 3, "back.lap.main"),
        "pear|prints",
        "add oat",
    ),
    "a seam wider than a part": (
        {"job_toml": INCHES + "[back.lap]\nsmallest_part = 1\nblock_seam = 2\n"},
        ("job.toml", 4, "back.lap.block_seam"),
        "wider than the smallest part",
        "smaller seam",
    ),
    "a seam wider than a part, in the table": (
        {"backs_csv": BACKS + "lap,44,50,4,,,,\n"},
        ("backs.csv", 2, "seam"),
        "wider than the smallest part",
        "smaller seam",
    ),
    "a part larger than the back": (
        {
            "job_toml": INCHES + "[back.lap]\nsmallest_part = 30\n",
            "backs_csv": BACKS + "lap,20,50,,,,,\n",
        },
        ("job.toml", 3, "back.lap.smallest_part"),
        "larger than the back",
        "smaller",
    ),
    "an overage that takes all": (
        {
            "job_toml": INCHES + "[back.lap]\noverage = 12\n",
            "backs_csv": BACKS + "lap,20,50,,,,,\n",
        },
        ("job.toml", 3, "back.lap.overage"),
        "takes all",
        "less",
    ),
    "a usual overage that takes all": (
        {"backs_csv": BACKS + "lap,4,50,,,,,\n"},
        ("backs.csv", 2, "overage"),
        "takes all",
        "less",
    ),
    "a back as large as a field": (
        {"backs_csv": BACKS + "lap,44,101 m,,,,,\n"},
        ("backs.csv", 2, "length"),
        "longer than 100 m",
        "unit",
    ),
    "no size": (
        {"backs_csv": BACKS + "lap,44,,,,,,\n"},
        ("backs.csv", 2, "length"),
        "missing",
        "such as",
    ),
    # 40 and 2 in on both sides
    "a finished back": (
        {"backs_csv": BACKS + "lap,40 finished,50,,,,,\n"},
        ("backs.csv", 2, "width"),
        "a finished size",
        "44 in",
    ),
    # 12 and 1/4 in on both sides
    "a finished block": (
        {"blocks_csv": BLOCKS + "star,1,12 1/2,12 (finished),,\n"},
        ("blocks.csv", 2, "length"),
        "a finished size",
        "12 1/2 in",
    ),
    "a finished trim": (
        {"blocks_csv": BLOCKS + "star,1,12 1/2,12 1/2,12 finished,\n"},
        ("blocks.csv", 2, "may_trim_to"),
        "a finished size",
        "seams included",
    ),
    "a trim above the size": (
        {"blocks_csv": BLOCKS + "star,1,12 1/2,12 1/2,12 x 13,\n"},
        ("blocks.csv", 2, "may_trim_to"),
        "more than it is",
        "smaller",
    ),
    "a trim of three sides": (
        {"blocks_csv": BLOCKS + "star,1,12 1/2,12 1/2,6 x 6 x 6,\n"},
        ("blocks.csv", 2, "may_trim_to"),
        "not a size",
        "6 x 9",
    ),
    "a trim that became a date": (
        {"blocks_csv": BLOCKS + "star,1,12 1/2,12 1/2,2026-01-02,\n"},
        ("blocks.csv", 2, "may_trim_to"),
        "date",
        "",
    ),
    "a block twice": (
        {"blocks_csv": STARS + "Star,1,6,6,,\n"},
        ("blocks.csv", 4, "block"),
        "row 2 already",
        "own name",
    ),
    "a back twice": (
        {"backs_csv": LAP + "Lap,44,50,,,,,\n"},
        ("backs.csv", 3, "back"),
        "row 2 already",
        "own name",
    ),
    "a block called any": (
        {"blocks_csv": STARS + "any,1,6,6,,\n"},
        ("blocks.csv", 4, "block"),
        '"any"',
        "another name",
    ),
    "a block called must": (
        {"blocks_csv": STARS + "must 3,1,6,6,,\n"},
        ("blocks.csv", 4, "block"),
        '"must 3"',
        "another name",
    ),
    "blocks that are not there": (
        {"backs_csv": BACKS + "lap,44,50,,,boat,,\n"},
        ("backs.csv", 2, "blocks"),
        '"boat"',
        "crate, star",
    ),
    "all of what is not there": (
        {"backs_csv": BACKS + "lap,44,50,,,must all boat,,\n"},
        ("backs.csv", 2, "blocks"),
        '"boat"',
        "star, crate",
    ),
    "more than there are": (
        {"backs_csv": BACKS + "lap,44,50,,,must 4 star,,\n"},
        ("backs.csv", 2, "blocks"),
        "there are 3",
        "must 3 star",
    ),
    "none that must": (
        {"backs_csv": BACKS + "lap,44,50,,,must 0 star,,\n"},
        ("backs.csv", 2, "blocks"),
        "asks for none",
        "leave must out",
    ),
    "may and must": (
        {"backs_csv": BACKS + "lap,44,50,,,star|must star,,\n"},
        ("backs.csv", 2, "blocks"),
        "star stands 2 times",
        "say once",
    ),
    "any that must": (
        {"backs_csv": BACKS + "lap,44,50,,,must any,,\n"},
        ("backs.csv", 2, "blocks"),
        "must says which",
        "name of a block",
    ),
    # 12 in at least with 1/4 in seams show 11 1/2; 15 less two overages of 2 in leave 11
    "a block larger than what is left of the back": (
        {"backs_csv": BACKS + "lap,15,50,,,star,,\n"},
        ("backs.csv", 2, "blocks"),
        "larger than what is left",
        "leave star out",
    ),
    # 3 x 11 1/2 x 11 1/2 = 396 3/4 square inches; 12 x 32 are 384
    "blocks that are larger together": (
        {"backs_csv": BACKS + "lap,16,36,,,must all star,,\n"},
        ("backs.csv", 2, "blocks"),
        "larger together",
        "fewer",
    ),
    "more blocks than parts": (
        {
            "job_toml": INCHES + "[back.lap]\nmost_parts = 2\n",
            "backs_csv": BACKS + "lap,44,50,,,must all star,,\n",
        },
        ("job.toml", 3, "back.lap.most_parts"),
        "3 blocks have to go in",
        "4 or more",
    ),
    "an unknown fabric": (
        {"backs_csv": BACKS + "lap,44,50,,peer,,,\n"},
        ("backs.csv", 2, "fabrics"),
        '"peer"',
        '"pear"',
    ),
    "importance": (
        {"backs_csv": BACKS + "lap,44,50,,,,perhaps,\n"},
        ("backs.csv", 2, "importance"),
        '"perhaps"',
        "nice",
    ),
}


@pytest.mark.parametrize("kind", MISTAKES)
def test_one_mistake_is_one_problem(write: Write, kind: str) -> None:
    changed, place, what, mend = MISTAKES[kind]
    files = {"backs_csv": LAP, "blocks_csv": STARS} | changed
    found = problems(write(**files))
    assert [(p.file, p.row, p.field) for p in found] == [place], [str(p) for p in found]
    assert what in found[0].what
    assert mend in found[0].mend


def test_a_block_that_just_fits_what_is_left_is_right(write: Write) -> None:
    """12 in trimmed, less 1/4 in seams: 11 1/2 shows; 15 1/2 less twice 2 in is just that."""
    job = read_job(
        write(backs_csv=BACKS + "lap,15 1/2,50,,,star,,\n", blocks_csv=STARS)
    )
    assert job.backs[0].may_take(job.spare_blocks[0])


def test_a_block_that_could_not_be_read_is_told_once(write: Write) -> None:
    """And not a second time where a back names it."""
    table = BLOCKS + "star,3,twelve,12 1/2,,\n"
    found = problems(write(backs_csv=LAP, blocks_csv=table))
    assert [(p.file, p.row, p.field) for p in found] == [("blocks.csv", 2, "width")]


# -- what is written ---------------------------------------------------------------------------------

SIZES = st.integers(2 * INCH, 30 * INCH)
SMALL = st.integers(0, INCH)


@st.composite
def blocks(draw: st.DrawFn, name: str) -> SpareBlock:
    width, length = draw(SIZES), draw(SIZES)
    trim = st.tuples(st.integers(INCH, width), st.integers(INCH, length))
    return SpareBlock(
        name=name,
        width=width,
        length=length,
        count=draw(st.integers(1, 9)),
        may_trim_to=draw(st.none() | trim),
        note=draw(st.sampled_from(["", "by Ann"])),
    )


@st.composite
def rules(draw: st.DrawFn) -> BackRules:
    return BackRules(
        seam=draw(SMALL),
        block_seam=draw(st.integers(0, INCH // 4)),
        overage=draw(st.integers(0, 5 * INCH)),
        smallest_part=draw(st.integers(INCH, 9 * INCH)),
        edge_part=draw(st.integers(0, 9 * INCH)),
        most_parts=draw(st.none() | st.integers(40, 99)),
        most_seams=draw(st.none() | st.integers(40, 99)),
        main=draw(st.sampled_from(["", "oat", "any light"])),
        run=draw(st.sampled_from(RUNS)),
        middle=draw(st.booleans()),
        upright=draw(st.booleans()),
        look=draw(st.sampled_from(LOOKS)),
    )


@st.composite
def jobs(draw: st.DrawFn) -> Job:
    """A back of any rules, named as people name things, with blocks of which some have to go in."""
    kinds = ("star", "3 boats", "all crates")
    spare = tuple(draw(blocks(name)) for name in kinds)
    wished = draw(st.lists(st.sampled_from(spare), unique=True))
    named = [
        BlockWish(name=kind.name, least=draw(st.integers(0, min(2, kind.count))))
        for kind in wished
    ]
    if draw(st.booleans()):
        named.append(BlockWish(name="any"))
    usual = usual_rules(Settings())
    back = Back(
        name=draw(
            st.sampled_from(["lap", "Ann's back", 'the "long" one', "a.b", "b]"])
        ),
        width=draw(st.integers(100 * INCH, 140 * INCH)),
        length=draw(st.integers(100 * INCH, 140 * INCH)),
        fabrics=draw(st.sampled_from([(), ("oat", "pear"), ("any light",)])),
        blocks=tuple(named),
        importance=draw(st.sampled_from(["must", "nice", "if left"])),
        note=draw(st.sampled_from(["", "no hurry"])),
        rules=draw(st.just(usual) | rules()),
    )
    return Job(
        settings=Settings(seam=draw(SMALL)),
        fabrics=(Fabric(name="oat", value="light"), Fabric(name="pear")),
        backs=(back, replace(back, name="another", blocks=())),
        spare_blocks=spare,
    )


FORMS = st.sampled_from(["again", "again.xlsx"])


@settings(max_examples=6, deadline=None)
@given(jobs(), FORMS)
def test_a_saved_job_reads_back_equal(job: Job, name: str) -> None:
    reads_back(job, name)


@pytest.mark.slow
@settings(max_examples=100, deadline=None)
@given(jobs(), FORMS)
def test_any_saved_job_reads_back_equal(job: Job, name: str) -> None:
    reads_back(job, name)


def reads_back(job: Job, name: str) -> None:
    with TemporaryDirectory() as folder:
        save_job(job, Path(folder) / name)
        again = read_job(Path(folder) / name)
        assert again == job
        assert again.digest == job.digest


def test_the_backs_made_by_hand_read_back_equal() -> None:
    for make in GOOD_BACKS.values():
        reads_back(make()[0], "again")


def test_what_is_usual_is_not_written() -> None:
    metric = Settings.metric()
    back = Back(name="lap", width=110 * CM, length=125 * CM, rules=usual_rules(metric))
    files = tables_of(Job(settings=metric, backs=(back,)))
    assert "back" not in files["job.toml"]
    assert files["backs.csv"].splitlines()[1] == "lap,110,125,1,,,must,"
    assert "blocks.csv" not in files
    other = replace(back, rules=replace(back.rules, overage=60 * MM, middle=False))
    told = tables_of(Job(settings=metric, backs=(other,)))["job.toml"]
    assert told.endswith('\n[back.lap]\noverage = "6"\nmiddle = "no"\n')


def test_a_table_of_backs_that_is_there_is_not_read_beside_a_saved_job(
    tmp_path: Path,
) -> None:
    job = read_job(Path(__file__).parents[2] / "data" / "metric-cushion")
    (tmp_path / "backs.csv").write_text("back,width,length\nlap,110,125\n")
    with pytest.raises(Problem, match=r"backs\.csv is there and would be read too"):
        save_job(job, tmp_path, replace=True)
