"""Whether a backing can be made as it is told: cut from its length edge to edge, sewn edge to edge, large enough.

Naive on purpose, and in whole fractions: nothing of how the backing was found is asked.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeAlias

from cutopt.quilt.backs.sewn import Part, Piecing, Place
from cutopt.quilt.surds import Exact

Size: TypeAlias = tuple[Exact, Exact]


def faults_of_back(
    sewn: Piecing, asked: Size, cloth: Size, seam: int, turned: bool = True
) -> list[str]:
    """What is wrong with a backing; nothing where it can be made.

    Parameters
    ----------
    asked : width and height to reach, as the quilt hangs
    cloth : usable width and length of the one length that is bought
    seam : what every seam takes on each side, joins of strips as well: nobody sews two widths by one number
    turned : bool
        Whether a part may hang with the selvage across (a print that has to stand up may not).
    """
    told: list[str] = []
    places: list[Place] = []
    wide, high = _sewn(sewn, told, places)
    if wide < asked[0] or high < asked[1]:
        told.append(f"it comes out at {float(wide):g} x {float(high):g}: too small")
    for x, y, across, along in places:
        if (
            x < 0
            or y < 0
            or x + across > cloth[0]
            or y + along > cloth[1]
            or across <= 0
            or along <= 0
        ):
            told.append(
                f"{float(across):g} x {float(along):g} at {float(x):g}, {float(y):g} is not on the cloth"
            )
    if not told and not _comes_apart(places):
        told.append("its parts cannot be cut from edge to edge")
    if any(width != seam for width in _seams(sewn)):
        told.append("not all of its seams are of the width that is told")
    if not turned and len({_hangs(part) for part in _parts(sewn)} - {None}) > 1:
        told.append("some of its parts hang along the selvage and some across")
    return told


def _sewn(node: Piecing, told: list[str], places: list[Place]) -> Size:
    """The size that a part or a seam gives, the parts written down on the way."""
    if isinstance(node, Part):
        if node.place is not None:
            if sorted((node.width, node.height)) != sorted(node.place[2:]):
                told.append(f"{node.what} is not of the size that is cut")
            places.append(node.place)
        return node.width, node.height
    wide, high = _sewn(node.parts[0], told, places)
    for part in node.parts[1:]:
        w, h = _sewn(part, told, places)
        if (w != wide) if node.down else (h != high):
            told.append("a seam joins edges of two lengths")
        if node.down:
            high = high + h - 2 * node.seam
        else:
            wide = wide + w - 2 * node.seam
        if min(w, h) <= 2 * node.seam:
            told.append("a part is lost in its seams")
    return wide, high


def _parts(node: Piecing) -> list[Part]:
    return (
        [node]
        if isinstance(node, Part)
        else [part for each in node.parts for part in _parts(each)]
    )


def _seams(node: Piecing) -> list[int]:
    return (
        []
        if isinstance(node, Part)
        else [node.seam, *(seam for each in node.parts for seam in _seams(each))]
    )


def _hangs(part: Part) -> bool | None:
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
