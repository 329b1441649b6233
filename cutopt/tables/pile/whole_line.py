"""Whether all that a line says makes one leftover: its size, its bundle, how many there are."""

from __future__ import annotations

from typing import Final

from cutopt.errors import Problem
from cutopt.lengths import down, exact_length, parse_length
from cutopt.tables.pile.amounts import quarter_as_it_lies, unit_of
from cutopt.tables.pile.asked_back import no_size, unread
from cutopt.tables.pile.fabric_run import number_or_name
from cutopt.tables.pile.phrases import COUNTED
from cutopt.tables.pile.said import Said

_SQUARES: Final = ("square", "half square")
_SQUARE_PRECUTS: Final = ("charm_square", "layer_square")
_QUARTERS: Final = ("fat_quarter", "fat_eighth")
# sold by these alone: a length of cloth from the bolt
_BIG_UNITS: Final = ("yd", "yard", "m", "met")


def check_amount(said: Said) -> None:
    """One size, or what has a usual one.

    Parameters
    ----------
    said : Said
        Its sides are put together here.

    Raises
    ------
    Problem
        Where one is missing, or more than one is said.
    """
    _put_sides_together(said)
    _put_whole_width(said)
    _count_squares(said)
    if said.ell and not said.less:
        raise _corner_missing(said)
    lone = said.whole_width
    if said.wide and not lone:
        raise _side_missing(said, f"{said.wide} wide")
    if said.across and said.form in (*_SQUARES, "triangle"):
        raise unread(said.text, f"a {said.form} is not as wide as the cloth")
    if said.across:
        return
    if lone and said.bundle is not None and said.form == "strip":
        # a bundle of 40 strips, 2 1/2 in
        said.across = True
        return
    is_square = said.form in _SQUARES or said.precut in _SQUARE_PRECUTS
    if lone and (is_square or (said.legs and said.form == "triangle")):
        said.size, said.whole_width = (lone, lone), ""
        said.legs = False
    elif lone and not unit_of(lone):
        raise no_size(said.text, said.fabric)
    elif lone and (said.form not in ("", "piece") or said.precut):
        raise _side_missing(said, lone)
    elif lone:
        _check_length(said, lone)
    elif not said.size and not said.precut and said.bundle is None:
        raise no_size(said.text, said.fabric)
    if said.legs:
        what = "short sides are those of a triangle"
        raise unread(said.text, what, form="half")
    _check_wide(said)
    if said.size and said.precut in _QUARTERS:
        token = said.tokens[said.sized]
        unit = said.stock.unit
        said.size = quarter_as_it_lies(said.text, token, said.size, unit)


def _put_sides_together(said: Said) -> None:
    """``6 wide`` and ``20 long`` are a size; two yards long and 42 wide are a length from the bolt."""
    if said.long and said.whole_width and not said.wide:
        # a strip of 2 1/2, 30 long
        said.wide, said.whole_width = said.whole_width, ""
    if said.long and said.wide and not said.whole_width and not said.size:
        if unit_of(said.long).startswith(_BIG_UNITS) and said.form in ("", "piece"):
            said.whole_width = said.long
        else:
            said.size, said.wide = (said.wide, said.long), ""
        said.long = ""
    if said.long and unit_of(said.long).startswith(_BIG_UNITS) and not said.size:
        said.whole_width, said.long = said.long, ""
    elif said.long:
        raise _side_missing(said, said.long)


def _put_whole_width(said: Said) -> None:
    """A length and ``full width`` are a strip from selvage to selvage, but for a length sold by the yard."""
    if not said.whole:
        return
    if said.wide and not said.whole_width and not said.size:
        # a strip is as wide as it is long along the selvage
        said.whole_width, said.wide = said.wide, ""
        said.across = True
    elif said.whole_width and not unit_of(said.whole_width).startswith(_BIG_UNITS):
        said.across = True
    elif said.size and not said.across:
        sides = [_ticks(said, side) for side in said.size]
        said.whole_width = said.size[sides.index(min(sides))]
        if max(sides) < said.stock.usable(said.fabric) * 9 // 10:
            what = "it is said to be as wide as the cloth, and is not"
            raise unread(said.text, what, f"{said.fabric} {said.whole_width} x WOF")
        said.wide = said.size[sides.index(max(sides))]
        said.size = None
        said.across = True


def _count_squares(said: Said) -> None:
    """``20 x 5" squares`` are 20 of them: no square has two sizes."""
    if not said.size or said.form != "square" or not said.many or said.counts:
        return
    first, _, second, _ = said.tokens[said.sized].parts
    if first.isdigit() and first != second and unit_of(second):
        said.counts.append(int(first[:9]))
        said.many = ""
        said.size = (second, second)


def _ticks(said: Said, side: str) -> int:
    return down(parse_length(side, said.stock.unit, field="size"))


def _corner_missing(said: Said) -> Problem:
    what = f'"{said.ell}" without the corner that is missing'
    if not said.size:
        return unread(said.text, what, form="less")
    half = min(_ticks(said, side) for side in said.size) // 2
    side = exact_length(half, said.stock.unit)
    mend = (
        f"{said.text.rstrip(' .!')} less {side} x {side}, with the size of that corner"
    )
    return unread(said.text, what, mend)


def _side_missing(said: Said, lone: str) -> Problem:
    what = f'"{lone}" is one side of it, the other is missing'
    if said.form == "strip":
        other = "WOF"
    else:
        other = lone.removesuffix(" wide")
    token = said.tokens[said.sized]
    mend = said.text.replace(token.text, f"{lone} x {other}", 1)
    return unread(said.text, what, mend)


def _check_wide(said: Said) -> None:
    """A width with the selvages in it is not all to be used."""
    if said.wide and not unit_of(said.wide) and unit_of(said.whole_width):
        # of a metre and a half, 110 wide, nobody tells the width in inches
        metric = unit_of(said.whole_width).startswith(("m", "c"))
        said.wide += " cm" if metric else " in"
    if "with selvage" not in said.words:
        return
    usable = said.stock.usable(said.fabric)
    if said.size:
        _take_width_of_cloth(said, usable)
    elif said.wide and _ticks(said, said.wide) < usable:
        raise _selvage_in_it(said)
    elif said.wide:
        said.notes.append(f"{said.wide} wide with its selvages")
        said.wide = ""


def _take_width_of_cloth(said: Said, usable: int) -> None:
    """A size from selvage to selvage is as wide as the cloth usually is between them.

    Parameters
    ----------
    said : Said
    usable : int
        Between the selvages, ticks.

    Raises
    ------
    Problem
        Where it is not clear what the selvage takes.
    """
    assert said.size is not None
    if "selvages" not in _selvage_said(said).lower().replace("selvedge", "selvage"):
        # with one of them it may be as long as it is said to be
        raise _selvage_in_it(said)
    wide = [usable <= _ticks(said, side) <= usable * 6 // 5 for side in said.size]
    if sum(wide) != 1:
        raise _selvage_in_it(said)
    across = said.size[wide.index(True)]
    said.whole_width = said.size[wide.index(False)]
    said.size = None
    said.across = True
    said.notes.append(f"{across} wide with its selvages")


def _selvage_in_it(said: Said) -> Problem:
    what = "a selvage is not sewn in, and how wide it is without it is not said"
    mend = said.text.replace(_selvage_said(said), "without selvage", 1)
    return unread(said.text, what, f"{mend}, with the size of what is left")


def _selvage_said(said: Said) -> str:
    """The words that say that a selvage is there."""
    return next(
        token.text
        for token in said.tokens
        if token.means is not None and token.means.value == "with selvage"
    )


def _check_length(said: Said, lone: str) -> None:
    """A length behind the name that is not in yards or metres may be half a size."""
    before = said.tokens[: said.sized]
    name_first = any(token.kind in ("plain", "name") for token in before)
    if name_first and not unit_of(lone).startswith(_BIG_UNITS) and not said.wide:
        what = f'"{lone}" is one length alone'
        whole = f"{lone} {said.fabric} for a length of the whole width"
        mend = f"{whole}, or {said.fabric} {lone} x {lone}"
        raise unread(said.text, what, mend)


def check_bundle(said: Said) -> None:
    """Strips of a bundle, squares of a pack: so many in each, which has to be said.

    Parameters
    ----------
    said : Said

    Raises
    ------
    Problem
        Where it is not said, or what is in the bundle.
    """
    if said.bundle is None:
        return
    assert said.bundle.means is not None
    what = said.bundle.means.value or said.precut
    if said.form == "strip" and what in ("", "bundle_strip"):
        what, said.form = "bundle_strip", ""
    if said.precut and what != said.precut:
        both = f"{said.bundle.text} and {said.precut.replace('_', ' ')}"
        raise unread(said.text, f"it says both {both}", "one of the two")
    if not what and not said.size:
        mend = "strip bundle of 40 oat"
        raise unread(said.text, "what is in the bundle is not said", mend)
    said.precut = what
    if not said.each:
        end = said.bundle.end
        mend = f"{said.body[:end]} of 40{said.body[end:]}"
        raise unread(said.text, "how many are in it is not said", mend)


def check_count(said: Said, name: str) -> None:
    """One count, said where there are several; a number in words may belong to the name.

    Parameters
    ----------
    said : Said
    name : str
        As it stands in the line.

    Raises
    ------
    Problem
        Where it is missing, said twice, or in doubt.
    """
    if len(said.counts) > 1:
        raise unread(said.text, "how many there are is said twice", "it once")
    if said.many and not said.counts:
        counted = f"2 {said.body}"
        if said.body[0].isdigit():
            # no 2 1/4 yard of 2 and 1/4 yard
            counted = said.body.replace(said.many, f"2 {said.many}", 1)
        mend = f"how many there are, such as {counted}"
        raise unread(said.text, f'"{said.many}" without how many', mend)
    if said.fabric.lower() in said.stock.fabrics:
        return
    if any(token.is_a(*COUNTED) for token in said.tokens):
        return
    for token in said.tokens:
        if token.is_a("number") and f"{token.text} {name}" in said.text:
            raise number_or_name(said.text, token.text, said.count, name)
