"""Spare blocks in lines of the pile: sewn, as measured, and no cloth.

A block measures two seams more than it is finished, one at each side: an identity, worked out beside the test.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from cutopt.errors import JobError
from cutopt.lengths import CM, INCH
from cutopt.piecing import SpareBlock
from cutopt.tables import name_pieces, pile, read_job, save_job
from cutopt.tables.log import Log, Placed
from cutopt.tables.pile.reading import read_pile
from cutopt.tables.pile.stock import Stock
from tests.tables.pile.small_job import written

# how many, name, width and length in inches, and what it may be trimmed to
LINES = {
    "5 blocks star 6 1/2": (5, "star", 6.5, 6.5, None),
    "five star blocks 6 1/2 unfinished": (5, "star", 6.5, 6.5, None),
    "3 blocks churn dash 9 1/2 x 9 1/2, may trim to 9": (
        *(3, "churn dash", 9.5, 9.5),
        (9, 9),
    ),
    "3 churn dash blocks, 9 1/2 square": (3, "churn dash", 9.5, 9.5, None),
    "4 nine patch blocks 9 1/2": (4, "nine patch", 9.5, 9.5, None),
    "2 square in a square blocks 6 1/2": (2, "square in a square", 6.5, 6.5, None),
    "star block 12 1/2": (1, "star", 12.5, 12.5, None),
    "two orphan blocks 8 1/2 by 9": (2, "block", 8.5, 9, None),
    "1 flying geese block 3 1/2 wide 6 1/2 long": (1, "flying geese", 3.5, 6.5, None),
    "five 6 1/2 inch star blocks": (5, "star", 6.5, 6.5, None),
    'two blocks "old, maid" 6 1/2': (2, "old, maid", 6.5, 6.5, None),
    "star, 5 blocks, 6 1/2 x 7, may be trimmed down to 6 x 6 1/4": (
        *(5, "star", 6.5, 7),
        (6, 6.25),
    ),
    "porch: 5 star blocks 6 1/2": (5, "porch", 6.5, 6.5, None),
}
ASKED = {
    "star blocks 6 1/2": "2 star blocks 6 1/2",
    "two star blocks": "5 star blocks 6 1/2",
    "half a dozen star blocks, about 6 1/2": "half a dozen star blocks, 6 1/2",
    "7 star blocks 6 1/2, badly sewn": "7 star blocks 6 1/2, note badly sewn",
    "20 HSTs plum 3": "20 HST blocks plum 3",
}


def blocks_of(text: str, unit: str = "in") -> list[SpareBlock]:
    """The blocks of a pile in which there is nothing else."""
    log = Log()
    found: list[Placed[SpareBlock]] = []
    lines = enumerate(text.splitlines(), 1)
    assert read_pile(lines, "pile", Stock.of_unit(unit), log, blocks=found) == []
    log.finish()
    return [placed.value for placed in found]


@pytest.mark.parametrize("line", LINES)
def test_a_line_of_blocks(line: str) -> None:
    (block,) = blocks_of(line)
    count, name, width, length, least = LINES[line]
    assert (block.count, block.name) == (count, name)
    assert (block.width, block.length) == (width * INCH, length * INCH)
    if least:
        assert block.may_trim_to == tuple(side * INCH for side in least)
    else:
        assert block.may_trim_to is None


def test_several_kinds_in_a_line_and_where_they_come_from() -> None:
    two = blocks_of("blocks: 5 star 6 1/2, 3 churn dash 9 1/2")
    assert [(one.count, one.name) for one in two] == [(5, "star"), (3, "churn dash")]
    (one,) = blocks_of("2 crate blocks 16.5, from the porch quilt, note soft", "cm")
    assert one.width == 165 * CM // 10
    assert one.note == "from the porch quilt; soft"


@pytest.mark.parametrize("line", ASKED)
def test_what_is_asked_back(line: str) -> None:
    with pytest.raises(JobError) as caught:
        blocks_of(line)
    (problem,) = caught.value.problems
    assert ASKED[line] in problem.mend
    assert blocks_of(ASKED[line])


@pytest.mark.parametrize(
    ("finished", "unit"), [("6", "in"), ("6 x 9", "in"), ("15", "cm")]
)
def test_a_finished_size_is_told_with_its_seams(finished: str, unit: str) -> None:
    """Two seams more each way: 1/2 in, or 1.5 cm (the seam of a metric job is 0.75 cm)."""
    with pytest.raises(JobError) as caught:
        blocks_of(f"5 star blocks {finished} finished", unit)
    mend = caught.value.problems[0].mend.removeprefix("write ")
    (block,) = blocks_of(mend, unit)
    more = {"in": INCH // 2, "cm": 15 * CM // 10}[unit]
    ticks = {"in": INCH, "cm": CM}[unit]
    sides = [int(side) * ticks + more for side in finished.split(" x ")]
    assert (block.width, block.length) == (sides[0], sides[-1])


def test_a_print_of_blocks_is_cloth() -> None:
    (piece,) = pile("block print navy 5 x 5")
    assert piece.fabric == "block print navy"


def test_where_cloth_is_asked_for_blocks_are_told() -> None:
    with pytest.raises(JobError) as caught:
        pile("pear 11 x 7\n5 star blocks 6 1/2")
    (problem,) = caught.value.problems
    assert problem.row == 2
    assert "sewn blocks" in problem.what


BACKS = "back,width,length,fabrics,blocks\nlap,44,50,pear,any|must 2 star\n"
PILE = "pear 46 x 60\n5 star blocks 6 1/2\npear 9 x 9 and 4 x 4\n"


def test_blocks_of_a_job(tmp_path: Path) -> None:
    """They lie with those of the table, keep their names, and survive that the job is written."""
    table = "block,count,width,length\ncrate,2,6 1/2,9 1/2\n"
    folder = written(tmp_path, pile_txt=PILE, backs_csv=BACKS, blocks_csv=table)
    job = read_job(folder)
    assert {block.name: block.count for block in job.spare_blocks} == {
        "star": 5,
        "crate": 2,
    }
    assert len(job.pieces) == 3
    save_job(job, tmp_path / "again")
    again = read_job(tmp_path / "again")
    assert again.spare_blocks == job.spare_blocks


def test_names_in_front_leave_blocks_alone(tmp_path: Path) -> None:
    folder = written(tmp_path, pile_txt=PILE, backs_csv=BACKS)
    before = read_job(folder)
    name_pieces(folder)
    text = (folder / "pile.txt").read_text(encoding="utf-8")
    assert text.splitlines() == [
        "pear-1: pear 46 x 60",
        "5 star blocks 6 1/2",
        "pear-2: pear 9 x 9",
        "pear-3: 4 x 4 pear",
    ]
    after = read_job(folder)
    assert (after.pieces, after.spare_blocks) == (before.pieces, before.spare_blocks)


def test_a_name_is_given_once(tmp_path: Path) -> None:
    table = "block,count,width,length\nStar,2,6 1/2,9 1/2\n"
    folder = written(tmp_path, pile_txt=PILE, backs_csv=BACKS, blocks_csv=table)
    with pytest.raises(JobError) as caught:
        read_job(folder)
    (problem,) = caught.value.problems
    assert (problem.file, problem.row) == ("blocks.csv", 2)
    assert "pile.txt row 2" in problem.what


def test_a_line_of_blocks_that_cannot_be_read_is_one_mistake(tmp_path: Path) -> None:
    """That there is no star is not told beside it."""
    lines = "pear 46 x 60\n5 star blocks\n"
    folder = written(tmp_path, pile_txt=lines, backs_csv=BACKS)
    with pytest.raises(JobError) as caught:
        read_job(folder)
    assert [(p.file, p.row) for p in caught.value.problems] == [("pile.txt", 2)]
