"""Pictures on paper: the pile, pieces with their cuts, what to buy, and a whole plan (matplotlib, no pyplot).

Functions of `(value, *, ax=None)`. `piece.py` is to be opened first: one piece of cloth, as `views.py` gives it, with
its marks (`piece_marks.py`) in its frame (`frame.py`), by labels that never lie upon each other (`labels.py`).
`overview.py`, `pile.py` and `shopping.py` show many pieces on sheets (`sheet.py`); `quilt.py`, `backing.py`,
`lengths.py` `sewing.py` and `joined.py` a quilt, its back and batting, `pieced_back.py` with
`back_marks.py` a back that a plan pieces;
`shapes.py` what is cut by hand from a strip,
`blocks.py` the traditional blocks. `spare.py` measures what spare cloth is good for, `looks.py` has colours, hatches
and sizes of letters, `letters.py` what can be shown of a name.
"""

from cutopt.draw.overview import draw_plan
from cutopt.draw.piece import draw_piece
from cutopt.draw.pieced_back import draw_pieced_back
from cutopt.draw.pile import draw_pile
from cutopt.draw.shopping import draw_shopping

__all__ = ["draw_piece", "draw_pieced_back", "draw_pile", "draw_plan", "draw_shopping"]
