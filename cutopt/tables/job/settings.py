"""The settings of a job, from job.toml or from a sheet ``job`` with the columns setting and value."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from functools import partial
from typing import Any

from cutopt.errors import Problem
from cutopt.fabric import LONGEST_TITLE, refuse_long_text
from cutopt.lengths import FRACTION_SIGNS, down, parse_length, parse_number, up
from cutopt.precuts import NAMES as PRECUTS
from cutopt.settings import Settings
from cutopt.tables.columns import known_heading, nearest
from cutopt.tables.dates import refuse_date
from cutopt.tables.files.toml_rows import (
    MOST_KEYS,
    loaded,
    settings_in,
    text_of,
    yes_or_text,
)
from cutopt.tables.job.back_rules import is_of_back
from cutopt.tables.log import Log, Placed
from cutopt.tables.rows.cells import parse_share, refuse_negative

KNOWN = (
    "name",
    "unit",
    "grid",
    "seam",
    "square_up",
    "square_up_end",
    "extra",
    "about",
    "pinked",
    *PRECUTS,
    "keep",
    "longest_cut",
    "turns",
    "preference",
    "prewash",
    "shrinkage",
    "currency",
)
_UNITS = {
    "in": "in",
    "inch": "in",
    "inches": "in",
    "cm": "cm",
    "centimetre": "cm",
    "centimetres": "cm",
}
_LENGTHS = ("grid", "seam", "square_up", "square_up_end", "extra", "about", "pinked")
_PREWASH = {
    "all": "all",
    "everything": "all",
    "yes": "all",
    "true": "all",
    "none": "none",
    "nothing": "none",
    "no": "none",
    "false": "none",
    "as told": "",
}
# that are not TOML, before the file is taken for something else
_MOST_LINES = 20
Entries = Mapping[str, Placed[str]]


def toml_entries(text: str, file: str, log: Log) -> dict[str, Placed[str]]:
    """The settings of a TOML file as text, with the line each stands on.

    Parameters
    ----------
    text : str
    file : str
        Its name.
    log : Log
        Lines that are not TOML, and settings that are none.
    """
    told = _told(text, file, log)
    entries: dict[str, Placed[str]] = {}
    found = list(settings_in(told, text))
    if len(found) > MOST_KEYS:
        log.add(
            Problem(
                "",
                f"it has {len(found)} settings",
                f"the settings are: {', '.join(KNOWN)}",
            ),
            file,
        )
        return {}
    for key, value, row in found:
        said = value
        if key == "prewash" or is_of_back(key):
            said = yes_or_text(value)
        if isinstance(said, str | int | Decimal) and not isinstance(said, bool):
            entries[key] = Placed(text_of(said), file, row)
        elif key not in KNOWN and not is_of_back(key):
            log.add(_unknown(key), file, row)
        else:
            what = f"it is {text_of(value)}, neither a text nor a number"
            log.add(Problem(key, what, 'write it like "1/4"'), file, row)
    return entries


def _told(text: str, file: str, log: Log) -> dict[str, Any]:
    """What a TOML file says; lines that are not TOML are noted and passed over, so that all of them are told."""
    lines = text.splitlines()
    for _ in range(_MOST_LINES):
        try:
            return loaded("\n".join(lines))
        except (ValueError, RecursionError) as error:
            problem = toml_problem(error, "\n".join(lines))
            log.add(problem, file)
            at = (problem.row or 0) - 1
            if not 0 <= at < len(lines) or not lines[at].strip():
                return {}
            lines[at] = ""
    return {}


def toml_problem(error: Exception, text: str) -> Problem:
    """What is wrong with a file that is not TOML; most often a fraction or a word without quotes."""
    at = re.search(r"line (\d+)", str(error))
    if at:
        row = int(at[1])
    else:
        row = len(text.splitlines())
    lines = text.splitlines()
    if 0 < row <= len(lines):
        line = lines[row - 1].strip()
    else:
        line = ""
    inch = re.search(rf"[\d{FRACTION_SIGNS}]\" ?[^\s,\]#]", line)
    if inch and line.count('"') > 2:
        quoted = line.strip(" ,")
        what = f'"{quoted}" cannot be read: the inch mark ends the words there'
        mend = "put single quotes round the sentence, like '20 5\" squares from oat', or write 5 in"
        return Problem("", what, mend, row=row)
    bare = re.fullmatch(r"([\w-]+)\s*=\s*([^\"'#]+?)\s*(#.*)?", line)
    if "overwrite" in str(error):
        return Problem(
            "",
            f'"{line}" says for a second time what a line above it says',
            "keep one of them",
            row=row,
        )
    if bare and re.fullmatch(r"\d+,\d+", bare[2]):
        mend = f"write {bare[1]} = {bare[2].replace(',', '.')}"
        return Problem(
            "",
            f'"{line}" cannot be read: a number takes a point, not a comma',
            mend,
            row=row,
        )
    if bare:
        what = (
            f'"{line}" cannot be read: what is no plain number stands in double quotes'
        )
        return Problem("", what, f'write {bare[1]} = "{bare[2]}"', row=row)
    return Problem(
        "",
        f'"{line}" cannot be read ({error})',
        'write each setting like seam = "1/4"',
        row=row,
    )


def _unknown(key: str) -> Problem:
    guess = nearest(key, (*KNOWN, "back"))
    if guess:
        mend = f'did you mean "{guess}"?'
    else:
        mend = "the settings are: " + ", ".join(KNOWN)
    return Problem(key, f'there is no setting "{key}"', mend)


def settings_of(entries: Entries, log: Log) -> tuple[str, Settings]:
    """The name of the job and its settings; defaults are those of its unit."""
    told: dict[str, Placed[str]] = {}
    of_job = (entry for entry in entries.items() if not is_of_back(entry[0]))
    for key, entry in of_job:
        known = known_heading(key, KNOWN)
        if known is None:
            log.add(_unknown(key), entry.file, entry.row)
        elif known in told:
            log.add(
                Problem(known, f'"{key}" is set twice', "keep one of the two"),
                entry.file,
                entry.row,
            )
        else:
            told[known] = entry
    settings = Settings()
    if "unit" in told:
        entry = told["unit"]
        unit = _UNITS.get(entry.value.strip().lower(), "")
        if not unit:
            log.add(
                Problem(
                    "unit", f'"{entry.value}" is not a unit of a job', "write in or cm"
                ),
                entry.file,
                entry.row,
            )
        if unit == "cm":
            settings = Settings.metric()
    for key, entry in told.items():
        settings = _changed(settings, key, entry, log)
    return _name(told["name"], log) if "name" in told else "job", settings


def _name(entry: Placed[str], log: Log) -> str:
    """The name of the job, "job" where it cannot be one."""
    before = len(log.problems)
    named = partial(refuse_long_text, "name", entry.value, LONGEST_TITLE)
    log.attempt(named, None, entry.file, entry.row)
    if len(log.problems) == before:
        return entry.value
    return "job"


def _changed(settings: Settings, key: str, entry: Placed[str], log: Log) -> Settings:
    """The settings with one of them changed; as they were where the text cannot be read."""
    change = partial(_with, settings, key, entry.value)
    return log.attempt(change, settings, entry.file, entry.row)


def _with(settings: Settings, key: str, text: str) -> Settings:
    if key in PRECUTS:
        width, length = map(down, _two_lengths(key, text, settings.unit))
        sizes = replace(settings.precuts, **{key: (width, length)})
        return replace(settings, precuts=sizes)
    return replace(settings, **_values(key, text, settings.unit))


def _values(key: str, text: str, unit: str) -> dict[str, Any]:
    """The fields of Settings that a setting gives."""
    if key not in ("name", "unit", "currency"):
        refuse_date(key, text)
    if key in _LENGTHS:
        refuse_negative(key, text, "write 0 or more")
        return {key: up(parse_length(text, unit, field=key, zero=key != "grid"))}
    if key == "longest_cut":
        return {key: down(parse_length(text, unit, field=key))}
    if key == "keep":
        width, length = map(up, _two_lengths(key, text, unit))
        return {"keep_width": width, "keep_length": length}
    if key == "prewash":
        return {key: _prewash(text)}
    if key == "shrinkage":
        return {key: parse_share(text, key)}
    if key == "turns":
        number = parse_number(text)
        if number is None or number.denominator != 1 or number > 1000:
            raise Problem(
                key,
                f'"{text}" is not a number of turns',
                "write a whole number such as 3, or leave it out",
            )
        return {"turns": int(number)}
    if key == "preference":
        return {"preference": _share_of_money(text)}
    if key == "currency":
        refuse_long_text(key, text, 10)
        return {key: text}
    return {}


def _two_lengths(key: str, text: str, unit: str) -> tuple[Fraction, Fraction]:
    """The sides of a size; one is that of a square."""
    refuse_date(key, text)
    sides = re.split(r"\s*[x×]\s*", text)
    if len(sides) not in (1, 2):
        raise Problem(key, f'"{text}" is not a size', "write it like 5 x 5")
    first, last = (
        parse_length(side, unit, field=key) for side in (sides[0], sides[-1])
    )
    return first, last


def _prewash(text: str) -> str:
    """Whether all cloth is washed before it is cut, none, or as each fabric says."""
    plain = " ".join(text.lower().split())
    if plain not in _PREWASH:
        mend = 'write "all" or "none", or leave it out where each fabric says it'
        raise Problem("prewash", f'"{text}" is not understood', mend)
    return _PREWASH[plain]


def _share_of_money(text: str) -> Fraction:
    """A share such as ``5%`` or ``0.05``."""
    number = parse_number(text.strip().removesuffix("%"))
    if number is None or number < 0:
        raise Problem(
            "preference",
            f'"{text}" is not a share of the money',
            "write it like 5%, or 0%",
        )
    if text.strip().endswith("%"):
        return number / 100
    return number
