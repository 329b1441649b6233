"""The bench: published values reached, plans checked, wrong ones noticed, an interrupt survived."""

from __future__ import annotations

import json
import os
import signal
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from cutopt.bench import instance_solver as door
from cutopt.bench import run
from cutopt.bench.baselines import packing_library, strip_method
from cutopt.bench.instance_solver import solve_instance
from cutopt.bench.instances import Instance, Stock, Wish, job_of, load
from cutopt.bench.memory import forget_peak, peak_mb
from cutopt.bench.plans import CutSheet, plan_of
from cutopt.check import check
from cutopt.cli import DONE, STOPPED, main
from cutopt.errors import Problem
from cutopt.solve import solver
from cutopt.solve.bounds.purchase_bound import Bound, improve, purchase_bound
from cutopt.solve.control.progress import Progress, State
from cutopt.solve.control.stop import Seconds, Work
from cutopt.solve.model.from_job import model_of
from cutopt.solve.model.model import Model
from tests.places import BENCH
from tests.thinned import partly_slow


def named(family: str, *names: str) -> list[Instance]:
    return [instance for instance in load(BENCH, family) if instance.name in names]


def test_the_open_families_are_complete() -> None:
    # Counts of the collections as published: README of the data.
    counted = {
        family: len(load(BENCH, family))
        for family in ("classic", "gcut", "unconstrained")
    }
    assert counted == {"classic": 30, "gcut": 26, "unconstrained": 15}
    assert {
        family: len(load(BENCH, family)) for family in ("bins", "varbins", "strips")
    } == {
        "bins": 100,
        "varbins": 30,
        "strips": 30,
    }
    assert len(load(BENCH)) == 231


@pytest.mark.parametrize(
    "instance",
    named("gcut", "gcut3", "gcut8_rot") + named("classic", "chris2", "wang2"),
    ids=lambda i: i.name,
)
def test_published_values_come_with_plans_that_pass(instance: Instance) -> None:
    record = run.run_one(instance, Work(1))
    assert record.faults == ()
    assert record.proved
    assert record.gap == 0
    assert record.strip_method is not None
    assert record.strip_method <= record.value
    assert record.rectpack is not None
    assert record.rectpack <= record.value


# Berkey & Wang 1987, Martello & Vigo 1998, Pisinger & Sigurd 2005 and the rolls: known values and bounds in the data.
BOUNDED = (
    named("bins", "class01_n20_8", "class05_n20_3", "class09_n20_3", "class09_n60_8")
    + named("varbins", "ps_class09_11")
    + named("strips", "J1", "D4", "splitA_n10", "C1-P3")
)


LONG = {"ps_class09_11", "splitA_n80", "splitA_n120"}


def name_of(instance: Instance) -> str:
    return instance.name


# the same sources; found through the solver that makers call, within a limit of work
REACHED = (
    named("bins", "class01_n20_8", "class05_n20_3", "class09_n60_8")
    + named("varbins", "ps_class06_11", "ps_class09_11")
    + named(
        "strips",
        "D2",
        "Kendall",
        "splitA_n15",
        "splitA_n40",
        "splitA_n80",
        "splitA_n120",
    )
)


@pytest.mark.parametrize("instance", partly_slow(REACHED, LONG, name_of), ids=name_of)
def test_known_values_of_many_sheets_and_rolls_are_reached_within_a_limit_of_work(
    instance: Instance,
) -> None:
    answer = solve_instance(instance, Work(20_000))
    assert check(answer.job, answer.plan) == []
    assert run.disagreements(instance, answer) == []
    assert answer.value == instance.known["value"]


@pytest.mark.parametrize("instance", partly_slow(BOUNDED, LONG, name_of), ids=name_of)
def test_own_bounds_reach_the_known_ones_and_never_cross_a_plan(
    instance: Instance,
) -> None:
    bound = -(
        -purchase_bound(
            model_of(job_of(instance, [item.most or 0 for item in instance.items]))
        ).cost
        // 100
    )
    assert instance.known["lower_bound"] <= bound <= instance.known["value"]


def square_bins() -> Instance:
    """Nine 4 x 4 squares from sheets of 10 x 10, four of which go on one: three sheets (floor times floor)."""
    return Instance(
        family="own",
        name="squares",
        stock=(Stock(w=10, h=10, count=None, cost=7),),
        items=(Wish(w=4, h=4, most=9, value=16),),
        rotate=True,
        objective="min stock",
        known={"value": 21, "status": "optimal", "source": "identity"},
    )


def test_baselines_on_squares() -> None:
    assert strip_method(square_bins()) == 21
    assert packing_library(square_bins(), 5.0) == 21
    roll = replace(
        square_bins(),
        stock=(Stock(w=10, h=None, count=1, cost=1),),
        objective="min length",
    )
    assert strip_method(roll) == 20
    assert packing_library(roll, 5.0) == 20


def test_the_packing_library_may_take_as_many_copies_as_a_sheet_holds() -> None:
    """100 squares of 2 worth 5 fill a sheet of 20 x 20 (arithmetic identity); of 50 others none is worth as much."""
    others = tuple(Wish(w=3, h=n, most=None, value=3 * n) for n in range(1, 51))
    sheet = Instance(
        family="own",
        name="copies",
        stock=(Stock(w=20, h=20, count=1, cost=1),),
        items=(*others, Wish(w=2, h=2, most=None, value=5)),
        rotate=False,
        objective="max value",
        known={"value": 500, "status": "optimal", "source": "identity"},
    )
    assert packing_library(sheet, 5.0) == 500
    assert (
        packing_library(replace(sheet, items=(Wish(w=2, h=2, most=7, value=5),)), 5.0)
        == 35
    )


def test_a_plan_of_placements_passes_and_an_overlap_does_not() -> None:
    bins = square_bins()
    places = [(0, 0, 0, False), (0, 4, 0, False), (0, 0, 4, False), (0, 4, 4, False)]
    sheets = [CutSheet(stock=0, h=10, placed=tuple(places[:n])) for n in (4, 4, 1)]
    job = job_of(bins, [9])
    plan = plan_of(bins, job, sheets)
    assert check(job, plan) == []
    assert plan.totals.money == 21
    two = plan_of(bins, job, sheets[:2])
    assert check(job, two) != []


def test_disagreements_are_told() -> None:
    instance = named("classic", "chris1")[0]
    answer = solve_instance(instance, Seconds(20))
    assert run.disagreements(instance, answer) == []
    assert (
        len(run.disagreements(instance, replace(answer, value=answer.value - 1))) == 1
    )
    assert (
        "is crossed"
        in run.disagreements(instance, replace(answer, bound=answer.value - 1))[0]
    )
    lower = replace(instance, known={"value": 240, "status": "optimal", "source": ""})
    assert "known bound" in " ".join(run.disagreements(lower, answer))
    higher = replace(
        instance, known={"value": 250, "status": "best known", "source": ""}
    )
    assert "excludes" in " ".join(run.disagreements(higher, answer))


@pytest.mark.slow
def test_an_interrupt_keeps_what_is_done(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    done: list[str] = []
    real = run.run_one

    def two_only(instance: Instance, stop: Seconds, seed: int = 0) -> run.Record:
        if len(done) == 2:
            raise KeyboardInterrupt
        done.append(instance.name)
        return real(instance, stop, seed)

    monkeypatch.setattr(run, "run_one", two_only)
    saved = tmp_path / "bench.json"
    assert run.run_bench(BENCH, "classic", 20.0, saved) == 0
    told = capsys.readouterr()
    assert "2 of 30" in told.err
    assert "classic/chris2" in told.out
    assert [row["value"] for row in json.loads(saved.read_text())["instances"]] == [
        244,
        2892,
    ]


def interrupt() -> None:
    os.kill(os.getpid(), signal.SIGINT)


class Interrupting(Progress):
    """Ctrl-C as soon as a search has done some rounds."""

    def at(self, state: State) -> None:
        if state.work >= 500:
            interrupt()


def test_ctrl_c_in_a_search_leaves_out_its_instance(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The squares are proved before any round; the roll is not within 60 s, nor by far within 500 rounds."""
    rolls = [
        row
        for row in json.loads((BENCH / "strips.json").read_text())
        if row["name"] == "gcut4"
    ]
    squares = {
        "name": "squares",
        "rotate": True,
        "objective": "min stock",
        "known": {"value": 21, "status": "optimal"},
        "stock": [{"w": 10, "h": 10, "count": None, "cost": 7}],
        "items": [{"w": 4, "h": 4, "max": 9}],
    }
    saved = tmp_path / "figures.json"
    command = [
        "bench",
        "--data",
        str(tmp_path),
        "--family",
        "strips",
        "--seconds",
        "60",
        "--json",
        str(saved),
    ]
    monkeypatch.setattr(solver, "Progress", Interrupting)
    (tmp_path / "strips.json").write_text(json.dumps([squares, *rolls]))
    assert main(command) == DONE
    told = capsys.readouterr()
    assert "Stopped: 1 of 2" in told.err
    assert "gcut4" not in told.out
    figures = json.loads(saved.read_text())
    assert [row["name"] for row in figures["instances"]] == ["squares"]
    assert [family["value"] for family in figures["families"]] == [21]
    (tmp_path / "strips.json").write_text(json.dumps(rolls))
    assert main(command) == STOPPED
    assert "Stopped." in capsys.readouterr().err


def test_ctrl_c_ends_the_work_on_a_bound(monkeypatch: pytest.MonkeyPatch) -> None:
    """Were it not for Ctrl-C the bound would be worked on for an hour, as no plan costs so little."""
    steps: list[Bound] = []
    (roll,) = named("strips", "splitA_n200")
    before = signal.signal(
        signal.SIGINT, signal.default_int_handler
    )  # a shell lets what runs behind it ignore Ctrl-C

    def interrupted(model: Model) -> Iterator[Bound]:
        for bound in improve(model):
            steps.append(bound)
            interrupt()
            yield bound

    monkeypatch.setattr(door, "improve", interrupted)
    try:
        with pytest.raises(KeyboardInterrupt):
            door._better_bound(
                job_of(roll, [item.most or 0 for item in roll.items]), 10**9, 100, 3600
            )
    finally:
        signal.signal(signal.SIGINT, before)
    assert len(steps) == 1


def test_totals_of_a_family_are_saved_with_their_ratios(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Worked out here from the figures of the instances (arithmetic identity)."""
    rows = [
        row
        for row in json.loads((BENCH / "classic.json").read_text())
        if row["name"] in ("chris1", "wang2")
    ]
    (tmp_path / "classic.json").write_text(json.dumps(rows))
    assert run.run_bench(tmp_path, None, 20.0, tmp_path / "figures.json") == 0
    figures = json.loads((tmp_path / "figures.json").read_text())
    ours, strips = (
        [row[key] for row in figures["instances"]] for key in ("value", "strip_method")
    )
    (family,) = figures["families"]
    assert family["value"] == family["known"] == family["bound"] == sum(ours)
    assert family["strip_method"] == {
        "ours_by_theirs": sum(ours) / sum(strips),
        "instances": 2,
    }
    assert (
        family["reached"],
        family["proved"],
        family["bettered"],
        family["faults"],
    ) == (2, 2, 0, 0)
    assert family["peak_mb"] == max(row["peak_mb"] for row in figures["instances"])
    assert [row["bound_gap_percent"] for row in figures["instances"]] == [0, 0]
    told = capsys.readouterr()
    assert "Getting the programs ready" in told.err
    assert f"ours / strip method {sum(ours) / sum(strips):.4f} (2)" in told.out


def test_gaps_to_the_known_value_and_to_the_own_bound() -> None:
    """200 of 250 known and 400 possible are 20 and 50 % short; a cost of 300 is 20 and 50 % above 250 and 200."""
    record = run.run_one(named("classic", "chris1")[0], Work(1))
    value = replace(record, value=200, known=250, bound=400)
    assert (value.gap, value.bound_gap) == (20, 50)
    cost = replace(value, objective="min stock", value=300, bound=200)
    assert (cost.gap, cost.bound_gap) == (20, 50)
    assert replace(value, value=None).bound_gap is None


@pytest.mark.skipif(
    not os.access("/proc/self/clear_refs", os.W_OK),
    reason="the peak cannot be forgotten here",
)
def test_the_peak_of_an_instance_is_not_that_of_an_earlier_one() -> None:
    before = peak_mb()
    held = b"1" * 300_000_000
    most = peak_mb()
    assert most >= before
    assert most >= len(held) / 2**20
    del held
    forget_peak()
    assert peak_mb() < most - 200


def test_bad_data_is_told(tmp_path: Path) -> None:
    with pytest.raises(Problem, match="no instances"):
        load(tmp_path)
    (tmp_path / "odd.json").write_text('[{"name": "x"}]')
    with pytest.raises(Problem, match="lacks"):
        load(tmp_path, "odd")
    (tmp_path / "odd.json").write_text("{")
    with pytest.raises(Problem, match="cannot be read"):
        load(tmp_path, "odd")
    with pytest.raises(Problem, match="make no sense"):
        run.run_bench(BENCH, "classic", 0.0)
