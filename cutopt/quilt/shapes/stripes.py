"""A border cut along one stripe of a print, so that the stripe runs round the quilt."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from cutopt.errors import Problem
from cutopt.quilt.borders import border
from cutopt.quilt.conventions import DEFAULT, Conventions, Length
from cutopt.quilt.shapes.motifs import Repeat, one_way, repeat_of
from cutopt.quilt.shapes.nested import Held
from cutopt.quilt.surds import Exact, exact
from cutopt.quilt.wanted_parts import ClothLike, ClothWanted, Made, a_cut, cloth
from cutopt.wanted import Cut

# sides of one length
_PAIR: Final = 2


def striped_border(
    inside: tuple[Exact, Exact],
    width: Length,
    repeat: Length,
    of: ClothLike = None,
    how: Conventions = DEFAULT,
    name: str = "border",
) -> Made:
    """A mitred border whose sides show the same stripe of a print that runs along the selvage.

    Each side takes one stripe of the width of the cloth, in its whole length. The two sides of one length are cut from
    one rectangle that holds two stripes wherever the print begins; from one each where the usual cloth need not.

    Parameters
    ----------
    inside : finished width and length of what it goes round
    width : finished width of the border
    repeat : from stripe to stripe across the fabric
    of : its cloth, any where nothing is said
    how : seam, usable width and grid
    name : of the rows

    Raises
    ------
    Problem
        Where the usual cloth need not hold one whole stripe, or the cloth is to lie otherwise.
    """
    chosen = _along(cloth(of))
    window = how.read(width, "width") + 2 * how.seam
    stripes = Repeat(repeat=repeat_of(repeat, how), window=window)
    widest = stripes.fit_in(how.usable_width)
    if not widest:
        what = f"cloth {how.show(how.usable_width)} wide need not hold a whole stripe {how.show(window)} wide"
        raise Problem("stripe", what, "make the border narrower, or take wider cloth")
    mitred = replace(how, border_corner="mitred", border_cut="in one piece")
    sides = border(inside, width, chosen, mitred, name)
    rows = tuple(
        _row(side, stripes, min(widest, _PAIR), chosen, how) for side in sides.cuts
    )
    note = (
        f"{name}: planned so that every side finds its stripe wherever the print begins. Lay the corners out before you "
        "cut the mitres: they meet where the print along the stripe does"
    )
    held = tuple(Held(row=row.key, count=_PAIR // row.count) for row in rows)
    return replace(sides, wanted=rows, notes=(*sides.notes, note), held=held)


def _along(of: ClothWanted) -> ClothWanted:
    """The cloth with the stripe along the selvage."""
    if of.grain == "across" or of.upright:
        told = "upright" if of.upright else "grain across"
        what = f"a stripe that runs round lies along the selvage, and {told} is said"
        raise Problem("stripe", what, f"leave {told} out")
    return replace(of, grain="along")


def _row(
    side: Cut, stripes: Repeat, beside: int, of: ClothWanted, how: Conventions
) -> Cut:
    """The row of the two sides of one length.

    Parameters
    ----------
    side : as it is without a stripe
    stripes : how often they come, and how wide each is cut
    beside : how many sides lie side by side
    of : its cloth
    how : the unit
    """
    wide = stripes.room(beside)
    why = f"{side.why}; {beside} beside each other: {one_way(stripes, beside, how)}"
    window = how.show(stripes.window)
    note = f"stripe along the selvage: from each {beside} to cut {window} wide, all by the same line of the print"
    size = wide, exact(side.length)
    count = _PAIR // beside
    return a_cut(side.name, size, count, why, how, of, note, spares=False)


__all__ = ["striped_border"]
