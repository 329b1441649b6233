"""Bounds on pieced backs against every back of few parts (`tests/solve/piecing/every_back.py`): none is above the best."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from cutopt.cloth import cloth_of_piece
from cutopt.fabric import Fabric, Piece
from cutopt.job import Job
from cutopt.lengths import INCH
from cutopt.piecing import Back
from cutopt.settings import Settings
from cutopt.solve.bounds.back_bound import BackBound, least_to_buy
from cutopt.solve.bounds.back_cloth import PartRules
from tests.solve.bounds.every_cutting import Drawn
from tests.solve.bounds.tiny_backs import Tiny, drawn, with_block
from tests.solve.piecing.perfect import perfect
from tests.solve.piecing.piles import GOODS


def judged(tiny: Tiny, most: int) -> bool:
    """Whether the bound is what the best costs; it is never more."""
    best = tiny.fewest_steps(most)
    assert best is None or tiny.bound <= best, tiny
    return tiny.bound == best


def test_no_bound_is_above_the_best_back() -> None:
    """Of twenty-five with three parts at most, and as many with blocks; more than half are met."""
    met = sum(judged(drawn(seed), 3) for seed in range(25))
    assert met > 12
    for seed in range(20):
        judged(with_block(seed), 3)


@pytest.mark.slow
def test_no_bound_is_above_the_best_of_many() -> None:
    met = [judged(drawn(seed), 3) for seed in range(25, 600)]
    assert sum(met) > len(met) // 2
    for seed in range(60):
        judged(drawn(seed), 4)
    for seed in range(20, 200):
        judged(with_block(seed), 3)
    for seed in range(12):
        judged(with_block(seed), 4)


@pytest.mark.parametrize("seed", range(60))
def test_no_outline_shows_less_than_what_can_be_cut_from_it(seed: int) -> None:
    """Every cutting of small irregular pieces: parts less an allowance all round come to no more than is said."""
    made = Drawn(seed)
    most = (9, 9)
    cuttings = made.able(0, most)
    cloth = cloth_of_piece(made.piece(0), made.job(most).settings)
    for share in (0, 8, 5, 3):
        seam = made.unit // share if share else 0
        rules = PartRules(
            seam=seam,
            least=made.unit * min(min(w, l) for w, l, _ in made.sizes),
            longest=100 * made.unit,
            step=made.unit // 4,
        )
        shown = [
            max(w * made.unit - 2 * seam, 0) * max(l * made.unit - 2 * seam, 0)
            for w, l, _ in made.sizes
        ]
        best = max(
            sum(n * each for n, each in zip(counts, shown, strict=False))
            for counts in cuttings
        )
        assert rules.of_cloth(cloth) >= rules.of_cloth(cloth, sharp=True) >= best


def test_what_a_rectangle_shows() -> None:
    """A length of 42 x 53 in for a back that shows 51 in at most: one part shows 51 of it, two 53 - 2 x 1; of 54 two
    show 52."""
    rules = PartRules(seam=INCH // 2, least=4 * INCH, longest=51 * INCH, step=INCH // 8)
    assert rules.along(53 * INCH) == 51 * INCH
    assert rules.along(54 * INCH) == 52 * INCH
    assert rules.along(4 * INCH - 1) == 0
    assert rules.of_box(42 * INCH, 54 * INCH) == 41 * 52 * INCH * INCH


def test_an_l_shows_less_than_its_area() -> None:
    """20 x 20 without a corner of 10 x 10 is cut into 20 x 10 and 10 x 10, which show 19 x 9 and 9 x 9."""
    corners = ((0, 0), (20, 0), (20, 10), (10, 10), (10, 20), (0, 20))
    outline = tuple((x * INCH, y * INCH) for x, y in corners)
    piece = Piece(name="p", fabric="oat", outline=outline)
    rules = PartRules(seam=INCH // 2, least=4 * INCH, longest=60 * INCH, step=INCH // 8)
    cloth = cloth_of_piece(piece, Settings())
    assert rules.of_cloth(cloth) == (19 * 9 + 9 * 9) * INCH * INCH


def test_a_raw_l_loses_its_edges_first() -> None:
    """The same with raw edges: 1/4 in off all round leaves 19 1/2 x 9 1/2 and, above it, 9 1/2 x 10."""
    corners = ((0, 0), (20, 0), (20, 10), (10, 10), (10, 20), (0, 20))
    outline = tuple((x * INCH, y * INCH) for x, y in corners)
    piece = Piece(name="p", fabric="oat", outline=outline, edges="raw")
    rules = PartRules(seam=INCH // 2, least=4 * INCH, longest=60 * INCH, step=INCH // 8)
    cloth = cloth_of_piece(piece, Settings())
    shown = Fraction(37, 2) * Fraction(17, 2) + Fraction(17, 2) * 9
    assert rules.of_cloth(cloth) == shown * INCH * INCH


def test_a_triangle_shows_no_more_than_close_steps_of_it() -> None:
    """Legs of 20 in: k parts abreast lose a triangle each, k (20 / k)^2 / 2 in all; one part loses half of it."""
    triangle = ((0, 0), (20 * INCH, 0), (0, 20 * INCH))
    piece = Piece(name="p", fabric="oat", outline=triangle)
    rules = PartRules(seam=INCH // 2, least=4 * INCH, longest=60 * INCH, step=INCH // 8)
    cloth = cloth_of_piece(piece, Settings())
    one = 9 * 9 * INCH * INCH
    assert one <= rules.of_cloth(cloth, sharp=True) < rules.of_cloth(cloth)
    # with cuts anywhere, and no seam lost: 200 less what close steps leave
    assert rules.of_cloth(cloth) < 200 * INCH * INCH


def test_why() -> None:
    """44 x 52 from one piece of 20 x 30: 43 x 51 = 2193 less 19 x 29 = 551 leaves 1642, and 41 in of width show that
    on 40.05 in and an inch for seams, an inch for the ends: 42.05 in, sold as 1 1/4 yd (45 in)."""
    job = Job(
        fabrics=(Fabric(name="oat"),),
        pieces=(Piece.of_size("p", "oat", 20 * INCH, 30 * INCH),),
        shop=(GOODS,),
        backs=(Back(name="b", width=44 * INCH, length=52 * INCH),),
    )
    found = least_to_buy(job, job.backs[0])
    assert found.cost == 1500
    assert found.because == (
        "the parts of b (44 x 52) come to 2193 square in once 1/2 in is off all round each, and the pile gives 551 of "
        "that at most, however it is pieced, so 1642 are missing; the least on sale that gives so much is 1 1/4 yd of "
        "oat, as 1 1/8 yd gives 1579 at most"
    )
    assert least_to_buy(job, job.backs[0], closed={"p"}).cost > 1500
    without_shop = replace(job, shop=())
    hopeless = least_to_buy(without_shop, job.backs[0])
    assert not hopeless.possible
    assert "nothing that is on sale would do" in hopeless.because


def test_perfect_piles_need_nothing() -> None:
    for parts in (4, 11, 25):
        job = perfect(parts)
        assert least_to_buy(job, job.backs[0]) == BackBound()


def test_few_parts_show_less() -> None:
    """Of a pile that is enough in many parts, two are not: what the largest shows is all that the pile adds."""
    pile = tuple((10, 6) for _ in range(8))
    loose = Tiny(size=(20, 18), seam=1, least=2, usable=20, pile=pile)
    tight = replace(loose, most_parts=2)
    assert loose.bound < tight.bound
    assert (
        "in so few parts (2 are the most)"
        in least_to_buy(tight.job, tight.job.backs[0]).because
    )
