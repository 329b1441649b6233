"""Rows to tick off: a box, a label, and what to do beside them; and how high things on a page are."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from reportlab.lib.units import mm
from reportlab.platypus import Paragraph, Table, TableStyle

from cutopt.pages.paper import INSIDE, PAGE, escaped, style, words


def ticked(
    label: str,
    text: str,
    notes: Sequence[str] = (),
    *,
    beside: float = 28 * mm,
    bold: str = "",
) -> Any:
    """A row with a box to tick, in large letters, and notes below in smaller ones.

    Parameters
    ----------
    label : str
        What stands in bold before it: the numbers of its cuts, or of its seam.
    text : str
    notes : sequence of str
    beside : float
        Room for the label, points.
    bold : str
        What of the text is set in bold, where it first stands.
    """
    head = Paragraph(escaped(label), style(9, bold=True)) if label else ""
    said = [_said(text, bold)]
    if notes:
        said.append(words(" ".join(notes), 10, after=1))
    table = Table(
        [[words("☐", 13), head, said]],
        colWidths=[7 * mm, beside, INSIDE - 7 * mm - beside],
        hAlign="LEFT",
    )
    lines = [
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("TOPPADDING", (0, 0), (-1, -1), 1.5),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 1.5),
        ("LEFTPADDING", (0, 0), (-1, -1), 0),
        ("TOPPADDING", (1, 0), (1, 0), 4.5),
    ]
    table.setStyle(TableStyle(lines))
    return table


def _said(text: str, bold: str) -> Paragraph:
    before, there, after = text.partition(bold) if bold else (text, "", "")
    strong = f"<b>{escaped(there)}</b>" if there else ""
    told = f"{escaped(before)}{strong}{escaped(after)}"
    return Paragraph(told, style(13, after=1))


def height_of(items: Sequence[Any]) -> float:
    """How high some flowables are one below the other, points; spaces between them counted in full."""
    highs = (
        item.wrap(INSIDE, PAGE[1])[1] + item.getSpaceBefore() + item.getSpaceAfter()
        for item in items
    )
    return float(sum(highs))


__all__ = ["height_of", "ticked"]
