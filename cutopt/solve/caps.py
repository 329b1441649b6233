"""How many of a row any plan could cut at most: a bound on what must be left out."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import groupby

from cutopt.solve.model import Item, Model
from cutopt.solve.pricing import Pricer
from cutopt.solve.relaxed import Relaxed, Source, relaxed


def least_left_out(model: Model, item: Item, cost: int) -> int:
    """How many of a row every plan leaves out that costs no more than `cost` (units of the model).

    Each cloth is counted as if it served this row alone, in ticks like every bound (:mod:`cutopt.solve.relaxed`): the
    grid of the search may have no room where a plan made by hand has.
    """
    if item.strip:
        return 0
    problem = relaxed(replace(model, items=(replace(item, rank=0, group=-1, most_each=0),)))
    cloth = [*((source, source.copies) for source in problem.pile), *_within(problem, cost)]
    sources = [source for source, _ in cloth]
    pricer = Pricer(replace(problem, shop=tuple(sources[len(problem.pile) :])), {s.offer: s.l for s in sources})
    one = problem.needs[0].weight  # at its own area as price nothing is lost in the rounding of a fraction
    *_, values = pricer.evaluate([one], sources)
    most = sum(copies * (value // one) for (_, copies), value in zip(cloth, values, strict=True))
    return max(0, item.copies - most)


def _within(problem: Relaxed, cost: int) -> Iterator[tuple[Source, int]]:
    """What so much buys of each thing on sale, as if nothing else were bought: the longest length, or so many."""
    for _, same in groupby(problem.shop, lambda source: source.offer):
        for source in [source for source in same if source.cost <= cost][-1:]:
            yield source, min(source.copies, cost // source.cost) if source.cost else source.copies
