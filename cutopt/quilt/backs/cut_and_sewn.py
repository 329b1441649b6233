"""From a make-up to its parts: where each is cut on the cloth, and how they are sewn."""

from __future__ import annotations

from cutopt.quilt.backs.make_up import Fill, MakeUp
from cutopt.quilt.backs.sewn import BackPart, Piecing, row_of
from cutopt.quilt.surds import exact

SHARES = {1: "whole width", 2: "half width", 3: "third of a width", 4: "quarter width"}


def sewn_of(made: MakeUp) -> Piecing:
    """The parts of a make-up with their places, panels standing: transpose it where they lie across the quilt."""
    block = _panels(made)
    if made.fill is None:
        return block
    strip = _strip(made, made.fill)
    return row_of((block, strip), made.fill.side == "below", made.cloth.seam)


def panel_name(made: MakeUp) -> str:
    """What a panel is of the width."""
    panels = made.panels
    if (
        panels.width * panels.abreast + panels.abreast * made.cloth.mark
        > made.cloth.usable
    ):
        return SHARES[panels.abreast]
    return "panel"


def _panels(made: MakeUp) -> Piecing:
    panels = made.panels
    what = panel_name(made)
    columns = []
    for column in range(panels.columns):
        parts: list[Piecing] = []
        for row in range(panels.rows):
            slab, lane = divmod(column * panels.rows + row, panels.abreast)
            parts.append(
                _part(
                    what,
                    (
                        lane * panels.width,
                        slab * panels.length,
                        panels.width,
                        panels.length,
                    ),
                    standing=True,
                )
            )
        columns.append(row_of(tuple(parts), True, made.cloth.seam))
    return row_of(tuple(columns), False, made.cloth.seam)


def _part(what: str, place: tuple[int, int, int, int], standing: bool) -> BackPart:
    x, y, across, along = map(exact, place)
    wide, high = (across, along) if standing else (along, across)
    return BackPart(width=wide, height=high, what=what, place=(x, y, across, along))


def _strip(made: MakeUp, fill: Fill) -> Piecing:
    """The segments, each as long as its lane but for the last, which is cut to what is still wanting."""
    beside = fill.side == "beside"
    mark = made.cloth.mark
    wanting = fill.reach + 2 * made.cloth.seam * (fill.segments - 1)
    wanting = -(-wanting // mark) * mark
    lanes = _lanes(made, fill)
    room = sum(length for _, _, length, _ in lanes) - wanting
    parts: list[Piecing] = []
    for x, y, length, lying in lanes:
        least = min(fill.width, made.cloth.shortest)
        off = min(room, max(0, length - least))
        room -= off
        if lying:
            size = (length - off, fill.width)
        else:
            size = (fill.width, length - off)
        parts.append(_part(_named(fill), (x, y, *size), standing=lying != beside))
    return row_of(tuple(parts), beside, made.cloth.seam, strip=True)


def _named(fill: Fill) -> str:
    if fill.segments == 1:
        return "strip"
    return "piece of the strip"


def _lanes(made: MakeUp, fill: Fill) -> list[tuple[int, int, int, bool]]:
    """Corner and length of each lane, and whether it lies across the cloth; those that may be trimmed first."""
    panels = made.panels
    usable = made.cloth.usable
    foot = panels.slabs * panels.length
    end = foot + fill.across * fill.width
    standing = [(i * fill.width, end, fill.end, False) for i in range(fill.ends)]
    lying = [(0, foot + i * fill.width, usable, True) for i in range(fill.across)]
    edge = panels.abreast * panels.width
    along = [(edge + i * fill.width, 0, foot, False) for i in range(fill.edge)]
    beside = fill.ends * fill.width
    corner = [
        (beside, end + i * fill.width, usable - beside, True)
        for i in range(fill.corner)
    ]
    return [*standing, *corner, *lying, *along]
