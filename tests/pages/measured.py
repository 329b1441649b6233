"""Reads the steps as a person at the mat would, and tells where a measure starts from something that is not there.

Nothing of `cutopt.measure` is used: the sentence is taken at its word and held against the corners of the piece in
hand, which come from cutting the outline again.
"""

from __future__ import annotations

import re
from fractions import Fraction

from cutopt.cloth import cloth_of, replay
from cutopt.geometry import Number, Polygon, bounds
from cutopt.lengths import MM, UNITS, parse_number
from cutopt.pages.steps import sections
from cutopt.plan import CutStep, Plan

_NUMBER = r"(?:about )?(?P<far>\d[\d /.]*?)(?: (?:in|cm))?(?:(?: wide| long)(?: across the width)?)?"
_FROM_EDGE = re.compile(
    rf"{_NUMBER} (?:off|from) (?:the|its) (?P<side>left|right|bottom|top) edge"
)
_FROM_CORNER = re.compile(
    rf"{_NUMBER} (?:off|from) (?:the|its) (?P<side>left|right|bottom|top) corner"
)
_BESIDE_END = re.compile(
    rf"{_NUMBER} (?P<way>to the right of|to the left of|above|below) "
    r"the (?:(?P<end>left|right|lower|upper) end of the )?(?P<side>left|right|bottom|top) (?:edge|corner)"
)
_THROUGH = re.compile(
    r"through the (?:(?P<end>left|right|lower|upper) end of the )?(?P<side>left|right|bottom|top) (?:edge|corner)"
)
_LEFT_OVER = re.compile(
    r"to (?P<far>\d[\d /.]*), measured from its (?P<side>left|right|bottom|top) edge"
)
_TRIM = re.compile(
    r"(?:its|the) (?P<side>left|right|bottom|top) edge(?: of [^:]*)?: "
    r"cut (?:about )?(?P<far>\d[\d /.]*) (?:in|cm) from it"
)
_SIDES = {"left": (0, 0), "bottom": (1, 1), "right": (0, 2), "top": (1, 3)}


def faults_of(plan: Plan) -> list[str]:
    """Every step of a plan that measures from an edge or a corner which is not on the piece in hand."""
    assert plan.origin is not None
    parts = replay(plan.origin, plan)
    cuts = {cut.n: cut for cut in plan.cuts}
    out = []
    for section in sections(plan):
        for step in section.steps:
            if step.numbers and not step.text.startswith("Do the same"):
                cut = cuts[step.numbers[0]]
                told = _fault(plan, cut, parts[cut.part], step.text)
                out += (
                    [f"{section.title}, {step.cuts}: {step.text} ({told})"]
                    if told
                    else []
                )
    return out


def _fault(plan: Plan, cut: CutStep, part: Polygon, text: str) -> str:
    axis, at = (0, cut.x) if cut.x is not None else (1, cut.y or 0)
    for pattern in (_TRIM, _LEFT_OVER, _BESIDE_END, _THROUGH, _FROM_EDGE, _FROM_CORNER):
        found = pattern.search(text)
        if found:
            told = found.groupdict()
            break
    else:  # no word of an edge: from either end of a rectangle, so neither may be raw
        ends = bounds(part)[axis], bounds(part)[axis + 2]
        if any(_raw(plan, cut, part, axis, end) for end in ends):
            return "it does not say that one end is raw"
        return (
            ""
            if len(part) == 4 and all(_edge(part, axis, end) for end in ends)
            else "nothing to measure from"
        )
    side, place = _SIDES[told["side"]]
    start = _start(part, axis, told, bounds(part)[place])
    if start is None:
        return "no such corner"
    straight = pattern in (_TRIM, _LEFT_OVER, _FROM_EDGE)
    if straight and not _edge(part, axis, start):
        return "no straight edge there"
    if straight and pattern is not _TRIM and _raw(plan, cut, part, axis, start):
        return "from a raw edge"
    far = told.get("far") or "0"
    wrong = abs(
        abs(at - start)
        - (parse_number(far.strip()) or 0) * UNITS[plan.origin.settings.unit]
    )  # type: ignore[union-attr]
    allowed = MM if "about" in text else 0
    return (
        ""
        if wrong <= allowed and (side == axis or told.get("way") or pattern is _THROUGH)
        else f"off by {float(wrong)}"
    )


def _start(
    part: Polygon, axis: int, told: dict[str, str | None], end: Number
) -> Number | None:
    """Where on the cut's own axis the sentence starts to measure."""
    side, _ = _SIDES[told["side"] or ""]
    if side == axis:
        return end
    places = sorted(corner[axis] for corner in part if corner[side] == end)
    if told.get("end") is None:
        return places[0] if len(places) == 1 else None
    return places[0] if told["end"] in ("left", "lower") else places[-1]


def _edge(part: Polygon, axis: int, at: Number) -> bool:
    """Whether an edge of an inch or more (or of all of a narrow part) lies there."""
    box = bounds(part)
    least = min(Fraction(UNITS["in"]), Fraction(box[3 - axis] - box[1 - axis]))
    ring = zip(part, (*part[1:], part[0]), strict=True)
    return any(
        a[axis] == b[axis] == at and abs(a[1 - axis] - b[1 - axis]) >= least
        for a, b in ring
    )


def _raw(plan: Plan, cut: CutStep, part: Polygon, axis: int, at: Number) -> bool:
    """Whether the part is bounded there by a raw side of the cloth itself."""
    assert plan.origin is not None
    cloth = cloth_of(
        plan.origin, next(s for s in plan.sources if s.id == cut.part.split(".")[0])
    )
    ring = zip(cloth.outline, (*cloth.outline[1:], cloth.outline[0]), strict=True)
    spans = [
        sorted((a[1 - axis], b[1 - axis]))
        for (a, b), margin in zip(ring, cloth.margins, strict=True)
        if margin and a[axis] == b[axis] == at
    ]
    low = bounds(part)[1 - axis]
    high = bounds(part)[3 - axis]
    return any(a < high and low < b for a, b in spans)
