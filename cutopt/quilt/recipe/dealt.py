"""Which block goes where: how many have a place, and a suggestion that spreads each kind over the quilt."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import replace

from cutopt.errors import Problem
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.recipe.block import Block
from cutopt.quilt.recipe.setting import Setting
from cutopt.quilt.surds import Exact
from cutopt.wanted import IMPORTANCE


def check_places(
    blocks: Sequence[Block], setting: Setting, how: Conventions
) -> tuple[Exact, Exact]:
    """The size of a place.

    Parameters
    ----------
    blocks : all kinds; those without patches are not set
    setting : the places
    how : the unit

    Raises
    ------
    Problem
        Where blocks and places do not agree: of other sizes, too few, or larger than the setting is.
    """
    shown = [block for block in blocks if block.patches]
    if not shown:
        raise Problem(
            "setting",
            "there are no blocks to set",
            "write blocks = [...] with blocks that fill a place; loose patches and shapes take none",
        )
    cell = min(
        (block.size for block in shown), key=lambda size: (size[0] * size[1], size[0])
    )
    needed = 0
    for block in shown:
        spans = span(block, cell)
        if spans is None or (
            spans != (1, 1) and (setting.on_point or setting.sashes is not None)
        ):
            what = f"{block.name} is {how.size(*block.size)}, and a place is {how.size(*cell)}"
            raise Problem(
                "setting",
                what,
                "make all blocks of one size, or bring them up to it with strips",
            )
        if spans[0] > setting.across or spans[1] > setting.down:
            what = f"{block.name} reaches over {spans[0]} x {spans[1]} places, across and down"
            raise Problem(
                "setting",
                f"{what}, of {setting.across} x {setting.down}",
                "set more, or leave it out",
            )
        needed += block.count * spans[0] * spans[1]
    if setting.on_point and cell[0] != cell[1]:
        raise Problem(
            "setting",
            f"{how.size(*cell)} is not square",
            "only square blocks are set on point",
        )
    if needed < setting.places:
        what = f"{setting.places} places and blocks for {needed} of them"
        raise Problem(
            "setting", what, f"make {setting.places - needed} more, or set fewer"
        )
    return cell


def with_a_place(
    blocks: Sequence[Block],
    setting: Setting,
    cell: tuple[Exact, Exact],
    how: Conventions,
) -> list[int]:
    """How many of each block have a place in the setting; all of one that is not set.

    What must be cut goes before what is wished for, and larger blocks before smaller ones; kinds alike in that are
    left out in proportion to their numbers.

    Parameters
    ----------
    blocks, setting : the kinds, and the places
    cell : finished width and length of a place, ticks
    how : the unit

    Raises
    ------
    Problem
        Where larger blocks leave places that nothing fills.
    """
    given = _by_area(blocks, setting, cell)
    if setting.on_point:
        return given
    shown = [
        replace(block, count=count)
        for block, count in zip(blocks, given, strict=True)
        if block.patches and count
    ]
    if all(span(block, cell) != (1, 1) for block in shown):
        size = how.size(*cell)
        what = f"larger blocks take all {setting.places} places of {size}"
        mend = "leave the smaller blocks out, and say how many larger ones are across and down"
        raise Problem("setting", what, mend)
    lie = Counter(id(block) for block, _, _ in arranged(shown, setting, cell))
    filled = sum(lie[id(block)] * _area(span(block, cell)) for block in shown)
    if filled < setting.places:
        empty = setting.places - filled
        what = f"the blocks do not go together: {empty} of {setting.places} places stay empty"
        mend = "make more of the smaller blocks, or change across and down"
        raise Problem("setting", what, mend)
    return given


def _by_area(
    blocks: Sequence[Block], setting: Setting, cell: tuple[Exact, Exact]
) -> list[int]:
    """How many of each block have a place by their area."""
    given = [block.count for block in blocks]
    room = setting.places
    ranked: dict[tuple[int, int], list[int]] = {}
    for i, block in enumerate(blocks):
        if block.patches:
            ranked.setdefault((_rank(block), -_area(span(block, cell))), []).append(i)
    for (_, area), kinds in sorted(ranked.items()):
        counts = _in_proportion([blocks[i].count for i in kinds], room // -area)
        for i, count in zip(kinds, counts, strict=True):
            given[i] = count
            room += count * area
    return given


def _rank(block: Block) -> int:
    """0 for blocks of which some part must be cut."""
    return min(IMPORTANCE.index(row.importance) for row in block.made.wanted)


def _in_proportion(counts: Sequence[int], most: int) -> list[int]:
    """Counts that come to `most` at most, each its share of it; the largest fractions are rounded up."""
    total = sum(counts)
    if total <= most:
        return list(counts)
    shares = [divmod(count * most, total) for count in counts]
    given = [whole for whole, _ in shares]
    for i in sorted(range(len(counts)), key=lambda i: -shares[i][1])[
        : most - sum(given)
    ]:
        given[i] += 1
    return given


def span(block: Block, cell: tuple[Exact, Exact]) -> tuple[int, int] | None:
    """How many places across and down a block takes; None where it is no whole number of them."""
    found = []
    for size, one in zip(block.size, cell, strict=True):
        n = (size / one).__floor__()
        if n < 1 or one * n != size:
            return None
        found.append(n)
    return found[0], found[1]


def arranged(
    blocks: Sequence[Block], setting: Setting, cell: tuple[Exact, Exact]
) -> list[tuple[Block, int, int]]:
    """A place (column, row from the top) for each block: a suggestion, each kind spread evenly over the quilt.

    Parameters
    ----------
    blocks, setting : the kinds, and the places
    cell : finished width and length of a place, ticks
    """
    shown = [block for block in blocks if block.patches]
    free = {(c, r) for r in range(setting.down) for c in range(setting.across)}
    placed: list[tuple[Block, int, int]] = []
    for block in sorted(shown, key=lambda b: -_area(span(b, cell))):
        wide, high = span(block, cell) or (1, 1)
        if (wide, high) == (1, 1):
            continue
        for c, r in _spread(block.count, setting, wide, high, free):
            placed.append((block, c, r))
            free -= {(c + i, r + j) for i in range(wide) for j in range(high)}
    single = [block for block in shown if span(block, cell) == (1, 1)]
    return placed + _scattered(single, sorted((r, c) for c, r in free))


def _scattered(
    kinds: Sequence[Block], places: Sequence[tuple[int, int]]
) -> list[tuple[Block, int, int]]:
    """Each kind as often as it is there, evenly, and beside its like only where there is nothing else."""
    left = {i: block.count for i, block in enumerate(kinds)}
    owed = dict.fromkeys(left, 0.0)
    total = sum(left.values()) or 1
    lies: dict[tuple[int, int], int] = {}

    def wish(i: int, r: int, c: int) -> float:
        beside = (lies.get((r, c - 1)) == i) + (lies.get((r - 1, c)) == i)
        askew = (lies.get((r - 1, c - 1)) == i) + (lies.get((r - 1, c + 1)) == i)
        return owed[i] - 2 * beside - 0.3 * askew

    for r, c in places:
        for i in owed:
            owed[i] += kinds[i].count / total
        able = [i for i in left if left[i]]
        if not able:
            break
        best = max(able, key=lambda i: wish(i, r, c))
        owed[best] -= 1
        left[best] -= 1
        lies[r, c] = best
    return [(kinds[i], c, r) for (r, c), i in lies.items()]


def _area(spans: tuple[int, int] | None) -> int:
    if spans:
        return spans[0] * spans[1]
    return 0


def _spread(
    count: int, setting: Setting, wide: int, high: int, free: set[tuple[int, int]]
) -> list[tuple[int, int]]:
    """Places for blocks larger than one place, far from each other."""
    able = [
        (c, r)
        for c, r in sorted(free)
        if all((c + i, r + j) in free for i in range(wide) for j in range(high))
    ]
    chosen: list[tuple[int, int]] = []
    corners = ((0.0, 0.0), (float(setting.across), float(setting.down)))
    while able and len(chosen) < count:
        rest = [
            p
            for p in able
            if not any(
                abs(p[0] - q[0]) < wide and abs(p[1] - q[1]) < high for q in chosen
            )
        ]
        if not rest:
            break
        seen = [(float(c), float(r)) for c, r in chosen] or list(corners)
        best = max(
            rest, key=lambda p: min((p[0] - x) ** 2 + (p[1] - y) ** 2 for x, y in seen)
        )
        chosen.append(best)
    return chosen


def on_point(
    kinds: Sequence[Block], outer: int, inner: int
) -> tuple[list[Block], list[Block]]:
    """Blocks for the places along the edges of an on-point setting, and for those between them.

    Each place of the one has its neighbours in the other, like the fields of two colours of a board. So kinds that
    come to just the number of the inner places (or as near as they come below it) lie there, and alternate with the
    others.

    Parameters
    ----------
    kinds : blocks that are set
    outer, inner : how many places lie along the edges, and between them
    """
    inside = _filling([kind.count for kind in kinds], inner)
    left = {i: kind.count for i, kind in enumerate(kinds)}
    first = _by_turns({i: left[i] for i in inside}, inner)
    for i in first:
        left[i] -= 1
    more = _by_turns(left, inner - len(first) + outer)
    split = _every_other(len(more), inner - len(first))
    within = [*first, *(more[n] for n in split)]
    around = [i for n, i in enumerate(more) if n not in split]
    outside = [kinds[i] for i in around]
    return outside, [kinds[i] for i in within]


def _filling(counts: Sequence[int], most: int) -> list[int]:
    """Which kinds come nearest to `most` together, and not above it; of several ways the one of fewest kinds."""
    ways: dict[int, list[int]] = {0: []}
    for i, count in enumerate(counts):
        for total, chosen in sorted(ways.items(), reverse=True):
            more = total + count
            if (
                more <= most
                and len(ways.get(more, range(len(counts) + 1))) > len(chosen) + 1
            ):
                ways[more] = [*chosen, i]
    return ways[max(ways)]


def _by_turns(left: Mapping[int, int], places: int) -> list[int]:
    """Kinds in turn, each as evenly as its number allows."""
    have = dict(left)
    total = sum(left.values()) or 1
    owed = dict.fromkeys(left, 0.0)
    out: list[int] = []
    while len(out) < places and any(have.values()):
        for i in owed:
            owed[i] += left[i] / total
        best = max((i for i in have if have[i]), key=lambda i: owed[i])
        owed[best] -= 1
        have[best] -= 1
        out.append(best)
    return out


def _every_other(of: int, so_many: int) -> set[int]:
    """So many numbers below `of`, spread evenly."""
    return {(2 * n + 1) * of // (2 * so_many) for n in range(so_many)}
