"""Borders and coping strips round a top, from its size through the middle (never along the edge)."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from cutopt.errors import Problem
from cutopt.quilt.conventions import DEFAULT, Conventions, Length
from cutopt.quilt.surds import ROOT2, ZERO, Exact, Number, exact
from cutopt.quilt.units import seams
from cutopt.quilt.wanted_parts import ClothLike, Made, a_cut, a_long_part
from cutopt.wanted import Upright, Wanted


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """Two strips of a border: finished width, length as cut, the sum that gives it, how a print stands on them."""

    name: str
    width: Exact
    length: Exact
    told: str
    stands: Upright


def border(
    inside: tuple[Number, Number],
    width: Length | tuple[Length, Length],
    of: ClothLike = None,
    how: Conventions = DEFAULT,
    name: str = "border",
    corners: ClothLike = None,
) -> Made:
    """A border round a top of the finished size `inside` (width, length).

    `border_corner` says how the corners are made, `border_cut` whether a side may be joined where the cloth at hand
    is too short for it, has to be in one piece, or that along the selvage. `corners` is the cloth of corner squares;
    left out, that of the border. A border on two opposite sides alone has no corners.

    Parameters
    ----------
    inside : finished width and length of the top, ticks
    width : finished width of the border, or those at the sides and at top and bottom, one of which may be nothing
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
        Where the border has no width, or two widths and mitred corners.
    """
    b = _widths(width, how)
    w = exact(inside[0])
    h = exact(inside[1])
    sides = _lengths(w, h, b, name, how)
    rows = list(_rows(sides, of, how))
    if how.border_corner == "corner squares" and all(b):
        rows.append(_corner(b, name, of if corners is None else corners, how))
    return Made(wanted=tuple(rows), width=w + 2 * b[0], length=h + 2 * b[1])


def _widths(
    width: Length | tuple[Length, Length], how: Conventions
) -> tuple[Exact, Exact]:
    """Finished widths at the sides, and at top and bottom."""
    if isinstance(width, tuple):
        at_sides, at_ends = (how.read(each, "width") for each in width)
    else:
        at_sides = at_ends = how.read(width, "width")
    if not at_sides and not at_ends:
        mend = "write its finished width, such as 3"
        raise Problem("width", "the border has no width", mend)
    if how.border_corner == "mitred" and all((at_sides, at_ends, at_sides != at_ends)):
        told = f"{how.show(at_sides)} at the sides and {how.show(at_ends)} at top and bottom"
        what = f"corners of two widths ({told}) are not mitred at 45 degrees"
        raise Problem("width", what, "write sides first, or one width")
    return at_sides, at_ends


def _corner(
    b: tuple[Exact, Exact], name: str, of: ClothLike, how: Conventions
) -> Wanted:
    """The four corners, as wide as the sides and as high as the ends."""
    size = (b[0] + 2 * how.seam, b[1] + 2 * how.seam)
    if b[0] == b[1]:
        why = f"finished {how.show(b[0])} + {seams(how)} = {how.show(size[0])}"
    else:
        why = f"finished {how.size(*b)}, + {seams(how)} each way = {how.size(*size)}"
    return a_cut(f"{name} corner", size, 4, why, how, of)


def _lengths(
    w: Exact, h: Exact, b: tuple[Exact, Exact], name: str, how: Conventions
) -> Iterator[Side]:
    """Two sides and two ends where they have a width: their lengths as cut, unrounded.

    Butted, sides first: H_unf, then W_unf + 2 finished borders; corner squares: H_unf and W_unf; mitred: the
    finished side, both borders, the seams and 2s√2 for the slant, and what the maker adds. An end reaches over the
    sides, and a side over the ends, by their widths: a border on two opposite sides over nothing.
    """
    at_sides, at_ends = b
    corner = how.border_corner
    over_ends = at_ends if corner == "ends first" else ZERO
    over_sides = at_sides if corner == "sides first" else ZERO
    mitred = corner == "mitred" and at_sides == at_ends
    for label, width, inside, over, stands in (
        (f"{name} side", at_sides, h, over_ends, "along"),
        (f"{name} end", at_ends, w, over_sides, "across"),
    ):
        if not width:
            continue
        if mitred:
            length, told = _mitred(inside, width, how)
        else:
            length, told = _butted(inside + 2 * how.seam, over, how)
        yield Side(
            name=label,
            width=width,
            length=length,
            told=told,
            stands=stands,  # type: ignore[arg-type]
        )


def _mitred(inside: Exact, b: Exact, how: Conventions) -> tuple[Exact, str]:
    """A strip as long as the top and both borders, with the slant at either end."""
    two = 2 * how.seam
    slant = two + two * ROOT2
    length = inside + 2 * b + slant + how.mitre_extra
    told = f"finished {how.show(inside)} + 2 x {how.show(b)} + {how.show(slant)} for the mitre"
    return length, f"{told} + {how.show(how.mitre_extra)} = {how.show(length)}"


def _butted(raw: Exact, over: Exact, how: Conventions) -> tuple[Exact, str]:
    """A strip as long as the top, and twice a border that it reaches over."""
    told = f"through the middle, seams included, {how.show(raw)}"
    if not over:
        return raw, told
    length = raw + 2 * over
    return length, f"{told} + 2 x {how.show(over)} = {how.show(length)}"


def _rows(sides: Iterable[Side], of: ClothLike, how: Conventions) -> Iterator[Wanted]:
    """Two sides, along which an upright print stands, and two ends, across which it does."""
    for side in sides:
        cut = side.width + 2 * how.seam
        wide = f"wide {how.show(side.width)} + {seams(how)} = {how.show(cut)}"
        yield a_long_part(
            side.name,
            (cut, side.length),
            2,
            (side.told, wide),
            how,
            of,
            stands=side.stands,
        )


def flange(
    inside: tuple[Number, Number],
    shows: Length,
    of: ClothLike = None,
    how: Conventions = DEFAULT,
    name: str = "flange",
) -> Made:
    """A flat insert in the seam round a top: strips folded lengthwise, which show `shows` and add nothing to the size.

    Each is cut 2 (shows + seam) wide and as long as the raw edge; at the corners one lies upon the other. Arithmetic
    identity; one strip to a side is common practice, no source.

    Parameters
    ----------
    inside : finished width and length of what it is sewn to, ticks
    shows : how wide the fold is that is seen
    of : its cloth, any where nothing is said
    how : seam, and whether strips may be joined
    name : of the rows

    Raises
    ------
    Problem
        Where nothing of it would be seen.
    """
    f = how.read(shows, "flange")
    if not f:
        mend = "write how wide it shows, such as 1/4"
        raise Problem("flange", "nothing of the flange would be seen", mend)
    cut = 2 * (f + how.seam)
    wide = f"folded in half, shows {how.show(f)}: 2 x ({how.show(f)} + {how.show(how.seam)}) = {how.show(cut)}"
    rows = []
    for word, side in (("side", inside[1]), ("end", inside[0])):
        long = exact(side) + 2 * how.seam
        told = f"as long as the edge, seams included, {how.show(long)}"
        rows.append(
            a_long_part(f"{name} {word}", (cut, long), 2, (told, wide), how, of)
        )
    return Made(wanted=tuple(rows), width=exact(inside[0]), length=exact(inside[1]))


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
