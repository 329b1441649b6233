"""What a line says beside its cloth: where it comes from, and a size that does not count; both are kept in its note."""

from __future__ import annotations

from collections.abc import Sequence

from cutopt.tables.pile.settling import is_told
from cutopt.tables.pile.tokens import Token


def without_asides(
    body: str, tokens: Sequence[Token]
) -> tuple[list[Token], list[str], bool]:
    """The words that tell of the cloth, what is for the note, and whether a size is said to be the usable one.

    Parameters
    ----------
    body : str
        The line.
    tokens : sequence of Token
        Its words.
    """
    kept, told = _without_sources(body, tokens)
    marked = [at for at, token in enumerate(kept) if token.is_a("usable")]
    if not marked:
        return kept, told, False
    sizes = [at for at, token in enumerate(kept) if token.kind == "size"]
    if len(sizes) == 2:
        first, last = sizes
        between = kept[first + 1 : last]
        # before it the fabric is named, between the two why the first does not count
        if is_told(kept[: first + 1]) and marked[0] > first:
            words = [token for token in between if not token.is_a("usable")]
            end = words[-1].end if words else kept[first].end
            told.append(body[kept[first].start : end].strip(" ,;("))
            told += [kept[at].text for at in marked if _says_why(kept[at])]
            kept = [*kept[:first], *kept[last:]]
    return [token for token in kept if not token.is_a("usable")], told, True


def _says_why(marker: Token) -> bool:
    """Whether the word for the usable size says of what it is free."""
    return marker.text.lower().endswith(("stain", "hole"))


def _without_sources(
    body: str, tokens: Sequence[Token]
) -> tuple[list[Token], list[str]]:
    """Without ``from the kitchen curtains``, up to the next comma."""
    kept: list[Token] = []
    told: list[str] = []
    at = 0
    while at < len(tokens):
        if not tokens[at].is_a("source"):
            kept.append(tokens[at])
            at += 1
            continue
        end = at
        while end < len(tokens) and tokens[end].kind != "comma":
            end += 1
        told.append(body[tokens[at].start : tokens[end - 1].end].strip())
        at = end
    return kept, told
