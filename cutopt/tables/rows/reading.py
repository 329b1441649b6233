"""One row of a table to one value of the job; None where something in the row is wrong (and noted)."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any, Final, TypeVar

from cutopt.errors import Problem
from cutopt.fabric import (
    EDGES,
    USABLE_WIDTH,
    ByLength,
    ByPiece,
    Fabric,
    Offered,
    Outline,
    Piece,
    Washed,
)
from cutopt.geometry import rectangle
from cutopt.lengths import CM, INCH, YARD, down, parse_number, up
from cutopt.precuts import Precuts, precut_said
from cutopt.tables.rows.cells import Row
from cutopt.tables.rows.odd_sizes import refuse_odd_size
from cutopt.wanted import JOINS, UPRIGHT, Cut, Strip

T = TypeVar("T")
SOLD_BY = {"in": YARD // 8, "cm": 10 * CM}
"""The step by which a shop sells where its row names none (common practice, no source)."""
SHORTEST = {"in": 8 * INCH, "cm": 20 * CM}
"""The shortest segment of a strip where its row names none (common practice, no source)."""
ONE_WAY: Final[dict[str, tuple[str, bool]]] = {
    "": ("", False),
    "along": ("along", False),
    "across": ("across", False),
    "nap": ("along", True),
    "nap across": ("across", True),
    "none": ("", False),
}
"""What stands under one_way: how a print stands up, and whether the cloth has a nap."""
_WASHED: Final[dict[str, Washed]] = {
    "": "",
    "yes": "washed",
    "no": "unwashed",
    "washed": "washed",
    "unwashed": "unwashed",
}
_STEP_ASK = {"in": 2 * INCH, "cm": 5 * CM}
_MOST_ASK = {"in": 18 * INCH, "cm": 50 * CM}
_NARROW = 60 * CM
_WIDE = 130 * INCH
"""Between these lies nearly all that is sold from the bolt (common practice, no source)."""


def _built(row: Row, build: Callable[..., T], **values: Any) -> T | None:
    """The value, unless a cell of the row is bad or the value itself has a problem."""
    if row.bad:
        return None
    return row.attempt(lambda: build(**values), None)


def fabric_of(row: Row) -> Fabric | None:
    """A row of fabrics.csv; ``-`` under kind means none."""
    kind = row.text("kind", "quilting cotton")
    return _built(
        row,
        Fabric,
        name=row.name("fabric"),
        colour=row.text("colour"),
        value=row.choice("value", ("", "light", "medium", "dark")),
        kind="" if kind == "-" else kind,
        washed=row.yes("washed", default=True),
        **_one_way_of(row),
        shrink_across=row.share("shrink_across"),
        shrink_along=row.share("shrink_along"),
        tags=row.words("tags"),
        note=row.text("note"),
    )


def _one_way_of(row: Row) -> dict[str, Any]:
    """How a print or a nap stands up; cloth of a kind that has a nap has one unless the row says otherwise."""
    said = row.choice("one_way", tuple(ONE_WAY))
    one_way, nap = ONE_WAY.get(said, ("", False))
    kind = Fabric(name="x", kind=row.text("kind"))
    if kind.usually_has_nap:
        _tell_of_nap(row, said)
        nap = nap or not said
    return {"one_way": one_way, "nap": nap}


def _tell_of_nap(row: Row, said: str) -> None:
    """Notice what is taken of a nap that the row says nothing of."""
    if not said:
        taken = f"all that is cut from {row.text('fabric')} lies the same way up"
    elif said in ("along", "across"):
        taken = f"only rows that are upright are cut {said} of {row.text('fabric')}"
    else:
        return
    what = f"{row.text('kind')} has a nap, and the row does not say so: {taken}"
    mend = "write nap or nap across under one_way, none if its nap does not matter"
    row.tell(Problem("one_way", what, mend))


def piece_of(row: Row) -> Piece | None:
    """A row of pieces.csv, by width and length or by outline."""
    return _built(
        row,
        Piece,
        name=row.name("piece"),
        fabric=row.name("fabric"),
        count=row.count("count", 1),
        outline=_outline(row),
        flaws=row.outlines("flaws"),
        edges=row.choice("edges", EDGES, "true"),
        grain_known=row.choice("grain", ("known", "unknown"), "known") == "known",
        about=row.choice("measured", ("exact", "about"), "exact") == "about",
        washed=_WASHED.get(row.choice("washed", tuple(_WASHED)), ""),
        wish=row.choice("wish", ("", "use first", "keep whole", "do not touch")),
        note=row.text("note"),
    )


def _outline(row: Row) -> Outline:
    """The outline of a piece; a width and length beside it must agree with it."""
    if not row.has("outline"):
        if not row.has("width") and not row.has("length"):
            row.note(
                Problem(
                    "outline",
                    "the piece has no size",
                    "give width and length, or an outline",
                )
            )
            return ()
        width = row.length("width", down)
        length = row.length("length", down)
        _not_odd(row, "width", (width, length), "length")
        return rectangle(width, length)
    outlines = row.outlines("outline")
    if len(outlines) > 1:
        row.note(
            Problem(
                "outline",
                "a piece has one outline",
                "give the second piece its own row",
            )
        )
    if not outlines:
        return ()
    xs, ys = zip(*outlines[0], strict=True)
    for column, across in (("width", max(xs) - min(xs)), ("length", max(ys) - min(ys))):
        if row.has(column) and row.length(column, down) != across:
            what = f'"{row.text(column)}" is not how far the outline reaches'
            row.note(Problem(column, what, "leave it blank where an outline is given"))
    _not_odd(row, "outline", (max(xs) - min(xs), max(ys) - min(ys)))
    return outlines[0]


def _not_odd(row: Row, column: str, size: tuple[int, int], beside: str = "") -> None:
    """Note a size that no cloth has, read from one cell or from two."""
    if not row.bad:
        texts = row.text(column), row.text(beside or column)
        row.attempt(lambda: refuse_odd_size(column, texts, size, row.unit), None)


def offered_of(row: Row, precuts: Precuts | None = None) -> Offered | None:
    """A row of shop.csv: by the piece where each_width or each_length is given, else by length.

    `precuts` are the sizes that words such as ``fat quarter`` stand for, by default those of an inch job.
    """
    if row.has("each_width") or row.has("each_length"):
        return _each_of(row, precuts or Precuts())
    unit = row.unit
    _tell_odd_width(row)
    return _built(
        row,
        ByLength,
        fabric=row.name("fabric"),
        usable_width=row.length("usable_width", down, USABLE_WIDTH[unit]),
        sold_by=row.length("sold_by", up, SOLD_BY[unit], ask_below=_STEP_ASK[unit]),
        smallest=row.length("smallest", up, 0, least=0, ask_below=_STEP_ASK[unit]),
        most=row.length("most", down, ask_below=_MOST_ASK[unit])
        if row.has("most")
        else None,
        price=row.price("price"),
        note=row.text("note"),
    )


def _tell_odd_width(row: Row) -> None:
    """Notice a width without a unit that would rather be one in inches in a metric job, or the other way."""
    text = row.text("usable_width")
    number = parse_number(text) or 0
    if row.unit == "cm" and 0 < number * CM < _NARROW:
        odd = "narrow"
        meant = f"write {text} in if inches are meant"
    elif row.unit == "in" and number * INCH > _WIDE:
        odd = "wide"
        meant = f"write {text} cm if centimetres are meant"
    else:
        return
    row.tell(
        Problem(
            "usable_width",
            f"{text} {row.unit} is very {odd} for cloth from the bolt",
            meant,
        )
    )


def _each_of(row: Row, precuts: Precuts) -> Offered | None:
    for column in ("usable_width", "sold_by", "smallest"):
        if row.has(column):
            what = "a row sells by length or by the piece, not both"
            row.note(
                Problem(
                    column,
                    what,
                    "leave it blank, or each_width and each_length, and use two rows",
                )
            )
    precut = _precut_of(row)
    if precut:
        size = precuts.of(precut)
    else:
        size = row.length("each_width", down), row.length("each_length", down)
        _not_odd(row, "each_width", size, "each_length")
    return _built(
        row,
        ByPiece,
        fabric=row.name("fabric"),
        each_width=size[0],
        each_length=size[1],
        most=row.count("most", None),
        price=row.price("price"),
        note=row.text("note"),
    )


def _precut_of(row: Row) -> str:
    """The precut that stands in place of a width and a length, "" where they are numbers."""
    said = [row.text(column) for column in ("each_width", "each_length")]
    words = [text for text in said if text]
    for text in words:
        if re.search(r"\b(bundle|pack|stack)s?\b", text) and not precut_said(text):
            what = f'"{text}" is sold whole, and each fabric of it is not known'
            mend = "leave the row out, and write its strips or squares into the pile once you have it"
            row.note(Problem("each_width", what, mend))
    named = {precut_said(text) for text in words}
    if len(named) == 1:
        return named.pop()
    if any(named):
        what = f'"{" x ".join(words)}" is both a precut and a size'
        row.note(Problem("each_width", what, f"write {words[0]} alone"))
    return ""


def cut_of(row: Row) -> Cut | None:
    """A row of cuts.csv."""
    size = row.length("width", up), row.length("length", up)
    _not_odd(row, "width", (min(size), max(size)), "length")
    if not row.text("count"):
        row.tell(
            Problem(
                "count",
                f"none is given for {row.text('cut')}: one is planned",
                "write how many",
            )
        )
    return _built(
        row,
        Cut,
        name=row.name("cut"),
        width=size[0],
        length=size[1],
        upright=row.yes("upright", default=False),
        most_each=row.count("most_each", None),
        **_wanted(row),
    )


def strip_of(row: Row) -> Strip | None:
    """A row of strips.csv; a strip wider than the usual shortest segment asks for segments twice its width."""
    width = row.length("width", up)
    usual = SHORTEST[row.unit]
    return _built(
        row,
        Strip,
        name=row.name("strip"),
        width=width,
        total_length=row.length("total_length", up),
        shortest=row.length(
            "shortest", up, usual if usual > width else 2 * width, least=0
        ),
        join=row.choice("join", JOINS, "diagonal"),
        upright=row.choice("upright", UPRIGHT, "no"),
        **_wanted(row),
    )


def _grain_of(row: Row) -> str:
    """The grain; a second fabric behind a comma ends up in its cell, so the mend tells how fabrics are joined."""
    fabrics = row.text("fabrics")
    if fabrics:
        joined = f"{fabrics}|{row.text('grain')}"
        mend = f"several fabrics stand in one cell, joined with |: {joined}"
    else:
        mend = ""
    return row.choice("grain", ("any", "along", "across"), "any", mend)


def _wanted(row: Row) -> dict[str, object]:
    """The columns that cuts and strips share."""
    return {
        "count": row.count("count", 1),
        "fabrics": row.words("fabrics"),
        "grain": _grain_of(row),
        "importance": row.choice("importance", ("must", "nice", "if left"), "must"),
        "together": row.text("together"),
        "why": row.text("why"),
        "note": row.text("note"),
    }
