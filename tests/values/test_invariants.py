"""Each value refuses what makes no sense: one case for each invariant, with the field that the maker is told."""

from __future__ import annotations

import pickle
from collections.abc import Callable
from dataclasses import FrozenInstanceError, replace
from decimal import Decimal
from fractions import Fraction

import pytest

from cutopt.errors import JobError, Problem
from cutopt.fabric import MOST_COPIES, ByLength, ByPiece, Fabric, Piece
from cutopt.fabric_words import answers_to
from cutopt.geometry import rectangle
from cutopt.job import Job, cost_of
from cutopt.lengths import INCH, METRE, YARD
from cutopt.settings import Settings
from cutopt.wanted import Cut, Strip

FABRIC = Fabric(name="pear")
PIECE = Piece(name="p", fabric="pear", outline=rectangle(5 * INCH, 4 * INCH))
LENGTH = ByLength(fabric="pear", usable_width=42 * INCH, sold_by=YARD // 8)
EACH = ByPiece(fabric="pear", each_width=18 * INCH, each_length=21 * INCH)
CUT = Cut(name="square", width=INCH, length=INCH)
STRIP = Strip(name="binding", width=2 * INCH, total_length=90 * INCH)
JOB = Job(
    fabrics=(FABRIC,),
    pieces=(PIECE,),
    shop=(LENGTH, EACH),
    cuts=(CUT,),
    strips=(STRIP,),
)

WRONG = [
    (FABRIC, "name", "", "fabric"),
    (FABRIC, "name", " ", "fabric"),
    (FABRIC, "name", "a|b", "fabric"),
    (FABRIC, "name", "a/b", "fabric"),
    (FABRIC, "name", "a;b", "fabric"),
    (FABRIC, "name", "a\nb", "fabric"),
    (FABRIC, "value", "bright", "value"),
    (FABRIC, "one_way", "up", "one_way"),
    (FABRIC, "shrink_across", Fraction(1, 2), "shrink_across"),
    (FABRIC, "shrink_along", Fraction(-1, 100), "shrink_along"),
    (PIECE, "name", "", "piece"),
    (PIECE, "fabric", "", "fabric"),
    (PIECE, "count", 0, "count"),
    (PIECE, "count", MOST_COPIES + 1, "count"),
    (PIECE, "edges", "cut", "edges"),
    (PIECE, "wish", "maybe", "wish"),
    (PIECE, "outline", ((0, 0), (INCH, 0)), "outline"),
    (PIECE, "outline", ((0, 0), (INCH, 0), (0, 0)), "outline"),
    (PIECE, "outline", ((0, 0), (INCH, 0), (2 * INCH, 0)), "outline"),
    (PIECE, "outline", ((0, 0), (INCH, INCH), (INCH, 0), (0, INCH)), "outline"),
    (
        PIECE,
        "outline",
        ((0, 0), (4 * INCH, 0), (4 * INCH, INCH), (2 * INCH, 0), (0, INCH)),
        "outline",
    ),
    (PIECE, "outline", rectangle(INCH // 8 - 1, INCH), "outline"),
    (PIECE, "outline", rectangle(INCH, INCH // 8 - 1), "outline"),
    (PIECE, "outline", rectangle(101 * METRE, INCH), "outline"),
    (PIECE, "outline", rectangle(INCH, INCH, 0, -101 * METRE), "outline"),
    (PIECE, "flaws", (rectangle(INCH, INCH, 5 * INCH, 0),), "flaws"),
    (PIECE, "flaws", (rectangle(INCH // 16, INCH),), "flaws"),
    (LENGTH, "fabric", "", "fabric"),
    (LENGTH, "usable_width", 0, "usable_width"),
    (LENGTH, "sold_by", 0, "sold_by"),
    (LENGTH, "usable_width", 101 * METRE, "usable_width"),
    (LENGTH, "sold_by", INCH // 8 - 1, "sold_by"),
    (LENGTH, "smallest", -1, "smallest"),
    (LENGTH, "most", YARD // 8 - 1, "most"),
    (replace(LENGTH, smallest=YARD), "most", YARD - 1, "most"),
    (LENGTH, "price", Decimal(-1), "price"),
    (LENGTH, "price", Decimal("NaN"), "price"),
    (LENGTH, "price", Decimal("Infinity"), "price"),
    (LENGTH, "price", Decimal(100_001), "price"),
    (EACH, "fabric", "", "fabric"),
    (EACH, "each_width", 0, "each_width"),
    (EACH, "each_length", 0, "each_length"),
    (EACH, "most", 0, "most"),
    (EACH, "most", MOST_COPIES + 1, "most"),
    (EACH, "price", Decimal(-1), "price"),
    (CUT, "name", "", "cut"),
    (CUT, "width", 0, "width"),
    (CUT, "length", INCH // 8 - 1, "length"),
    (CUT, "width", 101 * METRE, "width"),
    (CUT, "length", 1001 * METRE, "length"),
    (CUT, "count", 0, "count"),
    (CUT, "count", MOST_COPIES + 1, "count"),
    (CUT, "grain", "bias", "grain"),
    (CUT, "importance", "much", "importance"),
    (CUT, "most_each", 0, "most_each"),
    (STRIP, "name", "", "strip"),
    (STRIP, "join", "glue", "join"),
    (STRIP, "shortest", -1, "shortest"),
    (STRIP, "shortest", 2 * INCH, "shortest"),
    (STRIP, "total_length", 2 * INCH, "total_length"),
    (STRIP, "width", 0, "width"),
    (STRIP, "count", 0, "count"),
    (STRIP, "grain", "bias", "grain"),
    (STRIP, "importance", "much", "importance"),
    (Settings(), "unit", "ft", "unit"),
    (Settings(), "seam", -1, "seam"),
    (Settings(), "square_up", METRE + 1, "square_up"),
    (Settings(), "square_up_end", -1, "square_up_end"),
    (Settings(), "about", -1, "about"),
    (Settings(), "grid", 0, "grid"),
    (Settings(), "grid", 2 * INCH + 1, "grid"),
    (Settings(), "turns", 1, "turns"),
    (Settings(), "keep_width", -1, "keep_width"),
    (Settings(), "keep_length", -1, "keep_length"),
    (Settings(), "longest_cut", 0, "longest_cut"),
]
JUST_RIGHT = [
    (FABRIC, "shrink_across", Fraction(49, 100)),
    (PIECE, "count", MOST_COPIES),
    (PIECE, "outline", rectangle(INCH // 8, INCH // 8)),
    (LENGTH, "most", YARD // 8),
    (LENGTH, "price", Decimal(0)),
    (EACH, "most", 1),
    (CUT, "most_each", 1),
    (CUT, "width", INCH // 8),
    (STRIP, "shortest", 2 * INCH + 1),
    (replace(STRIP, join="straight"), "shortest", 0),
    (Settings(), "turns", 2),
    (Settings(), "seam", 0),
    (Settings(), "about", METRE),
    (PIECE, "flaws", (rectangle(INCH, INCH, 4 * INCH, 3 * INCH),)),
]


@pytest.mark.parametrize(("good", "field", "value", "told"), WRONG)
def test_what_makes_no_sense_is_refused(
    good: object, field: str, value: object, told: str
) -> None:
    with pytest.raises(Problem) as problem:
        replace(good, **{field: value})  # type: ignore[type-var]
    assert problem.value.field == told
    assert problem.value.what
    assert problem.value.mend


@pytest.mark.parametrize(("good", "field", "value"), JUST_RIGHT)
def test_what_is_just_right_is_taken(good: object, field: str, value: object) -> None:
    assert getattr(replace(good, **{field: value}), field) == value  # type: ignore[type-var]


@pytest.mark.parametrize(
    "value", [FABRIC, PIECE, LENGTH, EACH, CUT, STRIP, Settings(), JOB]
)
def test_values_are_frozen_and_travel(value: object) -> None:
    with pytest.raises((FrozenInstanceError, TypeError)):
        value.note = "x"  # type: ignore[attr-defined]
    assert pickle.loads(pickle.dumps(value)) == value


def test_an_outline_is_kept_tidy() -> None:
    """Clockwise, with a corner told twice and one on a straight side."""
    square = rectangle(4 * INCH, 4 * INCH)
    messy = (
        (0, 0),
        (0, 4 * INCH),
        (0, 4 * INCH),
        (4 * INCH, 4 * INCH),
        (4 * INCH, 2 * INCH),
        (4 * INCH, 0),
    )
    piece = replace(
        PIECE, outline=messy, flaws=(tuple(reversed(rectangle(INCH, INCH))),)
    )
    assert set(piece.outline) == set(square)
    assert len(piece.outline) == 4
    assert piece.is_rectangle
    assert piece.size == (4 * INCH, 4 * INCH)
    assert piece.area == (4 * INCH) ** 2
    assert Piece(name="f", fabric="pear", outline=piece.flaws[0]).area == INCH**2


JOBS = [
    ({"fabrics": (FABRIC, Fabric(name="Pear"))}, "fabric", "given 2 times"),
    ({"pieces": (PIECE, replace(PIECE, name="P"))}, "piece", "given 2 times"),
    ({"cuts": (CUT, CUT)}, "cut", "given 2 times"),
    ({"strips": (STRIP, STRIP)}, "strip", "given 2 times"),
    ({"pieces": (replace(PIECE, fabric="peer"),)}, "fabric", '"peer" is neither'),
    ({"shop": (replace(EACH, fabric="rye"),)}, "fabric", '"rye" is neither'),
    ({"cuts": (replace(CUT, fabrics=("greens",)),)}, "fabric", '"greens" is neither'),
    (
        {"strips": (replace(STRIP, fabrics=("any dark",)),)},
        "fabric",
        '"any dark" is neither',
    ),
    (
        {"strips": (replace(STRIP, join="straight", shortest=INCH // 2),)},
        "shortest",
        "would eat",
    ),
    ({"cuts": (), "strips": ()}, "", "nothing is wanted"),
    (
        {
            "fabrics": (replace(FABRIC, one_way="across"),),
            "cuts": (replace(CUT, upright=True, grain="along"),),
        },
        "grain",
        "the print stands up across",
    ),
    (
        {
            "fabrics": (replace(FABRIC, one_way="along"),),
            "cuts": (replace(CUT, upright=True, grain="across"),),
        },
        "grain",
        "the print stands up along",
    ),
]


@pytest.mark.parametrize(("fields", "field", "what"), JOBS)
def test_contradictions_of_a_job(
    fields: dict[str, object], field: str, what: str
) -> None:
    with pytest.raises(JobError) as told:
        replace(JOB, **fields)  # type: ignore[arg-type]
    (problem,) = told.value.problems
    assert problem.field == field
    assert what in problem.what
    assert problem.mend


def test_all_contradictions_are_told_at_once() -> None:
    with pytest.raises(JobError) as told:
        Job(
            fabrics=(FABRIC, FABRIC),
            pieces=(replace(PIECE, fabric="peer"),),
            shop=(replace(EACH, fabric="rye"),),
        )
    assert len(told.value.problems) == 4
    assert 'did you mean "pear"?' in str(told.value)


def test_a_print_that_could_stand_up_on_another_fabric_is_no_contradiction() -> None:
    two = (replace(FABRIC, one_way="across"), Fabric(name="bark", one_way="along"))
    replace(JOB, fabrics=two, cuts=(replace(CUT, upright=True, grain="along"),))


def test_words_that_mean_a_fabric() -> None:
    fabric = Fabric(name="Pear", value="light", tags=("Greens", "soft"))
    for word in (
        "pear",
        "PEAR",
        " pear ",
        "greens",
        "any greens",
        "light",
        "any light",
        "any",
        "any soft",
    ):
        assert answers_to(fabric, word), word
    for word in ("dark", "any dark", "pea", "", "anylight", "green"):
        assert not answers_to(fabric, word), word
    assert not answers_to(Fabric(name="x"), "")


def test_fabrics_of_a_row_come_in_its_order_of_preference() -> None:
    fabrics = (
        Fabric(name="a", value="light"),
        Fabric(name="b", tags=("t",)),
        Fabric(name="c", value="light"),
    )
    row = replace(CUT, fabrics=("c", "any light", "t"))
    job = Job(fabrics=fabrics, cuts=(row, replace(CUT, name="other")))
    assert job.allowed(row) == ("c", "a", "b")
    assert job.allowed(job.cuts[1]) == ("a", "b", "c")
    assert job.fabric("b") is fabrics[1]
    assert job.row("cuts/other") is job.cuts[1]
    for call in (lambda: job.fabric("z"), lambda: job.row("cuts/z")):
        with pytest.raises(KeyError):
            call()


@pytest.mark.parametrize(
    ("offered", "length", "unit", "cost"),
    [
        (replace(LENGTH, price=Decimal("9.60")), YARD // 8, "in", "1.20"),
        (replace(LENGTH, price=Decimal("9.60")), YARD * 11 // 8, "in", "13.20"),
        (replace(LENGTH, price=Decimal("9.99")), YARD // 8, "in", "1.25"),  # 1.24875
        (
            replace(LENGTH, price=Decimal("0.04")),
            YARD // 8,
            "in",
            "0.01",
        ),  # 0.005, half up
        (replace(LENGTH, price=Decimal("12.50")), METRE * 3 // 10, "cm", "3.75"),
        (
            replace(LENGTH, price=Decimal("10")),
            YARD,
            "cm",
            "9.14",
        ),  # 0.9144 m, NIST Handbook 44, Appendix C
        (replace(EACH, price=Decimal("3.5")), 0, "in", "3.50"),
        (LENGTH, YARD, "in", None),
        (EACH, 0, "cm", None),
    ],
)
def test_costs(
    offered: ByLength | ByPiece, length: int, unit: str, cost: str | None
) -> None:
    """Worked out by hand; rounded once, half up, to the hundredth."""
    assert cost_of(offered, length, unit) == (None if cost is None else Decimal(cost))  # type: ignore[arg-type]


def test_what_joins_cost() -> None:
    """Strips of width w crossed at right angles lose w on the centre line; a straight join loses two seams."""
    assert STRIP.join_loss(INCH // 4) == STRIP.width
    assert replace(STRIP, join="straight").join_loss(INCH // 4) == INCH // 2
    assert replace(STRIP, join="none").join_loss(INCH // 4) == 0


def test_problems_know_their_place() -> None:
    problem = Problem("outline", 'corner 3 "6 11/" is not a length', "write 6 11/16")
    assert str(problem) == 'outline: corner 3 "6 11/" is not a length; write 6 11/16'
    placed = problem.at("pieces.csv", 7)
    assert (
        str(placed)
        == 'pieces.csv row 7, outline: corner 3 "6 11/" is not a length; write 6 11/16'
    )
    assert str(placed.at("other.csv", 9)) == str(placed)
    assert str(problem.at("job.toml")).startswith("job.toml, outline: ")
    assert str(Problem("", "nothing is wanted")) == "nothing is wanted"
    back = pickle.loads(pickle.dumps(placed))
    assert (str(back), back.file, back.row) == (str(placed), "pieces.csv", 7)


DEFAULTS: dict[str, Callable[[Settings], object]] = {
    "quarter seam": lambda s: s.seam * 4 == INCH,
    "square-up": lambda s: s.square_up * 4 == INCH,
    "ends": lambda s: s.square_up_end * 2 == INCH,
    "grid": lambda s: s.grid * 8 == INCH,
    "turns": lambda s: s.turns is None,
}


@pytest.mark.parametrize("name", DEFAULTS)
def test_defaults(name: str) -> None:
    """Seam 1/4 in, 1/4 in a raw side, 1/2 in an end (common practice, no source)."""
    assert DEFAULTS[name](Settings())


def test_metric_defaults_are_whole_halves_of_millimetres() -> None:
    metric = Settings.metric()
    for size in (
        metric.grid,
        metric.seam,
        metric.square_up,
        metric.square_up_end,
        metric.about,
        metric.keep_width,
    ):
        assert size % 160 == 0
    assert metric.unit == "cm"
