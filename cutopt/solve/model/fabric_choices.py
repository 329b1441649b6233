"""What is wanted where a fabric has to be chosen: rows that stay together, and at most so many from each fabric.

A row whose parts may come from several fabrics under such a rule is a need of its own for each fabric. A choice says
how much of these needs is wanted: for rows that stay together all of one fabric's, for a row with a limit some of each.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace


@dataclass(frozen=True, slots=True, kw_only=True)
class FabricOption:
    """May be taken up to `cap` times, each time so much of each need (by number) is wanted."""

    cap: int
    amounts: tuple[tuple[int, int], ...]

    def worth(self, prices: Sequence[int]) -> int:
        """What is wanted when it is taken once."""
        return sum(prices[k] * amount for k, amount in self.amounts)


@dataclass(frozen=True, slots=True, kw_only=True)
class FabricChoice:
    """Options of which `total` are taken in all.

    `elsewhere` says how many parts (or whole strips) a plan lacks at least that takes none of the options; None where
    every plan takes some of them.
    """

    total: int
    options: tuple[FabricOption, ...]
    elsewhere: int | None = None

    @property
    def beyond(self) -> bool:
        """Whether more is asked for than the options may be taken."""
        return self.total > sum(option.cap for option in self.options)

    def worth(self, prices: Sequence[int], *, most: bool = False) -> int:
        """The least (or the most) that can be wanted at these prices, whatever is chosen."""
        left = self.total
        worth = 0
        for each, cap in sorted(
            ((o.worth(prices), o.cap) for o in self.options), reverse=most
        ):
            taken = min(cap, left)
            left = left - taken
            worth = worth + taken * each
        return worth


@dataclass(frozen=True, slots=True, kw_only=True)
class Demand:
    """The worth of what is wanted: `base` in any case and, for each option of each choice taken once, `costs`.

    `least` and `most` are what the choices may make of it.
    """

    base: int
    costs: tuple[tuple[int, ...], ...] = ()
    least: int
    most: int

    def at(self, picks: Sequence[Sequence[int]]) -> int:
        """What is wanted when each option is taken so many times."""
        chosen = zip(self.costs, picks, strict=True)
        return self.base + sum(
            cost * n
            for costs, pick in chosen
            for cost, n in zip(costs, pick, strict=True)
        )

    def less(self, worth: int) -> Demand:
        """What is still wanted when so much is there."""
        return replace(
            self,
            base=self.base - worth,
            least=self.least - worth,
            most=self.most - worth,
        )


def demand_at(
    prices: Sequence[int], demands: Sequence[int], choices: Sequence[FabricChoice]
) -> Demand:
    """The worth at these prices of the demands and of what the choices ask for.

    `demands` of needs that belong to a choice are what can be wanted of them, and do not count.

    Parameters
    ----------
    prices : sequence of int
        Of one of each need.
    demands : sequence of int
        How much of each need is wanted.
    choices : sequence of FabricChoice
    """
    chosen = {
        k for choice in choices for option in choice.options for k, _ in option.amounts
    }
    base = sum(price * demands[k] for k, price in enumerate(prices) if k not in chosen)
    return Demand(
        base=base,
        costs=tuple(
            tuple(option.worth(prices) for option in choice.options)
            for choice in choices
        ),
        least=base + sum(choice.worth(prices) for choice in choices),
        most=base + sum(choice.worth(prices, most=True) for choice in choices),
    )
