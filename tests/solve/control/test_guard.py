"""An unforeseen error loses nothing that was computed, and is raised where somebody looks for it."""

from __future__ import annotations

import importlib
from typing import Any

import pytest

from cutopt.check import check
from cutopt.solve.control.stop import Work
from cutopt.solve.run import Run
from cutopt.solve.search.engine import Engine
from cutopt.solve.solver import solve
from tests.solve.small import bolt, cut, job, piece

TASK = job(
    piece("left over", 9, 9),
    bolt(),
    cut("square", 5, 5, 12),
    cut("slat", 3, 30, 2, importance="nice"),
)


def fails(*_: Any, **__: Any) -> Any:
    raise ZeroDivisionError("a fault of the test's own")


@pytest.mark.parametrize(
    ("place", "name", "told"),
    [
        ("explain.other_widths", "what_if", "What other widths take"),
        ("finish", "room_of", "How much smaller a cloth may be"),
        ("finish", "Reasons", "Why something is short"),
        ("bounds.levels", "least_left_out", "How good a plan is"),
    ],
)
def test_what_comes_on_top_of_a_plan_is_told_as_not_there(
    place: str, name: str, told: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(importlib.import_module(f"cutopt.solve.{place}"), name, fails)
    with pytest.raises(ZeroDivisionError):
        solve(TASK, Work(300))
    monkeypatch.delenv("CUTOPT_DEBUG")
    result = solve(TASK, Work(300))
    assert [
        notice
        for notice in result.notices
        if notice.startswith(told) and "ZeroDivisionError" in notice
    ]
    assert result.complete
    assert all(check(TASK, offer.plan) == [] for offer in result.offers)


def test_another_offer_that_fails_is_left_out(monkeypatch: pytest.MonkeyPatch) -> None:
    finish = importlib.import_module("cutopt.solve.finish")
    candidate = finish.candidate
    monkeypatch.delenv("CUTOPT_DEBUG")
    monkeypatch.setattr(
        finish,
        "candidate",
        lambda name, *a, **k: (
            candidate(name, *a, **k) if name == "thriftiest" else fails()
        ),
    )
    result = solve(TASK, Work(300))
    assert [offer.name for offer in result.offers] == ["thriftiest"]
    assert any(notice.startswith("Another way to do it") for notice in result.notices)
    assert check(TASK, result.plan) == []


@pytest.mark.parametrize(
    "owner", [(Run, "_choose"), (Run, "_cheapen"), (Run, "_polish"), (Engine, "reach")]
)
def test_a_search_that_breaks_off_gives_the_plan_of_by_then(
    owner: tuple[type, str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(*owner, fails)
    with pytest.raises(ZeroDivisionError):
        solve(TASK, Work(300))
    monkeypatch.delenv("CUTOPT_DEBUG")
    result = solve(TASK, Work(300))
    assert result.stopped == "interrupted"
    assert any("broke off" in notice for notice in result.notices)
    assert result.complete
    assert check(TASK, result.plan) == []


def test_before_the_first_plan_there_is_nothing_to_keep(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.delenv("CUTOPT_DEBUG")
    monkeypatch.setattr(Engine, "first", fails)
    with pytest.raises(ZeroDivisionError):
        solve(TASK, Work(300))
