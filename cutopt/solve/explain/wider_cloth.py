"""What a person would ask the shop for where a row is short: cloth that is a little wider."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from cutopt.fabric import ByLength, ByPiece, Offered
from cutopt.job import Job
from cutopt.lengths import INCH, MM, format_length
from cutopt.solve.explain.changed_jobs import Mend, changed
from cutopt.wanted import Wanted

_INCH: Final = {"in": ("1 in", INCH), "cm": ("2.5 cm", 25 * MM)}


def wider(job: Job, row: Wanted) -> Iterator[Mend]:
    """With cloth from the shop that is an inch wider, or a piece that is an inch larger both ways."""
    told, inch = _INCH[job.settings.unit]
    for place, offered in enumerate(job.shop):
        if offered.fabric not in job.allowed(row):
            continue
        other = _larger(offered, inch)
        shop = (*job.shop[:place], other, *job.shop[place + 1 :])
        grown = changed(job, shop=shop)
        if grown is not None:
            said = f"find {offered.fabric} that is {_wide(other, job.settings.unit)} ({told} more than in shop.csv)"
            yield Mend(said=said, job=grown, whole=frozenset({row.key}))


def _larger(offered: Offered, inch: int) -> Offered:
    if isinstance(offered, ByPiece):
        return replace(
            offered,
            each_width=offered.each_width + inch,
            each_length=offered.each_length + inch,
        )
    return replace(offered, usable_width=offered.usable_width + inch)


def _wide(offered: Offered, unit: str) -> str:
    if isinstance(offered, ByLength):
        return f"{format_length(offered.usable_width, unit, mark=True)} wide"
    return f"{format_length(offered.each_width, unit)} x {format_length(offered.each_length, unit)} {unit}"
