"""What no plan can go below, whatever it does, and why.

From a `Model` to `Bound`: the least that must be bought, with an argument. `purchase_bound.py` is to be opened first:
it gathers arguments (`plain_arguments.py`, by area and number; `large_parts.py`; `claims.py` with `patch_counts.py`,
which a maker can redo; `pricing.py`, by what cloth is worth where each need has a price, with `windows.py` for irregular
cloth and `limited_copies.py` where copies count) and `cheapest_purchase.py` finds the cheapest that all of them allow.
`relaxed.py` rounds cloth up and needs down first, so that nothing is lost. `reasons.py` keeps why, `reasons_told.py` says
it. Of pieced backs the least to buy is in `back_bound.py` (what is counted: `back_counts.py`, of cloth `back_cloth.py`
and `back_windows.py`, of the shop `back_shop.py`; how it is said: `back_told.py`), of backs and rows together in
`joint_bound.py`. `most_of_a_row.py` bounds what is cut of plans that are short, `levels.py` makes of all this the levels
of a plan, `background.py` works beside the search, and `off_grid.py` asks what a ruler finds room
for that the grid does not.
"""
