"""Open instances, run through the solver that users call, every plan checked."""

from cutopt.bench.run import run_bench

__all__ = ["run_bench"]
