"""What is told beside a plan where a sentence leaves something to the order of its words or to habit.

Sizes and words are invented; which of two fabrics is the ground is common practice, no source.
"""

from __future__ import annotations

import re

import pytest

from cutopt.errors import JobError
from cutopt.tables.recipe.kinds.blocks import asked_for
from cutopt.tables.recipe.quilt import quilt
from cutopt.tables.sentences.unknown_kinds import BY_ROWS
from tests.tables.sentences.saying import read, summary

ORDER = "in the order in which they are named"
STONES = "cornerstones are cut"


def told(part: str, sentence: str, of: str) -> list[str]:
    """The notes on a sentence with these words in them."""
    return [note for note in read(part, sentence).quilt.notes if of in note]


@pytest.mark.parametrize(
    ("first", "second"), [("bark", "oat"), ("oat", "bark"), ("plum", "mist")]
)
def test_which_of_two_fabrics_goes_where(first: str, second: str) -> None:
    """The note names the fabric that the rows of the centre have, and the way that it tells turns the two."""
    sentence = f"24 churn dash blocks, 7 1/2 finished, {first} and {second}"
    (note,) = told("blocks", sentence, ORDER)
    assert f"background is from {first} and the dash from {second}" in note
    assert f"name {second} before {first}" in note
    turned = f"24 churn dash blocks, 7 1/2 finished, {second} and {first}"
    on = f"24 churn dash blocks, 7 1/2 finished, {first} on {second}"
    assert summary("blocks", turned) == summary("blocks", on)


@pytest.mark.parametrize(
    "sentence",
    [
        "8 churn dashes of 9, bark on oat",
        "8 churn dashes of 9, bark dashes, oat background",
        "8 churn dashes of 9 from oat",
        "8 churn dashes of 9, scrappy",
        "8 four patches of 6 from oat and plum",
    ],
)
def test_nothing_is_told_where_the_words_say_it(sentence: str) -> None:
    assert told("blocks", sentence, ORDER) == []


def test_cornerstones_that_nobody_asked_for_are_told() -> None:
    """The words that the note gives take them away."""
    (note,) = told("sashing", "2 cream sashing between all the blocks", STONES)
    (words,) = re.findall(r'add "(.+?)"', note)
    without = f"2 cream sashing between all the blocks, {words}"
    assert told("sashing", without, STONES) == []
    assert "cornerstone" not in summary("sashing", without)


@pytest.mark.parametrize(
    "sentence", ["2 oat with gold cornerstones", "3, pear, only between the rows", "no"]
)
def test_cornerstones_that_are_said_are_not_told(sentence: str) -> None:
    assert told("sashing", sentence, STONES) == []


def test_quarters_of_a_nine_patch_are_counted() -> None:
    """25 nine patches of nine squares are 225 squares (identity): the number that the note tells makes them."""
    sentence = "{} disappearing nine patches from 5 inch squares, from oat"
    (note,) = told("blocks", sentence.format(25), "quarters are counted")
    (number,) = re.findall(r"write (\d+)", note)
    made = read("blocks", sentence.format(number)).quilt.wanted
    assert sum(row.count for row in made) == 25 * 9


def test_rounds_of_logs_on_the_marks_of_a_ruler() -> None:
    """10 - 2 is 8: four rounds of two logs of 1; 9 - 3 is 6: three of 1 (identities)."""
    sentence = "2 courthouse steps of {}, centre {}, from gold and oat"
    for size, centre, rounds in ((10, 2, 4), (9, 3, 3)):
        (note,) = told("blocks", sentence.format(size, centre), "as nothing is said")
        assert f"{rounds} rounds of logs" in note
        assert f"log {rounds} " in summary("blocks", sentence.format(size, centre))
    assert told("blocks", sentence.format(10, "2, rounds 2"), "nothing is said") == []


def test_points_and_centre_of_a_star_are_of_one_fabric() -> None:
    """Four stars, each of a fabric of its own: its points and centre belong together, the ground apart from them."""
    made = read(
        "blocks", "4 Ohio stars of 18, each star a different fabric, background oat"
    )
    stars = {
        number: {
            row.value.together
            for row in made.rows
            if f"star {number} " in row.value.name and "ground" not in row.value.name
        }
        for number in range(1, 5)
    }
    assert all(len(words) == 1 for words in stars.values())
    assert len({word for words in stars.values() for word in words}) == 4


def test_a_size_that_is_not_to_be_passed() -> None:
    """39 1/2 x 49 1/2 lies within 40 x 50, and not within 40 x 48."""
    assert read("use", "lap, no bigger than 40 x 50").quilt.notes == ()
    (note,) = read("use", "lap, no bigger than 40 x 48").quilt.notes
    assert "at most 40 x 48 is said" in note


def test_batting_as_large_as_the_backing() -> None:
    made = quilt(
        'top = "60 x 80"\nbacking = "any, 5 larger all round"\nbatting = "same size as the backing"\n'
    )
    assert made.how.batting_overage == made.how.overage[0]


def test_a_block_that_is_not_known_is_said_by_its_rows() -> None:
    assert asked_for(BY_ROWS, quilt('top = "60 x 80"\n').how)
    with pytest.raises(JobError) as caught:
        read("blocks", "12 card tricks of 9 from oat and plum")
    assert BY_ROWS in caught.value.problems[0].mend


def test_no_mend_leaves_out_a_fabric_that_was_named() -> None:
    """A word that is not understood may be left out; the fabric beside it may not."""
    alone = summary("blocks", "20 squares of 6 from oat, fluffy")
    assert "leave it out" in alone
    beside = summary("blocks", "20 squares of 6, wobbly navy bits, cream")
    assert "leave it out" not in beside
    assert "say what navy is for" in beside
