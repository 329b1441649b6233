"""For every kind of fault a plan that was broken on purpose: just the expected faults are told, and no other."""

from __future__ import annotations

import re
from dataclasses import replace
from decimal import Decimal

import pytest

from cutopt.check import check
from cutopt.plan import Join, Level, Seam, Short, Source
from tests.check.changes import (
    Change,
    add,
    both,
    drop,
    item,
    job,
    on_plan,
    plan,
    row,
    setting,
    total,
)
from tests.check.good_plans import (
    GOOD,
    cut,
    inch,
    lengths,
    outline,
    pieces,
    shrunk,
    spare,
    stain,
    uses,
)


def cuts(*steps: object) -> Change:
    return plan(cuts=steps)


def _oats(**fields: object) -> Source:
    return replace(shrunk()[1].sources[0], **fields)


SQUARE = "for square"
BROKEN: list[tuple[str, str, Change, list[str]]] = [
    # another job
    ("digest", "ell", plan(job="0" * 64), ["made for another job"]),
    ("origin", "ell", plan(origin=stain()[0]), ["made for another job"]),
    (
        "altered",
        "ell",
        lambda case: (replace(case[0], name="other"), case[1]),
        ["made for another job"],
    ),
    # sources
    ("no cloth", "together", item("sources", 0, piece=""), ["P1 must be either"]),
    (
        "both cloths",
        "ell",
        item("sources", 0, bought="pear"),
        [
            "S1 must be either",
            "The fabric bought comes to pear 0 yd",
            "The money comes to None",
        ],
    ),
    (
        "unknown piece",
        "ell",
        item("sources", 0, piece="bell"),
        ["S1 is bell, which is not in the pile"],
    ),
    (
        "copy 0",
        "ell",
        item("sources", 0, copy=0),
        ["S1 is copy 0 of ell, and the pile has 2"],
    ),
    (
        "copy 3",
        "ell",
        item("sources", 0, copy=3),
        ["S1 is copy 3 of ell, and the pile has 2"],
    ),
    (
        "copy twice",
        "together",
        item("sources", 1, copy=1),
        ["Copy 1 of p is taken 2 times"],
    ),
    (
        "do not touch",
        "grain",
        item("sources", 4, piece="no"),
        ["U is no, which is not to be touched"],
    ),
    (
        "pile with width",
        "ell",
        item("sources", 0, width=1),
        ["S1 is from the pile: its size"],
    ),
    (
        "pile with length",
        "ell",
        item("sources", 0, length=1),
        ["S1 is from the pile: its size"],
    ),
    (
        "pile with price",
        "ell",
        item("sources", 0, price=Decimal(0)),
        ["S1 is from the pile: its size"],
    ),
    (
        "name of cloth twice",
        "together",
        both(item("sources", 1, id="P1"), item("uses", 1, part="P1")),
        ["Two pieces of cloth are called P1", "P1 is used or spare 2 times"],
    ),
    # purchases
    (
        "unknown width",
        "shrunk",
        item("sources", 0, width=inch(44)),
        ["S1 is oat 44 in wide, which the shop does not sell"],
    ),
    (
        "unknown fabric bought",
        "each",
        item("sources", 0, bought="rye"),
        [
            "S is rye 18 in wide, which the shop does not sell",
            "by the piece comes to 1 of oat, 1 of rye",
            "by the piece comes to 1 of oat",
        ],
    ),
    (
        "wrong each size",
        "each",
        item("sources", 0, length=inch(22)),
        ["S is oat 18 in wide, which the shop does not sell"],
    ),
    (
        "a piece said to be a length",
        "each",
        item("sources", 0, by_piece=False),
        [
            "S is oat 18 in wide, which the shop does not sell so",
            "fabric bought comes to oat",
            "by the piece comes to 1 of oat",
        ],
    ),
    (
        "a length said to be a piece",
        "shrunk",
        item("sources", 0, by_piece=True),
        [
            "S1 is oat 42 in wide, which the shop does not sell so",
            "fabric bought comes to nothing",
            "by the piece comes to 1 of oat",
        ],
    ),
    (
        "of the pile and by the piece",
        "ell",
        item("sources", 0, by_piece=True),
        ["S1 is from the pile: its size and price are not the plan's to say"],
    ),
    (
        "off step",
        "shrunk",
        both(
            item("sources", 0, length=inch(10), price=Decimal("2.67")),
            total(money=Decimal("2.67"), bought=lengths(oat=inch(10))),
            item("levels", 0, value="2.67"),
        ),
        ["S1 is 10 in of oat, which is sold by 1/8 yd"],
    ),
    (
        "below the smallest",
        "shrunk",
        row("shop", 0, smallest=inch("13.5")),
        ["S1 is 1/4 yd of oat; the smallest sale is 3/8 yd"],
    ),
    (
        "above the most",
        "shrunk",
        row("shop", 0, most=inch(9) - 1, smallest=0),
        ["S1 is 1/4 yd of oat; the shop has at most"],
    ),
    (
        "bought nothing",
        "shrunk",
        both(
            row("shop", 0, smallest=0),
            item("sources", 0, length=0, price=Decimal("0.00")),
        ),
        ["S1 is 0 yd of oat, which is nothing", "The money", "fabric bought"],
    ),
    (
        "price",
        "shrunk",
        both(
            item("sources", 0, price=Decimal("2.39")),
            total(money=Decimal("2.39")),
            item("levels", 0, value="2.39"),
        ),
        ["S1 costs 2.40, and the plan says 2.39"],
    ),
    (
        "price missing",
        "shrunk",
        both(item("sources", 0, price=None), total(money=None), drop("levels", 0)),
        ["S1 costs 2.40, and the plan says no price"],
    ),
    (
        "price where the shop gives none",
        "shrunk",
        row("shop", 0, price=None),
        ["S1 costs no price, and the plan says 2.40"],
    ),
    (
        "two lengths",
        "shrunk",
        both(
            add("sources", _oats(id="S2")),
            add("spare", *spare("S2")),
            total(money=Decimal("4.80"), bought=lengths(oat=inch(18))),
            item("levels", 0, value="4.80"),
        ),
        ["oat is bought in 2 lengths"],
    ),
    (
        "two lengths of two widths",
        "shrunk",
        both(
            lambda case: job(
                shop=(*case[0].shop, replace(case[0].shop[0], usable_width=inch(60)))
            )(case),
            add("sources", _oats(id="S2", width=inch(60))),
            add("spare", *spare("S2")),
            total(money=Decimal("4.80"), bought=lengths(oat=inch(18))),
            item("levels", 0, value="4.80"),
        ),
        ["oat is bought in 2 lengths"],
    ),
    (
        "more pieces than the bin has",
        "each",
        row("shop", 1, most=1),
        ["2 pieces of oat are bought; the shop has 1"],
    ),
    # cuts
    ("numbers", "ell", item("cuts", 1, n=7), ["Cut 7 stands where cut 2 is due"]),
    (
        "numbers from 0",
        "triangle",
        both(item("cuts", 0, n=0), item("cuts", 1, n=1)),
        ["Cut 0 stands where cut 1", "Cut 1 stands where cut 2"],
    ),
    (
        "unknown part",
        "ell",
        item("cuts", 2, part="q"),
        ["Cut 3 goes through q, which is not there", "d is left over"],
    ),
    (
        "part cut already",
        "ell",
        item("cuts", 2, part="a"),
        ["Cut 3 goes through a, which cut 2 has cut already", "d is left over"],
    ),
    (
        "part of a later cut",
        "ell",
        on_plan(
            lambda p: replace(
                p, cuts=(p.cuts[0], replace(p.cuts[2], n=2), replace(p.cuts[1], n=3))
            )
        ),
        ["Cut 2 goes through d, which is not there"],
    ),
    (
        "beside",
        "ell",
        item("cuts", 0, x=inch(18)),
        ["Cut 1 does not go through S1: it passes beside"],
    ),
    (
        "beside below",
        "ell",
        item("cuts", 1, y=0),
        ["Cut 2 does not go through a: it passes beside"],
    ),
    (
        "in the air of a notch",
        "ell",
        item("cuts", 0, x=inch(19)),
        ["Cut 1 does not go through S1"],
    ),
    (
        "too few parts named",
        "notch",
        both(item("cuts", 0, gives=("foot", "left")), item("uses", 1, part="left")),
        [
            "Cut 1 makes 3 parts of S1, and the plan names 2",
            "left is used or spare 2 times",
        ],
    ),
    (
        "too many parts named",
        "ell",
        both(item("cuts", 0, gives=("a", "b", "z")), add("spare", *spare("z"))),
        ["Cut 1 makes 2 parts of S1, and the plan names 3"],
    ),
    (
        "name taken",
        "ell",
        both(item("cuts", 2, gives=("e", "b"))),
        [
            "Cut 3 calls a part b, a name that is taken",
            "f is used or spare, and no cut makes it",
        ],
    ),
    (
        "name twice",
        "ell",
        item("cuts", 2, gives=("e", "e")),
        [
            "Cut 3 calls a part e, a name that is taken",
            "f is used or spare, and no cut makes it",
        ],
    ),
    ("no place", "ell", item("cuts", 0, x=None), ["Cut 1 needs one place.*has 0"]),
    ("two places", "ell", item("cuts", 0, y=0), ["Cut 1 needs one place.*has 2"]),
    (
        "half a tick",
        "ell",
        item("cuts", 0, x=inch(5) + 0.5),
        ["Cut 1 is not at a whole tick"],
    ),
    (
        "no direction",
        "straightened",
        item("cuts", 0, line=((5, 5), (5, 5))),
        ["Cut 1 goes along a line without dir"],
    ),
    (
        "line later",
        "straightened",
        both(
            plan(
                cuts=(
                    cut(1, "S1", "y 3", "a b"),
                    cut(2, "a", "line 12 2.5 0 0.5", "low c"),
                )
            ),
            plan(spare=spare("low c")),
        ),
        [
            "Cut 2 is not along the grain; only the first",
            "There are 1 ruler widths, and the plan says 0",
        ],
    ),
    (
        "second line",
        "straightened",
        both(
            add("cuts", cut(3, "a", "line 12 2.75 0 0.75", "c d")),
            plan(spare=spare("low c d")),
            total(cuts=3),
        ),
        [
            "Cut 3 is not along the grain; only the first",
            "There are 1 ruler widths, and the plan says 0",
        ],
    ),
    (
        "line the other way",
        "straightened",
        item("cuts", 0, line=((0, inch("0.5")), (inch(12), inch("2.5")))),
        ["Cut 2 does not go through high: it passes beside"],
    ),
    (
        "turns",
        "straightened",
        lambda case: both(
            setting(turns=2), plan(cuts=(*case[1].cuts, cut(3, "b", "x 12", "c d")))
        )(case),
        [
            "Cut 3 changes the cutting direction once more than the 2",
            "Cut 3 does not go through b",
            "b is used or spare, and cut 3",
            "c is left over",
            "d is left over",
            "number of cuts",
        ],
    ),
    (
        "order of parts",
        "notch",
        item("cuts", 0, gives=("left", "foot", "right")),
        [
            "foot for foot is 4 x 4 and must be 12 x 4",
            "left for arm is 12 x 4 and must be 4 x 4",
        ],
    ),
    # uses
    (
        "overlap",
        "ell",
        add("uses", *uses("cuts/square", "c")),
        ["c is used or spare 2 times", "square: 3 wanted, 3 made"],
    ),
    (
        "overlap of part and whole",
        "ell",
        item("uses", 0, part="a"),
        [
            "a is used or spare, and cut 2 cuts it up",
            "a for square is 5 x 11",
            "c is left over",
        ],
    ),
    (
        "unknown use",
        "ell",
        both(item("uses", 0, part="q")),
        ["q is used or spare, and no cut makes it", "c is left over"],
    ),
    (
        "unknown row",
        "ell",
        item("uses", 0, for_="cuts/round"),
        ["c is for cuts/round, which is not wanted", "square: 3 wanted, 1 made"],
    ),
    (
        "used and spare",
        "ell",
        add("spare", *spare("c")),
        ["c is used or spare 2 times"],
    ),
    ("spare twice", "ell", add("spare", *spare("b")), ["b is used or spare 2 times"]),
    (
        "spare that is cut",
        "ell",
        add("spare", *spare("d")),
        ["d is used or spare, and cut 3 cuts it up"],
    ),
    (
        "spare unknown",
        "ell",
        add("spare", *spare("q")),
        ["q is used or spare, and no cut makes it"],
    ),
    ("left over", "ell", drop("spare", 0), ["b is left over"]),
    (
        "use dropped",
        "ell",
        drop("uses", 0),
        ["c is left over", "square: 3 wanted, 1 made and 1"],
    ),
    (
        "a tick too wide",
        "ell",
        item("cuts", 0, x=inch(5) + 1),
        [
            "c for square is ≈5 x 5 and must be 5 x 5",
            "e for square is ≈5 x 5",
            "There are 2 ruler widths",
        ],
    ),
    (
        "a tick too short",
        "ell",
        item("cuts", 1, y=inch(5) - 1),
        [
            "c for square is 5 x ≈5 and must",
            "e for square is 5 x ≈5 and must",
            "There are 3 ruler widths",
        ],
    ),
    (
        "turned the wrong way",
        "notch",
        item("uses", 2, turned=True),
        ["foot for foot is 4 x 12 and must be 12 x 4"],
    ),
    (
        "outside the outline",
        "triangle",
        both(item("cuts", 0, x=inch(8)), row("cuts", 0, width=inch(8))),
        [
            "c for square is not a whole rectangle: some of it lies outside",
            "There are 2 ruler widths",
        ],
    ),
    (
        "a tick outside the outline",
        "triangle",
        both(item("cuts", 0, x=inch(6) + 1), row("cuts", 0, width=inch(6) + 1)),
        ["c for square is not a whole rectangle", "There are 2 ruler widths"],
    ),
    (
        "flaw",
        "stain",
        row("pieces", 0, flaws=(outline("3 3; 6 3; 5 5"),)),
        ["a for bar lies on a flaw"],
    ),
    (
        "a tick of a flaw",
        "stain",
        row(
            "pieces",
            0,
            flaws=((*outline("4 3; 5 2"), (inch(6) + 1, inch(3)), *outline("5 5")),),
        ),
        ["e for bar lies on a flaw"],
    ),
    (
        "flaw inside",
        "stain",
        row("pieces", 0, flaws=(outline("1 1; 2 1; 2 2"),)),
        ["a for bar lies on a flaw"],
    ),
    (
        "raw edge",
        "raw",
        both(item("cuts", 0, x=inch("0.25") - 1), item("cuts", 1, x=inch("4.25") - 1)),
        [
            "t7 for square comes within 1/4 of an edge",
            "t9 for square comes within 1/4 of an edge",
        ],
    ),
    (
        "raw far edge",
        "raw",
        row(
            "pieces",
            0,
            outline=(
                (0, 0),
                (inch("4.5") - 1, 0),
                (inch("4.5") - 1, inch("8.5")),
                (0, inch("8.5")),
            ),
        ),
        ["t7 for square comes within", "t9 for square comes within"],
    ),
    (
        "rough measure",
        "raw",
        setting(about=inch("0.5") + 1),
        ["r7 for square comes within ≈3/4 of an edge"],
    ),
    (
        "square-up",
        "raw",
        setting(square_up=inch("0.25") + 1),
        [
            "t7 for square comes within",
            "t9 for square comes within",
            "r7 for square comes within",
        ],
    ),
    (
        "end of a length",
        "shrunk",
        setting(square_up_end=inch("0.5") + 1),
        ["seg1 for binding comes within ≈1/2"],
    ),
    (
        "far end of a length",
        "shrunk",
        setting(square_up_end=inch("0.75")),
        ["seg1 for binding comes within 3/4", "seg3 for sash comes within 3/4"],
    ),
    (
        "into the extra",
        "shrunk",
        setting(extra=inch("0.25")),
        ["seg3 for sash comes within"],
    ),
    (
        "shrinkage along",
        "shrunk",
        lambda case: job(
            fabrics=(
                replace(
                    case[0].fabrics[0], shrink_along=case[0].fabrics[0].shrink_along * 2
                ),
            )
        )(case),
        ["seg3 for sash comes within 1/2 of an edge"],
    ),
    (
        "shrinkage across",
        "shrunk",
        lambda case: job(
            fabrics=(
                replace(
                    case[0].fabrics[0],
                    shrink_across=case[0].fabrics[0].shrink_across * 2,
                ),
            )
        )(case),
        [
            "binding comes to ≈57 53/64|binding comes to",
            "binding is .* long and must be 58 1/2",
        ],
    ),
    (
        "fabric",
        "together",
        row("cuts", 2, fabrics=("bark",)),
        ["P3 for square is pear, a fabric that square may not be cut from"],
    ),
    (
        "unknown grain",
        "grain",
        row("cuts", 3, grain="across"),
        ["U for patch is from a piece of unknown grain"],
    ),
    (
        "unknown grain of a print",
        "grain",
        row("pieces", 0, grain_known=False),
        ["B for leaf is from a piece of unknown grain, and its print"],
    ),
    (
        "grain along",
        "grain",
        row("cuts", 2, grain="along"),
        ["Q for cross lies the wrong way: its length must run along"],
    ),
    (
        "grain across",
        "grain",
        row("cuts", 1, grain="across"),
        ["P for long lies the wrong way: its length must run across"],
    ),
    (
        "print along",
        "grain",
        lambda case: job(
            fabrics=tuple(
                replace(f, one_way=f.one_way and "along") for f in case[0].fabrics
            )
        )(case),
        ["M for leaf lies the wrong way: its print, which stands up along"],
    ),
    (
        "print across",
        "grain",
        lambda case: job(
            fabrics=tuple(
                replace(f, one_way=f.one_way and "across") for f in case[0].fabrics
            )
        )(case),
        ["B for leaf lies the wrong way: its print, which stands up across"],
    ),
    (
        "grain of a strip",
        "shrunk",
        row("strips", 0, grain="along"),
        ["seg1 for binding lies the wrong way", "seg2 for binding lies the wrong way"],
    ),
    # counts
    (
        "count",
        "ell",
        row("cuts", 0, count=4),
        ["square: 4 wanted, 2 made and 1 said to be short"],
    ),
    (
        "too many",
        "ell",
        row("cuts", 0, count=2),
        ["square: 2 wanted, 2 made and 1 said to be short"],
    ),
    (
        "short dropped",
        "ell",
        plan(short=()),
        ["square: 3 wanted, 2 made and 0 said to be short"],
    ),
    (
        "short in two",
        "ell",
        both(row("cuts", 0, count=5), add("short", Short(for_="cuts/square", count=1))),
        ["square: 5 wanted, 2 made and 2 said"],
    ),
    (
        "strip count",
        "shrunk",
        row("strips", 0, count=2),
        ["binding: 2 wanted, 1 made and 0"],
    ),
    (
        "short of the unknown",
        "ell",
        add("short", Short(for_="cuts/round", count=1)),
        ["short of cuts/round, which is not wanted"],
    ),
    (
        "short of nothing",
        "ell",
        add("short", Short(for_="cuts/square", count=0)),
        ["short of 0 of cuts/square"],
    ),
    (
        "most each",
        "together",
        row("cuts", 2, most_each=1),
        ["square: 2 from bark, and at most 1"],
    ),
    (
        "together",
        "together",
        both(item("uses", 1, part="B1"), item("uses", 3, part="P2")),
        ["All of flower must come from one fabric, and comes from bark and pear"],
    ),
    (
        "together in one row",
        "together",
        row("cuts", 2, together="tray"),
        ["All of tray must come from one fabric"],
    ),
    # strips
    (
        "segment width",
        "shrunk",
        row("strips", 0, width=inch("2.25")),
        [
            "seg1 for binding is 2 1/2 x .* and must be 2 1/4 wide",
            "seg2 for binding is 2 1/2 x 20 and",
            "binding comes to",
        ],
    ),
    (
        "segment too short",
        "shrunk",
        row("strips", 0, shortest=inch(20) + 1),
        ["binding has a segment of 20; the shortest is"],
    ),
    (
        "strip too short",
        "shrunk",
        row("strips", 0, total_length=334_548 + inch("17.5") + 1),
        ["binding is .* long and must be"],
    ),
    (
        "strip of another length",
        "shrunk",
        item("joins", 0, length=334_548 + inch("17.5") - 1),
        ["binding comes to .*, and the plan says"],
    ),
    (
        "kind of join",
        "shrunk",
        item("joins", 0, join="straight"),
        ["binding has straight joins and wants diagonal"],
    ),
    (
        "loss of a straight join",
        "shrunk",
        both(row("strips", 0, join="straight"), item("joins", 0, join="straight")),
        ["binding comes to .*, and the plan says"],
    ),
    (
        "no join allowed",
        "shrunk",
        both(
            row("strips", 0, join="none"),
            item("joins", 0, join="none"),
            item("joins", 0, length=334_548 + inch(20)),
        ),
        ["binding must be of one segment and has 2"],
    ),
    (
        "no segments",
        "shrunk",
        both(item("joins", 1, segments=())),
        ["sash is joined from nothing", "seg3 is for strips/sash, and no strip has it"],
    ),
    (
        "segment twice",
        "shrunk",
        item("joins", 1, segments=("seg3", "seg3"), length=inch(80)),
        [
            "seg3 is joined 2 times",
            "sash must be of one segment and has 2",
            "number of joins comes to 2",
        ],
    ),
    (
        "segment of another strip",
        "shrunk",
        both(
            item("joins", 1, segments=("seg1",), length=334_548),
            item("joins", 0, segments=("seg3", "seg2"), length=inch("57.5")),
        ),
        [
            "seg1 is joined to sash, and is not cut for it",
            "seg3 is joined to binding, and is not cut for it",
            "binding is 57 1/2 long and must be 58 1/2",
        ],
    ),
    (
        "segment that is spare",
        "shrunk",
        both(
            item(
                "joins", 0, segments=("seg1", "seg2", "e"), length=2 * 334_548 - inch(5)
            ),
        ),
        [
            "e is joined to binding, and is not cut for it",
            "binding comes to",
            "binding has a segment of 2 1/2",
            "number of joins comes to 2",
        ],
    ),
    (
        "segment unjoined",
        "shrunk",
        both(item("joins", 0, segments=("seg1",), length=334_548), total(joins=0)),
        [
            "seg2 is for strips/binding, and no strip has it",
            "binding is .* long and must be",
        ],
    ),
    (
        "join unknown",
        "shrunk",
        add("joins", Join(for_="strips/rope", segments=(), join="none", length=0)),
        ["A strip is joined for strips/rope, which is not wanted"],
    ),
    (
        "join of a cut",
        "ell",
        both(
            row("cuts", 0, count=4),
            add("joins", Join(for_="cuts/square", segments=(), join="none", length=0)),
        ),
        ["A strip is joined for cuts/square, which is not wanted"],
    ),
    # totals and levels
    (
        "total money",
        "shrunk",
        both(total(money=Decimal("2.41")), item("levels", 0, value="2.41")),
        ["The money comes to 2.40, and the plan says 2.41"],
    ),
    (
        "total money where nothing is bought",
        "triangle",
        total(money=None),
        ["The money comes to 0, and the plan says None"],
    ),
    (
        "total bought",
        "shrunk",
        total(bought=lengths(oat=inch(9) - 1)),
        ["The fabric bought comes to oat 1/4 yd"],
    ),
    (
        "total bought more",
        "shrunk",
        total(bought=lengths(oat=inch(9), pear=1)),
        ["The fabric bought comes to oat 1/4 yd"],
    ),
    (
        "total pieces",
        "each",
        total(bought=pieces(oat=1)),
        ["The fabric bought by the piece comes to 2 of oat"],
    ),
    (
        "total pieces as a length",
        "each",
        total(bought=lengths(oat=2)),
        [
            "The fabric bought comes to nothing",
            "The fabric bought by the piece comes to 2 of oat",
        ],
    ),
    (
        "total cuts",
        "ell",
        total(cuts=4),
        ["The number of cuts comes to 3, and the plan says 4"],
    ),
    (
        "total ruler widths",
        "ell",
        total(ruler_widths=2),
        ["There are 1 ruler widths, and the plan says 2"],
    ),
    (
        "total seams",
        "ell",
        total(seams=1),
        ["The number of seams comes to 0, and the plan says 1"],
    ),
    (
        "total joins",
        "shrunk",
        total(joins=0),
        ["The number of joins comes to 1, and the plan says 0"],
    ),
    (
        "seam",
        "ell",
        both(
            total(seams=1),
            add(
                "seams",
                Seam(n=1, back="B1", a="c", b="e", side="right", seam=0, gives="g"),
            ),
        ),
        ["Seam 1 is for B1, which is not wanted"],
    ),
    (
        "level money",
        "shrunk",
        item("levels", 0, value="2.30"),
        ["The level money is 2.30; the plan comes to 2.40"],
    ),
    (
        "level cuts",
        "shrunk",
        item("levels", 1, value="7"),
        ["The level cuts is 7; the plan comes to 6", "is said to be"],
    ),
    (
        "level ruler widths",
        "shrunk",
        item("levels", 2, value="4"),
        ["The level ruler widths is 4; the plan comes to 3"],
    ),
    (
        "level seams",
        "shrunk",
        item("levels", 3, value="1", proved=False),
        ["The level seams is 1; the plan comes to 0"],
    ),
    (
        "level proved",
        "shrunk",
        item("levels", 0, proved=True),
        ["level money is said to be proved at 2.40, and its bound is 1.20"],
    ),
    (
        "level below its bound",
        "ell",
        item("levels", 1, bound="-11"),
        ["The level spare is -12, below its bound -11"],
    ),
    (
        "level of a length",
        "ell",
        item("levels", 1, value="-13 1/2", bound="-13 3/8"),
        ["The level spare is -13 1/2, below its bound -13 3/8"],
    ),
    (
        "level of wishes",
        "ell",
        both(
            row("cuts", 0, importance="nice"),
            add(
                "levels",
                Level(
                    name="wished for but left out", value="0", bound="0", proved=True
                ),
            ),
        ),
        ["The level wished for but left out is 0; the plan comes to 1"],
    ),
    (
        "level of a must",
        "ell",
        add(
            "levels",
            Level(name="wished for but left out", value="1", bound="0", proved=False),
        ),
        ["The level wished for but left out is 1; the plan comes to 0"],
    ),
    (
        "level of what is short",
        "ell",
        add(
            "levels",
            Level(name="short of what must be cut", value="0", bound="0", proved=True),
        ),
        ["The level short of what must be cut is 0; the plan comes to 1"],
    ),
    (
        "level not a number",
        "ell",
        item("levels", 1, value="many"),
        ["The level spare has a value or bound that is not"],
    ),
    (
        "level without a bound",
        "ell",
        item("levels", 1, bound="-Infinity"),
        ["The level spare has a value or bound that"],
    ),
    (
        "level twice",
        "ell",
        add("levels", Level(name="money", value="0", bound="0", proved=True)),
        ["The level money is given 2 times"],
    ),
]


@pytest.mark.parametrize("name", GOOD)
def test_a_good_plan_has_no_fault(name: str) -> None:
    assert check(*GOOD[name]()) == []


@pytest.mark.parametrize(
    ("base", "change", "expected"), [b[1:] for b in BROKEN], ids=[b[0] for b in BROKEN]
)
def test_a_broken_plan_has_its_faults_and_no_other(
    base: str, change: Change, expected: list[str]
) -> None:
    faults = check(*change(GOOD[base]()))
    for pattern in expected:
        assert any(re.search(pattern, fault) for fault in faults), (pattern, faults)
    for fault in faults:
        assert any(re.search(pattern, fault) for pattern in expected), fault
