"""Views of a search: what they say in which words, and how often."""

from __future__ import annotations

import io
from decimal import Decimal

import pytest

import cutopt as co
from cutopt.app.progress import Bar, Lines, NotebookView, Told, watch
from cutopt.lengths import YARD
from cutopt.solve.control.progress import State
from tests.places import ROOT


def state(**changed: object) -> State:
    told: dict[str, object] = {
        "seconds": 3.2,
        "work": 100,
        "share": 0.25,
        "complete": True,
        "value": Decimal("12.5"),
        "bound": Decimal(9),
        "doing": "buying less",
    }
    return State(**(told | changed))  # type: ignore[arg-type]


@pytest.fixture(scope="module")
def cushion() -> co.Job:
    return co.read_job(ROOT / "data" / "metric-cushion")


def test_money_in_the_currency_of_the_job(cushion: co.Job) -> None:
    told = Told(cushion)
    assert (
        told.words(state())
        == "all there, to buy €12.50, no plan can buy less than €9.00; buying less"
    )
    assert "(the least there is)" in told.words(state(bound=Decimal("12.5")))
    assert (
        told.words(state(value=Decimal(0), bound=Decimal(0)))
        == "all there, nothing to buy; buying less"
    )
    assert (
        told.words(state(complete=False))
        == "not everything has a place yet; buying less"
    )


def test_lengths_where_prices_are_missing() -> None:
    shop = co.ByLength(fabric="pear", usable_width=42 * 8128, sold_by=YARD // 8)
    job = co.Job(
        fabrics=(co.Fabric(name="pear"),),
        shop=(shop,),
        cuts=(co.Cut(name="a", width=8128, length=8128),),
    )
    assert "to buy 3/8 yd" in Told(job).words(
        state(value=Decimal(3 * YARD // 8), bound=Decimal(0))
    )


def test_lines_are_plain_and_few(cushion: co.Job) -> None:
    stream = io.StringIO()
    view = Lines(cushion, stream)
    view.say("A first plan is there.")
    for step in range(200):
        view.at(state(seconds=step / 50))
    view.at(state(doing="polishing"))
    view.done()
    lines = stream.getvalue().splitlines()
    assert len(lines) == 3
    assert "\r" not in stream.getvalue()
    assert lines[1].startswith("    0 s  all there")


def test_a_bar_fills_and_goes(cushion: co.Job) -> None:
    stream = io.StringIO()
    view = Bar(cushion, stream)
    view.at(state(share=0.5))
    view.say("Getting ready.")
    view.at(state(share=1.7))
    view.done()
    assert " 50 %" in stream.getvalue()
    assert "100 %" in stream.getvalue()
    assert "Getting ready.\n" in stream.getvalue()


def test_the_view_of_a_notebook(cushion: co.Job) -> None:
    view = NotebookView(cushion)
    view.at(state(share=0.5, doing="a < b"))
    assert view.bar.value == 0.5
    assert "a &lt; b" in view.label.value
    view.say("<now>")
    assert view.said.value == "&lt;now&gt;"
    view.done()
    assert view.bar.value == 1.0


def test_outside_a_notebook_and_a_terminal_lines_are_written(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("sys.stderr", io.StringIO())
    assert isinstance(watch(), Lines)
