"""What a sentence says of a backing: seam direction, middle, insert, print. Each a choice of common practice, no source."""

from __future__ import annotations

import pytest

from cutopt.answers import backing_to_buy
from cutopt.answers.backing import BackingAnswer
from cutopt.errors import JobError
from cutopt.fabric import ByLength, Fabric
from cutopt.lengths import INCH, YARD
from cutopt.tables.recipe.quilt import quilt

BOLT = ByLength(fabric="oat", usable_width=42 * INCH, sold_by=YARD // 8)


def answer(words: str, one_way: str = "", size: str = "60 x 80") -> BackingAnswer:
    fabric = Fabric(name="oat", one_way=one_way)  # type: ignore[arg-type]
    return backing_to_buy(
        quilt(f'top = "{size}"\nbacking = "{words}"\n'), [BOLT], fabrics=[fabric]
    )


def test_nothing_said_allows_all() -> None:
    ways = answer("oat").ways
    assert {way.run for way in ways} == {"up", "across"}
    assert any(way.insert for way in ways)


@pytest.mark.parametrize("run", ["up", "across"])
def test_seams_run_as_said(run: str) -> None:
    assert {way.run for way in answer(f"oat, seams {run}").ways} == {run}


def test_no_seam_in_the_middle() -> None:
    """79 raw and 2 a side fill both widths of 42, 83 for 83: the middle cannot be avoided (identity)."""
    assert any(
        way.lies == "in the middle" for way in answer("oat", size="79 x 90").ways
    )
    ways = answer("oat, no seam in the middle", size="79 x 90").ways
    assert ways
    assert all(way.lies != "in the middle" for way in ways)


def test_no_insert() -> None:
    assert not any(way.insert for way in answer("oat, no insert").ways)


def test_a_print_that_stands_up() -> None:
    assert {way.run for way in answer("oat, upright", "along").ways} == {"up"}
    assert {way.run for way in answer("oat, upright", "across").ways} == {"across"}
    assert {way.run for way in answer("oat", "along").ways} == {"up", "across"}


def test_several_at_once_and_any() -> None:
    """Sizes and words are invented."""
    made = quilt('top = "60 x 80"\nbacking = "any, Seams  Up, no insert"\n')
    assert (made.backing, made.how.back_run, made.how.back_insert) == (
        (),
        "up",
        "never",
    )


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ('top = "60 x 80"\nbacking = "oat, sideways"\n', "sideways"),
        ('blocks = ["2 squares of 6"]\nbacking = "oat"\n', "no quilt to put it under"),
        ('top = "60 x 80"\nsetting = "2 across, 2 down"\n', "setting in row 2"),
    ],
)
def test_what_is_not_understood_is_said(text: str, what: str) -> None:
    """Sizes and words are invented."""
    with pytest.raises(JobError, match=what):
        quilt(text)


def test_how_far_it_reaches() -> None:
    """4 in and 2 in beyond the top, said beside it; batting goes by itself (identity)."""
    made = quilt(
        'top = "60 x 80"\nbacking = "any, 4 larger all round"\nbatting = "any, 2 larger all round"\n'
    )
    assert made.how.overage == (4 * INCH, 4 * INCH)
    assert made.how.batting_overage == 2 * INCH


def test_a_backing_brought_round_reaches_as_far_as_it_has_to() -> None:
    """Twice 1/2 in beyond the trimmed edge and 1 in to trim by are 2 in, more than the 1 in that is said.

    Identity: invented sizes.
    """
    made = quilt(
        'top = "60 x 80"\nbinding = "backing brought round"\nbacking = "any, 1 larger all round"\n'
    )
    assert min(made.how.overage) >= 2 * INCH


def test_a_scrappy_binding_of_a_tag_is_told() -> None:
    """Sizes and words are invented."""
    made = quilt('top = "60 x 80"\nbinding = "scrappy from any dark"\n')
    (note,) = [note for note in made.notes if "scrappy" in note]
    assert note.startswith("binding: scrappy from any dark: from whatever")
