"""Values of a job as the cells of their tables, so that reading gives the same values again."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction
from typing import TypeAlias

from cutopt.errors import Problem
from cutopt.fabric import ByLength, ByPiece, Fabric, Offered, Piece
from cutopt.geometry import rectangle
from cutopt.job import Job
from cutopt.lengths import format_length, parse_length
from cutopt.piecing import Back, BlockWish, SpareBlock
from cutopt.settings import Prewash
from cutopt.tables.exact_lengths import written_length
from cutopt.tables.outlines import format_outline
from cutopt.wanted import Cut, Strip, Wanted

# by column; blank ones may be left out
Cells: TypeAlias = dict[str, object]


def cells_of(job: Job) -> dict[str, Sequence[Cells]]:
    """The rows of each table of a job; those of backs and their blocks only where it has some."""
    unit = job.settings.unit
    tables: dict[str, Sequence[Cells]] = {
        "fabrics": [_fabric(fabric, job.settings.prewash) for fabric in job.fabrics],
        "pieces": [_piece(piece, unit) for piece in job.pieces],
        "shop": [_offered(offered, unit) for offered in job.shop],
        "cuts": [_cut(row, unit) for row in job.cuts],
        "strips": [_strip(row, unit) for row in job.strips],
    }
    if job.backs:
        tables["backs"] = [_back(back, unit) for back in job.backs]
    if job.spare_blocks:
        tables["blocks"] = [_block(block, unit) for block in job.spare_blocks]
    return tables


def _fabric(fabric: Fabric, prewash: Prewash) -> Cells:
    """A row; where all is washed first, a blank would be taken for what is usual."""
    if prewash == "all":
        nothing = "0%"
    else:
        nothing = ""
    return {
        "fabric": fabric.name,
        "colour": fabric.colour,
        "value": fabric.value,
        "kind": fabric.kind or "-",
        "washed": "yes" if fabric.washed else "no",
        "one_way": _one_way(fabric),
        "shrink_across": share_text(fabric.shrink_across) or nothing,
        "shrink_along": share_text(fabric.shrink_along) or nothing,
        "tags": "|".join(fabric.tags),
        "note": fabric.note,
    }


def _one_way(fabric: Fabric) -> str:
    """How its print stands up; whether it has a nap, or has none though cloth of its kind has one."""
    if fabric.nap:
        return fabric.one_way.replace("along", "nap").replace("across", "nap across")
    if fabric.usually_has_nap and not fabric.one_way:
        return "none"
    return fabric.one_way


def share_text(share: Fraction) -> str:
    """A share in per cent where that is a short decimal, else as a fraction."""
    if not share:
        return ""
    percent = share * 100
    if 10**6 % percent.denominator == 0:
        return f"{(Decimal(percent.numerator) / percent.denominator).normalize():f}%"
    return f"{share.numerator}/{share.denominator}"


def _piece(piece: Piece, unit: str) -> Cells:
    cells: Cells = {
        "piece": piece.name,
        "fabric": piece.fabric,
        "count": piece.count,
        "flaws": " | ".join(format_outline(flaw, unit) for flaw in piece.flaws),
        "edges": piece.edges,
        "grain": "known" if piece.grain_known else "unknown",
        "measured": "about" if piece.about else "exact",
        "washed": {"washed": "yes", "unwashed": "no"}.get(piece.washed, ""),
        "wish": piece.wish,
        "note": piece.note,
    }
    width, length = piece.size
    if piece.outline == rectangle(width, length):
        return cells | {
            "width": written_length(width, unit),
            "length": written_length(length, unit),
        }
    return cells | {"outline": format_outline(piece.outline, unit)}


def _offered(offered: Offered, unit: str) -> Cells:
    if offered.price is None:
        price = ""
    else:
        price = f"{offered.price:f}"
    cells: Cells = {"fabric": offered.fabric, "price": price, "note": offered.note}
    if isinstance(offered, ByPiece):
        if offered.most is None:
            most = ""
        else:
            most = str(offered.most)
        sizes = {"each_width": offered.each_width, "each_length": offered.each_length}
        return (
            cells
            | {"most": most}
            | {column: written_length(ticks, unit) for column, ticks in sizes.items()}
        )
    return cells | _by_length(offered, unit)


def _by_length(offered: ByLength, unit: str) -> Cells:
    return {
        "usable_width": written_length(offered.usable_width, unit),
        "sold_by": _sale(offered.sold_by, unit),
        "smallest": _sale(offered.smallest, unit) if offered.smallest else "",
        "most": "" if offered.most is None else _sale(offered.most, unit),
    }


def _sale(ticks: int, unit: str) -> str:
    """A length as a shop sells it, with its unit: ``3/8 yd``, ``10 cm``."""
    if unit == "in":
        trade = "yd"
    else:
        trade = "cm"
    shown = format_length(ticks, trade, mark=True)
    try:
        if parse_length(shown) == ticks:
            return shown
    except Problem:
        # shown with a leading ≈
        pass
    shown = written_length(ticks, unit)
    if shown.endswith("mm"):
        return shown
    return f"{shown} {unit}"


def _cut(row: Cut, unit: str) -> Cells:
    return _wanted(row) | {
        "cut": row.name,
        "width": written_length(row.width, unit),
        "length": written_length(row.length, unit),
        "upright": "yes" if row.upright else "",
        "most_each": "" if row.most_each is None else row.most_each,
    }


def _strip(row: Strip, unit: str) -> Cells:
    return _wanted(row) | {
        "strip": row.name,
        "width": written_length(row.width, unit),
        "total_length": written_length(row.total_length, unit),
        "shortest": written_length(row.shortest, unit),
        "join": row.join,
        "upright": "" if row.upright == "no" else row.upright,
    }


def _back(back: Back, unit: str) -> Cells:
    return {
        "back": back.name,
        "width": written_length(back.width, unit),
        "length": written_length(back.length, unit),
        "seam": written_length(back.rules.seam, unit),
        "fabrics": "|".join(back.fabrics),
        "blocks": "|".join(map(_wish, back.blocks)),
        "importance": back.importance,
        "note": back.note,
    }


def _wish(wish: BlockWish) -> str:
    """With its number, so that a block called "3 star" is not taken for three."""
    if wish.least:
        return f"must {wish.least} {wish.name}"
    return wish.name


def _block(block: SpareBlock, unit: str) -> Cells:
    sides = [written_length(side, unit) for side in block.may_trim_to or ()]
    return {
        "block": block.name,
        "count": block.count,
        "width": written_length(block.width, unit),
        "length": written_length(block.length, unit),
        "may_trim_to": " x ".join(dict.fromkeys(sides)),
        "note": block.note,
    }


def _wanted(row: Wanted) -> Cells:
    return {
        "count": row.count,
        "fabrics": "|".join(row.fabrics),
        "grain": "" if row.grain == "any" else row.grain,
        "importance": row.importance,
        "together": row.together,
        "why": row.why,
        "note": row.note,
    }
