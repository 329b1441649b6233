"""The digest of a job changes with everything that a plan depends on and with nothing else; the cloth on the table."""

from __future__ import annotations

from dataclasses import fields, replace
from decimal import Decimal
from fractions import Fraction

import pytest

from cutopt.check.replay import replay as checked_replay
from cutopt.check.shapes import double_area
from cutopt.cloth import cloth_of, cut_part, finished_parts, replay, shrunk
from cutopt.fabric import ByLength, ByPiece, Fabric, Piece
from cutopt.geometry import area2, rectangle
from cutopt.job import Job
from cutopt.lengths import INCH, YARD
from cutopt.plan import CutStep, Source
from cutopt.settings import Settings
from cutopt.wanted import Cut, Strip
from tests.check.good_plans import GOOD

JOB = Job(
    fabrics=(Fabric(name="pear"), Fabric(name="oat", tags=("t",))),
    pieces=(Piece(name="p", fabric="pear", outline=rectangle(5 * INCH, 4 * INCH)),),
    shop=(
        ByLength(
            fabric="pear",
            usable_width=42 * INCH,
            sold_by=YARD // 8,
            price=Decimal("9.60"),
        ),
        ByPiece(
            fabric="pear", each_width=18 * INCH, each_length=21 * INCH, price=Decimal(4)
        ),
    ),
    cuts=(Cut(name="square", width=INCH, length=INCH),),
    strips=(Strip(name="binding", width=2 * INCH, total_length=90 * INCH),),
)
OTHER: dict[type, dict[str, object]] = {
    Settings: {
        "unit": "cm",
        "grid": INCH // 16,
        "seam": 0,
        "square_up": 0,
        "square_up_end": 0,
        "extra": INCH,
        "about": 0,
        "pinked": INCH // 16,
        "keep_width": INCH,
        "keep_length": INCH,
        "longest_cut": 18 * INCH,
        "turns": 3,
        "preference": Fraction(1, 4),
        "prewash": "all",
        "shrinkage": Fraction(1, 50),
    },
    Fabric: {
        "name": "Pear",
        "value": "dark",
        "kind": "flannel",
        "washed": False,
        "one_way": "along",
        "nap": True,
        "shrink_across": Fraction(1, 50),
        "shrink_along": Fraction(1, 50),
        "tags": ("u",),
    },
    Piece: {
        "name": "q",
        "fabric": "oat",
        "outline": rectangle(5 * INCH, 4 * INCH + 1),
        "count": 2,
        "flaws": (rectangle(INCH, INCH),),
        "edges": "raw",
        "grain_known": False,
        "about": True,
        "washed": "unwashed",
        "wish": "use first",
    },
    ByLength: {
        "fabric": "oat",
        "usable_width": 43 * INCH,
        "sold_by": YARD // 4,
        "smallest": YARD // 4,
        "most": YARD,
        "price": Decimal("9.61"),
    },
    ByPiece: {
        "fabric": "oat",
        "each_width": 19 * INCH,
        "each_length": 22 * INCH,
        "most": 3,
        "price": None,
    },
    Cut: {
        "name": "sq",
        "width": 2 * INCH,
        "length": 2 * INCH,
        "count": 2,
        "fabrics": ("pear",),
        "grain": "along",
        "upright": True,
        "importance": "nice",
        "together": "w",
        "most_each": 1,
    },
    Strip: {
        "name": "tie",
        "width": INCH,
        "total_length": INCH * 80,
        "count": 2,
        "shortest": 9 * INCH,
        "join": "straight",
        "upright": "across",
        "fabrics": ("pear",),
        "grain": "along",
        "importance": "nice",
        "together": "w",
    },
}
TALK: dict[type, set[str]] = {
    Settings: {"currency", "precuts"},
    Fabric: {"colour", "note"},
    Piece: {"note"},
    ByLength: {"note"},
    ByPiece: {"note"},
    Cut: {"why", "note", "spares"},
    Strip: {"why", "note"},
}
PLACES = {
    Settings: "settings",
    Fabric: "fabrics",
    Piece: "pieces",
    ByLength: "shop",
    ByPiece: "shop",
    Cut: "cuts",
    Strip: "strips",
}


def altered(kind: type, field: str, value: object) -> Job:
    """The job with another value in the first row of a kind."""
    place = PLACES[kind]
    old = getattr(JOB, place)
    if kind is Settings:
        return replace(JOB, settings=replace(old, **{field: value}))
    at = next(i for i, item in enumerate(old) if isinstance(item, kind))
    rows = (*old[:at], replace(old[at], **{field: value}), *old[at + 1 :])
    if (kind, field) == (Fabric, "name"):
        new_name = {"fabric": value}
        return replace(
            JOB,
            fabrics=rows,
            pieces=tuple(replace(p, **new_name) for p in JOB.pieces),
            shop=tuple(replace(s, **new_name) for s in JOB.shop),
        )
    return replace(JOB, **{place: rows})


@pytest.mark.parametrize(
    ("kind", "field"), [(kind, f.name) for kind in OTHER for f in fields(kind)]
)
def test_every_field_is_in_the_digest_or_is_talk(kind: type, field: str) -> None:
    if field in TALK[kind]:
        assert altered(kind, field, "other").digest == JOB.digest
    else:
        assert altered(kind, field, OTHER[kind][field]).digest != JOB.digest


def test_the_digest_tells_jobs_apart_by_their_lists_too() -> None:
    more = Piece(name="r", fabric="oat", outline=rectangle(INCH, INCH))
    others = [
        replace(JOB, name="other"),
        replace(JOB, pieces=(*JOB.pieces, more)),
        replace(JOB, pieces=(more, *JOB.pieces)),
        replace(JOB, shop=JOB.shop[:1]),
        replace(JOB, fabrics=JOB.fabrics[::-1]),
        replace(JOB, strips=()),
    ]
    assert len({JOB.digest, *(job.digest for job in others)}) == len(others) + 1


def test_the_digest_is_of_values_not_of_spellings() -> None:
    """9.6, 9.60 and 96E-1 are one price; the digest is a SHA-256 in hexadecimal and the same in every session."""
    for price in ("9.6", "9.600", "96E-1"):
        assert altered(ByLength, "price", Decimal(price)).digest == JOB.digest
    assert altered(ByPiece, "price", Decimal("4.00")).digest == JOB.digest
    assert len(JOB.digest) == 64
    assert int(JOB.digest, 16) > 0


def test_cloth_of_the_pile_loses_the_square_up_on_raw_edges_only() -> None:
    for edges, about, lost in (
        ("true", False, 0),
        ("raw", False, INCH // 4),
        ("true", True, INCH // 2),
        ("raw", True, INCH * 3 // 4),
    ):
        piece = replace(
            JOB.pieces[0],
            edges=edges,
            about=about,
            flaws=(rectangle(INCH, INCH),),
            grain_known=False,
        )
        job = replace(JOB, pieces=(piece,))
        cloth = cloth_of(job, Source(id="S", piece="p"))
        assert cloth.margins == (lost,) * 4
        assert cloth.outline == piece.outline
        assert cloth.flaws == piece.flaws
        assert not cloth.grain_known


def test_bought_cloth_shrinks_and_loses_its_ends() -> None:
    """A yard of 42-in cloth that loses 2 % across and 3 % along: 41.16 x 34.92 in, whole ticks rounded down."""
    oat = Fabric(
        name="pear", shrink_across=Fraction(2, 100), shrink_along=Fraction(3, 100)
    )
    job = replace(JOB, fabrics=(oat,), pieces=())
    assert shrunk(oat, 42 * INCH, YARD) == (
        int(Decimal("41.16") * INCH),
        int(Decimal("34.92") * INCH),
    )
    length = cloth_of(
        job,
        Source(
            id="S", bought="pear", width=42 * INCH, length=YARD, price=Decimal("9.60")
        ),
    )
    assert length.margins == (INCH // 2, 0, INCH // 2, 0)
    assert length.outline == rectangle(*shrunk(oat, 42 * INCH, YARD))
    each = cloth_of(
        job,
        Source(id="S", bought="pear", by_piece=True, width=18 * INCH, length=21 * INCH),
    )
    assert each.margins == (0, 0, 0, 0)
    assert each.outline == rectangle(*shrunk(oat, 18 * INCH, 21 * INCH))


def test_cloth_that_the_job_does_not_have() -> None:
    for source in (Source(id="S", piece="z"), Source(id="S", bought="rye")):
        with pytest.raises(KeyError):
            cloth_of(JOB, source)


@pytest.mark.parametrize("name", GOOD)
def test_both_replays_agree(name: str) -> None:
    """Part by part the same area and corners' extent as the checker's own naive replay."""
    job, plan = GOOD[name]()
    ours = replay(job, plan)
    theirs = checked_replay(job, plan).parts
    assert ours.keys() == theirs.keys()
    for part, polygon in ours.items():
        assert area2(polygon) == double_area(theirs[part].shape)
    left = set(finished_parts(plan))
    assert left == {use.part for use in plan.uses} | {
        spare.part for spare in plan.spare
    }


def test_a_straightening_cut_gives_what_lies_left_of_it_first() -> None:
    parts = cut_part(
        rectangle(4, 4), CutStep(n=1, part="S", gives=("a", "b"), line=((0, 0), (4, 4)))
    )
    assert [set(part) for part in parts] == [
        {(0, 0), (4, 4), (0, 4)},
        {(0, 0), (4, 0), (4, 4)},
    ]
