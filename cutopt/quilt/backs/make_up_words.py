"""A make-up in a quilter's words: what it is, and the sum that gives its length."""

from __future__ import annotations

from typing import Final

from cutopt.quilt.backs.make_up import Fill, MakeUp
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.surds import Number

_SHARES: Final = {2: "half widths", 3: "thirds of a width", 4: "quarter widths"}


def widths(count: int) -> str:
    """``one width``, ``2 widths``."""
    if count == 1:
        return "one width"
    return f"{count} widths"


def kind_of(made: MakeUp) -> str:
    """What it is: ``2 widths and a strip sewn end to end from 5 pieces``."""
    base = _panels(made)
    if made.fill is None:
        return base
    if made.fill.side == "beside":
        return f"{base} and {_strip(made.fill)}"
    return f"{base}, cut short, and a strip{_source(made.fill)} sewn to its end"


def _source(fill: Fill) -> str:
    """Where a strip below panels comes from; nothing where it is one that lies across."""
    if fill.segments > 1:
        told = f" of {fill.segments} pieces"
    else:
        told = ""
    if fill.edge == fill.segments:
        told += " from beside it"
    if told:
        return f"{told},"
    return ""


def _panels(made: MakeUp) -> str:
    panels = made.panels
    if panels.abreast == 1:
        return widths(panels.columns)
    count = panels.columns * panels.rows
    share = made.beside < panels.abreast * made.cloth.mark
    if share:
        named = f"{count} {_SHARES[panels.abreast]}"
    else:
        named = f"{count} panels cut {panels.abreast} abreast"
    return f"{named}, {_set(made)}"


def _set(made: MakeUp) -> str:
    panels = made.panels
    if panels.columns > 1:
        return f"{panels.columns} x {panels.rows}"
    return "end to end"


def _strip(fill: Fill) -> str:
    if not fill.ends:
        return "a narrow strip"
    if fill.segments == 1:
        return "a strip"
    told = f"a strip sewn end to end from {fill.segments} pieces"
    both = fill.across or fill.corner
    if both:
        return f"{told}, cut along and across"
    return told


def sum_of(made: MakeUp, across: Number, along: Number, how: Conventions) -> str:
    """The arithmetic that gives its length, up to the equals sign.

    Parameters
    ----------
    made : the panels and the strip
    across, along : what is to be reached across the panels and along them, ticks
    how : the unit
    """
    panels = made.panels
    fill = made.fill
    show = how.show
    slabs = f"{panels.slabs} x {show(panels.length)}"
    if panels.abreast > 1:
        count = panels.columns * panels.rows
        slabs += f" ({count} panels {how.size(panels.width, panels.length)}, {panels.abreast} abreast)"
    if fill is None:
        return slabs
    n = panels.columns
    size = panels.width
    whole = across
    if fill.side == "below":
        n = panels.rows
        size = panels.length
        whole = along
    if made.cloth.seam:
        taken = f" + {n} x {show(2 * made.cloth.seam)}"
    else:
        taken = ""
    told = f"{how.least(whole)} - {n} x {show(size)}{taken} = strip {show(fill.width)}"
    return " + ".join([f"{told}; {slabs}", *_lanes(fill, how)]) + _edge(made, fill, how)


def _lanes(fill: Fill, how: Conventions) -> list[str]:
    told = []
    if fill.across:
        if fill.across > 1:
            plural = "s"
        else:
            plural = ""
        if fill.ends:
            across = " across"
        else:
            across = ""
        told.append(f"{fill.across} strip{plural}{across} x {how.show(fill.width)}")
    if fill.ends:
        end = how.show(fill.end)
        told.append(end if fill.segments == 1 else f"{end} cut {_cut(fill)}")
    return told


def _cut(fill: Fill) -> str:
    """How a length at the end gives its segments."""
    told = f"lengthwise in {fill.ends}"
    if fill.corner:
        return f"{told}, and {fill.corner} across the rest"
    return told


def _edge(made: MakeUp, fill: Fill, how: Conventions) -> str:
    """Where the edge of the panels gives some of the strip: how much of the width it takes."""
    if not fill.edge:
        return ""
    foot = made.panels.slabs * made.panels.length
    panels = f"{made.panels.abreast} x {how.show(made.panels.width)}"
    return f" (and {fill.edge} x {how.size(fill.width, foot)} off the edge, beside {panels})"
