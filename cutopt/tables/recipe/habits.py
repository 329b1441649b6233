"""How a maker does it: the settings under [how] in quilt.toml."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import fields, replace
from functools import partial
from typing import Any, Final

from cutopt.errors import Problem
from cutopt.fabric import ByLength, Fabric, Offered
from cutopt.fabric_words import names_of
from cutopt.job import ClothKnown
from cutopt.quilt.binding import folded
from cutopt.quilt.conventions import Conventions
from cutopt.settings import Settings
from cutopt.tables.columns import known_heading, nearest
from cutopt.tables.log import Line, Log

_LENGTH = ("int", "int | None")

OF_JOB: Final = ("unit", "grid", "seam")
OF_CLOTH: Final = ("usable_width",)
HABITS: Final = {
    each.name: str(each.type)
    for each in fields(Conventions)
    if each.name not in (*OF_JOB, *OF_CLOTH)
}
"""The settings under [how] and their types."""


def elsewhere(key: str) -> str:
    """Where a setting is written that is none of how a quilt is made; "" for what is no setting at all."""
    if known_heading(key, OF_CLOTH):
        return "each fabric has its own: write it in shop.csv"
    if known_heading(key, OF_JOB):
        return f"{key} is a setting of the job: write it there"
    return ""


def width_on_sale(shop: Iterable[Offered], fabrics: Iterable[Fabric]) -> int | None:
    """Usable width of the narrowest fabric by length; None where the shop has none. What lies inside is no fabric to sew."""
    inside = {fabric.name for fabric in fabrics if fabric.is_inside}
    widths = [
        row.usable_width
        for row in shop
        if isinstance(row, ByLength) and row.fabric not in inside
    ]
    return min(widths, default=None)


def cloth_known(shop: Iterable[Offered], fabrics: Iterable[Fabric]) -> ClothKnown:
    """What the sentences of a quilt may know of the cloth of a job."""
    fabrics = tuple(fabrics)
    names = frozenset(name for fabric in fabrics for name in names_of(fabric))
    return ClothKnown(usable_width=width_on_sale(shop, fabrics), names=names)


def conventions_of(
    told: Mapping[str, Line], settings: Settings, file: str, log: Log
) -> Conventions:
    """The settings under [how]; each that cannot be read is noted.

    Parameters
    ----------
    told : mapping
        What is said, by the settings as they are spelt.
    settings : Settings
        Of the job.
    file : str
        Where it is said.
    log : Log
    """
    how = Conventions.of(settings)
    for key, said in told.items():
        name = known_heading(key, HABITS)
        if name is None:
            guess = nearest(key, HABITS)
            if guess:
                mend = f'did you mean "{guess}"?'
            else:
                mend = "the settings are: " + ", ".join(HABITS)
            log.add(
                Problem(
                    key, f'there is no "{key}" under [how]', elsewhere(key) or mend
                ),
                file,
                said.row,
            )
            continue
        how = log.attempt(
            partial(_changed, how, name, said.text),
            how,
            file,
            said.row,
        )
    if "binding_width" not in {known_heading(key, HABITS) for key in told}:
        how = folded(replace(how, binding_fold="double"), how.binding_fold)
    return how


def _changed(how: Conventions, name: str, text: str) -> Conventions:
    if name == "spares":
        if not text.isdigit():
            raise Problem(
                name, f'"{text}" is not a whole number', "write a number such as 2"
            )
        return replace(how, spares=int(text))
    if HABITS[name] in _LENGTH:
        length = how.read(text, name)
        value: Any = -int((-length).__floor__())
    else:
        value = text.strip().lower()
    return replace(how, **{name: value})
