"""What the fabrics of small articles are for, and in which order they are named."""

from __future__ import annotations

from typing import Final

from cutopt.quilt.wanted_parts import ClothLike
from cutopt.tables.sentences.said import Said

FIELD: Final = "articles"
FRONTS: Final = (
    "fronts CLOTH|front CLOTH|tops CLOTH|top CLOTH|outside CLOTH|outsides CLOTH|body CLOTH|"
    "bodies CLOTH|outer CLOTH|main part CLOTH|face CLOTH|faces CLOTH"
)
BACKS: Final = (
    "backs CLOTH|back CLOTH|backed with CLOTH|backed in CLOTH|backing CLOTH|underneath CLOTH|"
    "reverse CLOTH|envelope backs CLOTH|envelope back CLOTH|undersides CLOTH|underside CLOTH"
)
BACKING: Final = "backing CLOTH|back CLOTH|backed with CLOTH|backed in CLOTH|underneath CLOTH|underside CLOTH"
BINDING: Final = "binding CLOTH|bound with CLOTH|bound in CLOTH|edge CLOTH|edges CLOTH"
BOTH: Final = {
    "both sides": ("fronts", "backs"),
    "front and back": ("fronts", "backs"),
    "fronts and backs": ("fronts", "backs"),
}


def cloths_of(said: Said, *others: str) -> tuple[ClothLike, ...]:
    """Cloth of the main part and of each other one: named apart, or the next that is said, the last again."""
    have = list(said.cloths)
    front = said.of("fronts")
    if front is not None:
        have.insert(0, front)
    last = have[-1] if have else None
    main = have.pop(0) if have else None
    found: list[ClothLike] = [main]
    for part in others:
        own = said.of(part)
        if own is None and have:
            own = have.pop(0)
        found.append(last if own is None else own)
    return tuple(found)
