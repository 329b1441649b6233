"""Pieces written as the lines that :func:`cutopt.tables.pile.reading.pile` reads, to see whether it does."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from cutopt.errors import JobError, Problem
from cutopt.fabric import Piece
from cutopt.geometry import bounds, rectangle
from cutopt.tables.exact_lengths import written_length
from cutopt.tables.outlines import format_corner
from cutopt.tables.pile.reading import pile


def format_pile(pieces: Iterable[Piece], unit: str = "in") -> str:
    """The pile in words, one piece a line; names are left out, since reading makes them anew.

    Raises
    ------
    Problem
        For a piece whose outline or flaws the words cannot tell; it belongs into pieces.csv.
    """
    return "".join(format_piece(piece, unit) + "\n" for piece in pieces)


def format_piece(piece: Piece, unit: str = "in") -> str:
    """One piece in words, as a line of a pile.

    Raises
    ------
    Problem
        Where the words cannot tell its outline or flaws.
    """
    quoted = '"' + piece.fabric.replace('"', '""') + '"'
    for fabric in (piece.fabric, quoted):
        line = _line(piece, fabric, unit)
        try:
            told = pile(line, unit)
        except JobError:
            continue
        if [replace(one, name=piece.name) for one in told] == [piece]:
            return line
    raise Problem(
        "outline", f"{piece.name} cannot be told in words", "put it into pieces.csv"
    )


def _line(piece: Piece, fabric: str, unit: str) -> str:
    """A line for the piece, right if its outline is a rectangle, one without corners, or a right triangle."""
    width, length = piece.size
    form = ""
    less = ""
    if set(piece.outline) == {(0, 0), (width, 0), (0, length)}:
        form = "triangle "
    elif piece.outline != rectangle(width, length):
        less = _less(piece, unit)
    words = [
        word
        for word, said in (
            ("raw", piece.edges == "raw"),
            ("about", piece.about),
            ("grain unknown", not piece.grain_known),
            (piece.washed, bool(piece.washed)),
            ("pinked", piece.edges == "pinked"),
            (piece.wish, bool(piece.wish)),
        )
        if said
    ]
    count = f"{piece.count} {form.strip() or 'piece'}s " if piece.count > 1 else form
    tail = "".join(f", {word}" for word in (*words, *_flaws(piece, unit)))
    note = f", note {piece.note}" if piece.note else ""
    return f"{count}{fabric} {_size(width, length, unit)}{less}{tail}{note}"


def _size(width: int, length: int, unit: str) -> str:
    """Two lengths; a unit behind the second alone would be that of both."""
    sides = written_length(width, unit), written_length(length, unit)
    bare = [side for side in sides if not side[-1].isalpha()]
    if len(bare) == 1:
        sides = tuple(f"{side} {unit}" if side in bare else side for side in sides)  # type: ignore[assignment]
    return " x ".join(sides)


def _less(piece: Piece, unit: str) -> str:
    """The corners that are missing of the rectangle round the piece."""
    width, length = piece.size
    told = ""
    for y, upper in ((length, "top"), (0, "bottom")):
        for x, side in ((width, "right"), (0, "left")):
            across = min(abs(x - cx) for cx, cy in piece.outline if cy == y)
            along = min(abs(y - cy) for cx, cy in piece.outline if cx == x)
            if across and along:
                told += f" less {written_length(across, unit)} x {written_length(along, unit)} {upper} {side}"
    return told


def _flaws(piece: Piece, unit: str) -> list[str]:
    told = []
    for flaw in piece.flaws:
        x1, y1, x2, y2 = (int(c) for c in bounds(flaw))
        size = f"{written_length(x2 - x1, unit)} x {written_length(y2 - y1, unit)}"
        told.append(f"flaw {size} at {format_corner((x1, y1), unit)}")
    return told
