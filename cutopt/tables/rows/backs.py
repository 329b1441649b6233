"""Rows of backs.csv and blocks.csv: sizes as they are, not as they are finished, and which blocks go into a back."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from fractions import Fraction
from functools import partial
from typing import Any, Final

from cutopt.errors import Problem
from cutopt.fabric import refuse_long_text
from cutopt.lengths import down, format_length, parse_length, up
from cutopt.piecing import BlockWish, SpareBlock
from cutopt.tables.dates import refuse_date
from cutopt.tables.rows.cells import Row, refuse_negative
from cutopt.wanted import IMPORTANCE

_FINISHED: Final = re.compile(r"\W*\bfinished\b\W*", re.IGNORECASE)
_MUST: Final = re.compile(r"must\s+(?:(?P<count>\d+|all)\s+)?(?P<name>.+)")


def block_of(row: Row, seam: int) -> SpareBlock | None:
    """A row of blocks.csv; `seam` is that of the job, ticks, with which a finished size is told as measured."""
    name = row.name("block")
    if not row.text("count"):
        what = f"none is given for {name}: one is taken to be there"
        row.tell(Problem("count", what, "write how many"))
    sizes = {
        side: _size(row, side, down, 2 * seam, "with its seams it measures")
        for side in ("width", "length")
    }
    count = row.count("count", 1)
    trimmed = row.attempt(partial(_trimmed, row), None)
    if row.bad or count is None:
        return None
    build = partial(
        SpareBlock,
        name=name,
        count=count,
        may_trim_to=trimmed,
        note=row.text("note"),
        **sizes,
    )
    return row.attempt(build, None)


def _size(
    row: Row,
    column: str,
    rounded: Callable[[Fraction], int],
    more: int,
    with_more: str,
) -> int:
    """One side; where it is called finished, the mend tells it with `more` ticks."""
    text = row.text(column)
    if not _FINISHED.search(text):
        return row.length(column, rounded)
    row.note(_called_finished(column, text, row.unit, more, with_more))
    return 0


def _called_finished(
    column: str, text: str, unit: str, more: int, with_more: str
) -> Problem:
    plain = _FINISHED.sub("", text)
    mend = "write the size as it is, seams included"
    try:
        ticks = parse_length(plain, unit) + more
        mend = f"{with_more} {format_length(ticks, unit)} {unit}: write that"
    except Problem:
        # which it has to be told without
        pass
    return Problem(column, f'"{text}" is a finished size', mend)


def _trimmed(row: Row) -> tuple[int, int] | None:
    """What blocks may be trimmed to: ``6`` both ways, or ``6 x 9``; None where blank."""
    column = "may_trim_to"
    text = row.text(column)
    if not text:
        return None
    if _FINISHED.search(text):
        what = f'"{text}" is a finished size'
        raise Problem(column, what, "write the size that it is cut to, seams included")
    refuse_date(column, text)
    refuse_negative(column, text, "write a size above 0, or leave it out")
    sides = re.split(r"\s*[x×]\s*", text)
    if len(sides) > 2:
        raise Problem(column, f'"{text}" is not a size', "write it like 6 or 6 x 9")
    width, length = (
        up(parse_length(side, row.unit, field=column)) for side in (sides[0], sides[-1])
    )
    return width, length


def back_cells(row: Row, overage: int, counts: Mapping[str, int]) -> dict[str, Any]:
    """The fields of a back that its row gives; of no use where the row is bad.

    Parameters
    ----------
    row : Row
    overage : int
        Ticks that a quilt needs more at each side, with which a finished size is told as raw.
    counts : mapping
        How many spare blocks there are, by their names.
    """
    more = partial(_size, row, rounded=up, more=2 * overage)
    told = "with the overage on both sides it is"
    return {
        "name": row.name("back"),
        "width": more("width", with_more=told),
        "length": more("length", with_more=told),
        "fabrics": row.words("fabrics"),
        "blocks": row.attempt(partial(wishes, row.text("blocks"), counts), ()),
        "importance": row.choice("importance", IMPORTANCE, "must"),
        "note": row.text("note"),
    }


def wishes(text: str, counts: Mapping[str, int]) -> tuple[BlockWish, ...]:
    """Which blocks may go into a back, and which have to: ``any|must star``, ``must 3 star``, ``must all star``.

    Parameters
    ----------
    text : str
    counts : mapping
        How many spare blocks there are, by their names; a name is found whatever its case.

    Raises
    ------
    Problem
        Where a word is none, or names all of what is not there.
    """
    words = (" ".join(word.split()) for word in text.split("|"))
    return tuple(_wish(word, counts) for word in words if word)


def _wish(word: str, counts: Mapping[str, int]) -> BlockWish:
    refuse_long_text("blocks", word)
    spelt = {name.lower(): name for name in counts}
    plain = word.lower()
    must = _MUST.fullmatch(plain)
    if must is None or plain in spelt:
        return BlockWish(name=spelt.get(plain, "any" if plain == "any" else word))
    # a block whose name begins with a number is named whole
    whole = plain.removeprefix("must").strip()
    if whole in spelt:
        return BlockWish(name=spelt[whole], least=1)
    name = spelt.get(must["name"], word[must.start("name") :])
    if must["count"] != "all":
        return BlockWish(name=name, least=_least(must["count"]))
    if name not in counts:
        what = f'"{word}": there are no spare blocks "{name}"'
        raise Problem("blocks", what, _known(counts))
    return BlockWish(name=name, least=counts[name])


def _least(count: str | None) -> int:
    """How many blocks have to go in; at least one."""
    if count is None:
        return 1
    least = int(count[:9])
    if least < 1:
        raise Problem(
            "blocks",
            f'"must {count}" asks for none',
            "write how many, or leave must out",
        )
    return least


def _known(names: Iterable[str]) -> str:
    told = ", ".join(names)
    if told:
        return f"use one of: {told}"
    return "add them to blocks.csv"
