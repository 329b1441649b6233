"""What is told besides a plan: why something is short, what would mend it, what a rule costs, how much room there is.

From a finished run (`cutopt.solve.context.Context`) to sentences that a maker reads, each with a plan behind it.
`why.py` is to be opened first: the reason (`why_short.py`) and, in this order, what would mend it. A mend is the job with
one thing changed (`changed_jobs.py`): which thing say `easier_rows.py`, `strip_mends.py`, `fewer_to_a_strip.py`,
`buy_more.py`, `wider_cloth.py`, `grid_and_turns.py` and `no_cloth_fits.py`, of what a plan leaves (`cloth_left.py`).
Each is tried by `trials.py` with a short search (`what_if.py`) and kept as it was found (`found.py`); of those that
leave the same the cheaper is told first (`cheaper_first.py`). `cost_of_rules.py`, `other_widths.py` and `room.py`
(with `cuts_followed.py`) tell the rest.
"""
