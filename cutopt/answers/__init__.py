"""Questions that need the arithmetic of quilts: what a recipe needs, backing and batting to buy, sizes."""

from cutopt.answers.backing import BackingAnswer, backing_to_buy
from cutopt.answers.batting import BattingAnswer, batting_to_buy
from cutopt.answers.searched import with_search
from cutopt.answers.sizes import largest_quilt, sizes_for

__all__ = [
    "BackingAnswer",
    "BattingAnswer",
    "backing_to_buy",
    "batting_to_buy",
    "largest_quilt",
    "sizes_for",
    "with_search",
]
