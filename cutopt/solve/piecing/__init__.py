"""Backs that are pieced: which parts, of which cloth, sewn in which order, so that little is bought.

Open `solver.py` first: a job with backs becomes one whose parts are rows, is searched as every job, and its plan
becomes one of the job as it was. `make_up.py` has the value, a tree of parts and seams; `task.py` says what may go into
such trees, `arrays.py` makes the arrays of their search, `usable.py` the rectangles that a piece gives, `new_cloth.py`
what missing cloth takes of a length; `trees.py` runs the kernels, `read_tree.py` turns what they find into make-ups,
exact to the tick, and `make_ups.py` chooses among them; `as_rows.py` turns make-ups into rows, and their plans into
plans with seams, `laying.py` puts them where they were found; `planner.py` makes a plan of a make-up; `levels.py` says how good
they are, `told.py` what buying whole and each of the `wishes.py` cost, `why_not.py` why there is no back; `ready.py`
has the kernels compiled, `beside.py` tells views no bound of one make-up alone.
"""
