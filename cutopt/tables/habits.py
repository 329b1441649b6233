"""How a maker does it: the settings under [how] in quilt.toml."""

from __future__ import annotations

import re
from dataclasses import fields, replace
from typing import Any

from cutopt.errors import Problem
from cutopt.job import Settings
from cutopt.quilt.conventions import Conventions
from cutopt.tables.columns import known_heading, nearest
from cutopt.tables.log import Log

_LENGTH = ("int", "int | None")


def line_of(key: str, text: str) -> int:
    """The line of a TOML text on which a key stands, 1 where it is not found."""
    pattern = re.compile(rf"\s*\[*\s*[\"']?{re.escape(key)}\b")
    return next((i for i, line in enumerate(text.splitlines(), 1) if pattern.match(line)), 1)


def conventions_of(told: Any, settings: Settings, text: str, file: str, log: Log) -> Conventions:
    """The settings under [how]; each that cannot be read is noted."""
    how = Conventions.of(settings)
    known = {each.name: str(each.type) for each in fields(Conventions) if each.name not in ("unit", "grid", "seam")}
    if not isinstance(told, dict):
        return how
    for key, value in told.items():
        row = line_of(key, text)
        name = known_heading(key, known)
        if name is None:
            guess = nearest(key, known)
            mend = (
                f'did you mean "{guess}"?'
                if guess
                else "unit, seam and grid stand in job.toml; others: " + ", ".join(known)
            )
            log.add(Problem(key, f'there is no "{key}" under [how]', mend), file, row)
            continue
        how = log.attempt(lambda how=how, name=name, value=value: _changed(how, name, value), how, file, row)  # type: ignore[misc]
    return how


def _changed(how: Conventions, name: str, value: object) -> Conventions:
    kind = {each.name: str(each.type) for each in fields(Conventions)}[name]
    if name == "spares":
        number = str(value)
        if not number.isdigit():
            raise Problem(name, f'"{value}" is not a whole number', "write a number such as 2")
        return replace(how, spares=int(number))
    if kind in _LENGTH:
        length = how.read(str(value), name)
        return replace(how, **{name: -int((-length).__floor__())})  # type: ignore[arg-type]
    return replace(how, **{name: str(value).strip().lower()})  # type: ignore[arg-type]
