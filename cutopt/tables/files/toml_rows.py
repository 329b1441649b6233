"""A TOML text of keys and sentences as rows of a sheet, and back; comments stay where they stood."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Iterator
from decimal import Decimal
from typing import Any

from cutopt.tables.files.csv_tables import is_comment

Cells = tuple[str, str, str]
"""A key (or a comment), its sentence and a note."""

MOST_KEYS = 200
"""So many settings or sentences a file may have."""

_MOST = 10**40
_LONGEST_LINE = 2_000
_STRING = re.compile(r'"(?:[^"\\]|\\.)*"|\'[^\']*\'')


def text_of(value: object) -> str:
    """What a value of a TOML text says; what is neither a text nor a sensible number is called by its kind."""
    if isinstance(value, bool):
        return "true or false"
    if isinstance(value, str | Decimal):
        return str(value)
    if isinstance(value, int):
        if abs(value) < _MOST:
            return str(value)
        return "a number of very many figures"
    if isinstance(value, list):
        return "a list"
    if isinstance(value, dict):
        return "a table"
    return "a date or a time"


def line_of(key: str, text: str) -> int:
    """The line of a TOML text on which a key stands, 1 where it is not found."""
    pattern = re.compile(rf"\s*\[*\s*[\"']?{re.escape(key)}\b")
    return next(
        (i for i, line in enumerate(text.splitlines(), 1) if pattern.match(line)), 1
    )


def settings_in(told: dict[str, Any], text: str) -> Iterator[tuple[str, object, int]]:
    """The settings of a TOML text with their values and lines, those of ``[back.B1]`` as ``back.B1.seam``.

    A section without settings is one whose name ends in a point.

    Parameters
    ----------
    told : dict
        What the text says.
    text : str
    """
    for key, value in told.items():
        if key != "back" or not isinstance(value, dict):
            yield key, value, line_of(key, text)
            continue
        for name, inner in value.items():
            if not isinstance(inner, dict):
                yield f"{key}.{name}", inner, line_of(name, text)
                continue
            head = _line_of_section(name, text)
            yield from ((f"{key}.{name}.", "", head) for _ in range(not inner))
            below = "\n".join(text.splitlines()[head:])
            for word, each in inner.items():
                yield f"{key}.{name}.{word}", each, head + line_of(word, below)


def _line_of_section(name: str, text: str) -> int:
    """The line of ``[back.NAME]``, 0 where it is not found."""
    spelt = "|".join(map(re.escape, (name, quoted(name), f"'{name}'")))
    pattern = re.compile(rf"\s*\[\s*[\"']?back[\"']?\s*\.\s*(?:{spelt})\s*\]")
    lines = enumerate(text.splitlines(), 1)
    return next((row for row, line in lines if pattern.match(line)), 0)


def yes_or_text(value: object) -> object:
    """The word for a TOML ``true`` or ``false``, any other value as it is."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    return value


def line_of_text(sentence: str, row: int, text: str) -> int:
    """The line on which a sentence stands, from the line of its key on.

    Parameters
    ----------
    sentence : str
    row : int
        The line of its key, from 1 on.
    text : str
        The whole file.
    """
    lines = text.splitlines()
    if sentence.strip():
        first = sentence.strip().splitlines()[0]
    else:
        first = ""
    spelt = (first, first.replace("\\", "\\\\").replace('"', '\\"'))
    for i in range(row, len(lines) + 1):
        if first and any(each in lines[i - 1] for each in spelt):
            return i
    return row


def quoted(text: str) -> str:
    """A TOML basic string (TOML 1.0): quote, backslash and control characters are escaped."""
    plain = text.replace("\\", "\\\\").replace('"', '\\"')
    return (
        '"'
        + "".join(c if c >= " " and c != "\x7f" else f"\\u{ord(c):04x}" for c in plain)
        + '"'
    )


def rows_of_toml(text: str) -> list[Cells]:
    """The rows for a text that is TOML: one for each sentence, each comment, and ``[how]`` before its settings.

    A setting that is commented out (``# use = "lap"``) becomes a row that is (``# use``, ``lap``): it counts once its
    # is taken off.
    """
    told = loaded(text)
    at: dict[int, list[tuple[str, str]]] = {}
    for key, value, row in settings_in(told, text):
        if key.startswith("back.") or isinstance(value, bool):
            if not key.endswith("."):
                at.setdefault(row, []).append((key, str(yes_or_text(value))))
            continue
        if isinstance(value, dict):
            at.setdefault(row, []).append((f"[{key}]", ""))
            for inner, each in value.items():
                at.setdefault(line_of(inner, text), []).append((inner, str(each)))
            continue
        for each in value if isinstance(value, list) else [value]:
            # never before the one above it
            row = line_of_text(str(each), row, text)
            at.setdefault(row, []).append((key, str(each)))
    rows: list[Cells] = []
    for number, line in enumerate(text.splitlines(), 1):
        if line.lstrip().startswith("#"):
            rows += _commented(line.strip())
        else:
            note = _comment(line)
            rows += [
                (key, each, "" if i else note)
                for i, (key, each) in enumerate(at.get(number, []))
            ]
    return rows


def loaded(text: str) -> dict[str, Any]:
    """What a TOML text says.

    Raises
    ------
    ValueError, RecursionError
        Where it is no TOML, or has a line on which keys may be nested so deeply that reading takes very long.
    """
    for row, line in enumerate(text.splitlines(), 1):
        if len(line) > _LONGEST_LINE:
            raise ValueError(f"it has {len(line)} signs, at line {row}")
    return tomllib.loads(text, parse_float=Decimal)


def _comment(line: str) -> str:
    """The comment at the end of a line."""
    at = _STRING.sub(lambda match: "x" * len(match[0]), line).find("#")
    if at >= 0:
        return line[at + 1 :].strip()
    return ""


def _commented(line: str) -> list[Cells]:
    """A line that is a comment: a setting in waiting, or words."""
    plain = line.removeprefix("#").strip()
    try:
        told = loaded(plain)
    except (ValueError, RecursionError):
        told = {}
    if len(told) != 1 or isinstance(next(iter(told.values())), dict):
        return [(f"# {plain}", "", "")] if plain else []
    ((key, value),) = told.items()
    if isinstance(value, list):
        said = value
    else:
        said = [value]
    return [
        (f"# {key}", str(each), "" if i else _comment(plain))
        for i, each in enumerate(said)
    ]


def toml_of_rows(
    rows: Iterable[Cells], lists: Iterable[str], tops: Iterable[str]
) -> str:
    """The TOML text of rows: sentences of `lists` as arrays, what is neither comment nor one of `tops` under [how].

    Parameters
    ----------
    rows : iterable of (str, str, str)
        Key or comment, sentence and note.
    lists : iterable of str
        Keys that may have several sentences.
    tops : iterable of str
        Keys that are no settings of how a quilt is made.
    """
    many = set(lists)
    known = set(tops)
    # sections by key, in the order in which they begin; comments between them under a key of their own
    told: dict[str, list[str]] = {}
    how: list[str] = []
    at = ""
    for key, sentence, note in rows:
        tail = f"  # {note}" if note else ""
        if is_comment(key):
            if sentence:
                said = f" = {quoted(sentence)}"
            else:
                said = ""
            section = at if at in many else f"#{len(told)}"
            if at == "how":
                lines = how
            else:
                lines = told.setdefault(section, [])
            lines.append(f"{key}{said}{tail}")
        elif key not in known:
            at = "how"
            if sentence:
                how.append(f"{key} = {quoted(sentence)}{tail}")
        else:
            at = key
            if key in many:
                comma = ","
            else:
                comma = ""
            told.setdefault(key, []).append(f"{quoted(sentence)}{comma}{tail}")
    out: list[str] = []
    for key, lines in told.items():
        out += _section(key, lines, several=key in many)
    if how:
        out += ["", "[how]", *how]
    return "\n".join(out) + "\n"


def _section(key: str, lines: Iterable[str], *, several: bool) -> list[str]:
    """The lines of a key with its sentence or sentences, or of comments between keys."""
    if several:
        return [f"{key} = [", *(f"  {line}" for line in lines), "]"]
    return [line if is_comment(line) else f"{key} = {line}" for line in lines]
