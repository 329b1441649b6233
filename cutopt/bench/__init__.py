"""Open instances, run through the solver that users call, every plan checked.

`run.py` is to be opened first: from files of instances (`instances.py`) through the solver (`instance_solver.py`, with
plans by `plans.py` that the checker replays) to what each came to (`record.py`) and a report (`report.py`, `memory.py`).
`baselines.py` is what instances are measured against, `hand_methods.py` two hands at work on a whole job.
"""

from cutopt.bench.run import run_bench

__all__ = ["run_bench"]
