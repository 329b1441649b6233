"""Sizes in sentences: finished, unless *cut* or *unfinished* stands behind them."""

from __future__ import annotations

import re
from typing import Final

from cutopt.errors import Problem
from cutopt.lengths import FRACTION_SIGNS
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.surds import Exact, exact

CUT: Final = "cut"
UNFINISHED: Final = "unfinished"


def qualified(text: str) -> tuple[str, str]:
    """A size and the word behind it: ``5 cut`` is ("5", "cut"); "" where it is finished."""
    match = re.fullmatch(r"(.*?)\s*\b(cut|finished|unfinished)", text.strip())
    if match is None:
        return text.strip(), ""
    if match[2] == "finished":
        return match[1], ""
    return match[1], match[2]


def one_size(text: str, how: Conventions, what: str) -> Exact:
    """A finished size; ``5 cut`` and ``5 unfinished`` are two seams more, ``6 x 6`` is that of a square.

    Parameters
    ----------
    text : str
    how : Conventions
    what : str
        Named in the problem.

    Raises
    ------
    Problem
        Where it is none, or leaves nothing.
    """
    plain, word = qualified(text)
    if not plain:
        raise Problem(what, "a size is missing", "write it like of 6")
    size = how.read(_of_a_square(plain, how, what), what)
    if word:
        size = exact(how.cut_size(size)) - 2 * how.seam
    if size <= 0:
        raise Problem(
            what, f'"{text}" leaves nothing after the seams', "write a larger size"
        )
    return size


def _of_a_square(text: str, how: Conventions, what: str) -> str:
    """One side of a size that is said with both."""
    sides = sides_of(text)
    if len(sides) != 2:
        return text
    if how.read(sides[0], what) != how.read(sides[1], what):
        problem = (
            f'"{text}" has two sides, and one is wanted here: it is square, or a width'
        )
        raise Problem(what, problem, f"write it like of {sides[0]}")
    return sides[0]


def two_sizes(text: str, how: Conventions, what: str) -> tuple[Exact, Exact]:
    """A finished width and length; one size stands for a square.

    Parameters
    ----------
    text : str
    how : Conventions
    what : str
        Named in the problem.

    Raises
    ------
    Problem
        Where it is none.
    """
    plain, word = qualified(text)
    sides = sides_of(plain)
    if len(sides) > 2:
        raise Problem(what, f'"{text}" is not a size', "write it like 6 x 12")
    sizes = [one_size(f"{side} {word}", how, what) for side in sides]
    return sizes[0], sizes[-1]


def sides_of(text: str) -> list[str]:
    """The sides of a size as typed: ``6 x 12`` is ["6", "12"]."""
    return re.split(rf"\s*[x×]\s*(?=[\d.{FRACTION_SIGNS}])", text.strip())
