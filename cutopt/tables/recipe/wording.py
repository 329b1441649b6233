"""A sentence as it is typed, in an order that its vocabulary reads: sizes said beside others, sentences in one."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

from cutopt.tables.sentences.patterns import QUALIFIERS
from cutopt.tables.sentences.tokens import Token, tokens_of

_CORNERS: Final = (
    *(("corner", "squares"), ("corner", "blocks"), ("corner", "stones")),
    *(("cornerstones",), ("posts",)),
)
_THEN: Final = re.compile(
    r",?\s+(?:and\s+)?then\s+|;\s*"
    r"|(?:[,;]\s*(?:and\s+)?|\s+and\s+)(?=(?:middle|second|third|outer|last)\b)",
    re.IGNORECASE,
)

OUTER_TRIANGLES: Final = "outer triangles"
_BOTH_TRIANGLES: Final = (
    r"(?i)\b(?:(?:side|setting) and corner|corner and (?:side|setting)) triangles\b"
)
_ALTERNATE: Final = re.compile(
    r"[^,;]*\b(?:alternat\w+|every (?:other|second)|plain blocks?)\b[^,;]*",
    re.IGNORECASE,
)


def cut_behind(text: str, part: str) -> str:
    """``sashing cut 2`` as ``sashing 2 cut``: the word stands behind the number that it is said of."""
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


def without_corner_size(text: str, part: str) -> tuple[str, str]:
    """A sentence without the size that is said of its corner squares, and that size; "" where none is."""
    tokens = tokens_of(text, part)
    for i, token in enumerate(tokens):
        at = i + 1
        if at < len(tokens) and tokens[at].plain in QUALIFIERS:
            at += 1
        if token.kind == "number" and _names_corners(tokens, at):
            end = tokens[at].start
            return text[: token.start] + text[end:], text[token.start : end].strip()
    return text, ""


def _names_corners(tokens: Sequence[Token], at: int) -> bool:
    words = (
        tuple(token.compared for token in tokens[at : at + len(corners)])
        for corners in _CORNERS
    )
    return any(said == corners for said, corners in zip(words, _CORNERS, strict=True))


def one_by_one(text: str) -> list[str]:
    """Borders that are said in one sentence, each by itself: ``2 from oat, then 5 from plum``."""
    parts = [part.strip(" ,;") for part in _THEN.split(text)]
    return [part for part in parts if part]


def without_plain_blocks(text: str) -> tuple[str, str]:
    """What a setting says of plain blocks between the others, "" for nothing, and the sentence without it."""
    plain = _ALTERNATE.search(text)
    if plain is None or re.search("turn|sash", plain[0], re.IGNORECASE):
        return "", text
    rest = _ALTERNATE.sub("", text).strip(" ,;")
    return plain[0].strip(), re.sub(r"\s*([,;])(?:\s*[,;])*", r"\1", rest)


def in_order(text: str, part: str) -> str:
    """``with cornerstones from oat and plum`` names the fabrics of the whole sashing where no others are named."""
    text = cut_behind(text, part)
    text = re.sub(_BOTH_TRIANGLES, OUTER_TRIANGLES, text)
    if len(re.findall(r"\bfrom\b", text, re.IGNORECASE)) > 1:
        return text
    return re.sub(r"(?i)\b(with (?:cornerstones|posts)) from\b", r"\1, from", text)
