"""All backs of few parts on a coarse grid: each tree of seams, and each way to cut its parts from a pile and a length.

Sizes are whole units; a unit is half an inch. The rules are those of the checker, once more and as plainly: a seam takes
its allowance of both sides, one that meets a block takes that of blocks, and of each part enough has to show.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import combinations, count
from typing import TypeAlias

Size: TypeAlias = tuple[int, int]
# sizes as cut, each with its shorter side first, in order
Parts: TypeAlias = tuple[Size, ...]


@dataclass(frozen=True, slots=True)
class Side:
    """A seam or, where it takes nothing, the edge of the back."""

    number: int
    takes: int


EDGE = Side(0, 0)


@dataclass(frozen=True, slots=True)
class Node:
    """A part, a block or several sewn together: as cut, what lies at its sides, and where it is seen from on.

    `sides` are those on the left, on the right, below and above.
    """

    size: Size
    sides: tuple[Side, Side, Side, Side]
    seen: Size

    @property
    def shows(self) -> Size:
        """What is seen of it."""
        left, right, below, above = (side.takes for side in self.sides)
        return self.size[0] - left - right, self.size[1] - below - above


@dataclass(frozen=True, slots=True, kw_only=True)
class EveryBack:
    """All backs of at most `most` parts.

    Parameters
    ----------
    size : (int, int)
    seam, block_seam : int
        Allowances.
    least : int
        What has to show of a part each way.
    most : int
        Parts, blocks counted.
    blocks : tuple of (int, int)
        Spare blocks that may go in, each once; they cannot be trimmed.
    overage : int
        What shows of a block keeps so far from the edge of the back.
    """

    size: Size
    seam: int
    least: int
    most: int
    block_seam: int = 0
    blocks: tuple[Size, ...] = ()
    overage: int = 0

    def parts(self) -> set[Parts]:
        """For each back the parts that have to be cut."""
        found = set()
        root = Node(self.size, (EDGE, EDGE, EDGE, EDGE), (0, 0))
        for leaves, seams in self._trees(root, self.most, count(1)):
            for blocks in self._which_are_blocks(leaves):
                if self._seams_are_right(leaves, blocks, seams):
                    cloth = [leaf for leaf in leaves if leaf not in blocks]
                    if all(min(leaf.shows) >= self.least for leaf in cloth):
                        found.add(in_order(leaf.size for leaf in cloth))
        return found

    def _trees(
        self, node: Node, most: int, numbers: Iterator[int]
    ) -> Iterator[tuple[tuple[Node, ...], tuple[Side, ...]]]:
        """The leaves and seams of each tree that makes a node."""
        if self._can_be_a_leaf(node):
            yield (node,), ()
        if most < 2:
            return
        allowances = {self.seam, self.block_seam} if self.blocks else {self.seam}
        for axis in (0, 1):
            for takes in allowances:
                for at in range(2 * takes + 1, node.size[axis]):
                    seam = Side(next(numbers), takes)
                    low, high = parted(node, axis, at, seam)
                    if min(*low.shows, *high.shows) < 1:
                        continue
                    yield from self._joined(low, high, seam, most, numbers)

    def _joined(
        self, low: Node, high: Node, seam: Side, most: int, numbers: Iterator[int]
    ) -> Iterator[tuple[tuple[Node, ...], tuple[Side, ...]]]:
        others = {
            left: list(self._trees(high, most - left, numbers))
            for left in range(1, most)
        }
        for leaves, seams in self._trees(low, most - 1, numbers):
            for more, further in others[len(leaves)]:
                yield (*leaves, *more), (seam, *seams, *further)

    def _can_be_a_leaf(self, node: Node) -> bool:
        return min(node.shows) >= self.least or node.size in self.blocks

    def _which_are_blocks(self, leaves: Sequence[Node]) -> Iterator[tuple[Node, ...]]:
        """Each choice of leaves that may be the blocks."""
        able = [leaf for leaf in leaves if leaf.size in self.blocks]
        able = [leaf for leaf in able if self._is_off_the_edge(leaf)]
        for number in range(len(self.blocks) + 1):
            for some in combinations(able, number):
                sizes = [leaf.size for leaf in some]
                if all(sizes.count(one) <= self.blocks.count(one) for one in sizes):
                    yield some

    def _is_off_the_edge(self, leaf: Node) -> bool:
        ends = (a + b for a, b in zip(leaf.seen, leaf.shows, strict=True))
        gaps = (whole - end for whole, end in zip(self.size, ends, strict=True))
        return min(*leaf.seen, *gaps) >= self.overage

    def _seams_are_right(
        self, leaves: Sequence[Node], blocks: Sequence[Node], seams: Sequence[Side]
    ) -> bool:
        """A seam takes what it has to: a block lies at it, or none does."""
        met = {side.number for block in blocks for side in block.sides}
        for seam in seams:
            due = self.block_seam if seam.number in met else self.seam
            if seam.takes != due:
                return False
        return len(leaves) > len(blocks) or not leaves


def parted(node: Node, axis: int, at: int, seam: Side) -> tuple[Node, Node]:
    """The two that a seam joins to a node: the first is `at` long along the axis, as cut.

    Parameters
    ----------
    node : Node
    axis : int
        0 where they lie side by side.
    at : int
    seam : Side
    """
    sides = list(node.sides)
    sizes = [list(node.size), list(node.size)]
    sizes[0][axis] = at
    sizes[1][axis] = node.size[axis] - at + 2 * seam.takes
    low, high = list(sides), list(sides)
    low[2 * axis + 1] = seam
    high[2 * axis] = seam
    first = Node(
        (sizes[0][0], sizes[0][1]), (low[0], low[1], low[2], low[3]), node.seen
    )
    seen = list(node.seen)
    seen[axis] += first.shows[axis]
    second = Node(
        (sizes[1][0], sizes[1][1]),
        (high[0], high[1], high[2], high[3]),
        (seen[0], seen[1]),
    )
    return first, second


def in_order(sizes: Iterator[Size] | Sequence[Size]) -> Parts:
    """Sizes with the shorter side first, sorted."""
    return tuple(sorted((min(size), max(size)) for size in sizes))


@cache
def can_be_cut(parts: Parts, width: int, length: int) -> bool:
    """Whether cuts from edge to edge give all parts, turned or not, from a rectangle.

    Parameters
    ----------
    parts : tuple of (int, int)
    width, length : int
    """
    if not parts:
        return True
    if width > length:
        return can_be_cut(parts, length, width)
    if sum(a * b for a, b in parts) > width * length:
        return False
    if any(a > width or b > length for a, b in parts):
        return False
    if len(parts) == 1:
        return True
    for chosen in subsets(parts):
        if not 0 < len(chosen) < len(parts):
            continue
        rest = without(parts, chosen)
        for at in range(1, width):
            if can_be_cut(chosen, at, length) and can_be_cut(rest, width - at, length):
                return True
        for at in range(1, length):
            if can_be_cut(chosen, width, at) and can_be_cut(rest, width, length - at):
                return True
    return False


def subsets(parts: Parts) -> set[Parts]:
    """All of what may be taken of some parts."""
    return {
        tuple(some)
        for number in range(len(parts) + 1)
        for some in combinations(parts, number)
    }


def without(parts: Parts, taken: Parts) -> Parts:
    """The others."""
    left = list(parts)
    for one in taken:
        left.remove(one)
    return tuple(left)


def can_be_had(parts: Parts, pile: Sequence[Size], new: Size | None) -> bool:
    """Whether all parts can be cut from a pile of rectangles and one of new cloth.

    Parameters
    ----------
    parts : tuple of (int, int)
    pile : sequence of (int, int)
    new : (int, int), optional
    """
    sources = [*pile, *([new] if new else [])]
    if sum(a * b for a, b in parts) > sum(a * b for a, b in sources):
        return False
    return _from(parts, tuple(sources))


@cache
def _from(parts: Parts, sources: tuple[Size, ...]) -> bool:
    if not parts:
        return True
    if not sources:
        return False
    first, *others = sources
    return any(
        can_be_cut(some, *first) and _from(without(parts, some), tuple(others))
        for some in subsets(parts)
    )
