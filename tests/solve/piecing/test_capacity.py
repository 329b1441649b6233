"""The sizes of a tree against all sizes there are: shape curves of slicing floorplans (Stockmeyer 1983), by brute force."""

from __future__ import annotations

import random
from collections.abc import Iterator
from itertools import product

import numpy as np
import pytest

from cutopt.fabric import Fabric, Piece
from cutopt.job import Job
from cutopt.lengths import INCH
from cutopt.piecing import Back, BackRules
from cutopt.solve.kernels import sewn_state as k
from cutopt.solve.kernels.sewn_cost import weigh
from cutopt.solve.kernels.sewn_moves import change
from cutopt.solve.piecing.make_up import ClothPart, leaves
from cutopt.solve.piecing.new_cloth import end_to_end, table_of
from cutopt.solve.piecing.task import tasks_of
from cutopt.solve.piecing.trees import Trees
from cutopt.solve.piecing.usable import largest_rectangles
from cutopt.solve.plates.plate_table import UNTURNED
from tests.solve.piecing.piles import pile

RULES = BackRules(
    seam=INCH // 2, smallest_part=INCH, edge_part=0, overage=0, block_seam=INCH // 2
)


def job_of(rnd: random.Random, pieces: int, wide: int, high: int) -> Job:
    sizes = [(rnd.randint(3, 9), rnd.randint(3, 9)) for _ in range(pieces)]
    cut = (
        Piece.of_size(f"p{n}", "a", w * INCH, l * INCH)
        for n, (w, l) in enumerate(sizes)
    )
    back = Back(name="B1", width=wide * INCH, length=high * INCH, rules=RULES)
    return Job(fabrics=(Fabric(name="a"),), pieces=tuple(cut), backs=(back,))


def a_tree(rnd: random.Random, search: Trees, pieces: int) -> None:
    """A random tree of all pieces, the elastic leaf sewn to its root."""
    tree = search.tree
    nodes: list[int] = []
    for number in range(pieces):
        tree.node[1 + number] = (k.LEAF, 0, 0, -1, k.CLOTH, number, 0)
        tree.user[number, 0] = 1 + number
        nodes.append(1 + number)
    free = 1 + pieces
    while len(nodes) > 1:
        a, b = (nodes.pop(rnd.randrange(len(nodes))) for _ in range(2))
        tree.node[free] = (rnd.choice((k.ROW, k.STACK)), a, b, -1, 0, 0, 0)
        tree.node[a, k.UP] = tree.node[b, k.UP] = free
        nodes.append(free)
        free += 1
    tree.node[free] = (k.STACK, nodes[0], 0, -1, 0, 0, 0)
    tree.node[nodes[0], k.UP] = tree.node[0, k.UP] = free
    tree.misc[k.M_ROOT] = free


def heights(tree, sizes: list[tuple[int, int]], n: int, wide: int) -> Iterator[int]:
    """All heights that a subtree can be sewn to at a width, in inches, parts cut to any whole inch of 2 or more."""
    op, left, right = tree.node[n, : k.UP].tolist()
    if op == k.LEAF:
        w, l = sizes[tree.node[n, k.WHAT]]
        fits = {h for a, b in ((w, l), (l, w)) if wide <= a for h in range(2, b + 1)}
        yield from sorted(fits)
    elif op == k.STACK:
        both = product(*(set(heights(tree, sizes, m, wide)) for m in (left, right)))
        yield from {a + b - 1 for a, b in both}
    else:
        for one in range(2, wide):
            other = wide + 1 - one
            if other >= 2:
                a = set(heights(tree, sizes, left, one))
                yield from a & set(heights(tree, sizes, right, other))


@pytest.mark.parametrize("seed", range(25))
def test_a_tree_gives_the_greatest_height_that_brute_force_finds(seed: int) -> None:
    rnd = random.Random(seed)
    pieces = rnd.randint(1, 4)
    wide = rnd.randint(5, 9)
    job = job_of(rnd, pieces, wide, 40)
    (task,) = tasks_of(job, job.backs[0])
    search = Trees(task, 0, compiled=False)
    a_tree(rnd, search, pieces)
    weigh(task.arrays, search.tree, search.desk)
    sizes = [
        (p.size[0] // INCH, p.size[1] // INCH)
        for p in (sheet.piece for sheet in task.cloths)
        if p is not None
    ]
    root = int(search.tree.node[search.tree.misc[k.M_ROOT], k.LEFT])
    best = max(heights(search.tree, sizes, root, wide), default=0)
    steps = INCH // task.step
    found = int(search.desk.curve[0, root, wide * steps])
    # a grid finer than an inch may find more, never less
    assert found >= best * steps
    coarse = [h for h in heights(search.tree, sizes, root, wide) if h * steps > found]
    assert not coarse


def test_new_cloth_takes_no_more_than_a_hand_would_cut() -> None:
    """Strips side by side, the last pieced of as many as lie side by side (common practice, no source)."""
    table = table_of(60, 80, 42, 1, (4, 4), UNTURNED)
    # 42 wide: one strip; 50 wide: one and 9 of the next, of which four lie abreast, each a quarter as long and its seams
    assert table[42, 80].tolist() == [80, 1]
    assert table[50, 80].tolist() == [80 + end_to_end(80, 4, 1), 5]
    # 20 wide goes twice into the width: two halves sewn end to end
    assert table[20, 80].tolist() == [end_to_end(80, 2, 1), 2]
    assert end_to_end(80, 2, 1) == 41


def test_largest_rectangles_of_an_l_are_its_two_arms() -> None:
    """An L of 10 x 8 without its upper right 4 x 3 has two largest rectangles: by hand."""
    outline = ((0, 0), (10, 0), (10, 5), (6, 5), (6, 8), (0, 8))
    piece = Piece(
        name="p",
        fabric="a",
        outline=tuple((x * INCH, y * INCH) for x, y in outline),
    )
    back = Back(name="B1", width=20 * INCH, length=20 * INCH, rules=RULES)
    job = Job(fabrics=(Fabric(name="a"),), pieces=(piece,), backs=(back,))
    (task,) = tasks_of(job, back)
    steps = INCH // task.step
    boxes = np.array(largest_rectangles(task.cloths[0])) / steps
    assert boxes.tolist() == [[0, 0, 6, 8], [0, 0, 10, 5]]


def test_a_make_up_is_read_with_the_sizes_of_its_tree() -> None:
    rnd = random.Random(3)
    job = job_of(rnd, 3, 12, 12)
    (task,) = tasks_of(job, job.backs[0])
    search = Trees(task, 0, compiled=False)
    search.course(400)
    for make_up in search.make_ups():
        assert (make_up.root.width, make_up.root.length) == (12 * INCH, 12 * INCH)
        assert all(isinstance(leaf, ClothPart) for leaf in leaves(make_up.root))


def test_a_curve_that_is_kept_is_the_one_that_is_worked_out_anew() -> None:
    """Whatever is changed about a tree: curves are kept by marks that have to tell all trees apart."""
    job = pile("odd", 4).job
    (task,) = tasks_of(job, job.backs[0])
    search = Trees(task, 0, compiled=False)
    tree = search.tree
    desk = search.desk
    tree.misc[k.M_RNG] = 5
    for _ in range(400):
        if not change(task.arrays, tree, desk):
            continue
        kept = weigh(task.arrays, tree, desk)
        desk.mark[:] = -1
        assert weigh(task.arrays, tree, desk) == kept
