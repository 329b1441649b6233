"""How long pages still take is told while they are written; a plan is replayed and each drawing made once."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from cutopt import cloth
from cutopt.app.progress import Lines
from cutopt.draw import piece
from cutopt.pages import write_pages
from cutopt.pages.steps import sections
from cutopt.pages.time_left import TimeLeft
from cutopt.solve.control.progress import Progress
from tests.draw.sample import orchard_result


class Kept(Progress):
    """Keeps what it is told."""

    def __init__(self) -> None:
        self.told: set[str] = set()
        self.seconds: list[float] = []

    def left(self, doing: str, seconds: float) -> None:
        """Keep the words and the seconds."""
        self.told.add(doing)
        self.seconds.append(seconds)


def test_seconds_to_go_by_the_rule_of_three() -> None:
    now = iter([10.0, 11.0, 13.0, 14.0, 20.0])
    kept = Kept()
    left = TimeLeft(kept, plans=2, clock=lambda: next(now))
    left.at(0.25)  # an eighth of all in 1 s
    left.at(0.75)
    left.next_plan()
    left.at(0.25)
    left.at(1.0)
    # the rule of three: done is to all as the time spent is to the whole time
    assert kept.seconds == pytest.approx([7.0, 5.0, 2.4, 0.0])


def test_pages_tell_how_long_they_still_take(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    kept = Kept()
    write_pages(orchard_result(), tmp_path / "a", kept)
    assert kept.told == {"Writing the pages"}
    assert len(kept.seconds) > 5
    assert min(kept.seconds) >= 0
    write_pages(orchard_result(), tmp_path / "b", Lines())
    (said,) = capsys.readouterr().err.splitlines()
    assert said.startswith("Writing the pages: about ")
    assert said.endswith(" s to go.")


def test_a_plan_is_replayed_once_and_a_drawing_made_once(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    made = orchard_result()
    offer = made.offers[0]
    # a plan that nobody replayed yet
    fresh = replace(offer, plan=replace(offer.plan))
    result = replace(made, offers=(fresh, *made.offers[1:]))
    cuts: list[object] = []
    drawings: list[object] = []
    real = cloth.cut_part
    empty = piece.drawing

    def cut_part(part: object, cut: object) -> object:
        cuts.append(cut)
        return real(part, cut)  # type: ignore[arg-type]

    def drawing(*size: float) -> object:
        drawings.append(size)
        return empty(*size)

    monkeypatch.setattr(cloth, "cut_part", cut_part)
    monkeypatch.setattr(piece, "drawing", drawing)
    write_pages(result, tmp_path)
    assert len(cuts) == len(result.plan.cuts)
    told = [each for each in sections(result.plan) if each.steps[0].numbers]
    assert len(drawings) == len({each.shown for each in told})
