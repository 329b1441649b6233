"""Where not everything can be had: rows that are whole come before parts, and a strip in part holds no cloth.

That a row that is whole is worth more than parts of another one is our judgement, no source.
"""

from __future__ import annotations

from cutopt.fabric import ByLength
from cutopt.lengths import YARD
from cutopt.solve.kernels import state as k
from cutopt.solve.search.rows_in_part import lacks
from cutopt.wanted import Strip
from tests.solve.small import bolt, cut, inch, job, piece, solved


def strip(long: float, name: str = "binding", **more: object) -> Strip:
    return Strip(
        name=name,
        width=inch(2.5),
        total_length=inch(long),
        fabrics=("ink",),
        shortest=inch(12),
        **more,  # type: ignore[arg-type]
    )


def ink(most: int = YARD // 4) -> ByLength:
    return bolt("ink", price="10.20", most=most)


def test_a_strip_that_cannot_be_had_leaves_the_cloth_to_others() -> None:
    """Two tiles of 6 in lie on 8 x 17 (12 in of 16 1/2), six side by side in 42 in of 1/4 yd (9 in less 1 in).

    240 in of 2 1/2 in take 600 square in; the pile and 1/4 yd have 136 and 378: the binding cannot be had at all.
    """
    task = job(
        piece("rest", 8, 17, fabric="ink"),
        ink(),
        cut("tile", 6, 6, 6, fabrics=("ink",)),
        strip(240),
    )
    result = solved(task)
    assert {s.for_: s.count for s in result.plan.short} == {"strips/binding": 1}
    assert [each.amount for each in result.plan.totals.bought] == [YARD // 4]
    told = " ".join(mend for s in result.plan.short for mend in s.mends)
    assert "buy 1/4 yd of ink, 42 in wide, for 2.55" not in told


def test_of_two_strips_the_one_that_can_be_whole_is_cut() -> None:
    """40 x 6 in holds two rows of 2 1/2 in, 79 in long in all; 60 in take both, so 500 in would leave none for it."""
    task = job(
        piece("rest", 40, 6, fabric="ink"),
        strip(500),
        strip(60, "hanger"),
    )
    result = solved(task)
    assert {s.for_: s.count for s in result.plan.short} == {"strips/binding": 1}


def test_a_row_is_whole_before_parts_of_another() -> None:
    """12 x 12 less 1/4 in all round holds one panel of 11 in, or four patches of 5 in (identity).

    Two panels cannot be had; with the patches two parts are missing, with one panel one panel and four patches.
    """
    task = job(
        piece("rest", 12, 12, fabric="ink"),
        cut("panel", 11, 11, 2, fabrics=("ink",)),
        cut("patch", 5, 5, 4, fabrics=("ink",)),
    )
    result = solved(task)
    assert {s.for_: s.count for s in result.plan.short} == {"cuts/panel": 2}


def test_rows_that_match_are_whole_together() -> None:
    """A set counts as one row, and a strip as one part, however much of it is there (identity)."""
    from cutopt.solve.model.from_job import model_of
    from cutopt.solve.search.arrays import Arrays

    task = job(
        piece("rest", 12, 12, fabric="ink"),
        cut("sun", 4, 4, 2, fabrics=("ink",), together="set"),
        cut("moon", 4, 4, 3, fabrics=("ink",), together="set"),
        strip(60),
    )
    arrays = Arrays.of(model_of(task))
    state = arrays.state(0)
    assert lacks(arrays, state) == (2, 6)
    strips = arrays.problem.unit[:, k.U_STRIP] == 1
    state.rem[strips] = 1
    assert lacks(arrays, state) == (2, 6)
    state.rem[~strips] = 0
    assert lacks(arrays, state) == (1, 1)
