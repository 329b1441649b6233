"""What each piece of cloth is worth at most, at given prices of the needs: exact, in whole numbers."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Collection, Iterator, Sequence
from functools import cached_property
from itertools import groupby

import numpy as np

from cutopt.solve.bounds.limited_copies import limited_value
from cutopt.solve.bounds.relaxed import LENGTH_UNIT, Need, Relaxed, RelaxedCloth
from cutopt.solve.bounds.windows import MOST_CELLS, Scratch, WindowTable
from cutopt.solve.plates.plate_table import TURNED, UNTURNED, Ints, PlateTable, sums

# additions in one table; above it sizes are rounded down to a coarser unit
MOST_WORK = 20_000_000
# lengths of one offer
_MOST_RECKONED = 60


class KindTable:
    """Plates of one kind of cloth: what every size of it may serve and is worth."""

    def __init__(self, problem: Relaxed, ways: int, limit: tuple[int, int]) -> None:
        self.served = problem.served(ways)
        self.turns = [problem.ways[ways][k] for k in self.served]
        self.needs = [problem.needs[k] for k in self.served]
        self.limit = limit
        self.unit, self.table = self._fitting(problem.unit)
        t = self.table
        self.longest_x = np.minimum(
            np.append(t.xs[1:] * self.unit - 1, limit[0]), limit[0]
        )
        self.longest_y = np.minimum(
            np.append(t.ys[1:] * self.unit - 1, limit[1]), limit[1]
        )

    def _fitting(self, unit: int) -> tuple[int, PlateTable]:
        """The exact unit where its table is small enough, else the one that loses least of the sizes.

        Raises
        ------
        ValueError
            When no unit gives a table of bearable size.
        """
        sizes = sorted({size for need in self.needs for size in (need.w, need.l)})
        finest = max(self.limit) // 2000

        def kept(step: int) -> tuple[float, int]:
            return sum(
                n.worth * (n.w // step * step / n.w) * (n.l // step * step / n.l)
                for n in self.needs
            ), step

        tried = {size // parts for size in sizes for parts in range(1, 200)}
        good = sorted(
            (step for step in tried if finest < step <= sizes[0]),
            key=kept,
            reverse=True,
        )
        for step in ([unit] if max(self.limit) // unit < 1 << 15 else []) + good:
            table = self._table(step)
            if table.work <= MOST_WORK:
                return step, table
        raise ValueError("no table of bearable size")

    def _table(self, unit: int) -> PlateTable:
        limit = (self.limit[0] // unit, self.limit[1] // unit)
        across = []
        along = []
        for need, turns in zip(self.needs, self.turns, strict=True):
            w = need.w // unit
            length = need.l // unit
            if turns & UNTURNED:
                across.append(w)
                along.append(length)
            if turns & TURNED:
                across.append(length)
                along.append(w)
        return PlateTable(sums(limit[0], across), sums(limit[1], along), limit)

    def fill(self, prices: Sequence[int]) -> None:
        """Price all plates at these prices of the needs of the problem."""
        self.prices = [prices[k] for k in self.served]
        base = np.zeros_like(self.table.values)
        for need, turns, price in zip(self.needs, self.turns, self.prices, strict=True):
            if price > 0 and turns & UNTURNED:
                self._enter(base, need, price)
            if price > 0 and turns & TURNED:
                self._enter(base.T, need, price, turned=True)
        self.table.fill_from(base)

    def _enter(
        self, base: Ints, need: Need, price: int, *, turned: bool = False
    ) -> None:
        xs = self.table.xs
        ys = self.table.ys
        longest = self.longest_y
        if turned:
            xs, ys, longest = ys, xs, self.longest_x
        i = int(np.searchsorted(xs, need.w // self.unit))
        if need.strip:
            worth = np.where(longest >= need.l, price * self._units(need, longest), 0)
            worth[0] = 0
            if i < len(xs):
                np.maximum(base[i], worth, out=base[i])
            return
        j = int(np.searchsorted(ys, need.l // self.unit))
        if i < len(xs) and j < len(ys):
            base[i, j] = max(base[i, j], price)

    @staticmethod
    def _units(need: Need, longest: Ints) -> Ints:
        return np.minimum(-(-(longest - need.loss) // LENGTH_UNIT), need.cap)

    def value(self, source: RelaxedCloth) -> int:
        """The most that a rectangle of this kind is worth."""
        return self.table.value(source.w // self.unit, source.l // self.unit)

    def counts(self, source: RelaxedCloth) -> dict[int, int]:
        """How much of each need of the problem a best plan of the rectangle holds."""
        total: dict[int, int] = {}
        for i, j, _, _ in self.table.leaves(
            source.w // self.unit, source.l // self.unit
        ).tolist():
            k, amount = self._which(i, j)
            total[k] = total.get(k, 0) + amount
        return total

    def _which(self, i: int, j: int) -> tuple[int, int]:
        wanted = int(self.table.base[i, j])
        u = self.unit
        size = (int(self.table.xs[i]), int(self.table.ys[j]))
        longest = (int(self.longest_x[i]), int(self.longest_y[j]))
        for k, need, turns, price in zip(
            self.served, self.needs, self.turns, self.prices, strict=True
        ):
            for way, across, along in ((UNTURNED, 0, 1), (TURNED, 1, 0)):
                if (
                    not turns & way
                    or size[across] < need.w // u
                    or longest[along] < need.l
                ):
                    continue
                if need.strip:
                    amount = need.counts(longest[along])
                else:
                    amount = int(size[along] >= need.l // u)
                if amount and amount * price == wanted:
                    return k, amount
        raise AssertionError("a plate is priced by a part that it cannot hold")


class Pricer:
    """Prices all cloth of a problem; `reach[offer]` is the longest length of an offer that its tables cover."""

    def __init__(self, problem: Relaxed, reach: dict[int, int]) -> None:
        self.problem = problem
        self.reach = reach
        self.tables: dict[int, KindTable | None] = {}
        self.windows: dict[int, WindowTable | None] = {}
        self.work = 0
        self.scratch = Scratch()
        self.most_cells = MOST_CELLS
        self._held: dict[int, dict[int, int]] = {}

    def covers(self, source: RelaxedCloth) -> bool:
        """Whether a length from the bolt is short enough for the tables."""
        return source.exclusive < 0 or source.l <= self.reach[source.offer]

    @cached_property
    def kinds(self) -> dict[int, tuple[int, int]]:
        """The largest plate of each kind of cloth."""
        largest: dict[int, tuple[int, int]] = {}
        for source in (*self.problem.pile, *self.problem.shop):
            if self.covers(source):
                w, length = largest.get(source.ways, (0, 0))
                largest[source.ways] = (max(w, source.w), max(length, source.l))
        return largest

    def extend(self, offer: int, length: int) -> None:
        """Cover longer lengths of an offer from now on."""
        self.reach[offer] = length
        self.__dict__.pop("kinds", None)
        self.tables.clear()

    def evaluate(
        self,
        prices: Sequence[int],
        sources: Sequence[RelaxedCloth],
        limited: Collection[RelaxedCloth] = (),
    ) -> Iterator[list[int]]:
        """The most that one copy of each source is worth at the prices, never below the truth.

        On the sources of `limited` no part counts more often than it is wanted. An iterator, so that the caller
        may do something else in between: it gives the values found so far after every piece of work, and all of
        them at last.

        Parameters
        ----------
        prices : sequence of int
            Of one of each need.
        sources : sequence of RelaxedCloth
        limited : collection of RelaxedCloth
            On which no part counts more often than it is wanted.
        """
        self.prices = list(prices)
        self._held = {}
        values: list[int] = []
        yield values
        for ways, limit in self.kinds.items():
            if ways not in self.tables:
                self.tables[ways] = self._table(ways, limit)
            table = self.tables[ways]
            if table is not None:
                table.fill(prices)
                self.work += table.table.work
                yield values
        for source in sources:
            before = self.work
            value = self._value(source)
            values.append(
                min(value, self._limited(source))
                if value and source in limited
                else value
            )
            if self.work > before:
                yield values
        yield values

    def _table(self, ways: int, limit: tuple[int, int]) -> KindTable | None:
        try:
            return KindTable(self.problem, ways, limit)
        except ValueError:
            return None

    def _value(self, source: RelaxedCloth) -> int:
        if not self.covers(source):
            return all_worth(self.problem, self.prices, source)
        best = plain_value(self.problem, self.prices, source)
        table = self.tables[source.ways]
        if best and table is not None:
            best = min(best, table.value(source))
        if source.cloth is not None and best:
            window = self._window(source)
        else:
            window = None
        if window is not None:
            best = min(best, window.fill(self.prices))
            # now: the next piece is worked out in the same tables
            self._held[id(source)] = window.counts()
            self.work += window.work
        return best

    def _limited(self, source: RelaxedCloth) -> int:
        value, counts, work = limited_value(self.problem, self.prices, source)
        self.work += work
        # nothing was found within the limits: what fits of the plan without them
        if not counts:
            demands = self.problem.needs
            counts = {
                k: min(amount, demands[k].demand)
                for k, amount in self.counts(source).items()
            }
        self._held[id(source)] = counts
        return value

    def counts(self, source: RelaxedCloth) -> dict[int, int]:
        """A plan of best worth, as amounts of each need; ask right after :meth:`evaluate`."""
        if id(source) in self._held:
            return self._held[id(source)]
        table = self.tables[source.ways]
        if table is None:
            return {}
        return table.counts(source)

    def _window(self, source: RelaxedCloth) -> WindowTable | None:
        key = id(source)
        if key not in self.windows:
            try:
                self.windows[key] = WindowTable(
                    self.problem, source, self.scratch, self.most_cells
                )
            except ValueError:
                self.windows[key] = None
        return self.windows[key]


def all_worth(problem: Relaxed, prices: Sequence[int], source: RelaxedCloth) -> int:
    """The worth of all that the cloth may serve: no copy can hold more that counts.

    Parameters
    ----------
    problem : Relaxed
    prices : sequence of int
        Of one of each need.
    source : RelaxedCloth
    """
    return sum(prices[k] * problem.needs[k].demand for k in problem.served(source.ways))


def plain_value(problem: Relaxed, prices: Sequence[int], source: RelaxedCloth) -> int:
    """The most that a copy may be worth by area, size and number of what is wanted; no table needed.

    The parts that fit, the dearest by area first, each no more often than it is wanted and than rows and columns
    of it fit, the last one as a fraction, rounded up.

    Parameters
    ----------
    problem : Relaxed
    prices : sequence of int
        Of one of each need.
    source : RelaxedCloth
    """
    fitting = []
    for k in problem.served(source.ways):
        need = problem.needs[k]
        if prices[k]:
            most = _most(need, problem.ways[source.ways][k], source)
        else:
            most = 0
        if most:
            # a segment counts up to one unit more than its length: its area per unit is that much less
            if need.strip:
                area = need.weight * need.l // (need.l + LENGTH_UNIT)
            else:
                area = need.weight
            fitting.append((prices[k] / area, prices[k], area, min(most, need.demand)))
    left = source.area
    worth = 0
    for _, price, area, most in sorted(fitting, reverse=True):
        taken = min(most, left // area)
        left = left - taken * area
        worth = worth + taken * price
        if taken < most:
            return worth - (-left * price // area)
    return worth


def plain_values(
    problem: Relaxed, prices: Sequence[int], enough: int
) -> tuple[int, ...]:
    """The plain value of each source of the shop; a length that is worth `enough` is told as worth just that.

    Of many shorter lengths only some are reckoned, and those between are told as worth what the next longer one is.

    Parameters
    ----------
    problem : Relaxed
    prices : sequence of int
        Of one of each need.
    enough : int
        Beyond this no worth matters.
    """
    values: list[int] = []
    for _, group in groupby(
        problem.shop, lambda source: (source.offer, source.exclusive)
    ):
        sources = list(group)
        if sources[0].exclusive < 0:
            values += [plain_value(problem, prices, source) for source in sources]
            continue
        first = bisect_left(
            sources, enough, key=lambda source: plain_value(problem, prices, source)
        )
        told = [enough] * len(sources)
        step = -(-first // _MOST_RECKONED) or 1
        for high in range(first, 0, -step):
            low = max(0, high - step)
            told[low:high] = [plain_value(problem, prices, sources[high - 1])] * (
                high - low
            )
        values += told
    return tuple(values)


def _most(need: Need, turns: int, source: RelaxedCloth) -> int:
    """How often it fits by rows and columns (units of length for a strip)."""
    if turns & UNTURNED:
        ways = [(need.w, need.l)]
    else:
        ways = []
    ways += [(need.l, need.w)] if turns & TURNED else []
    ways = [(w, length) for w, length in ways if w <= source.w and length <= source.l]
    if not ways or need.strip:
        if ways:
            return need.demand
        return 0
    w, length = (min(size) for size in zip(*ways, strict=True))
    return int((source.w // w) * (source.l // length))
