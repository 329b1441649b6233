"""Good plans changed at random: whenever the change matters at the table, a fault is told; and nothing ever raises.

Whether a change of a cut matters is decided by shapely on parts that another replay made (cutopt.cloth).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal

import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely import Polygon

from cutopt.check import check
from cutopt.cloth import cloth_of, replay
from cutopt.job import Job
from cutopt.lengths import INCH
from cutopt.plan import (
    Bought,
    CutStep,
    Join,
    Level,
    Plan,
    Seam,
    Short,
    Source,
    Spare,
    Totals,
    Use,
)
from cutopt.wanted import Cut
from tests.check.good_plans import GOOD, Case, lengths, pieces

WITH_CUTS = [name for name in GOOD if GOOD[name]()[1].cuts and name != "straightened"]
cases = st.sampled_from(list(GOOD)).map(lambda name: GOOD[name]())
cut_cases = st.sampled_from(WITH_CUTS).map(lambda name: GOOD[name]())


def serves(job: Job, plan: Plan) -> bool:
    """Whether every used part is the wanted rectangle, off the flaws and the edges that are squared up."""
    try:
        parts = replay(job, plan)
    except (KeyError, ValueError):
        return False
    for step in plan.cuts:
        whole = _area(parts[step.part])
        given = sum(_area(parts[name]) for name in step.gives)
        if len(step.gives) < 2 or abs(whole - given) > 1:
            return False
    return all(_one_serves(job, plan, use, parts) for use in plan.uses)


def _area(polygon: Sequence[tuple[object, object]]) -> float:
    return Polygon([(float(x), float(y)) for x, y in polygon]).area  # type: ignore[arg-type]


def _one_serves(job: Job, plan: Plan, use: Use, parts: dict[str, object]) -> bool:
    part = Polygon([(float(x), float(y)) for x, y in parts[use.part]])  # type: ignore[attr-defined]
    x1, y1, x2, y2 = part.bounds
    width, length = (y2 - y1, x2 - x1) if use.turned else (x2 - x1, y2 - y1)
    row = job.row(use.for_)
    if (
        width != row.width
        or (isinstance(row, Cut) and length != row.length)
        or part.area < width * length - 1
    ):
        return False
    cloth = next(
        cloth_of(job, source)
        for source in plan.sources
        if use.part in _family(plan, source.id)
    )
    ring = [*cloth.outline, cloth.outline[0]]
    near = any(
        part.distance(shapely.LineString(ring[i : i + 2])) < lost - 1e-6
        for i, lost in enumerate(cloth.margins)
    )
    return not near and not any((part & Polygon(flaw)).area > 1 for flaw in cloth.flaws)


def _family(plan: Plan, source: str) -> set[str]:
    family = {source}
    for step in plan.cuts:
        if step.part in family:
            family.update(step.gives)
    return family


def assert_agrees(job: Job, plan: Plan) -> None:
    """The checker and shapely agree, apart from the sums that shift with any cut (ruler widths, joined lengths)."""
    strips = {strip.name for strip in job.strips}
    sums = ("There", *strips)
    faults = [fault for fault in check(job, plan) if fault.split()[0] not in sums]
    assert bool(faults) != serves(job, plan), faults


@settings(max_examples=150)
@given(cut_cases, st.data())
def test_a_cut_that_is_shifted(case: Case, data: st.DataObject) -> None:
    job, plan = case
    i = data.draw(st.integers(0, len(plan.cuts) - 1))
    by = data.draw(st.integers(-3 * INCH, 3 * INCH) | st.integers(-2, 2))
    step = plan.cuts[i]
    moved = (
        replace(step, x=step.x + by)
        if step.x is not None
        else replace(step, y=(step.y or 0) + by)
    )
    other = replace(plan, cuts=(*plan.cuts[:i], moved, *plan.cuts[i + 1 :]))
    assert_agrees(job, other)


@settings(max_examples=100)
@given(cut_cases, st.data())
def test_two_parts_that_change_names(case: Case, data: st.DataObject) -> None:
    job, plan = case
    i = data.draw(st.integers(0, len(plan.cuts) - 1))
    gives = tuple(data.draw(st.permutations(plan.cuts[i].gives)))
    assume(gives != plan.cuts[i].gives)
    other = replace(
        plan,
        cuts=(*plan.cuts[:i], replace(plan.cuts[i], gives=gives), *plan.cuts[i + 1 :]),
    )
    assert_agrees(job, other)


@settings(max_examples=100)
@given(cases, st.data())
def test_two_uses_that_change_places(case: Case, data: st.DataObject) -> None:
    job, plan = case
    i = data.draw(st.integers(0, len(plan.uses) - 1))
    j = data.draw(st.integers(0, len(plan.uses) - 1))
    one = plan.uses[i]
    two = plan.uses[j]
    assume((one.for_, one.turned) != (two.for_, two.turned))
    swapped = list(plan.uses)
    swapped[i], swapped[j] = replace(one, part=two.part), replace(two, part=one.part)
    faults = check(job, replace(plan, uses=tuple(swapped)))
    same_size = {
        (job.row(u.for_).width, getattr(job.row(u.for_), "length", 0), u.turned)
        for u in (one, two)
    }
    if len(same_size) > 1 or job.strips:
        assert faults


@settings(max_examples=150)
@given(
    cases,
    st.sampled_from(["sources", "cuts", "uses", "spare", "joins", "short"]),
    st.data(),
)
def test_a_line_dropped_or_told_twice(
    case: Case, field: str, data: st.DataObject
) -> None:
    job, plan = case
    items = getattr(plan, field)
    assume(items)
    i = data.draw(st.integers(0, len(items) - 1))
    dropped = replace(plan, **{field: items[:i] + items[i + 1 :]})
    twice = replace(plan, **{field: (*items, items[i])})
    assert check(job, dropped)
    assert check(job, twice)


@settings(max_examples=100)
@given(cases, st.data())
def test_a_part_that_is_called_otherwise_in_one_place(
    case: Case, data: st.DataObject
) -> None:
    """Every name of a part stands in at least two places; changing one of them leaves the other in the air."""
    job, plan = case
    places = [("cuts", i, "part") for i in range(len(plan.cuts))]
    places += [("uses", i, "part") for i in range(len(plan.uses))]
    places += [("spare", i, "part") for i in range(len(plan.spare))]
    places += [("sources", i, "id") for i in range(len(plan.sources))]
    field, i, name = data.draw(st.sampled_from(places))
    items = list(getattr(plan, field))
    new = data.draw(
        st.sampled_from(["other", "", *(p for step in plan.cuts for p in step.gives)])
    )
    assume(new != getattr(items[i], name))
    items[i] = replace(items[i], **{name: new})
    assert check(job, replace(plan, **{field: tuple(items)}))


@settings(max_examples=100)
@given(cases, st.integers(-3, 3).filter(bool), st.data())
def test_a_number_that_is_off(case: Case, by: int, data: st.DataObject) -> None:
    job, plan = case
    said = plan.totals
    changes = [
        {"totals": replace(said, cuts=said.cuts + by)},
        {"totals": replace(said, ruler_widths=said.ruler_widths + by)},
        {"totals": replace(said, seams=said.seams + by)},
        {"totals": replace(said, money=(said.money or 0) + Decimal(by) / 100)},
        {"totals": replace(said, bought=(*said.bought, *lengths(pear=by)))},
        {"totals": replace(said, bought=(*said.bought, *pieces(pear=by)))},
        {"short": (*plan.short, Short(for_=job.wanted[0].key, count=by))},
        {
            "cuts": tuple(replace(step, n=step.n + by) for step in plan.cuts)
            or (CutStep(n=1, part="", gives=()),)
        },
        {
            "joins": tuple(replace(j, length=j.length + by) for j in plan.joins)
            or (Join(for_="", segments=(), join="", length=0),)
        },
        {"sources": tuple(replace(s, width=s.width + by) for s in plan.sources)},
        {"sources": tuple(replace(s, length=s.length + by) for s in plan.sources)},
        {
            "sources": tuple(
                replace(s, price=(s.price or 0) + Decimal(by)) for s in plan.sources
            )
        },
    ]
    assert check(job, replace(plan, **data.draw(st.sampled_from(changes))))


NAMES = st.sampled_from(["S1", "S2", "a", "b", "c", "d", ""])
KEYS = st.sampled_from(
    ["cuts/square", "strips/binding", "strips/sash", "cuts/leaf", "backs/B", "nothing"]
)
TICKS = st.integers(-5, 50 * INCH) | st.sampled_from(
    [0, INCH, 5 * INCH, 42 * INCH, 9 * INCH]
)
MONEY = st.none() | st.decimals(0, 100, places=2)
WORDS = st.sampled_from(["", "0", "2.40", "NaN", "-Infinity", "one"])
ANY_PLAN = st.builds(
    Plan,
    job=st.just("?"),
    sources=st.lists(
        st.builds(
            Source,
            id=NAMES,
            piece=st.sampled_from(["", "ell", "u", "half", "q"]),
            copy=st.integers(-1, 3),
            bought=st.sampled_from(["", "oat", "pear", "rye"]),
            by_piece=st.booleans(),
            width=TICKS,
            length=TICKS,
            price=MONEY,
        ),
        max_size=3,
    ).map(tuple),
    cuts=st.lists(
        st.builds(
            CutStep,
            n=st.integers(-1, 5),
            part=NAMES,
            gives=st.lists(NAMES, max_size=3).map(tuple),
            x=st.none() | TICKS,
            y=st.none() | TICKS,
            line=st.none()
            | st.tuples(st.tuples(TICKS, TICKS), st.tuples(TICKS, TICKS)),
        ),
        max_size=5,
    ).map(tuple),
    uses=st.lists(
        st.builds(Use, part=NAMES, for_=KEYS, turned=st.booleans()), max_size=4
    ).map(tuple),
    spare=st.lists(st.builds(Spare, part=NAMES), max_size=3).map(tuple),
    joins=st.lists(
        st.builds(
            Join,
            for_=KEYS,
            segments=st.lists(NAMES, max_size=3).map(tuple),
            join=WORDS,
            length=TICKS,
        ),
        max_size=2,
    ).map(tuple),
    seams=st.lists(
        st.builds(
            Seam,
            n=TICKS,
            back=NAMES,
            a=NAMES,
            b=NAMES,
            side=st.just("left"),
            seam=TICKS,
            gives=NAMES,
        ),
        max_size=1,
    ).map(tuple),
    short=st.lists(
        st.builds(Short, for_=KEYS, count=st.integers(-2, 3)), max_size=2
    ).map(tuple),
    levels=st.lists(
        st.builds(Level, name=WORDS, value=WORDS, bound=WORDS, proved=st.booleans()),
        max_size=2,
    ).map(tuple),
    totals=st.builds(
        Totals,
        money=MONEY,
        bought=st.lists(
            st.builds(Bought, fabric=NAMES, amount=TICKS, by_piece=st.booleans()),
            max_size=3,
        ).map(tuple),
        cuts=TICKS,
        ruler_widths=TICKS,
    ),
)


@settings(max_examples=200)
@given(cases, ANY_PLAN)
def test_any_plan_is_answered_in_sentences(case: Case, plan: Plan) -> None:
    """The digest is wrong, so there is at least one fault; each is one sentence with a full stop."""
    faults = check(case[0], plan)
    assert faults
    assert all(fault and fault[-1] == "." and "\n" not in fault for fault in faults)
    mixed = replace(
        case[1], cuts=(*case[1].cuts, *plan.cuts), uses=(*case[1].uses, *plan.uses)
    )
    assert bool(check(case[0], mixed)) == (mixed != case[1])
