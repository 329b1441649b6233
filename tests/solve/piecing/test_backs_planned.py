"""Backs that are planned: whole, as the checker sews them again, with the wishes of their maker kept."""

from __future__ import annotations

from dataclasses import replace

import pytest

import cutopt as co
from cutopt.fabric import ByPiece, Fabric, Piece
from cutopt.job import Job
from cutopt.lengths import INCH
from cutopt.piecing import Back, BackRules, BlockWish, SpareBlock
from cutopt.plan import Plan
from cutopt.solve.control.progress import Progress, State
from cutopt.solve.model.from_job import model_of
from cutopt.solve.piecing.task import tasks_of
from cutopt.wanted import Cut, Strip
from tests.solve.piecing.perfect import perfect
from tests.solve.piecing.piles import KINDS, pile

WORK = co.Work(600)


def planned(job: Job, stop: co.Work = WORK) -> Plan:
    result = co.solve(job, stop=stop)
    for offer in result.offers:
        assert co.check(job, offer.plan) == []
    for each in result.evidence:
        assert co.check(each.job, each.plan) == []
    return result.plan


def asked(job: Job, **rules: object) -> Job:
    """The same job, its back with other rules."""
    (back,) = job.backs
    return replace(job, backs=(replace(back, rules=replace(back.rules, **rules)),))  # type: ignore[arg-type]


@pytest.mark.parametrize("kind", KINDS)
def test_a_back_is_pieced_of_a_pile_and_new_cloth(kind: str) -> None:
    job = pile(kind, 3).job  # type: ignore[arg-type]
    plan = planned(job)
    assert not plan.short
    assert plan.totals.seams == len(plan.seams) > 0


def test_the_same_work_gives_the_same_back() -> None:
    job = pile(KINDS[0], 5).job
    assert planned(job) == planned(job)


def test_a_perfect_pile_of_few_parts_is_found_again() -> None:
    """Parts cut out of a back by random straight cuts make that back again, and nothing is bought."""
    plan = planned(perfect(4, 1), co.Work(10_000))
    assert not plan.short
    assert not plan.totals.bought


@pytest.mark.parametrize(
    "rules",
    [
        {"run": "up"},
        {"run": "across"},
        {"most_parts": 5},
        {"middle": False},
        {"smallest_part": 6 * INCH},
        {"main": "goods"},
    ],
    ids=str,
)
def test_a_wish_is_kept(rules: dict[str, object]) -> None:
    """The checker reads each wish by a rule of its own."""
    job = pile(KINDS[0], 8).job
    if "main" in rules:
        rules = {"main": job.shop[0].fabric}
    assert not planned(asked(job, **rules)).short


def test_spare_blocks_that_have_to_go_in_do() -> None:
    job = pile(KINDS[0], 8).job
    (back,) = job.backs
    star = SpareBlock(name="star", width=13 * INCH // 2, length=13 * INCH // 2, count=5)
    wish = BlockWish(name="star", least=3)
    with_blocks = replace(
        job, backs=(replace(back, blocks=(wish,)),), spare_blocks=(star,)
    )
    plan = planned(with_blocks, co.Work(3_000))
    assert not plan.short
    assert len(plan.trims) >= 3


def test_binding_and_squares_come_out_of_the_same_pile() -> None:
    job = pile(KINDS[0], 9).job
    (back,) = job.backs
    strip = Strip(name="binding", width=5 * INCH // 2, total_length=200 * INCH)
    cut = Cut(name="square", width=5 * INCH, length=5 * INCH, count=12)
    plan = planned(replace(job, cuts=(cut,), strips=(strip,)))
    assert not plan.short
    assert {use.for_ for use in plan.uses} == {cut.key, strip.key, back.key}


def test_a_back_that_cannot_be_made_is_told_with_a_mend_that_makes_it() -> None:
    job = pile(KINDS[0], 0).job
    bare = replace(job, pieces=job.pieces[:1], shop=())
    result = co.solve(bare, stop=WORK)
    (short,) = result.plan.short
    assert short.for_ == bare.backs[0].key
    assert "missing" in short.why
    assert short.mends
    assert not result.complete
    assert [each.said for each in result.evidence] == list(short.mends)
    for each in result.evidence:
        assert co.check(each.job, each.plan) == []
        assert not each.plan.short


def test_rules_of_a_metric_job_are_near_those_of_an_inch_one() -> None:
    inch = BackRules()
    metric = BackRules.metric()
    for field in ("seam", "block_seam", "overage", "smallest_part", "edge_part"):
        assert abs(getattr(inch, field) / getattr(metric, field) - 1) < 0.3


def test_a_leftover_to_be_used_first_is_in_the_back() -> None:
    """Of two alike that would do, each alone enough, the one to be used first is taken."""
    job = perfect(4, 2)
    first = replace(job.pieces[0], wish="use first")
    other = replace(job.pieces[0], name="twin")
    wished = replace(job, pieces=(other, *job.pieces[1:], first))
    plan = planned(wished, co.Work(10_000))
    assert not plan.short
    assert first.name in {source.piece for source in plan.sources}


def test_pages_of_a_job_that_wants_a_back_alone_are_made_again(tmp_path) -> None:
    """An irregular leftover and no row: its grid is asked for when a saved plan is printed."""
    job = pile("odd", 2).job
    co.write_pages(co.solve(job, stop=WORK), tmp_path)
    assert model_of(replace(job, cuts=(), strips=())).step > 0


def test_views_are_told_no_bound_that_holds_for_one_make_up_alone() -> None:
    class Told(Progress):
        def __init__(self) -> None:
            self.bounds: list[float] = []

        def at(self, state: State) -> None:
            self.bounds.append(float(state.bound))

    view = Told()
    result = co.solve(pile("plain", 2).job, stop=WORK, progress=view)
    (money,) = (level for level in result.levels if level.name == "money")
    assert max(view.bounds) <= float(money.bound)


def test_without_prices_pieces_that_are_bought_count_by_their_length() -> None:
    """The bound counts them so, and no level may stand below its bound."""
    sold = ByPiece(fabric="goods", each_width=44 * INCH, each_length=52 * INCH, most=2)
    back = Back(name="B1", width=44 * INCH, length=52 * INCH)
    job = Job(fabrics=(Fabric(name="goods"),), shop=(sold,), backs=(back,))
    plan = planned(job)
    assert not plan.short
    (length,) = (level for level in plan.levels if level.name.startswith("length"))
    assert length.value == "52"


def test_thousands_of_patches_alike_are_no_more_fields_than_fit() -> None:
    patch = Piece.of_size("patch", "goods", 5 * INCH, 5 * INCH, count=9_000)
    back = Back(name="B1", width=44 * INCH, length=52 * INCH)
    job = Job(fabrics=(Fabric(name="goods"),), pieces=(patch,), backs=(back,))
    (task,) = tasks_of(job, back)
    # 10 across show 4 each and 1 more: 41; 11 would be 45. 12 up are 49, 13 would be 53
    assert max(group.columns for group in task.groups) == 10
    assert max(group.rows for group in task.groups) == 12
