"""The solver: a first full plan at once, then better ones, with a bound, until told to stop.

From a job and a limit to a `Result`. `solver.py` (`solve`) is to be opened first, then `run.py`, the phases of a run,
on what is known of it (`context.py`), and `finish.py`, its end; `fabrics_named_first.py` keeps to fabrics that the maker names
first, `empty_job.py` answers a job without cuts, `cpsat.py` is the only door to OR-Tools. The rooms, in the order in
which one may use another: `kernels/`, `control/`, `plates/`, `model/`, `bounds/`, `cuts/`, `search/`, `explain/`;
`piecing/` stands beside them: backs that are pieced.
"""
