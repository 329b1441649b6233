"""Batting to buy for a top: every way side by side, and what to choose."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from cutopt import svg
from cutopt.fabric import Offered
from cutopt.quilt import batting as batting_sums
from cutopt.quilt.batting import BattingWay, batting_ways
from cutopt.quilt.conventions import DEFAULT, Conventions
from cutopt.quilt.top import Needed, Top, batting_size


@dataclass(frozen=True, slots=True, kw_only=True)
class BattingAnswer:
    """What to buy for batting: all ways, safe ones first."""

    need: Needed
    ways: tuple[BattingWay, ...]
    how: Conventions

    @property
    def head(self) -> tuple[str, ...]:
        """Headings of :attr:`rows`."""
        return batting_sums.HEADER

    @property
    def rows(self) -> tuple[tuple[str, ...], ...]:
        """All ways as a table of text."""
        return batting_sums.table(self.ways, self.how)

    @property
    def said(self) -> tuple[str, ...]:
        """What to know before the table."""
        told = [f"The batting has to reach {self.how.size(self.need.width, self.need.length)}: {self.need.why}."]
        if not self.ways:
            return (*told, "Nothing here is large enough: join pieces, straight edges butted, with a wide zigzag.")
        first = self.ways[0]
        easy = min(self.ways, key=lambda way: (bool(way.tight), way.joins))
        said = "It costs least" if first.money is not None else "The smallest that is safe"
        if first.tight:
            said = f"A tight fit: {first.tight}"
        told.append(f"{first.what}, {first.kind}. {said}.")
        if easy is not first and easy.joins < first.joins:
            told.append(f"{easy.what}, {easy.kind}. No join.")
        return tuple(told)

    def _repr_html_(self) -> str:
        return svg.sheet("Batting to buy", svg.sentences(self.said), svg.table(self.head, self.rows, "All the ways"))


def batting_to_buy(top: str | Top | Needed, shop: Sequence[Offered] = (), how: Conventions = DEFAULT) -> BattingAnswer:
    """Batting for a top, from what a shop sells; without a shop the usual packaged sizes (common practice)."""
    measured = Top.read(top, how) if isinstance(top, str) else top
    need = measured if isinstance(measured, Needed) else batting_size(measured, how)
    return BattingAnswer(need=need, ways=batting_ways(need, shop, how), how=how)
