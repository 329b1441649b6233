"""Sashing: between blocks in straight rows and round them, of one cloth or several, whole or of three strips.

r rows of c columns of blocks, w the sashing, all finished. Inner with cornerstones: r(c-1) + c(r-1) sashes as long as
a block, (r-1)(c-1) cornerstones; framed r(c+1) + c(r+1) and (r+1)(c+1). Without cornerstones short sashes stand between
the blocks of a row and long ones between the rows (framed: also above, below and down both sides). Between the columns
alone stand c-1, between the rows alone r-1, as long as the quilt. Arithmetic identities.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from cutopt.quilt.conventions import Conventions
from cutopt.quilt.sashes import LONG, MIDDLE, OUTER, Sashes, labels
from cutopt.quilt.surds import Exact
from cutopt.quilt.units import seams
from cutopt.quilt.wanted_parts import (
    ClothLike,
    Made,
    a_cut,
    a_long_part,
    standing,
)
from cutopt.wanted import Upright, Wanted


@dataclass(frozen=True, slots=True, kw_only=True)
class _Run:
    """So many sashes of a name: how long, of what, how their number came about, and how a print stands on them."""

    name: str
    long: Exact
    count: int
    told: str
    of: ClothLike
    stands: Upright


def sashed(
    block: tuple[Exact, Exact],
    across: int,
    down: int,
    sashes: Sashes,
    how: Conventions,
) -> Made:
    """What stands between blocks in straight rows, and the size with it.

    Parameters
    ----------
    block : finished width and length of a block, ticks
    across, down : how many blocks
    sashes : the sashing
    how : seam and unit, and what is usual in it
    """
    w = sashes.width(how)
    if sashes.way(across, down) != "both":
        return _one_way(block, (across, down), sashes, how)
    if sashes.framed:
        more = 1
    else:
        more = -1
    width = block[0] * across + w * (across + more)
    length = block[1] * down + w * (down + more)
    if sashes.cornerstones:
        runs = _merged(_between_cornerstones(block, across, down, more, sashes))
        rows = [row for run in runs for row in short_sashes(run, sashes, how)]
        rows += _posts((across + more) * (down + more), sashes, how, (across, down))
    else:
        rows = list(
            _without_cornerstones(block, (across, down), (width, length), sashes, how)
        )
    return Made(wanted=tuple(rows), width=width, length=length)


def _one_way(
    block: tuple[Exact, Exact],
    places: tuple[int, int],
    sashes: Sashes,
    how: Conventions,
) -> Made:
    """Sashing as long as the quilt, between its columns alone or between its rows: c - 1 or r - 1."""
    across, down = places
    width = block[0] * across
    length = block[1] * down
    run = _Run(
        name=LONG,
        long=length,
        count=across - 1,
        told=f"{down} x {how.show(block[1])}",
        of=sashes.upright,
        stands="along",
    )
    if sashes.way(across, down) == "rows":
        run = _Run(
            name=LONG,
            long=width,
            count=down - 1,
            told=f"{across} x {how.show(block[0])}",
            of=sashes.level,
            stands="across",
        )
        length += sashes.width(how) * run.count
    else:
        width += sashes.width(how) * run.count
    rows = tuple(_long_sashes(run, sashes, how))
    return Made(wanted=rows, width=width, length=length)


def _between_cornerstones(
    block: tuple[Exact, Exact], across: int, down: int, more: int, sashes: Sashes
) -> Iterator[_Run]:
    """Sashes as long as a block: upright and level, those of a frame apart where they have a cloth of their own."""
    called = labels(sashes, block)
    apart = sashes.framed and sashes.frame is not None
    if apart:
        more = -1
    for name, rows, columns, long, of, stands in (
        (called.upright, down, across + more, block[1], sashes.upright, "along"),
        (called.level, across, down + more, block[0], sashes.level, "across"),
    ):
        told = f"{rows} x {columns}"
        yield _Run(
            name=name,
            long=long,
            count=rows * columns,
            told=told,
            of=of,
            stands=stands,  # type: ignore[arg-type]
        )
    if apart:
        of = sashes.frame
        yield _Run(
            name=called.frame_upright,
            long=block[1],
            count=2 * down,
            told=f"2 x {down}",
            of=of,
            stands="along",
        )
        yield _Run(
            name=called.frame_level,
            long=block[0],
            count=2 * across,
            told=f"2 x {across}",
            of=of,
            stands="across",
        )


def _merged(runs: Iterator[_Run]) -> list[_Run]:
    """Runs of one name are one; those of no sash are left out."""
    found: dict[str, _Run] = {}
    for run in runs:
        if run.name not in found:
            found[run.name] = run
            continue
        first = found[run.name]
        found[run.name] = _Run(
            name=run.name,
            long=run.long,
            count=first.count + run.count,
            told=f"{first.told} + {run.told}",
            of=run.of,
            stands=run.stands,
        )
    return [run for run in found.values() if run.count]


def short_sashes(run: _Run, sashes: Sashes, how: Conventions) -> Iterator[Wanted]:
    """The rows of sashes as long as a block; a pieced one is sewn of three strips of that length.

    Parameters
    ----------
    run : how many, of what
    sashes : the sashing
    how : seam and unit, and what is usual in it
    """
    told = f"{run.told} = {run.count}"
    for part in _parts(run.name, run.count, run.of, sashes, how):
        size = (part.width + 2 * how.seam, run.long + 2 * how.seam)
        why = f"finished {how.size(part.width, run.long)}, + {seams(how)} each way = {how.size(*size)}"
        of, laid = standing(part.of, size, run.stands)
        yield a_cut(
            part.name, laid, part.count, why, how, of, part.note, then=told + part.told
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Part:
    """A strip of a sash: the name of its row, how many, its finished width, its cloth."""

    name: str
    count: int
    width: Exact
    of: ClothLike
    told: str = ""
    note: str = ""


def _parts(
    name: str, count: int, of: ClothLike, sashes: Sashes, how: Conventions
) -> tuple[_Part, ...]:
    """A sash whole, or its outer strips and its middle one."""
    widths = sashes.widths(how)
    if len(widths) == 1:
        return (_Part(name=name, count=count, width=widths[0], of=of),)
    note = "three strips side by side make a sash"
    return (
        _Part(
            name=f"{name} {OUTER}",
            count=2 * count,
            width=widths[0],
            of=of,
            told=", 2 to each",
            note=note,
        ),
        _Part(
            name=f"{name} {MIDDLE}",
            count=count,
            width=widths[1],
            of=sashes.middle,
            told=", 1 to each",
            note=note,
        ),
    )


def _posts(
    count: int, sashes: Sashes, how: Conventions, places: tuple[int, int]
) -> list[Wanted]:
    """The cornerstones, where there are any."""
    if not count:
        return []
    if sashes.framed:
        more = 1
    else:
        more = -1
    across, down = places
    then = f"{across + more} x {down + more} = {count}"
    return [cornerstones(count, then, sashes, how)]


def cornerstones(count: int, then: str, sashes: Sashes, how: Conventions) -> Wanted:
    """A row of cornerstones, as wide as the sashing.

    Parameters
    ----------
    count : how many
    then : the sum that gives their number
    sashes : the sashing
    how : seam and unit, and what is usual in it
    """
    w = sashes.width(how)
    side = w + 2 * how.seam
    why = f"finished {how.show(w)} + {seams(how)} = {how.show(side)}"
    return a_cut("cornerstone", (side, side), count, why, how, sashes.posts, then=then)


def all_round(block: Exact, count: int, told: str, of: ClothLike) -> _Run:
    """Sashes round blocks that stand on a corner: of one length, and none of them upright.

    Parameters
    ----------
    block : finished side of a block
    count : how many sashes
    told : the sum that gives their number
    of : their cloth
    """
    return _Run(name="sash", long=block, count=count, told=told, of=of, stands="along")


def _without_cornerstones(
    block: tuple[Exact, Exact],
    places: tuple[int, int],
    size: tuple[Exact, Exact],
    sashes: Sashes,
    how: Conventions,
) -> Iterator[Wanted]:
    """Short r(c-1); long r-1 (framed r+1) of the width inside the frame; framed: 2 sides of the whole length."""
    across, down = places
    if across > 1:
        run = _Run(
            name=labels(sashes, block).upright,
            long=block[1],
            count=down * (across - 1),
            told=f"{down} x {across - 1}",
            of=sashes.upright,
            stands="along",
        )
        yield from short_sashes(run, sashes, how)
    for run in _long_runs(block, places, size, sashes, how):
        yield from _long_sashes(run, sashes, how)


def _long_runs(
    block: tuple[Exact, Exact],
    places: tuple[int, int],
    size: tuple[Exact, Exact],
    sashes: Sashes,
    how: Conventions,
) -> Iterator[_Run]:
    """Between the rows, and where the sashing is framed above, below and down both sides."""
    across, down = places
    w = sashes.width(how)
    called = labels(sashes, block)
    level = _Run(
        name=called.level,
        long=block[0] * across + w * (across - 1),
        count=down - 1,
        told=f"{across} x {how.show(block[0])} + {across - 1} x {how.show(w)}",
        of=sashes.level,
        stands="across",
    )
    if not sashes.framed:
        yield level
        return
    frame = sashes.upright
    if sashes.frame is None:
        yield replace(level, count=down + 1)
    else:
        frame = sashes.frame
        yield level
        yield replace(level, name=called.frame_level, count=2, of=frame)
    yield _Run(
        name=called.frame_upright,
        long=size[1],
        count=2,
        told=f"{down} x {how.show(block[1])} + {down + 1} x {how.show(w)}",
        of=frame,
        stands="along",
    )


def _long_sashes(run: _Run, sashes: Sashes, how: Conventions) -> Iterator[Wanted]:
    """Sashes between rows or down a side: as long as the quilt is, so that they may be joined."""
    if not run.count:
        return
    length = run.long + 2 * how.seam
    for part in _parts(run.name, run.count, run.of, sashes, how):
        width = part.width + 2 * how.seam
        why = (
            f"{run.told} + {seams(how)} = {how.show(length)}",
            f"wide {how.show(part.width)} + {seams(how)} = {how.show(width)}",
        )
        yield a_long_part(
            part.name,
            (width, length),
            part.count,
            why,
            how,
            part.of,
            stands=run.stands,
        )
