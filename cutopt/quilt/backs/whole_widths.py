"""Backings of whole widths: as few side by side as reach, or one of them split so that no seam is in the middle."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from cutopt.quilt.backs.make_up_words import widths
from cutopt.quilt.backs.marks import there
from cutopt.quilt.backs.on_hand import scarce
from cutopt.quilt.backs.sewn import BackPart
from cutopt.quilt.backs.side import MOST_WIDTHS, Pieced, Side, bought
from cutopt.quilt.backs.way import Way
from cutopt.quilt.surds import ZERO, Exact, exact
from cutopt.quilt.wanted_parts import joined_count


def whole_widths(side: Side) -> Iterable[Way]:
    """One width, or as few as reach; of an even number also with one split, so that no seam is in the middle."""
    k = joined_count(side.across, side.usable, side.lost)
    if k > MOST_WIDTHS:
        return
    show = side.how.show
    reach = k * side.usable - side.lost * (k - 1)
    told = f"{k} x {show(side.usable)}"
    if k > 1:
        told += f" - {k - 1} x {show(side.lost)}"
    enough = f"{show(reach)} for {side.how.least(side.across)}"
    whole = Pieced(
        kind=widths(k),
        parts=panels(side, k),
        net=k * side.along,
        why=f"{told} = {enough}; {k} x {show(side.along)}",
        seams=k - 1,
        tight=scarce(reach - side.across, "across", side.how),
    )
    yield from bought(side, whole)
    if k % 2 == 0:
        yield from _one_split(side, k)


def _one_split(side: Side, k: int) -> Iterable[Way]:
    """So many widths with one in halves, outermost on both sides; nothing where that does not reach."""
    show = side.how.show
    left, right = halves(side, k - 1)
    reach = (k - 1) * side.usable + 2 * left.width - side.lost * k
    if reach < side.across:
        return
    told = f"2 x {show(left.width)} - {k} x {show(side.lost)} = {show(reach)}"
    sums = f"{k - 1} x {show(side.usable)} + {told} for {side.how.least(side.across)}"
    pieced = Pieced(
        kind=f"{k} widths, no seam in the middle",
        parts=(left, *panels(side, k - 1), right),
        net=k * side.along,
        why=f"{sums}; one width split in halves",
        seams=k,
        tight=scarce(reach - side.across, "across", side.how),
    )
    for way in bought(side, pieced):
        yield replace(way, off_middle=True)


def panels(side: Side, count: int, first: int = 0) -> tuple[BackPart, ...]:
    """Whole widths, cut one after the other from the length.

    Parameters
    ----------
    side : the fabric and its direction
    count : how many
    first : how many lie before them on the cloth
    """
    starts = (side.along * (first + i) for i in range(count))
    return tuple(
        BackPart(
            width=side.usable,
            height=side.along,
            what="whole width",
            place=(ZERO, start, side.usable, side.along),
        )
        for start in starts
    )


def half_width(side: Side) -> Exact:
    """What each half of a width has at least, ticks, down to a mark."""
    return exact(there(side.usable / 2, side.how))


def halves(side: Side, slab: int) -> tuple[BackPart, BackPart]:
    """The width that lies behind so many others, split in two."""
    half = half_width(side)
    y = side.along * slab
    places = ((ZERO, y, half, side.along), (half, y, half, side.along))
    one, other = (
        BackPart(width=half, height=side.along, what="half width", place=place)
        for place in places
    )
    return one, other
