"""Borders and coping strips round a top, from its size through the middle (never along the edge)."""

from __future__ import annotations

from cutopt.errors import Problem
from cutopt.quilt.conventions import DEFAULT, Conventions, Length
from cutopt.quilt.exact import ROOT2, Exact, Number, exact
from cutopt.quilt.parts import ClothLike, Made, a_cut, a_strip
from cutopt.quilt.units import seams
from cutopt.wanted import Wanted

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

    `border_corner` says how the corners are made, `border_cut` whether the strips run along the selvage in one
    piece or are joined from strips across the fabric. Sides that fit across the fabric are cut in one piece in
    either case. `corners` is the cloth of corner squares; left out, that of the border.

    Returns
    -------
    Made
        With the finished size after the border.
    """
    b = how.read(width, "width")
    w, h = exact(inside[0]), exact(inside[1])
    if not b:
        raise Problem("width", "the border has no width", "write its finished width, such as 3")
    sides = _lengths(w, h, b, name, how)
    rows = list(_rows(b + 2 * how.seam, sides, of, how, name))
    if how.border_corner == "corner squares":
        square = b + 2 * how.seam
        why = f"finished {how.show(b)} + {seams(how)} = {how.show(square)}"
        rows.append(a_cut(f"{name} corner", (square, square), 4, why, how, of if corners is None else corners))
    return Made(wanted=tuple(rows), width=w + 2 * b, length=h + 2 * b)


def _lengths(w: Exact, h: Exact, b: Exact, name: str, how: Conventions) -> tuple[Side, Side]:
    """Two sides and two ends: their lengths as cut, unrounded.

    Butted, sides first: H_unf, then W_unf + 2 finished borders; corner squares: H_unf and W_unf; mitred: the
    finished side, both borders, the seams and 2s√2 for the slant, and what the maker adds.
    """
    two = 2 * how.seam
    raw_w, raw_h, more = w + two, h + two, f" + 2 x {how.show(b)}"
    side, end = f"{name} side", f"{name} end"
    through = "through the middle, seams included, "
    if how.border_corner == "mitred":
        extra = two + two * ROOT2 + how.mitre_extra
        told = f"{more} + {how.show(two + two * ROOT2)} for the mitre + {how.show(how.mitre_extra)}"
        return (
            (side, 2, h + 2 * b + extra, f"finished {how.show(h)}{told}"),
            (end, 2, w + 2 * b + extra, f"finished {how.show(w)}{told}"),
        )
    long_sides = how.border_corner == "ends first"
    long_ends = how.border_corner == "sides first"
    return (
        (side, 2, raw_h + (2 * b if long_sides else 0), f"{through}{how.show(raw_h)}{more if long_sides else ''}"),
        (end, 2, raw_w + (2 * b if long_ends else 0), f"{through}{how.show(raw_w)}{more if long_ends else ''}"),
    )


def _rows(cut: Exact, sides: tuple[Side, Side], of: ClothLike, how: Conventions, name: str) -> tuple[Wanted, ...]:
    """Cuts where a side fits in one piece, one long strip for what has to be joined."""
    wide = f"wide {how.show(cut - 2 * how.seam)} + {seams(how)} = {how.show(cut)}"
    rows: list[Wanted] = []
    joined: list[Side] = []
    for each in sides:
        label, count, length, told = each
        if how.border_cut == "lengthwise" or length <= how.usable_width:
            why = told if told.endswith(how.show(length)) else f"{told} = {how.show(length)}"
            why += f"; {wide}"
            note = "along the selvage, in one piece" if how.border_cut == "lengthwise" else ""
            rows.append(a_cut(label, (cut, length), count, why, how, _along(of, how), note))
        else:
            joined.append(each)
    if joined:
        total = sum((count * length for _, count, length, _ in joined), start=exact(0))
        told = " + ".join(f"{count} x {how.show(length)}" for _, count, length, _ in joined)
        parts = "; ".join(f"{label}: {text}" for label, _, _, text in joined)
        rows.append(
            a_strip(
                name, cut, total, f"{told} = {how.show(total)} ({parts}); {wide}", how, of, join=how.border_join,
                shortest=how.border_shortest, note="joined end to end, then cut to the lengths",
            )
        )  # fmt: skip
    return tuple(rows)


def _along(of: ClothLike, how: Conventions) -> ClothLike:
    """The same cloth, with the length along the selvage where borders are cut lengthwise."""
    from dataclasses import replace

    from cutopt.quilt.parts import cloth

    return replace(cloth(of), grain="along") if how.border_cut == "lengthwise" else of


def lengthwise_use(cut: Number, longest: Number, strips: int) -> tuple[Exact, Exact]:
    """Width and length of fabric for `strips` unpieced lengthwise borders side by side."""
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
    """
    w, h = exact(have[0]), exact(have[1])
    tw, th = how.read(target[0], "target"), how.read(target[1], "target")
    if tw < w or th < h:
        raise Problem("target", f"{how.size(tw, th)} is smaller than {how.size(w, h)}", "write a larger size")
    two = 2 * how.seam
    rows: list[Wanted] = []
    for label, have_, to, long in ((f"{name} side", w, tw, h), (f"{name} end", h, th, tw)):
        finished = (to - have_) / 2
        if finished > 0:
            why = (
                f"({how.show(to)} - {how.show(have_)}) / 2 = {how.show(finished)} finished, + {seams(how)} = "
                f"{how.show(finished + two)}; as long as {how.show(long)} + {seams(how)}"
            )
            rows.append(a_cut(label, (finished + two, long + two), 2, why, how, of))
    return Made(wanted=tuple(rows), width=tw, length=th)
