"""What no plan can go below, whatever it does, and why.

From a `Model` to `Bound`: the least that must be bought, with an argument. `purchase_bound.py` is to be opened first.
`relaxed.py` rounds cloth outward and needs inward, `pricing.py` finds what cloth is worth at prices (`windows.py` for
irregular cloth, `limited_copies.py` where copies count), `claims.py`, `patch_counts.py`, `plain_arguments.py` and
`large_parts.py` are further arguments, `cheapest_purchase.py` the cheapest that all of them allow, `reasons.py` why,
`reasons_told.py` the sentence. `most_of_a_row.py` bounds what is cut of plans that are short, `levels.py` makes of
all this the levels of a plan, `background.py` works beside the search, and `off_grid.py` asks what a ruler finds room
for that the grid does not.
"""
