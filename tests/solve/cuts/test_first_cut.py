"""A cloth without upright edges is begun so that a ruler can measure the cuts."""

from __future__ import annotations

from cutopt.cloth import cloth_of_piece
from cutopt.fabric import Piece
from cutopt.lengths import INCH
from cutopt.measure import best_mark, on_ruler
from cutopt.settings import Settings
from cutopt.solve.cuts.cut_parts import Rect
from cutopt.solve.cuts.cutter import Cutter
from cutopt.solve.cuts.sequence import cut_tree


def test_a_wedge_is_begun_where_its_corner_is() -> None:
    """The upper left corner of this wedge lies 3 in from the left, just where three parts of 6 1/2 in begin.

    Cut off at 6 1/2 first, the corner is gone, and the left end of the strip lies at no mark of a ruler.
    """
    i = INCH
    outline = ((0, 0), (15 * i, 0), (11 * i, 15 * i // 2), (3 * i, 15 * i // 2))
    cloth = cloth_of_piece(
        Piece(name="wedge", fabric="bark", outline=outline, edges="raw"), Settings()
    )
    y1 = i // 4
    y2 = i // 4 + 13 * i // 2
    rects = [
        Rect(tag=k, x1=(6 + 5 * k) * i // 2, y1=y1, x2=(11 + 5 * k) * i // 2, y2=y2)
        for k in range(3)
    ]
    level = cut_tree(outline, rects, 0.0, square_up=[("y", y1)])
    assert level.children[1].axis == "y"  # what counts cuts alone would do
    strip = level.children[1].children[0].outline
    assert not on_ruler(best_mark(strip, 0, 3 * i, "in").at - 3 * i, "in")
    ways = Cutter(Settings(), i // 8).ways(cloth, rects)
    assert min(way.guessed for way in ways) == 0
    assert max(way.guessed for way in ways) > 0
