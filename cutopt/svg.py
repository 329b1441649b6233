"""Small text-only pictures and tables for notebooks: outlines, flaws, parts, in a few kilobytes.

Nothing is imported to draw them. Lines and letters take the colour of the notebook's own text, and fabrics are
tinted thinly, so that a light and a dark notebook both read; hatches are drawn as lines, not by reference, so
that a picture stays whole where an output is copied. Corners are ticks, y runs up.
"""

from __future__ import annotations

import html
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from cutopt.geometry import Point, bounds, edges
from cutopt.lengths import INCH, TICKS_PER_MM, format_length

MOST_PICTURES: Final = 24
MOST_ROWS: Final = 40
_CELL = (
    "padding:.15em .7em;text-align:left;border-bottom:1px solid rgba(128,128,128,.45)"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """One area of a picture. `tint` is 0 to 1; a hatched area is crossed by lines `hatch` pixels apart."""

    polygon: Sequence[Point]
    colour: str = ""
    tint: float = 0.0
    hatch: int = 0
    tip: str = ""


def escape(text: object) -> str:
    """Text that HTML and SVG show as it is."""
    return html.escape(str(text), quote=True)


def unit_of(numbers: Iterable[int]) -> str:
    """The unit in which a piece without a job seems measured: "in" on marks of 1/16 in, "cm" on whole mm."""
    found = list(numbers)
    if all(number % (INCH // 16) == 0 for number in found):
        return "in"
    if all(number % TICKS_PER_MM == 0 for number in found):
        return "cm"
    return "in"


def size_label(outline: Sequence[Point], unit: str) -> str:
    """Width and length of the smallest upright rectangle round an outline: ``2 1/2 x 11 in``."""
    x1, y1, x2, y2 = bounds(outline)
    return f"{format_length(x2 - x1, unit)} x {format_length(y2 - y1, unit)} {unit}"


def scale_for(outlines: Iterable[Sequence[Point]], largest: int = 150) -> float:
    """Pixels per tick at which the largest of the outlines is `largest` pixels wide or high."""
    sides = [float(max(b[2] - b[0], b[3] - b[1])) for b in map(bounds, outlines)]
    return largest / max(sides, default=1.0)


def picture(
    outline: Sequence[Point], shapes: Sequence[Shape], caption: str, scale: float
) -> str:
    """An outline with areas in it and a caption under it, as HTML.

    Parameters
    ----------
    outline : corners in ticks
    shapes : sequence of Shape
        The later ones upon the earlier ones.
    caption : str
        In one or more lines.
    scale : float
        Pixels of a tick.
    """
    x1, y1, x2, y2 = (float(v) for v in bounds(outline))
    wide = (x2 - x1) * scale
    high = (y2 - y1) * scale

    def place(polygon: Sequence[Point]) -> list[tuple[float, float]]:
        return [
            (2 + (float(x) - x1) * scale, 2 + high - (float(y) - y1) * scale)
            for x, y in polygon
        ]

    drawn = "".join(_area(shape, place(shape.polygon)) for shape in shapes)
    border = f'<path d="{_path(place(outline))}" fill="none" stroke="currentColor" stroke-width="1.5"/>'
    said = "<br>".join(escape(line) for line in caption.split("\n"))
    return (
        '<div style="display:inline-block;vertical-align:bottom;margin:.3em .8em .3em 0;text-align:center">'
        f'<svg role="img" aria-label="{escape(caption)}" width="{wide + 4:.0f}" height="{high + 4:.0f}" '
        f'viewBox="0 0 {wide + 4:.1f} {high + 4:.1f}" stroke-width=".7">{drawn}{border}</svg>'
        f'<div style="font-size:85%;line-height:1.25">{said}</div></div>'
    )


def _area(shape: Shape, corners: list[tuple[float, float]]) -> str:
    if shape.tip:
        tip = f"<title>{escape(shape.tip)}</title>"
    else:
        tip = ""
    # a colour word that no browser knows is ignored in `style`, and the attribute, a grey, holds
    fill = (
        f'fill="#999" style="fill:{escape(shape.colour)}"'
        if shape.colour
        else 'fill="currentColor"'
    )
    body = f'<path d="{_path(corners)}" {fill} fill-opacity="{shape.tint:g}" stroke="currentColor">{tip}</path>'
    if shape.hatch:
        lines = _hatch(corners, shape.hatch)
    else:
        lines = ""
    return body + (
        f'<path d="{lines}" stroke="currentColor" fill="none"/>' if lines else ""
    )


def _path(corners: Sequence[tuple[float, float]]) -> str:
    return "M" + "L".join(f"{_short(x)} {_short(y)}" for x, y in corners) + "Z"


def _short(value: float) -> str:
    return f"{value:.1f}".removesuffix(".0")


def _hatch(corners: Sequence[tuple[float, float]], gap: int) -> str:
    """Slanted lines x + y = c inside a polygon, `gap` pixels apart, as path data."""
    sums = [x + y for x, y in corners]
    out = []
    for step in range(int(min(sums)) // gap + 1, int(max(sums)) // gap + 1):
        c = step * gap + 0.37  # off the corners
        met = []
        for (xa, ya), (xb, yb) in edges(corners):  # type: ignore[arg-type]
            a = float(xa + ya) - c
            b = float(xb + yb) - c
            if (a < 0) != (b < 0):
                met.append(float(xa) + (float(xb) - float(xa)) * a / (a - b))
        met.sort()
        for start, stop in zip(met[::2], met[1::2], strict=False):
            out.append(
                f"M{_short(start)} {_short(c - start)}L{_short(stop)} {_short(c - stop)}"
            )
    return "".join(out)


def table(
    head: Sequence[str], rows: Iterable[Sequence[object]], caption: str = ""
) -> str:
    """A table in the notebook's own colours; beyond 40 rows it says how many more there are.

    Parameters
    ----------
    head : sequence of str
    rows : iterable of sequences
        Cells, shown as their words.
    caption : str
        Above it, "" for none.
    """
    listed = [list(row) for row in rows]
    if not listed:
        return ""
    top = "".join(f'<th style="{_CELL}">{escape(cell)}</th>' for cell in head)
    body = "".join(
        "<tr>"
        + "".join(f'<td style="{_CELL}">{escape(cell)}</td>' for cell in row)
        + "</tr>"
        for row in listed[:MOST_ROWS]
    )
    if len(listed) > MOST_ROWS:
        more = f"<div>… and {len(listed) - MOST_ROWS} more</div>"
    else:
        more = ""
    if caption:
        said = f'<div style="font-weight:600;margin-top:.6em">{escape(caption)}</div>'
    else:
        said = ""
    plain = "border-collapse:collapse;color:inherit;background:transparent"
    return f'{said}<table style="{plain}"><thead><tr>{top}</tr></thead><tbody>{body}</tbody></table>{more}'


def pictures(drawn: Sequence[str], most: int = MOST_PICTURES) -> str:
    """Pictures side by side, the first `most` of them."""
    if len(drawn) > most:
        more = f"<div>… and {len(drawn) - most} more</div>"
    else:
        more = ""
    if drawn:
        return f"<div>{''.join(drawn[:most])}{more}</div>"
    return ""


def sheet(title: str, *blocks: str) -> str:
    """A titled block of a notebook."""
    if title:
        head = f'<div style="font-weight:600">{escape(title)}</div>'
    else:
        head = ""
    return f'<div style="color:inherit;font-family:sans-serif">{head}{"".join(blocks)}</div>'


def sentences(said: Iterable[str]) -> str:
    """One paragraph a sentence."""
    return "".join(
        f'<div style="margin:.2em 0">{escape(text)}</div>' for text in said if text
    )
