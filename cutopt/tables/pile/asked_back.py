"""What is asked back of a line of the pile: each mend is a line, or a word, that reads."""

from __future__ import annotations

import difflib
import re
from collections.abc import Sequence
from typing import Final

from cutopt.errors import Problem
from cutopt.lengths import FRACTION_SIGNS
from cutopt.tables.pile.missing_corners import CORNERS
from cutopt.tables.pile.phrases import WORDS

FLAWS: Final = ("stain", "hole", "tear", "flaw")
# words that people write for raw edges
_RAGGED: Final = ("torn", "ragged", "frayed", "fraying", "uneven", "crooked")
_MINUS = re.compile(
    rf"(?:minus|without|[-−–])\s*(?=[\d.{FRACTION_SIGNS}])", re.IGNORECASE
)
# so many of them, behind the size
_TIMES: Final = re.compile(r"[x×]\s*(\d+)", re.IGNORECASE)
# names in quotes, and notes: what stands in them is the maker's own
_NO_WORDS: Final = re.compile(r'(?<!\S)"(?:[^"]|"")*"|,\s*note\s.*', re.IGNORECASE)
_EXAMPLES: Final = {
    "strip": "4 strips bark 2 1/2 x 38",
    "half": "half square plum 14",
    "square": "20 squares mist 5 cut",
    "triangle": "triangle plum 14 x 9",
    "less": "oat 20 x 14 less 7 x 4",
    "": "pear 11 x 7",
}


def unread(text: str, what: str, mend: str = "", form: str = "") -> Problem:
    """The problem of a line, with what to write or the form that is nearest.

    Parameters
    ----------
    text : str
        The line.
    what : str
        What is wrong with it.
    mend : str
        What to write, else an example.
    form : str
        Of which the example is, else one that the line names.
    """
    if not mend:
        asked = form or text.lower()
        mend = next(
            (e for word, e in _EXAMPLES.items() if word in asked), _EXAMPLES[""]
        )
    return Problem("", f'"{text}" cannot be read, {what}', f"write {mend}")


def a_comma(text: str) -> None:
    """Refuse a number with a comma in it.

    Raises
    ------
    Problem
        With the point, or without the comma that may stand before thousands.
    """
    words = _NO_WORDS.sub(lambda match: " " * len(match[0]), text)
    comma = re.search(r"(?<![\d,.])\d+,\d+(?![\d/])", words)
    if comma is None or re.search(r"\bat\s+$", text[: comma.start()]):
        return
    told = "a decimal comma is in it"
    mend = text.replace(comma[0], comma[0].replace(",", "."))
    if re.fullmatch(r"[1-9]\d{0,2},\d{3}", comma[0]):
        told = f"the comma in {comma[0]} may stand before thousands or before decimals"
        joined = text.replace(comma[0], comma[0].replace(",", ""))
        mend = f"{joined} for thousands, or {mend} for decimals"
    raise unread(text, told, mend)


def not_understood(text: str, rest: str, *, corners: bool = False) -> Problem:
    """The problem of words that nobody can use, with the word or the sign that is nearest.

    Parameters
    ----------
    text, rest : str
        The line, and what of it is not understood.
    corners : bool
        Whether a missing corner stands before it.
    """
    what = f'"{rest}" is not understood'
    times = _TIMES.fullmatch(rest)
    if times:
        return unread(text, what, f"{times[1]} {text.replace(rest, '', 1).strip()}")
    return unread(text, what, _nearest(rest, corners))


def is_near_a_word(text: str) -> bool:
    """Whether a text that is no word of the pile was most likely meant as one."""
    plain = text.lower()
    if plain.startswith((*_RAGGED, *FLAWS, "less")) or _MINUS.match(text):
        return True
    return bool(difflib.get_close_matches(plain, WORDS, 1, 0.75))


def _nearest(text: str, corners: bool) -> str:
    plain = text.lower()
    if plain.startswith(("x ", "× ")):
        return _EXAMPLES[""]
    if plain.startswith("less"):
        return _EXAMPLES["less"]
    for flaw in FLAWS:
        if re.search(rf"\b{flaw}", plain):
            return f"a comma and then {flaw} 3 x 2 at 4 5"
    if _MINUS.match(text):
        return f"{_MINUS.sub('less ', text, count=1)} (a missing corner)"
    if plain.startswith(_RAGGED):
        return '"raw"'
    words = (*WORDS, *CORNERS) if corners else WORDS
    near = difflib.get_close_matches(plain, words, 1, 0.75)
    if near:
        return f'"{near[0]}"'
    told = ", ".join(words)
    return f"one of these behind the size: {told}, less 7 x 4 (a missing corner)"


def two_said(text: str, said: Sequence[str]) -> Problem:
    """The problem of a line that says two things of which one can be true."""
    return Problem(
        "", f'"{text}" says both {" and ".join(said)}', "keep one of the two"
    )


def name_or_word(text: str, name: str, word: str, meant: str) -> Problem:
    """The problem of a word that may belong to the name of a fabric, or tell of the cloth.

    Parameters
    ----------
    text : str
        The line.
    name : str
        Words of the line that would be the name.
    word : str
        The one in doubt.
    meant : str
        The line as it is if the word is none of the name; "" where it cannot be.
    """
    quoted = text.replace(name, f'"{name}"', 1)
    what = f'"{word}" may be a part of the name "{name}" or tell of the cloth'
    if meant:
        mend = f"{meant}, or {quoted} with the name in quotes"
    else:
        mend = f"{quoted} with the name in quotes"
    return unread(text, what, mend)
