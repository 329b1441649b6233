"""Several of a row are short, or a strip: what a person would try, with sizes worked out beside each test.

Each advice is also followed: written into the tables of the job, read again and planned, nothing is short then.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from cutopt.check import check
from cutopt.fabric import Fabric, Piece
from cutopt.job import Job
from cutopt.lengths import MM, YARD
from cutopt.plan import Short
from cutopt.result import Result
from cutopt.settings import Settings
from cutopt.solve.control.stop import Work
from cutopt.solve.explain.changed_jobs import Mend
from cutopt.solve.explain.trials import Trials
from cutopt.solve.solver import solve
from cutopt.tables.job.reading import read_job
from cutopt.tables.job.saving import save_job
from cutopt.wanted import Cut, Strip
from tests.solve.small import bolt, cut, each, inch, job, piece, solved

ALL_THERE = ": then everything is there"


def told(task: Job, row: str) -> Short:
    """What is said of a row that is short; each mend has a plan that passes the checker."""
    result = solved(task, 300)
    plans = {evidence.said: evidence for evidence in result.evidence}
    (short,) = [short for short in result.plan.short if short.for_.endswith(f"/{row}")]
    for mend in short.mends:
        assert check(plans[mend].job, plans[mend].plan) == []
    return short


def followed(task: Job, folder: Path) -> Result:
    """The plan of a job that went through the tables."""
    save_job(task, folder / "job")
    return solve(read_job(folder / "job"), Work(300))


def with_cut(task: Job, *rows: Cut) -> Job:
    """The job with other rows in place of its first."""
    return replace(task, cuts=(*rows, *task.cuts[1:]))


# -- rectangles ------------------------------------------------------------------------------------


def test_several_at_once_and_all_of_a_new_size(tmp_path: Path) -> None:
    """12 x 9 holds four of 4 1/2 x 4 1/2; six need 4 x 4 1/2 or less, 4 x 4 as squares: 3 across, 2 along."""
    task = job(piece("rest", 12, 9), cut("star", 4.5, 4.5, 6))
    mends = told(task, "star").mends
    assert f"make all 6 of it 4 x 4{ALL_THERE}" in mends
    assert "want 4" not in " ".join(mends)  # fewer are no advice where anything else is
    row = task.cuts[0]
    assert not followed(
        with_cut(task, replace(row, width=inch(4), length=inch(4))), tmp_path
    ).plan.short
    eighth = replace(row, width=inch("33/8"), length=inch("33/8"))
    assert followed(with_cut(task, eighth), tmp_path / "larger").plan.short


def test_a_size_that_a_search_from_nothing_misses_gets_room_to_spare(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """4 x 4 is the largest of which six lie on 12 x 9; told is the next of which a new search finds all six."""
    asked = []

    def anew(trials: Trials, mend: Mend) -> bool:
        asked.append(mend.said)
        return mend.said != "make all 6 of it 4 x 4" and found_anew(trials, mend)

    found_anew = Trials.anew
    monkeypatch.setattr(Trials, "anew", anew)
    mends = told(job(piece("rest", 12, 9), cut("star", 4.5, 4.5, 6)), "star").mends
    assert "make all 6 of it 4 x 4" in asked
    assert f"make all 6 of it 3 7/8 x 3 7/8{ALL_THERE}" in mends


def test_another_size_for_some_comes_last_and_never_alone() -> None:
    """12 x 9 holds four of 4 1/2 x 4 1/2 and two of 3 x 3; stars of a quilt are meant to be alike: all 4 x 4 first."""
    task = job(piece("rest", 12, 9), cut("star", 4.5, 4.5, 6))
    mends = told(task, "star").mends
    some = [number for number, mend in enumerate(mends) if "instead" in mend]
    assert some in ([], [len(mends) - 1])
    assert any(mend.startswith("make all 6 of it") for mend in mends)


def test_fewer_where_nothing_else_is_found() -> None:
    """Of 6 x 6 two lie on 12 x 6; four would have to be 3 x 6 or less, another thing altogether.

    What the shop has is 2 in wide: an inch more holds no half of one with its seam either.
    """
    narrow = replace(bolt(), usable_width=inch(2))
    task = job(piece("rest", 12, 6), narrow, cut("star", 6, 6, 4))
    assert told(task, "star").mends == (
        f"want 2 of it in place of 4{ALL_THERE}, with nothing bought",
    )


def test_a_set_that_must_match_gets_smaller_as_a_whole(tmp_path: Path) -> None:
    """12 x 6 for two of 6 x 5 and two of 3 x 2 of one fabric: 5 + 2 is 7 along; each 1/2 less in length both ways.

    With 1/2 less each way they are 5 1/2 x 4 1/2 and 2 1/2 x 1 1/2: 6 along, 11 across.
    """
    rows = [
        cut(name, w, h, 2, together="set", grain="along")
        for name, w, h in (("front", 6, 5), ("back", 3, 2))
    ]
    task = job(piece("rest", 12, 6), *rows)
    (short,) = solved(task, 300).plan.short
    sizes = [
        mend for mend in short.mends if mend.startswith("make all of the set smaller")
    ]
    assert sizes
    assert sizes[0].endswith(ALL_THERE)
    assert not any("instead" in mend for mend in short.mends)  # they are to be alike
    less = [
        replace(row, width=row.width - inch("1/2"), length=row.length - inch("1/2"))
        for row in task.cuts
    ]
    assert not followed(replace(task, cuts=tuple(less)), tmp_path).plan.short


def test_another_fabric_for_all_of_the_rest(tmp_path: Path) -> None:
    """10 x 5 of pear holds two of 5 x 5; 15 x 5 of oat three more, of plum one."""
    pile = [
        piece("a", 10, 5),
        piece("b", 15, 5, fabric="oat"),
        piece("c", 5, 5, fabric="plum"),
    ]
    task = job(*pile, cut("star", 5, 5, 5, fabrics=("pear",)))
    mends = told(task, "star").mends
    assert f"let it be cut from oat too{ALL_THERE}" in mends
    assert "let it be cut from plum too: then 2 of star are still short" in mends
    assert not followed(
        with_cut(task, replace(task.cuts[0], fabrics=("pear", "oat"))), tmp_path
    ).plan.short


def test_fabrics_that_exclude_each_other() -> None:
    """Of a set one row names pear alone, the other oat alone: no size mends that, one more fabric does."""
    pile = [piece("a", 10, 10), piece("b", 10, 10, fabric="oat")]
    front, back = (
        cut(name, 4, 4, fabrics=(f,), together="set")
        for name, f in (("front", "pear"), ("back", "oat"))
    )
    task = job(*pile, front, back)
    (short,) = solved(task, 300).plan.short
    what = "they have to come from the same fabric (together: set), and no fabric may serve all of them"
    assert short.why == f"{what}: front from pear and back from oat"
    other = "oat" if short.for_ == "cuts/front" else "pear"
    assert f"let it be cut from {other} too{ALL_THERE}" in short.mends
    assert (
        f"let front and back differ in fabric (leave together blank){ALL_THERE}"
        in short.mends
    )
    assert not any("make" in mend for mend in short.mends)
    assert not solved(
        replace(task, cuts=(replace(front, together=""), replace(back, together="")))
    ).plan.short


def test_what_should_not_be_touched_and_a_print_that_stands_up() -> None:
    """8 x 4 holds one of 4 x 8 lying, none standing; the other piece, not to be touched, holds two standing."""
    pear = Fabric(name="pear", one_way="along")
    pile = [piece("low", 8, 4), piece("kept", 8, 8, wish="do not touch")]
    task = job(pear, *pile, cut("star", 4, 8, 1, upright=True))
    assert (
        f"let it lie the other way (leave upright blank){ALL_THERE}"
        in told(task, "star").mends
    )
    two = job(piece("some", 4, 8), *pile, cut("star", 4, 8, 4, grain="along"))
    assert (
        'let kept be cut too (the wish says "do not touch"): then 1 of star is still short'
        in told(two, "star").mends
    )


def test_an_inch_more_of_cloth(tmp_path: Path) -> None:
    """Four of 10 1/2 lie side by side in 42 in, not in 41; one length of 1/2 yd less 1 in (17) holds one row."""
    narrow = replace(bolt(), usable_width=inch(41), most=YARD // 2)
    task = job(piece("bit", 3, 3), narrow, cut("star", 10.5, 10.5, 4))
    wide = f"find pear that is 42 in wide (1 in more than in shop.csv){ALL_THERE}"
    assert any(mend.startswith(wide) for mend in told(task, "star").mends)
    wider = replace(task, shop=(replace(narrow, usable_width=inch(42)),))
    assert not followed(wider, tmp_path).plan.short


def test_halves_with_a_seam(tmp_path: Path) -> None:
    """Two of 12 x 4 lie on 12 x 8; what is left holds 6 1/4 x 4 twice: halves of 12 with a quarter inch each."""
    pile = [piece("a", 12, 8), piece("b", 6.25, 8)]
    task = job(*pile, cut("slat", 4, 12, 3))
    seams = "(a seam of 1/4 in is counted in)"
    assert (
        f"sew 1 of them from two halves of 4 x 6 1/4 each {seams}{ALL_THERE}"
        in told(task, "slat").mends
    )
    row = task.cuts[0]
    rows = (
        replace(row, count=2),
        replace(row, name="half of slat", count=2, length=inch(6.25)),
    )
    assert not followed(with_cut(task, *rows), tmp_path).plan.short


def test_what_a_recipe_has_worked_out_keeps_its_numbers() -> None:
    """A size of a quilt's own is not to be written otherwise into cuts.csv; a fabric is."""
    row = cut("patch", 4.5, 4.5, 6, fabrics=("pear",), why="24 blocks of 4 in")
    task = job(piece("rest", 12, 9), piece("more", 12, 9, fabric="oat"), row)
    assert any("make" in mend for mend in told(task, "patch").mends)
    quilt = told(replace(task, quilt='blocks = "24 squares of 4"\n'), "patch").mends
    assert f"let it be cut from oat too{ALL_THERE}" in quilt
    assert not any(
        word in mend for mend in quilt for word in ("make", "instead", "sew", "want")
    )


def test_what_is_bought_in_place_of_what_the_plan_buys() -> None:
    """The print stands up on pear, so the banner takes 41 in of it; oat has no way up, and gives the stars besides."""
    pear = Fabric(name="pear", one_way="along")
    rows = (
        cut("banner", 20, 40, upright=True),
        cut("star", 4.5, 4.5, 6, fabrics=("oat",)),
    )
    task = job(
        pear, piece("bit", 3, 3), piece("rest", 12, 9, fabric="oat"), bolt(), *rows
    )
    bought = [mend for mend in told(task, "star").mends if "buy" in mend]
    assert bought
    assert all(
        "also" not in mend for mend in bought if "in place of 1 1/4 yd of pear" in mend
    )
    assert all("in place of" not in mend for mend in bought if "also" in mend)


# -- strips ----------------------------------------------------------------------------------------


def edge(**more: Any) -> Strip:
    """A strip 2 in wide and 40 long, joined diagonally from segments of 10 in or more."""
    told: dict[str, Any] = {
        "width": inch(2),
        "total_length": inch(40),
        "shortest": inch(10),
        "fabrics": ("pear",),
    }
    return Strip(name="edge", **(told | more))


def strips_of(*lengths: float, **more: Any) -> Job:
    pile = [piece(f"s{n}", 2, length) for n, length in enumerate(lengths)]
    return job(*pile, strips=(edge(**more),))


def test_how_far_a_strip_comes() -> None:
    """20 + 18 less one join of 2 are 36 of 40; one more segment of 4 + 2 would be 6, the shortest is 10."""
    short = told(strips_of(20, 18), "edge")
    assert short.why.endswith("; it comes to 36 in of 40 in, 4 in are missing")
    assert f"find one more piece of pear, 2 x 10 in{ALL_THERE}" in short.mends
    assert f"make it 36 in long (total_length){ALL_THERE}" in short.mends


FOLLOWED: list[tuple[tuple[float, ...], str, Callable[[Strip], Strip]]] = [
    # 20 + 20.5 less 2 of a diagonal join are 38 1/2, less 1/2 of a straight one 40
    ((20, 20.5), "join it straight (join)", lambda row: replace(row, join="straight")),
    # 20 + 18 less 2 are 36, with one of 7 1/2 less 2: 41 1/2; half of 10 is 5, three quarters 7 1/2
    (
        (20, 18, 7.5),
        "join segments from 7 1/2 in on (shortest)",
        lambda row: replace(row, shortest=inch(7.5)),
    ),
    (
        (20, 18),
        "make it 36 in long (total_length)",
        lambda row: replace(row, total_length=inch(36)),
    ),
]


@pytest.mark.parametrize(("lengths", "said", "change"), FOLLOWED)
def test_a_strip_with_the_advice_followed(
    lengths: tuple[float, ...],
    said: str,
    change: Callable[[Strip], Strip],
    tmp_path: Path,
) -> None:
    task = strips_of(*lengths)
    assert f"{said}{ALL_THERE}" in told(task, "edge").mends
    assert not followed(
        replace(task, strips=(change(task.strips[0]),)), tmp_path
    ).plan.short


def test_a_narrower_strip(tmp_path: Path) -> None:
    """7 x 40 holds three of 2 in and a fourth of none; at 1 3/4 in four: an eighth less."""
    task = job(piece("rest", 7, 40), strips=(edge(count=4),))
    assert f"cut it 1 3/4 in wide (width){ALL_THERE}" in told(task, "edge").mends
    assert not followed(
        replace(task, strips=(edge(count=4, width=inch(1.75)),)), tmp_path
    ).plan.short


# -- what no maker may be told ---------------------------------------------------------------------


def test_a_mend_that_is_no_job_is_not_tried() -> None:
    """A print across, a grain along, and the row would come from nothing else; half of a width below 1/8 in."""
    oat = Fabric(name="oat", one_way="across")
    row = cut("star", 8, 8, fabrics=("pear",), grain="along", upright=True)
    short = told(
        job(oat, piece("p", 3, 3), piece("o", 20, 20, fabric="oat"), row), "star"
    )
    assert not any("oat" in mend for mend in short.mends)
    thin = Cut(name="thin", width=7 * MM // 2, length=3000 * MM)
    cloth = Piece.of_size("p", "pear", 100 * MM, 20 * MM)
    metric = replace(Settings.metric(), seam=0, grid=MM)
    assert not any(
        "sew" in mend for mend in told(job(cloth, thin, settings=metric), "thin").mends
    )


def test_a_row_that_no_fabric_may_serve() -> None:
    """Batting is cut only where it is named."""
    wool = Fabric(name="wool", kind="batting")
    rows = (
        cut("star", 5, 5, importance="nice", together="set"),
        cut("pad", 5, 5, fabrics=("wool",), together="set"),
    )
    short = told(job(wool, piece("w", 20, 20, fabric="wool"), *rows), "star")
    assert (
        short.why
        == "no fabric may serve it: it names none, and batting is cut only where it is named"
    )
    assert short.mends == (f"let it be cut from wool too{ALL_THERE}",)


# -- what a rule costs -----------------------------------------------------------------------------


def test_a_print_that_stands_up_costs_more() -> None:
    """20 x 40 along takes 41 in, 1 1/4 yd (45); lying it takes 21, 5/8 yd (22 1/2): 5/8 yd less, at 9.60 6.00."""
    pear = Fabric(name="pear", one_way="along")
    task = job(pear, piece("bit", 3, 3), bolt(), cut("banner", 20, 40, upright=True))
    result = solved(task)
    assert result.rules == (
        (
            "Because the print of banner stands up, 5/8 yd of pear more is bought, for 6.00: "
            "without that rule (upright) 5/8 yd of pear (6.00 in all) would do."
        ),
    )
    (evidence,) = [each for each in result.evidence if each.said in result.rules]
    assert check(evidence.job, evidence.plan) == []
    assert evidence.job.cuts == (replace(task.cuts[0], upright=False),)
    unpriced = solved(replace(task, shop=(replace(task.shop[0], price=None),))).rules
    assert unpriced == (
        (
            "Because the print of banner stands up, 5/8 yd of pear more is bought: without that rule (upright) "
            "5/8 yd of pear would do."
        ),
    )


def test_what_costs_nothing_is_not_said() -> None:
    """A print that stands up on a square; a grain on what the pile gives; a plan that buys nothing."""
    pear = Fabric(name="pear", one_way="along")
    square = job(pear, piece("bit", 3, 3), bolt(), cut("banner", 20, 20, upright=True))
    pile = job(pear, piece("bit", 30, 41), bolt(), cut("banner", 20, 40, upright=True))
    for task in (square, pile):
        assert solved(task).rules == ()


def test_from_one_fabric_costs_more() -> None:
    """Two of 10 x 10: one lies on plum; both from one fabric take a piece each of pear, at 3.00, instead of one.

    The bound does not see it, so it is not said for certain.
    """
    task = job(
        piece("a", 10, 10, fabric="plum"),
        each("pear", 10, 10, "3.00"),
        cut("front", 10, 10, together="set"),
        cut("back", 10, 10, together="set"),
    )
    assert solved(task).rules == (
        (
            "That all of front and back come from one fabric may cost 3.00: without that rule (together) "
            "1 piece of pear (3.00 in all) would do."
        ),
    )


def test_a_rule_of_hers_is_named_and_without_it_comes_first() -> None:
    """12 x 10 holds three of 10 x 3 that stand up, one above the other, and four turned, side by side (identity)."""
    boats = Fabric(name="boats", one_way="along")
    window = cut("window", 10, 3, 4, fabrics=("boats",), upright=True)
    task = job(boats, piece("rest", 12, 10, fabric="boats"), bolt(), window)
    short = told(task, "window")
    rule = "as its print has to stand up (upright), at most 3 of the 4 can be cut"
    assert short.why.startswith(rule)
    free = f"let it lie the other way (leave upright blank){ALL_THERE}"
    assert short.mends[0] == f"{free}, with nothing bought"
    assert not solved(with_cut(task, replace(window, upright=False)), 300).plan.short


def test_a_rule_without_which_it_lacks_as_much_is_not_named() -> None:
    """12 x 10 holds nine squares of 4 x 3 that stand up, and nine turned or mixed at most: 120 / 12 is ten (identity)."""
    boats = Fabric(name="boats", one_way="along")
    square = cut("square", 4, 3, 11, fabrics=("boats",), upright=True)
    task = job(boats, piece("rest", 12, 10, fabric="boats"), square)
    assert told(task, "square").why.startswith("at most ")


def test_a_mend_says_what_is_bought_then() -> None:
    """Six of 7 in lie side by side in 42 in: a quarter yd less an inch (8 in) of oat at 9.60 a yd is 2.40 (identity)."""
    row = cut("star", 7, 7, 6, fabrics=("pear",))
    oat = bolt("oat", smallest=YARD // 4)
    task = job(piece("rest", 7, 7), piece("more", 40, 40, fabric="plum"), oat, row)
    mends = told(task, "star").mends
    priced = ", with 1/4 yd of oat (2.40 in all) bought"
    assert f"let it be cut from oat too{ALL_THERE}{priced}" in mends
    assert f"let it be cut from plum too{ALL_THERE}, with nothing bought" in mends
