"""Borders and coping strips round a top, from its size through the middle (never along the edge)."""

from __future__ import annotations

from collections.abc import Iterator

from cutopt.errors import Problem
from cutopt.quilt.conventions import DEFAULT, Conventions, Length
from cutopt.quilt.surds import ROOT2, ZERO, Exact, Number, exact
from cutopt.quilt.units import seams
from cutopt.quilt.wanted_parts import ClothLike, Made, a_cut, a_long_part
from cutopt.wanted import Upright, Wanted

Side = tuple[str, int, Exact, str]  # name, count, length as cut, the sum that gives it


def border(
    inside: tuple[Number, Number],
    width: Length,
    of: ClothLike = None,
    how: Conventions = DEFAULT,
    name: str = "border",
    corners: ClothLike = None,
) -> Made:
    """A border of one finished width round a top of the finished size `inside` (width, length).

    `border_corner` says how the corners are made, `border_cut` whether a side may be joined where the cloth at hand
    is too short for it, has to be in one piece, or that along the selvage. `corners` is the cloth of corner squares;
    left out, that of the border.

    Parameters
    ----------
    inside : finished width and length of the top, ticks
    width : finished width of the border
    of : its cloth, any where nothing is said
    how : corners, joins and seam
    name : of the rows
    corners : cloth of the corner squares

    Returns
    -------
    Made
        With the finished size after the border.

    Raises
    ------
    Problem
        Where the border has no width.
    """
    b = how.read(width, "width")
    w = exact(inside[0])
    h = exact(inside[1])
    if not b:
        raise Problem(
            "width", "the border has no width", "write its finished width, such as 3"
        )
    sides = _lengths(w, h, b, name, how)
    rows = list(_rows(b + 2 * how.seam, sides, of, how))
    if how.border_corner == "corner squares":
        square = b + 2 * how.seam
        why = f"finished {how.show(b)} + {seams(how)} = {how.show(square)}"
        rows.append(
            a_cut(
                f"{name} corner",
                (square, square),
                4,
                why,
                how,
                of if corners is None else corners,
            )
        )
    return Made(wanted=tuple(rows), width=w + 2 * b, length=h + 2 * b)


def _lengths(
    w: Exact, h: Exact, b: Exact, name: str, how: Conventions
) -> tuple[Side, Side]:
    """Two sides and two ends: their lengths as cut, unrounded.

    Butted, sides first: H_unf, then W_unf + 2 finished borders; corner squares: H_unf and W_unf; mitred: the
    finished side, both borders, the seams and 2s√2 for the slant, and what the maker adds.
    """
    two = 2 * how.seam
    raw_w = w + two
    raw_h = h + two
    more = f" + 2 x {how.show(b)}"
    side = f"{name} side"
    end = f"{name} end"
    if how.border_corner == "mitred":
        extra = two + two * ROOT2 + how.mitre_extra
        told = f"{more} + {how.show(two + two * ROOT2)} for the mitre + {how.show(how.mitre_extra)}"
        sides = h + 2 * b + extra
        ends = w + 2 * b + extra
        return (
            (side, 2, sides, f"finished {how.show(h)}{told} = {how.show(sides)}"),
            (end, 2, ends, f"finished {how.show(w)}{told} = {how.show(ends)}"),
        )
    long_sides = how.border_corner == "ends first"
    long_ends = how.border_corner == "sides first"
    return (
        _butted(side, raw_h, b if long_sides else ZERO, how),
        _butted(end, raw_w, b if long_ends else ZERO, how),
    )


def _butted(label: str, raw: Exact, border: Exact, how: Conventions) -> Side:
    """Two strips as long as the top, and twice a border that they reach over."""
    told = f"through the middle, seams included, {how.show(raw)}"
    if not border:
        return label, 2, raw, told
    length = raw + 2 * border
    return label, 2, length, f"{told} + 2 x {how.show(border)} = {how.show(length)}"


def _rows(
    cut: Exact, sides: tuple[Side, Side], of: ClothLike, how: Conventions
) -> Iterator[Wanted]:
    """Two sides, along which an upright print stands, and two ends, across which it does."""
    wide = f"wide {how.show(cut - 2 * how.seam)} + {seams(how)} = {how.show(cut)}"
    ways: tuple[Upright, Upright] = ("along", "across")
    for (label, count, length, told), stands in zip(sides, ways, strict=True):
        yield a_long_part(
            label, (cut, length), count, (told, wide), how, of, stands=stands
        )


def lengthwise_use(cut: Number, longest: Number, strips: int) -> tuple[Exact, Exact]:
    """Width and length of fabric for `strips` unpieced lengthwise borders side by side.

    Parameters
    ----------
    cut : width of a strip as cut, ticks
    longest : of the strips, ticks
    strips : how many lie side by side
    """
    return exact(cut) * strips, exact(longest)


def coping(
    have: tuple[Number, Number],
    target: tuple[Length, Length],
    of: ClothLike = None,
    how: Conventions = DEFAULT,
    name: str = "coping",
) -> Made:
    """Strips that bring a block or a top from one finished size to another: (target - have)/2 on each side.

    Sides first; where one direction is right already it gets no strip.

    Parameters
    ----------
    have : finished width and length, ticks
    target : those that are wanted
    of : its cloth, any where nothing is said
    how : seam and unit, and what is usual in it
    name : of the rows

    Raises
    ------
    Problem
        Where the wanted size is smaller.
    """
    w = exact(have[0])
    h = exact(have[1])
    tw = how.read(target[0], "target")
    th = how.read(target[1], "target")
    if tw < w or th < h:
        raise Problem(
            "target",
            f"{how.size(tw, th)} is smaller than {how.size(w, h)}",
            "write a larger size",
        )
    two = 2 * how.seam
    rows: list[Wanted] = []
    sides: tuple[tuple[str, Exact, Exact, Exact, Upright], ...] = (
        (f"{name} side", w, tw, h, "along"),
        (f"{name} end", h, th, tw, "across"),
    )
    for label, have_, to, long, stands in sides:
        finished = (to - have_) / 2
        if finished > 0:
            why = f"as long as {how.show(long)} + {seams(how)} = {how.show(long + two)}"
            wide = f"({how.show(to)} - {how.show(have_)}) / 2 = {how.show(finished)} finished, + {seams(how)} = "
            wide += how.show(finished + two)
            rows.append(
                a_long_part(
                    label,
                    (finished + two, long + two),
                    2,
                    (why, wide),
                    how,
                    of,
                    stands=stands,
                )
            )
    return Made(wanted=tuple(rows), width=tw, length=th)
