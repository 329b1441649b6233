"""The search for trees, run by the kernels in slices: what is best by number of parts is kept on a shelf."""

from __future__ import annotations

from collections.abc import Iterator
from types import ModuleType
from typing import Any, Final

import numpy as np

from cutopt.solve.kernels import sewn_state as k
from cutopt.solve.kernels.loader import load
from cutopt.solve.piecing.make_up import MakeUp
from cutopt.solve.piecing.read_tree import read_tree
from cutopt.solve.piecing.task import Task

# a back of more parts is no gift to its maker
MOST_PARTS: Final = 40
_NODES: Final = 2 * MOST_PARTS + 24
# rounds between two heats, and of a slice
COURSE: Final = 60_000
_HOT: Final = 5 * 64
_WARM: Final = 100
_COLD: Final = 6
_NOTHING: Final = np.iinfo(np.int64).max


class Trees:
    """Trees for one task, searched for again and again from a heat.

    Parameters
    ----------
    task : Task
    seed : int
    compiled : bool
        Whether the compiled kernels are used: a thousand times as fast once they are there.
    """

    def __init__(self, task: Task, seed: int, *, compiled: bool) -> None:
        self.task = task
        self.compiled = compiled
        self.kernel: ModuleType = load("sewn_search", compiled=compiled)
        self.halt = np.zeros(1, dtype=np.int64)
        self._seed = seed
        self._courses = 0
        arrays = task.arrays
        cloths = len(arrays.cloth)
        kinds = len(arrays.stock)
        self.tree = _tree(cloths, kinds)
        self._other = _tree(cloths, kinds)
        self.desk = _desk(arrays)
        self._shelf = k.Shelf(
            cost=np.full(MOST_PARTS, _NOTHING),
            money=np.full(MOST_PARTS, _NOTHING),
            **{
                name: np.zeros((MOST_PARTS, *field.shape), dtype=np.int64)
                for name, field in self.tree._asdict().items()
            },
        )

    def use_compiled(self) -> None:
        """Go on with the compiled kernels."""
        self.compiled = True
        self.kernel = load("sewn_search", compiled=True)

    def course(self, rounds: int = COURSE) -> None:
        """One course from hot to cold, from new cloth alone or from one of the best trees."""
        self._courses += 1
        heat = _HOT
        kept = self._kept()
        # the first ones, and every third, begin from nothing
        if self._courses <= 2 or self._courses % 3 == 1 or not kept:
            _begin(self.tree)
        else:
            heat = _WARM
            # the cheapest and those of fewer parts by turns
            self._take(kept[self._courses * 7 % len(kept)])
        self.tree.misc[k.M_RNG] = 1 + (
            (self._seed * 7919 + self._courses * 104_729) % 2_147_483_645
        )
        self.kernel.anneal(
            self.task.arrays,
            self.tree,
            self._other,
            self.desk,
            self._shelf,
            heat,
            _COLD,
            rounds,
            self.halt,
        )

    def learn(self, other: Trees) -> None:
        """Take over what another search for the same task has found, where it is better."""
        mine = self._shelf
        theirs = other._shelf
        for parts in range(MOST_PARTS):
            own = int(mine.money[parts]), int(mine.cost[parts])
            if (int(theirs.money[parts]), int(theirs.cost[parts])) < own:
                for kept, found in zip(mine, theirs, strict=True):
                    kept[parts] = found[parts]

    def _kept(self) -> list[int]:
        """Numbers of parts of the trees that no other betters in both money and parts."""
        found = []
        least = int(_NOTHING)
        for parts, money in enumerate(self._shelf.money.tolist()):
            if money < least:
                found.append(parts)
                least = money
        return found

    def _take(self, parts: int) -> None:
        for name, field in self.tree._asdict().items():
            field[:] = getattr(self._shelf, name)[parts]

    @property
    def least(self) -> int | None:
        """The least that any tree costs so far; None where there is none yet."""
        least = int(self._shelf.money.min())
        if least == _NOTHING:
            return None
        return least

    def make_ups(self) -> Iterator[MakeUp]:
        """The best by number of parts, fewest first, each cheaper than those before."""
        for parts in self._kept():
            self._take(parts)
            yield from self._read()

    def new_cloth_alone(self) -> Iterator[MakeUp]:
        """The back of nothing but new cloth, if that can be bought and keeps to what is asked."""
        _begin(self.tree)
        yield from self._read()

    def _read(self) -> Iterator[MakeUp]:
        """The make-up of the tree, if it keeps to what is asked."""
        load("sewn_cost").weigh(self.task.arrays, self.tree, self.desk)
        result = self.desk.result
        if result[k.R_BAD]:
            return
        root, laid = read_tree(self.task, self.tree, self.desk)
        cost = int(result[k.R_MONEY])
        worth = int(result[k.R_COST])
        yield MakeUp(root=root, laid=laid, cost=cost, worth=worth)


def _tree(cloths: int, kinds: int) -> Any:
    tree = k.Tree(
        node=np.zeros((_NODES, k.COLUMNS), dtype=np.int64),
        split=np.zeros((cloths, k.SPLITS, 2), dtype=np.int64),
        user=np.zeros((cloths, k.SLOTS), dtype=np.int64),
        used=np.zeros(kinds, dtype=np.int64),
        misc=np.zeros(4, dtype=np.int64),
    )
    _begin(tree)
    return tree


def _begin(tree: Any) -> None:
    """New cloth alone."""
    for field in tree:
        field[:] = 0
    tree.user[:] = k.FREE
    tree.node[0] = (k.LEAF, 0, 0, -1, k.ELASTIC, 0, 0)
    tree.misc[k.M_RNG] = 1


def _desk(arrays: Any) -> Any:
    longest = int(max(arrays.size[k.Z_WIDE], arrays.size[k.Z_HIGH])) + 1
    most = k.SLOTS * len(arrays.cloth) + len(arrays.group) + 1
    return k.Desk(
        curve=np.zeros((2, _NODES, longest), dtype=np.int32),
        mark=np.full((_NODES, 2), -1, dtype=np.int64),
        least=np.zeros((_NODES, 2), dtype=np.int64),
        near=np.zeros(_NODES, dtype=np.int64),
        part=np.zeros(_NODES, dtype=np.int64),
        box=np.zeros((_NODES, 4), dtype=np.int64),
        has=np.zeros(_NODES, dtype=np.int64),
        order=np.zeros(_NODES + 2, dtype=np.int64),
        todo=np.zeros(_NODES + 2, dtype=np.int64),
        free=np.zeros((most, 3), dtype=np.int64),
        result=np.zeros(10, dtype=np.int64),
    )
