"""A label to sew on and a wash card to give along, both to cut out of one page.

A quilt carries a permanent label with name and date, on the back at the lower right (Purdue Extension Blackford
County, 4-H Quilting Project, 2020). Wash temperatures are the steps of ISO 3758:2023, told in words; those of the
iron are from memory. How much cotton draws in is common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any, Final

from reportlab.lib.colors import black
from reportlab.lib.units import mm
from reportlab.platypus import PageBreak, Spacer, Table, TableStyle

from cutopt.cloth import laid
from cutopt.draw.letters import names_of
from cutopt.job import Job
from cutopt.pages.paper import INSIDE, in_lines, register_fonts, set_words, words
from cutopt.plan import Plan
from cutopt.quilt.recipe.quilt import Quilt
from cutopt.quilt.sizes import may_be_a_babys
from cutopt.tables.files.atomic import write_whole
from cutopt.tables.recipe.quilt import quilt_of

INFANTS: Final = (
    "Never for sleep under 12 months. A baby sleeps on a bare, firm, flat surface; this quilt is for the floor, awake "
    "and watched, or for the wall (American Academy of Pediatrics, 2022)."
)
_FIRST: Final = (
    "The first wash: alone, or with a colour catcher; reds and navies may bleed. Cotton draws in by 2 to 5 in 100, "
    "more in a hot wash: that is usual."
)
_HEAT: Final = "Iron no hotter than the batting bears: polyester melts. Try the heat at a corner of the back first."
_WARD: Final = (
    "For a ward or a home: their own rules come first. Laundries there wash hot, above 71 C (160 F) for 25 minutes, or with "
    "low heat and a chlorine rinse (CMS State Operations Manual): tick only what was tried."
)
_GIVEN: Final = (
    "☐ Washed, fragrance free ☐ kept from smoke and pets ☐ pins and needles counted ☐ in a clean, sealed bag (common "
    "practice, no source)."
)
_AWAKE: Final = "Not for a sleeping baby: for the floor, watched, or the wall."
# 16 CFR 1501 bans them for children under 3
_NOTHING_SMALL: Final = "Add no buttons, beads or other small parts."
_WHEELS: Final = "In a chair with wheels: keep corners and edges clear of spokes and casters; no ties."
# of what is written on a label: the card has to stand on the same page
_MOST_LINES: Final = 9
_GAP: Final = "\u00a0\u00a0\u00a0 "  # blanks that stay wide
_CARE: Final = (
    ("Wash", ("30 C", "40 C", "50 C", "60 C", "70 C", "95 C", "by hand")),
    ("Cycle", ("normal", "gentle", "very gentle")),
    ("Bleach", ("none", "only without chlorine", "any")),
    ("Dry", ("flat", "on a line", "tumble, low", "tumble, medium")),
    ("Iron", ("do not", "low, 110 C", "medium, 150 C", "high, 200 C")),
    ("Dry cleaning", ("no", "yes")),
)


def label_page(job: Job, quilt: Quilt, plan: Plan | None = None) -> Iterator[Any]:
    """Both on one page; with a plan the card names the kinds of cloth that it cuts for the top.
    Parameters
    ----------
    job : Job
    quilt : Quilt
    plan : Plan, optional
        The one that the top is cut by.
    """
    yield PageBreak()
    yield from sheet(job, quilt, plan)


def sheet(job: Job, quilt: Quilt, plan: Plan | None = None) -> Iterator[Any]:
    """Label and wash card with lines to cut along.
    Parameters
    ----------
    job : Job
    quilt : Quilt
    plan : Plan, optional
        The one that the top is cut by.
    """
    yield words("Label and wash card", 18, bold=True, after=2)
    yield words(
        "Write or print the label on light cotton with a pen that is meant for cloth, heat-set it, and sew it to the "
        "back, lower right, before or after binding. It stays on for good: name and date. Give the card along.",
        10,
        after=6,
    )
    yield _cut_out(_label(job, quilt), 100 * mm)
    yield Spacer(1, 10 * mm)
    yield _cut_out(_card(job, quilt, plan), INSIDE)


def _cut_out(rows: Sequence[Any], wide: float) -> Any:
    table = Table([[list(rows)]], colWidths=[wide], hAlign="LEFT")
    dashes = (0.7, black, None, (3, 3))
    padding = [
        (f"{side}PADDING", (0, 0), (-1, -1), 8)
        for side in ("LEFT", "RIGHT", "TOP", "BOTTOM")
    ]
    table.setStyle(TableStyle([("BOX", (0, 0), (-1, -1), *dashes), *padding]))
    return table


def _label(job: Job, quilt: Quilt) -> list[Any]:
    said = (
        quilt.label
        or f"{job.name}. Made by ____________________ for ____________________"
    )
    rows: list[Any] = [
        in_lines(said, _MOST_LINES, 100 * mm - 16, 13, bold=True, after=4)
    ]
    if not re.search(r"\b(19|20)\d\d\b", said):
        rows.append(
            words(f"Date _______________{_GAP}Place _______________", 10, after=4)
        )
    if quilt.use and may_be_a_babys(quilt.use):
        rows += [words(text, 10, bold=True) for text in (_AWAKE, _NOTHING_SMALL)]
    return rows


def _card(job: Job, quilt: Quilt, plan: Plan | None) -> list[Any]:
    rows: list[Any] = [
        in_lines(f"How to wash: {job.name}", 2, INSIDE - 16, 13, bold=True, after=3)
    ]
    if quilt.top is not None:
        # quilting draws in by an unknown amount, and so does the first wash
        size = quilt.how.size(*quilt.top.size("trimmed", quilt.how), quilt.how.near)
        unit = job.settings.unit
        blank = "________ x ________"
        told = f"Measured when bound: {blank} {unit}.{_GAP}After its first wash: {blank} {unit}."
        rows.append(words(told, 10, after=2))
        rows.append(
            words(f"The top was {size} {unit} before it was quilted.", 10, after=3)
        )
    kinds = ", ".join(kinds_of_top(job, plan)) or "____________"
    top = f"Top: {kinds}.{_GAP}Back: ____________{_GAP}Batting: ____________"
    rows.append(in_lines(top, 3, INSIDE - 16, 10, after=3))
    rows += [
        words(
            f"{head}:{_GAP}" + _GAP.join(f"☐ {choice}" for choice in row), 10, after=2
        )
        for head, row in _CARE
    ]
    cautions = [_FIRST, _HEAT]
    cautions += [_WARD, _GIVEN] if quilt.use == "ward" else []
    cautions += [_WHEELS] if quilt.use == "chair with wheels" else []
    rows += [words(text, 9.5, before=2, after=1) for text in cautions]
    if may_be_a_babys(quilt.use):
        rows.append(words(INFANTS, 9.5, bold=True, before=2))
    return rows


def kinds_of_top(job: Job, plan: Plan | None = None) -> tuple[str, ...]:
    """The kinds of cloth in the top: of what a plan cuts for it, else of all that its parts may be cut from."""
    if plan is not None:
        there = laid(job, plan)
        names = {there.cloth(use.part).fabric for use in plan.uses}
    else:
        names = {name for row in job.wanted for name in job.allowed(row)}
    return tuple(
        dict.fromkeys(
            fabric.kind
            for fabric in job.fabrics
            if fabric.kind and fabric.name in names
        )
    )


def write_label(job: Job, path: str | Path) -> Path:
    """Write label and wash card of a job as a PDF of one page.

    Raises
    ------
    OSError
        Where it cannot be written.
    """
    register_fonts()
    quilt = quilt_of(job)
    if quilt is None:
        from cutopt.quilt.conventions import Conventions

        quilt = Quilt(how=Conventions.of(job.settings))
    with names_of(job):
        text, _ = set_words(list(sheet(job, quilt)), f"{job.name}: label")
    target = Path(path)
    write_whole(target, text)
    return target
