"""The piles are what they are said to be, and the hand's backs can be cut and sewn as it says."""

from __future__ import annotations

from fractions import Fraction

import pytest

from cutopt.cloth import cloth_of_piece
from cutopt.geometry import area2
from cutopt.job import Job
from cutopt.lengths import INCH
from tests.solve.piecing.by_hand import Part, Row, by_hand, whole_bought
from tests.solve.piecing.perfect import PARTS, perfect
from tests.solve.piecing.piles import COUNT, KINDS, pile, piles


def test_there_are_sixty_of_three_kinds_and_always_the_same() -> None:
    found = piles()
    assert len(found) == COUNT * len(KINDS) == 60
    assert [one.job.digest for one in found[:3]] == [
        pile("plain", number).job.digest for number in range(3)
    ]
    assert len({one.job.digest for one in found}) == 60
    shares = [float(one.share) for one in found]
    assert 0.55 < min(shares) < 0.75
    assert 1.5 < max(shares) < 1.75
    odd = [one for one in found if one.kind == "odd"]
    pieces = [piece for one in odd for piece in one.job.pieces]
    assert any(piece.flaws for piece in pieces)
    assert any(piece.edges == "raw" for piece in pieces)
    assert sum(not piece.is_rectangle for piece in pieces) * 2 > len(pieces)
    for one in found:
        assert bool(one.job.spare_blocks) == (one.kind == "blocks")


@pytest.mark.parametrize("parts", [PARTS[0], 9, PARTS[-1]])
def test_a_perfect_pile_is_its_back_and_what_the_seams_take(parts: int) -> None:
    """Identity: of each seam of length s two strips of the allowance are lost, in all (parts - 1) seams; as areas, the
    parts less their allowances are the back less its own all round."""
    job = perfect(parts)
    (back,) = job.backs
    lost = 2 * back.rules.seam
    sizes = [piece.size for piece in job.pieces]
    assert len(sizes) == parts
    shown = sum((w - lost) * (l - lost) for w, l in sizes)
    assert shown == (back.width - lost) * (back.length - lost)
    assert min(min(size) for size in sizes) >= back.rules.smallest_part + lost


def sewn_size(node: Part | Row, seam: int) -> tuple[int, int]:
    """Cut sizes added up, two allowances less for each seam; edges that meet are as long as each other."""
    if isinstance(node, Part):
        return node.width, node.length
    sizes = [sewn_size(part, seam) for part in node.parts]
    if node.down:
        sizes = [(length, width) for width, length in sizes]
    assert len({beside for _, beside in sizes}) == 1
    total = sum(width for width, _ in sizes) - 2 * seam * (len(sizes) - 1)
    size = (total, sizes[0][1])
    return size[::-1] if node.down else size


def faults_of_hand(job: Job) -> None:
    """All that a back by hand has to keep to."""
    (back,) = job.backs
    made = by_hand(job)
    assert sewn_size(made.sewn, back.rules.seam) == (back.width, back.length)
    parts = list(made.sewn.leaves)
    own = [part for part in parts if part.piece]
    assert len({part.piece for part in own}) == len(own)
    pieces = {piece.name: piece for piece in job.pieces}
    least = back.rules.smallest_part + 2 * back.rules.seam
    for part in parts:
        assert min(part.width, part.length) >= least
    for part in own:
        piece = pieces[part.piece]
        sides = sorted((part.width, part.length))
        assert all(a <= b for a, b in zip(sides, sorted(piece.size), strict=True))
        cloth = cloth_of_piece(piece, job.settings)
        assert 2 * part.width * part.length <= area2(cloth.outline)
    new = sorted(sorted((part.width, part.length)) for part in parts if not part.piece)
    assert new == sorted(sorted((at.across, at.along)) for at in made.placed)
    ends = 2 * job.settings.square_up_end
    for n, at in enumerate(made.placed):
        assert at.x >= 0
        assert at.x + at.across <= job.shop[0].usable_width
        assert at.y + at.along + ends <= made.bought
        for other in made.placed[:n]:
            apart_x = at.x >= other.x + other.across or other.x >= at.x + at.across
            apart_y = at.y >= other.y + other.along or other.y >= at.y + at.along
            assert apart_x or apart_y
    assert made.money == Fraction(12 * made.bought, 36 * INCH)


@pytest.mark.parametrize("kind", KINDS)
def test_a_hand_s_back_holds(kind: str) -> None:
    for number in (0, 8, 19):
        faults_of_hand(pile(kind, number).job)


@pytest.mark.slow
def test_every_back_by_hand_holds() -> None:
    for one in piles():
        faults_of_hand(one.job)
        assert by_hand(one.job).money <= whole_bought(one.job)[0]


def test_new_cloth_alone_costs_what_a_pencil_finds() -> None:
    """44 x 52 of cloth 42 in wide: two widths of 44 in are 88 in; a width of 52 in and a strip of 3 in, joined of two
    lanes across the cloth, are 52 + 2 x 4 (the least that may be cut here) = 60 in."""
    money, seams = whole_bought(pile("plain", 0).job)
    assert money <= Fraction(12 * 63, 36)
    assert seams >= 1
