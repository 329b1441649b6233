"""In which order the parts of a backing come off the length that is bought: cuts from edge to edge, one at a time."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TypeAlias

from cutopt.quilt.backs.sewn import Part, Piecing, Place, parts_of
from cutopt.quilt.surds import ZERO, Exact

Parts: TypeAlias = Mapping[int, Place]


@dataclass(frozen=True, slots=True, kw_only=True)
class Slice:
    """One cut: of the cloth for the parts `of` so much is cut off for the parts `off`.

    `axis` 1 cuts straight across, `size` from the end; 0 along the selvage, `size` from the lower edge as it is drawn.
    """

    of: tuple[int, ...]
    off: tuple[int, ...]
    axis: int
    size: Exact


def numbered(sewn: Piecing) -> dict[int, Part]:
    """The parts that are cut from the length, numbered from its end on, and across it."""
    cut = [part for part in parts_of(sewn) if part.place is not None]
    return dict(enumerate(sorted(cut, key=_start), 1))


def _start(part: Part) -> tuple[Exact, Exact]:
    assert part.place is not None
    return part.place[1], part.place[0]


def slices(sewn: Piecing, cloth: tuple[Exact, Exact]) -> tuple[Slice, ...]:
    """The cuts in order, from a cloth so wide and so long, its end squared up."""
    places = {
        number: part.place
        for number, part in numbered(sewn).items()
        if part.place is not None
    }
    return tuple(_cuts(places, (ZERO, ZERO, *cloth)))


def _cuts(parts: Parts, box: Place) -> Iterator[Slice]:
    """Cuts across before cuts along; each as near to the end as it crosses no part."""
    for axis in (1, 0):
        at = _first_line(list(parts.values()), axis)
        if at is None or at == box[axis] + box[axis + 2]:
            continue
        low = {
            number: place
            for number, place in parts.items()
            if place[axis] + place[axis + 2] <= at
        }
        high = {number: place for number, place in parts.items() if number not in low}
        yield Slice(of=tuple(parts), off=tuple(low), axis=axis, size=at - box[axis])
        yield from _cuts(low, _shrunk(box, axis, box[axis], at))
        if high:
            yield from _cuts(high, _shrunk(box, axis, at, box[axis] + box[axis + 2]))
        return


def _first_line(places: Sequence[Place], axis: int) -> Exact | None:
    """The first end of a part at which a cut crosses none."""
    ends = sorted({place[axis] + place[axis + 2] for place in places})
    return next(
        (at for at in ends if not any(_crossed(place, axis, at) for place in places)),
        None,
    )


def _crossed(place: Place, axis: int, at: Exact) -> bool:
    return place[axis] < at < place[axis] + place[axis + 2]


def _shrunk(box: Place, axis: int, start: Exact, stop: Exact) -> Place:
    """The box from one line to another."""
    x, y, wide, long = box
    return (
        (start, y, stop - start, long) if axis == 0 else (x, start, wide, stop - start)
    )
