"""What a pieced back is asked to be: each invariant of its values, and what contradicts what."""

from __future__ import annotations

import pytest

from cutopt.errors import JobError, Problem
from cutopt.fabric import Fabric, Piece
from cutopt.job import Job
from cutopt.lengths import INCH
from cutopt.piecing import Back, BackRules, BlockWish, SpareBlock, name_of
from cutopt.wanted import Cut

STAR = SpareBlock(name="star", width=13 * INCH // 2, length=13 * INCH // 2, count=5)


def back(**more: object) -> Back:
    asked = {"name": "B1", "width": 44 * INCH, "length": 52 * INCH} | more
    return Back(**asked)  # type: ignore[arg-type]


def job(*backs: Back, blocks: tuple[SpareBlock, ...] = (STAR,)) -> Job:
    oat = Piece.of_size("oat-1", "oat", 42 * INCH, 60 * INCH)
    fabrics = (Fabric(name="oat", tags=("plain",)),)
    return Job(fabrics=fabrics, pieces=(oat,), backs=backs, spare_blocks=blocks)


@pytest.mark.parametrize(
    ("make", "field"),
    [
        (lambda: SpareBlock(name="a/b", width=INCH, length=INCH), "block"),
        (lambda: SpareBlock(name="s", width=1, length=INCH), "width"),
        (lambda: SpareBlock(name="s", width=INCH, length=INCH, count=0), "count"),
        (
            lambda: SpareBlock(
                name="s", width=INCH, length=INCH, may_trim_to=(2 * INCH, INCH)
            ),
            "may_trim_to",
        ),
        (
            lambda: SpareBlock(
                name="s", width=INCH, length=INCH, may_trim_to=(1, INCH)
            ),
            "may_trim_to",
        ),
        (lambda: BlockWish(name="any", least=1), "blocks"),
        (lambda: BackRules(run="down"), "run"),  # type: ignore[arg-type]
        (lambda: BackRules(look="wild"), "look"),  # type: ignore[arg-type]
        (lambda: BackRules(seam=-1), "seam"),
        (lambda: BackRules(smallest_part=1), "smallest_part"),
        (lambda: BackRules(most_parts=0), "most_parts"),
        (lambda: back(width=INCH), "width"),
        (lambda: back(importance="perhaps"), "importance"),
        (lambda: back(rules=BackRules(smallest_part=44 * INCH)), "smallest_part"),
        (lambda: back(rules=BackRules(overage=22 * INCH)), "overage"),
    ],
)
def test_a_value_that_makes_no_sense_names_its_field(make, field: str) -> None:
    with pytest.raises(Problem) as told:
        make()
    assert told.value.field == field
    assert told.value.mend


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        (back(fabrics=("rose",)), '"rose" is neither a fabric nor a tag'),
        (back(rules=BackRules(main="rose")), '"rose" is neither'),
        (back(blocks=(BlockWish(name="sun"),)), 'no spare blocks "sun"'),
        (back(blocks=(BlockWish(name="star", least=6),)), "there are 5"),
        (
            back(
                blocks=(BlockWish(name="star", least=3),),
                rules=BackRules(most_parts=2),
            ),
            "2 parts are the most",
        ),
        (
            back(width=9 * INCH, blocks=(BlockWish(name="star"),)),
            "larger than what is left",
        ),
    ],
)
def test_a_back_that_contradicts_what_there_is_is_told(asked: Back, said: str) -> None:
    with pytest.raises(JobError) as told:
        job(asked)
    assert said in str(told.value)


def test_names_of_backs_and_blocks_are_given_once() -> None:
    with pytest.raises(JobError, match="given 2 times"):
        job(back(), back())
    with pytest.raises(JobError, match="given 2 times"):
        job(back(), blocks=(STAR, STAR))


def test_a_back_alone_is_a_job_and_is_found_by_its_key() -> None:
    asked = back(fabrics=("plain",), blocks=(BlockWish(name="any"),))
    of = job(asked)
    assert of.asked("backs/B1") is asked
    assert of.allowed(asked) == ("oat",)
    assert asked.may_take(STAR)
    assert asked.least_of(STAR) == 0


def test_a_job_without_a_back_keeps_its_digest_and_one_with_it_has_another() -> None:
    cut = Cut(name="square", width=INCH, length=INCH)
    oat = Fabric(name="oat")
    plain = Job(fabrics=(oat,), cuts=(cut,))
    pieced = Job(fabrics=(oat,), cuts=(cut,), backs=(back(),))
    # as it was before backs were known
    assert (
        plain.digest
        == "182a6a8e725eddb66284b2c2e2be51893e296f6db37a12d6355735e3df48de45"
    )
    assert pieced.digest != plain.digest


def test_the_fewest_parts_come_from_parts_or_seams() -> None:
    assert BackRules().fewest is None
    assert BackRules(most_parts=7).fewest == 7
    assert BackRules(most_parts=7, most_seams=4).fewest == 5


@pytest.mark.parametrize(
    ("key", "called"),
    [
        ("cuts/square", "square"),
        ("cuts/a/b", "a/b"),
        ("strips/binding", "binding"),
        ("backs/B1", "back B1"),
        ("backs/backing", "backing"),
        ("parts/A/B1", "back B1, part A"),
        ("parts/AB/Back/2", "Back/2, part AB"),
        ("odd", "odd"),
    ],
)
def test_a_key_of_a_plan_is_told_in_the_makers_words(key: str, called: str) -> None:
    assert name_of(key) == called
