"""Backings as they are pieced: panels with their cut sizes, seams, and the quilt that goes on them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product
from typing import Final, TypeAlias

from matplotlib.figure import Figure
from matplotlib.patches import Rectangle

from cutopt.answers.backing import BackingAnswer
from cutopt.colours import colour_of
from cutopt.draw.lengths import size_text
from cutopt.draw.letters import shown as as_set
from cutopt.draw.looks import FABRIC_HATCHES, FAINT, INK, SMALLEST_TEXT, tinted
from cutopt.draw.quilt import rule
from cutopt.draw.sheet import LINE, MARGIN, PaperSheet, blank_sheet, scale_bar, word
from cutopt.draw.views import rough
from cutopt.errors import Problem
from cutopt.lengths import INCH
from cutopt.quilt.backs.compare import table
from cutopt.quilt.backs.cut_order import numbered
from cutopt.quilt.backs.seams import TopSeams
from cutopt.quilt.backs.sewn import BackPart, Box, lies_across, seen, size_of
from cutopt.quilt.backs.way import Way

WIDE = 190.0
HIGH = 150.0
HEAD = 29.0
FOOT = 20.0
GAP = 14.0
# mm on paper for an inch, at most
_MOST_SCALE = 5.0
Frame: TypeAlias = tuple[float, float, float, float]
_LINES: Final = {"whole": "solid", "needed": (0, (4, 2)), "quilt": (0, (1, 1.5))}


def draw_backing(
    answer: BackingAnswer, ways: Sequence[Way] | None = None, *, high: float = HIGH
) -> Figure:
    """Ways to piece a backing side by side at one scale: those recommended, or the ways given (at most four).

    Parameters
    ----------
    answer : what is recommended
    ways : others of it to draw
    high : the most height of the drawing, mm

    Raises
    ------
    Problem
        Where there is no way to draw.
    """
    shown = [(choice.way, choice.name) for choice in answer.best]
    if ways is not None:
        shown = [(way, "") for way in ways[:4]]
    if not shown:
        raise Problem(
            "backing", "there is no way to draw", "widen the choice of fabrics"
        )
    sizes = [sewn_size(way) for way, _ in shown]
    room = (WIDE - 2 * MARGIN - GAP * len(shown)) / len(shown)
    scale = min(
        min(room / w, (high - HEAD - FOOT) / h, _MOST_SCALE / INCH) for w, h in sizes
    )
    figure, sheet = blank_sheet(WIDE, HEAD + FOOT + scale * max(h for _, h in sizes))
    word(sheet, "The backing, pieced", 0, sheet.height - 4, size=14, weight="bold")
    for i, (way, reason) in enumerate(shown):
        left = i * (room + GAP) + GAP
        _one(sheet, way, answer, (left, scale), reason, room)
    x = scale_bar(sheet, answer.how.unit, scale, 0.5, 2.5) + 8
    if answer.top_seams:
        on_it = "the quilt on it, with its long seams"
    else:
        on_it = "the quilt on it"
    for kind, text in (("needed", "the size to reach"), ("quilt", on_it)):
        sheet.ax.plot(
            [x, x + 8], [2.5, 2.5], color=INK, linewidth=1.1, linestyle=_LINES[kind]
        )
        x = word(sheet, text, x + 9.5, 2.5) + 6
    return figure


def sewn_size(way: Way) -> tuple[float, float]:
    """Width and length of the pieced back as the quilt hangs, ticks."""
    wide, high = size_of(way.sewn)
    return float(wide), float(high)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Drawn:
    """A way where it is drawn: `left` and `low` of the sewn back and its size, mm, at `scale` mm a tick."""

    sheet: PaperSheet
    way: Way
    answer: BackingAnswer
    left: float
    low: float
    wide: float
    high: float
    scale: float


def _one(
    sheet: PaperSheet,
    way: Way,
    answer: BackingAnswer,
    at: tuple[float, float],
    reason: str,
    room: float,
) -> None:
    """A way: its parts, the quilt on it, its measures, and what is told of it above."""
    left, scale = at
    wide, high = (side * scale for side in sewn_size(way))
    drawn = _Drawn(
        sheet=sheet,
        way=way,
        answer=answer,
        left=left,
        low=sheet.height - HEAD - high,
        wide=wide,
        high=high,
        scale=scale,
    )
    bare = [_panel(drawn, part, box) for part, box in seen(way.sewn)]
    _top_seams(drawn, _outlines(drawn))
    _measures(drawn)
    told = [*_caption(drawn, reason), *dict.fromkeys(bare)]
    lines = [line for text in told if text for line in _wrapped(sheet, text, room + 3)]
    for i, line in enumerate(lines[:5]):
        word(sheet, line, left - 4, sheet.height - 10 - i * LINE)


def _outlines(drawn: _Drawn) -> Frame:
    """The size to reach and the quilt, which is given back; the back is shifted, the quilt stays."""
    need = drawn.answer.need
    aside_x, aside_y = (float(by) * drawn.scale for by in drawn.way.shift)
    frame = (0.0, 0.0, 0.0, 0.0)
    for kind, over in (("needed", (0, 0)), ("quilt", need.overage)):
        wide = float(need.width - 2 * over[0]) * drawn.scale
        high = float(need.length - 2 * over[1]) * drawn.scale
        x = drawn.left + (drawn.wide - wide) / 2 - aside_x
        y = drawn.low + (drawn.high - high) / 2 + aside_y
        frame = (x, y, wide, high)
        drawn.sheet.ax.add_patch(
            Rectangle(
                (x, y),
                wide,
                high,
                fill=False,
                edgecolor=INK,
                linewidth=1.1,
                linestyle=_LINES[kind],
                zorder=6,
            )
        )
    return frame


def _measures(drawn: _Drawn) -> None:
    """Width and length of the sewn back, below it and beside it."""
    unit = drawn.answer.how.unit
    width, length = (round(side) for side in sewn_size(drawn.way))
    left = drawn.left
    low = drawn.low
    end = (left + drawn.wide, low - 4)
    rule(drawn.sheet, (left, low - 4), end, rough(width, unit), below=True)
    top = (left - 4, low + drawn.high)
    rule(drawn.sheet, (left - 4, low), top, rough(length, unit))


def _caption(drawn: _Drawn, reason: str) -> list[str]:
    """What is told of a way; what must not be lost stands first."""
    way = drawn.way
    row = table([way], drawn.answer.how, drawn.answer.currency)[0]
    buy = "nothing to buy"
    if way.bought or way.pieces:
        buy = f"buy {row[4]}" + (f", {row[5]}" if row[5] else "")
    if way.tight:
        first = f"tight: {way.tight}"
    else:
        first = reason
    return [first, f"{way.fabric}: {way.kind}", buy]


def _top_seams(drawn: _Drawn, quilt: Frame) -> None:
    """The long seams of the top, faintly, where they are known."""
    x, y, wide, high = quilt
    answer = drawn.answer
    known = answer.top_seams or TopSeams()
    if answer.need.base == "finished":
        edge = 0
    else:
        edge = answer.how.seam
    for line in known.upright:
        at = x + float(line + edge) * drawn.scale
        _faint(drawn.sheet, (at, at), (y, y + high))
    for line in known.level:
        at = y + high - float(line + edge) * drawn.scale
        _faint(drawn.sheet, (x, x + wide), (at, at))


def _faint(sheet: PaperSheet, xs: tuple[float, float], ys: tuple[float, float]) -> None:
    sheet.ax.plot(
        xs,
        ys,
        color=INK,
        alpha=0.35,
        linewidth=0.5,
        linestyle=(0, (1, 2)),
        zorder=5,
    )


def _wrapped(sheet: PaperSheet, text: str, room: float) -> list[str]:
    """A text as it is set, in lines of at most so many millimetres."""
    lines: list[str] = []
    for one in as_set(text).split():
        if lines:
            longer = f"{lines[-1]} {one}"
        else:
            longer = one
        if (
            lines
            and sheet.labels.size(longer, SMALLEST_TEXT)[0] / sheet.labels.px_per_mm
            <= room
        ):
            lines[-1] = longer
        else:
            lines.append(one)
    return lines


def _panel(drawn: _Drawn, part: BackPart, box: Box) -> str:
    """A part with its size, which is given back where it has no room."""
    scale = drawn.scale
    wide = float(box[2]) * scale
    high = float(box[3]) * scale
    x = drawn.left + float(box[0]) * scale
    y = drawn.low + drawn.high - float(box[1]) * scale - high
    _ground(drawn, part, (x, y, wide, high))
    labels = drawn.sheet.labels
    inside = (*labels.pixels(x, y), *labels.pixels(x + wide, y + high))
    spots = [
        labels.pixels(x + wide * across, y + high * up)
        for up, across in product((0.5, 0.35, 0.65, 0.2, 0.8), (0.5, 0.3, 0.7))
    ]
    number = _number(drawn.way, part)
    size = _size(part, drawn.answer)
    if lies_across(part):
        size += ", turned"
    # what is bought whole is not cut
    whole = part.bought and part.place is None
    if whole:
        cut = size
    else:
        cut = f"cut {size}"
    first = f"{number}{part.what}"
    in_one = f"{first} {cut}"
    for text, turn in (
        (f"{first}\n{cut}", 0),
        (f"{first}\n{cut}", 90),
        (f"{number}{size}", 0),
        (f"{number}{size}", 90),
        (in_one, 90),
        (in_one, 0),
    ):
        if labels.set(text, spots, turn=turn, inside=inside, frame="plain"):
            return ""
    labels.set(number.removesuffix(": "), spots, inside=inside, frame="plain")
    return in_one


def _number(way: Way, part: BackPart) -> str:
    """Which part of the cutting order it is, and a colon; nothing for what is in none."""
    for n, other in numbered(way.sewn).items():
        if other is part:
            return f"{n}: "
    return ""


def _ground(drawn: _Drawn, part: BackPart, frame: Frame) -> None:
    """A part in the colour of its fabric; what is not bought white and hatched."""
    x, y, wide, high = frame
    fabrics = enumerate(drawn.answer.fabrics)
    places = {fabric.name: (i, fabric.colour) for i, fabric in fabrics}
    place, colour = places.get(drawn.way.fabric, (0, ""))
    ground = "#ffffff"
    if part.bought:
        ground = tinted(colour_of(colour, drawn.way.fabric, place), 0.55)
    ax = drawn.sheet.ax
    ax.add_patch(
        Rectangle(
            (x, y),
            wide,
            high,
            facecolor=ground,
            edgecolor=INK if part.bought else FAINT,
            hatch="" if part.bought else FABRIC_HATCHES[1],
            linewidth=0.9,
        )
    )
    ax.add_patch(
        Rectangle((x, y), wide, high, fill=False, edgecolor=INK, linewidth=0.9)
    )


def _size(part: BackPart, answer: BackingAnswer) -> str:
    """Across the cloth first, then along it; of what comes from elsewhere as it hangs."""
    if part.place is not None:
        return size_text(part, answer)
    return answer.how.size(part.width, part.height)
