"""What a quilt says, key by key, each sentence with the line it stands on: in quilt.toml or in a sheet ``quilt``."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from functools import partial
from typing import Any, Final

from cutopt.errors import Problem
from cutopt.fabric import refuse_long_text
from cutopt.tables.columns import COLUMNS, known_heading, nearest
from cutopt.tables.dates import refuse_date
from cutopt.tables.files.csv_tables import Record, TextTable, is_comment
from cutopt.tables.files.toml_rows import (
    MOST_KEYS,
    Cells,
    line_of,
    line_of_text,
    text_of,
    toml_of_rows,
)
from cutopt.tables.log import Line, Log, Placed
from cutopt.tables.recipe.habits import HABITS, elsewhere

KEYS: Final = (
    "top",
    "measured",
    "bed",
    "blocks",
    "setting",
    "sashing",
    "borders",
    "binding",
    "sleeve",
    "articles",
    "backing",
    "batting",
    "use",
    "label",
    "how",
)
_PARTS: Final = KEYS[:-1]
_LISTS = ("blocks", "borders", "articles")
SENTENCE: Final = COLUMNS["quilt"][1]
"""The column of a sheet in which whatever is wrong with a part stands."""


@dataclass(slots=True)
class ToldQuilt:
    """The sentences of each part, and the settings of how it is made, as they are spelt."""

    sentences: dict[str, list[Line]] = field(default_factory=dict)
    how: dict[str, Line] = field(default_factory=dict)


def told_in_toml(told: dict[str, Any], text: str, file: str, log: Log) -> ToldQuilt:
    """What a TOML text says; keys and values that are not understood are noted.

    Parameters
    ----------
    told : dict
        What the text says, by key.
    text : str
    file : str
        Its name.
    log : Log
    """
    out = ToldQuilt()
    for key, value in told.items():
        row = line_of(key, text)
        name = known_heading(key, KEYS)
        if name is None:
            guess = nearest(key, KEYS)
            mend = "the keys are: " + ", ".join(KEYS)
            if guess:
                mend = f'did you mean "{guess}"?'
            log.add(Problem(key, f'there is no "{key}" in a quilt', mend), file, row)
        elif name == "how":
            out.how = _habits(value, text, Placed(name, file, row), log)
        elif name in out.sentences:
            what = f'"{key}" is set twice'
            log.add(Problem(name, what, "keep one of the two"), file, row)
        else:
            lines = _sentences(value, text, Placed(name, file, row), log)
            if lines is not None:
                out.sentences[name] = lines
    said = [(key, lines) for key, lines in out.sentences.items() if lines]
    out.sentences = {key: _short(key, lines, file, log) for key, lines in said}
    return out


def _habits(value: object, text: str, at: Placed[str], log: Log) -> dict[str, Line]:
    """The settings under [how], none where it is no table of a sensible size."""
    if not isinstance(value, dict):
        mend = "write [how] on a line of its own"
        log.add(Problem(at.value, "it is not a table", mend), at.file, at.row)
        return {}
    if _too_many(len(value), at.value, at.file, at.row, log):
        return {}
    return {
        inner: Line(text_of(each), line_of(inner, text))
        for inner, each in value.items()
    }


def _sentences(
    value: object, text: str, at: Placed[str], log: Log
) -> list[Line] | None:
    """What a key says, sentence by sentence; None where that is none."""
    name = at.value
    if isinstance(value, list) and name in _LISTS:
        values = value
    else:
        values = [value]
    if _too_many(len(values), name, at.file, at.row, log):
        return None
    for each in values:
        if not isinstance(each, str | int | Decimal) or isinstance(each, bool):
            what = f"{text_of(each)} is not a sentence"
            log.add(
                Problem(name, what, f"write it like {_LIKE[name]}"), at.file, at.row
            )
            return None
    lines = [
        Line(text_of(each).strip(), line_of_text(text_of(each), at.row, text))
        for each in values
    ]
    return [line for line in lines if line.text]


def _too_many(count: int, name: str, file: str, row: int, log: Log) -> bool:
    """Whether a list or [how] says more than anybody would read; that is noted."""
    if count <= MOST_KEYS:
        return False
    log.add(
        Problem(name, f"it has {count} entries", f"write at most {MOST_KEYS}"),
        file,
        row,
    )
    return True


def _short(name: str, lines: list[Line], file: str, log: Log) -> list[Line]:
    """The lines; those that are too long to be read or to be put on a label are noted."""
    for line in lines:
        log.attempt(
            partial(refuse_long_text, name, line.text, _LONGEST.get(name, 1_000)),
            None,
            file,
            line.row,
        )
    return lines


_LONGEST: Final = {"label": 200}
_LIKE = {
    "top": 'top = "58 x 66"',
    "measured": 'measured = "raw top"',
    "bed": 'bed = "queen, drop 12"',
    "blocks": 'blocks = ["20 squares of 6 from oat"]',
    "setting": 'setting = "4 across, 5 down"',
    "sashing": 'sashing = "2 from oat"',
    "borders": 'borders = ["3 from bark"]',
    "binding": 'binding = "from bark"',
    "sleeve": 'sleeve = "from oat"',
    "articles": 'articles = ["cushion of 18"]',
    "backing": 'backing = "from oat|mist"',
    "batting": 'batting = "any"',
    "use": 'use = "lap"',
    "label": 'label = "Ada, for the library, 2026"',
}


def told_in_sheet(sheet: TextTable, log: Log) -> ToldQuilt:
    """What the rows of a sheet ``quilt`` say: a part and its sentence, or a setting of how it is made and its value.

    A blank part is the one above, of which there may be several; a blank sentence is the default. The row ``[how]``
    may stand as a heading.
    """
    out = ToldQuilt()
    for row, part, name, cells in _parts(sheet):
        sentence = cells.get(SENTENCE, "")
        if problem := _wrong_row(part, name, sentence, out):
            log.add(problem, sheet.file, row)
        elif name and sentence:
            line = log.attempt(
                partial(_line, name, sentence, row),
                None,
                sheet.file,
                row,
            )
            if line is None:
                continue
            if name in HABITS:
                out.how[name] = line
            else:
                out.sentences.setdefault(name, []).append(line)
    for name, lines in out.sentences.items():
        if not _too_many(len(lines), name, sheet.file, lines[0].row, log):
            _short(name, lines, sheet.file, log)
    return out


def _parts(sheet: TextTable) -> Iterator[tuple[int, str, str | None, dict[str, str]]]:
    """Each row with its part, which may stand in a row above, as it is spelt and as it is known; and its cells."""
    above = ""
    for row, cells in sheet.rows:
        above = cells.get("part", above)
        yield row, above, known_heading(above.strip("[]"), (*KEYS, *HABITS)), cells


def _wrong_row(
    part: str, name: str | None, sentence: str, out: ToldQuilt
) -> Problem | None:
    if not part:
        return Problem(
            "part", f'"{sentence}" has no part before it', "write one, such as blocks"
        )
    if name is None:
        guess = nearest(part, (*_PARTS, *HABITS))
        if guess:
            mend = f'did you mean "{guess}"?'
        else:
            mend = "the parts are: " + ", ".join(_PARTS)
        return Problem(
            "part", f'there is no "{part}" in a quilt', elsewhere(part) or mend
        )
    if name == "how":
        mend = "write each setting in a row of its own, such as machine and longarm"
        if sentence:
            return Problem(SENTENCE, f'"{sentence}" stands beside a heading', mend)
        return None
    twice = name in out.how or (name in out.sentences and name not in _LISTS)
    if twice and sentence:
        return Problem("part", f'"{part}" is set twice', "keep one of the two")
    return None


def _line(name: str, sentence: str, row: int) -> Line:
    if name != "label":
        refuse_date(SENTENCE, sentence)
    return Line(sentence, row)


def toml_of_sheet(sheet: TextTable, records: Sequence[Record]) -> str:
    """The quilt.toml that says what a sheet says, its notes and comments kept."""
    rows: dict[int, Cells] = {}
    for row, texts in records:
        if texts and is_comment(texts[0]):
            key, sentence, note = (*texts, "", "")[:3]
            rows[row] = key, sentence, note
    for row, part, name, cells in _parts(sheet):
        if SENTENCE in cells or name == "how":
            rows[row] = name or part, cells.get(SENTENCE, ""), cells.get("note", "")
    return toml_of_rows((rows[row] for row in sorted(rows)), _LISTS, _PARTS)
