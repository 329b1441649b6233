"""A sentence as it is typed, in an order that its vocabulary reads: sizes said beside others, sentences in one."""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence
from typing import Final

from cutopt.lengths import FRACTION_SIGNS, NUMBER_WORDS
from cutopt.tables.sentences.cloths import is_whatever
from cutopt.tables.sentences.patterns import QUALIFIERS
from cutopt.tables.sentences.tokens import Token, tokens_of

_SQUARES: Final = ("square", "squares", "block", "blocks")
_CORNERS: Final = (
    *(("corner", "squares"), ("corner", "blocks"), ("corner", "stones")),
    *(("cornerstones",), ("posts",), ("corner", "posts")),
    *((one, where) for one in _SQUARES for where in ("in", "at", "where", "on")),
)
_LENGTHWISE: Final = re.compile(
    r"\b(?:cut\s+)?(?:from|on|along|down)\s+(?:the\s+)?length(?:\s+of\s+(?:the\s+|my\s+)?(?:fabric|cloth|bolt))?\b",
    re.IGNORECASE,
)
_CHECKED: Final = re.compile(r"\b(?:squares?|check\w*|chequer\w*)\b", re.IGNORECASE)
_ROWS_DEEP: Final = re.compile(
    rf",?\s*\b(\d|{'|'.join(NUMBER_WORDS)})[\s-]+"
    r"(?:(?:rows?|squares?|checks?|patches)\s+(?:deep|wide|high|thick)|rows?|deep)\b",
    re.IGNORECASE,
)
_PIECED_BACK: Final = re.compile(
    r"\s*(?:an?\s+)?(?:pieced|patched)\s+(?:back|backing)\s+(?=(?:from|out\s+of)\b)",
    re.IGNORECASE,
)
_PIECED_FROM: Final = re.compile(
    r"\s*(?:pieced?|patched?)\s+(?:together\s+)?(?:(?:the|a|my)\s+)?(?:back(?:ing)?\s+)?(?:from|out of|of)\s+([^,;.]+)[,;.]?",
    re.IGNORECASE,
)
# behind "cut" it says how, and of no size
_HOW_CUT: Final = (
    *("from", "out", "on", "across", "along", "at", "lengthwise", "crosswise", "in"),
    *("and", "with", "so", "strips", "size", ",", "them"),
)
NUMBER: Final = (
    rf"\d|[{FRACTION_SIGNS}]|\b(?:{'|'.join(NUMBER_WORDS)}|half|quarter|an? inch)\b"
)
"""What a border has that is one: without a width it is none."""
_WHICH: Final = r"(?:an?\s+|the\s+)?(?:\w+\s+)?(?:middle|second|third|fourth|outer|outside|last|final|next)\b"
_THEN: Final = re.compile(
    r",?\s+(?:and\s+)?(?:then|followed by|after that)\s+(?:by\s+)?|;\s*"
    rf"|(?:[,;.]\s*(?:and\s+)?|\s+and\s+)(?={_WHICH})",
    re.IGNORECASE,
)
_ALSO: Final = re.compile(r"[,;]\s*(?:and\s+)?(?:then\s+)?|\s+and\s+", re.IGNORECASE)
_HOW_MANY: Final = re.compile(
    r"\s*(two|three|four|five|\d)\s+borders?\s*(?:[:,–—-]|of)\s*", re.IGNORECASE
)

OUTER_TRIANGLES: Final = "outer triangles"
_BOTH_TRIANGLES: Final = (
    r"(?i)\b(?:(?:side|setting) and corner|corner and (?:side|setting)) triangles\b"
)


def cut_behind(text: str, part: str) -> str:
    """``sashing cut 2`` and ``cut the sashing 2`` as ``sashing 2 cut``: the word stands behind its number."""
    text = _cut_first(_LENGTHWISE.sub("lengthwise", text), part)
    tokens = tokens_of(text, part)
    for i in range(len(tokens) - 1, 0, -1):
        word, number = tokens[i - 1], tokens[i]
        behind = tokens[i + 1].plain if i + 1 < len(tokens) else ""
        if word.compared not in QUALIFIERS or number.kind != "number":
            continue
        before = tokens[i - 2].kind if i > 1 else ""
        if before == "number" or behind in (*QUALIFIERS, "x", "by", "+", ":"):
            continue
        typed = text[number.start : number.end]
        text = f"{text[: word.start]}{typed} {word.plain}{text[number.end :]}"
    return text


def _cut_first(text: str, part: str) -> str:
    """A *cut* before the thing that is cut, behind the size of it: ``cut the strips 2`` is ``the strips 2 cut``."""
    tokens = tokens_of(text, part)
    for i, token in enumerate(tokens[:-1]):
        before = tokens[i - 1] if i else None
        if token.compared != "cut" or tokens[i + 1].compared in _HOW_CUT:
            continue
        if tokens[i + 1].kind == "number" or (before and before.kind == "number"):
            continue
        for number in range(i + 1, len(tokens)):
            if tokens[number].ends_clause:
                break
            if tokens[number].kind == "number":
                end = tokens[number].end
                behind = tokens[number + 1].plain if number + 1 < len(tokens) else ""
                if behind not in QUALIFIERS:
                    rest = text[token.end : end].lstrip()
                    text = f"{text[: token.start]}{rest} cut{text[end:]}"
                return text
    return text


def without_corner_size(
    text: str, part: str, known: Collection[str] = ()
) -> tuple[str, str]:
    """A sentence without the size that is said of its corner squares, and that size; "" where none is.

    Parameters
    ----------
    text, part : str
    known : collection of str
        Names of fabrics in lower case: one may stand between the two, ``2" plum cornerstones``.
    """
    tokens = tokens_of(text, part)
    for i, token in enumerate(tokens):
        at = i + 1
        size = token.length
        if at < len(tokens) and tokens[at].plain in QUALIFIERS:
            size = f"{size} {tokens[at].plain}"
            at += 1
        behind = _behind_fabric(text, tokens, at, known)
        if token.kind == "number" and _names_corners(tokens, behind):
            end = tokens[at].start
            return text[: token.start] + text[end:], size
    return text, ""


def _behind_fabric(
    text: str, tokens: Sequence[Token], at: int, known: Collection[str]
) -> int:
    """The word behind the fabric that begins at `at`; `at` itself where none does."""
    for end in range(min(at + 3, len(tokens)), at, -1):
        if text[tokens[at].start : tokens[end - 1].end].lower() in known:
            return end
    return at


def _names_corners(tokens: Sequence[Token], at: int) -> bool:
    words = (
        tuple(token.compared for token in tokens[at : at + len(corners)])
        for corners in _CORNERS
    )
    return any(said == corners for said, corners in zip(words, _CORNERS, strict=True))


def one_by_one(text: str) -> list[str]:
    """Borders that are said in one sentence, each by itself: ``2 from oat, then 5 from plum``.

    ``three borders: 1 cream, 2 plum, 5 navy`` are parted at their commas.
    """
    number = _HOW_MANY.match(text)
    rest = text[number.end() :] if number else text
    parts = _parts(_THEN.split(rest))
    if number:
        many = _number(number[1])
        for others in (parts, _parts(_ALSO.split(rest))):
            if len(others) == many:
                return others
    elif len(parts) == 1:
        return _each_called_border(text)
    return parts


def each_row(text: str) -> list[str]:
    """A checkerboard of several rows, each row a border by itself: ``squares of 2, two rows deep``."""
    deep = _ROWS_DEEP.search(text)
    if deep is None or not _CHECKED.search(text):
        return [text]
    rest = f"{text[: deep.start()]}{text[deep.end() :]}"
    return [rest.strip(" ,")] * _number(deep[1])


def _parts(texts: Sequence[str]) -> list[str]:
    plain = (part.strip(" ,;.") for part in texts)
    return [part for part in plain if part]


def _number(word: str) -> int:
    return NUMBER_WORDS.get(word.lower(), 0) or int(word)


def _each_called_border(text: str) -> list[str]:
    """Parted before each *border* with a number of its own: ``1" border of red, 4" border of oat``."""
    parts: list[str] = []
    for clause in re.split(r"([,;]\s*(?:and\s+)?|\s+and\s+)", text):
        called = re.search(
            r"\b(?:border|flange|inner|outer|middle)\b", clause, re.IGNORECASE
        )
        if not parts or (called and re.search(NUMBER, clause, re.IGNORECASE)):
            parts.append(clause)
        else:
            parts[-1] += clause
    return _parts(parts)


def pieced_from_any(text: str, known: Collection[str]) -> str:
    """``piece the back from the biggest bits`` as ``pieced from any``, ``pieced back from oat`` as ``pieced from oat``.

    Parameters
    ----------
    text : str
    known : collection of str
        Names, tags and values of fabrics in lower case.
    """
    said = _PIECED_FROM.match(text)
    if said is None or not is_whatever(said[1].strip(), known):
        return _PIECED_BACK.sub("pieced ", text)
    clauses = (part.strip() for part in text[said.end() :].split(","))
    rest = [part for part in clauses if part and not is_whatever(part, known)]
    return ", ".join(["pieced from any", *rest])


def in_order(
    text: str, part: str, known: Collection[str] = (), kinds: Collection[str] = ()
) -> str:
    """A sentence of a setting in an order that is read.

    ``with cornerstones from oat and plum`` names the fabrics of the whole sashing where no others are named; a fabric
    stands before *plain blocks*; sashing that only stands upright stands between columns.

    Parameters
    ----------
    text, part : str
    known : collection of str
        Names, tags and values of fabrics in lower case.
    kinds : collection of str
        Names of kinds of blocks: which are set is said elsewhere.
    """
    text = _without_kinds(cut_behind(text, part), kinds)
    text = re.sub(_BOTH_TRIANGLES, OUTER_TRIANGLES, text)
    # in a set of columns the strips lie between these
    if re.search(r"\b(?:vertical|upright) rows\b", text, re.IGNORECASE):
        text = re.sub(r"\bbetween (the )?rows\b", "between columns", text, flags=re.I)
    text = fabric_first(text, known)
    text = _one_way(text)
    if len(re.findall(r"\bfrom\b", text, re.IGNORECASE)) > 1:
        return text
    return re.sub(r"(?i)\b(with (?:cornerstones|posts)) from\b", r"\1, from", text)


def _without_kinds(text: str, kinds: Collection[str]) -> str:
    """``the nine patches`` as ``the blocks``."""
    names = "|".join(
        re.escape(name).replace(r"\ ", r"[\s-]+").replace(r"\-", r"[\s-]+")
        for name in sorted(kinds, key=len, reverse=True)
    )
    if not names:
        return text
    return re.sub(rf"\b(?:{names})(?:\s+blocks?)?\b", "blocks", text, flags=re.I)


def fabric_first(text: str, known: Collection[str]) -> str:
    """``plain oat blocks`` as ``oat plain blocks``.

    Parameters
    ----------
    text : str
    known : collection of str
        Names, tags and values of fabrics in lower case.
    """
    names = "|".join(re.escape(name) for name in sorted(known, key=len, reverse=True))
    if not names:
        return text
    of = rf"\b(plain|alternate|alternating|setting)\s+({names})\s+(?=(?:blocks?|squares?|ones?)\b)"
    return re.sub(of, r"\2 \1 ", text, flags=re.IGNORECASE)


def _one_way(text: str) -> str:
    """``vertical sashing`` alone as ``sashing between columns``; beside a horizontal one it has its own fabric."""
    ways = {"vertical": "columns", "horizontal": "rows"}
    said = [word for word in ways if re.search(rf"\b{word}\b", text, re.IGNORECASE)]
    if len(said) != 1:
        return text
    strips = r"(sashing|sashes|lattice|sashing strips|strips)(?:\s+only)?"
    told = rf"\1 between {ways[said[0]]}"
    return re.sub(rf"\b{said[0]}\s+{strips}\b", told, text, flags=re.IGNORECASE)
