"""The long seams of a top: between blocks, along sashing and borders. A backing seam should not lie under one."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cutopt.quilt.backs.seams import TopSeams
from cutopt.quilt.recipe.dealt import check_places
from cutopt.quilt.recipe.quilt import Quilt
from cutopt.quilt.recipe.setting import Setting, all_widths
from cutopt.quilt.surds import ZERO, Exact


def long_seams(quilt: Quilt) -> TopSeams | None:
    """Where they run, from the edge of the finished patchwork; None for a top of which nothing but its size is known.

    Of an on-point setting, and of a top that is measured, only the borders' seams are given: those between blocks
    on point run askew, and those of a measured top nobody told.
    """
    setting = quilt.setting
    inner = quilt.inner
    if inner is None or (setting is None and not quilt.borders):
        return None
    edge = all_widths(quilt.borders)
    upright = [*_edges([b.sides for b in quilt.borders], inner.width)]
    level = [*_edges([b.ends for b in quilt.borders], inner.length)]
    if setting is not None and not setting.on_point:
        cell = check_places(quilt.blocks, setting, quilt.how)
        beside, below = setting.sash_between(quilt.how)
        across = _between(setting, cell[0], setting.across, beside)
        down = _between(setting, cell[1], setting.down, below)
        upright += [edge[0] + at for at in across]
        level += [edge[1] + at for at in down]
    return TopSeams(
        upright=_in_order(upright), level=_in_order(level), whole=setting is not None
    )


def _edges(widths: Sequence[Exact], inside: Exact) -> Iterator[Exact]:
    """The inner seam of each border, on both sides of a top that is `inside` without them."""
    whole = inside + 2 * sum(widths, start=ZERO)
    at = ZERO
    for width in reversed(widths):
        if not width:
            continue
        at = at + width
        yield at
        yield whole - at


def _between(
    setting: Setting, block: Exact, places: int, sash: Exact
) -> Iterator[Exact]:
    """The seams between blocks, or on both sides of the sashing between them, from the edge of the setting."""
    framed = setting.framed
    if framed:
        at = sash
    else:
        at = ZERO
    if framed:
        yield at
    for n in range(1, places + 1):
        at = at + block
        if n < places or framed:
            yield at
        if n < places:
            if sash:
                yield at + sash
            at = at + sash


def _in_order(lines: list[Exact]) -> tuple[Exact, ...]:
    """Each once, from the edge."""
    return tuple(sorted(dict.fromkeys(lines)))
