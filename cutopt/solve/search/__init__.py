"""The search: goal-driven ruin and recreate on trees of windows, and what it is driven by.

From a `Model` to a `Layout` that costs little. `engine.py` is to be opened first: two streams of the kernel on the
arrays of `arrays.py`, compiled by `prepare.py`. `descent.py` lowers the cost step by step. Where it is stuck:
`refill.py` fills one cloth by the exact plate search, `patterns_chosen.py` puts what was met (`patterns_met.py`)
together anew, `purchase_aims.py` aims at purchases that the bound allows, by races (`races.py`); `fabrics_together.py`
chooses the fabric of rows that stay together. `roll_in_bands.py` begins one long length with `bands.py` and
`band_sets.py`. `rows_in_part.py` puts whole rows first where not everything can be had, `strips_anew.py` cuts strips
straight across at the same cost, `carry_over.py` lays a plan into the search for a job that differs a little;
`briefly.py` is a short search of its own.
"""
