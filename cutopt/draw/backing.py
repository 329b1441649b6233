"""Backings as they are pieced: panels with their cut sizes, seams, and the quilt that goes on them."""

from __future__ import annotations

from collections.abc import Sequence

from matplotlib.figure import Figure
from matplotlib.patches import Rectangle

from cutopt.answers.backing import BackingAnswer
from cutopt.colours import colour_of
from cutopt.draw.lengths import size_text
from cutopt.draw.letters import shown as as_set
from cutopt.draw.looks import FABRIC_HATCHES, FAINT, INK, SMALLEST_TEXT, tinted
from cutopt.draw.quilt import rule
from cutopt.draw.sheet import LINE, MARGIN, Sheet, blank_sheet, scale_bar, word
from cutopt.draw.views import rough
from cutopt.errors import Problem
from cutopt.lengths import INCH
from cutopt.quilt.backs.compare import table
from cutopt.quilt.backs.cut_order import numbered
from cutopt.quilt.backs.seams import TopSeams
from cutopt.quilt.backs.sewn import Part, seen, size_of
from cutopt.quilt.backs.way import Way

WIDE = 190.0
HIGH = 150.0
HEAD = 29.0
FOOT = 20.0
GAP = 14.0
_MOST_SCALE = 5.0  # mm on paper for an inch, at most
_LINES = {"whole": "solid", "needed": (0, (4, 2)), "quilt": (0, (1, 1.5))}


def draw_backing(
    answer: BackingAnswer, ways: Sequence[Way] | None = None, *, high: float = HIGH
) -> Figure:
    """Ways to piece a backing side by side at one scale: those recommended, or the ways given (at most four).

    Raises
    ------
    Problem
        Where there is no way to draw.
    """
    told = [choice.name for choice in answer.best] if ways is None else []
    shown = [choice.way for choice in answer.best] if ways is None else list(ways)[:4]
    if not shown:
        raise Problem(
            "backing", "there is no way to draw", "widen the choice of fabrics"
        )
    sizes = [sewn_size(way) for way in shown]
    room = (WIDE - 2 * MARGIN - GAP * len(shown)) / len(shown)
    scale = min(
        min(room / w, (high - HEAD - FOOT) / h, _MOST_SCALE / INCH) for w, h in sizes
    )
    figure, sheet = blank_sheet(WIDE, HEAD + FOOT + scale * max(h for _, h in sizes))
    word(sheet, "The backing, pieced", 0, sheet.height - 4, size=14, weight="bold")
    for i, way in enumerate(shown):
        left = i * (room + GAP) + GAP
        _one(sheet, way, answer, (left, scale), told[i] if told else "", room)
    x = scale_bar(sheet, answer.how.unit, scale, 0.5, 2.5) + 8
    on_it = (
        "the quilt on it, with its long seams"
        if answer.top_seams
        else "the quilt on it"
    )
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


def _one(
    sheet: Sheet,
    way: Way,
    answer: BackingAnswer,
    at: tuple[float, float],
    reason: str,
    room: float,
) -> None:
    left, scale = at
    wide, high = (side * scale for side in sewn_size(way))
    low = sheet.height - HEAD - high
    bare = []
    for part, (x, y, part_wide, part_high) in seen(way.sewn):
        box = (
            float(x) * scale,
            high - float(y + part_high) * scale,
            float(part_wide) * scale,
            float(part_high) * scale,
        )
        if said := _panel(sheet, way, part, answer, box, (left, low)):
            bare.append(said)
    need = answer.need
    inner = (float(need.width) * scale, float(need.length) * scale)
    quilt = (
        float(need.width - 2 * need.overage[0]) * scale,
        float(need.length - 2 * need.overage[1]) * scale,
    )
    aside = (
        -float(way.shift[0]) * scale,
        float(way.shift[1]) * scale,
    )  # the back is shifted, the quilt stays
    for kind, (w, h) in (("needed", inner), ("quilt", quilt)):
        corner = (left + (wide - w) / 2 + aside[0], low + (high - h) / 2 + aside[1])
        sheet.ax.add_patch(
            Rectangle(
                corner,
                w,
                h,
                fill=False,
                edgecolor=INK,
                linewidth=1.1,
                linestyle=_LINES[kind],
                zorder=6,
            )
        )
    _top_seams(sheet, answer, scale, (corner[0], corner[1], *quilt))
    unit = answer.how.unit
    rule(
        sheet,
        (left, low - 4),
        (left + wide, low - 4),
        rough(_whole(wide / scale), unit),
        below=True,
    )
    rule(
        sheet,
        (left - 4, low),
        (left - 4, low + high),
        rough(_whole(high / scale), unit),
    )
    row = table([way], answer.how, answer.currency)[0]
    buy = f"buy {row[4]}" + (f", {row[5]}" if row[5] else "")
    told = [
        f"tight: {way.tight}" if way.tight else reason
    ]  # what must not be lost stands first
    told += [
        f"{way.fabric}: {way.kind}",
        buy if way.bought or way.pieces else "nothing to buy",
    ]
    told += dict.fromkeys(bare)
    lines = [line for text in told if text for line in _wrapped(sheet, text, room + 3)]
    for i, line in enumerate(lines[:5]):
        word(sheet, line, left - 4, sheet.height - 10 - i * LINE)


def _top_seams(
    sheet: Sheet,
    answer: BackingAnswer,
    scale: float,
    quilt: tuple[float, float, float, float],
) -> None:
    """The long seams of the top, faintly, where they are known."""
    x, y, wide, high = quilt
    known = answer.top_seams or TopSeams()
    edge = 0 if answer.need.base == "finished" else answer.how.seam
    for line in known.upright:
        at = x + float(line + edge) * scale
        sheet.ax.plot(
            [at, at],
            [y, y + high],
            color=INK,
            alpha=0.35,
            linewidth=0.5,
            linestyle=(0, (1, 2)),
            zorder=5,
        )
    for line in known.level:
        at = y + high - float(line + edge) * scale
        sheet.ax.plot(
            [x, x + wide],
            [at, at],
            color=INK,
            alpha=0.35,
            linewidth=0.5,
            linestyle=(0, (1, 2)),
            zorder=5,
        )


def _whole(value: float) -> int:
    return round(value)


def _wrapped(sheet: Sheet, text: str, room: float) -> list[str]:
    """A text as it is set, in lines of at most so many millimetres."""
    lines: list[str] = []
    for one in as_set(text).split():
        longer = f"{lines[-1]} {one}" if lines else one
        if (
            lines
            and sheet.labels.size(longer, SMALLEST_TEXT)[0] / sheet.labels.px_per_mm
            <= room
        ):
            lines[-1] = longer
        else:
            lines.append(one)
    return lines


def _panel(
    sheet: Sheet,
    way: Way,
    part: Part,
    answer: BackingAnswer,
    box: tuple[float, float, float, float],
    at: tuple[float, float],
) -> str:
    """A part with its cut size, which is given back where it has no room."""
    x = at[0] + box[0]
    y = at[1] + box[1]
    wide = box[2]
    high = box[3]
    places = {
        fabric.name: (i, fabric.colour) for i, fabric in enumerate(answer.fabrics)
    }
    place, colour = places.get(way.fabric, (0, ""))
    foreign = not part.bought
    ground = (
        "#ffffff" if foreign else tinted(colour_of(colour, way.fabric, place), 0.55)
    )
    hatch = FABRIC_HATCHES[1] if foreign else ""
    sheet.ax.add_patch(
        Rectangle(
            (x, y),
            wide,
            high,
            facecolor=ground,
            edgecolor=INK if not foreign else FAINT,
            hatch=hatch,
            linewidth=0.9,
        )
    )
    sheet.ax.add_patch(
        Rectangle((x, y), wide, high, fill=False, edgecolor=INK, linewidth=0.9)
    )
    number = next(
        (f"{n}: " for n, other in numbered(way.sewn).items() if other is part), ""
    )
    size = _size(part, answer)
    said = f"{number}{part.what}\ncut {size}"
    size = f"{number}{size}"
    labels = sheet.labels
    low = labels.pixels(x, y)
    top = labels.pixels(x + wide, y + high)
    inside = (low[0], low[1], top[0], top[1])
    spots = [
        labels.pixels(x + wide * a, y + high * b)
        for b in (0.5, 0.35, 0.65, 0.2, 0.8)
        for a in (0.5, 0.3, 0.7)
    ]
    for text, turn in (
        (said, 0),
        (said, 90),
        (size, 0),
        (size, 90),
        (said.replace("\n", " "), 90),
        (said.replace("\n", " "), 0),
    ):
        if labels.set(text, spots, turn=turn, inside=inside, frame="plain"):
            return ""
    return said.replace("\n", " ")


def _size(part: Part, answer: BackingAnswer) -> str:
    """Across the cloth first, then along it; of what comes from elsewhere as it hangs."""
    if part.place is not None:
        return size_text(part, answer)
    return answer.how.size(part.width, part.height)
