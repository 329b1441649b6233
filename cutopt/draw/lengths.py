"""Where the parts of a pieced backing are cut from the length that is bought."""

from __future__ import annotations

from collections.abc import Sequence

from matplotlib.figure import Figure
from matplotlib.patches import Rectangle

from cutopt.answers.backing import BackingAnswer
from cutopt.colours import colour_of
from cutopt.draw.looks import INK, tinted
from cutopt.draw.sheet import MARGIN, Sheet, blank_sheet, scale_bar, word
from cutopt.fabric import ByLength, Fabric
from cutopt.lengths import format_sale
from cutopt.quilt.buying import shrunk
from cutopt.quilt.compare import Choice
from cutopt.quilt.sewn import Part, parts_of
from cutopt.quilt.way import Way

WIDE, HIGH = 190.0, 110.0
_HEAD, _FOOT, _GAP, _LINE = 10.0, 16.0, 8.0, 10.0
_LEAST = 42.0  # mm, for the words above


def cut_to_size(answer: BackingAnswer) -> list[Choice]:
    """The recommended ways of which it is not plain at once how they are cut: those with parts cut to size."""
    fitted = [choice for choice in answer.best if choice.way.fitted]
    return [choice for choice in fitted if any(part.place is not None for part in parts_of(choice.way.sewn))]


def draw_lengths(answer: BackingAnswer, choices: Sequence[Choice], *, high: float = HIGH) -> Figure:
    """The length of each way, lying, with its parts; what stays free is spare. Side by side where that is larger."""
    sizes = [_cloth(choice.way, answer) for choice in choices]
    acrosses, longs = zip(*sizes, strict=True)
    full, tall = WIDE - 2 * MARGIN, high - _HEAD - _FOOT
    below = min(full / max(longs), (tall - _LINE * len(sizes)) / sum(acrosses))
    beside = min((full - _GAP * len(sizes)) / sum(longs), (tall - _LINE) / max(acrosses))
    if min(longs) * beside + _GAP < _LEAST:  # no room for what is said above it
        beside = 0.0
    scale = max(below, beside)
    rows = max(acrosses) * scale + _LINE if beside > below else sum(acrosses) * scale + _LINE * len(sizes)
    figure, sheet = blank_sheet(WIDE, _HEAD + _FOOT + rows)
    word(sheet, "How the length is cut, once it is squared up", 0, sheet.height - 4, size=14, weight="bold")
    left, top = 0.0, sheet.height - _HEAD
    for choice, (across, long) in zip(choices, sizes, strict=True):
        bought = format_sale(choice.way.bought, answer.how.unit)
        name = f"{choice.name or choice.way.fabric}, {bought}"
        word(sheet, name[:1].upper() + name[1:], left, top - 3)
        _length(sheet, choice.way, answer, (left, top - 6 - across * scale), scale)
        if beside > below:
            left += long * scale + _GAP
        else:
            top -= across * scale + _LINE
    x = scale_bar(sheet, answer.how.unit, scale, 0.5, 2.5) + 8
    word(sheet, "sizes across the fabric first, then along the selvage, which runs from left to right", x, 2.5)
    return figure


def _cloth(way: Way, answer: BackingAnswer) -> tuple[float, float]:
    """Usable width, and length between squared ends, ticks, after the wash."""
    fabric = next((each for each in answer.fabrics if each.name == way.fabric), Fabric(name=way.fabric))
    usable = way.offered.usable_width if isinstance(way.offered, ByLength) else 0
    long = shrunk(way.bought - answer.how.extra, fabric.shrink_along) - 2 * answer.how.square_up_end
    return float(shrunk(usable, fabric.shrink_across)), float(long)


def _length(sheet: Sheet, way: Way, answer: BackingAnswer, at: tuple[float, float], scale: float) -> None:
    left, low = at
    across, long = _cloth(way, answer)
    places = {fabric.name: (i, fabric.colour) for i, fabric in enumerate(answer.fabrics)}
    place, colour = places.get(way.fabric, (0, ""))
    ground = tinted(colour_of(colour, way.fabric, place), 0.55)
    sheet.ax.add_patch(Rectangle((left, low), long * scale, across * scale, fill=False, edgecolor=INK, linewidth=0.6))
    for part in parts_of(way.sewn):
        if part.place is not None:
            x, y, wide, along = (float(side) * scale for side in part.place)
            sheet.ax.add_patch(
                Rectangle((left + y, low + x), along, wide, facecolor=ground, edgecolor=INK, linewidth=0.9)
            )
            _named(sheet, part, answer, (left + y, low + x, along, wide))


def _named(sheet: Sheet, part: Part, answer: BackingAnswer, box: tuple[float, float, float, float]) -> None:
    """The size of a part, where it has room; sizes of strips that are narrower stand in the sum."""
    assert part.place is not None
    x, y, wide, high = box
    size = answer.how.size(part.place[2], part.place[3], answer.how.near)
    labels = sheet.labels
    low, top = labels.pixels(x, y), labels.pixels(x + wide, y + high)
    inside = (low[0], low[1], top[0], top[1])
    middle = [labels.pixels(x + wide / 2, y + high / 2)]
    for turn in (0, 90):
        if labels.set(size, middle, turn=turn, inside=inside, frame="plain"):
            return
