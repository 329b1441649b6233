"""How the maker's own cloth is cut for a back, and her own batting joined: a sentence for each piece."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from cutopt.answers.backing import BackingAnswer
from cutopt.answers.batting import BattingAnswer
from cutopt.quilt.backs.batting import BattingWay
from cutopt.quilt.backs.scraps import Bit, bits_of
from cutopt.quilt.backs.sewn import BackPart, parts_of
from cutopt.quilt.backs.way import OnHand, Way
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.surds import ZERO, Exact


@dataclass(frozen=True, slots=True, kw_only=True)
class Strips:
    """Parts side by side on a piece of the maker's own: `wide` each across the cuts, trimmed to `long` each.

    `up` tells whether the cuts run along the selvage.
    """

    wide: tuple[Exact, ...]
    long: tuple[Exact, ...]
    up: bool


def strips_on(held: OnHand, sizes: Sequence[tuple[Exact, Exact]]) -> Strips | None:
    """Parts of these sizes side by side on a piece, either way round; None where they do not fit so.

    Parameters
    ----------
    held : a rectangle on hand
    sizes : width and height of each part as it hangs, ticks; all are cut the same way round
    """
    for turned in (False, True):
        both = [size[::-1] if turned else size for size in sizes]
        wide = tuple(size[0] for size in both)
        long = tuple(size[1] for size in both)
        whole = sum(wide, start=ZERO)
        if whole <= held.width and max(long) <= held.length:
            return Strips(wide=wide, long=long, up=True)
        if whole <= held.length and max(long) <= held.width:
            return Strips(wide=wide, long=long, up=False)
    return None


def cut_from_own(answer: BackingAnswer, way: Way) -> list[str]:
    """What is cut from the maker's own for a back, a sentence for each piece; nothing where none of it is used."""
    groups: dict[str, list[BackPart]] = {}
    for part in parts_of(way.sewn):
        if part.own:
            groups.setdefault(part.own, []).append(part)
    told: list[str] = []
    for name, parts in groups.items():
        copies = [held for held in answer.hand if held.name == name]
        # of several alike each is a part of its own
        if len(copies) == 1:
            shares = [parts]
        else:
            shares = [[part] for part in parts]
        for held, share in zip(copies, shares, strict=False):
            told += _told(held, share, answer.how)
    return told


def _told(held: OnHand, parts: Sequence[BackPart], how: Conventions) -> Iterator[str]:
    sizes = [(part.width, part.height) for part in parts]
    strips = strips_on(held, sizes)
    if strips is None:
        return
    size = how.size(held.width, held.length)
    if held.unwashed == "after the wash":
        what = f"Your own {held.name}, washed first ({size} then)"
    else:
        what = f"Your own {held.name} ({size})"
    if strips.up:
        way = "along the selvage"
    else:
        way = "straight across"
    side, other = ("wide", "long") if strips.up else ("long", "wide")
    each = _each(strips.wide, how)
    long = _each(strips.long, how)
    if len(parts) > 1:
        cut = f"cut {len(parts)} parts, each {each} {side}, {way}; trim each to {long} {other}"
    elif strips.wide[0] == (held.width if strips.up else held.length):
        cut = f"trim it to {long} {other}, and leave it as {side} as it is"
    else:
        cut = f"cut a part {each} {side}, {way}; trim it to {long} {other}"
    if strips.up:
        across = strips.wide[0]
    else:
        across = strips.long[0]
    # all parts of a piece are cut the same way round
    if across != parts[0].width:
        each_part = "each" if len(parts) > 1 else "it"
        cut += f"; {each_part} is sewn in turned a quarter, its selvage sides across"
    yield f"{what}: {cut}."


def _each(sizes: Sequence[Exact], how: Conventions) -> str:
    """One size for all, or each in order."""
    return " and ".join(dict.fromkeys(how.least(size) for size in sizes))


def joined_so(answer: BattingAnswer, way: BattingWay) -> list[str]:
    """How the maker's own batting is trimmed and butted, column by column, and what of the bought lies beside it."""
    how = answer.how
    need = answer.need
    long, across = need.length, need.width
    if not way.upright:
        long, across = across, long
    told = []
    left = list(answer.hand)
    for column in way.columns:
        bits = tuple(bits_of(column, left))
        for bit in bits:
            left.remove(bit.scrap)
        sizes = "; ".join(_bit(bit, how) for bit in bits)
        end = ""
        if column.length > long:
            end = f"; trim the last so that all is {how.least(long)} long"
        told.append(f"{how.least(column.width)} wide: {sizes}{end}.")
    missing = across - sum((column.width for column in way.columns), start=ZERO)
    if way.what and missing > 0:
        size = how.size(missing, long, how.least)
        told.append(f"Beside it {way.what}, {size}.")
    return told


def _bit(bit: Bit, how: Conventions) -> str:
    """``fluff-1 (30 x 60), turned, trimmed to 34 x 30``."""
    scrap = bit.scrap
    size = how.size(scrap.width, scrap.length)
    if bit.turned:
        turned = ", turned"
    else:
        turned = ""
    trimmed = how.size(bit.width, bit.length)
    if trimmed in (size, how.size(scrap.length, scrap.width)):
        return f"{scrap.name} ({size}){turned}"
    return f"{scrap.name} ({size}){turned}, trimmed to {trimmed}"
