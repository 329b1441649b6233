"""What is asked back of a line of the pile: each mend is a line, or a word, that reads."""

from __future__ import annotations

import difflib
import re
from collections.abc import Sequence
from typing import Final

from cutopt.errors import Problem
from cutopt.lengths import FRACTION_SIGNS
from cutopt.tables.pile.flaws import FLAWS
from cutopt.tables.pile.missing_corners import CORNERS
from cutopt.tables.pile.patterns import ENDS, TIMES
from cutopt.tables.pile.phrases import WORDS
from cutopt.tables.pile.said_lengths import SIDE

# words that people write for raw edges
_RAGGED: Final = ("torn", "ragged", "frayed", "fraying", "uneven", "crooked", "wonky")
MINUS = re.compile(
    rf"(?:minus|without|[-−–])\s*(?=[\d.{FRACTION_SIGNS}])", re.IGNORECASE
)
# names in quotes, and notes: what stands in them is the maker's own
_NO_WORDS: Final = re.compile(r'(?<!\S)"(?:[^"]|"")*"|,\s*note\s.*', re.IGNORECASE)
_FEET: Final = re.compile(r"(?<![\d./])(\d+)\s*(?:ft\b\.?|feet\b|foot\b|'(?!'))", re.I)
_BY: Final = re.compile(r"[x×*]|by", re.IGNORECASE)
_THREE: Final = re.compile(
    rf"(?<!\S)({SIDE}{TIMES}{SIDE})(?:\s*[x×*]\s+|[x×*])(\d+){ENDS}", re.IGNORECASE
)
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


def no_size(text: str, fabric: str) -> Problem:
    """The problem of a line without a size, with an example of its form and fabric."""
    asked = text.lower()
    example = next(e for word, e in _EXAMPLES.items() if word in asked)
    if re.search(r"\s(?:[x×]|by)\s", text):
        # a side of it is not read, and so may be a part of the name
        return unread(text, "no size is found in it", example)
    for pear in ("pear", "bark", "plum", "mist", "oat"):
        example = re.sub(rf"\b{pear}\b", lambda _: fabric, example)
    return unread(text, "no size is found in it", example)


def no_fabric(text: str, *, sized: bool) -> Problem:
    """The problem of a line that names no fabric."""
    if not sized:
        return unread(text, "no fabric and size are found in it")
    named = f"{text.rstrip(' .!,;')} pear"
    return unread(text, "no fabric is named in it", f"its name too, such as {named}")


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


def feet(text: str) -> None:
    """Refuse a length in feet.

    Raises
    ------
    Problem
        With it in inches.
    """
    words = _NO_WORDS.sub(lambda match: " " * len(match[0]), text)
    if not _FEET.search(words):
        return
    mend = _FEET.sub(lambda match: f"{int(match[1]) * 12} in", text)
    raise unread(text, "a length in feet is in it", mend)


def three_numbers(text: str) -> None:
    """Refuse a size of three numbers.

    Raises
    ------
    Problem
        With the last as how many there are.
    """
    if len(_BY.findall(text)) < 2:
        return
    words = _NO_WORDS.sub(lambda match: " " * len(match[0]), text)
    three = _THREE.search(words)
    if three is None:
        return
    rest = " ".join(text.replace(three[0], f" {three[1]} ", 1).split())
    what = f'three numbers are in "{three[0].strip()}", and cloth has two sides'
    raise unread(text, what, f"{three[2]} {rest}, if there are {three[2]} of them")


class NotUnderstood(Problem):
    """Words that nobody can use; the mend is one that holds of any line."""

    def __init__(self, text: str, rest: str, *, corners: bool = False) -> None:
        what = f'"{text}" cannot be read, "{rest}" is not understood'
        super().__init__("", what, f"write {_nearest(rest, corners)}")
        self.text = text
        self.rest = rest
        self.corners = corners


def is_near_a_word(text: str) -> bool:
    """Whether a text that is no word of the pile was most likely meant as one."""
    plain = text.lower()
    if plain.startswith((*_RAGGED, *FLAWS, "less")) or MINUS.match(text):
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
    if MINUS.match(text):
        return f"{MINUS.sub('less ', text, count=1)} (a missing corner)"
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
