"""The tables of a job: their names, their columns, and the columns that each must have."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable
from typing import Final

COLUMNS: Final[dict[str, tuple[str, ...]]] = {
    "fabrics": (
        "fabric",
        "colour",
        "value",
        "kind",
        "washed",
        "one_way",
        "shrink_across",
        "shrink_along",
        "tags",
        "note",
    ),
    "pieces": (
        "piece",
        "fabric",
        "count",
        "width",
        "length",
        "outline",
        "flaws",
        "edges",
        "grain",
        "measured",
        "washed",
        "wish",
        "note",
    ),
    "shop": (
        "fabric",
        "usable_width",
        "sold_by",
        "smallest",
        "most",
        "price",
        "each_width",
        "each_length",
        "note",
    ),
    "cuts": (
        "cut",
        "count",
        "width",
        "length",
        "fabrics",
        "grain",
        "upright",
        "importance",
        "together",
        "most_each",
        "why",
        "note",
    ),
    "strips": (
        "strip",
        "count",
        "width",
        "total_length",
        "shortest",
        "join",
        "fabrics",
        "grain",
        "upright",
        "importance",
        "together",
        "why",
        "note",
    ),
    "backs": (
        "back",
        "width",
        "length",
        "seam",
        "fabrics",
        "blocks",
        "importance",
        "note",
    ),
    "blocks": ("block", "count", "width", "length", "may_trim_to", "note"),
    "job": ("setting", "value", "note"),
    "quilt": ("part", "sentence", "note"),
}
NEEDED: Final[dict[str, tuple[str, ...]]] = {
    "fabrics": ("fabric",),
    "pieces": ("piece", "fabric"),
    "shop": ("fabric",),
    "cuts": ("cut", "width", "length"),
    "strips": ("strip", "width", "total_length"),
    "backs": ("back", "width", "length"),
    "blocks": ("block", "width", "length"),
    "job": ("setting", "value"),
    "quilt": ("part", "sentence"),
}
OTHER_HEADINGS: Final = {
    "color": "colour",
    # of a quilt
    "for": "use",
    "border": "borders",
    "wadding": "batting",
}


def plain_heading(text: str) -> str:
    """A heading without case, spaces, hyphens and underscores: ``Usable width`` and ``usable_width`` are one."""
    return re.sub(r"[\s_-]+", "", text).lower()


def known_heading(text: str, columns: Iterable[str]) -> str | None:
    """The column that a heading means, None where there is none of that name."""
    plain = plain_heading(text)
    plain = plain_heading(OTHER_HEADINGS.get(plain, plain))
    return next((column for column in columns if plain_heading(column) == plain), None)


def nearest(word: str, known: Iterable[str], cutoff: float = 0.6) -> str | None:
    """The known word most like `word`, None where none is like it.

    Parameters
    ----------
    word : str
    known : iterable of str
    cutoff : float
        How much of the letters must be alike, from 0 to 1.
    """
    by_plain = {plain_heading(other): other for other in known}
    found = difflib.get_close_matches(plain_heading(word), by_plain, 1, cutoff)
    if found:
        return by_plain[found[0]]
    return None
