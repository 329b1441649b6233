"""The entries of the lists of a plan.json as values of a plan, each with what is wrong in it noted."""

from __future__ import annotations

from typing import Final, get_args

from cutopt.plan import (
    CutStep,
    Join,
    Level,
    Seam,
    Short,
    Side,
    Source,
    Spare,
    Trim,
    Use,
)
from cutopt.tables.plan.json_nodes import Node
from cutopt.tables.plan.older_files import Amounts, sold_by_piece
from cutopt.wanted import JOINS

_SIDES: Final[tuple[Side, ...]] = get_args(Side)


def read_source(node: Node, bought: Amounts) -> Source:
    """Cloth that is cut; `bought` tells which purchases of an older file are pieces."""
    if node.has("piece") == node.has("bought"):
        node.note(
            "",
            "a source is either a piece of the pile or bought",
            "give piece or bought",
        )
    if node.has("piece"):
        node.only("id", "piece", "copy", "width", "length")
        # which the pile of the job tells, and a plan has no need of
        for side in ("width", "length"):
            if node.has(side):
                node.whole(side, least=1)
        return Source(
            id=node.text("id"),
            piece=node.text("piece"),
            copy=node.whole("copy", 1, least=1) or 1,
        )
    node.only("id", "bought", "by_piece", "copy", "width", "length", "price")
    fabric = node.text("bought", "")
    length = node.whole("length", least=1) or 0
    return Source(
        id=node.text("id"),
        bought=fabric,
        by_piece=node.flag("by_piece", sold_by_piece(fabric, length, bought)),
        copy=node.whole("copy", 1, least=1) or 1,
        width=node.whole("width", least=1) or 0,
        length=length,
        price=node.money("price"),
    )


def read_cut(node: Node) -> CutStep:
    """One cut."""
    node.only("n", "part", "x", "y", "line", "gives")
    if [node.has(key) for key in ("x", "y", "line")].count(True) != 1:
        node.note(
            "",
            "a cut is at one x, at one y or along one line",
            "give exactly one of x, y and line",
        )
    return CutStep(
        n=node.whole("n", least=1) or 0,
        part=node.text("part"),
        gives=node.texts("gives"),
        x=node.whole("x", None) if node.has("x") else None,
        y=node.whole("y", None) if node.has("y") else None,
        line=node.line("line") if node.has("line") else None,
    )


def read_use(node: Node) -> Use:
    """What a part is for."""
    node.only("part", "for", "turned")
    return Use(
        part=node.text("part"),
        for_=node.text("for"),
        turned=node.flag("turned", default=False),
    )


def read_spare(node: Node) -> Spare:
    """A part that nothing is cut from."""
    node.only("part", "keep")
    return Spare(part=node.text("part"), keep=node.flag("keep", default=False))


def read_join(node: Node) -> Join:
    """Segments that are sewn to a strip."""
    node.only("for", "segments", "join", "length")
    return Join(
        for_=node.text("for"),
        segments=node.texts("segments"),
        join=node.choice("join", JOINS),
        length=node.whole("length", least=1) or 0,
    )


def read_seam(node: Node) -> Seam:
    """One seam of a back."""
    node.only("n", "back", "a", "b", "side", "seam", "gives")
    return Seam(
        n=node.whole("n", least=1) or 0,
        back=node.text("back"),
        a=node.text("a"),
        b=node.text("b"),
        side=node.choice("side", _SIDES),
        seam=node.whole("seam", least=0) or 0,
        gives=node.text("gives"),
    )


def read_trim(node: Node) -> Trim:
    """A spare block that goes into a back."""
    node.only("block", "width", "length", "turned")
    return Trim(
        block=node.text("block"),
        width=node.whole("width", least=1) or 0,
        length=node.whole("length", least=1) or 0,
        turned=node.flag("turned", default=False),
    )


def read_short(node: Node) -> Short:
    """What is short."""
    node.only("for", "count", "why", "mends")
    return Short(
        for_=node.text("for"),
        count=node.whole("count", least=1) or 0,
        why=node.text("why", ""),
        mends=node.texts("mends", ()),
    )


def read_level(node: Node) -> Level:
    """One level of what makes a plan good."""
    node.only("name", "value", "bound", "proved")
    return Level(
        name=node.text("name"),
        value=node.text("value"),
        bound=node.text("bound"),
        proved=node.flag("proved"),
    )
