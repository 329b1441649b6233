"""Questions that need the arithmetic of a quilt, the job and what a plan has taken: backing and batting, sizes.

`backing.py` (`backing_to_buy`) is to be opened first: what is asked (`backing_asked.py`), every way checked once more
(`backing_checks.py`), what is told beside them (`backing_notes.py`). `batting.py` is the same of batting,
`choosing.py` puts both beside a cutting plan, `shelf.py` says what that plan leaves in shop and pile, `own_cut.py`
how cloth of the maker's own is cut for a back (`washed_first.py`), `rectangles_inside.py` how large a back a piece of
any shape gives. `searched.py` asks the general solver too, `sizes.py` tells usual and largest sizes.
"""

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
