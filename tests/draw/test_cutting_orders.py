"""A maker who has the page and nothing else: every cut that is printed is done, and what comes of it is sewn.

Identities worked out here from the sentences and from the length in the shop; an inch is 25.4 mm (international yard
and pound agreement, 1959). Washing before cutting where cloth shrinks is common practice, no source.
"""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction

import pytest

from cutopt.answers import backing_to_buy
from cutopt.answers.backing import BackingAnswer, cloth_of_way
from cutopt.check.backs import faults_of_order
from cutopt.draw.lengths import cutting_order
from cutopt.fabric import ByLength, Fabric
from cutopt.lengths import MM
from cutopt.quilt.backs.cut_order import numbered
from cutopt.quilt.backs.cut_order import told as order_of
from cutopt.quilt.backs.sewn import BackPart, Piecing
from cutopt.quilt.backs.way import Way
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.surds import ROOT2, exact
from cutopt.quilt.top import Needed
from tests.draw.printed_back import (
    HOW,
    INCH,
    NUMBER,
    UNIT,
    Size,
    asked,
    number,
    printed,
)


def listed(text: str) -> tuple[int, ...]:
    return tuple(int(each) for each in re.findall(r"\d+", text))


def cut_as_told(told: list[str], cloth: Size) -> dict[int, Size]:
    """What is left of the cloth for each part, in the unit of the page, when the sentences are followed."""
    *steps, last = told
    parts = tuple(int(each) for each in re.findall(r"(\d+): ", last))
    held = {parts: cloth}
    for text in steps:
        if text.startswith(("Wash ", "Press ")):
            continue
        head = text.replace(
            "the whole length", "the cloth for " + " ".join(map(str, parts))
        )
        if head.startswith("Fold "):
            of, one, other = re.findall(
                r"(?:cloth for|half is|the other) ([^.,;]*?)(?: lengthwise|[.,;])",
                head + ";",
            )
            wide, long = held.pop(listed(of))
            held[listed(one)] = held[listed(other)] = (wide / 2, long)
            continue
        size = number(re.search(rf"(?:cut|to) ({NUMBER}) (?:long|wide)", head)[1])  # type: ignore[index]
        across = " long" in head
        of = listed(re.search(r"(?:cloth for|part) ([\d, and]*)", head)[1])  # type: ignore[index]
        wide, long = held.pop(of)
        assert 0 < size <= (long if across else wide), text
        off = listed(head.partition(": it is ")[2]) or of
        rest = tuple(each for each in of if each not in off)
        held[off] = (wide, size) if across else (size, long)
        if rest:
            held[rest] = (wide, long - size) if across else (wide - size, long)
    assert all(len(each) == 1 for each in held)
    return {each[0]: size for each, size in held.items()}


def sewn(node: Piecing, sizes: dict[int, Size], unit: Fraction) -> Size:
    """How large it comes out: of two edges that are sewn together the shorter, twice the seam for each seam."""
    if isinstance(node, BackPart):
        wide, high = sizes.get(
            id(node), (node.width.plain / unit, node.height.plain / unit)
        )
        return wide, high
    seam = 2 * Fraction(node.seam) / unit
    all_ = [sewn(part, sizes, unit) for part in node.parts]
    wides = [wide for wide, _ in all_]
    highs = [high for _, high in all_]
    lost = seam * (len(all_) - 1)
    if node.down:
        return min(wides), sum(highs, start=Fraction(0)) - lost
    return sum(wides, start=Fraction(0)) - lost, min(highs)


def there(way: Way, answer: BackingAnswer, share: Fraction, unit: Fraction) -> Size:
    """What is on the table: bought, washed, selvages and ends off."""
    assert isinstance(way.offered, ByLength)
    ends = 2 * Fraction(answer.how.square_up_end)
    wide = way.offered.usable_width * (1 - share)
    return wide / unit, (way.bought * (1 - share) - ends) / unit


def follow(answer: BackingAnswer, way: Way, share: Fraction) -> None:
    """Cut and sew a way by its page alone."""
    unit = UNIT[answer.how.unit]
    told = cutting_order(answer, way)
    assert told[0].startswith("Wash ") == bool(share)
    mine = numbered(way.sewn)
    if not mine:
        return
    there_is = cut_as_told(told, there(way, answer, share, unit))
    sizes = printed(told[-1])
    assert set(sizes) == set(there_is) == set(mine)
    hung = {}
    for n, (wide, long) in sizes.items():
        assert wide <= there_is[n][0], (n, told)
        assert long <= there_is[n][1], (n, told)
        across = mine[n].width == mine[n].place[2]  # type: ignore[index]
        square = wide == long
        hung[id(mine[n])] = (wide, long) if across or square else (long, wide)
    width, height = sewn(way.sewn, hung, unit)
    assert exact(width * unit) >= answer.need.width, told
    assert exact(height * unit) >= answer.need.length, told


@pytest.mark.parametrize("percent", [0, 3, Fraction(7, 2), 5])
@pytest.mark.parametrize(
    ("unit", "top", "usable"),
    [
        ("in", "42 1/2 x 48 1/2", "42"),
        ("in", "58 x 66", "43 1/2"),
        ("in", "76 1/2 x 80", "108"),
        ("in", "90 1/16 x 104 3/16", "56"),
        ("cm", "110.5 x 123.3", "107"),
        ("cm", "151 x 170", "150"),
        ("cm", "200.7 x 222", "274"),
    ],
)
def test_what_is_printed_can_be_cut_and_is_large_enough(
    unit: str, top: str, usable: str, percent: Fraction
) -> None:
    """Of 42 in that shrink to 40.74 it asked for 40 3/4, and of half of that twice for 20 3/8."""
    share = Fraction(percent) / 100
    answer = asked(top, usable, share, unit)
    followed = [way for way in answer.ways if way.bought]
    assert followed
    for way in followed:
        follow(answer, way, share)


def test_a_size_off_every_mark_is_reached() -> None:
    """An on-point top is a multiple of √2: of 30 x √2 = 42.43 in, and 2 on each side, panels are cut larger."""
    share = Fraction(3, 100)
    oat = Fabric(name="oat", shrink_across=share, shrink_along=share)
    shop = ByLength(fabric="oat", usable_width=int(42 * INCH), sold_by=int(INCH))
    root = ROOT2 * 30 * INCH
    need = Needed(
        what="backing", width=root, length=root, base="finished", overage=(0, 0), why=""
    )
    answer = backing_to_buy(need, [shop], HOW["in"], [oat])
    for way in answer.ways:
        if way.bought:
            follow(answer, way, share)


def test_halves_are_folded_and_not_measured() -> None:
    """40.74 / 2 is 20.37, on no mark: two halves are made by folding, and 20 5/16 is what each has at least."""
    answer = asked("58 x 66", "42", Fraction(3, 100), "in")
    way = next(way for way in answer.ways if way.off_middle)
    told = cutting_order(answer, way)
    assert sum("cut along the fold" in text for text in told) == 1
    assert "20 5/16 x" in told[-1]
    assert not any("20 3/8" in text for text in told)


def test_the_checker_reads_what_is_printed() -> None:
    """A size on the page that is an eighth too large is seen, though the plan behind it is right."""
    answer = asked("58 x 66", "42", Fraction(3, 100), "in")
    way = next(way for way in answer.ways if way.fitted and way.bought)
    cloth = cloth_of_way(way, answer)
    order = order_of(way.sewn, cloth, answer.how)
    assert faults_of_order(order, cloth, "in") == []
    wide = replace(order, parts={**order.parts, 1: ("40 3/4", order.parts[1][1])})
    assert faults_of_order(wide, cloth, "in") == [
        "part 1 comes out smaller than it is told"
    ]
    cut, _ = order.cuts[0]
    off = replace(order, cuts=((cut, "200"), *order.cuts[1:]))
    assert "cannot be cut off" in faults_of_order(off, cloth, "in")[0]
    assert (
        "is not cut loose" in faults_of_order(replace(order, cuts=()), cloth, "in")[0]
    )


@pytest.mark.parametrize(
    "how",
    [Conventions(back_seam=7 * MM), Conventions(grid=MM, ruler=MM)],
    ids=["a seam between the marks", "marks that an inch ruler lacks"],
)
def test_seams_and_rulers_that_do_not_agree(how: Conventions) -> None:
    """A strip may then come out longer than what it is sewn to by less than a mark, and never shorter."""
    share = Fraction(3, 100)
    answer = asked("58 x 66", "42", share, "in", how)
    followed = [way for way in answer.ways if way.bought]
    assert any(way.joins for way in followed)
    for way in followed:
        follow(answer, way, share)
