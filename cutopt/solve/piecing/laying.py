"""Where the parts of make-ups were found, as the first plan of the search for their rows."""

from __future__ import annotations

from collections.abc import Iterable

from cutopt.solve.model.layout import Layout, Placement
from cutopt.solve.model.model import Model
from cutopt.solve.piecing.as_rows import AsRows
from cutopt.solve.piecing.make_up import Laid
from cutopt.solve.search.carry_over import Carried


def known_layout(rows: AsRows, model: Model) -> Carried:
    """The parts of all make-ups where they were found, as far as they lie on the grid of another model.

    Parameters
    ----------
    rows : AsRows
    model : Model
        Of its rows.
    """
    # cuts come before strips, and each of their rows is one unit
    units = {item.row.key: number for number, item in enumerate(model.items)}
    placements = []
    for back, make_up in rows.made:
        for laid in make_up.laid:
            unit = units[rows.part_of[back.name, laid.part]]
            placement = _placement(laid, model, unit)
            if placement is not None:
                placements.append(placement)
    layout = Layout(placements=tuple(placements), purchases=(), missing=(), cost=0)
    return Carried(model=model, layout=layout, becomes={})


def _placement(laid: Laid, model: Model, unit: int) -> Placement | None:
    """A part on the grid of a model; None where it does not lie on it."""
    for number, sheet in enumerate(model.sheets):
        name = sheet.piece.name if sheet.piece is not None else ""
        bought = sheet.offered.fabric if sheet.offered is not None else ""
        by_piece = bool(bought) and not sheet.ladder
        if (name, bought, by_piece) != (laid.piece, laid.bought, laid.by_piece):
            continue
        sides = (laid.part.width, laid.part.length)
        if laid.turned:
            sides = sides[::-1]
        # of pieces to buy there are no more than can be of use
        if laid.copy >= sheet.copies:
            return None
        at = (laid.x - sheet.origin[0], laid.y - sheet.origin[1])
        if not _whole((*at, *sides), model.step):
            return None
        x, y, w, l = (ticks // model.step for ticks in (*at, *sides))
        return Placement(
            sheet=number,
            copy=laid.copy,
            unit=unit,
            x=x,
            y=y,
            w=w,
            l=l,
            turned=laid.turned,
        )
    return None


def _whole(ticks: Iterable[int], step: int) -> bool:
    return all(each % step == 0 and each >= 0 for each in ticks)
