"""Bags, as their sentences say them: ``1 tote of 13 x 14 x 4, lined, from oat and plum``, ``2 zipper pouches of 9 x 6``."""

from __future__ import annotations

from typing import Final

from cutopt.errors import Problem
from cutopt.quilt import bags
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.surds import Exact
from cutopt.quilt.wanted_parts import Made
from cutopt.tables.recipe.kinds.parts_of_articles import FIELD, FRONTS, cloths_of
from cutopt.tables.sentences.said import Said
from cutopt.tables.sentences.sizes import one_size, sides_of, two_sizes
from cutopt.tables.sentences.vocabulary import Kind


def _tote(said: Said, name: str, how: Conventions) -> Made:
    sides = sides_of(said.size)
    if len(sides) not in (2, 3):
        what = f'"{said.size}" is not a width, a height and a depth'
        raise Problem(
            FIELD, what, "write it like 13 x 14 x 4, or 13 x 14 for a flat bag"
        )
    w, h = (one_size(side, how, FIELD) for side in sides[:2])
    d = one_size(sides[2], how, FIELD) if len(sides) == 3 else None
    said.take("two handles")
    handle = said.after("handles")
    strap = two_sizes(handle, how, FIELD) if handle else None
    pocket = said.after("pocket")
    lined = said.take("lined")
    if lined or "lining" in said.cloth_of:
        return _lined(said, name, (w, h, d), (pocket, strap), how)
    if pocket or len(said.cloths) > 2:
        what = f'"{said.text}" has no lining for a pocket or a third fabric'
        raise Problem(FIELD, what, f'write it like "{_LINED}"')
    body, handles = cloths_of(said, "handle cloth")
    return bags.tote(w, h, d, said.many, (body, handles), how, handle=strap, name=name)


def _lined(
    said: Said,
    name: str,
    size: tuple[Exact, Exact, Exact | None],
    extras: tuple[str, tuple[Exact, Exact] | None],
    how: Conventions,
) -> Made:
    """A tote with a lining; of two fabrics the handles are of the first.

    Parameters
    ----------
    said : Said
    name : of the rows
    size : finished width, height and depth
    extras : the size of a pocket as typed, "" for none, and that of a handle, None for the usual one
    how : Conventions
    """
    apart = bool(said.cloth_of)
    pocket, strap = extras
    handles_said = "handle cloth" in said.cloth_of
    body, lining, handles = cloths_of(said, "lining", "handle cloth")
    if not handles_said and (
        (len(said.cloths) < 3 and not apart) or (apart and len(said.cloths) < 2)
    ):
        handles = body
    inside = two_sizes(pocket, how, FIELD) if pocket else None
    return bags.lined_tote(
        size, said.many, (body, lining, handles), how, inside, strap, name=name
    )


def _bag(said: Said, name: str, how: Conventions) -> Made:
    w, h = two_sizes(said.size, how, FIELD)
    return bags.drawstring_bag(w, h, said.many, cloths_of(said)[0], how, name=name)


def _pouch(said: Said, name: str, how: Conventions) -> Made:
    w, h = two_sizes(said.size, how, FIELD)
    outside, lining = cloths_of(said, "lining")
    return bags.zipper_pouch(w, h, said.many, (outside, lining), how, name=name)


_TOTE: Final = "1 tote of 13 x 14 x 4 from oat and plum"
_LINED: Final = "1 tote of 13 x 14 x 4, lined, pocket 6 x 7, from oat and plum and bark"
BAGS: Final[tuple[Kind[Made], ...]] = (
    Kind(
        one="tote",
        many="totes",
        make=_tote,
        like=_TOTE,
        options=(
            "lined|with a lining|with lining",
            "pocket SIZE|SIZE pocket",
            "lining CLOTH|lined with CLOTH|lined in CLOTH",
            "handle cloth CLOTH|handles CLOTH|handle CLOTH|straps CLOTH|strap CLOTH",
            "handles SIZE|two handles SIZE|handle SIZE|straps SIZE|two straps SIZE|SIZE handles",
            "two handles|2 handles|handles|two straps|straps|a pair of handles",
            FRONTS,
        ),
        cloths=3,
    ),
    Kind(
        one="zipper pouch",
        many="zipper pouches",
        make=_pouch,
        like="2 zipper pouches of 9 x 6 from oat and plum",
        options=(
            "lining CLOTH|lined with CLOTH|lined in CLOTH|inside CLOTH|insides CLOTH",
            FRONTS,
        ),
        cloths=2,
    ),
    Kind(
        one="drawstring bag",
        many="drawstring bags",
        make=_bag,
        like="2 drawstring bags of 8 x 10 from oat",
    ),
)
