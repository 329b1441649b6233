"""Cuts of cloths with very many parts: as few as can be, and in steps that grow about as the parts do."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from cutopt.geometry import bounds, rectangle
from cutopt.solve.cuts import cut_parts as parts
from cutopt.solve.cuts.cut_parts import ClothPart, CutLine, Rect
from cutopt.solve.cuts.sequence import cut_tree, in_order
from tests.thinned import mostly_slow


def row(many: int) -> list[Rect]:
    return [Rect(tag=k, x1=5 * k, y1=0, x2=5 * k + 5, y2=7) for k in range(many)]


def rows(many: int) -> list[Rect]:
    """Rows of ten, each lower than the one before is wide: all their lines along are alike."""
    return [
        Rect(tag=10 * k + i, x1=5 * i, y1=7 * k, x2=5 * i + 5, y2=7 * k + 7)
        for k in range(many // 10)
        for i in range(10)
    ]


def looked_at(rects: list[Rect], monkeypatch: pytest.MonkeyPatch) -> int:
    """How many parts are looked at, over all nodes, until the cuts are found."""
    seen = 0
    lines = parts._lines

    def counted(part: ClothPart) -> Iterator[CutLine]:
        nonlocal seen
        seen += len(part.rects)
        return lines(part)

    with monkeypatch.context() as patch:
        patch.setattr(parts, "_lines", counted)
        root = cut_tree(
            rectangle(max(r.x2 for r in rects), max(r.y2 for r in rects)), rects, 3.0
        )
    steps, nodes = in_order(root, "S")
    leaves = [node for node in nodes.values() if not node.axis]
    assert sorted(node.rects[0].tag for node in leaves) == [r.tag for r in rects]
    assert all(
        bounds(n.outline)
        == (n.rects[0].x1, n.rects[0].y1, n.rects[0].x2, n.rects[0].y2)
        for n in leaves
    )
    assert (
        len(steps) == len(rects) - 1
    )  # each cut parts one in two, and nothing is waste
    return seen


@pytest.mark.parametrize("lay", mostly_slow([row, rows], {rows}))
def test_twice_as_many_parts_are_not_looked_at_four_times_as_often(
    lay: object, monkeypatch: pytest.MonkeyPatch
) -> None:
    """n log n would be 2.2 times from 1000 to 2000, a square 4 times."""
    assert callable(lay)
    few = looked_at(lay(1000), monkeypatch)
    many = looked_at(lay(2000), monkeypatch)
    assert many < 2.5 * few


@pytest.mark.parametrize("turns", [1, 2])
def test_a_run_longer_than_the_stack_is_deep(turns: int) -> None:
    rects = row(3000)
    steps, _ = in_order(cut_tree(rectangle(15000, 7), rects, 0.0, turns), "S")
    assert len(steps) == 2999
    assert [step.at for step in steps] == [
        5 * k for k in range(1, 3000)
    ]  # from the left edge on, as a ruler moves
