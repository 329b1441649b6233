"""Parts that fit cloth exactly, off the grid of the search: what is said of them is true. Invented pieces.

The plans that cut more than the search are made by hand here and go through the checker.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import product

import pytest

from cutopt.check import check
from cutopt.fabric import ByPiece, Piece
from cutopt.job import Job
from cutopt.lengths import INCH, MM
from cutopt.pages.how_sure import how_sure
from cutopt.plan import CutStep, Plan, Source, Totals, Use
from cutopt.settings import Settings
from cutopt.solve.bounds.most_of_a_row import least_left_out
from cutopt.solve.bounds.off_grid import may_hold, might_fit, roomiest
from cutopt.solve.bounds.purchase_bound import purchase_bound
from cutopt.solve.control.stop import Work
from cutopt.solve.explain.no_cloth_fits import hopeless_mends
from cutopt.solve.model.from_job import model_of
from cutopt.solve.solver import solve
from cutopt.wanted import Cut
from tests.solve.small import counted, cut, each, inch, job, piece, solved
from tests.thinned import mostly_slow

SIXTEENTH = INCH // 16
THIRTY_SECOND = INCH // 32
THIRD = 2711  # ticks: about a third of an inch, on no grid


def tower(aside: int, foot: int = INCH) -> Piece:
    """A foot of 4 in, so high, and upon it a tower of 2 in up to 4 in, so far from the left."""
    a = aside
    b = aside + 2 * INCH
    across = 4 * INCH
    outline = (
        (0, 0),
        (across, 0),
        (across, foot),
        (b, foot),
        (b, 4 * INCH),
        (a, 4 * INCH),
        (a, foot),
        (0, foot),
    )
    return Piece(name="tower", fabric="pear", outline=outline)


def by_hand(task: Job, cuts: list[tuple[str, str, int]], uses: list[str]) -> Plan:
    """A plan of cuts (part, axis, where) of the first piece; `uses` are all for the first row."""
    steps = tuple(
        CutStep(n=n, part=part, gives=(f"{part}.1", f"{part}.2"), **{axis: at})
        for n, (part, axis, at) in enumerate(cuts, start=1)
    )
    return Plan(
        job=task.digest,
        origin=task,
        sources=(Source(id="S1", piece=task.pieces[0].name, copy=1),),
        cuts=steps,
        uses=tuple(
            Use(part=part, for_=task.cuts[0].key, turned=False) for part in uses
        ),
        totals=Totals(
            money=solve(task, Work(1)).plan.totals.money,
            cuts=len(cuts),
            ruler_widths=1,
        ),
    )


def wishes(task: Job) -> int:
    """The least that is said to be left out of the first row where nothing is bought."""
    model = model_of(task)
    return least_left_out(model, model.items[0], 0)


# -- what no plan does better than -----------------------------------------------------------------


def test_a_tower_off_the_grid_is_not_said_to_hold_nothing() -> None:
    """Two squares of 2 in from a foot of 4 x 2, one from the tower: three by hand, where the grid has room for two."""
    task = job(
        tower(INCH + SIXTEENTH, foot=2 * INCH),
        cut("square", 2, 2, 3, importance="nice"),
    )
    plan = by_hand(
        task,
        [("S1", "y", 2 * INCH), ("S1.1", "x", 2 * INCH)],
        ["S1.1.1", "S1.1.2", "S1.2"],
    )
    assert check(task, plan) == []
    assert wishes(task) == 0
    assert (
        wishes(replace(task, cuts=(replace(task.cuts[0], count=5),))) == 2
    )  # three and no more, by area
    result = solved(task)
    assert counted(result.plan)["square"] == 3 or not any(
        "no plan does better" in line for line in how_sure(result)
    )


def test_sizes_off_the_grid_are_counted_as_they_are() -> None:
    """Four of 53 mm side by side are 212 mm: all of the piece, though each takes 54 mm of a grid of 1/16 in."""
    strip = Piece.of_size("strip", "pear", 4 * 53 * MM, 2 * INCH)
    task = job(
        strip,
        Cut(name="tile", width=53 * MM, length=2 * INCH, count=4, importance="nice"),
    )
    cuts = [
        (part, "x", n * 53 * MM)
        for n, part in enumerate(("S1", "S1.2", "S1.2.2"), start=1)
    ]
    assert (
        check(task, by_hand(task, cuts, ["S1.1", "S1.2.1", "S1.2.2.1", "S1.2.2.2"]))
        == []
    )
    assert wishes(task) == 0
    for lack in range(3):
        assert (
            wishes(replace(task, cuts=(replace(task.cuts[0], count=4 + lack),))) == lack
        )
    shorter = replace(
        task, pieces=(Piece.of_size("strip", "pear", 4 * 53 * MM - 1, 2 * INCH),)
    )
    assert wishes(shorter) == 1


@pytest.mark.parametrize(
    ("edges", "wanted", "most"),
    [
        ({}, (2, 2), 4),
        ({"edges": "raw"}, (3, 1.5), 2),
        ({"about": True}, (5, 1), 1),
        ({"about": True}, (5, 1.125), 0),
    ],
)
def test_what_edges_lose_is_off(
    edges: dict[str, object], wanted: tuple[float, float], most: int
) -> None:
    """9 x 2 in; with raw edges 8 1/2 x 1 1/2, measured about 8 x 1: 4, 2, 1 and none side by side."""
    assert (
        wishes(
            job(
                piece("scrap", 9, 2, **edges),
                cut("slat", *wanted, 9, importance="nice"),
            )
        )
        == 9 - most
    )


def test_only_what_the_money_buys_is_counted() -> None:
    """A sheet of 10 x 10 holds four of 5 x 5 and costs 2.00; no more than three are there, or any number."""
    for most, bought in ((3, 12), (None, 40)):
        sheet = each("pear", 10, 10, "2.00", most=most)
        model = model_of(job(sheet, cut("square", 5, 5, 400, importance="nice")))
        for cost, held in ((0, 0), (199, 0), (450, 8), (2_000, bought)):
            assert least_left_out(model, model.items[0], cost) == 400 - held
    many = model_of(
        job(each("pear", 5, 5, "0.10"), cut("square", 5, 5, 400, importance="nice"))
    )
    assert least_left_out(many, many.items[0], 10 * 100) == 300


def test_limits_of_a_row_are_no_matter() -> None:
    """A row that stays together, from two fabrics: what one of them gives is never more than both do."""
    both = (piece("a", 4, 2), piece("b", 4, 2, fabric="plum"))
    row = cut("square", 2, 2, 9, importance="nice", together="wood", most_each=1)
    assert wishes(job(*both, row)) == 5


# -- where not even one part fits on the grid ------------------------------------------------------


def test_a_finer_grid_is_taken_where_that_alone_has_room() -> None:
    task = job(tower(INCH + SIXTEENTH), cut("gate", 2, 4))
    assert model_of(task).step == INCH // 8
    assert roomiest(task).step == SIXTEENTH
    assert counted(solved(task).plan) == {"gate": 1}
    assert roomiest(job(tower(INCH), cut("gate", 2, 4))).step == INCH // 8  # no need
    assert (
        roomiest(job(tower(INCH + SIXTEENTH), cut("gate", 3, 4))).step == INCH // 8
    )  # no use


def test_a_metric_tower() -> None:
    """12 x 20 cm in a tower that begins at 3.3 cm: off the grid of 5 mm, on that of 1 mm."""
    a = 33 * MM
    b = 153 * MM
    top = 200 * MM
    outline = (
        (0, 0),
        (180 * MM, 0),
        (180 * MM, 40 * MM),
        (b, 40 * MM),
        (b, top),
        (a, top),
        (a, 40 * MM),
        (0, 40 * MM),
    )
    row = Cut(name="gate", width=120 * MM, length=200 * MM)
    task = job(
        Piece(name="tower", fabric="pear", outline=outline),
        row,
        settings=Settings.metric(),
    )
    assert counted(solved(task).plan) == {"gate": 1}


@pytest.mark.parametrize("other", [625 * MM // 10, 6125 * MM // 100])
def test_no_grid_is_finer_than_a_ruler_shows(other: int) -> None:
    """Sizes of 6.25 and 6.125 cm ask for steps of 2.5 and 1.25 mm, no multiples of 1 mm: these stay."""
    tower_cm = Piece(
        name="tower",
        fabric="pear",
        outline=tuple((x // 2, y // 2) for x, y in tower(INCH + 3).outline),
    )
    rows = (
        Cut(name="gate", width=INCH, length=2 * INCH),
        Cut(name="tile", width=other, length=other),
    )
    task = job(tower_cm, *rows, settings=Settings.metric())
    assert roomiest(task).step == model_of(task).step


def test_a_grid_that_others_may_not_fit_is_no_mend() -> None:
    """On lines 5 mm apart: lines 1/32 in apart are not those and others, so what fits now might not fit then."""
    task = job(
        tower(INCH + THIRTY_SECOND), cut("gate", 2, 4), settings=Settings(grid=5 * MM)
    )
    row = task.cuts[0]
    assert task.settings.grid % THIRTY_SECOND
    assert not any("cut lines" in mend.said for mend in hopeless_mends(task, row))


def test_a_little_too_large_is_too_large() -> None:
    """2 1/8 in from a tower of 2 in that stands on no line: no finer lines would help."""
    (short,) = solved(job(tower(INCH + THIRD), cut("gate", 2.125, 4))).plan.short
    assert (
        short.why == "no pear in the pile or the shop is large enough for 2 1/8 x 4 in"
    )


def test_cut_lines_nearer_to_each_other_are_a_mend() -> None:
    task = job(tower(INCH + THIRTY_SECOND), cut("gate", 2, 4))
    (short,) = solved(task).plan.short
    close = "2 x 4 in comes so close to the edges of the pear that there is"
    assert short.why == f"{close} that cut lines 1/8 in apart leave no room for it"
    assert short.mends[0] == (
        "let cut lines lie 1/32 in apart (grid in job.toml, now 1/8 in): then everything is there"
    )
    finer = replace(task, settings=replace(task.settings, grid=THIRTY_SECOND))
    assert counted(solved(finer).plan) == {"gate": 1}


def test_no_size_is_called_the_most_where_another_might_fit() -> None:
    """A tower on no grid holds 2 x 4: nothing less is the most that fits. Of one too narrow by far it may be said."""
    task = job(tower(INCH + THIRD), cut("gate", 2, 4))
    (short,) = solved(task).plan.short
    assert "comes so close to the edges" in short.why
    assert "make it 1 7/8 x 4: then everything is there" in short.mends
    assert not any("the most" in mend for mend in short.mends)
    less = replace(task, cuts=(replace(task.cuts[0], width=15 * INCH // 8),))
    assert solved(less).complete
    row = cut("gate", 3, 4)
    assert [*hopeless_mends(job(piece("scrap", 2, 4), row), row)][
        -1
    ].said == "make it 2 x 4, the most that fits"


def test_what_is_too_large_is_called_so() -> None:
    for scrap in (tower(INCH), tower(INCH + THIRD), piece("scrap", 2, 4)):
        (short,) = solved(job(scrap, cut("gate", 2.5, 4))).plan.short
        assert (
            short.why
            == "no pear in the pile or the shop is large enough for 2 1/2 x 4 in"
        )


def test_the_grain_is_blamed_only_where_it_is_to_blame() -> None:
    """4 x 2 with the length along does not fit a tower 2 wide, and would the other way."""
    for scrap, told in (
        (tower(INCH), "grain or print"),
        (tower(INCH + THIRD), "comes so close"),
    ):
        (short,) = solved(job(scrap, cut("gate", 4, 2, grain="along"))).plan.short
        assert told in short.why
    lying = tower(INCH + THIRD)
    upright = replace(lying, outline=tuple((y, x) for x, y in reversed(lying.outline)))
    (short,) = solved(
        job(upright, cut("gate", 4, 2, grain="along"), piece("b", 2, 4))
    ).plan.short
    assert (
        "comes so close" in short.why
    )  # it would fit the right way; that it also fits the wrong way is no reason


def test_a_part_is_never_so_small_that_cloth_without_a_cell_holds_it() -> None:
    """A cross whose middle of 1 x 1 lies between the lines of a grid of 1 in: nothing need be bought."""
    half = INCH // 2
    corners = (
        (1, 0),
        (3, 0),
        (3, 1),
        (4, 1),
        (4, 3),
        (3, 3),
        (3, 4),
        (1, 4),
        (1, 3),
        (0, 3),
        (0, 1),
        (1, 1),
    )
    cross = Piece(
        name="cross",
        fabric="pear",
        outline=tuple((x * half, y * half) for x, y in corners),
    )
    sheet = ByPiece(fabric="pear", each_width=INCH, each_length=INCH, price=None)
    task = job(cross, sheet, cut("tile", 1, 1), settings=Settings(grid=INCH))
    assert purchase_bound(model_of(task)).cost == 0
    assert not solved(task).plan.totals.bought


@pytest.mark.parametrize("aside", [0, INCH, INCH + SIXTEENTH, INCH + THIRD])
def test_may_hold(aside: int) -> None:
    """The tower of 2 in, wherever it stands: a part is never missed, and not found where it lacks two steps."""
    cloth = model_of(job(tower(aside), cut("tile", 1, 1))).sheets[0].cloth
    step = INCH // 8
    assert may_hold(cloth, 2 * INCH, 4 * INCH, step)
    assert may_hold(cloth, 4 * INCH, INCH, step)
    assert not may_hold(cloth, 2 * INCH + 2 * step, 4 * INCH, step)
    assert not may_hold(cloth, 4 * INCH, INCH + 2 * step, step)
    assert not may_hold(cloth, 4 * INCH + 1, INCH, step)
    hole = ((1, 1), (2, 1), (2, 2), (1, 2))
    flawed = piece("scrap", 3, 3, flaws=(tuple((x * INCH, y * INCH) for x, y in hole),))
    spoilt = model_of(job(flawed, cut("tile", 1, 1))).sheets[0].cloth
    assert may_hold(spoilt, INCH, 3 * INCH, step)
    assert not may_hold(spoilt, INCH + 2 * step, 3 * INCH, step)
    exact = (
        model_of(job(piece("scrap", 2, 4, edges="raw"), cut("tile", 1, 1)))
        .sheets[0]
        .cloth
    )
    assert may_hold(exact, inch(1.5), inch(3.5), step)
    assert not may_hold(exact, inch(1.5) + 1, inch(3.5), step)


@pytest.mark.parametrize("shift", mostly_slow([SIXTEENTH, THIRD], {THIRD}))
def test_every_rectangle_on_every_small_corner_piece(shift: int) -> None:
    """What is called too large for an L is: a rectangle in it ends left of its inner corner, or below it (identity).

    All L of 3 x 4 and 4 x 3 in and a little more, the inner corner at 1 or 2 in and so much; six sizes either way.
    """
    sizes = [half * INCH // 2 for half in (2, 3, 4, 5, 6, 8)]
    kinds = list(product(sizes, sizes, ("any", "along")))
    rows = [
        Cut(name=f"r{n}", width=w, length=h, grain=grain)
        for n, (w, h, grain) in enumerate(kinds)
    ]
    two = 2 * INCH // 8  # steps
    for (wide, high), a, b in product(((3, 4), (4, 3)), (1, 2), (1, 2)):
        across, up, right, top = (n * INCH + shift for n in (wide, high, a, b))
        corners = (
            (0, 0),
            (across, 0),
            (across, top),
            (right, top),
            (right, up),
            (0, up),
        )
        model = model_of(
            job(Piece(name="corner", fabric="pear", outline=corners), *rows)
        )

        def holds(
            w: int, h: int, box: tuple[int, int, int, int] = (across, top, right, up)
        ) -> bool:
            return (w <= box[0] and h <= box[1]) or (w <= box[2] and h <= box[3])

        for item in model.items:
            w = item.row.width
            h = item.row.length
            fits = holds(w, h) or (item.row.grain == "any" and holds(h, w))
            close = holds(w - two, h - two) or (
                item.row.grain == "any" and holds(h - two, w - two)
            )
            assert fits <= might_fit(model, item) <= close
