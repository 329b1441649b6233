"""Rows that stay together: from which fabric, found out by a race of short searches.

All parts of such a group have to leave one fabric at once for another, which a search that ruins a few parts a round
hardly ever does. So each choice of a fabric for each group is searched for on its own.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from itertools import product
from typing import TypeAlias

from cutopt.solve.search.arrays import Arrays
from cutopt.solve.search.descent import EVERYTHING, NO_LIMIT, descend
from cutopt.solve.search.engine import Engine
from cutopt.solve.search.races import Over, most_beside, race

# the largest groups are chosen for, as many as give no more choices than this
_MOST_CHOICES = 24

# the fabric of each group that is chosen for
Choice: TypeAlias = dict[int, int]


def choices(arrays: Arrays) -> list[Choice]:
    """Every way to give each of the largest groups one fabric that has cloth for all of it; [{}] for no choice.

    Only rows that must be cut count: the others go where there is room.
    """
    areas: Counter[int] = Counter()
    for item, wanted in zip(arrays.items, arrays.wanted.tolist(), strict=True):
        if item.group >= 0 and item.rank == 0:
            areas[item.group] += wanted * item.w * (1 if item.strip else item.l)
    found: list[Choice] = [{}]
    for group, _ in areas.most_common():
        able = _able(arrays, group)
        if len(able) > 1 and len(found) * len(able) <= most_beside(
            arrays, _MOST_CHOICES
        ):
            found = [
                {**choice, group: fabric} for choice, fabric in product(found, able)
            ]
    return found


def _able(arrays: Arrays, group: int) -> list[int]:
    """Fabrics with cloth for each row of a group that must be cut and for which there is any cloth."""
    sheets = arrays.model.sheets
    rows = []
    for item, turns in zip(arrays.items, arrays.problem.turns.tolist(), strict=True):
        if item.group == group and item.rank == 0 and any(turns):
            rows.append(
                {
                    sheet.fabric
                    for sheet, ways in zip(sheets, turns, strict=True)
                    if ways
                }
            )
    if rows:
        return sorted(set.intersection(*rows))
    return []


class _Runner:
    """The search with one choice."""

    def __init__(
        self, engine: Engine, choice: Choice, bound: Callable[[], int]
    ) -> None:
        self.engine = engine.beside(engine.arrays.within(choice))
        self._bound = bound
        self.engine.first()

    @property
    def place(self) -> tuple[int, int]:
        """What is missing, and the cost."""
        return self.engine.missing(), self.engine.cost

    @property
    def done(self) -> bool:
        """Whether no plan can be cheaper."""
        return not self.engine.missing() and self.engine.cost <= self._bound()

    def run(self, over: Over) -> None:
        """Place everything, and then buy less and less."""
        if self.engine.missing():
            self.engine.reach(
                EVERYTHING, NO_LIMIT, 1, lambda: over() or not self.engine.missing()
            )
        descend(self.engine, self._bound, over)


def choose(engine: Engine, share: float, bound: Callable[[], int], over: Over) -> bool:
    """Search for the best choice within this share of the limit; whether that bettered the best state.

    Parameters
    ----------
    engine : has a best state, and gets a better one
    bound : what no cost can go below
    over : whether to stop at once
    """
    found = choices(engine.arrays)
    meter = engine.meter
    if len(found) < 2 or (not engine.missing() and engine.cost <= bound()):
        return False
    runners: list[_Runner] = []
    try:
        runners += (_Runner(engine, choice, bound) for choice in found)
        best = race(runners, lambda: meter.share, share, over)
        if best.place >= (engine.missing(), engine.cost):
            return False
        engine.copy(best.engine.best, engine.best)
        return True
    finally:
        for runner in runners:
            runner.engine.close()
