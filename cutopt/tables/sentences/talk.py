"""Words that only talk: ``I'd like a good 4" border of navy, please`` asks for a 4" border from navy."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import replace
from typing import Final

from cutopt.tables.sentences.patterns import QUALIFIERS
from cutopt.tables.sentences.tokens import Token

# without them a sentence means the same, wherever they stand
TALK: Final = frozenset(
    (
        *("i", "i'd", "i'll", "i've", "i'm", "we", "we'd", "we'll", "we've", "let's"),
        *("like", "want", "wanted", "need", "needed", "please", "thanks", "thank"),
        *("you", "me", "just", "simply", "really", "good", "lovely"),
        *("ordinary", "usual", "normal", "regular", "simple", "plainly", "about"),
        *("roughly", "it", "it's", "them", "this", "these", "that", "there", "go"),
        *("goes", "should", "would", "will", "be", "being", "put", "add", "make"),
        *("give", "have", "has", "do", "done", "so", "then", "also"),
        *("narrow", "skinny", "thin", "small", "little", "big", "bold", "pretty"),
        *("fabric", "cloth", "cotton", "material", "full", "quite", "some", "exactly"),
        *("sewn", "sew", "stitched", "attached", "added", "which", "are", "is"),
    )
)
_ARTICLES: Final = ("the", "my", "our", "its")
# words before what something is cut from, the longest first
_FROM: Final = (
    *(("cut", "out", "of"), ("made", "out", "of"), ("cut", "from"), ("made", "from")),
    *(("made", "of"), ("made", "in"), ("out", "of"), ("use", "up"), ("using", "up")),
    *(("using",), ("use",), ("taken", "from")),
)
# behind one of these "cut" is said of a size
_SIZED: Final = (*QUALIFIERS, "wide", "long", "deep")


def without_talk(
    tokens: Sequence[Token], kept: Collection[str], known: Collection[str]
) -> list[Token]:
    """The words that say something; what something is cut from stands behind *from*.

    Parameters
    ----------
    tokens : sequence of Token
    kept : collection of str
        Words that say something here.
    known : collection of str
        Names, tags and values of fabrics in lower case.
    """
    out: list[Token] = []
    i = 0
    while i < len(tokens):
        length = _links(tokens, i)
        behind = tokens[i + length].compared if i + length < len(tokens) else ""
        if length and behind in kept and behind not in known:
            # made of squares: no fabric follows
            i += length
            continue
        if length:
            at = (tokens[i].start, tokens[i + length - 1].end)
            out.append(Token(kind="word", plain="from", at=at))
            i += length
            continue
        if not _only_talks(tokens, i, kept, known):
            out.append(tokens[i])
        i += 1
    return _without_brackets(out)


def _only_talks(
    tokens: Sequence[Token], i: int, kept: Collection[str], known: Collection[str]
) -> bool:
    """Whether a word says nothing: an article too, unless a share of the whole has it (``the rest``)."""
    word = tokens[i].compared
    if word == "from" and i + 1 < len(tokens) and _is_length(tokens[i + 1]):
        # from 2 1/4" strips: how wide, and of no fabric
        return True
    if word in _ARTICLES:
        behind = tokens[i + 1].compared if i + 1 < len(tokens) else ""
        return behind not in ("rest", "others")
    return word in TALK and word not in kept and word not in known


def _is_length(token: Token) -> bool:
    return token.kind == "number" and (bool(token.unit) or not token.number.isdigit())


def _links(tokens: Sequence[Token], i: int) -> int:
    """How many words from `i` on lead to a cloth; 0 for none."""
    before = tokens[i - 1] if i else None
    sized = before is not None and (
        before.kind == "number" or before.compared in _SIZED
    )
    for words in _FROM:
        span = tuple(token.compared for token in tokens[i : i + len(words)])
        if span == words and not (sized and words[0] == "cut"):
            return len(words)
    return 0


def _without_brackets(tokens: list[Token]) -> list[Token]:
    """``oat sashing (1 1/2" finished)`` without the brackets round a size."""
    out = list(tokens)
    opens = None
    for i, token in enumerate(tokens):
        if token.compared == "(":
            opens = i
        if token.compared == ")" and opens is not None:
            inside = tokens[opens + 1 : i]
            sized = inside and inside[0].kind == "number"
            if sized and all(_of_size(each) for each in inside):
                out[opens] = replace(tokens[opens], plain="")
                out[i] = replace(token, plain="")
            opens = None
    return [token for token in out if token.plain or token.kind != "sign"]


def _of_size(token: Token) -> bool:
    return token.kind == "number" or token.compared in (*_SIZED, "x", "by")
