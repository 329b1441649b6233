"""What is told of words that nobody can use, each mend tried before: a line told to be written reads."""

from __future__ import annotations

import difflib
import re
from collections.abc import Callable, Iterator
from typing import Final

from cutopt.errors import Problem
from cutopt.tables.pile.asked_back import MINUS, NotUnderstood
from cutopt.tables.pile.missing_corners import CORNERS
from cutopt.tables.pile.patterns import TIMES
from cutopt.tables.pile.phrases import WORDS
from cutopt.tables.pile.said_lengths import SIDE

_SOILED: Final = re.compile(
    r"\b(stain|hole|tear|flaw|spot|mark|burn|rip|scorch|moth|damage|fade|bleach)",
    re.IGNORECASE,
)
_SIZED: Final = re.compile(
    rf"\b({SIDE}){TIMES}({SIDE})|\b(?=\d)({SIDE})\s+(?:hole|stain|tear|spot|mark|burn|square|corner|bite|notch)",
    re.IGNORECASE,
)
_ONE_WAY: Final = re.compile(
    r"\b(?:stripes?|print|pattern|motifs?|design|nap)\s+(?:runs?|goes|go|stands?|is|are|along|across|up|down)\b"
    r"|\b(?:one[\s-]way|directional|upright|right way up)\b",
    re.IGNORECASE,
)
_TAKEN: Final = re.compile(
    r"\b(?:less|minus|missing|corners?|bite|notch(?:ed)?|gone|cut[\s-]?out)\b",
    re.IGNORECASE,
)
_KEPT: Final = re.compile(
    r"\b(?:keep|save|saved|saving|reserved?|precious|spoken for|promised|set aside)\b",
    re.IGNORECASE,
)
# so many of them, behind the size
# with a ..., what was taken away
_DANGLING: Final = re.compile(
    r"\s+(?:(?:with|has|but|and|there's|there is)\s*)+(?:an?)?$|\s+an?$", re.IGNORECASE
)
# words that are told at once
_MOST: Final = 4
_TIMES: Final = re.compile(r"[x×]\s*(\d+)", re.IGNORECASE)


def mended(
    problem: NotUnderstood, wrong_with: Callable[[str], Problem | None]
) -> Problem:
    """The problem with a mend.

    Parameters
    ----------
    problem : NotUnderstood
    wrong_with : callable
        What is wrong with a line, None where it reads.
    """
    for line, mend in _mends(problem, wrong_with):
        if wrong_with(line) is None:
            return Problem(problem.field, problem.what, f"write {mend}")
    return problem


def _mends(
    problem: NotUnderstood, wrong_with: Callable[[str], Problem | None]
) -> Iterator[tuple[str, str]]:
    """Lines, each with what is told of it, the likeliest first."""
    rest = problem.rest
    without = _without(problem.text, rest)
    times = _TIMES.fullmatch(rest)
    if times:
        line = f"{times[1]} {without}"
        yield line, line
    if MINUS.match(rest):
        less = MINUS.sub("less ", rest, count=1)
        line = f"{without} {less}"
        yield line, f"{less} (a missing corner): {line}"
    words = (*WORDS, *CORNERS) if problem.corners else WORDS
    for near in difflib.get_close_matches(rest.lower(), words, 1, 0.75):
        line = f"{without} {near}"
        yield line, f'"{near}": {line}'
    rests = [rest]
    for _ in range(_MOST):
        more = wrong_with(without)
        if not isinstance(more, NotUnderstood):
            break
        rests.append(more.rest)
        without = _without(without, more.rest)
    told = ", ".join(rests)
    yield from _of_soiled(told, without)
    if _TAKEN.search(told):
        # what is missing is no mere note
        large = _large(told, "7 x 4")
        line = f"{without} less {large}"
        yield line, f"{line}, if a corner of that size is missing"
        return
    if _ONE_WAY.search(told):
        mend = f"along, across or nap under one_way in fabrics.csv, and here {without}"
        yield without, mend
    if _KEPT.search(told):
        line = f"{without}, do not touch"
        other = f"{without}, note {told}"
        yield line, f"{line}, or {other} if it may be cut after all"
    line = f"{without}, note {told}"
    other = problem.mend.removeprefix("write ")
    yield line, f"{line} if it is no more than a note; or {other}"


def _of_soiled(told: str, without: str) -> Iterator[tuple[str, str]]:
    soiled = _SOILED.search(told)
    if soiled is None:
        return
    word = soiled[1].lower()
    if word not in ("hole", "tear", "stain"):
        word = "flaw"
    large = _large(told, "3 x 2")
    for at in ("4 5", "1 1"):
        line = f"{without}, {word} {large} at {at}"
        where = "its size, and where its lower left corner is, across and along"
        yield line, f"{line}, with {where}; or the size that is left without it"


def _large(told: str, usual: str) -> str:
    """The size that some words say of what is missing, else one as an example."""
    size = _SIZED.search(told)
    if size is None:
        return usual
    return f"{size[1] or size[3]} x {size[2] or size[3]}"


def _without(text: str, rest: str) -> str:
    """A line without what is not understood, and without the comma before it."""
    head, _, tail = text.partition(rest)
    tail = re.sub(r"^[.!)]\s*", "", tail.strip())
    head = _DANGLING.sub("", head.rstrip(" ,;-("))
    return f"{head.rstrip(' ,')} {tail}".replace(" ,", ",").strip()
