"""In which order a backing is sewn: one seam at a time, each between two equal sides, with the size that it gives."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field

from cutopt.quilt.backs.cut_order import numbered
from cutopt.quilt.backs.sewn import BackPart, Piecing, parts_of
from cutopt.quilt.surds import Exact


@dataclass(frozen=True, slots=True, kw_only=True)
class Joining:
    """What is sewn so far, or a part: what it is called, and its size as it hangs, ticks."""

    name: str
    width: Exact
    height: Exact

    def side(self, down: bool) -> Exact:
        """The side along which the next is sewn to it: below it, or beside it."""
        if down:
            return self.width
        return self.height


@dataclass(frozen=True, slots=True, kw_only=True)
class Seam:
    """One seam: `one` lies on the left of `other`, or above it where it is sewn `down`; `gives` is both together."""

    one: Joining
    other: Joining
    down: bool
    gives: Joining


def seams_in_order(sewn: Piecing) -> tuple[Seam, ...]:
    """All seams of a backing, what is joined first before it is sewn to the next; none of one part alone."""
    order = _Order(names=_names(sewn))
    order.sew(sewn)
    return tuple(order.found)


@dataclass(slots=True, kw_only=True)
class _Order:
    """The seams so far; what is sewn is lettered, what is not yet sewn has a name from `names`."""

    names: Iterator[str]
    found: list[Seam] = field(default_factory=list)

    def sew(self, node: Piecing) -> Joining:
        """A part as it is, or the last of the seams that join it."""
        if isinstance(node, BackPart):
            return Joining(name=next(self.names), width=node.width, height=node.height)
        parts = [self.sew(part) for part in node.parts]
        whole = parts[0]
        for part in parts[1:]:
            whole = self._seam(whole, part, node.down, 2 * node.seam)
        return whole

    def _seam(self, one: Joining, other: Joining, down: bool, lost: int) -> Joining:
        # edges that differ by less than a mark are trimmed to the shorter
        side = min(one.side(down), other.side(down))
        long = one.side(not down) + other.side(not down) - lost
        if down:
            width, height = side, long
        else:
            width, height = long, side
        name = _letters(len(self.found))
        gives = Joining(name=name, width=width, height=height)
        self.found.append(Seam(one=one, other=other, down=down, gives=gives))
        return gives


def _letters(count: int) -> str:
    """A, B, ... Z, AA, AB, ..."""
    name = ""
    count += 1
    while count:
        count, last = divmod(count - 1, 26)
        name = chr(ord("A") + last) + name
    return name


def _names(sewn: Piecing) -> Iterator[str]:
    """What each part is called: its number in the cutting order, else where it is from; several alike are counted."""
    numbers = {id(part): f"part {n}" for n, part in numbered(sewn).items()}
    parts = list(parts_of(sewn))
    named = [numbers.get(id(part)) or part.own or part.what for part in parts]
    often = Counter(named)
    so_far: Counter[str] = Counter()
    for name in named:
        so_far[name] += 1
        if often[name] > 1:
            yield f"{name} ({so_far[name]} of {often[name]})"
        else:
            yield name
