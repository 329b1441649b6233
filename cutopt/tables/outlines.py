"""Outlines in words: ``0 0; 18 0; 18 7 1/2; 6 11; 0 11``, corners in order round the piece."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Final

from cutopt.errors import Problem
from cutopt.fabric import MOST_CORNERS, Outline
from cutopt.geometry import rectangle
from cutopt.lengths import down, parse_length
from cutopt.tables.dates import refuse_date
from cutopt.tables.exact_lengths import written_length

Corner = tuple[int, int]
# in signs
_LONGEST_CORNER: Final = 200
_SHORT: Final = re.compile(r"\s*(.+?)\s*[x×]\s*(.+?)\s+at\s+(.+?)\s*", re.IGNORECASE)


def parse_outlines(text: str, unit: str, field: str) -> tuple[Outline, ...]:
    """Outlines separated by ``|``; one that is blank is passed over.

    Parameters
    ----------
    text : str
    unit : {"in", "cm"}
        Of bare numbers.
    field : str
        Named in a problem.

    Raises
    ------
    Problem
        Naming the corner that cannot be read.
    """
    return tuple(
        parse_outline(part, unit, field) for part in text.split("|") if part.strip()
    )


def parse_outline(text: str, unit: str, field: str) -> Outline:
    """Read an outline, or the short form ``3 x 2 at 4 5`` of a rectangle by its lower left corner.

    Coordinates are rounded down to the tick, like all cloth.

    Parameters
    ----------
    text : str
    unit : {"in", "cm"}
        Of bare numbers.
    field : str
        Named in a problem.

    Raises
    ------
    Problem
        Naming the corner that cannot be read.
    """
    refuse_date(field, text)
    if len(text) <= _LONGEST_CORNER:
        short = _SHORT.fullmatch(text)
    else:
        short = None
    if short:
        width, length = (
            down(parse_length(part, unit, field=field)) for part in short.group(1, 2)
        )
        return rectangle(
            width, length, *parse_corner(short[3], unit, field, 'the place after "at"')
        )
    corners = text.strip().removesuffix(";").split(";")
    if len(corners) > MOST_CORNERS:
        what = f"an outline of {len(corners)} corners is too fine"
        raise Problem(field, what, f"leave corners out: {MOST_CORNERS} are the most")
    return tuple(
        parse_corner(part, unit, field, f"corner {i}")
        for i, part in enumerate(corners, 1)
    )


def parse_corner(text: str, unit: str, field: str, which: str = "the corner") -> Corner:
    """Read two lengths with a space or a comma between them: ``18 7 1/2``, ``7 1/2 6``, ``7 1/2, 6``.

    Parameters
    ----------
    text : str
    unit : {"in", "cm"}
        Of bare numbers.
    field : str
        Named in a problem.
    which : str
        What a problem calls the corner.

    Raises
    ------
    Problem
        Where the text is not two lengths, or where it may also be read as a single one (``7 1/2``).
    """
    text = " ".join(text.split())
    if len(text) > _LONGEST_CORNER:
        what = f'{which} "{text[:40]}..." is not two lengths'
        raise Problem(
            field, what, "put a semicolon between corners, such as 0 0; 18 0; 6 11"
        )
    ways = _ways(text, unit)
    shown = f'{which} "{text.strip()}"'
    one = (
        re.match(r"\s*0\s", text) is None
        and "," not in text
        and _coordinate(text, unit) is not None
    )
    if len(ways) == 1 and not one:
        return next(iter(ways.values()))
    if ways:
        raise Problem(
            field,
            f"{shown} may be one length or two",
            f"write {next(iter(ways))} if two are meant",
        )
    if re.fullmatch(r"\s*\d+,\d+\s+\S+\s*|\s*\S+\s+\d+,\d+\s*", text):
        raise Problem(
            field,
            f"{shown} has a decimal comma",
            f"write {text.strip().replace(',', '.')}",
        )
    for part in text.split(",") if "," in text else [text]:
        _explain(part.strip(), unit, field, shown)
    raise Problem(
        field, f"{shown} is not two lengths", "write x and y, such as 7 1/2, 6"
    )


def _ways(text: str, unit: str) -> dict[str, Corner]:
    """All ways to take a text apart into two lengths, as they would be written with a comma."""
    if "," in text:
        if text.count(",") == 1:
            pairs = [text.split(",")]
        else:
            pairs = []
    else:
        words = text.split()
        pairs = [
            [" ".join(words[:i]), " ".join(words[i:])] for i in range(1, len(words))
        ]
    read = (
        (f"{a.strip()}, {b.strip()}", _coordinate(a, unit), _coordinate(b, unit))
        for a, b in pairs
    )
    return {told: (x, y) for told, x, y in read if x is not None and y is not None}


def _coordinate(text: str, unit: str) -> int | None:
    plain = text.strip()
    if re.match(r"[-−]\s*[\d.]", plain):
        sign = -1
    else:
        sign = 1
    try:
        ticks: Fraction = parse_length(
            plain.lstrip("-−") if sign < 0 else plain, unit, zero=True
        )
    except Problem:
        return None
    return down(sign * ticks)


def _explain(text: str, unit: str, field: str, shown: str) -> None:
    """Raise the problem of a corner with the mend that its broken number suggests."""
    last = re.search(r"\d+\s+\d+\s*/\s*$", text)
    if last:
        try:
            parse_length(last[0], unit, field=field)
        except Problem as problem:
            raise Problem(field, f"{shown} is not two lengths", problem.mend) from None


def format_outline(outline: Outline, unit: str) -> str:
    """An outline as :func:`parse_outline` reads it, exactly."""
    return "; ".join(format_corner(corner, unit) for corner in outline)


def format_corner(corner: Corner, unit: str) -> str:
    """A corner, with a comma only where it needs one."""
    x, y = ("-" * (c < 0) + written_length(abs(c), unit) for c in corner)
    plain = f"{x} {y}"
    try:
        return plain if parse_corner(plain, unit, "") == corner else f"{x}, {y}"
    except Problem:
        return f"{x}, {y}"
