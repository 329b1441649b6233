"""Small pictures for notebooks: sound HTML, small, readable in a light and a dark notebook."""

from __future__ import annotations

import re
from dataclasses import replace
from html.parser import HTMLParser
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cutopt import svg
from cutopt.fabric import Fabric, Piece
from cutopt.geometry import rectangle
from cutopt.lengths import INCH, MM
from cutopt.plan import Short
from tests.draw.sample import (
    inches,
    metric_result,
    orchard_job,
    orchard_plan,
    orchard_result,
)
from tests.draw.sample_backs import orchard_back_job, orchard_back_plan


class _Balanced(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []

    def handle_starttag(self, tag: str, attrs: object) -> None:  # noqa: ARG002
        if tag != "br":
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: object) -> None:  # noqa: ARG002
        return

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag


def _sound(html: str) -> None:
    parser = _Balanced()
    parser.feed(html)
    assert parser.open == []
    for picture in re.findall(r"<svg.*?</svg>", html, re.DOTALL):
        ET.fromstring(picture)


VALUES = {
    "piece": lambda: orchard_job().pieces[2],
    "job": orchard_job,
    "plan": orchard_plan,
    "result": orchard_result,
}


@pytest.mark.parametrize("name", VALUES)
def test_every_picture_is_sound_and_small(name: str) -> None:
    html = VALUES[name]()._repr_html_()
    _sound(html)
    assert len(html) < 60_000
    assert "matplotlib" not in html


@pytest.mark.parametrize("name", VALUES)
def test_words_and_lines_take_the_colour_of_the_notebook(name: str) -> None:
    html = VALUES[name]()._repr_html_()
    assert "currentColor" in html
    assert not re.search(r"[\";]color:(?!inherit)", html)  # no letter colour of our own
    assert not re.search(r"background:(?!transparent)", html)


def test_sizes_are_ruler_fractions_and_flaws_are_hatched() -> None:
    job = orchard_job()
    stained = job.pieces[2]._repr_html_()
    assert "18 x 12 in" in stained
    assert "flaw" in stained
    assert stained.count("<path") > job.pieces[4]._repr_html_().count("<path")
    assert "2 1/2 x 2 1/2 in" in job.pieces[5]._repr_html_()


def test_names_are_escaped() -> None:
    bad = '<script>alert("x")</script> & co'
    piece = Piece.of_size(bad.replace("/", ""), "mist", inches(5), inches(5))
    assert "<script>" not in piece._repr_html_()
    assert "&lt;script&gt;" in piece._repr_html_()
    job = orchard_job()
    assert "mist &amp; dew" in job._repr_html_()


def test_a_colour_cannot_break_out_of_its_attribute() -> None:
    job = orchard_job()
    fabrics = (Fabric(name="pear", colour='red" onload="x'), *job.fabrics[1:])
    html = replace(job, fabrics=fabrics)._repr_html_()
    assert "onload" not in html


def test_a_metric_job_shows_no_inch() -> None:
    html = metric_result()._repr_html_() + metric_result().job._repr_html_()
    text = re.sub(r"<[^>]+>", " ", html)
    assert not re.search(r"\d (in|yd)\b", text)
    assert " cm" in text


def test_why_nothing_is_cheaper_stands_beside_what_nothing_betters() -> None:
    result = metric_result()
    text = re.sub(r"<[^>]+>", " ", result._repr_html_())
    sure = (
        "proved the best"
        if result.levels[0].proved
        else f"no plan betters {result.levels[0].bound}"
    )
    assert result.complete
    assert f"{sure}: {result.because}" in text
    assert text.count(result.because) == 1


def test_a_large_job_stays_small() -> None:
    job = orchard_job()
    many = tuple(
        Piece.of_size(f"bit {i}", "pear", inches(5), inches(5 + i % 7))
        for i in range(400)
    )
    html = replace(job, pieces=many)._repr_html_()
    _sound(html)
    assert len(html) < 40_000
    assert f"and {400 - svg.MOST_PICTURES} more" in html


@given(
    st.integers(INCH // 8, 40 * INCH),
    st.integers(INCH // 8, 40 * INCH),
    st.integers(2, 12),
)
def test_hatch_lines_stay_inside(width: int, length: int, gap: int) -> None:
    scale = svg.scale_for([rectangle(width, length)])
    shape = svg.Shape(polygon=rectangle(width, length), hatch=gap)
    drawn = svg.picture(rectangle(width, length), [shape], "x", scale)
    _sound(drawn)
    right = 2 + width * scale + 0.11
    low = 2 + length * scale + 0.11
    for x, y in re.findall(r"[ML]([\d.-]+) ([\d.-]+)", drawn):
        assert 1.89 <= float(x) <= right
        assert 1.89 <= float(y) <= low


def test_the_unit_of_a_piece_alone_is_guessed_from_its_corners() -> None:
    assert svg.unit_of([inches("2.5"), 0]) == "in"
    assert svg.unit_of([65 * MM, 0]) == "cm"
    assert svg.unit_of([12345]) == "in"


def test_what_is_short_is_one_sentence() -> None:
    short = Short(
        for_="cuts/square", count=2, why="the search found no room for it", mends=()
    )
    told = replace(orchard_plan(orchard_job()), short=(short,))._repr_html_()
    assert "Short: 2 of square: the search found no room for it" in told


def test_a_notebook_shows_a_back_and_its_parts() -> None:
    job = orchard_back_job()._repr_html_()
    assert "back B1" in job
    assert "44 x 52 in" in job
    plan = orchard_back_plan()._repr_html_()
    for letter in "DEFGHI":
        assert f"back B1, part {letter}" in plan
