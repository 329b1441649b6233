"""What quilt.toml says, key by key, each sentence with the line it stands on."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Any, Final

from cutopt.errors import Problem
from cutopt.tables.columns import known_heading, nearest
from cutopt.tables.habits import line_of
from cutopt.tables.log import Log

KEYS: Final = (
    "top", "measured", "bed", "blocks", "setting", "borders", "binding", "sleeve", "articles", "backing", "batting",
    "use", "label", "how",
)  # fmt: skip
_LISTS = ("blocks", "borders", "articles")


@dataclass(frozen=True, slots=True)
class Line:
    """A text and the line it stands on."""

    text: str
    row: int


def sentences(told: dict[str, Any], text: str, file: str, log: Log) -> dict[str, list[Line]]:
    """The sentences of each key with their lines; keys and values that are not understood are noted."""
    said: dict[str, list[Line]] = {}
    for key, value in told.items():
        row = line_of(key, text)
        name = known_heading(key, KEYS)
        if name is None:
            guess = nearest(key, KEYS)
            mend = f'did you mean "{guess}"?' if guess else "the keys are: " + ", ".join(KEYS)
            log.add(Problem(key, f'there is no "{key}" in a quilt', mend), file, row)
        elif name == "how":
            if not isinstance(value, dict):
                log.add(Problem("how", "it is not a table", "write [how] on a line of its own"), file, row)
        elif name in said:
            log.add(Problem(name, f'"{key}" is set twice', "keep one of the two"), file, row)
        else:
            values = value if isinstance(value, list) and name in _LISTS else [value]
            lines = [Line(str(each).strip(), _line_of_text(str(each), row, text)) for each in values]
            bad = [each for each in values if not isinstance(each, str | int | Decimal) or isinstance(each, bool)]
            if bad:
                log.add(Problem(name, f"{bad[0]!r} is not a sentence", f"write it like {_LIKE[name]}"), file, row)
            else:
                said[name] = [line for line in lines if line.text]
    return {key: lines for key, lines in said.items() if lines}


_LIKE = {
    "top": 'top = "58 x 66"', "measured": 'measured = "raw top"', "bed": 'bed = "queen, drop 12"',
    "blocks": 'blocks = ["20 squares of 6 from oat"]',
    "setting": 'setting = "4 across, 5 down"', "borders": 'borders = ["3 from bark"]',
    "binding": 'binding = "from bark"', "sleeve": 'sleeve = "from oat"', "articles": 'articles = ["cushion of 18"]',
    "backing": 'backing = "from oat|mist"', "batting": 'batting = "any"',
    "use": 'use = "lap"', "label": 'label = "Ada, for the library, 2026"',
}  # fmt: skip


def _line_of_text(sentence: str, row: int, text: str) -> int:
    """The line on which a sentence stands, from the line of its key on."""
    lines = text.splitlines()
    first = sentence.strip().splitlines()[0] if sentence.strip() else ""
    return next((i for i in range(row, len(lines) + 1) if first and first in lines[i - 1]), row)
