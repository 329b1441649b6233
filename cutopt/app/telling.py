"""What a finished search says in the terminal, in a maker's words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

from cutopt.answers.choosing import chosen_for, in_all, sentences
from cutopt.pages.first_page import kept, short, standing, to_buy
from cutopt.pages.grids import Grid, offers, widths
from cutopt.pages.how_sure import how_sure
from cutopt.pages.measure_first import measure_first
from cutopt.quilt.cautions import of_use
from cutopt.result import Result
from cutopt.tables.recipe.quilt import quilt_of


def summary(result: Result, written: Sequence[Path] = ()) -> Iterator[str]:
    """Lines: what to buy and what it costs, how sure, what is short, what to measure, where the pages are."""
    job = result.job
    choices = chosen_for(job, quilt_of(job), result.plan)
    yield from (job.name, standing(result))
    blocks: list[tuple[str, Iterable[str]]] = [
        ("To buy", to_buy(result.plan, result, choices)),
        *sentences(choices, job.settings.unit, job.settings.currency),
        ("In all", in_all(result.plan.totals.money, choices, job.settings.currency)),
        ("How sure", how_sure(result)),
        ("Your rules", result.rules),
        ("Short", short(result.plan)),
        ("Spare worth keeping", kept(result.plan, result)),
        ("Measure these first", measure_first(result)),
        ("Mind", (*result.notices, *result.washing, *result.mixed)),
    ]
    for title, lines in blocks:
        yield from _block(title, lines)
    if len(result.offers) > 1:
        yield from table(offers(result))
    cases = widths(result)
    if cases is not None:
        yield from table(cases)
    yield from _care(result)
    yield from _block("Pages", (str(path) for path in written))


def _care(result: Result) -> Iterator[str]:
    """One line that fits the job, where there is anything to cut; the pages tell more."""
    if result.plan.cuts:
        quilt = quilt_of(result.job)
        line = of_use("" if quilt is None else quilt.use)
        yield from ("", f"Take care: {line}")


def _block(title: str, lines: Iterable[str]) -> Iterator[str]:
    listed = list(lines)
    if listed:
        yield from ("", title, *(f"  {line}" for line in listed))


def table(grid: Grid) -> Iterator[str]:
    """A small table in columns of equal width."""
    rows = [grid.head, *grid.rows]
    wide = [max(map(len, column)) for column in zip(*rows, strict=True)]
    yield from ("", grid.title)
    for row in rows:
        cells = map(str.ljust, row, wide)
        yield f"  {'  '.join(cells).rstrip()}"
    if grid.note:
        yield f"  {grid.note}"
