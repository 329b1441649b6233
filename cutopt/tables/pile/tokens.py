"""A line of the pile taken into its words: quoted names, sizes, lengths, missing corners, commas, and phrases."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final, Literal, TypeAlias

from cutopt.lengths import FRACTION_SIGNS
from cutopt.tables.pile import patterns
from cutopt.tables.pile.phrases import COUNTED, LONGEST, Meaning, meaning_of
from cutopt.tables.pile.said_lengths import in_figures, is_about

Kind: TypeAlias = Literal[
    "name",
    "size",
    "across",
    "side",
    "length",
    "times",
    "less",
    "comma",
    "phrase",
    "plain",
]
Match: TypeAlias = re.Match[str]
_DASHES: Final = ("-", "–", "—", "·", "=")
_SIGNS: Final = ",;:!()"
_MARKS: Final = _SIGNS + "."
# navy (the dark one)
_IN_BRACKETS: Final = re.compile(r"\([^\W\d][^()\d]*\)(?=\s|,|$)")
_PLAIN: Final = re.compile(r"[^\s,;]+")
# no. 9, St. Ives
_ABBREVIATED: Final = 2
_LETTERS: Final = re.compile(r"[^\W\d_]+")
_BARE: Final = re.compile(r"\d+")
# inch marks as text programs set them, and quotes
_INCHES: Final = re.compile(rf"(?<=[\d{FRACTION_SIGNS}])(\s?)[”“″]")


@dataclass(frozen=True, slots=True, kw_only=True)
class Token:
    """A word of a line: what it is, where it stands, and what was read from it, lengths in figures."""

    kind: Kind
    start: int
    end: int
    text: str
    parts: tuple[str, ...] = ()
    means: Meaning | None = None
    about: bool = False

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
        token = _beside(text, at, found) or _token_at(text, at, known)
        if token.text in _DASHES and _parts_only(text, token, found):
            # navy - 4 strips
            token = replace(token, kind="comma")
        found.append(token)
        at = token.end
    return list(_joined(text, found))


def _beside(text: str, at: int, before: Sequence[Token]) -> Token | None:
    """A word whose meaning hangs on those before it."""
    sized = any(one.kind == "size" for one in before)
    times = patterns.TIMES_APART.match(text, at)
    if times and before and not sized and before[-1].kind != "length":
        return _so_many(times)
    wide = patterns.AT_WIDTH.match(text, at)
    if wide and before and before[-1].kind == "length" and not before[-1].is_bare:
        return _token("side", wide, in_figures(wide[1]), "wide")
    return _aside(text, at, before)


def _aside(text: str, at: int, before: Sequence[Token]) -> Token | None:
    """Words in brackets behind a name that comes before the size: a part of the name."""
    match = _IN_BRACKETS.match(text, at)
    sized = any(one.kind in ("size", "across", "length") for one in before)
    if match is None or sized or not before or before[-1].kind != "plain":
        return None
    inside = match[0].strip("()")
    if meaning_of(before[-1].text) or meaning_of(inside):
        return None
    return _token("plain", match)


def _parts_only(text: str, dash: Token, before: Iterable[Token]) -> bool:
    """Whether a dash is no sign before a number: none is taken off a size."""
    sized = any(one.kind in ("size", "across") for one in before)
    return not sized or not re.match(r"\s*[\d.]", text[dash.end :])


def _token_at(text: str, at: int, known: Iterable[str]) -> Token:
    for name in known:
        if re.match(rf"{re.escape(name)}{patterns.ENDS}", text[at:], re.IGNORECASE):
            end = at + len(name)
            return Token(
                kind="name", start=at, end=end, text=text[at:end], parts=(name,)
            )
    letters = _LETTERS.match(text, at)
    if letters is None or letters[0].lower() in patterns.OPENING:
        of_corners = patterns.OF_CORNERS.search(text, at)
        for pattern, made in (*_OF_CORNERS, *_MADE) if of_corners else _MADE:
            found = pattern.match(text, at)
            token = made(found) if found else None
            if token:
                return token
    if text[at] in _MARKS:
        return Token(kind="comma", start=at, end=at + 1, text=text[at])
    match = _PLAIN.match(text, at)
    assert match is not None
    word = match[0]
    word = word.rstrip(_SIGNS)
    bare = word.rstrip(_MARKS)
    goes_on = at + len(word) < len(text) and meaning_of(bare) is not None
    if len(bare) > _ABBREVIATED and not goes_on:
        word = bare
    return Token(kind="plain", start=at, end=at + len(word), text=word)


def _token(kind: Kind, match: Match, *parts: str, about: bool = False) -> Token:
    return Token(
        kind=kind,
        start=match.start(),
        end=match.end(),
        text=match[0],
        parts=parts,
        about=about,
    )


def _size(match: Match) -> Token:
    sign, first, way, other_sign, second, other_way = match.groups()
    about = bool(sign or other_sign) or is_about(first) or is_about(second)
    sides = (in_figures(first), way or "", in_figures(second), other_way or "")
    return _token("size", match, *sides, about=about)


def _across(match: Match) -> Token:
    along, half = match[1], match[2]
    return _token("across", match, in_figures(along), half or "")


def _across_first(match: Match) -> Token:
    half, along = match[1], match[2]
    return _token("across", match, in_figures(along), half or "")


def _one_side(match: Match) -> Token:
    side, way = match.groups()
    return _token("side", match, in_figures(side), way, about=is_about(side))


def _usable_width(match: Match) -> Token:
    return _token("side", match, in_figures(match[1]), "wide")


def _named_side(match: Match) -> Token:
    way, side = match.groups()
    return _token("side", match, in_figures(side), way, about=is_about(side))


def _length(match: Match) -> Token:
    sign, length = match.groups()
    about = bool(sign) or is_about(length)
    return _token("length", match, in_figures(length), about=about)


def _less(match: Match) -> Token:
    said = match.groupdict()
    across = said["across"] or said.get("both", "")
    along = said["along"] or across
    corner = said.get("before") or said.get("behind") or ""
    plain = re.sub(r"[\s-]+", " ", corner.lower())
    plain = plain.replace("upper", "top").replace("lower", "bottom")
    about = "about" in match[0].lower()
    sides = (in_figures(across), in_figures(along))
    return _token("less", match, *sides, plain, about=about)


def _fat(match: Match) -> Token:
    named = "fat eighth"
    if match[1] in ("1/4", "¼"):
        named = "fat quarter"
    return replace(_token("phrase", match), means=meaning_of(named))


def _glued(match: Match) -> Token | None:
    """The number of ``2pcs``, whose word is read next."""
    means = meaning_of(match[2])
    if means is None or means.kind not in COUNTED:
        return None
    start, end = match.span(1)
    return Token(kind="length", start=start, end=end, text=match[1], parts=(match[1],))


def _nominal(match: Match) -> Token:
    return replace(_token("phrase", match), means=Meaning(kind="nominal", value=""))


def _whole_width(match: Match) -> Token:
    return replace(_token("phrase", match), means=Meaning(kind="whole width", value=""))


def _quoted(match: Match) -> Token:
    return _token("name", match, match[1])


def _so_many(match: Match) -> Token:
    return _token("times", match, match[1])


_MADE: Final[tuple[tuple[re.Pattern[str], Callable[[Match], Token | None]], ...]] = (
    (patterns.QUOTED, _quoted),
    (patterns.NOMINAL_WIDTH, _nominal),
    (patterns.GLUED, _glued),
    (patterns.NAMED_SIDE, _named_side),
    (patterns.USABLE_WIDTH, _usable_width),
    (patterns.SIZE, _size),
    (patterns.ACROSS, _across),
    (patterns.ACROSS_FIRST, _across_first),
    (patterns.WIDTH_OF_FABRIC, _whole_width),
    (patterns.FAT, _fat),
    (patterns.TIMES_IN_FRONT, _so_many),
    (patterns.IN_BRACKETS, _so_many),
    (patterns.TIMES_BEHIND, _so_many),
    (patterns.ONE_SIDE, _one_side),
    (patterns.LONE, _length),
)


_OF_CORNERS: Final = tuple((pattern, _less) for pattern in patterns.LESS)


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
