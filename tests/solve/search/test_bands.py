"""Bands that lose nothing: on rectangles cut apart beforehand, and on rolls whose published optimum wastes nothing."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from itertools import count

import pytest

from cutopt.bench.instances import Instance, load
from cutopt.geometry import rectangle
from cutopt.solve.cuts.cut_parts import Rect
from cutopt.solve.cuts.sequence import cut_tree
from cutopt.solve.model.layout import Placement
from cutopt.solve.plates.plate_table import TURNED, UNTURNED, PlatePart
from cutopt.solve.search.band_sets import BandSet, Tries, best_sets
from cutopt.solve.search.bands import Band
from tests.places import BENCH
from tests.solve.search.rolls import split

# S. Jakobs (1996), European Journal of Operational Research 88(1), 165-181; E. Hopper & B. Turton (2001), European
# Journal of Operational Research 128(1), 34-57; the others by construction (data/bench/README.md)
WITHOUT_WASTE = (
    "J1",
    "C1-P1",
    "C2-P3",
    "C3-P3",
    "splitA_n40",
    "splitA_n80",
    "splitA_n120",
)


def never() -> bool:
    return False


def always() -> bool:
    return True


class Stacked:
    """A length on which what the bands leave is stacked part by part."""

    more = 0

    def __init__(self, parts: list[PlatePart], *, worth: bool) -> None:
        self.parts = parts
        self.best = 1 << 30
        self.worth = worth
        self.searched: list[tuple[int, ...]] = []

    def rest(self, counts: list[int], rows: int) -> list[Placement]:
        self.searched.append((rows, *counts))
        lies = []
        for k, many in enumerate(counts):
            w = self.parts[k].w
            h = self.parts[k].h
            for _ in range(many):
                lies.append(
                    Placement(
                        sheet=0, copy=0, unit=k, x=0, y=rows, w=w, l=h, turned=False
                    )
                )
                rows += h
        return lies

    def take(self, bands: Sequence[Band], rest: Sequence[Placement]) -> bool:
        long = max(
            (lie.y + lie.l for lie in rest), default=sum(band.h for band in bands)
        )
        better = long < self.best
        self.best = min(long, self.best)
        return better

    def goal(self) -> int:
        return self.best - 1

    def pays(self, rows: int) -> bool:
        return rows > 0 and self.worth


def found(
    w: int,
    h: int,
    parts: list[PlatePart],
    over: Callable[[], bool] = never,
    draws: int = 2,
    mends: int = 4,
    *,
    worth: bool = True,
) -> list[BandSet]:
    """The best sets, the first of which was taken last; nothing is searched for twice."""
    length = Stacked(parts, worth=worth)
    sets = best_sets(
        w, h, parts, length, Tries(draws=draws, mends=mends, drawn=over, mended=over)
    )
    assert not sets or sets[0].rest is None or sets[0].length == length.best
    assert len(set(length.searched)) == len(length.searched)
    return sets


def place(bands: Sequence[Band], parts: list[PlatePart]) -> list[Rect]:
    """The parts of bands that lie one on the other."""
    rects = []
    y0 = 0
    for band in bands:
        for k, x, y, turned in band.placements:
            w, h = (parts[k].h, parts[k].w) if turned else (parts[k].w, parts[k].h)
            assert y + h <= band.h
            rects.append(Rect(tag=k, x1=x, y1=y0 + y, x2=x + w, y2=y0 + y + h))
        y0 += band.h
    return rects


@pytest.mark.parametrize("seed", range(12))
def test_parts_of_bands_are_apart_and_no_more_than_wanted(seed: int) -> None:
    width = 60 + 7 * seed
    parts = split(width, 90, 14, seed) + split(
        width + 1, 35, 6, seed + 100
    )  # the others never fill the width
    if seed % 2:
        parts = [PlatePart(p.w, p.h, 0, UNTURNED | TURNED, p.most) for p in parts]
    sets = found(width, 2_000, parts)
    assert sets  # those of the first rectangle fill the width
    assert [bands.length for bands in sets] == sorted(bands.length for bands in sets)
    for bands in (each.bands for each in sets):
        rects = place(bands, parts)
        assert all(r.x1 >= 0 and r.x2 <= width for r in rects)
        for n, r in enumerate(rects):
            assert not any(
                r.x1 < o.x2 and o.x1 < r.x2 and r.y1 < o.y2 and o.y1 < r.y2
                for o in rects[:n]
            )
        used = Counter(r.tag for r in rects)
        assert all(many <= parts[k].most for k, many in used.items())
        for band in (
            bands
        ):  # a band is cut off by one straight cut, and loses no more than it may
            area = sum(parts[k].w * parts[k].h for k, *_ in band.placements)
            assert 100 * (width * band.h - area) <= 3 * width * band.h
        cut_tree(
            rectangle(width, 2_000), rects, 3.0
        )  # says so where no line from edge to edge is clear of all parts


@pytest.mark.parametrize(
    "instance",
    [i for i in load(BENCH, "strips") if i.name in WITHOUT_WASTE],
    ids=lambda i: i.name,
)
def test_rolls_without_waste_are_met(instance: Instance) -> None:
    parts = [PlatePart(i.w, i.h, 0, UNTURNED, i.most or 0) for i in instance.items]
    bands = found(instance.stock[0].w, instance.known["value"], parts)[0].bands
    assert sum(band.h for band in bands) == instance.known["value"]
    assert sum(len(band.placements) for band in bands) == sum(
        part.most for part in parts
    )


def test_mending_shortens_sets_and_repeats() -> None:
    shorter = 0
    for seed in range(4):
        parts = split(90, 120, 30, seed) + split(61, 60, 8, seed + 100)
        least = sum(part.w * part.h * part.most for part in parts) / 90
        drawn, mended, again = (
            found(90, 2_000, parts, mends=mends) for mends in (0, 40, 40)
        )
        assert least <= mended[0].length <= drawn[0].length
        assert [each.bands for each in mended] == [each.bands for each in again]
        shorter += mended[0].length < drawn[0].length
        unmended = found(90, 2_000, parts, mends=40, worth=False)
        assert [each.bands for each in unmended] == [each.bands for each in drawn]
    assert shorter


@pytest.mark.parametrize("questions", [1, 3, 6, 12])
def test_it_ends_wherever_it_is_told_to(questions: int) -> None:
    parts = split(90, 120, 30, 0) + split(61, 60, 8, 100)
    asked = count()
    sets = found(
        90, 2_000, parts, over=lambda: next(asked) >= questions, draws=8, mends=1_000
    )
    assert next(asked) < questions + 40  # the end is heard, not waited for
    for bands in sets:
        used = Counter(k for band in bands.bands for k, *_ in band.placements)
        assert all(many <= parts[k].most for k, many in used.items())


def test_what_the_bands_leave_comes_after_them() -> None:
    parts = [
        PlatePart(60, 30, 0, UNTURNED, 1),
        PlatePart(30, 30, 0, UNTURNED, 1),
        PlatePart(40, 20, 0, UNTURNED, 1),
    ]
    (best, *_) = found(90, 500, parts)
    assert (best.rows, best.length) == (30, 50)
    assert [(lie.unit, lie.y) for lie in best.rest or ()] == [(2, 30)]


def test_nothing_is_found_where_nothing_fills_the_width() -> None:
    assert found(100, 100, [PlatePart(40, 30, 0, UNTURNED, 20)]) == []


def test_it_stops_when_it_is_told_to() -> None:
    assert found(100, 100, [PlatePart(50, 30, 0, UNTURNED, 20)], always) == []
