"""How each back is sewn, from ``[back.NAME]`` in job.toml or settings ``back.NAME.seam`` in a sheet; and back to text."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import partial
from typing import Any, Final

from cutopt.errors import Problem
from cutopt.fabric import one_of, refuse_long_text
from cutopt.lengths import parse_length, parse_number, up
from cutopt.piecing import LOOKS, RULES, RUNS, Back, BackRules
from cutopt.settings import Settings
from cutopt.tables.columns import known_heading, nearest
from cutopt.tables.dates import refuse_date
from cutopt.tables.exact_lengths import written_length
from cutopt.tables.files.toml_rows import quoted
from cutopt.tables.log import Log, Placed
from cutopt.tables.rows.cells import parse_count, refuse_negative

_LENGTHS: Final = ("seam", "block_seam", "overage", "smallest_part", "edge_part")
_YES_NO: Final = {"yes": True, "true": True, "no": False, "false": False}


@dataclass(slots=True)
class ToldRules:
    """What is told of one back.

    Parameters
    ----------
    name : str
        As it is written.
    at : Placed
        Its first setting.
    options : dict
        Texts by the names of the rules.
    rules : BackRules
        What they mean; where one could not be read, as if it were not there.
    """

    name: str
    at: Placed[str]
    options: dict[str, Placed[str]] = field(default_factory=dict)
    rules: BackRules = field(default_factory=BackRules)

    def place(self, rule: str, otherwise: Placed[Any]) -> tuple[str, str, int]:
        """How a problem names a rule, and its file and row: where it is told, or else the place of the back."""
        if rule in self.options:
            at = self.options[rule]
            return setting_name(self.name, rule), at.file, at.row
        return rule, otherwise.file, otherwise.row


def setting_name(back: str, rule: str) -> str:
    """``back.B1.seam``: what a rule is called where it is one setting among others."""
    return f"back.{back}.{rule}"


def is_of_back(key: str) -> bool:
    """Whether a setting is a rule of a back, and none of the job."""
    return key.partition(".")[0].strip().lower() == "back"


def usual_rules(settings: Settings) -> BackRules:
    """How a back is sewn where nothing is told of it: blocks with the seam of the job."""
    usual = BackRules.metric() if settings.unit == "cm" else BackRules()
    try:
        return replace(usual, block_seam=settings.seam)
    except Problem:
        # so wide a seam of the job is none of a back
        return usual


def told_rules(
    entries: Mapping[str, Placed[str]], settings: Settings, log: Log
) -> dict[str, ToldRules]:
    """The rules of each back of which something is told, by its name in lower case.

    Parameters
    ----------
    entries : mapping
        The settings of the job by their names.
    settings : Settings
        Those of the job: unit and seam.
    log : Log
        Words that are no rules, and what cannot be read.
    """
    found: dict[str, ToldRules] = {}
    for key, entry in entries.items():
        if is_of_back(key):
            _add(key, entry, found, log)
    usual = usual_rules(settings)
    for told in found.values():
        told.rules = _read(told, usual, settings.unit, log)
    return found


def _add(key: str, entry: Placed[str], found: dict[str, ToldRules], log: Log) -> None:
    """Add one setting to those of its back."""
    _, _, rest = key.strip().partition(".")
    name, _, word = (part.strip() for part in rest.rpartition("."))
    if not name:
        what = f'"{key.strip()}" does not say of which back it is'
        mend = "write it under [back.NAME] (in a sheet: back.NAME.seam)"
        log.add(Problem("back", what, mend), entry.file, entry.row)
        return
    told = found.setdefault(name.lower(), ToldRules(name, entry))
    if not word:
        return
    rule = known_heading(word, RULES)
    if rule is None:
        log.add(_unknown(name, word), entry.file, entry.row)
    elif rule in told.options:
        problem = Problem(
            setting_name(name, rule), "it is set twice", "keep one of the two"
        )
        log.add(problem, entry.file, entry.row)
    else:
        told.options[rule] = entry


def _unknown(name: str, word: str) -> Problem:
    near = nearest(word, RULES)
    if near:
        mend = f'did you mean "{near}"?'
    else:
        mend = "of a back can be said: " + ", ".join(RULES)
    what = f'nothing is called "{word}" of a back'
    return Problem(setting_name(name, word), what, mend)


def _read(told: ToldRules, usual: BackRules, unit: str, log: Log) -> BackRules:
    """The rules; each that cannot be read, or contradicts another, is noted where it stands."""
    values: dict[str, Any] = {}
    for rule, entry in told.options.items():
        if not entry.value.strip():
            continue
        name = setting_name(told.name, rule)
        read = partial(_value, rule, name, entry.value.strip(), unit)
        before = len(log.problems)
        value = log.attempt(read, None, entry.file, entry.row)
        if len(log.problems) == before:
            values[rule] = value
    try:
        return replace(usual, **values)
    except Problem as problem:
        field, file, row = told.place(problem.field, told.at)
        log.add(Problem(field, problem.what, problem.mend), file, row)
        return usual


def _value(rule: str, name: str, text: str, unit: str) -> Any:
    """What the text of one rule means."""
    refuse_date(name, text)
    return _READERS[rule](name, text, unit)


def _length(name: str, text: str, unit: str) -> int:
    refuse_negative(name, text, "write 0 or more")
    return up(parse_length(text, unit, field=name, zero=True))


def _parts(name: str, text: str, _unit: str) -> int:
    return parse_count(text, name)


def _seams(name: str, text: str, _unit: str) -> int:
    """A back of one piece has none."""
    if parse_number(text) == 0:
        return 0
    return parse_count(text, name)


def _fabric(name: str, text: str, _unit: str) -> str:
    refuse_long_text(name, text)
    if "|" in text:
        what = f'"{text}" names several fabrics'
        raise Problem(name, what, "name the one fabric of the largest part")
    return text


def _word(words: tuple[str, ...], name: str, text: str, _unit: str) -> str:
    plain = text.lower()
    if plain not in words:
        near = nearest(plain, filter(None, words))
        if near:
            raise Problem(
                name, f'"{text}" is not known here', f'did you mean "{near}"?'
            )
    return one_of(name, plain, words)


def _yes(name: str, text: str, _unit: str) -> bool:
    if text.lower() not in _YES_NO:
        raise Problem(name, f'"{text}" is not known here', "write yes or no")
    return _YES_NO[text.lower()]


_READERS: Final[dict[str, Callable[[str, str, str], Any]]] = {
    **dict.fromkeys(_LENGTHS, _length),
    "most_parts": _parts,
    "most_seams": _seams,
    "main": _fabric,
    "run": partial(_word, RUNS),
    "middle": _yes,
    "upright": _yes,
    "look": partial(_word, LOOKS),
}


def rules_text(back: Back, settings: Settings) -> str:
    """The section of job.toml of one back, "" where all is as usual; its seam stands in backs.csv."""
    usual = usual_rules(settings)
    lines = [
        f"{rule} = {quoted(text)}\n"
        for rule, text in _texts(back.rules, usual, settings.unit)
    ]
    if lines:
        bare = re.fullmatch(r"[A-Za-z0-9_-]+", back.name)
        name = back.name if bare else quoted(back.name)
        return f"\n[back.{name}]\n" + "".join(lines)
    return ""


def _texts(rules: BackRules, usual: BackRules, unit: str) -> Iterator[tuple[str, str]]:
    for rule in RULES:
        value = getattr(rules, rule)
        if rule == "seam" or value == getattr(usual, rule):
            continue
        if rule in _LENGTHS:
            yield rule, written_length(value, unit)
        elif isinstance(value, bool):
            yield rule, "yes" if value else "no"
        else:
            yield rule, str(value)
