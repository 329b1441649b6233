"""A size found rather than set, in a sentence: ``as large as it goes, no narrower than 36, between square and 4:3``."""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence
from fractions import Fraction
from typing import Final

from cutopt.errors import Problem
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.recipe.block import Block
from cutopt.quilt.recipe.dealt import span
from cutopt.quilt.recipe.setting import Setting
from cutopt.quilt.sizes_of_blocks import Limits, largest
from cutopt.quilt.surds import ZERO, Exact
from cutopt.tables.recipe.sentences_of_setting import setting_of

FOUND: Final = "as large as it goes"
_BOUNDS: Final = {"narrower": 0, "shorter": 1, "wider": 2, "longer": 3}
_HUGE: Final = "100 m"


def is_found(text: str) -> bool:
    """Whether a setting is to be found."""
    return FOUND in _clauses(text.lower())


def _clauses(text: str) -> list[str]:
    return [part.strip() for part in text.split(",")]


def found_setting(
    text: str,
    blocks: Sequence[Block],
    around: tuple[Exact, Exact],
    how: Conventions,
    known: Collection[str] = (),
) -> tuple[Setting, tuple[str, ...]]:
    """The largest setting that the blocks give within the limits said, and what is to be known about it.

    Parameters
    ----------
    text : str
    blocks : sequence of Block
    around : Exact
        What all borders add at the sides and at top and bottom; the limits are meant with them, finished.
    how : Conventions
    known : collection of str
        Names, tags and values of fabrics in lower case.

    Raises
    ------
    Problem
        Where a limit is not understood, blocks differ in size, or nothing lies within the limits.
    """
    shown = [block for block in blocks if block.patches]
    if not shown:
        raise Problem(
            "setting",
            "there are no blocks to set",
            "write blocks = [...] with blocks that fill a place; loose patches and shapes take none",
        )
    parts = [part for part in _clauses(text) if part.lower() != FOUND]
    limits, rest = _limits(parts, how)
    cell = min(
        (block.size for block in shown), key=lambda size: (size[0] * size[1], size[0])
    )
    each = [span(block, cell) for block in shown]
    places = sum(
        block.count * s[0] * s[1]
        for block, s in zip(shown, each, strict=True)
        if s is not None
    )
    trial = setting_of(", ".join(["2 across", "2 down", *rest]), how, known)
    if trial.sashes is not None and trial.sashes.between != "both":
        what = f'"{text}" looks for a size, with sashing between the {trial.sashes.between} alone'
        raise Problem("setting", what, "say how many there are, like 4 columns of 16")
    if trial.alternates:
        what = f'"{text}" looks for a size, with plain blocks between the others'
        raise Problem("setting", what, "say how many there are, like 5 across, 7 down")
    sash = trial.sash(how)
    outer = around
    if trial.framed and not trial.on_point:
        outer = (around[0] + sash, around[1] + sash)
    best = largest(cell, places, limits, outer, sash, how, trial.on_point)
    setting = setting_of(
        ", ".join([f"{best.across} across", f"{best.down} down", *rest]), how, known
    )
    return setting, (
        f"size found: {best.why} finished; {best.left} of {places} blocks left over",
    )


def _limits(parts: Sequence[str], how: Conventions) -> tuple[Limits, list[str]]:
    """What was said about size and shape, and the other options of a setting."""
    bounds = [ZERO, ZERO, how.read(_HUGE), how.read(_HUGE)]
    shape = (Fraction(1), Fraction(4, 3))
    rest = []
    for part in parts:
        plain = part.lower()
        if match := re.fullmatch(
            r"no (narrower|shorter|wider|longer) than (.+)", plain
        ):
            bounds[_BOUNDS[match[1]]] = how.read(match[2], "setting")
        elif match := re.fullmatch(r"between (\S+) and (\S+)", plain):
            one = _shape(match[1])
            other = _shape(match[2])
            shape = min(one, other), max(one, other)
        elif plain in ("of any shape", "any shape"):
            shape = Fraction(1, 1000), Fraction(1000)
        else:
            rest.append(part)
    least = (-(-bounds[0]).__floor__(), -(-bounds[1]).__floor__())
    return Limits(
        least=least, most=(bounds[2].__floor__(), bounds[3].__floor__()), shape=shape
    ), rest


def _shape(word: str) -> Fraction:
    """Length to width: ``square``, ``4:3``."""
    if word == "square":
        return Fraction(1)
    match = re.fullmatch(r"(\d+):(\d+)", word)
    if match is None or not int(match[1]) or not int(match[2]):
        raise Problem(
            "setting",
            f'"{word}" is not a shape',
            "write it like between square and 4:3, length first",
        )
    return Fraction(int(match[1]), int(match[2]))


__all__ = ["found_setting", "is_found"]
