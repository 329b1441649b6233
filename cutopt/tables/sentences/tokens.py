"""A sentence cut into its words: numbers with their units, quoted names, words and signs."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final, Literal, TypeAlias

from cutopt.errors import Problem
from cutopt.lengths import (
    FRACTION_SIGNS,
    NUMBER_IN_TEXT,
    NUMBER_WORDS,
    TENS,
    UNIT_IN_TEXT,
    UNIT_WORDS,
    comma_problem,
)

TokenKind: TypeAlias = Literal["number", "name", "word", "sign"]

_DASH: Final = "[-‐‑–]"
_ENDS: Final = (",", ";", ":", "–", "—", "(", ")", ".", "!")
_SHARES: Final = {
    "half": 2,
    "third": 3,
    "thirds": 3,
    "quarter": 4,
    "quarters": 4,
    "fourth": 4,
    "eighth": 8,
    "eighths": 8,
    "sixteenth": 16,
    "sixteenths": 16,
}
_TOKEN: Final = re.compile(
    rf"(?P<ratio>\d+:\d+)"
    rf"|(?P<comma>\d+(?:,\d+)+(?![\d/]))"
    rf"|(?P<number>{NUMBER_IN_TEXT})(?P<unit>\s?{_DASH}?\s?(?:{UNIT_IN_TEXT})(?![\w])\.?|\s?(?:''|[\"″”“]))?"
    rf"|(?P<quoted>\"(?:[^\"]|\"\")+\"|“[^”]+”|(?<![\w])'[^']+'(?![\w])|‘[^’]+’)"
    rf"|(?P<times>[x×](?=\s*[\d.{FRACTION_SIGNS}]))"
    rf"|(?P<word>[^\W\d_](?:[\w']|’(?=\w))*)"
    rf"|(?P<sign>\S)",
    re.IGNORECASE,
)


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
        return self.kind == "sign" and self.plain in _ENDS


def tokens_of(text: str, field: str) -> list[Token]:
    """The words of a text, in order; a hyphen between words parts them, and is none itself.

    Raises
    ------
    Problem
        Where a number has a decimal comma.
    """
    found = _with_tens([token for token in _found(text, field) if token.plain != "-"])
    return list(_with_sizes_in_words(_with_parts_in_words(found)))


def _with_tens(tokens: list[Token]) -> list[Token]:
    """``twenty-four`` in one."""
    out: list[Token] = []
    for token in tokens:
        ones = NUMBER_WORDS.get(token.compared, 0)
        if out and out[-1].compared in TENS and 0 < ones < 10:
            number = str(NUMBER_WORDS[out[-1].plain] + ones)
            at = (out[-1].start, token.end)
            out[-1] = Token(kind="number", plain=number, number=number, at=at)
        else:
            out.append(token)
    return out


def _with_parts_in_words(tokens: list[Token]) -> list[Token]:
    """Parts of a unit in words as numbers: ``half an inch``, ``two and a quarter inches``, ``an inch and a half``."""
    out: list[Token] = []
    i = 0
    while i < len(tokens):
        read = _part_at(tokens, i)
        if read is None:
            out.append(tokens[i])
            i += 1
            continue
        number, unit, end = read
        at = (tokens[i].start, tokens[end - 1].end)
        out.append(Token(kind="number", plain=number, number=number, unit=unit, at=at))
        i = end
    return out


def _part_at(tokens: list[Token], i: int) -> tuple[str, str, int] | None:
    """The number that begins with word `i` in words, its unit, and the word behind it; None where none does."""
    whole, j = _whole_at(tokens, i)
    bare = bool(whole) and j == i
    unit, j = _unit_at(tokens, j, tokens[j - 1].unit if j > i else "")
    if bare and _share_at(tokens, j + 1)[0] is None:
        return None
    joined = j > i and _compared(tokens, j) == "and"
    part, end = _share_at(tokens, j + joined)
    if j == i or joined:
        if part is None:
            return (str(whole), unit, j) if unit and _is_article(tokens[i]) else None
        if not unit:
            unit, end = _unit_at(tokens, _behind_small(tokens, end), "")
        if unit:
            return (f"{whole} {part}" if whole else part), unit, end
        return None
    if unit and _is_article(tokens[i]):
        return str(whole), unit, j
    return None


def _is_article(token: Token) -> bool:
    return token.compared in ("a", "an")


def _whole_at(tokens: list[Token], i: int) -> tuple[int, int]:
    """A whole number and the word behind it; 0 where none stands there, or what is said is a part: *a half*."""
    token = tokens[i]
    if _compared(tokens, i + 1) in _SHARES:
        return 0, i
    if token.compared in ("inch", "yard") and _compared(tokens, i + 1) == "and":
        # inch and a half: one and a half of them
        return 1, i
    if token.kind == "number" and token.number.isdigit():
        return int(token.number[:9]), i + 1
    if _is_article(token):
        return 1, i + 1
    number = NUMBER_WORDS.get(token.compared, 0)
    return number, i + bool(number)


def _unit_at(tokens: list[Token], i: int, unit: str) -> tuple[str, int]:
    """The unit that is known, or the word of one and the word behind it."""
    if not unit and _compared(tokens, i) in UNIT_WORDS:
        return _compared(tokens, i), i + 1
    return unit, i


def _share_at(tokens: list[Token], i: int) -> tuple[str | None, int]:
    """A part such as *a half* or *three quarters* as a number, and the word behind it."""
    many = 1
    if _compared(tokens, i + 1) in _SHARES:
        many = NUMBER_WORDS.get(_compared(tokens, i), 1)
        named = _compared(tokens, i) in (*NUMBER_WORDS, "a", "an")
        i += named
    if _compared(tokens, i) not in _SHARES:
        return None, i
    return f"{many}/{_SHARES[_compared(tokens, i)]}", i + 1


def _behind_small(tokens: list[Token], i: int) -> int:
    while _compared(tokens, i) in ("of", "a", "an"):
        i += 1
    return i


def _compared(tokens: list[Token], i: int) -> str:
    return tokens[i].compared if i < len(tokens) else ""


def _with_sizes_in_words(tokens: list[Token]) -> Iterator[Token]:
    """Number words that are sizes as numbers: ``of six``, ``six inches``."""
    skip = False
    for i, token in enumerate(tokens):
        number = NUMBER_WORDS.get(token.compared)
        unit = tokens[i + 1].compared if i + 1 < len(tokens) else ""
        if skip:
            skip = False
        elif number is not None and unit in UNIT_WORDS:
            at = (token.start, tokens[i + 1].end)
            yield Token(
                kind="number", plain=token.plain, number=str(number), unit=unit, at=at
            )
            skip = True
        elif number is not None and i and tokens[i - 1].compared == "of":
            yield replace(token, kind="number", number=str(number))
        else:
            yield token


def _found(text: str, field: str) -> Iterator[Token]:
    for match in _TOKEN.finditer(text):
        at = match.span()
        kind = match.lastgroup
        if kind == "comma":
            raise _comma(field, match[0], text)
        if kind in ("number", "unit"):
            unit = (match["unit"] or "").strip(" -‐‑–.").lower()
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
