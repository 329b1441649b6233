"""Changes of a job or its plan by which plans are broken on purpose: each takes a case and gives the broken one."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from cutopt.plan import Plan
from tests.check.good_plans import Case

Change = Callable[[Case], Case]


def on_plan(change: Callable[[Plan], Plan]) -> Change:
    return lambda case: (case[0], change(case[1]))


def plan(**fields: object) -> Change:
    return on_plan(lambda plan: replace(plan, **fields))


def item(field: str, index: int, **fields: object) -> Change:
    """One source, cut, use ... with other fields."""

    def change(plan: Plan) -> Plan:
        items = list(getattr(plan, field))
        items[index] = replace(items[index], **fields)
        return replace(plan, **{field: tuple(items)})

    return on_plan(change)


def drop(field: str, index: int) -> Change:
    def change(plan: Plan) -> Plan:
        items = list(getattr(plan, field))
        del items[index]
        return replace(plan, **{field: tuple(items)})

    return on_plan(change)


def add(field: str, *more: object) -> Change:
    return on_plan(
        lambda plan: replace(plan, **{field: (*getattr(plan, field), *more)})
    )


def total(**fields: object) -> Change:
    return on_plan(lambda plan: replace(plan, totals=replace(plan.totals, **fields)))


def job(**fields: object) -> Change:
    """Another job, and the plan said to be made for it."""

    def change(case: Case) -> Case:
        other = replace(case[0], **fields)
        return other, replace(case[1], job=other.digest)

    return change


def row(field: str, index: int, **fields: object) -> Change:
    """Another row of the job."""

    def change(case: Case) -> Case:
        items = list(getattr(case[0], field))
        items[index] = replace(items[index], **fields)
        return job(**{field: tuple(items)})(case)

    return change


def setting(**fields: object) -> Change:
    return lambda case: job(settings=replace(case[0].settings, **fields))(case)


def both(*changes: Change) -> Change:
    def change(case: Case) -> Case:
        for one in changes:
            case = one(case)
        return case

    return change
