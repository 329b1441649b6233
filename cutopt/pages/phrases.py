"""The words that sentences about a plan are made of: counts, names of rows, sizes of parts. Pure words, no page."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from cutopt.draw.spare import usable
from cutopt.draw.views import exact_size, rough_size
from cutopt.geometry import Number
from cutopt.lengths import INCH, MM, format_length, so_many
from cutopt.pages.moves_of_cuts import Table
from cutopt.piecing import name_of
from cutopt.strips import segment_size

MOST_LAYERS: Final = 4


def and_text(words: Sequence[str]) -> str:
    """``a, b and c``"""
    if len(words) == 1:
        return words[0]
    return ", ".join(words[:-1]) + " and " + words[-1]


def number_text(count: int) -> str:
    """A number beside what it counts: ``one``, ``2``."""
    if count == 1:
        return "one"
    return str(count)


def of_row(count: int, key: str) -> str:
    """So many of a wanted row, whatever its name is: ``1 slat``, ``4 of slat``, ``1 segment of binding``.

    A part of a back is but one: ``back B1, part A``.
    """
    if key.startswith("parts/"):
        return name_of(key)
    if not key.startswith("strips/"):
        if count == 1:
            return f"1 {name_of(key)}"
        return f"{count} of {name_of(key)}"
    return f"{so_many(count, 'segment')} of {name_of(key)}"


def of_parts(table: Table, names: Sequence[str], times: int = 1) -> str:
    """What some parts of one row are: ``4 of slat``, ``back B1, parts A and C``.

    Parameters
    ----------
    table : Table
    names : sequence of str
    times : int
        On how many parts stacked upon each other it is done.
    """
    row = table.uses[names[0]].for_
    if len(names) == 1 or not row.startswith("backs/"):
        return of_row(times * len(names), table.keys[names[0]])
    letters = [table.keys[name].split("/")[1] for name in names]
    return f"{name_of(row)}, parts {and_text(letters)}"


def spare_text(table: Table, part: str) -> str:
    """What a spare part is good for: ``12 x 7 beside a flaw``."""
    cloth = table.cloth[table.owner[part]]
    return usable(table.job, cloth, table.parts[part]).told(table.job.settings.unit)


def size_text(table: Table, part: str) -> str:
    """A part's size across and along; of a segment as much as a ruler shows, since its length is counted on."""
    unit = table.job.settings.unit
    if part in table.joined:
        size = segment_size(table.job, table.uses[part], table.parts[part])
        return exact_size(*size, unit)
    return rough_size(*table.size(part), unit)


def length_text(ticks: Number, unit: str, *, mark: bool = False) -> str:
    """A length as a ruler shows it; one that none shows, to the nearest mark and said to be.

    Parameters
    ----------
    ticks : int or Fraction
    unit : {"in", "cm"}
    mark : bool
        Whether the unit stands behind it.
    """
    exact, step = (INCH // 64, INCH // 32) if unit == "in" else (MM // 2, MM)
    if Fraction(ticks) % exact == 0:
        return format_length(Fraction(ticks), unit, mark=mark)
    near = round(Fraction(ticks) / step) * step
    return f"about {format_length(near, unit, mark=mark)}"


def slender(size: tuple[Number, Number]) -> bool:
    """Whether a part looks like a strip: at least twice as long as wide."""
    return max(size) >= 2 * min(size)


def piles(count: int) -> str:
    """How so many layers are stacked: nothing to say up to four, then ``, at most 4 at a time``."""
    if count <= MOST_LAYERS:
        return ""
    return f", at most {MOST_LAYERS} at a time"


def upper(text: str) -> str:
    """A text that begins with a capital letter."""
    return text[:1].upper() + text[1:]


def lower(text: str) -> str:
    """A text that begins with a small letter."""
    return text[:1].lower() + text[1:]
