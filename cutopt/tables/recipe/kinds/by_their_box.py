"""Shapes that are planned by their box, as their sentences say them: ``12 templates of 5 x 7 cut from bark``."""

from __future__ import annotations

from typing import Final

from cutopt.errors import Problem
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.recipe import shape_blocks as make
from cutopt.quilt.recipe.block import Block
from cutopt.quilt.shapes.boxes import Round
from cutopt.quilt.surds import Exact
from cutopt.tables.sentences.said import Said
from cutopt.tables.sentences.sizes import qualified, sides_of, two_sizes
from cutopt.tables.sentences.vocabulary import Kind

_FIELD: Final = "blocks"
_EXTRA: Final = (
    "extra LENGTH|plus LENGTH|LENGTH extra|LENGTH all round|extra LENGTH all round|plus LENGTH all round|"
    "with LENGTH all round|LENGTH on each side|LENGTH on every side|seam LENGTH"
)


def _box(said: Said, kind: Round, name: str, how: Conventions) -> Block:
    """The rectangle of a shape: its finished box and what goes round it, or its box as cut."""
    plain, word = qualified(said.size)
    extra = said.after("extra")
    if word and extra:
        what = f'"{said.size}" has all round it already, and {extra} is said beside it'
        raise Problem(
            _FIELD,
            what,
            f"write {plain} for the size of the shape, or leave {extra} out",
        )
    size = _as_typed(plain, said, how)
    by: Exact | None = None
    if word:
        by = how.read("0", _FIELD)
    elif extra:
        by = how.read(extra, _FIELD)
    return make.by_box(name, said.many, size, said.cloths, how, kind=kind, extra=by)


def _as_typed(plain: str, said: Said, how: Conventions) -> tuple[Exact, Exact]:
    sides = sides_of(plain)
    if len(sides) > 2:
        what = f'"{said.size}" is not a width and a length'
        raise Problem(_FIELD, what, "write it like 5 x 7")
    sizes = [how.read(side, _FIELD) for side in sides]
    if not all(sizes):
        what = f'"{said.size}" leaves nothing'
        raise Problem(_FIELD, what, "write it like 5 x 7")
    return sizes[0], sizes[-1]


def _template(said: Said, name: str, how: Conventions) -> Block:
    return _box(said, "template", name, how)


def _applique(said: Said, name: str, how: Conventions) -> Block:
    kind: Round = "turned under"
    if said.take("fused"):
        kind = "fused"
        if "turned under" in said.options:
            what = f'"{said.text}" says both fused and turned under'
            raise Problem(_FIELD, what, "keep one of the two")
    turned = said.after("turned under")
    if turned:
        if "extra" in said.options:
            what = f'"{said.text}" says twice what goes round'
            raise Problem(_FIELD, what, "keep one of the two")
        said.options["extra"] = turned
    return _box(said, kind, name, how)


def _on_paper(said: Said, name: str, how: Conventions) -> Block:
    return _box(said, "on foundation", name, how)


def _shirt(said: Said, name: str, how: Conventions) -> Block:
    """Shirt and interfacing: nothing is cut from interfacing that was not named."""
    if len(said.cloths) != 2:
        what = f'"{said.text}" does not name shirts and interfacing'
        raise Problem(_FIELD, what, f'write it like "{_SHIRTS}"')
    size = two_sizes(said.size, how, _FIELD)
    return make.shirts(name, said.many, size, said.cloths, how)


_SHIRTS: Final = "12 t-shirt blocks of 12 x 14 from shirts and interfacing"
BY_THEIR_BOX: Final[tuple[Kind[Block], ...]] = (
    Kind(
        one="template",
        many="templates",
        make=_template,
        like="12 templates of 5 x 7 cut from oat",
        options=(_EXTRA,),
    ),
    Kind(
        one="applique piece",
        many="applique pieces",
        make=_applique,
        like="30 applique pieces of 2 x 3, turned under 1/4, from oat",
        options=(
            "turned under LENGTH|turn under LENGTH|LENGTH turned under|LENGTH turn under|turned under",
            "fused|fusible|raw edge|raw edged",
            _EXTRA,
        ),
    ),
    Kind(
        one="paper-pieced bit",
        many="paper-pieced bits",
        make=_on_paper,
        like="16 paper-pieced bits of 2 x 3 from oat",
        options=(_EXTRA,),
    ),
    Kind(
        one="t-shirt block",
        many="t-shirt blocks",
        make=_shirt,
        like=_SHIRTS,
        cloths=2,
    ),
)
