"""How backs are sewn: good plans, one broken plan for every kind of fault, and limits that are just met."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from cutopt.check import check
from cutopt.geometry import rectangle
from cutopt.lengths import CM, MM
from cutopt.piecing import BackRules, BlockWish, SpareBlock
from cutopt.plan import Level, Short, Use
from cutopt.settings import Settings
from tests.check.backs_by_hand import (
    GOOD_BACKS,
    Drawn,
    Line,
    Part,
    back,
    divided,
    pieced,
    trim,
)
from tests.check.changes import Change, add, both, drop, item, job, plan, row, total
from tests.check.good_plans import Case, inch, outline

STAR = SpareBlock(name="star", width=inch("9.5"), length=inch("9.5"), count=2)


def rules(**fields: object) -> Change:
    """Other rules of the first back."""

    def change(case: Case) -> Case:
        first = case[0].backs[0].rules
        return row("backs", 0, rules=replace(first, **fields))(case)

    return change


def piece(index: int, across: object, along: object) -> Change:
    """A piece of the pile of another size."""
    corners = outline(f"0 0; {across} 0; {across} {along}; 0 {along}")
    return row("pieces", index, outline=corners)


def level(name: str, value: str) -> Change:
    return add("levels", Level(name=name, value=value, bound="0", proved=False))


def swapped(first: int, second: int) -> Change:
    """Two seams that change places; they are numbered anew."""

    def change(case: Case) -> Case:
        sewn = list(case[1].seams)
        sewn[first], sewn[second] = sewn[second], sewn[first]
        numbered = tuple(replace(seam, n=n) for n, seam in enumerate(sewn, start=1))
        return case[0], replace(case[1], seams=numbered)

    return change


BROKEN: list[tuple[str, str, Change, list[str]]] = [
    # what a seam takes and gives
    ("numbers", "tee", item("seams", 1, n=7), ["Seam 7 stands where seam 2 is due"]),
    ("numbers from 0", "cut_up", item("seams", 0, n=0), ["Seam 0 stands where seam 1"]),
    (
        "numbers go on from back to back",
        "both_made",
        item("seams", 1, n=1),
        ["Seam 1 stands where seam 2 is due"],
    ),
    (
        "unknown part",
        "tee",
        item("seams", 0, a="q"),
        ["Seam 1 takes q, which is not there", "no seam joins b and B1.2"],
    ),
    (
        "unknown block",
        "band",
        item("seams", 1, b="blocks/star/3"),
        [
            "Seam 2 takes blocks/star/3, which is not there",
            "blocks/star/2 has a size, and is not sewn in",
        ],
    ),
    (
        "spare cloth",
        "cut_up",
        item("seams", 0, b="d"),
        ["Seam 1 takes d, which is not there", "no seam joins c and B1.1"],
    ),
    (
        "sewn too early",
        "tee",
        swapped(0, 1),
        ["Seam 1 takes B1.1, which is not there"],
    ),
    (
        "taken already",
        "in_a_row",
        item("seams", 1, a="a"),
        [
            "Seam 2 takes a, which seam 1 has taken already",
            "no seam joins B1.1 and B1.2",
        ],
    ),
    (
        "to itself",
        "tee",
        item("seams", 0, a="c"),
        [
            "Seam 1 takes c, which seam 1 has taken already",
            "no seam joins b and B1.2",
        ],
    ),
    (
        "a block taken already, for another back",
        "both_made",
        item("seams", 1, b="blocks/star/1"),
        [
            "Seam 2 takes blocks/star/1, which seam 1 has taken already",
            "blocks/star/2 has a size, and is not sewn in",
        ],
    ),
    (
        "part of another back",
        "both_made",
        both(item("seams", 0, a="c"), item("seams", 1, a="a")),
        [
            "Seam 1 is for B1 and takes c, which is for B2",
            "Seam 2 is for B2 and takes a, which is for B1",
        ],
    ),
    (
        "sewn for another back",
        "both_made",
        both(item("seams", 2, b="right"), item("seams", 3, b="left")),
        [
            "Seam 3 is for B1 and takes right, which is for B2",
            "Seam 4 is for B2 and takes left, which is for B1",
        ],
    ),
    (
        "unknown back",
        "cut_up",
        item("seams", 0, back="B7"),
        ["Seam 1 is for B7, which is not wanted", "no seam joins a and c"],
    ),
    (
        "part for an unknown back",
        "tee",
        item("uses", 0, for_="backs/B7"),
        [
            "a is for backs/B7, which is not wanted",
            "Seam 2 takes a, which is not there",
        ],
    ),
    (
        "named as a part",
        "tee",
        item("seams", 1, gives="a"),
        ["Seam 2 gives a, a name that is taken"],
    ),
    (
        "named as spare cloth",
        "cut_up",
        item("seams", 0, gives="d"),
        ["Seam 1 gives d, a name that is taken"],
    ),
    (
        "named as an earlier seam",
        "tee",
        item("seams", 1, gives="B1.1"),
        ["Seam 2 gives B1.1, a name that is taken"],
    ),
    (
        "named as a block",
        "band",
        item("seams", 5, gives="blocks/leaf/1"),
        ["Seam 6 gives blocks/leaf/1, a name that is taken"],
    ),
    (
        "no side",
        "tee",
        item("seams", 1, side="top"),
        ['Seam 2 sews to the side "top" of B1.1, which is none'],
    ),
    (
        "not in one piece",
        "in_a_row",
        both(drop("seams", 1), total(seams=1)),
        ["B1 is not in one piece: no seam joins c and B1.1"],
    ),
    (
        "two backs in place of one",
        "single",
        lambda _: pieced(back(), "a pear 44 x 52; b plum 44 x 52"),
        ["B1 is not in one piece: no seam joins a and b"],
    ),
    (
        "a cut that fails hides what is sewn",
        "cut_up",
        item("cuts", 1, y=inch(60)),
        ["Cut 2 does not go through b: it passes beside the cloth"],
    ),
    # edges and allowances
    (
        "two lengths",
        "in_a_row",
        piece(1, 15, "51.875"),
        ["Seam 1 joins an edge of 52 and one of 51 7/8: they must be equal"],
    ),
    (
        "two widths",
        "tee",
        piece(2, "25.125", 23),
        ["Seam 1 joins an edge of 25 1/8 and one of 25: they must be equal"],
    ),
    (
        "wrong direction",
        "in_a_row",
        item("seams", 0, side="above"),
        ["Seam 2 joins an edge of 103 and one of 52: they must be equal"],
    ),
    (
        "wrong direction of a part turned",
        "prints",
        item("uses", 0, turned=False),
        ["a for B1 lies the wrong way", "Seam 1 joins an edge of 15 and one of 52"],
    ),
    (
        "narrow seam",
        "in_a_row",
        item("seams", 0, seam=inch("0.25")),
        ["Seam 1 has an allowance of 1/4; it meets no block and must have 1/2"],
    ),
    (
        "wide seam under a block",
        "band",
        both(item("seams", 4, seam=inch("0.5")), piece(2, 44, "20.5")),
        ["Seam 5 has an allowance of 1/2; it meets a block and must have 1/4"],
    ),
    (
        "wide seam over a block",
        "band",
        both(item("seams", 5, seam=inch("0.5")), piece(3, 44, 24)),
        ["Seam 6 has an allowance of 1/2; it meets a block and must have 1/4"],
    ),
    (
        "wide seam beside a block",
        "band",
        both(item("seams", 2, seam=inch("0.5")), piece(0, "9.25", "9.5")),
        ["Seam 3 has an allowance of 1/2; it meets a block and must have 1/4"],
    ),
    (
        "seam of a block next to its column",
        "inset",
        both(item("seams", 3, seam=inch("0.25")), piece(3, 13, 52)),
        ["Seam 4 has an allowance of 1/4; it meets no block and must have 1/2"],
    ),
    # blocks
    (
        "size not told",
        "band",
        drop("trims", 0),
        ["blocks/star/1 is sewn in, and the plan does not say how large"],
    ),
    (
        "size told twice",
        "band",
        add("trims", trim("star/1", 9.5, 9.5)),
        ["The size of blocks/star/1 is told 2 times"],
    ),
    (
        "no such block",
        "band",
        add("trims", trim("star/3", 9.5, 9.5)),
        ["blocks/star/3 has a size, and there is no such block"],
    ),
    (
        "block 0",
        "band",
        add("trims", trim("star/0", 9.5, 9.5)),
        ["blocks/star/0 has a size, and there is no such block"],
    ),
    (
        "no such kind",
        "single",
        add("trims", trim("star/1", 9.5, 9.5)),
        ["blocks/star/1 has a size, and there is no such block"],
    ),
    (
        "not sewn in",
        "band",
        add("trims", trim("leaf/1", 6, 6)),
        ["blocks/leaf/1 has a size, and is not sewn in"],
    ),
    (
        "turned",
        "band",
        item("trims", 0, turned=True),
        ["blocks/star/1 is turned; blocks hang as they were measured"],
    ),
    (
        "wider than measured",
        "band",
        row("spare_blocks", 0, width=inch("9.375")),
        [
            "blocks/star/1 is 9 1/2 wide and was measured as 9 3/8",
            "blocks/star/2 is 9 1/2 wide and was measured as 9 3/8",
        ],
    ),
    (
        "longer than measured",
        "band",
        row("spare_blocks", 1, length=inch("9.375")),
        ["blocks/ship/3 is 9 1/2 long and was measured as 9 3/8"],
    ),
    (
        "trimmed too narrow",
        "band",
        row("spare_blocks", 1, may_trim_to=(inch("9.75"), inch("9.25"))),
        ["blocks/ship/3 is 9 1/2 wide and may not be trimmed to less than 9 3/4"],
    ),
    (
        "trimmed too short",
        "band",
        row("spare_blocks", 1, may_trim_to=(inch("9.25"), inch("9.625"))),
        ["blocks/ship/3 is 9 1/2 long and may not be trimmed to less than 9 5/8"],
    ),
    (
        "trimmed at all",
        "band",
        row("spare_blocks", 1, may_trim_to=None),
        [
            "blocks/ship/3 is 9 1/2 wide and may not be trimmed to less than 10",
            "blocks/ship/3 is 9 1/2 long and may not be trimmed to less than 9 3/4",
        ],
    ),
    (
        "not to go in",
        "band",
        row("backs", 0, blocks=(BlockWish(name="star"),)),
        ["blocks/ship/3 may not go into B1"],
    ),
    (
        "too few of a block",
        "band",
        row(
            "backs", 0, blocks=(BlockWish(name="any"), BlockWish(name="ship", least=2))
        ),
        ["B1 has 1 of ship and must have 2"],
    ),
    (
        "none of a block",
        "single",
        both(
            job(spare_blocks=(STAR,)),
            row("backs", 0, blocks=(BlockWish(name="star", least=1),)),
        ),
        ["B1 has 0 of star and must have 1"],
    ),
    (
        "blocks near the sides",
        "band",
        rules(overage=inch("8.5") + 1),
        [
            "blocks/star/1 comes nearer than 8 4065/8128 to an edge of B1",
            "blocks/star/2 comes nearer than 8 4065/8128 to an edge of B1",
        ],
    ),
    (
        "a block near the foot",
        "inset",
        rules(overage=1),
        ["blocks/star/1 comes nearer than 1/8128 to an edge of B1"],
    ),
    # the whole
    (
        "too narrow",
        "in_a_row",
        row("backs", 0, width=inch(44) + 1),
        ["B1 comes out 44 wide and must be 44 1/8128"],
    ),
    (
        "too short",
        "in_a_row",
        row("backs", 0, length=inch("52.125")),
        ["B1 comes out 52 long and must be 52 1/8"],
    ),
    (
        "too wide",
        "in_a_row",
        row("backs", 0, width=inch(43)),
        ["B1 comes out 44 wide, and 43 is enough: cloth is wasted"],
    ),
    (
        "too long",
        "in_a_row",
        row("backs", 0, length=inch(51)),
        ["B1 comes out 52 long, and 51 is enough: cloth is wasted"],
    ),
    (
        "too wide by 2 1/2 cm",
        "metric",
        row("backs", 0, width=1075 * MM),
        ["B1 comes out 110 wide, and 107.5 is enough: cloth is wasted"],
    ),
    (
        "most parts",
        "band",
        rules(most_parts=6),
        ["B1 has 7 parts; 6 are the most"],
    ),
    (
        "most seams",
        "in_a_row",
        rules(most_seams=1),
        ["B1 has 2 seams; 1 are the most"],
    ),
    (
        "main fabric",
        "in_a_row",
        rules(main="pear"),
        ["The largest part of B1 is not of pear"],
    ),
    (
        "main fabric of a low part",
        "tee",
        rules(main="plum"),
        ["The largest part of B1 is not of plum"],
    ),
    (
        "run across",
        "tee",
        rules(run="across"),
        ["Seam 2, from edge to edge of B1, does not run across"],
    ),
    (
        "run up",
        "cut_up",
        rules(run="up"),
        ["Seam 1, from edge to edge of B1, does not run up"],
    ),
    (
        "run of the last, not of the first",
        "band",
        rules(run="up"),
        ["Seam 6, from edge to edge of B1, does not run up"],
    ),
    # parts
    (
        "smallest part",
        "in_a_row",
        rules(smallest_part=inch(14) + 1),
        ["Of b 14 is seen between its seams; the least is 14 1/8128"],
    ),
    (
        "smallest part at an edge",
        "in_a_row",
        rules(smallest_part=inch("14.5") + 1),
        ["Of a 14 1/2 is seen between its seams", "Of b 14 is seen between"],
    ),
    (
        "smallest part next to blocks",
        "band",
        rules(smallest_part=inch("8.5") + 1),
        ["Of a 8 1/2 is seen between", "Of b 8 1/2 is seen between"],
    ),
    (
        "smallest part of those above each other",
        "cut_up",
        rules(smallest_part=inch("22.5") + 1),
        ["Of c 22 1/2 is seen between its seams; the least is"],
    ),
    (
        "part that is not cut",
        "tee",
        add("uses", Use(part="q", for_="backs/B1")),
        ["q is used or spare, and no cut makes it"],
    ),
    (
        "fabric not allowed",
        "in_a_row",
        both(rules(main=""), row("backs", 0, fabrics=("pear",))),
        ["c for B1 is plum, a fabric that B1 may not be cut from"],
    ),
    (
        "flaw",
        "single",
        row("pieces", 0, flaws=(outline("43 51; 44 51; 44 52"),)),
        ["a for B1 lies on a flaw"],
    ),
    (
        "raw edges",
        "single",
        row("pieces", 0, edges="raw"),
        ["a for B1 comes within 1/4 of an edge that is to be squared up"],
    ),
    (
        "not whole",
        "single",
        row("pieces", 0, outline=outline("0 0; 44 0; 44 51; 43 52; 0 52")),
        ["a for B1 is not a whole rectangle"],
    ),
    (
        "used twice",
        "tee",
        add("uses", *GOOD_BACKS["tee"]()[1].uses[:1]),
        ["a is used or spare 2 times"],
    ),
    (
        "print on its side",
        "prints",
        row("fabrics", 3, one_way="along"),
        ["a for B1 lies the wrong way: its print, which stands up along the selvage"],
    ),
    (
        "print on its side, not turned",
        "prints",
        row("fabrics", 2, one_way="across"),
        ["b for B1 lies the wrong way: its print, which stands up across the selvage"],
    ),
    (
        "nap",
        "prints",
        both(row("fabrics", 4, one_way="across"), rules(upright=False)),
        ["c for B1 lies the wrong way: the nap of moss runs across the selvage"],
    ),
    (
        "unknown grain",
        "prints",
        row("pieces", 0, grain_known=False),
        ["a for B1 is from a piece of unknown grain, and its print"],
    ),
    # sums
    (
        "not made and not short",
        "two_backs",
        plan(short=()),
        ["B2: 1 wanted, 0 made and 0 said to be short"],
    ),
    (
        "made and short",
        "tee",
        add("short", Short(for_="backs/B1", count=1)),
        ["B1: 1 wanted, 1 made and 1 said to be short"],
    ),
    (
        "short of an unknown back",
        "tee",
        add("short", Short(for_="backs/B7", count=1)),
        ["The plan is short of backs/B7, which is not wanted"],
    ),
    ("number of seams", "tee", total(seams=1), ["number of seams comes to 2"]),
    (
        "level of seams",
        "tee",
        level("seams", "3"),
        ["The level seams is 3; the plan comes to 2"],
    ),
    (
        "level of a wish",
        "two_backs",
        level("wished for but left out", "0"),
        ["The level wished for but left out is 0; the plan comes to 1"],
    ),
    (
        "level of a must",
        "two_backs",
        both(
            row("backs", 1, importance="must"), level("short of what must be cut", "0")
        ),
        ["The level short of what must be cut is 0; the plan comes to 1"],
    ),
]


@pytest.mark.parametrize("name", GOOD_BACKS)
def test_a_good_back_has_no_fault(name: str) -> None:
    assert check(*GOOD_BACKS[name]()) == []


@pytest.mark.parametrize(
    ("base", "change", "expected"), [b[1:] for b in BROKEN], ids=[b[0] for b in BROKEN]
)
def test_a_broken_back_has_its_faults_and_no_other(
    base: str, change: Change, expected: list[str]
) -> None:
    faults = check(*change(GOOD_BACKS[base]()))
    for pattern in expected:
        assert [bool(re.search(pattern, fault)) for fault in faults].count(True) == 1, (
            pattern,
            faults,
        )
    assert len(faults) == len(expected), faults


JUST_RIGHT: list[tuple[str, str, Change]] = [
    ("smallest part", "in_a_row", rules(smallest_part=inch(14))),
    ("smallest part next to blocks", "band", rules(smallest_part=inch("8.5"))),
    ("overage", "band", rules(overage=inch("8.5"))),
    ("a little too wide", "in_a_row", row("backs", 0, width=inch(43) + 1)),
    ("a little too long", "in_a_row", row("backs", 0, length=inch(51) + 1)),
    ("too wide by less than 2 1/2 cm", "metric", row("backs", 0, width=1075 * MM + 1)),
    ("main fabric of the largest", "in_a_row", rules(main="plum")),
    ("all limits", "band", rules(most_parts=7, most_seams=6)),
    ("no seam runs across", "single", rules(run="across", middle=False)),
    (
        "prints on their side",
        "prints",
        both(rules(upright=False), row("fabrics", 3, one_way="along")),
    ),
    ("grain of no matter", "in_a_row", row("pieces", 0, grain_known=False)),
    ("level of seams", "tee", level("seams", "2")),
    ("level of a wish", "two_backs", level("wished for but left out", "1")),
    ("level of a must", "two_backs", level("short of what must be cut", "0")),
    (
        "just enough of a block",
        "band",
        row(
            "backs", 0, blocks=(BlockWish(name="any"), BlockWish(name="star", least=2))
        ),
    ),
]


@pytest.mark.parametrize(
    ("base", "change"), [j[1:] for j in JUST_RIGHT], ids=[j[0] for j in JUST_RIGHT]
)
def test_what_is_just_right_is_no_fault(base: str, change: Change) -> None:
    assert check(*change(GOOD_BACKS[base]())) == []


def long_seam(at: object, fault: bool, **fields: object) -> None:
    """Two parts whose seam lies `at` inches from the left edge of 44, and from the foot of 44."""
    asked = back(44, 44, middle=False, **fields)
    for runs in ("up", "across"):
        for swapped in (False, True):
            line = Line(
                runs=runs, at=inch(at), low=Part(), high=Part(), swapped=swapped
            )
            told = "Seam 1 lies along the middle of B1, where none is wanted."
            assert check(*divided(asked, line)) == [told] * fault


def test_no_seam_lies_within_two_inches_of_the_middle() -> None:
    long_seam(20, False)
    long_seam("20.125", True)
    long_seam(22, True)
    long_seam("23.875", True)
    long_seam(24, False)


def with_a_short_seam(runs: str, place: int, size: int) -> list[str]:
    """A back of 48 x 60, lying down of 60 x 48, in three parts; that at `place` is `size` wide and divided at 30."""
    other = {"up": "across", "across": "up"}[runs]
    asked = {"up": back(48, 60, middle=False), "across": back(60, 48, middle=False)}
    parts: list[Drawn] = [Part()] * 3
    parts[place] = Line(runs=other, at=inch(30), low=Part(), high=Part())
    sizes = [inch(4)] * 3
    sizes[place] = size
    # which leaves the long seams off the middle
    sizes[place - 1] = inch(44) - size
    second = Line(runs=runs, at=sizes[0] + sizes[1], low=parts[1], high=parts[2])
    whole = Line(runs=runs, at=sizes[0], low=parts[0], high=second)
    return check(*divided(asked[runs], whole))


@pytest.mark.parametrize("runs", ["up", "across"])
def test_only_a_short_seam_may_lie_along_the_middle(runs: str) -> None:
    """A seam is long from a third of 48 in on, wherever it ends."""
    for place in range(3):
        assert with_a_short_seam(runs, place, inch(16) - 1) == []
        (told,) = with_a_short_seam(runs, place, inch(16))
        assert told.endswith("lies along the middle of B1, where none is wanted.")


def test_the_middle_is_that_of_what_is_sewn() -> None:
    """A back of 60 lies 3/8 in over either edge of the one asked."""
    asked = back(60, middle=False)
    for at, fault in ((28, 0), ("31.875", 1), (32, 0)):
        line = Line(runs="up", at=inch(at), low=Part(), high=Part())
        wider = row("backs", 0, width=inch("59.25"))(divided(asked, line))
        told = "Seam 1 lies along the middle of B1, where none is wanted."
        assert check(*wider) == [told] * fault


def test_a_metric_seam_keeps_off_the_middle_by_5_cm() -> None:
    """Of 110 cm the middle is 55; the seam lies at 59."""
    assert len(check(*rules(middle=False)(GOOD_BACKS["metric"]()))) == 1
    wide = replace(GOOD_BACKS["metric"]()[0].backs[0], rules=BackRules(middle=False))
    for at, fault in ((60 * CM, 0), (60 * CM - 1, 1), (50 * CM, 0), (50 * CM + 1, 1)):
        line = Line(runs="up", at=at, low=Part(), high=Part())
        case = divided(wide, line, settings=Settings.metric())
        assert len(check(*case)) == fault, at


def test_a_block_keeps_off_the_edges_of_the_back_as_asked() -> None:
    """The back is 3/4 in wider than asked, of which half lies on either side."""
    band = GOOD_BACKS["band"]()
    narrow = row("backs", 0, width=inch("43.25"))
    assert check(*both(narrow, rules(overage=inch("8.125")))(band)) == []
    faults = check(*both(narrow, rules(overage=inch("8.125") + 1))(band))
    assert [fault.split()[0] for fault in faults] == ["blocks/star/1", "blocks/star/2"]


@pytest.mark.parametrize("swapped", [False, True])
def test_a_block_keeps_off_every_edge(swapped: bool) -> None:
    """A block of 12 seen in a back of 44 x 52; each edge in its turn is the nearest one."""
    block = SpareBlock(name="star", width=inch("12.5"), length=inch("12.5"))
    for left, below in ((6, 20), (26, 20), (16, 6), (16, 34)):
        column = Line(
            runs="across",
            at=inch(below),
            low=Part(),
            high=Line(
                runs="across",
                at=inch(below + 12),
                low=Part(block="star"),
                high=Part(),
                swapped=swapped,
            ),
            swapped=swapped,
        )
        right = Line(runs="up", at=inch(left + 12), low=column, high=Part())
        whole = Line(runs="up", at=inch(left), low=Part(), high=right, swapped=swapped)
        for off, fault in ((inch(6), 0), (inch(6) + 1, 1)):
            asked = back(overage=off, blocks=(BlockWish(name="any"),))
            assert len(check(*divided(asked, whole, blocks=(block,)))) == fault


def test_a_back_may_be_all_blocks() -> None:
    """Two of 22 1/4 sewn by 1/4: 44. No cloth is cut, so none is of the main fabric."""
    block = SpareBlock(name="half", width=inch("22.25"), length=inch(52), count=2)
    asked = back(overage=0, blocks=(BlockWish(name="half", least=2),))
    line = Line(runs="up", at=inch(22), low=Part(block="half"), high=Part(block="half"))
    assert check(*divided(asked, line, blocks=(block,))) == []
    main = rules(main="pear")(divided(asked, line, blocks=(block,)))
    assert check(*main) == ["The largest part of B1 is not of pear."]


def test_of_parts_as_large_one_is_of_the_main_fabric() -> None:
    """Seen 22 x 52 both, although the one is cut from 22 1/2 and the other hangs turned."""
    for main, fault in (("pear", 0), ("darks", 0), ("mist", 1)):
        line = Line(
            runs="up",
            at=inch(22),
            low=Part(),
            high=Part(fabric="plum", turned=True),
        )
        assert len(check(*divided(back(main=main), line))) == fault


def test_a_large_part_is_not_a_long_one() -> None:
    """Plum shows 32 1/2 x 18 1/2, pear 11 1/2 x 52: 601 1/4 and 598 square inches."""
    cloth = "a pear 12 x 52; b plum 33 x 19; c mist 33 x 18; d bark 33 x 17"
    sewn = "c above d; b below B1.1; B1.2 left a"
    assert check(*pieced(back(main="plum"), cloth, sewn)) == []


def test_the_largest_part_is_the_one_of_which_most_is_seen() -> None:
    """Pear is cut 12 x 52 and seen 11 x 52 between two seams; plum at the edge is cut and seen 11 3/4 less 1/2."""
    cloth = "a mist 11.25 x 52; b pear 12 x 52; c plum 11.75 x 52; d bark 11 x 52"
    sewn = "b right a; B1.1 left d; B1.2 right c"
    assert check(*pieced(back(43, main="plum"), cloth, sewn)) == []
    assert len(check(*pieced(back(43, main="pear"), cloth, sewn))) == 1


def test_a_square_hangs_as_the_plan_says() -> None:
    """A cut square may be laid as its maker likes; in a back the plan says which way up it is."""
    for turned, fault in (("", 1), ("a", 0)):
        case = pieced(back(44, 44, upright=True), "a mist 44 x 44", turned=turned)
        assert len(check(*case)) == fault


def test_parts_that_are_lost_in_their_seams() -> None:
    """Seams of 1/2 in take all of 1 in, and more than all of 3/4: of cloth as of blocks."""
    for wide in ("1", "0.75"):
        cloth = f"a pear 22 x 52; b plum {wide} x 52; c pear {24 - float(wide)} x 52"
        faults = check(*pieced(back(), cloth, "a right b; B1.1 right c"))
        assert faults[0] == "b is lost in its seams."
        assert len(faults) == 1
    block = SpareBlock(name="bit", width=inch(1), length=inch(1))
    asked = back(block_seam=inch("0.5"), blocks=(BlockWish(name="any"),))
    cloth = "a pear 1 x 20; b pear 1 x 33; c plum 22 x 52; d plum 23 x 52"
    sewn = "blocks/bit/1 below a; B1.1 above b; c right B1.2; B1.3 right d"
    case = pieced(
        asked, cloth, sewn, trims=(trim("bit/1", 1, 1),), spare_blocks=(block,)
    )
    lost = ["a is lost in its seams.", "b is lost in its seams."]
    assert check(*case) == [*lost, "blocks/bit/1 is lost in its seams."]


def test_of_a_part_that_shows_at_all_it_is_told_how_much() -> None:
    """Of 1 in and a tick, less two seams of 1/2 in, the tick is seen."""
    cloth = "a pear 22 x 52; b plum 1 x 52; c pear 23 x 52"
    case = pieced(back(), cloth, "a right b; B1.1 right c")
    assert check(*case) == ["b is lost in its seams."]
    wider = row("pieces", 1, outline=rectangle(inch(1) + 1, inch(52)))
    seen = "Of b 1/8128 is seen between its seams; the least is 3."
    assert check(*wider(case)) == [seen]


def test_a_back_of_blocks_and_no_cloth_is_made_and_not_short() -> None:
    block = SpareBlock(name="half", width=inch("22.25"), length=inch(52), count=2)
    asked = back(overage=0, blocks=(BlockWish(name="half"),))
    line = Line(runs="up", at=inch(22), low=Part(block="half"), high=Part(block="half"))
    job, plan = divided(asked, line, blocks=(block,))
    short = replace(plan, short=(Short(for_="backs/B1", count=1),))
    assert check(job, short) == ["B1: 1 wanted, 1 made and 1 said to be short."]
