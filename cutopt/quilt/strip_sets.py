"""Strips sewn side by side and cut across, and a bundle of strips folded on itself.

Finished sizes go in, seams not counted, but where a strip is as it was cut; the sums are arithmetic identities.
"""

from __future__ import annotations

from cutopt.errors import Problem
from cutopt.fabric import counted
from cutopt.quilt.conventions import DEFAULT, Conventions, Length
from cutopt.quilt.surds import Number, exact
from cutopt.quilt.units import seams
from cutopt.quilt.wanted_parts import (
    ClothLike,
    Made,
    a_cut,
    joined_count,
)
from cutopt.wanted import Cut


def strip_set(
    name: str,
    widths: tuple[Length, ...],
    segment: Length,
    count: int,
    of: tuple[ClothLike, ...] = (),
    how: Conventions = DEFAULT,
) -> Made:
    """Strips sewn side by side, then cut across into `count` segments.

    Parameters
    ----------
    widths : lengths
        Finished width of each strip, in order; k of one width w come to kw + 2 seams unfinished.
    segment : length
        Finished length of a segment.
    of : cloth of each strip
        Left out: any fabric for every strip.

    Returns
    -------
    Made
        Strips no longer than the fabric is wide, each as long as its segments need; `width` is that of a
        segment (across the strips), `length` its own.

    Raises
    ------
    Problem
        Where no segment fits across the fabric.
    """
    counted("count", count)
    wide = [how.read(width, "widths") for width in widths]
    sub = how.read(segment, "segment") + 2 * how.seam
    each = max(0, (exact(how.usable_width) / how.cut_size(sub)).__floor__())
    if not each or not wide:
        raise Problem("segment", "no segment fits across the fabric", "make it shorter")
    full, rest = divmod(count + how.spares, each)
    rows: list[Cut] = []
    for i, width in enumerate(wide):
        choice = of[i] if i < len(of) else None
        for times, segments, word in ((full, each, ""), (1, rest, " short")):
            if times and segments:
                length = exact(how.cut_size(sub)) * segments
                size = (width + 2 * how.seam, length)
                why = f"finished {how.show(width)} + {seams(how)} = {how.show(size[0])}"
                then = f"{segments} segments of {how.show(how.cut_size(sub))} = {how.show(length)} long"
                label = f"{name} strip {i + 1}{word}"
                rows.append(
                    a_cut(label, size, times, why, how, choice, then=then, spares=False)
                )
    sewn = sum(wide, start=exact(0))
    sub_cut = how.show(how.cut_size(sub))
    extra = f" for {count} segments and {how.spares} spare" if how.spares else ""
    sets = full + bool(rest)
    note = f"{name}: {sets} set{'s' * (sets > 1)}{extra}, {how.show(sewn + 2 * how.seam)} high, cut every {sub_cut}"
    return Made(wanted=tuple(rows), width=sewn, length=how.read(segment), notes=(note,))


def folded_bundle(
    strips: int, length: Length, width: Length, folds: int, how: Conventions = DEFAULT
) -> Made:
    """Strips sewn end to end to one, which is folded in two and sewn to itself `folds` times over.

    `width` is that of a strip as cut. Straight joins lose 2 seams, diagonal ones (`border_join`) the width. The
    long strip L gives 2^folds rows of L / 2^folds.

    Parameters
    ----------
    strips : how many
    length, width : of a strip as cut
    folds : how often it is folded and sewn to itself
    how : seam, and how strips are joined
    """
    across = how.read(width, "width")
    loss = exact(2 * how.seam) if how.border_join == "straight" else across
    whole = how.read(length, "length") * strips - loss * (strips - 1)
    rows = 2**folds
    note = f"{strips} strips end to end: {how.show(whole)}; {rows} rows of {how.show(whole / rows)}"
    high = (across - 2 * how.seam) * rows
    return Made(
        wanted=(), width=high, length=whole / rows - 2 * how.seam, notes=(note,)
    )


def strips_for(total: Number, width: Number, loss: Number) -> int:
    """How many strips of fabric reach a total, end to end; see :func:`cutopt.quilt.wanted_parts.joined_count`.

    Parameters
    ----------
    total : length to reach, ticks
    width : of the fabric, ticks
    loss : what each join takes, ticks
    """
    return joined_count(total, width, loss)
