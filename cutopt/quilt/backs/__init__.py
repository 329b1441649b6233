"""Backing and batting to buy: every way to piece a size from what a shop sells, and which is the better.

`ways_to_buy.py` is to be opened first: a `Way` (`way.py`) is widths side by side, with pieces at hand (`on_hand.py`),
or a make-up of panels and strips (`make_up.py`) cut (`cut_order.py`) and sewn (`sewn.py`, `cut_and_sewn.py`).
`least.py` is what none can go below, `compare.py` puts ways side by side, `seams.py` keeps them clear of the top's.
"""
