"""Backing and batting to buy: every way to piece a size from what a shop sells, and which is the better.

`ways_to_buy.py` is to be opened first: a `Way` (`way.py`) covers one side (`side.py`) by whole widths or pieces
(`whole_widths.py`, `whole_pieces.py`), with pieces at hand or other cloth (`on_hand.py`, `other_cloth.py`), or by a
make-up of panels and strips (`make_up.py`, said by `make_up_words.py`), cut (`cut_order.py`) and sewn (`sewn.py`,
`cut_and_sewn.py`, `sewing_order.py`). All sizes lie on the marks of a ruler (`marks.py`). `least.py` is what none can go below,
`compare.py` puts ways side by side, `seams.py` keeps them clear of the top's; `batting.py`, `scraps.py` and
`packages.py` are about batting.
"""
