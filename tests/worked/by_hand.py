"""How a quilter cuts without a planner: the strip method, and a careful hand that uses up strip ends.

Two baselines to measure plans against. Both take one usable width for every fabric, no wash, square-up or spares.

*Strip method.* Each size a x b (a <= b) is cut from strips across the fabric: the S rule takes strips of height a,
the B rule also tries height b and takes the shorter length (S where they are equal). Nothing is taken from the
end of another size's strip. What is longer than the fabric is wide is joined from strips: ceil((T - j)/(U - j)).

*Careful hand.* The same, but ends of at least 1 1/2 in are kept, and every smaller size is first looked for in
that pile, largest need first; all sizes of one fabric are planned together. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

from cutopt.lengths import INCH
from cutopt.quilt.conventions import DEFAULT, Conventions
from cutopt.quilt.surds import ceil_to, exact
from cutopt.quilt.wanted_parts import joined_count
from cutopt.wanted import Cut, Strip, Wanted

Rule: TypeAlias = Literal["S", "B"]
SMALLEST_END: Final = 3 * INCH // 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One line of a cutting list: strips of one height, what it holds, and the cloth in its parts."""

    fabric: str
    what: str
    strips: int
    height: int
    area: int

    @property
    def length(self) -> int:
        """Length of fabric that the strips take."""
        return self.strips * self.height


@dataclass(frozen=True, slots=True, kw_only=True)
class ByHand:
    """What a hand method needs of each fabric, in one usable width."""

    usable: int
    rows: tuple[Row, ...]
    step: int

    @property
    def fabrics(self) -> tuple[str, ...]:
        """The fabrics in the order of the wanted rows."""
        return tuple(dict.fromkeys(row.fabric for row in self.rows))

    def length(self, fabric: str | None = None) -> int:
        """Length of one fabric, or of all together."""
        return sum(
            row.length for row in self.rows if fabric is None or row.fabric == fabric
        )

    def bought(self, fabric: str | None = None) -> int:
        """The same, each fabric rounded up to the step of the shop, once."""
        wanted = self.fabrics if fabric is None else (fabric,)
        return sum(int(ceil_to(self.length(each), self.step).plain) for each in wanted)

    def area(self, fabric: str | None = None) -> int:
        """Cloth in the parts, in square ticks; joined strips count total x width."""
        return sum(
            row.area for row in self.rows if fabric is None or row.fabric == fabric
        )

    def cut_share(self, fabric: str | None = None) -> float:
        """Share of the length cut that is in parts."""
        return self.area(fabric) / (self.length(fabric) * self.usable)

    def bought_share(self, fabric: str | None = None) -> float:
        """Share of the cloth bought that is in parts."""
        return self.area(fabric) / (self.bought(fabric) * self.usable)

    @property
    def least_length(self) -> float:
        """Area of all parts / usable width, in ticks: no plan needs less."""
        return self.area() / self.usable


@dataclass(frozen=True, slots=True)
class _Size:
    """Patches alike: short and long side, how many."""

    short: int
    long: int
    count: int
    name: str


@dataclass(frozen=True, slots=True)
class _Long:
    """What has to be joined: width, total, loss of a join."""

    width: int
    total: int
    loss: int
    name: str


def strip_method(
    wanted: Iterable[Wanted],
    how: Conventions = DEFAULT,
    rule: Rule = "B",
    usable: int | None = None,
) -> ByHand:
    """The strip method for all wanted rows; a row's fabric is the first that it names."""
    u = how.usable_width if usable is None else usable
    rows: list[Row] = []
    for fabric, sizes, long in _by_fabric(wanted, u, how):
        rows += [_strips_for(fabric, size, size.count, u, rule)[0] for size in sizes]
        rows += [_joined(fabric, each, u) for each in long]
    return ByHand(usable=u, rows=tuple(rows), step=how.sold_by)


def careful_hand(
    wanted: Iterable[Wanted],
    how: Conventions = DEFAULT,
    rule: Rule = "B",
    usable: int | None = None,
) -> ByHand:
    """The same with a pile of strip ends, longest and largest first."""
    u = how.usable_width if usable is None else usable
    rows: list[Row] = []
    for fabric, sizes, long in _by_fabric(wanted, u, how):
        pile: list[tuple[int, int]] = []
        for each in sorted(long, key=lambda one: -one.total):
            row = _joined(fabric, each, u)
            rows.append(row)
            over = row.strips * u - (row.strips - 1) * each.loss - each.total
            _keep(pile, over, each.width)
        for size in sorted(sizes, key=lambda one: (-one.long, -one.short)):
            found = _from_pile(pile, size)
            area = size.count * size.short * size.long
            if found == size.count:
                rows.append(
                    Row(
                        fabric=fabric,
                        what=f"{size.name}: from ends",
                        strips=0,
                        height=0,
                        area=area,
                    )
                )
                continue
            row, per, across = _strips_for(fabric, size, size.count - found, u, rule)
            rows.append(
                Row(
                    fabric=fabric,
                    what=row.what,
                    strips=row.strips,
                    height=row.height,
                    area=area,
                )
            )
            for n in range(row.strips):
                held = min(per, size.count - found - n * per)
                _keep(pile, u - held * across, row.height)
    return ByHand(usable=u, rows=tuple(rows), step=how.sold_by)


def _keep(pile: list[tuple[int, int]], width: int, height: int) -> None:
    if min(width, height) >= SMALLEST_END:
        pile.append((width, height))


def _from_pile(pile: list[tuple[int, int]], size: _Size) -> int:
    """Take as many as the ends give, smallest ends first, whole rows of one direction from each."""
    got = 0
    for end in sorted(pile, key=lambda e: e[0] * e[1]):
        if got == size.count:
            break
        ways = [
            ((end[0] // a) * (end[1] // b), a, b)
            for a, b in {(size.short, size.long), (size.long, size.short)}
        ]
        most, a, b = max(ways)
        if not most:
            continue
        take = min(most, size.count - got)
        got += take
        pile.remove(end)
        columns = min(end[0] // a, take)
        rows = -(-take // columns)
        _keep(pile, end[0] - columns * a, end[1])
        _keep(pile, columns * a, end[1] - rows * b)
    return got


def _strips_for(
    fabric: str, size: _Size, count: int, u: int, rule: Rule
) -> tuple[Row, int, int]:
    """The row of a size, how many a strip holds, and how much of the width each takes."""
    ways: list[tuple[int, int, int, int, int, int]] = []
    for height, across in ((size.short, size.long), (size.long, size.short))[
        : 1 if rule == "S" else 2
    ]:
        per = u // across
        if per:
            strips = -(-count // per)
            ways.append((strips * height, len(ways), strips, height, per, across))
    if not ways:  # only the long side is too long for the width: strips across it are not possible
        raise AssertionError("what is longer than the width is joined")
    _, _, strips, height, per, across = min(ways)
    row = Row(
        fabric=fabric,
        what=f"{count} {size.name}: {per} a strip",
        strips=strips,
        height=height,
        area=count * size.short * size.long,
    )
    return row, per, across


def _joined(fabric: str, long: _Long, u: int) -> Row:
    strips = joined_count(long.total, u, long.loss)
    return Row(
        fabric=fabric,
        what=f"{long.name}: joined",
        strips=strips,
        height=long.width,
        area=long.total * long.width,
    )


def _by_fabric(
    wanted: Iterable[Wanted], u: int, how: Conventions
) -> Iterable[tuple[str, list[_Size], list[_Long]]]:
    """Wanted rows by fabric: patches that fit the width alike together, and what has to be joined."""
    rows = list(wanted)
    for fabric in dict.fromkeys(_fabric(row) for row in rows):
        mine = [row for row in rows if _fabric(row) == fabric]
        yield fabric, list(_sizes(mine, u)), list(_long(mine, u, how))


def _fabric(row: Wanted) -> str:
    return row.fabrics[0] if row.fabrics else row.name


def _sizes(rows: Sequence[Wanted], u: int) -> Iterable[_Size]:
    """What fits across the fabric in one piece."""
    counts: dict[tuple[int, int], list[Wanted]] = {}
    for row in rows:
        if max(_sides(row)) <= u:
            counts.setdefault(_sides(row), []).append(row)
    for (short, long), same in counts.items():
        yield _Size(short, long, sum(row.count for row in same), _named(same))


def _long(rows: Sequence[Wanted], u: int, how: Conventions) -> Iterable[_Long]:
    """What does not: strips of one width that are joined alike make one long strip, which is then cut to lengths."""
    straight = 2 * how.seam
    pieces = dict[tuple[int, int, bool], list[Wanted]]()
    for row in rows:
        if max(_sides(row)) > u:
            loss = (
                row.join_loss(how.seam)
                if isinstance(row, Strip) and row.join != "none"
                else straight
            )
            pieces.setdefault(
                (min(_sides(row)), loss, isinstance(row, Strip)), []
            ).append(row)
    for (width, loss, _), same in pieces.items():
        yield _Long(
            width, sum(max(_sides(row)) * row.count for row in same), loss, _named(same)
        )


def _sides(row: Wanted) -> tuple[int, int]:
    """The short side and the long one."""
    long = row.length if isinstance(row, Cut) else row.total_length
    return min(row.width, long), max(row.width, long)


def _named(rows: Sequence[Wanted]) -> str:
    return " and ".join(row.name for row in rows)


def backing_by_hand(
    width: int, length: int, usable: int, back_seam: int
) -> tuple[int, int]:
    """Length with seams up and with seams across, whole widths alone: the figures of a pocket table."""
    loss = 2 * back_seam
    up = joined_count(exact(width), usable, loss) * length
    return up, joined_count(exact(length), usable, loss) * width
