"""Whether a backing can be made as it is told: cut from its length edge to edge, sewn edge to edge, large enough.

Naive on purpose, and in whole fractions: nothing of how the backing was found is asked. Sizes that are printed are
read from the page once more, by no rule of the program that wrote them.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Final, TypeAlias

from cutopt.quilt.backs.cut_order import PrintedOrder, Slice
from cutopt.quilt.backs.sewn import BackPart, Piecing, Place
from cutopt.quilt.surds import Exact, exact

Size: TypeAlias = tuple[Exact, Exact]
Held: TypeAlias = dict[frozenset[int], Size]
# ticks of 1/320 mm: an inch is 25.4 mm (international yard and pound agreement, 1959)
_TICKS: Final = {"in": 8128, "cm": 3200}


def faults_of_back(
    sewn: Piecing,
    asked: Size,
    cloth: Size,
    seam: int,
    turned: bool = True,
    mark: int = 1,
) -> list[str]:
    """What is wrong with a backing; nothing where it can be made.

    Parameters
    ----------
    sewn : the parts as they are sewn, each with its place on the cloth
    asked : width and height to reach, ticks, as the quilt hangs
    cloth : usable width and length of the one length that is bought, ticks
    seam : ticks that every seam takes on each side, joins of strips as well: nobody sews two widths by one number
    turned : whether a part may hang with the selvage across (a print that has to stand up may not)
    mark : ticks between the marks of the ruler: every side lies on one, and an edge that is longer by less than one
        is trimmed when it is sewn
    """
    told: list[str] = []
    places: list[Place] = []
    wide, high = _sewn(sewn, told, places, mark)
    if wide < asked[0] or high < asked[1]:
        told.append(f"it comes out at {float(wide):g} x {float(high):g}: too small")
    for place in places:
        if not _lies_on(place, cloth):
            x, y, across, along = map(float, place)
            told.append(f"{across:g} x {along:g} at {x:g}, {y:g} is not on the cloth")
    if not told and not _comes_apart(places):
        told.append("its parts cannot be cut from edge to edge")
    if any(width != seam for width in _seams(sewn)):
        told.append("not all of its seams are of the width that is told")
    if not turned and len({_hangs(part) for part in _parts(sewn)} - {None}) > 1:
        told.append("some of its parts hang along the selvage and some across")
    return told


def faults_of_order(told: PrintedOrder, cloth: Size, unit: str) -> list[str]:
    """What is wrong with a cutting order as it is printed; nothing where its cuts give its parts.

    Parameters
    ----------
    told : the order, its sizes as they stand on the page
    cloth : width and length of the cloth, ticks, selvages off and ends squared up
    unit : of the sizes, "in" or "cm"
    """
    faults: list[str] = []
    held: Held = {frozenset(told.parts): cloth} if told.parts else {}
    for cut, size in told.cuts:
        faults += _done(cut, _read(size, unit), held)
    for number, sides in told.parts.items():
        there = held.get(frozenset({number}))
        wide, long = (_read(side, unit) for side in sides)
        if there is None:
            faults.append(f"part {number} is not cut loose")
        elif there[0] < wide or there[1] < long:
            faults.append(f"part {number} comes out smaller than it is told")
    return faults


def _read(size: str, unit: str) -> Exact:
    """A size as it is printed, ticks: ``40 11/16``, ``103.2``."""
    return exact(sum(map(Fraction, size.split()), start=Fraction(0)) * _TICKS[unit])


def _done(cut: Slice, size: Exact, held: Held) -> list[str]:
    """One cut done on what is held, and what is wrong with it."""
    box = held.pop(frozenset(cut.of), None)
    if box is None:
        return [f"there is no cloth for {cut.of} to cut"]
    there = box[cut.axis]
    if cut.folded:
        off = there / 2
    else:
        off = size
    faults = [f"{float(off):g} cannot be cut off {float(there):g}"]
    if 0 < size <= off <= there:
        faults = []
    for parts, side in ((cut.off, off), (cut.rest, there - off)):
        if parts:
            if cut.axis == 0:
                sides = (side, box[1])
            else:
                sides = (box[0], side)
            held[frozenset(parts)] = sides
    return faults


def _lies_on(place: Place, cloth: Size) -> bool:
    x, y, across, along = place
    inside = x + across <= cloth[0] and y + along <= cloth[1]
    return inside and x >= 0 and y >= 0 and across > 0 and along > 0


def _sewn(node: Piecing, told: list[str], places: list[Place], mark: int) -> Size:
    """The size that a part or a seam gives, the parts written down on the way."""
    if isinstance(node, BackPart):
        if (node.width / mark).__floor__() * mark != node.width:
            told.append(f"the width of {node.what} is on no mark of the ruler")
        if (node.height / mark).__floor__() * mark != node.height:
            told.append(f"the length of {node.what} is on no mark of the ruler")
        if node.place is not None:
            if sorted((node.width, node.height)) != sorted(node.place[2:]):
                told.append(f"{node.what} is not of the size that is cut")
            places.append(node.place)
        return node.width, node.height
    wide, high = _sewn(node.parts[0], told, places, mark)
    for part in node.parts[1:]:
        w, h = _sewn(part, told, places, mark)
        if node.down:
            edges = (w, wide)
        else:
            edges = (h, high)
        if max(edges) - min(edges) >= mark:
            told.append("a seam joins edges of two lengths")
        if node.down:
            wide, high = min(edges), high + h - 2 * node.seam
        else:
            wide, high = wide + w - 2 * node.seam, min(edges)
        if min(w, h) <= 2 * node.seam:
            told.append("a part is lost in its seams")
    return wide, high


def _parts(node: Piecing) -> list[BackPart]:
    if isinstance(node, BackPart):
        return [node]
    return [part for each in node.parts for part in _parts(each)]


def _seams(node: Piecing) -> list[int]:
    if isinstance(node, BackPart):
        return []
    return [node.seam, *(seam for each in node.parts for seam in _seams(each))]


def _hangs(part: BackPart) -> bool | None:
    """Whether what runs across the cloth hangs upright; None for what is not cut from it, or is square."""
    if part.place is None or part.width == part.height:
        return None
    return part.width == part.place[2]


def _comes_apart(places: Sequence[Place]) -> bool:
    """Whether cuts from edge to edge separate all of them: some line that crosses none, and so on on both sides."""
    if len(places) < 2:
        return True
    for axis in (0, 1):
        for line in {place[axis] for place in places}:
            low = [place for place in places if place[axis] + place[axis + 2] <= line]
            high = [place for place in places if place[axis] >= line]
            if low and high and len(low) + len(high) == len(places):
                return _comes_apart(low) and _comes_apart(high)
    return False
