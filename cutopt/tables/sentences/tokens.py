"""A sentence cut into its words: numbers with their units, quoted names, words and signs."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final, Literal, TypeAlias

from cutopt.errors import Problem
from cutopt.lengths import SPELLINGS, comma_problem

TokenKind: TypeAlias = Literal["number", "name", "word", "sign"]

_FRACTION: Final = "½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞"
_UNIT: Final = "|".join(
    said for spelt in SPELLINGS.values() for said in spelt if said.isalpha()
)
_SLASH: Final = "[/\N{FRACTION SLASH}\N{DIVISION SLASH}]"
_DASH: Final = "[-‐‑–]"
_NUMBER: Final = (
    rf"(?:\d+(?:(?:\s*{_DASH}\s*|\s+and\s+|\s+)\d+\s*{_SLASH}\s*\d+"
    rf"|\s*[{_FRACTION}]|\.\d+|\s*{_SLASH}\s*\d+)?|[{_FRACTION}]|\.\d+)"
)
_TOKEN: Final = re.compile(
    rf"(?P<ratio>\d+:\d+)"
    rf"|(?P<comma>\d+(?:,\d+)+(?![\d/]))"
    rf"|(?P<number>{_NUMBER})(?P<unit>\s?{_DASH}?\s?(?:{_UNIT})(?![\w])\.?|\s?(?:''|[\"″”“]))?"
    rf"|(?P<quoted>\"(?:[^\"]|\"\")+\"|“[^”]+”|(?<![\w])'[^']+'(?![\w])|‘[^’]+’)"
    rf"|(?P<times>[x×](?=\s*[\d.{_FRACTION}]))"
    rf"|(?P<word>[^\W\d_](?:[\w']|’(?=\w))*)"
    rf"|(?P<sign>\S)",
    re.IGNORECASE,
)
NUMBER_WORDS: Final = {
    "one": 1,
    "two": 2,
    "three": 3,
    "four": 4,
    "five": 5,
    "six": 6,
    "seven": 7,
    "eight": 8,
    "nine": 9,
    "ten": 10,
    "eleven": 11,
    "twelve": 12,
    "sixteen": 16,
    "twenty": 20,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Token:
    """A word of a sentence: what it is, how it is compared (`plain`), and where it stands (`at`).

    `number` and `unit` are the parts of a number as typed; a quoted name is never a word of the grammar.
    """

    kind: TokenKind
    plain: str
    at: tuple[int, int]
    number: str = ""
    unit: str = ""

    @property
    def start(self) -> int:
        """Place of its first sign."""
        return self.at[0]

    @property
    def end(self) -> int:
        """Place behind its last sign."""
        return self.at[1]

    @property
    def length(self) -> str:
        """The number with its unit: ``5"``, ``12 cm``."""
        blank = " " if self.unit[:1].isalpha() else ""
        return f"{self.number}{blank}{self.unit}"

    @property
    def compared(self) -> str:
        """How it is compared with words of the grammar; what is quoted is like none of them."""
        if self.kind == "name":
            return f'"{self.plain}"'
        return self.plain

    @property
    def whole(self) -> int | None:
        """The count that it may be: a whole number without a unit, or a number word; None where it is none."""
        if self.kind == "number" and self.number.isdigit() and not self.unit:
            return int(self.number[:9])
        return NUMBER_WORDS.get(self.plain)

    @property
    def ends_clause(self) -> bool:
        """Whether a part of a sentence ends here."""
        return self.kind == "sign" and self.plain in (",", ";", "–", "—", "(", ")")


def tokens_of(text: str, field: str) -> list[Token]:
    """The words of a text, in order; a hyphen between words parts them, and is none itself.

    Raises
    ------
    Problem
        Where a number has a decimal comma.
    """
    found = [token for token in _found(text, field) if token.plain != "-"]
    return [_as_size(token, before) for before, token in pairwise([None, *found])]


def _as_size(token: Token | None, before: Token | None) -> Token:
    """A number word behind "of" is a size: ``of six``."""
    assert token is not None
    number = NUMBER_WORDS.get(token.plain)
    if before is None or before.plain != "of" or number is None:
        return token
    return replace(token, kind="number", number=str(number))


def _found(text: str, field: str) -> Iterator[Token]:
    for match in _TOKEN.finditer(text):
        at = match.span()
        kind = match.lastgroup
        if kind == "comma":
            raise _comma(field, match[0], text)
        if kind in ("number", "unit"):
            unit = (match["unit"] or "").strip(" -‐‑–").lower()
            yield Token(
                kind="number",
                plain=match["number"].lower(),
                number=" ".join(match["number"].split()),
                unit=unit,
                at=at,
            )
        elif kind == "quoted":
            yield Token(
                kind="name", plain=match[0][1:-1].replace('""', '"').strip(), at=at
            )
        elif kind == "times":
            yield Token(kind="sign", plain="x", at=at)
        elif match[0] == "°":
            yield Token(kind="word", plain="degree", at=at)
        elif kind in ("word", "ratio"):
            plain = match[0].lower().replace("’", "'")
            yield Token(kind="word", plain=plain, at=at)
        else:
            yield Token(kind="sign", plain=_sign(match[0]), at=at)


def _sign(text: str) -> str:
    """A sign; hyphens of every kind are one."""
    return re.sub("[‐‑−]", "-", text)


def _comma(field: str, number: str, text: str) -> Problem:
    """A number with a comma in a sentence: what it may mean, and the sentence with it mended."""
    problem = comma_problem(field, number)
    if problem.mend.startswith("write ") and " or " not in problem.mend:
        mended = text.replace(number, problem.mend.removeprefix("write "))
        return Problem(field, problem.what, f'write "{mended}"')
    return problem
