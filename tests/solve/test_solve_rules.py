"""What a maker asks for is obeyed, in jobs small enough to be worked out on paper (the arithmetic beside each)."""

from __future__ import annotations

import random
import re
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest

from cutopt.check import check
from cutopt.cloth import replay
from cutopt.errors import Problem
from cutopt.fabric import ByLength, Fabric, Piece
from cutopt.geometry import bounds
from cutopt.job import Job
from cutopt.lengths import CM, INCH, METRE, MM, UNITS, YARD, parse_number, up_to
from cutopt.settings import Settings, Unit
from cutopt.solve.control.stop import Seconds, Work
from cutopt.solve.run import Run
from cutopt.solve.solver import solve
from cutopt.wanted import Strip
from tests.solve.small import (
    bolt,
    counted,
    cut,
    each,
    fabrics_of,
    inch,
    job,
    lengths_of,
    piece,
    pieces_of,
    sizes,
    solved,
    touched,
)

UP = Fabric(name="mist", one_way="along")


def test_nothing_is_bought_where_the_pile_is_enough() -> None:
    """Six 3 x 3 from 9 x 6 exactly."""
    result = solved(job(piece("a", 9, 6), bolt(), cut("square", 3, 3, 6)))
    assert result.complete
    assert result.plan.totals.money == 0
    assert result.levels[0].proved


def test_true_edges_lose_nothing_and_raw_ones_do() -> None:
    """Four 4-inch squares fill 8 x 8; with 1/4 in off each raw edge, 7 1/2 x 7 1/2 holds one."""
    true, raw = (piece("a", 8, 8, edges=edges) for edges in ("true", "raw"))
    assert counted(solved(job(true, cut("square", 4, 4, 4))).plan)["square"] == 4
    assert counted(solved(job(raw, cut("square", 4, 4, 4))).plan)["square"] == 1


def test_a_piece_measured_roughly_is_planned_smaller() -> None:
    """5 x 5 less 1/2 in on each edge is 4 x 4."""
    rough = piece("a", 5, 5, about=True)
    assert solved(job(rough, cut("square", 4, 4))).complete
    assert not solved(job(rough, cut("square", 4.125, 4))).complete


def test_grain_along_and_across() -> None:
    """4 x 10 cloth: a 3 x 9 part along the selvage fits, across it does not."""
    cloth = piece("a", 4, 10)
    assert solved(job(cloth, cut("leaf", 3, 9, grain="along"))).complete
    assert not solved(job(cloth, cut("leaf", 3, 9, grain="across"))).complete
    assert solved(job(piece("a", 10, 4), cut("leaf", 3, 9, grain="across"))).complete


def test_unknown_grain_serves_no_part_with_a_rule() -> None:
    cloth = piece("a", 10, 10, grain_known=False)
    assert not solved(job(cloth, cut("leaf", 3, 9, grain="along"))).complete
    assert solved(job(cloth, cut("leaf", 3, 9))).complete


@pytest.mark.parametrize(("one_way", "size"), [("along", (3, 9)), ("across", (9, 3))])
def test_a_print_stands_up_where_it_must(one_way: str, size: tuple[int, int]) -> None:
    """The length of the part runs the way the print stands up, in cloth that holds both ways."""
    task = job(
        replace(UP, one_way=one_way),
        piece("a", 10, 10, fabric="mist"),
        cut("window", 3, 9, upright=True),
    )
    result = solved(task)
    assert sizes(task, result.plan, "window") == {(inch(size[0]), inch(size[1]))}


def test_a_print_that_need_not_stand_up_is_turned() -> None:
    assert solved(job(UP, piece("a", 10, 4, fabric="mist"), cut("leaf", 3, 9))).complete
    assert not solved(
        job(UP, piece("a", 10, 4, fabric="mist"), cut("leaf", 3, 9, upright=True))
    ).complete


def test_do_not_touch_is_not_touched_even_where_something_must_be_cut() -> None:
    result = solved(job(piece("a", 9, 9, wish="do not touch"), cut("square", 3, 3)))
    assert not result.complete
    assert touched(result.plan) == set()


def test_keep_whole_is_cut_only_where_nothing_else_will_do() -> None:
    kept = piece("kept", 9, 9, wish="keep whole")
    other = piece("other", 5, 5)
    assert touched(solved(job(kept, other, cut("square", 5, 5))).plan) == {"other"}
    assert touched(solved(job(kept, cut("square", 5, 5))).plan) == {"kept"}


# parts of which a 17 x 19 inch piece was made by guillotine cuts: it holds them all and nothing else
MADE_OF_ONE = (
    ((10, 1), (10, 3), (4, 8), (4, 8), (3, 16), (17, 3), (10, 6), (10, 4), (10, 2)),
    ((1, 17), (10, 2), (14, 2), (10, 3), (3, 12), (3, 17), (3, 19), (3, 12), (4, 12)),
    ((17, 1), (17, 2), (17, 2), (8, 5), (9, 5), (17, 3), (17, 3), (17, 2), (17, 1)),
)


def kept_and_other(sizes: tuple[tuple[int, int], ...]) -> Job:
    assert sum(w * h for w, h in sizes) == 17 * 19
    parts = [cut(f"part {n}", w, h) for n, (w, h) in enumerate(sizes)]
    return job(piece("kept", 20, 20, wish="keep whole"), piece("other", 17, 19), *parts)


@pytest.mark.parametrize("sizes", MADE_OF_ONE)
def test_keep_whole_is_kept_although_the_first_plan_does_not_manage(
    sizes: tuple[tuple[int, int], ...],
) -> None:
    result = solve(kept_and_other(sizes), Work(20_000))
    assert check(result.job, result.plan) == []
    assert touched(result.plan) == {"other"}


@pytest.mark.parametrize("sizes", MADE_OF_ONE)
def test_keep_whole_is_cut_where_no_time_is_left_to_search(
    sizes: tuple[tuple[int, int], ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(Run, "_get_ready", lambda _: False)
    result = solve(kept_and_other(sizes), Seconds(5))
    assert check(result.job, result.plan) == []
    assert result.complete
    assert "kept" in touched(result.plan)


def test_use_first_is_used_first() -> None:
    """Two pieces alike, either serves."""
    for first, second in (("use first", ""), ("", "use first")):
        task = job(
            piece("a", 6, 6, wish=first),
            piece("b", 6, 6, wish=second),
            cut("square", 5, 5),
        )
        assert touched(solved(task).plan) == {"a" if first else "b"}


def test_a_flaw_is_kept_out() -> None:
    """A 2 x 2 hole at 4, 4 in 9 x 9: three 4-inch squares have room beside it, a fourth has not."""
    hole = tuple((inch(x), inch(y)) for x, y in ((4, 4), (6, 4), (6, 6), (4, 6)))
    whole = piece("a", 9, 9)
    task = job(replace(whole, flaws=(hole,)), cut("square", 4, 4, 4))
    assert counted(solved(task).plan)["square"] == 3
    assert counted(solved(job(whole, cut("square", 4, 4, 4))).plan)["square"] == 4


def test_together_comes_from_one_fabric() -> None:
    """Either pile alone holds both rows, or each holds one: only the first is allowed."""
    rows = (cut("sky", 4, 4, 2, together="air"), cut("gate", 4, 8, together="air"))
    task = job(
        piece("p", 4, 8),
        piece("o", 8, 8, fabric="oat"),
        piece("q", 4, 8, fabric="plum"),
        *rows,
    )
    result = solved(task)
    assert result.complete
    found = fabrics_of(task, result.plan)
    assert set(found["sky"]) == set(found["gate"]) == {"oat"}


def test_together_is_short_rather_than_mixed() -> None:
    task = job(
        piece("p", 4, 4),
        piece("o", 4, 4, fabric="oat"),
        cut("sky", 4, 4, 2, together="air"),
    )
    result = solved(task)
    assert not result.complete
    assert len(fabrics_of(task, result.plan).get("sky", {})) <= 1


def test_at_most_so_many_of_one_fabric() -> None:
    """Pear alone holds four; with at most two of each, oat gives the others."""
    task = job(
        piece("p", 8, 8),
        piece("o", 8, 8, fabric="oat"),
        cut("slat", 4, 4, 4, most_each=2),
    )
    assert fabrics_of(task, solved(task).plan)["slat"] == {"pear": 2, "oat": 2}
    alone = solved(job(piece("p", 8, 8), cut("slat", 4, 4, 4, most_each=3)))
    assert counted(alone.plan)["slat"] == 3
    assert alone.plan.short[0].count == 1


def test_the_preferred_fabric_is_taken_where_both_are_there() -> None:
    for order in (("pear", "oat"), ("oat", "pear")):
        task = job(
            piece("p", 5, 5),
            piece("o", 5, 5, fabric="oat"),
            cut("square", 5, 5, fabrics=order),
        )
        assert fabrics_of(task, solved(task).plan)["square"] == {order[0]: 1}


def test_must_comes_before_nice_before_if_left() -> None:
    """Cloth for two of three."""
    rows = [
        cut("c", 4, 4, importance="if left"),
        cut("b", 4, 4, importance="nice"),
        cut("a", 4, 4),
    ]
    result = solved(job(piece("p", 8, 4), *rows))
    assert set(counted(result.plan)) == {"a", "b"}
    assert result.complete
    assert [short.for_ for short in result.plan.short] == ["cuts/c"]


def test_nothing_is_bought_for_what_is_only_nice() -> None:
    result = solved(job(bolt(), cut("a", 4, 4, importance="nice")))
    assert result.plan.totals.money == 0
    assert result.complete


def test_one_length_of_a_fabric_rounded_once() -> None:
    """42 wide, 1/2 in off each end: 18 squares of 4 1/2 are 9 across in two rows: 9 + 1 = 10 in, sold 13 1/2."""
    result = solved(job(bolt(), cut("square", 4.5, 4.5, 18)))
    assert result.complete
    assert [(s.width, s.length) for s in result.plan.sources] == [
        (inch(42), 3 * YARD // 8)
    ]
    assert result.plan.totals.money == Decimal("3.60")
    assert result.levels[0].proved


def test_the_smallest_sale_and_the_most() -> None:
    one = solved(job(bolt(smallest=YARD // 2), cut("square", 3, 3)))
    assert lengths_of(one.plan) == {"pear": YARD // 2}
    two = solved(
        job(bolt(most=YARD // 4), cut("square", 8, 8, 10))
    )  # 9 in less 1 in, five across
    assert counted(two.plan)["square"] == 5
    assert lengths_of(two.plan) == {"pear": YARD // 4}
    assert two.plan.short[0].count == 5


def test_no_more_pieces_are_bought_than_there_are() -> None:
    """Each fat quarter of 21 x 18 holds four 9-inch squares; two are there."""
    result = solved(job(each("pear", 21, 18, "3.40", most=2), cut("square", 9, 9, 12)))
    assert not result.complete
    assert counted(result.plan)["square"] == 8
    assert pieces_of(result.plan) == {"pear": 2}
    assert result.plan.short[0].count == 4


def test_the_cheaper_way_to_buy_is_taken() -> None:
    """Two 9 x 10 from one fat quarter (3.40) or from 1/2 yd (18 in less 1 in, 4.80)... or 3/8 yd (12 1/2, 3.60)."""
    assert solved(
        job(bolt(), each("pear", 21, 18, "3.40"), cut("w", 9, 10, 2))
    ).plan.totals.money == Decimal("3.40")
    assert solved(
        job(bolt(), each("pear", 21, 18, "3.80"), cut("w", 9, 10, 2))
    ).plan.totals.money == Decimal("3.60")


def test_without_prices_the_least_length_is_bought() -> None:
    result = solved(job(bolt(price=None), cut("square", 4.5, 4.5, 18)))
    assert result.plan.totals.money is None
    assert lengths_of(result.plan) == {"pear": 3 * YARD // 8}
    assert any("price" in notice for notice in result.notices)


def test_shrinkage_is_counted_before_cutting() -> None:
    """5 % across: 42 is 39.9, so 14 squares of 3 in become 13 a row; 14 of them then need two rows."""
    shrinks = Fabric(name="pear", washed=False, shrink_across=Fraction(5, 100))
    squares = cut("square", 3, 3, 14)
    assert lengths_of(solved(job(bolt(), squares)).plan) == {"pear": YARD // 8}
    washed = solved(job(shrinks, bolt(), squares)).plan
    assert lengths_of(washed) == {"pear": YARD // 4}


def test_a_binding_is_joined_from_segments() -> None:
    """100 in of 2 1/2: a diagonal join costs 2 1/2, so 42 + 42 + 42 - 5 = 121 >= 100; two give 81 1/2, too few.

    Three strips of 2 1/2 and the ends make 8 1/2 in: 9 in.
    """
    strip = Strip(
        name="binding", width=inch(2.5), total_length=inch(100), shortest=inch(10)
    )
    result = solved(job(bolt(), strips=(strip,)))
    assert result.complete
    assert lengths_of(result.plan) == {"pear": YARD // 4}
    (join,) = result.plan.joins
    assert join.length >= inch(100)
    assert len(join.segments) == 3


def test_segments_are_not_shorter_than_asked() -> None:
    """Nine scraps of 12 in make no strip of 40 in where 15 is the shortest."""
    scraps = piece("s", 2.5, 12, count=9)
    strip = Strip(
        name="binding", width=inch(2.5), total_length=inch(40), shortest=inch(10)
    )
    assert solved(job(scraps, strips=(strip,))).complete
    long = replace(strip, shortest=inch(15))
    result = solved(job(scraps, strips=(long,)))
    assert not result.complete
    assert result.plan.uses == ()
    assert result.plan.short[0].for_ == "strips/binding"


@pytest.mark.parametrize("importance", ["nice", "if left"])
def test_nothing_is_bought_for_what_is_not_needed(importance: str) -> None:
    """Two strips of 2 1/2 and the ends are 6 in: 9 in are bought, in which a square of 20 does not lie."""
    strip = Strip(
        name="binding", width=inch(2.5), total_length=inch(60), shortest=inch(5)
    )
    result = solved(
        job(bolt(), cut("cloth", 20, 20, importance=importance), strips=(strip,))
    )
    assert lengths_of(result.plan) == {"pear": inch(9)}
    assert [short.for_ for short in result.plan.short] == ["cuts/cloth"]


@pytest.mark.parametrize(("width", "length"), [(42, 14.5), (14.5, 42), (39, 15)])
def test_short_segments_side_by_side_where_long_ones_would_not_do(
    width: float, length: float
) -> None:
    """9 1/2 wide, 56 1/2 long, straight joins of 1/2 (identity): 4 x 14 1/2 - 3 x 1/2; one along the 42 leaves 5 in."""
    strip = Strip(
        name="narrow",
        width=inch(9.5),
        total_length=inch(56.5),
        shortest=inch(9.5),
        join="straight",
    )
    result = solved(job(piece("rest", width, length), strips=(strip,)))
    assert result.complete
    assert len(result.plan.joins[0].segments) == 4


def test_a_strip_of_one_segment_takes_one() -> None:
    strip = Strip(name="sash", width=inch(2.5), total_length=inch(30), join="none")
    assert solved(job(piece("s", 2.5, 30), strips=(strip,))).complete
    assert not solved(job(piece("s", 2.5, 29, count=3), strips=(strip,))).complete


@pytest.mark.parametrize("turns", [2, 3, 4])
def test_a_limit_on_turns_is_kept(turns: int) -> None:
    """The checker counts them. Five 3 x 5 in one row and two 7 x 9 in another need 2: rows, then parts."""
    task = job(
        piece("a", 17, 14),
        cut("big", 7, 9, 2),
        cut("small", 3, 5, 5),
        cut("more", 3, 5, 3, importance="if left"),
        settings=Settings(turns=turns),
    )
    assert solved(task).complete


def test_off_grid_sizes_are_cut_as_they_are() -> None:
    """Three 2 9/16 in strips of 7 11/16: the grid of 1/8 in does not take them away."""
    assert solved(job(piece("a", 7.6875, 6), cut("leaf", 2.5625, 6, 3))).complete


def test_a_metric_job() -> None:
    """Nine 8.5 cm squares fill 25.5 x 25.5 cm; a tenth is bought by the 10 cm: 8.5 + 3 = 11.5, so 20 cm."""
    square = Piece.of_size("a", "linen", 255 * MM, 255 * MM)
    shop = ByLength(
        fabric="linen", usable_width=106 * CM, sold_by=10 * CM, price=Decimal("12.00")
    )
    wanted = replace(cut("patch", 1, 1, 10), width=85 * MM, length=85 * MM)
    task = Job(
        settings=Settings.metric(),
        fabrics=(Fabric(name="linen"),),
        pieces=(square,),
        shop=(shop,),
        cuts=(wanted,),
    )
    result = solved(task)
    assert result.complete
    assert lengths_of(result.plan) == {"linen": 20 * CM}
    assert result.plan.totals.money == Decimal("2.40")
    missing = solved(replace(task, shop=()))
    said = [result.because, *result.notices, *missing.notices, missing.because]
    said += [
        f"{level.name} {level.value} {level.bound}"
        for level in (*result.levels, *missing.levels)
    ]
    said += [text for short in missing.plan.short for text in (short.why, *short.mends)]
    assert len(said) > 6
    assert not re.search(r"\d\s*(in|yd)\b|\(in\)|inch|yard|\d/\d", " ".join(said))


def test_every_form_of_an_l() -> None:
    """18 x 11 less 12 x 5 is two rectangles either way: one cut gives 18 x 6 and 6 x 5, or 6 x 11 and 12 x 6."""
    ell = tuple(
        (inch(x), inch(y))
        for x, y in ((0, 0), (18, 0), (18, 6), (6, 6), (6, 11), (0, 11))
    )
    cloth = Piece(name="ell", fabric="pear", outline=ell)
    assert solved(job(cloth, cut("long", 18, 6), cut("short", 6, 5))).complete
    assert solved(job(cloth, cut("tall", 6, 11), cut("wide", 12, 6))).complete
    assert not solved(job(cloth, cut("tall", 6, 11), cut("long", 18, 6))).complete


def test_the_largest_rectangle_first_would_be_wrong() -> None:
    """The L of 18 x 11 less 12 x 5: its largest rectangle, 18 x 6, leaves 6 x 5; what is wanted needs the other cut."""
    ell = tuple(
        (inch(x), inch(y))
        for x, y in ((0, 0), (18, 0), (18, 6), (6, 6), (6, 11), (0, 11))
    )
    task = job(
        Piece(name="ell", fabric="pear", outline=ell),
        bolt(),
        cut("a", 6, 11),
        cut("b", 6, 6, 2),
    )
    assert solved(task).plan.totals.money == 0


@pytest.mark.parametrize("wrong", [-1, 2**31, 1.5, "0"])
def test_a_seed_that_makes_no_sense(wrong: object) -> None:
    with pytest.raises(Problem, match="seed"):
        solve(job(piece("a", 5, 5), cut("s", 3, 3)), Work(10), seed=wrong)  # type: ignore[arg-type]


@pytest.mark.parametrize("wrong", [0, -3, float("nan"), float("inf")])
def test_a_stop_that_makes_no_sense(wrong: float) -> None:
    with pytest.raises(Problem, match="seconds"):
        Seconds(wrong)
    with pytest.raises(Problem, match="rounds"):
        Work(0)


def test_every_part_lies_on_its_cloth_in_whole_steps() -> None:
    """Cut lines of a true rectangle lie on the grid of 1/8 in where all sizes do."""
    task = job(piece("a", 17, 14), cut("big", 7, 9, 2), cut("small", 3, 5, 7))
    parts = replay(task, solved(task).plan)
    assert all(
        number % (INCH // 8) == 0 for part in parts.values() for number in bounds(part)
    )


@pytest.mark.parametrize("seed", range(8))
def test_short_wide_segments_with_straight_joins(seed: int) -> None:
    """A segment shorter than the strip is wide must not be taken for one that lies the other way."""
    draw = random.Random(seed)
    width = draw.choice([4, 8, 12]) * INCH
    strip = Strip(
        name="band",
        width=width,
        total_length=width + draw.randint(1, 100) * INCH,
        count=draw.randint(1, 3),
        shortest=draw.choice([1, 2]) * INCH,
        join="straight",
    )
    pieces = tuple(
        Piece.of_size(
            f"p{k}", "oat", draw.randint(3, 30) * INCH, draw.randint(3, 30) * INCH
        )
        for k in range(4)
    )
    shop = (
        ByLength(
            fabric="oat",
            usable_width=42 * INCH,
            sold_by=YARD // 8,
            price=Decimal("9.60"),
        ),
    )
    job = Job(fabrics=(Fabric(name="oat"),), pieces=pieces, shop=shop, strips=(strip,))
    result = solve(job, Work(400))
    assert result.complete
    assert [fault for offer in result.offers for fault in check(job, offer.plan)] == []


@pytest.mark.parametrize(
    ("first", "others", "many", "eighths"), [(10, 5, 2, 5), (5, 5, 2, 4), (6, 5, 3, 5)]
)
def test_all_that_the_shop_has_is_enough(
    first: int, others: int, many: int, eighths: int
) -> None:
    """Rows 40 in wide above each other, 1/2 in off each end: 21, 16 and 22 in of 22 1/2, 18 and 22 1/2 on sale."""
    task = job(
        bolt(most=eighths * YARD // 8),
        cut("panel", 40, first),
        cut("band", 40, others, many),
    )
    assert solved(task).complete


def test_a_fabric_called_each_is_not_counted_with_another_by_the_piece() -> None:
    """A panel 40 x 3 from a length of "oat each", and two 5 x 5 from squares of oat sold by the piece."""
    task = job(
        bolt("oat each"),
        each("oat", 5, 5, "1.00"),
        cut("panel", 40, 3, fabrics=("oat each",)),
        cut("square", 5, 5, 2, fabrics=("oat",)),
    )
    plan = solved(task).plan
    assert lengths_of(plan) == {"oat each": YARD // 8}
    assert pieces_of(plan) == {"oat": 2}


@pytest.mark.parametrize("unit", ["in", "cm"])
@pytest.mark.parametrize("sold_by", [YARD // 8, METRE // 10, YARD // 3])
@pytest.mark.parametrize("also", [None, METRE // 10])
def test_lengths_without_a_price_are_told_to_the_tick_in_any_unit(
    unit: Unit, sold_by: int, also: int | None
) -> None:
    """An inch job with a shop that sells by 10 cm, a metric one by 1/8 yd, and both in one shop: the checker reads it.

    12 squares of 5 in from a width of 42 in are two rows, 10 in and 1/2 in off each end.
    """
    shop = [ByLength(fabric="pear", usable_width=42 * INCH, sold_by=sold_by)]
    rows = [cut("square", 5, 5, 12, fabrics=("pear",))]
    if also is not None:
        shop.append(ByLength(fabric="plum", usable_width=42 * INCH, sold_by=also))
        rows.append(cut("other", 5, 5, 12, fabrics=("plum",)))
    settings = Settings(unit=unit, square_up_end=INCH // 2)
    result = solved(job(*shop, *rows, settings=settings))
    bought = [up_to(11 * INCH, row.sold_by) for row in shop]
    assert sum(lengths_of(result.plan).values()) == sum(bought)
    level = result.levels[0]
    assert level.proved
    value = parse_number(level.value)
    assert value is not None
    assert value * UNITS[unit] == sum(bought)
