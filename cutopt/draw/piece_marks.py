"""What is drawn of one piece of cloth: its parts and cuts, and the marks that find room on them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from matplotlib.axes import Axes

from cutopt.draw.frame import Frame, grain, legend, sizes, title_above
from cutopt.draw.labels import Area, Labels, Spot, spots_in
from cutopt.draw.looks import (
    FAINT,
    FLAW_HATCH,
    INK,
    KEEP_HATCH,
    SCRAP_HATCH,
    SMALLEST_TEXT,
    areas,
    lines,
    look_of,
    ruler_unit,
    tinted,
)
from cutopt.draw.spare import usable
from cutopt.draw.views import (
    DrawnCut,
    DrawnPart,
    EqualParts,
    View,
    line_rows,
    runs,
    size_of,
)
from cutopt.geometry import Point, bounds, contains_point
from cutopt.job import Job
from cutopt.signs import letter as letter_of

_HATCHES: Final = {"used": "", "keep": KEEP_HATCH, "scrap": SCRAP_HATCH}
_SPANS_A_LINE: Final = 8


class Picture:
    """One attempt at the drawing, with a given number of rows kept for the legend."""

    def __init__(
        self,
        job: Job,
        shown: View,
        frame: Frame,
        labels: Labels,
        *,
        title: bool,
        brief: bool,
    ) -> None:
        self.job = job
        self.shown = shown
        self.frame = frame
        self.labels = labels
        self.title = title
        self.brief = brief
        self.unit = ruler_unit(job.settings.unit)
        self.letters: dict[tuple[str, str], str] = {}
        self.lettered: set[str] = set()
        self.missed: list[int] = []
        self.left_over: list[str] = []

    def paint(self, ax: Axes) -> None:
        """Draw it on axes."""
        self.frame.set(ax)
        self.labels.paint(ax)

    def lay(self) -> int:
        """Find a place for everything; gives the rows of legend that it needs."""
        if self.title:
            title_above(self.labels, self.frame, self.shown.title)
        self._cloth()
        unit = self.job.settings.unit
        x1, y1, x2, y2 = bounds(self.shown.cloth.outline)
        sizes(self.labels, self.frame, unit, (int(x2 - x1), int(y2 - y1)))
        grain(self.labels, self.frame, self.shown.cloth.grain_known)
        for row in (
            line_rows(self.shown.lines)
            if self.brief
            else [(line,) for line in self.shown.lines]
        ):
            self._number(row)
        for run in sorted(
            runs(self.shown.parts), key=lambda run: (run.box[1], run.box[0])
        ):
            self._name(run)
        for part in self.shown.parts:
            if part.kind == "keep":
                self._spare(part)
        rows, self.left_over = legend(
            self.labels, self.frame, unit, list(self._keys()), self._legend()
        )
        return rows

    def _cloth(self) -> None:
        colour = tinted(look_of(self.job, self.shown.cloth.fabric).colour, 0.22)
        for kind, hatch in _HATCHES.items():
            if kind == "used":
                ground = colour
            else:
                ground = "white"
            alike = [part.polygon for part in self.shown.parts if part.kind == kind]
            self.labels.draw(
                areas,
                alike,
                self.unit,
                facecolor=ground,
                edgecolor=FAINT,
                linewidth=0.4,
                hatch=hatch,
            )
        cloth = self.shown.cloth
        self.labels.draw(
            areas,
            cloth.flaws,
            self.unit,
            facecolor="white",
            edgecolor=INK,
            linewidth=1.2,
            hatch=FLAW_HATCH,
        )
        cuts = [
            [self._point(end) for end in ends]
            for line in self.shown.lines
            for ends in line.stretches
        ]
        self.labels.draw(
            lines,
            cuts,
            color=INK,
            linewidth=1.0,
            marker="o",
            markersize=2.4,
            solid_capstyle="butt",
        )
        self.labels.draw(
            areas,
            [cloth.outline],
            self.unit,
            fill=False,
            edgecolor=INK,
            linewidth=1.8,
        )

    def _point(self, point: Point) -> tuple[float, float]:
        return float(point[0]) / self.unit, float(point[1]) / self.unit

    def _keys(self) -> Iterable[tuple[str, str]]:
        kinds = {part.kind for part in self.shown.parts}
        if "keep" in kinds:
            yield KEEP_HATCH, "spare, keep"
        if "scrap" in kinds:
            yield SCRAP_HATCH, "scrap"
        if self.shown.cloth.flaws:
            yield FLAW_HATCH, "flaw"

    def _box(self, box: Sequence[object]) -> Area:
        x1, y1, x2, y2 = (float(v) / self.unit for v in box)  # type: ignore[arg-type]
        return (*self.labels.pixels(x1, y1), *self.labels.pixels(x2, y2))

    def _number(self, row: Sequence[DrawnCut]) -> None:
        """The number of a cut, or of the first and the last of a row of cuts, on one of them."""
        if len(row) == 1:
            text = str(row[0].n)
        else:
            text = f"{row[0].n}-{row[-1].n}"
        # the middle of the row first
        lines = sorted(row, key=lambda line: abs(2 * line.n - row[0].n - row[-1].n))
        spots = (
            spot
            for line in lines
            for a, b in line.stretches
            for spot in self._along(a, b)
        )
        if not self.labels.set(text, spots, weight="bold", frame="round", pad=1.5):
            self.missed += [line.n for line in row]

    def _along(self, a: tuple[object, object], b: tuple[object, object]) -> list[Spot]:
        """Spots on a cut, near its low end first, then beyond its ends."""
        (ax, ay), (bx, by) = (
            self.labels.pixels(*(float(v) / self.unit for v in p))  # type: ignore[arg-type]
            for p in (a, b)
        )
        long = max(abs(bx - ax), abs(by - ay), 1e-9)
        near = min(0.5, 3.4 * self.labels.px_per_mm / long)
        beyond = 2.4 * self.labels.px_per_mm / long
        shares = [
            near,
            1 - near,
            0.5,
            0.25,
            0.75,
            0.37,
            0.63,
            2 * near,
            1 - 2 * near,
            -beyond,
            1 + beyond,
        ]
        return [(ax + (bx - ax) * t, ay + (by - ay) * t) for t in shares]

    def _name(self, run: EqualParts) -> None:
        box = self._box(run.box)
        size = size_of(run.one, self.job.settings.unit)
        if len(run.parts) > 1:
            many = f"{len(run.parts)} of {size}"
        else:
            many = size
        tall = box[3] - box[1] > box[2] - box[0]
        texts = f"{run.one.what}\n{many}", f"{run.one.what}  {many}"
        tries = [(text, points, 0) for points in (9.0, SMALLEST_TEXT) for text in texts]
        tries += [(text, SMALLEST_TEXT, 90) for text in texts if tall]
        for text, points, turn in tries if self._holds(box, many) else ():
            if self.labels.set(
                text, spots_in(box), size=points, turn=turn, inside=box, frame="plain"
            ):
                return
        letter = self.letters.setdefault(
            (run.one.what, size), letter_of(len(self.letters)).lower()
        )
        spots = spots_in(box)
        within = self.labels.set(
            letter, spots, size=9, weight="bold", inside=box, frame="plain"
        )
        if within or self.labels.set(
            letter, spots, weight="bold", frame="plain", pad=0.5
        ):
            self.lettered.add(letter)

    def _holds(self, box: Area, text: str) -> bool:
        """Whether a text has room in a box, this way or that."""
        sides = sorted((box[2] - box[0], box[3] - box[1]))
        needed = sorted(self.labels.size(text, SMALLEST_TEXT))
        return needed[0] <= sides[0] and needed[1] <= sides[1]

    def _spare(self, part: DrawnPart) -> None:
        box = self._box(part.box)
        size = usable(self.job, self.shown.cloth, part.polygon).size(
            self.job.settings.unit
        )
        for text in (f"spare\n{size}", f"spare {size}", "spare"):
            wide, high = self.labels.size(text, SMALLEST_TEXT)
            spots = [
                spot for spot in spots_in(box) if self._on_cloth(part, spot, wide, high)
            ]
            if self.labels.set(text, spots, frame="plain"):
                return

    def _on_cloth(self, part: DrawnPart, spot: Spot, wide: float, high: float) -> bool:
        corners = [
            (spot[0] + dx * wide / 2, spot[1] + dy * high / 2)
            for dx in (-1, 1)
            for dy in (-1, 1)
        ]
        places = [self.labels.place(corner) for corner in corners]
        return all(
            contains_point(part.polygon, (int(x * self.unit), int(y * self.unit)))
            for x, y in places
        )

    def _legend(self) -> list[str]:
        count = dict.fromkeys(self.letters, 0)
        for part in self.shown.parts:
            key = (part.what, size_of(part, self.job.settings.unit))
            if key in count:
                count[key] += 1
        out = []
        for (what, size), letter in self.letters.items():
            if letter in self.lettered:
                mark = letter
            else:
                mark = "too small to mark"
            out.append(f"{mark}: {what}, {count[what, size]} of {size}")
        spans = _spans(self.missed)
        lines = [
            ", ".join(spans[i : i + _SPANS_A_LINE])
            for i in range(0, len(spans), _SPANS_A_LINE)
        ]
        return out + [
            ("" if i else "cuts without a number here: ") + line
            for i, line in enumerate(lines)
        ]


def _spans(numbers: Sequence[int]) -> list[str]:
    """``["3", "5-7"]``"""
    spans: list[list[int]] = []
    for number in numbers:
        if spans and number == spans[-1][1] + 1:
            spans[-1][1] = number
        else:
            spans.append([number, number])
    return [str(a) if a == b else f"{a}-{b}" for a, b in spans]
