"""A line of the pile taken into its words: quoted names, sizes, lengths, missing corners, commas, and phrases."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final, Literal, TypeAlias

from cutopt.lengths import FRACTION_SIGNS, NUMBER_IN_TEXT, UNIT_IN_TEXT
from cutopt.tables.pile.missing_corners import CORNERS
from cutopt.tables.pile.phrases import LONGEST, Meaning, meaning_of

Kind: TypeAlias = Literal[
    "name", "size", "across", "length", "times", "less", "comma", "phrase", "plain"
]
LENGTH: Final = (
    NUMBER_IN_TEXT + rf"(?:\s*[-‐‑–]?\s*(?:{UNIT_IN_TEXT})\b\.?|\s*(?:\"|″|”|''))?"
)
TIMES: Final = r"\s*(?:[x×*✕]|by)\s*"
_WAY = r"(?:\s+(wide|across|long|along|tall|high))?"
_ENDS = r"(?=\s|,|$)"
QUOTED: Final = re.compile(r'"((?:[^"]|"")+)"(?=\s|,|$)')
_LESS = re.compile(
    rf"less\s+({LENGTH}){TIMES}({LENGTH})(?:\s+({'|'.join(CORNERS)}))?{_ENDS}",
    re.IGNORECASE,
)
_SIZE = re.compile(
    rf"({LENGTH}){_WAY}{TIMES}({LENGTH}){_WAY}{_ENDS}",
    re.IGNORECASE,
)
_WIDE = re.compile(rf"({LENGTH})\s+wide{_ENDS}", re.IGNORECASE)
_LENGTH = re.compile(rf"({LENGTH}){_ENDS}", re.IGNORECASE)
# 2 1/2 x WOF: a strip from selvage to selvage
_WOF = re.compile(
    rf"({LENGTH}){TIMES}(WOF|width of (?:the )?fabric|full width){_ENDS}", re.IGNORECASE
)
# behind the rest: navy 5 x 5 (4)
_IN_BRACKETS = re.compile(rf"\((\d+)\s*[x×]?\){_ENDS}", re.IGNORECASE)
_DASHES: Final = ("-", "–", "—", "·")
# 2x rose, 2 x rose: so many times
_TIMES = re.compile(r"(\d+)\s*[x×]\s+(?=[^\W\d]|\")", re.IGNORECASE)
_PLAIN = re.compile(r"[^\s,]+")
_BARE = re.compile(r"\d+")
# inch marks as text programs set them, and quotes
_INCHES = re.compile(rf"(?<=[\d{FRACTION_SIGNS}])(\s?)[”“″]")


@dataclass(frozen=True, slots=True, kw_only=True)
class Token:
    """A word of a line: what it is, where it stands, and what was read from it."""

    kind: Kind
    start: int
    end: int
    text: str
    parts: tuple[str, ...] = ()
    means: Meaning | None = None

    @property
    def is_bare(self) -> bool:
        """Whether it is a whole number without a unit."""
        return self.kind == "length" and _BARE.fullmatch(self.text) is not None

    def is_a(self, *kinds: str) -> bool:
        """Whether it is a phrase of one of these kinds."""
        return self.means is not None and self.means.kind in kinds


def plain_quotes(text: str) -> str:
    """A line with the quotes that a keyboard has: “old rose” 6 1/2” x 9” has names and inch marks of a text program."""
    text = _INCHES.sub(r"\1″", text)
    return re.sub("[“”„]", '"', text).replace("’", "'").replace("‘", "'")


def tokens_of(text: str, known: Sequence[str] = ()) -> list[Token]:
    """The words of a line, in order.

    Parameters
    ----------
    text : str
        Without comment and name.
    known : sequence of str
        Names of fabrics that have words of the grammar in them, the longest first; where one stands, it is meant.
    """
    found: list[Token] = []
    at = 0
    while at < len(text):
        if text[at].isspace():
            at += 1
            continue
        token = _token_at(text, at, known)
        sized = any(one.kind in ("size", "across") for one in found)
        if token.text in _DASHES and not sized:
            # navy - 4 strips
            token = replace(token, kind="comma")
        found.append(token)
        at = token.end
    return list(_joined(text, found))


def _token_at(text: str, at: int, known: Iterable[str]) -> Token:
    for name in known:
        if re.match(rf"{re.escape(name)}{_ENDS}", text[at:], re.IGNORECASE):
            end = at + len(name)
            return Token(
                kind="name", start=at, end=end, text=text[at:end], parts=(name,)
            )
    if text[at] == ",":
        return Token(kind="comma", start=at, end=at + 1, text=",")
    kinds: tuple[tuple[Kind, re.Pattern[str]], ...] = (
        ("name", QUOTED),
        ("less", _LESS),
        ("size", _SIZE),
        ("across", _WOF),
        ("times", _TIMES),
        ("times", _IN_BRACKETS),
        ("length", _WIDE),
        ("length", _LENGTH),
    )
    for kind, pattern in kinds:
        match = pattern.match(text, at)
        if match:
            if pattern is _WIDE:
                parts: tuple[str, ...] = (match[1], "wide")
            else:
                parts = tuple(part or "" for part in match.groups())
            return Token(
                kind=kind, start=at, end=match.end(), text=match[0], parts=parts
            )
    match = _PLAIN.match(text, at)
    assert match is not None
    return Token(kind="plain", start=at, end=match.end(), text=match[0])


def _joined(text: str, tokens: Sequence[Token]) -> Iterator[Token]:
    """The tokens with neighbouring words made one where they are a phrase of the table, the longest first."""
    at = 0
    while at < len(tokens):
        most = _words_from(tokens, at)
        for many in range(min(most, LONGEST), 0, -1):
            start, end = tokens[at].start, tokens[at + many - 1].end
            means = meaning_of(text[start:end])
            if means:
                yield Token(
                    kind="phrase",
                    start=start,
                    end=end,
                    text=text[start:end],
                    means=means,
                )
                at += many
                break
        else:
            yield tokens[at]
            at += 1


def _words_from(tokens: Sequence[Token], at: int) -> int:
    """How many words stand beside each other from a place on."""
    end = at
    while end < len(tokens) and tokens[end].kind == "plain":
        end += 1
    return end - at
