"""Plates so large beside their parts that the table of all their sizes cannot be filled.

From a plate and parts, copies unlimited, to a plan and a bound on its value. `large_plate.py` is to be opened first:
it takes a bound from `two_scales.py` and a search over few sizes at a time from `size_search.py`, which begins from
`part_columns.py`, `tilings.py` and `drawn_sizes.py`, looks along all sizes of one axis with `size_lanes.py`, and ends
with `little_loss.py`, which looks through all plans that lose little.
"""
