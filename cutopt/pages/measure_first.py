"""What to measure before anything is cut: pieces of cloth in which a little less would spoil the plan."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from math import inf
from typing import Final

from cutopt.draw.views import title_of
from cutopt.lengths import INCH, MM, format_length, format_sale
from cutopt.plan import Source
from cutopt.result import Result, Room

_WHOLE: Final = "Used as they are, so they must have their full size"
_DANGERS: Final = {
    "odd": "Measure twice, an odd or ragged shape with nothing to spare ",
    "nothing": "Nothing to spare ",
    "little": "To spare only ",
    "whole": f"{_WHOLE}: ",
    "whole across": f"{_WHOLE} across: ",
    "whole along": f"{_WHOLE} along: ",
}


def measure_first(result: Result) -> list[str]:
    """Pieces in which a quarter inch (6 mm) less would spoil the plan: one line a danger, the worst first.

    A shape that is odd, ragged or was measured roughly comes before a straight one, nothing to spare before a
    little; pieces that are used as they are need no cut and come last.
    """
    found: dict[str, dict[str, list[str]]] = {danger: {} for danger in _DANGERS}
    cut = {step.part for step in result.plan.cuts}
    uncut = {source.id for source in result.plan.sources} - cut
    for danger, ways, room in _tight(result, uncut):
        found[danger].setdefault(ways, []).append(room.source)
    sources = {source.id: source for source in result.plan.sources}
    out = []
    for danger, groups in found.items():
        told = []
        for ways, names in groups.items():
            alike = [sources[name] for name in names]
            told.append(f"{ways}{_named(result, alike)}")
        if told:
            out.append(f"{_DANGERS[danger]}{'; '.join(told)}.")
    return out


def _tight(result: Result, uncut: set[str]) -> Iterator[tuple[str, str, Room]]:
    """Each piece with little room: its danger, and in which way it must not be smaller (``along: ``)."""
    unit = result.job.settings.unit
    tight, least = (INCH // 4, INCH // 16) if unit == "in" else (6 * MM, MM)
    shown = {source.id: source for source in result.plan.sources}
    for room in sorted(result.room, key=_least):
        little = _least(room)
        if room.source not in shown or little > tight:
            continue
        known = {"across": room.across, "along": room.along}
        spare = {way: size // least for way, size in known.items() if size is not None}
        near = [way for way, steps in spare.items() if steps == little // least]
        far = [
            way
            for way, steps in spare.items()
            if way not in near and steps * least <= tight
        ]
        told = {
            way: format_length(steps * least, unit, mark=True)
            for way, steps in spare.items()
        }
        if little >= least:
            ways = f"{told[near[0]]} "
        else:
            ways = ""
        ways += "either way" if len(near) == 2 else near[0]
        ways += f" ({told[far[0]]} {far[0]}): " if far else ": "
        if room.source in uncut:
            one_way = len(near) == 1 and not far
            yield f"whole {near[0]}" if one_way else "whole", "", room
        elif little >= least:
            yield "little", ways, room
        else:
            yield "odd" if _odd(result, shown[room.source]) else "nothing", ways, room


def _least(room: Room) -> float:
    """The less of both ways; what is not known is not little."""
    sizes = (size for size in (room.across, room.along) if size is not None)
    return min(sizes, default=inf)


def _odd(result: Result, source: Source) -> bool:
    """Whether a leftover is easily measured wrong."""
    piece = next(
        (piece for piece in result.job.pieces if piece.name == source.piece), None
    )
    return piece is not None and (
        piece.about or piece.edges != "true" or not piece.is_rectangle
    )


def _named(result: Result, sources: Sequence[Source]) -> str:
    """Names of pieces of cloth, copies together: ``pear L, 3 of mist square, 3/8 yd of oat``."""
    titles = {source.id: _title(result, source) for source in sources}
    count = Counter(source.piece or titles[source.id] for source in sources)
    named = {source.piece or titles[source.id]: titles[source.id] for source in sources}
    return ", ".join(
        f"{count[key]} of {key}" if count[key] > 1 else title
        for key, title in named.items()
    )


def _title(result: Result, source: Source) -> str:
    if not source.bought or source.by_piece:
        return title_of(result.job, source)
    return f"{format_sale(source.length, result.job.settings.unit)} of {source.bought}"
