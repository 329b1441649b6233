"""Shapes that are cut round by hand, by their box: templates and curves, pieces to apply, pieces sewn on paper.

What goes round a shape is common practice, no source, where it is a default; the sums are arithmetic identities.
"""

from __future__ import annotations

from typing import Final, Literal, TypeAlias

from cutopt.fabric import counted
from cutopt.quilt.conventions import DEFAULT, Conventions, Length
from cutopt.quilt.surds import ROOT3, Exact
from cutopt.quilt.wanted_parts import ClothLike, Made, a_cut

Round: TypeAlias = Literal[
    "template", "turned under", "fused", "on foundation", "over papers"
]
# what is added on each side, in inches and in centimetres (from memory)
_ROUND: Final[dict[Round, tuple[str, str]]] = {
    "template": ("1/4", "0.75"),
    "turned under": ("1/4", "0.6"),
    "fused": ("1/4", "0.6"),
    "on foundation": ("1/2", "1.3"),
    "over papers": ("3/8", "1"),
}
_WHY: Final[dict[Round, str]] = {
    "template": "seam",
    "turned under": "to turn under",
    "fused": "round the fusible web, cut off once it is fused",
    "on foundation": "all round, trimmed once it is sewn",
    "over papers": "to fold over the paper",
}
_NOTE: Final[dict[Round, str]] = {
    "template": "lay the template on it; a pointed end wants more than the seam, so measure the box round the "
    "template with its seams",
    "turned under": "draw the shape on it, and cut it out with what is turned under",
    "fused": "fuse the drawn shape to its wrong side, then cut on the line; the iron is hot, and so is the web",
    "on foundation": "sewn to the paper with its wrong side on it; hold it to the light first",
    "over papers": "baste it over its paper",
}


def in_boxes(
    name: str,
    size: tuple[Length, Length],
    count: int,
    of: ClothLike = None,
    how: Conventions = DEFAULT,
    kind: Round = "template",
    extra: Length | None = None,
) -> Made:
    """`count` rectangles that hold a shape of a finished width and length and what goes round it on every side.

    Parameters
    ----------
    name : of the row
    size : finished width and length over all of the shape
    count : how many
    of : its cloth, any where nothing is said
    how : seam and unit, and what is usual in it
    kind : how it is sewn, which says what goes round it
    extra : on each side, where it is not the usual one; "0" for the box of a template with its seams
    """
    counted("count", count)
    w = how.read(size[0], "size")
    h = how.read(size[1], "size")
    by = _extra(kind, extra, how)
    cut = w + 2 * by, h + 2 * by
    if by:
        told = f"2 x {how.show(by)} {_WHY[kind]}"
        why = f"box {how.size(w, h)}, + {told} = {how.size(*cut)}"
    else:
        why = f"box {how.size(w, h)} as cut"
    return Made(
        wanted=(a_cut(name, cut, count, why, how, of, _NOTE[kind]),),
        width=w,
        length=h,
    )


def _extra(kind: Round, extra: Length | None, how: Conventions) -> Exact:
    """What goes round on each side: as said, the seam of a template, or what is usual."""
    if extra is None and kind == "template":
        return how.read(how.seam)
    return how.usual(extra, *_ROUND[kind], "extra")


def paper_hexagons(
    name: str,
    side: Length,
    count: int,
    of: ClothLike = None,
    how: Conventions = DEFAULT,
    extra: Length | None = None,
) -> Made:
    """Rectangles for hexagons that are basted over papers of a finished side a: (2a + 4e / √3) x (√3 a + 2e).

    A hexagon with e more all round is e higher above and below; its side grows by 2e / √3 (arithmetic identity), and
    from point to point it is two sides.

    Parameters
    ----------
    name : of the row
    side : of the paper
    count : how many
    of : its cloth, any where nothing is said
    how : unit, and what is usual in it
    extra : to fold over on each side, where it is not the usual one
    """
    counted("count", count)
    a = how.read(side, "side")
    by = _extra("over papers", extra, how)
    wide = 2 * a + 4 * by / ROOT3
    high = a * ROOT3 + 2 * by
    why = (
        f"paper of side {how.show(a)}, {how.show(by)} to fold over: 2 x {how.show(a)} + 2.3094 x {how.show(by)} = "
        f"{how.show(wide)}; {how.show(a)} x 1.7321 + 2 x {how.show(by)} = {how.show(high)}"
    )
    row = a_cut(name, (wide, high), count, why, how, of, _NOTE["over papers"])
    return Made(wanted=(row,), width=2 * a, length=a * ROOT3)


__all__ = ["Round", "in_boxes", "paper_hexagons"]
