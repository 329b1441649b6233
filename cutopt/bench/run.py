"""`cutopt bench`: solve instances one after the other, check every plan, and compare with what is known."""

from __future__ import annotations

import json
import sys
import time
from collections.abc import Sequence
from dataclasses import asdict
from pathlib import Path

from cutopt.bench.baselines import packing_library, strip_method
from cutopt.bench.instance_solver import SolvedInstance, solve_instance
from cutopt.bench.instances import Instance, default_folder, load
from cutopt.bench.memory import forget_peak, peak_mb
from cutopt.bench.record import Record
from cutopt.bench.report import table, totals
from cutopt.check import check
from cutopt.errors import Problem
from cutopt.solve.control.stop import Seconds, Stop

_RECTPACK_SECONDS = 3.0


def run_bench(
    data: Path | None = None,
    family: str | None = None,
    seconds: float = 5.0,
    saved: Path | None = None,
) -> int:
    """Run the instances of a folder and print the table; 0 where every plan passes the check.

    An interrupt keeps what is done; the instance that it met is left out.

    Parameters
    ----------
    data : Path, optional
        Folder of ``<family>.json`` (else ``CUTOPT_BENCH_DATA``, else ``data/bench``).
    family : str, optional
        Only this family.
    seconds : float
        Limit of each instance.
    saved : Path, optional
        The figures and the totals of each family as JSON, written after every instance.

    Raises
    ------
    KeyboardInterrupt
        Where nothing was done yet.
    """
    from tqdm import tqdm

    if not 0 < seconds <= 24 * 3600:
        raise Problem(
            "seconds",
            f"{seconds:g} seconds make no sense",
            "write a number above 0, such as 5",
        )
    instances = load(data or default_folder(), family)
    records: list[Record] = []
    sys.stderr.write(
        "Getting the programs ready: the first time on this machine it takes about a minute.\n"
    )
    warm_up(instances)
    bar = tqdm(instances, unit="instance", disable=not sys.stderr.isatty())
    try:
        for instance in bar:
            bar.set_description(instance.name)
            records.append(run_one(instance, Seconds(seconds)))
            if saved is not None:
                save(saved, seconds, records)
    except KeyboardInterrupt:
        bar.close()
        if not records:
            raise
        sys.stderr.write(
            f"Stopped: {len(records)} of {len(instances)} instances were done.\n"
        )
    sys.stdout.write(table(records) + "\n")
    return int(any(record.faults for record in records))


def warm_up(instances: Sequence[Instance]) -> None:
    """Load what is loaded once, so that no instance is charged for it."""
    from cutopt.solve import cpsat
    from cutopt.solve.plates.exact_plate import exact_plate
    from cutopt.solve.plates.large.large_plate import warm_up as warm_up_large
    from cutopt.solve.plates.plate_table import PlatePart
    from cutopt.solve.search import prepare

    cpsat.warm_up()
    exact_plate(7, 7, [PlatePart(3, 2, 6, 3, 4), PlatePart(4, 3, 11, 3, 1)])
    warm_up_large()
    if any(instance.objective != "max value" for instance in instances):
        prepare.compile_all()


def run_one(instance: Instance, stop: Stop, seed: int = 0) -> Record:
    """Solve and check one instance, and run the baselines on it.

    Parameters
    ----------
    instance : Instance
    stop : Stop
    seed : int
    """
    forget_peak()
    begun = time.perf_counter()
    try:
        answer: SolvedInstance | None = solve_instance(instance, stop, seed)
    except RuntimeError as error:
        answer = None
        faults = [str(error)]
    spent = time.perf_counter() - begun
    peak = peak_mb()
    if answer is not None:
        faults = check(answer.job, answer.plan) + disagreements(instance, answer)
    return Record(
        family=instance.family,
        name=instance.name,
        objective=instance.objective,
        value=None if answer is None else answer.value,
        known=int(instance.known["value"]),
        status=str(instance.known.get("status", "")),
        known_bound=_known_bound(instance),
        bound=None if answer is None else answer.bound,
        proved=answer is not None and answer.proved,
        seconds=round(spent, 3),
        peak_mb=round(peak, 1),
        strip_method=strip_method(instance),
        rectpack=packing_library(instance, _RECTPACK_SECONDS),
        faults=tuple(faults),
    )


def _known_bound(instance: Instance) -> int | None:
    known = instance.known
    if known.get("status") == "optimal":
        return int(known["value"])
    bound = known.get("upper_bound" if instance.better > 0 else "lower_bound")
    if bound is not None:
        return int(bound)
    if known.get("status") == "upper bound":
        return int(known["value"])
    return None


def disagreements(instance: Instance, answer: SolvedInstance) -> list[str]:
    """What a checked plan does not say of itself: that its value is the one told, and that no bound is crossed."""
    rows = {f"cuts/i{k}": item.value for k, item in enumerate(instance.items)}
    money = answer.plan.totals.money or 0
    counted = (
        sum(rows[use.for_] for use in answer.plan.uses)
        if instance.better > 0
        else money / instance.price
    )
    told = []
    if counted != answer.value:
        told.append(f"The plan is worth {counted}, and the solver says {answer.value}.")
    bound = answer.bound
    known_bound = _known_bound(instance)
    if (bound - answer.value) * instance.better < 0:
        told.append(
            f"The bound {bound} is crossed by the plan's own value {answer.value}."
        )
    if known_bound is not None and (known_bound - answer.value) * instance.better < 0:
        told.append(f"The value {answer.value} crosses the known bound {known_bound}.")
    if (
        instance.known.get("status") != "upper bound"
        and (bound - int(instance.known["value"])) * instance.better < 0
    ):
        told.append(
            f"The bound {bound} excludes the known value {instance.known['value']}."
        )
    return told


def save(path: Path, seconds: float, records: Sequence[Record]) -> None:
    """Write the figures as JSON, whole or not at all.

    Parameters
    ----------
    path : Path
    seconds : float
        Limit of each instance.
    records : sequence of Record
    """
    rows = [
        asdict(r) | {"gap_percent": r.gap, "bound_gap_percent": r.bound_gap}
        for r in records
    ]
    told = {
        "seconds": seconds,
        "instances": rows,
        "families": [asdict(family) for family in totals(records)],
    }
    part = path.with_suffix(path.suffix + ".part")
    part.write_text(json.dumps(told, indent=1), encoding="utf-8")
    part.replace(path)
