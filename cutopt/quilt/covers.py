"""Covers for cushions and pillows.

Sizes are common practice, no source, where they are defaults; the sums are arithmetic identities.
"""

from __future__ import annotations

from typing import Final

from cutopt.errors import Problem
from cutopt.fabric import counted
from cutopt.quilt.conventions import DEFAULT, Conventions, Length
from cutopt.quilt.surds import Exact, larger
from cutopt.quilt.units import seams
from cutopt.quilt.wanted_parts import ClothLike, Made, a_cut


def envelope_cushion(
    form: Length | tuple[Length, Length],
    count: int = 1,
    of: tuple[ClothLike, ClothLike] = (None, None),
    how: Conventions = DEFAULT,
    overlap: Length | None = None,
    hem: Length | None = None,
    snug: Length = "0",
    name: str = "cushion",
) -> Made:
    """A cushion cover that closes by overlapping backs; `of` is front and back.

    Front P + 2s square; two backs (P + 2s) x ((P + v)/2 + s + h); v 4 in or 10 cm, h 1 in or 2.5 cm unless given;
    `snug` makes it smaller than the form. The backs of an oblong one, P x Q, share its longer side.

    Parameters
    ----------
    form : side of the square form, or its width and height
    count : how many covers
    of : cloth of the front, and of both backs
    how : seam and unit, and what is usual in it
    overlap, hem : by how much the backs lie over each other, and what each turns in for its hem
    snug : by how much the cover is smaller than the form
    name : of the rows

    Raises
    ------
    Problem
        Where nothing would be left of the cover.
    """
    counted("count", count)
    if isinstance(form, tuple):
        sides = form
    else:
        sides = form, form
    less = how.read(snug, "snug")
    w, h = (how.read(side, "form") - less for side in sides)
    if w <= 0 or h <= 0:
        raise Problem("form", "nothing is left of the cover", "write a larger form")
    front = w + 2 * how.seam, h + 2 * how.seam
    if w == h:
        why = f"{how.show(w)} + {seams(how)} = {how.show(front[0])}"
    else:
        why = f"{how.size(w, h)}, + {seams(how)} each way = {how.size(*front)}"
    back, told = _half_back((w, h), front, overlap, hem, how)
    rows = (
        a_cut(f"{name} front", front, count, why, how, of[0]),
        a_cut(f"{name} back", back, 2 * count, f"{why} by {told}", how, of[1]),
    )
    return Made(wanted=rows, width=w, length=h)


def _half_back(
    form: tuple[Exact, Exact],
    front: tuple[Exact, Exact],
    overlap: Length | None,
    hem: Length | None,
    how: Conventions,
) -> tuple[tuple[Exact, Exact], str]:
    """Each of the two backs as cut: as the front, but its longer side is halved, with half the overlap and a hem.

    Parameters
    ----------
    form : finished width and height
    front : as cut
    overlap, hem : as said, None for the usual ones
    how : seam and unit, and what is usual in it
    """
    v = how.usual(overlap, "4", "10", "overlap")
    turned = how.usual(hem, "1", "2.5", "hem")
    longer = larger(*form)
    half = (longer + v) / 2 + how.seam + turned
    told = f"({how.show(longer)} + {how.show(v)}) / 2 + {how.show(how.seam)} + {how.show(turned)} = {how.show(half)}"
    if form[0] > form[1]:
        return (half, front[1]), told
    return (front[0], half), told


PILLOWS: Final = {"standard": (20, 26), "queen": (20, 30), "king": (20, 36)}
"""Bed pillows, inches (common practice, no source; from memory). A pillowcase is 4 in longer."""


def pillowcase_for(pillow: str, how: Conventions = DEFAULT) -> tuple[Exact, Exact]:
    """Finished width and length of a pillowcase for a usual pillow: 4 in longer than it (common practice, no source).

    Raises
    ------
    Problem
        Where no pillow is known by that name.
    """
    if pillow not in PILLOWS:
        known = ", ".join(PILLOWS)
        raise Problem(
            "pillow", f'"{pillow}" is no usual pillow', f"write {known}, or a size"
        )
    w, h = PILLOWS[pillow]
    return how.read(f"{w} in"), how.read(f"{h + 4} in")


def pillowcase_size(
    body: Length,
    cuff: Length,
    cloth: Length,
    how: Conventions = DEFAULT,
    seam: Length | None = None,
) -> tuple[Exact, Exact]:
    """Finished width and length from cut sizes: a cuff folded in two, one side seam.

    Length = body - end seam - cuff seam + cuff/2 - cuff seam; width = (cloth - 2 seams)/2; seams 1/2 in or 1.5 cm.

    Parameters
    ----------
    body, cuff : lengths as cut
    cloth : width of both as cut
    how : seam and unit, and what is usual in it
    seam : of a pillowcase, on each side
    """
    s = how.usual(seam, "1/2", "1.5", "seam")
    length = how.read(body, "body") - 2 * s + how.read(cuff, "cuff") / 2 - s
    return (how.read(cloth, "cloth") - 2 * s) / 2, length


def pillowcase(
    width: Length,
    length: Length,
    count: int = 1,
    of: tuple[ClothLike, ClothLike] = (None, None),
    how: Conventions = DEFAULT,
    cuff: Length | None = None,
    seam: Length | None = None,
    name: str = "pillowcase",
) -> Made:
    """A pillowcase of a finished size with a folded cuff of finished depth `cuff`; `of` is body and cuff.

    Cuff 5 in or 12 cm, seams 1/2 in or 1.5 cm unless given.

    Parameters
    ----------
    width, length : finished
    count : how many
    of : cloth of the body, and of the cuff
    how : seam and unit, and what is usual in it
    cuff : its finished depth
    seam : of a pillowcase, on each side
    name : of the rows

    Raises
    ------
    Problem
        Where the cuff is as long as the pillowcase.
    """
    counted("count", count)
    w = how.read(width, "width")
    n = how.read(length, "length")
    c = how.usual(cuff, "5", "12", "cuff")
    s = how.usual(seam, "1/2", "1.5", "seam")
    around = 2 * w + 2 * s
    body = n - c + 2 * s
    cuff_cut = 2 * (c + s)
    if body <= 2 * s:
        raise Problem(
            "cuff", "the cuff is as long as the pillowcase", "make it narrower"
        )
    why = f"round: 2 x {how.show(w)} + 2 x {how.show(s)} = {how.show(around)}"
    told = f"{how.show(n)} - {how.show(c)} + 2 x {how.show(s)} = {how.show(body)}"
    told_cuff = f"2 x ({how.show(c)} + {how.show(s)}) = {how.show(cuff_cut)}"
    rows = (
        a_cut(f"{name} body", (around, body), count, f"{why}; {told}", how, of[0]),
        a_cut(
            f"{name} cuff", (around, cuff_cut), count, f"{why}; {told_cuff}", how, of[1]
        ),
    )
    return Made(wanted=rows, width=w, length=n)
