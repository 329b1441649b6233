"""Whatever a maker types is printed as plain text, and two things never look alike."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from matplotlib.figure import Figure

from cutopt.draw import draw_piece, draw_pile, draw_plan, draw_shopping
from cutopt.draw.letters import UNKNOWN, names_of, shown
from cutopt.fabric import Fabric
from cutopt.job import Job
from cutopt.pages.files import pages_pdf
from cutopt.result import Result
from tests.pages.hostile import named_job, named_result
from tests.pages.printed import words_in, words_of
from tests.thinned import mostly_slow

PLAIN = (
    "$x^2$ and $y_",
    "$\\frac$",
    "\\alpha{}",
    "<b>bold <i> & <br>",
    "&amp &lt &",
    "\"quotes\" 'and' `ticks`",
    "100 % {0} %s",
    "=1+1",
    "Äpfel грушa φ",
)
NOT_PLAIN = (
    "line\rend\tand tab",
    "bell\a escape \x1b[31m red",
    "right \u200fto\u202e left",
    "布",
    "梨花",
    "🍐🍏",
    "x" * 300,
    "word " * 60 + "end",
    "W" * 2000,
    "\u202e",
    "\ufffe\ud800",
)


def pictures(result: Result) -> list[Figure]:
    plan = result.plan
    job = result.job
    drawn = [draw_plan(plan), draw_pile(job), draw_shopping(plan)]
    pieces = [draw_piece(plan, source.id).figure for source in plan.sources]
    return [*drawn, *(figure for figure in pieces if isinstance(figure, Figure))]


def without_breaks(text: str) -> str:
    return re.sub(r"\s", "", text)


@pytest.mark.parametrize("text", mostly_slow(PLAIN, PLAIN[::4]))
def test_what_is_typed_is_what_is_printed(text: str) -> None:
    """Two dollar signs were read as a formula, and ended in an error after the whole search."""
    result = named_result(text)
    assert without_breaks(text) in without_breaks(words_of(pages_pdf(result)))
    for figure in pictures(result):
        assert without_breaks(text) in without_breaks(words_in(figure))


@pytest.mark.parametrize("text", mostly_slow(NOT_PLAIN, NOT_PLAIN[::3]))
def test_what_cannot_be_printed_has_a_name_of_its_own(text: str) -> None:
    """Names in letters that no font has were boxes: all fabrics looked alike."""
    result = named_result(text)
    with names_of(result.job):
        fabrics = [shown(fabric.name) for fabric in result.job.fabrics]
        pieces = [shown(piece.name) for piece in result.job.pieces]
    assert len(set(fabrics)) == len(set(pieces)) == 2
    assert not any(UNKNOWN in name for name in (*fabrics, *pieces))
    said = without_breaks(words_of(pages_pdf(result)))
    assert all(without_breaks(name) in said for name in (*fabrics, *pieces))
    for figure in pictures(result):
        assert words_in(figure).isprintable()


signs = st.characters(blacklist_characters="|/;\n") | st.sampled_from(
    "$\\<>&_^{}%\"'\u200f\u202e\u0301布🍐#`~"
)


@settings(
    max_examples=4,
    suppress_health_check=[HealthCheck.too_slow],
    phases=[Phase.explicit, Phase.generate],
)
@given(text=st.text(signs, min_size=1, max_size=60).map(str.strip).filter(bool))
def test_any_name_goes_through_every_picture_and_page(text: str) -> None:
    result = named_result(text)
    assert pages_pdf(result).startswith(b"%PDF")
    for figure in pictures(result):
        assert words_in(figure).isprintable()


@given(
    names=st.lists(
        st.text(signs, min_size=1, max_size=80),
        min_size=2,
        max_size=2,
        unique_by=str.lower,
    )
)
@settings(max_examples=100, phases=[Phase.explicit, Phase.generate])
def test_printed_names_differ_where_typed_ones_do(names: list[str]) -> None:
    if not all(name.strip() for name in names):
        return
    cut = replace(named_job("a").cuts[0], fabrics=())
    job = Job(fabrics=tuple(Fabric(name=name) for name in names), cuts=(cut,))
    with names_of(job):
        assert len({shown(name).lower() for name in names}) == 2


def test_letters_of_the_machine_are_used_where_it_has_them(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A font with one letter that ours lacks, made here; then the name is set as it was typed."""
    from fontTools.fontBuilder import FontBuilder
    from fontTools.pens.ttGlyphPen import TTGlyphPen

    from cutopt.draw import letters

    pen = TTGlyphPen(None)
    pen.moveTo((0, 0))
    pen.lineTo((800, 0))
    pen.lineTo((400, 800))
    pen.closePath()
    triangle = pen.glyph()
    builder = FontBuilder(1000)
    builder.setupGlyphOrder([".notdef", "cloth", "space"])
    builder.setupCharacterMap({ord("布"): "cloth", 32: "space"})
    builder.setupGlyf(
        {".notdef": triangle, "cloth": triangle, "space": TTGlyphPen(None).glyph()}
    )
    builder.setupHorizontalMetrics(
        dict.fromkeys((".notdef", "cloth", "space"), (900, 0))
    )
    builder.setupHorizontalHeader(ascent=900, descent=-100)
    builder.setupNameTable(
        {
            "familyName": "Cloth Letters",
            "styleName": "Regular",
            "psName": "ClothLetters",
        }
    )
    builder.setupOS2(sTypoAscender=900)
    builder.setupPost()
    path = tmp_path / "cloth.ttf"
    builder.save(path)
    found = letters._readable(str(path))
    assert found is not None
    monkeypatch.setattr(letters, "_on_this_machine", lambda: (found,))
    monkeypatch.setattr(letters, "_more_fonts", [])
    monkeypatch.setattr(letters, "_looked_for", set())
    result = named_result("布 pear")
    said = words_of(pages_pdf(result))
    assert "布 pear" in said
    assert all("布 pear" in words_in(figure) for figure in pictures(result))
