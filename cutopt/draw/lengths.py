"""Where the parts of a pieced backing are cut from the length that is bought, and in which order."""

from __future__ import annotations

from collections.abc import Sequence

from matplotlib.figure import Figure
from matplotlib.patches import Rectangle

from cutopt.answers.backing import BackingAnswer, cloth_of_way, shrinks
from cutopt.colours import colour_of
from cutopt.draw.looks import INK, tinted
from cutopt.draw.quilt import rule
from cutopt.draw.sheet import MARGIN, PaperSheet, blank_sheet, scale_bar, word
from cutopt.quilt.backs.compare import Choice
from cutopt.quilt.backs.cut_order import Slice, is_whole_width, numbered, told
from cutopt.quilt.backs.marks import mark_of
from cutopt.quilt.backs.sewn import BackPart, lies_across, parts_of
from cutopt.quilt.backs.way import Way
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.surds import Exact

WIDE = 190.0
HIGH = 125.0
# mm for the sizes of the cloth beside it, and for the scale below it
_SIDE = 8.0
_HEAD = 3.0
_FOOT = 17.0
# points of the size of a part
_LARGE = 12.0
_SMALL = 9.0


def cut_to_size(answer: BackingAnswer) -> list[Choice]:
    """The recommended ways of which it is not plain at once how they are cut: those with parts cut to size."""
    fitted = [choice for choice in answer.best if choice.way.fitted]
    return [
        choice
        for choice in fitted
        if any(part.place is not None for part in parts_of(choice.way.sewn))
    ]


def draw_length(answer: BackingAnswer, way: Way, *, high: float = HIGH) -> Figure:
    """The length of a way, lying, with its parts numbered and their sizes; what stays free is spare.

    Parameters
    ----------
    answer, way : a way, and the answer that it is of
    high : the most height of the drawing, mm
    """
    across, long = map(float, cloth_of_way(way, answer))
    scale = min((WIDE - 2 * MARGIN - _SIDE) / long, (high - _HEAD - _FOOT) / across)
    figure, sheet = blank_sheet(WIDE, _HEAD + _FOOT + across * scale)
    left = _SIDE
    low = _FOOT - 2
    sheet.ax.add_patch(
        Rectangle(
            (left, low),
            long * scale,
            across * scale,
            fill=False,
            edgecolor=INK,
            linewidth=0.6,
        )
    )
    for number, part in numbered(way.sewn).items():
        _part(sheet, answer, way, part, number, (left, low), scale)
    how = answer.how
    wide, length = (how.room(side) for side in cloth_of_way(way, answer))
    rule(sheet, (left - 3, low), (left - 3, low + across * scale), wide)
    rule(sheet, (left, low - 3), (left + long * scale, low - 3), length, below=True)
    x = scale_bar(sheet, how.unit, scale, 0.5, 2.5) + 8
    word(
        sheet,
        "squared up; sizes across the fabric first; the selvages, taken off, lay above and below",
        x,
        2.5,
    )
    return figure


def _part(
    sheet: PaperSheet,
    answer: BackingAnswer,
    way: Way,
    part: BackPart,
    number: int,
    at: tuple[float, float],
    scale: float,
) -> None:
    """A part with its number and its size; the number alone where there is no room: sizes stand in the list too."""
    assert part.place is not None
    x, y, wide, long = (float(side) * scale for side in part.place)
    left = at[0] + y
    low = at[1] + x
    places = {
        fabric.name: (i, fabric.colour) for i, fabric in enumerate(answer.fabrics)
    }
    place, colour = places.get(way.fabric, (0, ""))
    ground = tinted(colour_of(colour, way.fabric, place), 0.55)
    sheet.ax.add_patch(
        Rectangle(
            (left, low), long, wide, facecolor=ground, edgecolor=INK, linewidth=1.1
        )
    )
    labels = sheet.labels
    start = labels.pixels(left, low)
    stop = labels.pixels(left + long, low + wide)
    inside = (*start, *stop)
    middle = [labels.pixels(left + long / 2, low + wide / 2)]
    size = size_text(part, answer)
    for text, points in (
        *_labels(number, size, _LARGE),
        *_labels(number, size, _SMALL),
        (f"{number}", _SMALL),
    ):
        for turn in (0, 90):
            if labels.set(
                text,
                middle,
                size=points,
                turn=turn,
                inside=inside,
                weight="bold",
                frame="plain",
            ):
                return


def _labels(number: int, size: str, points: float) -> tuple[tuple[str, float], ...]:
    """In one line, or in two."""
    return (f"{number}:  {size}", points), (f"{number}\n{size}", points)


def size_text(part: BackPart, answer: BackingAnswer) -> str:
    """Cut size of a part, across the fabric first: on marks of a ruler, and never more than there is."""
    assert part.place is not None
    return answer.how.size(part.place[2], part.place[3])


def cutting_order(answer: BackingAnswer, way: Way) -> list[str]:
    """What to cut, one cut a sentence, then the parts with their sizes.

    Sizes are those of the order that the checker has read.
    """
    how = answer.how
    cloth = cloth_of_way(way, answer)
    order = told(way.sewn, cloth, how)
    said = [*_washed(answer, way), _squared(how)]
    said += [_cut(cut, size, first=n == 0) for n, (cut, size) in enumerate(order.cuts)]
    parts = numbered(way.sewn)
    sizes = []
    for number, (wide, long) in order.parts.items():
        whole = is_whole_width(parts[number], cloth[0], mark_of(how))
        if whole:
            width = f"the whole width, at least {wide},"
        else:
            width = wide
        turned = ", turned a quarter" if lies_across(parts[number]) else ""
        sizes.append(f"{number}: {width} x {long}{turned}")
    first = "as cut, across the fabric first"
    if any(lies_across(part) for part in parts.values()):
        first += "; what is turned a quarter hangs with its selvage sides across"
    return [*said, f"Now you have {'; '.join(sizes)} ({first})."]


def _washed(answer: BackingAnswer, way: Way) -> list[str]:
    """That cloth is washed before it is cut, and how large it has to be then; nothing where no wash is counted."""
    how = answer.how
    if not shrinks(answer.fabrics, way.fabric):
        return []
    wide = how.least(_width_needed(answer, way))
    long = how.least(way.net + 2 * how.square_up_end)
    wash = (
        "Wash and dry it first: its shrinkage is counted, and all sizes are those after "
        f"the wash. Then measure: {wide} {how.unit} of width without the selvages and "
        f"{long} {how.unit} of length are needed."
    )
    return [wash]


def _width_needed(answer: BackingAnswer, way: Way) -> Exact:
    """How far the parts reach across the cloth, ticks; a width that is used whole down to a mark."""
    places = [part.place for part in numbered(way.sewn).values()]
    return max(
        (place[0] + place[2] for place in places if place is not None),
        default=cloth_of_way(way, answer)[0],
    )


def _squared(how: Conventions) -> str:
    told = "Press it and take the selvages off"
    if not how.square_up_end:
        return f"{told}."
    end = f"{how.show(how.square_up_end)} {how.unit}"
    return f"{told}; square up both ends: about {end} comes off each."


def _cut(cut: Slice, size: str, *, first: bool) -> str:
    if first:
        whole = "the whole length"
    else:
        whole = f"the cloth for {_listed(cut.of)}"
    if cut.folded:
        halves = f"one half is {_what(cut.off)}, the other {_what(cut.rest)}"
        fold = "lengthwise, edge to edge, and cut along the fold"
        return f"Fold {whole} {fold}: {halves}."
    if not cut.rest:
        if cut.axis == 1:
            side = "long"
        else:
            side = "wide"
        if len(cut.of) == 1:
            whole = f"part {cut.of[0]}"
        return f"Trim {whole} to {size} {side}."
    if cut.axis == 1:
        how = f"cut {size} long off its left end, straight across"
    else:
        how = f"cut {size} wide off its lower edge, along the selvage"
    return f"From {whole} {how}: it is {_what(cut.off)}."


def _what(parts: Sequence[int]) -> str:
    if len(parts) > 1:
        return f"for {_listed(parts)}"
    return f"part {parts[0]}"


def _listed(parts: Sequence[int]) -> str:
    names = [str(number) for number in parts]
    if len(names) == 1:
        return names[0]
    return f"{', '.join(names[:-1])} and {names[-1]}"
