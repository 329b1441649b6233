"""The sentence of a back that is pieced from what there is: what it asks for, its size, and its mistakes.

Sizes are sums of invented numbers that stand beside the tests.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from cutopt.errors import JobError, Problem
from cutopt.job import Job
from cutopt.lengths import CM, INCH, MM
from cutopt.piecing import Back, BlockWish
from cutopt.quilt.conventions import Conventions
from cutopt.tables import read_job, save_job
from cutopt.tables.recipe.quilt import quilt, quilt_of
from cutopt.tables.recipe.sentences_of_backs import is_pieced, pieced_words
from cutopt.tables.recipe.wording import pieced_from_any
from tests.written import PAGES

Write = Callable[..., Path]
BLOCKS = "block,count,width,length,may_trim_to\nleftover star,3,12 1/2,12 1/2,12\ncrate,2,6 1/2,9 1/2,\n"
KNOWN = frozenset(("oat", "pear", "light", "greens", "mist"))


def pieced(write: Write, sentence: str, more: str = "", **files: str | None) -> Job:
    """A job whose quilt is backed as a sentence says, around a top of 40 1/2 x 46 1/2."""
    text = f'top = "40 1/2 x 46 1/2"\nbinding = "no"\nbacking = "{sentence}"\n{more}'
    told = {"cuts_csv": None, "quilt_toml": text, "blocks_csv": BLOCKS} | files
    return read_job(write(**told))


def back(*args: Any, **files: Any) -> Back:
    (found,) = pieced(*args, **files).backs
    return found


def problems(*args: Any, **files: Any) -> tuple[Problem, ...]:
    with pytest.raises(JobError) as caught:
        pieced(*args, **files)
    return caught.value.problems


# -- what it asks for --------------------------------------------------------------------------------


def test_a_back_with_blocks_and_a_main_fabric(write: Write) -> None:
    """40 1/2 + 2 x 2 = 44 1/2 wide, 46 1/2 + 2 x 2 = 50 1/2 long; nothing is bought as a backing, batting is."""
    told = "pieced from any, main oat, blocks leftover star, no seam in the middle"
    job = pieced(write, told)
    (made,) = job.backs
    assert (made.name, made.width, made.length) == (
        "backing",
        89 * INCH // 2,
        101 * INCH // 2,
    )
    assert made.fabrics == ()
    assert made.blocks == (BlockWish(name="leftover star"),)
    rules = made.rules
    assert (rules.main, rules.middle, rules.overage) == ("oat", False, 2 * INCH)
    assert (rules.seam, rules.block_seam) == (INCH // 2, INCH // 4)
    assert made.note.endswith("= 44 1/2 x 50 1/2")
    shown = quilt_of(job)
    assert shown is not None
    assert shown.backing is None
    assert shown.batting == ()


def test_the_size_goes_by_machine_and_overage(write: Write) -> None:
    """With 4 in of a longarm 48 1/2 x 54 1/2, with 3 in said 46 1/2 x 52 1/2; what shows of blocks keeps as far off."""
    longarm = back(write, "pieced from any", '[how]\nmachine = "longarm"\n')
    assert (longarm.width, longarm.length) == (97 * INCH // 2, 109 * INCH // 2)
    assert longarm.rules.overage == 4 * INCH
    for words in ("overage 3", "3 larger all round"):
        said = back(write, f"pieced from any, {words}")
        assert (said.width, said.length) == (93 * INCH // 2, 105 * INCH // 2)
        assert said.rules.overage == 3 * INCH


def test_a_metric_job(write: Write) -> None:
    """100 + 2 x 5 = 110 cm; the seam of a back is that under [how], 1.5 cm."""
    made = back(
        write,
        "pieced from any",
        "",
        job_toml='unit = "cm"\n',
        blocks_csv=None,
        quilt_toml='top = "100 x 120"\nbinding = "no"\nbacking = "pieced from any"\n',
    )
    assert (made.width, made.length) == (110 * CM, 130 * CM)
    assert (made.rules.seam, made.rules.smallest_part) == (15 * MM, 75 * MM)


@pytest.mark.parametrize(
    ("words", "rules"),
    [
        ("main fabric oat", {"main": "oat"}),
        ("mostly pear", {"main": "pear"}),
        ("no seam in the middle", {"middle": False}),
        ("seams up", {"run": "up"}),
        ("horizontal seams", {"run": "across"}),
        ("at most 6 parts", {"most_parts": 6}),
        ("no more than six parts", {"most_parts": 6}),
        ("at most 7 seams", {"most_seams": 7}),
        ("at most 5 parts, at most 3 seams", {"most_parts": 5, "most_seams": 3}),
        ("in one piece", {"most_seams": 0}),
        ("calm", {"look": "calm"}),
        ("Busy", {"look": "busy"}),
        ("smallest part 4", {"smallest_part": 4 * INCH}),
        ("seam 5/8", {"seam": 5 * INCH // 8}),
        ("standing up", {"upright": True}),
    ],
)
def test_what_can_be_said(words: str, rules: dict[str, object]) -> None:
    said = pieced_words(f"pieced from any, {words}", Conventions(), KNOWN)
    assert said.rules == rules
    assert (said.fabrics, said.blocks, said.importance) == ((), "", "must")


@pytest.mark.parametrize(
    ("words", "fabrics"),
    [
        ("any", ()),
        ("oat|any light", ("oat", "any light")),
        ("oat and pear", ("oat", "pear")),
        ("oat, pear and mist", ("oat", "pear", "mist")),
        ("any but mist", ("any but mist",)),
    ],
)
def test_from_which_fabrics(words: str, fabrics: tuple[str, ...]) -> None:
    for begin in ("pieced from", "Pieced out of"):
        assert pieced_words(f"{begin} {words}", Conventions(), KNOWN).fabrics == fabrics


@pytest.mark.parametrize(
    ("words", "blocks"),
    [
        ("blocks leftover star", "leftover star"),
        ("with spare blocks star|crate", "star|crate"),
        ("any blocks", "any"),
        ("blocks any, must 2 star", "any|must 2 star"),
        ("must have all star", "must all star"),
        ("no blocks", ""),
        ("must", ""),
    ],
)
def test_which_blocks(words: str, blocks: str) -> None:
    """And other words beside them are read all the same."""
    said = pieced_words(f"pieced from any, {words}, calm", Conventions(), KNOWN)
    assert said.blocks == blocks
    assert said.rules == {"look": "calm"}


def test_a_wish_and_not_a_must(write: Write) -> None:
    assert back(write, "pieced from any, nice").importance == "nice"
    assert back(write, "pieced from any, if left").importance == "if left"


def test_what_stands_under_how_holds(write: Write) -> None:
    how = '[how]\nback_seam = "5/8"\nback_run = "up"\nback_middle = "never"\n'
    rules = back(write, "pieced from any", how).rules
    assert (rules.seam, rules.run, rules.middle) == (5 * INCH // 8, "up", False)
    assert back(write, "pieced from any, seams across", how).rules.run == "across"


def test_what_stands_under_its_name_in_job_toml_holds_too(write: Write) -> None:
    toml = 'unit = "in"\n[back.backing]\nedge_part = 8\nseam = "3/8"\nmain = "oat"\n'
    rules = back(write, "pieced from any, main oat", job_toml=toml).rules
    assert (rules.edge_part, rules.seam) == (8 * INCH, 3 * INCH // 8)


def test_a_row_of_the_table_stands_for_it_where_they_agree(write: Write) -> None:
    table = "back,width,length,fabrics,note\nbacking,44 1/2,50 1/2,oat|pear,mine\n"
    made = back(write, "pieced from any, blocks crate, calm", backs_csv=table)
    assert (made.fabrics, made.note) == (("oat", "pear"), "mine")
    assert (made.blocks, made.rules.look) == ((BlockWish(name="crate"),), "calm")


@pytest.mark.parametrize("name", ["again", "again.xlsx"])
def test_a_saved_job_keeps_the_sentence(
    write: Write, tmp_path: Path, name: str
) -> None:
    told = "pieced from oat|pear, main oat, must 2 leftover star, at most 9 parts"
    job = pieced(write, told, '[how]\nmachine = "longarm"\n')
    save_job(job, tmp_path / name)
    again = read_job(tmp_path / name)
    assert again.backs == job.backs
    assert again.digest == job.digest
    assert told in again.quilt


def test_a_backing_that_is_bought_is_what_it_was() -> None:
    made = quilt('top = "60 x 80"\nbacking = "oat, pieced"\n')
    assert made.backing == ("oat",)
    assert not is_pieced("pieced back of oat")


def test_every_word_of_the_guide_is_read() -> None:
    cells = [row[0].replace("\\|", "|") for row in PAGES["backing"].rows(2)]
    words = [word for cell in cells for word in re.findall(r"\*([^*]+)\*", cell)]
    assert len(words) >= 20
    for word in words:
        begin = "" if word.startswith("pieced") else "pieced from any, "
        # as a sentence of quilt.toml is read
        told = pieced_from_any(begin + word, KNOWN)
        assert is_pieced(told)
        pieced_words(told, Conventions(), KNOWN)


# -- what is wrong -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("sentence", "what", "mend"),
    [
        ("pieced from any, clam", '"clam"', '"pieced from any, calm"'),
        (
            "pieced from any, clam, blocks crate",
            '"clam"',
            '"pieced from any, calm, blocks crate"',
        ),
        ("pieced from any, zigzag", '"zigzag"', ""),
        ("pieced from any, main oat|pear", "several main fabrics", "name one"),
        ("pieced from any, calm, busy", "both calm and busy", "keep one"),
        ("pieced from any, seams up, seams across", "both", "keep one"),
        ("pieced from any, grain along", "no pieced back keeps to", "leave it out"),
        ("pieced from any, at most 3", "", ""),
        ("pieced from any, at most 0 parts", "", ""),
        ("pieced from peer", '"peer"', '"pear"'),
        ("pieced from any, main peer", '"peer"', '"pear"'),
        ("pieced from pear, main oat", "its fabrics are pear", "add oat"),
        ("pieced from any, blocks star", '"star"', "leftover star"),
        ("pieced from any, must 4 leftover star", "there are 3", "must 3"),
        ("pieced from any, smallest part 1/4", "so small", "1/2 in"),
        ("pieced from any, seam 4", "wider than the smallest part", ""),
        (
            "pieced from any, must all leftover star, at most 2 parts",
            "3 blocks have to go in",
            "4 or more",
        ),
    ],
)
def test_one_mistake_is_one_problem(
    write: Write, sentence: str, what: str, mend: str
) -> None:
    (problem,) = problems(write, sentence)
    assert (problem.file, problem.row) == ("quilt.toml", 3)
    assert what in problem.what
    assert mend in problem.mend


def test_a_back_without_a_top(write: Write) -> None:
    text = 'blocks = ["2 squares of 6"]\nbacking = "pieced from any"\n'
    (problem,) = problems(write, "", quilt_toml=text)
    assert (problem.row, problem.what) == (2, "there is no quilt to put it under")


@pytest.mark.parametrize(
    ("option", "sentence"),
    [
        ("main = 'pear'", "pieced from any, main oat"),
        ("overage = 3", "pieced from any"),
        ("middle = 'yes'", "pieced from any, no seam in the middle"),
    ],
)
def test_what_job_toml_says_otherwise(write: Write, option: str, sentence: str) -> None:
    toml = f'unit = "in"\n[back.backing]\n{option}\n'
    (problem,) = problems(write, sentence, job_toml=toml)
    rule = option.partition(" ")[0]
    assert (problem.file, problem.row) == ("job.toml", 3)
    assert problem.field == f"back.backing.{rule}"
    assert "quilt.toml row 3" in problem.what


@pytest.mark.parametrize(
    ("row", "field"),
    [
        ("44,50 1/2,,", "width"),
        ("44 1/2,50 1/2,oat,", "fabrics"),
        ("44 1/2,50 1/2,,nice", "importance"),
    ],
)
def test_what_the_table_says_otherwise(write: Write, row: str, field: str) -> None:
    table = f"back,width,length,fabrics,importance\nbacking,{row}\n"
    (problem,) = problems(write, "pieced from pear", backs_csv=table)
    assert (problem.file, problem.row, problem.field) == ("backs.csv", 2, field)
    assert "quilt.toml row 3" in problem.what


def test_a_rule_of_the_table_that_the_sentence_says_otherwise(write: Write) -> None:
    table = "back,width,length,seam\nbacking,44 1/2,50 1/2,3/8\n"
    (problem,) = problems(write, "pieced from any, seam 5/8", backs_csv=table)
    assert (problem.file, problem.row, problem.field) == ("backs.csv", 2, "seam")
