"""Cautions beside the publication that says them, and apart from it what is practice or from memory."""

from __future__ import annotations

import re

import pytest

from cutopt.quilt import cautions as c
from cutopt.quilt.articles import BABIES
from cutopt.quilt.sizes import USES, use

SOURCES = {
    "Pediatrics 150(1)": (c.INFANT, BABIES),
    "16 CFR 1501.1 to 1501.4": (c.SMALL_PARTS, BABIES),
    "CMS State Operations Manual": (c.WARD,),
    "4-H Needlework: Quilting, 4JF-12PB": (c.YOUNG,),
    "42 CFR 483, from memory": (c.TIES,),
}


@pytest.mark.parametrize("source", SOURCES)
def test_a_published_caution_names_its_source(source: str) -> None:
    """Published: American Academy of Pediatrics 2022; 16 CFR 1501; CMS State Operations Manual; Univ. of Kentucky
    4JF-12PB, 2011. 42 CFR 483 is from memory, and is said to be."""
    assert all(source in text for text in SOURCES[source])


def test_what_the_manual_says_and_no_more() -> None:
    """CMS State Operations Manual: above 160 F for 25 minutes, or low heat with a rinse of 125 ppm chlorine.

    Fragrance, smoke, pets and the bag: common practice, no source; so they stand in a sentence without the manual.
    """
    for word in ("160 F", "71 C", "25 minutes", "low heat", "chlorine", "125 ppm"):
        assert word in c.WARD
    for word in ("fragrance", "smoke", "pets", "sealed bag", "pins"):
        assert word not in c.WARD
        assert word in c.GIVEN
    assert "common practice, no source" in c.GIVEN
    assert "CMS" not in c.GIVEN
    # identity: 160 F in Celsius, to the degree
    assert round((160 - 32) * 5 / 9) == 71


def test_no_ties_is_no_rule_of_a_manual() -> None:
    """Common practice, no source (a nurse's remark); 42 CFR 483 on restraints: from memory."""
    assert "may count as a restraint" in c.TIES
    assert "from memory" in c.TIES
    assert "restraint" not in c.WHEELS + c.WARD


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (c.BLADE, ("guard", "away from your body", "shoes", "dull blade")),
        (c.BLEEDING, ("Before you cut", "damp white cloth", "reds, navies and batiks")),
        (c.SMALL_PARTS, ("Count pins and needles", "magnet")),
        (c.WHEELS, ("spokes and casters", "round the corners", "Ask the carers")),
    ],
    ids=["blade", "bleeding", "pins", "wheels"],
)
def test_what_makers_do(text: str, words: tuple[str, ...]) -> None:
    """Common practice, no source."""
    assert all(word in text for word in words)


def test_every_caution_of_a_use_says_where_it_is_from() -> None:
    """A source of the list above, common practice, no source, or from memory."""
    marks = (*SOURCES, "common practice, no source", "from memory")
    for each in USES:
        for text in each.cautions:
            assert any(mark in text for mark in marks), text


@pytest.mark.parametrize("name", ["", *(each.name for each in USES)])
def test_one_line_for_a_terminal(name: str) -> None:
    """The line is of what could hurt whom the quilt is for; without such, of the cutter (sources as above).

    That a line has at most 120 letters is our own choice.
    """
    line = c.of_use(name)
    assert "\n" not in line
    assert len(line) <= 120
    known = {
        "baby": "12 months",
        "cot": "12 months",
        "ward": "its rules come first",
        "chair with wheels": "spokes",
    }
    assert known.get(name, "guard") in line


def test_small_parts_are_told_of_all_that_is_for_babies() -> None:
    """Published: 16 CFR 1501.1 to 1501.4, children under 3."""
    for name in ("baby", "cot"):
        assert any(re.search("children under 3", text) for text in use(name).cautions)
