"""How much smaller each piece of cloth may turn out to be, and the plan still hold."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import product
from typing import TypeAlias

from cutopt.cloth import Cloth, cloth_of, replay
from cutopt.geometry import Polygon, bounds, is_rectangle
from cutopt.job import Job
from cutopt.plan import CutStep, Plan, Source
from cutopt.result import Room
from cutopt.solve.raster import covers, summed, usable_cells

_TRIES = (16, 8, 4, 2, 1)  # in 32nds of an inch: 1/2, 1/4, 1/8, 1/16, 1/32
_UNIT = 254
Parts: TypeAlias = Mapping[str, Polygon]


def room_of(job: Job, plan: Plan, asked: Callable[[], bool] = lambda: False) -> tuple[Room, ...]:
    """Room of every source of a plan; of rectangles without a flaw only once somebody has `asked` to stop.

    For a rectangle: its width (length) less its edge losses, less what the cuts need across (along). For other
    outlines, and where a flaw keeps its place: how far all edges may move in, tried in steps from 1/32 in to 1/2 in, so
    the true room is at least that.
    """
    parts = replay(job, plan)
    cuts = {cut.part: cut for cut in plan.cuts}
    used = {use.part for use in plan.uses}
    cloths = [(source, cloth_of(job, source)) for source in plan.sources]
    return tuple(_room(source, cloth, parts, cuts, used) for source, cloth in cloths if _plain(cloth) or not asked())


def _plain(cloth: Cloth) -> bool:
    """Whether parts may be moved about on it: a rectangle that is usable all over."""
    return is_rectangle(cloth.outline) and not cloth.flaws


def _room(source: Source, cloth: Cloth, parts: Parts, cuts: dict[str, CutStep], used: set[str]) -> Room:
    if _plain(cloth):
        x1, y1, x2, y2 = bounds(cloth.outline)
        across, along = _need(source.id, parts, cuts, used)
        losses = cloth.margins
        return Room(
            source=source.id, across=int(x2 - x1) - losses[1] - losses[3] - across,
            along=int(y2 - y1) - losses[0] - losses[2] - along,
        )  # fmt: skip
    rects = [bounds(parts[name]) for name in _below(source.id, cuts) if name in used]
    step = next((n * _UNIT for n in _TRIES if _still_fits(cloth, rects, n * _UNIT)), 0)
    return Room(source=source.id, across=step, along=step)


def _below(part: str, cuts: dict[str, CutStep]) -> Iterator[str]:
    if part not in cuts:
        yield part
        return
    for child in cuts[part].gives:
        yield from _below(child, cuts)


def _need(part: str, parts: Parts, cuts: dict[str, CutStep], used: set[str]) -> tuple[int, int]:
    """Width and length that a part must have for all that is cut from it; nothing for spare cloth."""
    if part in used:
        x1, y1, x2, y2 = bounds(parts[part])
        return int(x2 - x1), int(y2 - y1)
    if part not in cuts:
        return 0, 0
    needs = [_need(child, parts, cuts, used) for child in cuts[part].gives]
    across, along = [w for w, _ in needs], [h for _, h in needs]
    return (sum(across), max(along)) if cuts[part].x is not None else (max(across), sum(along))


def _still_fits(cloth: Cloth, rects: Sequence[tuple[object, ...]], less: int) -> bool:
    """Whether all parts, moved together by at most `less`, keep clear of edges that moved in by `less`."""
    smaller = Cloth(
        fabric=cloth.fabric,
        outline=cloth.outline,
        margins=tuple(m + less for m in cloth.margins),
        flaws=cloth.flaws,
    )
    origin, cells = usable_cells(smaller, _UNIT)
    table, boxes = summed(cells), [tuple(int(v) for v in rect) for rect in rects]  # type: ignore[call-overload]
    return any(
        all(covers(table, origin, _UNIT, (x1 + dx, y1 + dy, x2 + dx, y2 + dy)) for x1, y1, x2, y2 in boxes)
        for dx, dy in product((0, less, -less), repeat=2)
    )
