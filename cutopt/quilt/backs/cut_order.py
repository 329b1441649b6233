"""In which order the parts of a backing come off the length that is bought: cuts from edge to edge, one at a time."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TypeAlias

from cutopt.quilt.backs.marks import mark_of
from cutopt.quilt.backs.sewn import BackPart, Piecing, Place, parts_of
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.surds import ZERO, Exact

Parts: TypeAlias = Mapping[int, Place]


@dataclass(frozen=True, slots=True, kw_only=True)
class Slice:
    """One cut: of the cloth for the parts `of` so much is cut off for the parts `off`.

    Parameters
    ----------
    of, off : numbers of parts
    axis : 1 cuts straight across, `size` from the end; 0 along the selvage, `size` from the lower edge as it is drawn
    size : ticks, on a mark of the ruler
    folded : whether the cloth is folded edge to edge and cut along the fold, so that no ruler is needed: `size` is
        what each half has at least
    """

    of: tuple[int, ...]
    off: tuple[int, ...]
    axis: int
    size: Exact
    folded: bool = False

    @property
    def rest(self) -> tuple[int, ...]:
        """The parts for which the other side of the cut is kept."""
        return tuple(number for number in self.of if number not in self.off)


def numbered(sewn: Piecing) -> dict[int, BackPart]:
    """The parts that are cut from the length, numbered from its end on, and across it."""
    cut = [part for part in parts_of(sewn) if part.place is not None]
    return dict(enumerate(sorted(cut, key=_start), 1))


def _start(part: BackPart) -> tuple[Exact, Exact]:
    assert part.place is not None
    return part.place[1], part.place[0]


def is_whole_width(part: BackPart, width: Exact, mark: int) -> bool:
    """Whether a part is as wide as the cloth, but for less than a mark, so that no cut gives its width.

    Parameters
    ----------
    part : with its place on the cloth
    width : of the cloth, ticks
    mark : distance of the marks of the ruler, ticks
    """
    return part.place is not None and width - part.place[2] < mark


def slices(sewn: Piecing, cloth: tuple[Exact, Exact], mark: int) -> tuple[Slice, ...]:
    """The cuts in order.

    Parameters
    ----------
    sewn : the backing, its parts with their places on the cloth, all of it on marks
    cloth : width and length of the cloth, ticks, selvages off and its ends squared up
    mark : distance of the marks of the ruler, ticks: less than that is not cut off
    """
    places = {
        number: part.place
        for number, part in numbered(sewn).items()
        if part.place is not None
    }
    order = _Order(width=cloth[0], mark=mark)
    order.cut(places, (ZERO, ZERO, *cloth))
    return tuple(order.found)


@dataclass(slots=True, kw_only=True)
class _Order:
    """The cuts so far; across before along, each as near to the end as it crosses no part."""

    width: Exact
    mark: int
    found: list[Slice] = field(default_factory=list)

    def cut(self, parts: Parts, box: Place) -> None:
        """Take what lies in a box apart."""
        for axis in (1, 0):
            at = _first_line(list(parts.values()), axis)
            stop = box[axis] + box[axis + 2]
            if at is None or stop - at < self.mark:
                continue
            low = {
                number: place
                for number, place in parts.items()
                if place[axis] + place[axis + 2] <= at
            }
            high = {n: place for n, place in parts.items() if n not in low}
            size = at - box[axis]
            folded = axis == 0 and self._are_halves(box, size, high)
            self.found.append(
                Slice(
                    of=tuple(parts), off=tuple(low), axis=axis, size=size, folded=folded
                )
            )
            self.cut(low, _between(box, axis, box[axis], at))
            if high:
                # the other half of a fold is as wide, and has nothing to be trimmed
                if folded:
                    end = at + size
                else:
                    end = stop
                self.cut(high, _between(box, axis, at, end))
            return

    def _are_halves(self, box: Place, size: Exact, high: Parts) -> bool:
        """Whether a cut along the whole width gives two halves, each used but for less than a mark."""
        whole = box[2] == self.width and self.width - 2 * size < 2 * self.mark
        ends = {place[0] + place[2] for place in high.values()}
        return whole and ends == {box[0] + 2 * size}


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedOrder:
    """The cutting order as it is printed: each size is the text that stands on the page, in the unit of the job.

    Parameters
    ----------
    cuts : each cut with the size that is printed for it
    parts : by number the width across the fabric and the length of a part, as printed
    """

    cuts: tuple[tuple[Slice, str], ...]
    parts: Mapping[int, tuple[str, str]]


def told(sewn: Piecing, cloth: tuple[Exact, Exact], how: Conventions) -> PrintedOrder:
    """The cutting order of a backing, as it is printed.

    Parameters
    ----------
    sewn : the backing, its parts with their places on the cloth
    cloth : width and length of the cloth, ticks, selvages off and its ends squared up
    how : the unit, and the marks of the ruler
    """
    cuts = slices(sewn, cloth, mark_of(how))
    places = ((n, part.place) for n, part in numbered(sewn).items())
    return PrintedOrder(
        cuts=tuple((each, how.show(each.size)) for each in cuts),
        parts={
            number: (how.show(place[2]), how.show(place[3]))
            for number, place in places
            if place is not None
        },
    )


def _first_line(places: Sequence[Place], axis: int) -> Exact | None:
    """The first end of a part at which a cut crosses none."""
    for at in sorted({place[axis] + place[axis + 2] for place in places}):
        if not any(_crossed(place, axis, at) for place in places):
            return at
    return None


def _crossed(place: Place, axis: int, at: Exact) -> bool:
    return place[axis] < at < place[axis] + place[axis + 2]


def _between(box: Place, axis: int, start: Exact, stop: Exact) -> Place:
    """The box from one line to another."""
    x, y, wide, long = box
    if axis == 0:
        return start, y, stop - start, long
    return x, start, wide, stop - start
