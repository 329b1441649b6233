"""Pictures on paper: the pile, pieces with their cuts, what to buy, and a whole plan (matplotlib, no pyplot)."""

from cutopt.draw.overview import draw_plan
from cutopt.draw.piece import draw_piece
from cutopt.draw.pile import draw_pile
from cutopt.draw.shopping import draw_shopping

__all__ = ["draw_piece", "draw_pile", "draw_plan", "draw_shopping"]
