"""A pieced back as it is sewn, against what a row of sewn pieces measures.

Arithmetic identity: a row of n pieces comes to the sum of their cut widths less two seams for each of the n - 1
seams, and what is seen of a piece is its cut size less a seam at each side that is sewn. 9 squares of 5 in with
1/4-in seams: 45 - 4 = 41.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from cutopt.back_letters import lettered
from cutopt.check import check
from cutopt.errors import Problem
from cutopt.fabric import Fabric, Piece
from cutopt.job import Job
from cutopt.lengths import INCH
from cutopt.piecing import Back
from cutopt.plan import Plan, Seam, Source, Use
from cutopt.sewn_back import SewnBack, sewn_backs
from tests.draw.sample import inches
from tests.draw.sample_backs import orchard_back_job, orchard_back_plan, random_back


def in_inches(*ticks: object) -> tuple[Fraction, ...]:
    return tuple(Fraction(each) / INCH for each in ticks)  # type: ignore[arg-type]


def squares(across: int, down: int, side: int) -> SewnBack:
    """A patchwork of squares with 1/4-in seams: rows first, from left to right, then the rows upon each other."""
    seam = INCH // 4
    count = across * down
    size = side * INCH
    piece = Piece.of_size("five", "oat", size, size, count=count)
    names = [f"S{n + 1}" for n in range(count)]
    seams: list[Seam] = []

    def join(a: str, b: str, side: str) -> str:
        n = len(seams) + 1
        made = Seam(n=n, back="B", a=a, b=b, side=side, seam=seam, gives=f"B.{n}")  # type: ignore[arg-type]
        seams.append(made)
        return made.gives

    rows = []
    for row in range(down):
        sewn, *rest = names[row * across : (row + 1) * across]
        for name in rest:
            sewn = join(sewn, name, "right")
        rows.append(sewn)
    whole = rows[0]
    for row_sewn in rows[1:]:
        whole = join(whole, row_sewn, "above")
    back = Back(name="B", width=20 * INCH, length=20 * INCH)
    job = Job(fabrics=(Fabric(name="oat"),), pieces=(piece,), backs=(back,))
    plan = Plan(
        job=job.digest,
        sources=tuple(
            Source(id=name, piece="five", copy=n + 1) for n, name in enumerate(names)
        ),
        uses=tuple(Use(part=name, for_="backs/B") for name in names),
        seams=tuple(seams),
        origin=job,
    )
    (made,) = sewn_backs(job, plan)
    return made


def test_a_patchwork_of_squares_measures_what_the_handbook_formula_says() -> None:
    """m x k squares c: m(c - 2s) + 2s raw; 9 x 11 of 5 in: 41 x 50, of which 40 1/2 x 49 1/2 once bound in."""
    made = squares(9, 11, 5)
    assert in_inches(made.width, made.height) == (41, 50)
    assert len(made.steps) == len(made.parts) - 1 == 98
    first = made.steps[0]
    assert in_inches(first.width, first.height, first.length) == (Fraction(19, 2), 5, 5)
    row = made.steps[7]
    assert in_inches(row.width, row.height) == (41, 5)
    middle = next(part for part in made.parts if part.letter == "K")
    # S3: the second of the second row, seams at all four sides: 5 less 1/2
    assert in_inches(*middle.box[2:]) == (Fraction(9, 2), Fraction(9, 2))
    assert in_inches(*middle.box[:2]) == (Fraction(19, 4), Fraction(19, 4))


def test_parts_of_a_back_cut_apart_at_random_lie_where_they_were() -> None:
    for seed in range(40):
        job, plan, apart = random_back(seed, parts=2 + seed % 15)
        assert check(job, plan) == []
        (made,) = sewn_backs(job, plan)
        assert (made.width, made.height) == apart.size
        assert {part.name: part.box for part in made.parts} == apart.seen
        assert {p.name: (p.width, p.height) for p in made.parts} == apart.leaves
        _steps_add_up(made)


def _steps_add_up(made: SewnBack) -> None:
    """Each seam from what a person has in her hands: the sum less two seams one way, the same the other."""
    there = {(part.letter,): (part.width, part.height) for part in made.parts}
    for step in made.steps:
        one = there.pop(step.one.letters)
        other = there.pop(step.other.letters)
        axis = int(step.side in ("above", "below"))
        sewn = one[axis] + other[axis] - 2 * step.seam
        assert one[1 - axis] == other[1 - axis] == step.length
        assert (step.width, step.height)[axis] == sewn
        assert (step.width, step.height)[1 - axis] == step.length
        there[(*step.one.letters, *step.other.letters)] = (step.width, step.height)
        assert step.press in (step.one, step.other)
    (last,) = there.values()
    assert last == (made.width, made.height)


def test_the_seams_lie_between_the_parts_that_they_join() -> None:
    job, plan, _ = random_back(3)
    (made,) = sewn_backs(job, plan)
    boxes = {part.letter: part.box for part in made.parts}
    for step in made.steps:
        (x1, y1), (x2, _) = step.line
        upright = step.side in ("left", "right")
        assert (x1 == x2) == upright
        axis = 0 if upright else 1
        at = (x1, y1)[axis]
        ends = [boxes[letter][axis] for letter in step.one.letters]
        highs = [sum(boxes[letter][axis::2]) for letter in step.one.letters]
        # `one` ends at the seam on the side that is named
        if step.side in ("right", "above"):
            assert max(highs) == at
        else:
            assert min(ends) == at


def test_letters_follow_the_sewing_and_name_blocks_too() -> None:
    plan = orchard_back_plan()
    names = lettered(plan)
    assert names["blocks/star/1"] == "parts/A/B1"
    assert names["blocks/star/2"] == "parts/C/B1"
    assert len(set(names.values())) == 9
    letters = [part.letter for part in squares(5, 6, 5).parts]
    assert letters[25:28] == ["Z", "AA", "AB"]


def test_the_orchard_back_is_as_it_was_worked_by_hand() -> None:
    plan = orchard_back_plan()
    assert check(orchard_back_job(), plan) == []
    (made,) = sewn_backs(orchard_back_job(), plan)
    assert in_inches(made.width, made.height) == (44, 52)
    sizes = [in_inches(step.width, step.height) for step in made.steps]
    half = Fraction(1, 2)
    assert sizes == [
        (12 + half, 24 + half),
        (12 + half, 36 + half),
        (12 + half, 44 + half),
        (12 + half, 52),
        (20, 52),
        (12 + half, 52),
        (32, 52),
        (44, 52),
    ]
    coping = {part.letter for part in made.parts if part.coping}
    assert coping == {"D", "E"}
    assert [part.block.name for part in made.blocks if part.block] == [
        "star",
        "hen",
        "star",
    ]
    assert in_inches(*made.trimmed) == (2, 2, 40, 48)


def test_seams_are_pressed_away_from_blocks_to_the_darker_or_the_larger() -> None:
    plan = orchard_back_plan()
    (made,) = sewn_backs(orchard_back_job(), plan)
    pressed = {step.n: "".join(step.press.letters) for step in made.steps}
    assert pressed[3] == "D"  # from the block to the coping
    assert pressed[5] == "G"  # plum is dark, pear is light
    assert pressed[6] == "I"  # bark is dark, oat is light
    assert pressed[7] == "FG"  # two parts along the seam against five
    job, plan, _ = random_back(5, parts=2)
    (made,) = sewn_backs(job, plan)
    (step,) = made.steps
    areas = {p.letters: p.width * p.height for p in (step.one, step.other)}
    assert areas[step.press.letters] == max(areas.values())


def test_a_back_of_one_part_has_no_seam() -> None:
    job, plan, apart = random_back(2, parts=1)
    (made,) = sewn_backs(job, plan)
    assert [part.letter for part in made.parts] == ["A"]
    assert not made.steps
    assert (made.width, made.height) == apart.size


def test_a_larger_back_is_trimmed_alike_all_round() -> None:
    job, plan, _ = random_back(4)
    (made,) = sewn_backs(job, plan)
    larger = replace(made, width=made.width + inches(1), height=made.height)
    assert larger.trimmed[0] == made.trimmed[0] + inches("0.5")
    assert larger.trimmed[2:] == made.trimmed[2:]


def test_a_back_that_does_not_come_together_is_told() -> None:
    job, plan, _ = random_back(6)
    lost = replace(plan, seams=plan.seams[:-1])
    with pytest.raises(Problem, match="does not come together"):
        sewn_backs(job, lost)
    last = plan.seams[-1]
    side = {"left": "above", "right": "above", "above": "right", "below": "right"}
    askew = replace(plan, seams=(*plan.seams[:-1], replace(last, side=side[last.side])))
    with pytest.raises(Problem, match="different lengths"):
        sewn_backs(job, askew)
    twice = replace(plan, seams=(*plan.seams, replace(last, n=last.n + 1)))
    with pytest.raises(Problem, match="no longer"):
        sewn_backs(job, twice)


def test_a_plan_without_a_back_has_none() -> None:
    job, plan, _ = random_back(7)
    assert sewn_backs(job, replace(plan, seams=(), uses=())) == ()
    assert lettered(replace(plan, seams=(), uses=())) == {}
