"""The long seams of a top: between blocks, along sashing and borders. A backing seam should not lie under one."""

from __future__ import annotations

from collections.abc import Iterator

from cutopt.quilt.backs.seams import TopSeams
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.recipe.dealt import check_places
from cutopt.quilt.recipe.quilt import Quilt
from cutopt.quilt.recipe.setting import Setting
from cutopt.quilt.surds import ZERO, Exact, exact


def long_seams(quilt: Quilt) -> TopSeams | None:
    """Where they run, from the edge of the finished patchwork; None for a top of which nothing but its size is known.

    Of an on-point setting only the borders' seams are given: those between its blocks run askew.
    """
    setting = quilt.setting
    inner = quilt.inner
    if setting is None or inner is None:
        return None
    upright = [*_edges(quilt, inner.width)]
    level = [*_edges(quilt, inner.length)]
    if not setting.on_point:
        cell = check_places(quilt.blocks, setting, quilt.how)
        edge = sum((border.width for border in quilt.borders), start=ZERO)
        upright += [
            edge + at for at in _between(setting, cell[0], setting.across, quilt.how)
        ]
        level += [
            edge + at for at in _between(setting, cell[1], setting.down, quilt.how)
        ]
    return TopSeams(upright=_in_order(upright), level=_in_order(level))


def _edges(quilt: Quilt, inside: Exact) -> Iterator[Exact]:
    """The inner seam of each border, on both sides of a top that is `inside` without them."""
    whole = inside + 2 * sum((border.width for border in quilt.borders), start=ZERO)
    at = ZERO
    for border in reversed(quilt.borders):
        at = at + border.width
        yield at
        yield whole - at


def _between(
    setting: Setting, block: Exact, places: int, how: Conventions
) -> Iterator[Exact]:
    """The seams between blocks, or on both sides of the sashing between them, from the edge of the setting."""
    if setting.sashing != "none":
        sash = exact(how.read(setting.sash))
    else:
        sash = ZERO
    framed = setting.sashing == "framed"
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
