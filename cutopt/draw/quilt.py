"""The quilt itself, patch by patch, at scale, in the colours of its fabrics, with its measurements."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from itertools import chain, islice, repeat
from typing import Final

from matplotlib.figure import Figure
from matplotlib.patches import Polygon as Patch

from cutopt.cloth import laid
from cutopt.draw.letters import names_of
from cutopt.draw.looks import INK, Look, lightness, lines, look_of, one_shape
from cutopt.draw.sheet import LINE, PaperSheet, blank_sheet, key, scale_bar, title, word
from cutopt.errors import Problem
from cutopt.job import Job
from cutopt.lengths import INCH
from cutopt.plan import Plan
from cutopt.quilt.recipe import block as blocks
from cutopt.quilt.recipe.layout import MEASURED, patches_of
from cutopt.quilt.recipe.quilt import Quilt
from cutopt.quilt.recipe.setting import Setting
from cutopt.quilt.surds import Number, exact
from cutopt.tables.recipe.quilt import quilt_of
from cutopt.wanted import Cut, Wanted

# the fabric of a patch that the plan does not cut, and how it looks
LACKING: Final = ""
_LACKING_LOOK: Final = Look(colour="#ffffff", hatch="xxxx")
# what stands for the top that is there already, which no fabric can be called
THERE: Final = "\0there"
_THERE_LOOK: Final = Look(colour="#ffffff", hatch="")
_TOLD: Final = {LACKING: "missing", THERE: "the top as it is"}
# mm of the drawing
WIDE = 190.0
HIGH = 232.0
# mm left of the quilt and above it, for measurements and title
LEFT = 14.0
HEAD = 26.0
_MOST_SCALE = 8.0  # mm on paper for an inch of quilt, at most


def draw_quilt(job: Job, plan: Plan | None = None, *, high: float = HIGH) -> Figure:
    """The quilt of a job that has a quilt.toml with a setting, or borders round a top.

    Parameters
    ----------
    job : Job
    plan : Plan, optional
        Then each patch has a fabric that the plan cuts it from; without, the first that its row names.
    high : float
        Height of the drawing, mm.

    Raises
    ------
    Problem
        Where the job has no quilt, or only a finished top.
    """
    quilt = quilt_of(job)
    if quilt is None or not patches_of(quilt):
        raise Problem(
            "quilt",
            "this job has no blocks and setting to draw",
            "write them into quilt.toml",
        )
    with names_of(job):
        return _drawn(job, quilt, plan, high)


def _drawn(job: Job, quilt: Quilt, plan: Plan | None, high: float) -> Figure:
    drawn = patches_of(quilt)
    fabrics = fabrics_of(job, drawn, plan, quilt.wanted)
    figure, sheet = blank_sheet(WIDE, high)
    used = sorted(dict.fromkeys(fabrics), key=lambda name: name == LACKING)
    legend = _legend_rows(sheet, used)
    said = _said(quilt, job.settings.unit, plan, lacking=LACKING in fabrics)
    foot = 18.0 + LINE * (legend + len(said))
    width, length = (float(side) for side in quilt.finished or (1, 1))
    scale = min(
        _MOST_SCALE / INCH,
        (sheet.width - 2 * LEFT) / width,
        (sheet.height - HEAD - foot) / length,
    )
    left = (sheet.width - width * scale) / 2
    low = sheet.height - HEAD - length * scale
    for patch, fabric in zip(drawn, fabrics, strict=True):
        _paint(sheet, patch, _look(job, fabric), (left, low, scale))
    outlines = [_corners(patch, (left, low, scale)) for patch in drawn]
    one_shape(sheet.ax, outlines, fill=False, edgecolor=INK, linewidth=0.5)
    title(sheet, f"{job.name}: the quilt", sheet.height - 4)
    _measures(sheet, quilt, (left, low, scale))
    _foot(sheet, job, used, said, scale, low - 15)
    return figure


def fabrics_of(
    job: Job,
    drawn: Sequence[blocks.Patch],
    plan: Plan | None,
    wanted: Sequence[Wanted] = (),
) -> list[str]:
    """A fabric for each patch: spread evenly among those that the plan cuts its row from, else the first named.

    The last patches of a row of which the plan cuts too few have none: :data:`LACKING`.

    Parameters
    ----------
    job : Job
    drawn : sequence of Patch
    plan : Plan, optional
    wanted : sequence of rows
        Of the quilt, where the job has other ones.
    """
    if plan is not None:
        cut = _cut_from(job, plan)
    else:
        cut = {}
    number = Counter(patch.row for patch in drawn)
    rows = {row.key: row for row in (*wanted, *job.wanted)}
    if plan is not None:
        short = {item.for_ for item in plan.short}
    else:
        short = set()
    turn = {}
    for row, count in number.items():
        share = cut.get(row, Counter())
        if row in short:
            there = sum(share.values()) * _patches_each(rows.get(row), count)
        else:
            there = count
        by_turns = _by_turns(share or _first_choice(job, rows.get(row)), count)
        turn[row] = chain(islice(by_turns, there), repeat(LACKING))
    if MEASURED in turn:
        turn[MEASURED] = chain(repeat(THERE))
    return [next(turn[patch.row]) for patch in drawn]


def _patches_each(row: Wanted | None, patches: int) -> int:
    """How many patches of the quilt one part of a row gives: of a square for triangles several."""
    if not isinstance(row, Cut):
        return 1
    needed = max(1, row.count - row.spares)
    return max(1, -(-patches // needed))


def _cut_from(job: Job, plan: Plan) -> dict[str, Counter[str]]:
    """For each wanted row, how many of it the plan cuts from each fabric."""
    there = laid(job, plan)
    found: dict[str, Counter[str]] = {}
    for use in plan.uses:
        found.setdefault(use.for_, Counter())[there.cloth(use.part).fabric] += 1
    return found


def _first_choice(job: Job, row: object) -> Counter[str]:
    allowed = (
        job.allowed(row)  # type: ignore[arg-type]
        if row is not None
        else tuple(fabric.name for fabric in job.fabrics)
    )
    named = bool(getattr(row, "fabrics", ()))
    return Counter(dict.fromkeys(allowed[:1] if named else allowed, 1))


def _by_turns(share: Mapping[str, int], count: int) -> Iterator[str]:
    """`count` names and more, each as often as its share, evenly mixed."""
    total = sum(share.values())
    owed = dict.fromkeys(share, 0.0)
    for _ in range(count):
        for name in owed:
            owed[name] += share[name] / total
        best = max(owed, key=lambda name: owed[name])
        owed[best] -= 1
        yield best


def _look(job: Job, fabric: str) -> Look:
    if fabric == THERE:
        return _THERE_LOOK
    if fabric:
        return look_of(job, fabric)
    return _LACKING_LOOK


def _paint(
    sheet: PaperSheet, patch: blocks.Patch, look: Look, at: tuple[float, float, float]
) -> None:
    hatching = "#ffffff" if lightness(look.colour) < 0.2 else "#555555"
    ground = Patch(
        _corners(patch, at),
        facecolor=look.colour,
        edgecolor=hatching,
        hatch=look.hatch,
        linewidth=0,
    )
    sheet.ax.add_artist(ground)


def _corners(
    patch: blocks.Patch, at: tuple[float, float, float]
) -> list[tuple[float, float]]:
    left, low, scale = at
    return [(left + x * scale, low + y * scale) for x, y in patch.corners]


def _measures(sheet: PaperSheet, quilt: Quilt, at: tuple[float, float, float]) -> None:
    """Width below, length at the left, and above the first block, sashing and the borders."""
    left, low, scale = at
    show = quilt.how.near
    width, length = quilt.finished or (exact(1), exact(1))
    rule(
        sheet,
        (left, low - 5),
        (left + float(width) * scale, low - 5),
        f"{show(width)} {quilt.how.unit}",
        below=True,
    )
    rule(
        sheet,
        (left - 6, low),
        (left - 6, low + float(length) * scale),
        f"{show(length)} {quilt.how.unit}",
    )
    top = low + float(length) * scale + 3.5
    x = left
    for border in reversed(quilt.borders):
        if not border.sides:
            continue
        wide = float(border.sides) * scale
        rule(sheet, (x, top), (x + wide, top), show(border.sides))
        x += wide
    _measure_ends(sheet, quilt, at)
    if quilt.setting is not None:
        _measure_set(sheet, quilt, quilt.setting, (x, top, scale))


def _measure_ends(
    sheet: PaperSheet, quilt: Quilt, at: tuple[float, float, float]
) -> None:
    """At the right, the borders at the top that are not as wide as those at the sides."""
    left, low, scale = at
    width, length = quilt.finished or (exact(1), exact(1))
    x = left + float(width) * scale + 3.5
    y = low + float(length) * scale
    for border in reversed(quilt.borders):
        high = float(border.ends) * scale
        if border.ends and border.ends != border.sides:
            told = quilt.how.near(border.ends)
            rule(sheet, (x, y), (x, y - high), told, right=True)
        y -= high


def _measure_set(
    sheet: PaperSheet,
    quilt: Quilt,
    setting: Setting,
    at: tuple[float, float, float],
) -> None:
    """The first block and the sashing beside it, from the edge of what is set."""
    x, top, scale = at
    show = quilt.how.near
    block = next(
        block
        for block in quilt.blocks
        if block.patches and block.made.width == _cell(quilt)[0]
    )
    side = float(block.made.width) * scale
    sash, _ = setting.sash_between(quilt.how)
    wide = float(sash) * scale
    if setting.on_point:
        x = x + wide / 2**0.5
        told = f"block {show(block.made.width)}, corner to corner"
        rule(sheet, (x, top), (x + side * 2**0.5, top), told)
        return
    if setting.framed:
        x += wide
    rule(sheet, (x, top), (x + side, top), f"block {show(block.made.width)}")
    if sash and setting.across > 1:
        rule(sheet, (x + side, top), (x + side + wide, top), show(sash))


def _cell(quilt: Quilt) -> tuple[Number, Number]:
    return min(
        (block.size for block in quilt.blocks if block.patches),
        key=lambda size: (size[0] * size[1], size[0]),
    )


def rule(
    sheet: PaperSheet,
    start: tuple[float, float],
    stop: tuple[float, float],
    text: str,
    *,
    below: bool = False,
    right: bool = False,
) -> None:
    """A thin line with ends between two points, and its length beside it (above or below where it is level).

    Parameters
    ----------
    sheet : PaperSheet
    start, stop : tuple of float
        The points, mm.
    text : str
        The length in words.
    below : bool
        Whether the words of a level one stand below it.
    right : bool
        Whether those of an upright one stand right of it.
    """
    (x1, y1), (x2, y2) = start, stop
    level = y1 == y2
    dx, dy = (0.0, 1.0) if level else (1.0, 0.0)
    ends = [[(x - dx, y - dy), (x + dx, y + dy)] for x, y in (start, stop)]
    lines(sheet.ax, [(start, stop), *ends], color=INK, linewidth=0.6)
    labels = sheet.labels
    spots = [(x1 + x2) / 2, (y1 + y2) / 2]
    if below:
        side = -1
    else:
        side = 1
    if level:
        tries = [(0.0, 2.6 * side), (0.0, 5.8 * side), (0.0, 9.0 * side)]
    else:
        tries = [(2.8 if right else -2.8, 0.0)]
    places = [labels.pixels(spots[0] + ox, spots[1] + oy) for ox, oy in tries]
    labels.set(text, places, size=9, turn=0 if level else 90, pad=0.5)


def _said(quilt: Quilt, unit: str, plan: Plan | None, *, lacking: bool) -> list[str]:
    how = quilt.how
    width, length = quilt.finished or (exact(1), exact(1))
    raw = (width + 2 * how.seam, length + 2 * how.seam)
    done, cut = (how.size(*size, how.near) for size in ((width, length), raw))
    told = [
        f"Finished {done} {unit}; the raw top, and the quilt when it is bound, {cut} {unit}."
    ]
    # nothing is to be chosen in a top that is there
    if quilt.blocks and plan is None:
        told.append(
            "Each patch in the first fabric that its line names; which goes where is yours to choose."
        )
    elif quilt.blocks:
        told.append(
            "As many patches of each fabric as the plan cuts; which goes where is yours to choose."
        )
    if lacking:
        told.append(
            "Crossed patches are missing: this plan does not cut them; why stands on page 1."
        )
    return told


def _legend_rows(sheet: PaperSheet, names: Sequence[str]) -> int:
    x = 0.0
    rows = 1
    for name in names:
        wide = (
            14.5
            + sheet.labels.size(_TOLD.get(name, name), 8.0)[0] / sheet.labels.px_per_mm
        )
        if x + wide > sheet.width - 45 and x:
            x = 0.0
            rows = rows + 1
        x += wide
    return rows


def _foot(
    sheet: PaperSheet,
    job: Job,
    names: Sequence[str],
    said: Sequence[str],
    scale: float,
    top: float,
) -> None:
    x0 = scale_bar(sheet, job.settings.unit, scale, 0.5, top) + 6
    x = x0
    y = top
    for name in names:
        wide = (
            8.5
            + sheet.labels.size(_TOLD.get(name, name), 8.0)[0] / sheet.labels.px_per_mm
        )
        if x + wide > sheet.width and x > x0:
            x = x0
            y = y - LINE - 0.6
        look = _look(job, name)
        x = key(sheet, look.hatch, _TOLD.get(name, name), x, y, look.colour) + 6
    for line in said:
        y -= LINE + 1.2
        word(sheet, line, 0, y)
