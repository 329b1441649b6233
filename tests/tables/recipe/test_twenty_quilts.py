"""Twenty whole quilts from traditional patterns: cutting list and yardage worked by hand beside those of the tool.

Quilts and figures are invented; `twenty_quilts.toml` tells how the hand counts, and where makers do it in another way.
The method is common practice, no source; the sums are arithmetic identities, done once more here in fractions.

With Work(2000) the plans of the nineteen in inches bought 59 yd for the 61 3/4 of the hand, that in centimetres 2.4 m
for 2.5; no fabric of any took more, but for one of a mixture in which others took less.
"""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from math import ceil, floor
from pathlib import Path

import pytest

from cutopt.answers.backing import backing_to_buy
from cutopt.check import check
from cutopt.fabric import ByLength
from cutopt.job import Job
from cutopt.lengths import INCH, MM
from cutopt.quilt.recipe.quilt import Quilt
from cutopt.quilt.surds import Exact
from cutopt.solve.control.stop import Work
from cutopt.solve.solver import solve
from cutopt.tables.job.reading import read_job
from cutopt.tables.recipe.quilt import quilt_of
from cutopt.wanted import Cut, Strip
from tests.tables.recipe.twenty_quilts import (
    FABRICS,
    METRIC_TRADE,
    TWENTY,
    ByHand,
    Line,
)

NAMES = [quilt.name for quilt in TWENTY]
# those that are planned in a second or two
SOON = {
    "60-degree triangles",
    "borders round a finished top",
    "flying geese in columns",
    "strips, one above the other",
}
SOME = [
    pytest.param(
        hand, id=hand.name, marks=() if hand.name in SOON else (pytest.mark.slow,)
    )
    for hand in TWENTY
]


def job_of(hand: ByHand, folder: Path) -> Job:
    """The quilt as a quilter writes it into a folder: no pile, and a shop that has every fabric."""
    unit, usable, step = "in", "42", "1/8 yd"
    if hand.trade is METRIC_TRADE:
        unit, usable, step = "cm", "106", "10 cm"
    (folder / "job.toml").write_text(f'unit = "{unit}"\nsquare_up_end = "0"\n')
    (folder / "quilt.toml").write_text(hand.said)
    (folder / "pile.txt").write_text("")
    shop = ["fabric,usable_width,sold_by"]
    shop += [f"{fabric},{usable},{step}" for fabric in FABRICS]
    (folder / "shop.csv").write_text("\n".join(shop))
    return read_job(folder)


def quilt_from(job: Job) -> Quilt:
    made = quilt_of(job)
    assert made is not None
    return made


def ticks(hand: ByHand, length: Fraction) -> Fraction:
    """A length of the hand in ticks."""
    if hand.trade is METRIC_TRADE:
        return length * 10 * MM
    return length * INCH


@pytest.mark.parametrize("hand", TWENTY, ids=NAMES)
def test_the_hand_did_its_sums_right(hand: ByHand) -> None:
    """Strips, yardage and backing once more, in fractions: nothing of the tool is asked."""
    used = Counter[str]()
    for line in hand.lines:
        assert strips_of(hand, line) == line.strips, line
        used[line.fabric] += line.strips * line.height
    for fabric, length in used.items():
        steps = ceil(Fraction(length) / hand.trade.whole / hand.trade.step)
        assert steps * hand.trade.step == hand.buy[fabric], fabric
    assert set(used) == set(hand.buy)
    back = hand.back
    reach = back.widths * hand.trade.usable
    reach -= (back.widths - 1) * 2 * hand.trade.back_seam
    assert back.each in back.size
    assert reach >= sum(back.size) - back.each
    steps = ceil(back.widths * back.each / hand.trade.whole / hand.trade.step)
    assert steps * hand.trade.step == back.buy


def strips_of(hand: ByHand, line: Line) -> int:
    """How many strips the parts of a line take."""
    usable = hand.trade.usable
    total = sum(count * max(sides) for count, *sides in line.parts)
    join = {"joined": 2 * hand.trade.seam, "joined slantwise": line.height}
    if line.how in join:
        assert {min(sides) for _, *sides in line.parts} == {line.height}
        return ceil((total - join[line.how]) / (usable - join[line.how]))
    across = {sum(sides) - line.height for _, *sides in line.parts}
    held = int(line.how.removesuffix(" a strip"))
    assert min(floor(usable / each) for each in across) == held
    return ceil(Fraction(sum(count for count, *_ in line.parts), held))


@pytest.mark.parametrize("hand", TWENTY, ids=NAMES)
def test_the_tool_cuts_what_the_hand_cuts(hand: ByHand, tmp_path: Path) -> None:
    """Count and size of every part, finished size, length of the binding, size of the backing."""
    made = quilt_from(job_of(hand, tmp_path))
    by_hand = Counter[tuple[str, frozenset[Fraction]]]()
    for line in hand.lines:
        for count, *sides in line.parts:
            size = frozenset(ticks(hand, side) for side in sides)
            by_hand[line.fabric, size] += count
    assert rows_of(made) == by_hand
    assert made.finished is not None
    assert made.backing_size is not None
    assert made.batting_size is not None
    back = (made.backing_size.width, made.backing_size.length)
    assert are(hand, made.finished, hand.finished)
    assert are(hand, back, hand.back.size)
    assert (made.batting_size.width, made.batting_size.length) == back


def rows_of(made: Quilt) -> Counter[tuple[str, frozenset[Fraction]]]:
    """Count by fabric and size; a mixture of which each fabric may give an even share is as much of each."""
    rows = Counter[tuple[str, frozenset[Fraction]]]()
    for row in made.wanted:
        size = frozenset({Fraction(row.width), Fraction(long(row))})
        for fabric in row.fabrics:
            if isinstance(row, Cut) and row.most_each:
                assert row.most_each * len(row.fabrics) == row.count
                rows[fabric, size] += row.most_each
            else:
                assert len(row.fabrics) == 1
                rows[fabric, size] += row.count
    return rows


def long(row: Cut | Strip) -> int:
    if isinstance(row, Cut):
        return row.length
    return row.total_length


def are(hand: ByHand, found: tuple[Exact, ...], told: tuple[Fraction, ...]) -> bool:
    """Whether sizes are those of the hand, which writes hundredths where a diagonal has no end."""
    pairs = zip(found, told, strict=True)
    near = ticks(hand, Fraction(1, 200))
    return all(abs(float(it - ticks(hand, by))) < near for it, by in pairs)


@pytest.mark.parametrize("hand", SOME)
def test_the_plan_buys_no_more_than_the_hand(hand: ByHand, tmp_path: Path) -> None:
    """Of every fabric, by the eighth of a yard or by 10 cm; of a mixture, of all together."""
    job = job_of(hand, tmp_path)
    result = solve(job, Work(2000), offers=False)
    assert result.complete
    assert check(job, result.plan) == []
    totals = result.plan.totals
    planned = {fabric: totals.length_of(fabric) for fabric in FABRICS}
    by_hand = {
        fabric: ticks(hand, buy * hand.trade.whole) for fabric, buy in hand.buy.items()
    }
    assert sum(planned.values()) <= sum(by_hand.values())
    if any(isinstance(row, Cut) and row.most_each for row in job.wanted):
        return
    for fabric, length in planned.items():
        assert length <= by_hand.get(fabric, 0), fabric


@pytest.mark.parametrize("hand", SOME)
def test_the_back_takes_no_more_than_whole_widths(hand: ByHand, tmp_path: Path) -> None:
    """Sizes are invented; that whole widths serve, and how long they are, is an identity."""
    job = job_of(hand, tmp_path)
    made = quilt_from(job)
    bolt = [each for each in job.shop if isinstance(each, ByLength)]
    answer = backing_to_buy(made, bolt[:1], made.how)
    assert answer.best[0].way.bought <= ticks(hand, hand.back.buy * hand.trade.whole)
