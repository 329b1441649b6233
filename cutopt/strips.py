"""Segments of strips as they are measured: what a ruler does not show of a length is no length to count on."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from typing import TypeAlias

from cutopt.geometry import Number, Polygon, bounds
from cutopt.job import Job
from cutopt.lengths import down, format_length
from cutopt.measure import FINE
from cutopt.plan import Plan, Use
from cutopt.settings import Settings
from cutopt.wanted import Strip

# fabric, and length as it is measured, ticks
Segment: TypeAlias = tuple[str, Number]


def finest_mark(settings: Settings) -> int:
    """Ticks between the marks by which lengths are added: 1/16 in or 1 mm, or the grid where that is finer."""
    return min(FINE[settings.unit], settings.grid)


def as_measured(long: Number, settings: Settings) -> int:
    """The last mark of a ruler that a length reaches, ticks."""
    mark = finest_mark(settings)
    return down(Fraction(long) / mark) * mark


def sewn_length(row: Strip, lengths: Sequence[Number], settings: Settings) -> Number:
    """What segments come to when they are sewn end to end, ticks.

    Parameters
    ----------
    row : Strip
        How they are joined.
    lengths : sequence of int or Fraction
        Of the segments as they are measured, ticks.
    settings : Settings
    """
    return sum(lengths) - row.join_loss(settings.seam) * (len(lengths) - 1)


def longest_first(segments: Iterable[Segment]) -> tuple[Segment, ...]:
    """Segments in the order in which they are told: the longest first, of equal ones by their fabric."""
    return tuple(sorted(segments, key=lambda each: (-each[1], each[0])))


def segments_text(segments: Sequence[Segment], unit: str, *, mixed: bool) -> str:
    """The lengths that are sewn end to end: ``40 + 12``, or ``oat 40 + 30, plum 12`` where fabrics are told apart.

    Parameters
    ----------
    segments : sequence of (fabric, length)
    unit : {"in", "cm"}
    mixed : bool
        Whether the strips of this row are not all of one fabric.
    """
    of: dict[str, list[str]] = {}
    for fabric, long in segments:
        of.setdefault(fabric if mixed else "", []).append(format_length(long, unit))
    told = (f"{fabric} {' + '.join(longs)}".lstrip() for fabric, longs in of.items())
    return ", ".join(told)


def joined(plan: Plan) -> frozenset[str]:
    """The parts that are sewn to others to make a strip."""
    return frozenset(
        name for join in plan.joins if len(join.segments) > 1 for name in join.segments
    )


def segment_size(job: Job, use: Use, part: Polygon) -> tuple[Number, Number]:
    """Of a segment that is joined its size across and along the cloth, its length as it is measured.

    Parameters
    ----------
    job : Job
    use : Use
        What it is for.
    part : corners in ticks
    """
    x1, y1, x2, y2 = bounds(part)
    wide = x2 - x1
    long = y2 - y1
    if use.turned:
        return as_measured(wide, job.settings), long
    return wide, as_measured(long, job.settings)


__all__ = [
    "Segment",
    "as_measured",
    "finest_mark",
    "joined",
    "longest_first",
    "segment_size",
    "segments_text",
    "sewn_length",
]
