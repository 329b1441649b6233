"""A bed and for whom a quilt is, as quilters say it. Sums are identities; drops and depths are invented."""

from __future__ import annotations

import pytest

from cutopt.errors import JobError
from cutopt.quilt.sizes import USES
from cutopt.settings import Settings
from cutopt.tables.recipe.beds_and_uses import BED, USE
from cutopt.tables.recipe.quilt import quilt

SAID = {  # what is said of a bed: the sums, across and along
    # mattresses in inches: common practice, no source
    "queen, drop 12, tuck 10": "60 + 2 x 12 = 84; 80 + 12 + 10 = 102",
    "queen size, 12 drop": "60 + 2 x 12 = 84; 80 + 12 = 92",
    "Queen bed with a 12 inch drop": "60 + 2 x 12 = 84; 80 + 12 = 92",
    "drop 12, tuck 10, queen": "60 + 2 x 12 = 84; 80 + 12 + 10 = 102",
    "single bed, drop 12": "38 + 2 x 12 = 62; 75 + 12 = 87",
    "single, drop 12": "38 + 2 x 12 = 62; 75 + 12 = 87",
    "double, drop 12": "53 + 2 x 12 = 77; 75 + 12 = 87",
    "full size, drop 12": "53 + 2 x 12 = 77; 75 + 12 = 87",
    "twin xl, drop 12": "38 + 2 x 12 = 62; 80 + 12 = 92",
    "California king, drop 12": "72 + 2 x 12 = 96; 84 + 12 = 96",
    # from memory
    "hospital bed, drop 10": "36 + 2 x 10 = 56; 80 + 10 = 90",
    # 16 CFR 1219
    "crib, drop 4": "28 + 2 x 4 = 36; 52 3/8 + 4 = 56 3/8",
    "crib size, no drop at the foot, sides 4": "28 + 2 x 4 = 36; 52 3/8",
    # measured
    "60 x 80, depth 12, drop 2 below the mattress": "60 + 2 x 14 = 88; 80 + 14 = 94",
    "60 x 80, 12 deep, 2 below the mattress": "60 + 2 x 14 = 88; 80 + 14 = 94",
    "queen, depth 12, drop to the bottom of the mattress": "60 + 2 x 12 = 84; 80 + 12 = 92",
    "queen, height 25, drop to the floor": "60 + 2 x 25 = 110; 80 + 25 = 105",
    "queen, 25 high, floor length": "60 + 2 x 25 = 110; 80 + 25 = 105",
    "queen, height 25, drop to 1 above the floor": "60 + 2 x 24 = 108; 80 + 24 = 104",
    "queen mattress 14 deep, 16 drop, 10 pillow tuck": "60 + 2 x 16 = 92; 80 + 16 + 10 = 106",
    "queen, drop 12, 10 to tuck under the pillow": "60 + 2 x 12 = 84; 80 + 12 + 10 = 102",
    "twin, 10 left, 14 right, 12 foot": "38 + 10 + 14 = 62; 75 + 12 = 87",
    "twin, drop 12 on the left, drop 14 on the right, 10 at the foot": "38 + 12 + 14 = 64; 75 + 10 = 85",
    "twin, drop 12, none at the foot": "38 + 2 x 12 = 62; 75",
    "twin, drop 12, nothing on the left": "38 + 12 = 50; 75 + 12 = 87",
    "queen, sides 12, foot 14": "60 + 2 x 12 = 84; 80 + 14 = 94",
    "queen, drop 12, none at the head": "60 + 2 x 12 = 84; 80 + 12 = 92",
    "queen, drop 12, head 3": "60 + 2 x 12 = 84; 80 + 12 + 3 = 95",
    "queen, drop 12 each side and the foot": "60 + 2 x 12 = 84; 80 + 12 = 92",
}
METRIC = {
    "90 x 200, drop 30": "90 + 2 x 30 = 150; 200 + 30 = 230",
    "140 x 200 cm, depth 20, 5 below the mattress": "140 + 2 x 25 = 190; 200 + 25 = 225",
    "160 x 200, drop 30, tuck 25": "160 + 2 x 30 = 220; 200 + 30 + 25 = 255",
    # from memory
    "cot, drop 10": "60 + 2 x 10 = 80; 120 + 10 = 130",
}
MISTAKES = {  # what is said of a bed: what is told
    "queen": "how far it hangs is missing",
    "drop 12": "says no bed",
    "queen king, drop 12": "says two beds: queen and king",
    "queen 60 x 80, drop 12": "says two beds: queen and 60 x 80",
    "60, drop 12": "is not the size of a bed",
    "60 x 80 cut, drop 12": "is the size of cloth",
    "queen, depth 12, drop to the floor": "needs to know how high",
    "queen, 2 below the mattress": "needs to know how deep",
    "queen, drop below the mattress": "does not say how far below",
    "queen, drop 12, 2 below the mattress, depth 9": "says twice how far it hangs",
    "queen, drop 12, drop 14": "said twice",
    "queen, drop 12 on the left": "at the right and the foot",
    "queen, drop 12, foot 10, none at the foot": "and that it does not",
    "queen, drop 12, tuck 8, no tuck": "says a tuck, and none",
    "queen, height 10, 12 above the floor": "lower than",
    "queen, drop 12, upright": '"upright"',
    "queen, drop 12 from navy": 'no fabric belongs here; leave out "from navy"',
    "queen, drip 3": 'write "queen, drop 3"',
    "queen, drop 12, lilac": '"lilac"',
    "a hammock, drop 3": '"hammock"',
}
CALLED = {
    "lap quilt": "lap",
    "for a wheelchair": "chair with wheels",
    "Wheelchair lap robe": "chair with wheels",
    "crib": "cot",
    "baby quilt": "baby",
    "hospital": "ward",
    "a nursing home": "ward",
    "a lap quilt for the hospice": "ward",
    "lap quilt for a lady in a wheelchair": "chair with wheels",
    "For a baby's cot, please": "cot",
    "hospital bed": "ward",
    "sofa": "throw",
    "double bed": "full",
    "single": "twin",
    "queen size": "queen",
}


@pytest.mark.parametrize("said", SAID)
def test_a_bed_in_inches(said: str) -> None:
    made = quilt(f'bed = "{said}"\n')
    assert made.notes[0] == f"for this bed: {SAID[said]}"


@pytest.mark.parametrize("said", METRIC)
def test_a_bed_in_centimetres(said: str) -> None:
    made = quilt(f'bed = "{said}"\n', Settings.metric())
    assert made.notes[0] == f"for this bed: {METRIC[said]}"


@pytest.mark.parametrize("said", MISTAKES)
def test_no_word_of_a_bed_is_passed_over(said: str) -> None:
    with pytest.raises(JobError) as caught:
        quilt(f'bed = "{said}"\n')
    assert MISTAKES[said] in str(caught.value)


@pytest.mark.parametrize("name", ["single", "double bed", "queen", "king"])
def test_a_bed_that_is_called_so_in_many_sizes_is_asked_back(name: str) -> None:
    """A double of 53 x 75 in is 134.6 x 190.5 cm, and others are 140 x 200 (identity; sizes from memory)."""
    with pytest.raises(JobError, match="not of the same size") as caught:
        quilt(f'bed = "{name}, drop 30"\n', Settings.metric())
    assert name in str(caught.value)


@pytest.mark.parametrize("how", ["drop 12, tuck 10", "drop 2 below the mattress"])
def test_a_mend_that_is_told_reads(how: str) -> None:
    said = {
        "drop 12, tuck 10": "queen",
        "drop 2 below the mattress": "queen, drop below the mattress, depth 12",
    }[how]
    with pytest.raises(JobError) as caught:
        quilt(f'bed = "{said}"\n')
    (problem,) = caught.value.problems
    told = problem.mend.split('"')[1]
    assert how in told
    assert quilt(f'bed = "{told}"\n').notes[0].startswith("for this bed: 60 + 2 x ")


@pytest.mark.parametrize("unit", ["in", "cm"])
def test_the_examples_of_both_read(unit: str) -> None:
    settings = Settings() if unit == "in" else Settings.metric()
    told = {"in": BED.like, "cm": "90 x 200, drop 30, tuck 20"}[unit]
    assert quilt(f'bed = "{told}"\nuse = "{USE.like}"\n', settings).use == "lap"


def test_how_deep_and_how_high_is_told() -> None:
    """Drop 12 of a mattress 10 deep ends 2 below it; of a bed 25 high 13 above the floor (identity)."""
    notes = quilt('bed = "queen, drop 12, depth 10, height 25"\n').notes
    assert "it ends 2 below the mattress, which is 10 deep" in notes
    assert "it ends 13 above the floor" in notes


def test_a_quilt_for_a_crib_is_for_no_sleep() -> None:
    """American Academy of Pediatrics, Sleep-Related Infant Deaths: Updated 2022 Recommendations."""
    for name in ("crib", "cot", "cot bed"):
        notes = quilt(f'bed = "{name}, drop 4"\n').notes
        assert any("never for sleep under 12 months" in text for text in notes)


@pytest.mark.parametrize("said", [*CALLED, *(each.name for each in USES)])
def test_for_whom_it_is(said: str) -> None:
    made = quilt(f'top = "40 x 50"\nuse = "{said}"\n')
    assert made.use == CALLED.get(said, said)


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ("hammock", '"hammock"'),
        ("king and ward", "says ward and king"),
        ("lap from navy", "no fabric belongs here"),
        ("lap, upright", '"upright"'),
        ("quilt", "says none"),
        ("chair", '"chair"'),
    ],
)
def test_no_word_of_a_use_is_passed_over(said: str, told: str) -> None:
    with pytest.raises(JobError) as caught:
        quilt(f'top = "40 x 50"\nuse = "{said}"\n')
    assert told in str(caught.value)
