"""The search: goal-driven ruin and recreate on trees of windows, and what it is driven by.

From a `Model` to a `Layout` that costs little. `engine.py` is to be opened first: two streams of the kernel on the
arrays of `arrays.py`, compiled by `prepare.py`. `descent.py` lowers the cost; `refill.py`, `patterns_met.py`,
`patterns_chosen.py`, `purchase_aims.py`, `races.py` and `fabrics_together.py` help it where it is stuck;
`roll_in_bands.py` begins one long length with `bands.py` and `band_sets.py`; `carry_over.py` lays a plan into the
search for a job that differs a little.
"""
