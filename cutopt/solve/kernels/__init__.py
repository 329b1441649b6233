"""Hot loops on arrays of whole numbers, compiled by numba; the same sources run as plain Python too (`loader.py`).

`search.py` is to be opened first: one round of ruin and recreate on trees of windows; `state.py` says what each column
of an array means. A round takes parts back (`ruin.py`), gives cloth back (`returning.py`) and places what is missing
(`recreate.py`, `buying.py`) in free leaves of a tree (`tree.py`, `leaves.py`, `settle.py`), where it fits best
(`spots.py`, `cuts.py`, `insertion.py`); `score.py` weighs the state, `patterns.py` keeps what lay on each cloth.
Programmes beside the search: one plate (`plates.py`, `exact.py`, `blocks.py`), windows of irregular cloth
(`windows.py`), bands (`tight.py`), very large plates (`lanes.py`, `loss.py`, `tilings.py`). Pieced backs have a search
of their own: `sewn_search.py`, on trees as `sewn_state.py` has them (`sewn_tree.py`, `sewn_moves.py`, `sewn_curves.py`,
`sewn_size.py`, `sewn_cost.py`, `sewn_wishes.py`). Kernels import each other relatively, as they are loaded twice.
"""
