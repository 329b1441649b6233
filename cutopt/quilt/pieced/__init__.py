"""Blocks pieced from units in rows, the maker's own and traditional ones: their rows to cut, and every patch of them.

`unit.py` is to be opened first: a unit and its patches. `panel.py` puts units into rows, `alike.py` says which patches
are cut alike, `sums.py` goes from there to the rows to cut. `in_rows.py` makes a block of the maker's own, `pattern.py`
one of a pattern that is drawn on a grid. The traditional blocks are in `straight.py` (squares and rectangles) and
`stars.py` (triangles), economy blocks in `economy.py`, those whose widths are said in `plus_and_frame.py`; `library.py`
lists them by name.
"""
