"""Sentences of borders: plain ones, those of squares, the strip that makes these come out even, and flanges."""

from __future__ import annotations

from collections.abc import Collection
from fractions import Fraction
from typing import Final

from cutopt.errors import Problem
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.recipe.setting import (
    Border,
    bordered,
    coped,
    flanged,
    pieced,
    striped,
)
from cutopt.quilt.surds import ZERO, Exact
from cutopt.quilt.wanted_parts import ClothWanted
from cutopt.tables.sentences.rules import all_cloths, refuse_unused
from cutopt.tables.sentences.said import Said
from cutopt.tables.sentences.sizes import one_size, two_sizes
from cutopt.tables.sentences.taking_apart import taken_apart
from cutopt.tables.sentences.vocabulary import Vocabulary

_FIELD: Final = "borders"
_CORNERS: Final = ("sides first", "ends first", "mitred", "corner squares")
_CUTS: Final = ("joined", "in one piece", "lengthwise")
_SIDES: Final = "at the sides"
_ENDS: Final = "at top and bottom"
_SIDES_ONLY: Final = "at the sides only"
_ENDS_ONLY: Final = "at top and bottom only"
_ROUNDS: Final = tuple(
    f"{word} border"
    for word in ("inner", "middle", "outer", "first", "second", "third", "last")
)
_PATCHES: Final = ("squares", "rectangles")

# ways to say where a border lies, with its width and without
_SIDES_WORDS: Final = (_SIDES, "on the sides", "at both sides", "sides")
_ENDS_WORDS: Final = (
    *(_ENDS, "at the top and bottom", "on top and bottom", "on the top and bottom"),
    *("top and bottom", "at the ends", "ends"),
)
_AT_SIDES: Final = "|".join(f"LENGTH {word}|{word} LENGTH" for word in _SIDES_WORDS)
_AT_ENDS: Final = "|".join(f"LENGTH {word}|{word} LENGTH" for word in _ENDS_WORDS)
_ONLY_SIDES: Final = "|".join(
    f"{word} only|only {word}|{word}" for word in _SIDES_WORDS
)
_ONLY_ENDS: Final = "|".join(f"{word} only|only {word}|{word}" for word in _ENDS_WORDS)

BORDER: Final = Vocabulary(
    part=_FIELD,
    told="borders",
    like="inner border: 2 from oat, mitred",
    phrases=(
        *_CORNERS[:-1],
        "corner squares CLOTH|cornerstones CLOTH",
        "corner squares|with corner squares|cornerstones|with cornerstones",
        *(f"{round_}|{round_.split()[0]}" for round_ in _ROUNDS),
        *_CUTS,
        _AT_SIDES,
        _AT_ENDS,
        _ONLY_SIDES,
        _ONLY_ENDS,
        "squares LENGTH|LENGTH squares",
        "rectangles SIZE|SIZE rectangles|keys SIZE|piano keys SIZE",
        "coping|coping strip|coping strips|coping border|spacer|spacer strip|spacer border",
        "stripe LENGTH|stripes LENGTH|LENGTH stripe|stripe every LENGTH|stripe repeat LENGTH|stripe repeats LENGTH",
        "at least LENGTH",
        "flange LENGTH|LENGTH flange|flange",
        "border|borders|plain border|pieced border",
    ),
    cloths=99,
    named=True,
    sized=True,
    mixed=True,
)


def border_of(
    text: str,
    inside: tuple[Exact, Exact],
    how: Conventions,
    name: str,
    known: Collection[str] = (),
    then: str = "",
) -> Border:
    """``inner border: 2 from oat, mitred``; ``squares of 2 from navy and cream``; ``coping from oat``.

    Parameters
    ----------
    text : str
    inside : (exact, exact)
        Finished width and length of what it goes round.
    how : Conventions
    name : str
        Of one that is given none.
    known : collection of str
        Names, tags and values of fabrics in lower case.
    then : str
        The sentence of the next border, which a coping strip makes come out even.

    Raises
    ------
    Problem
        With the words that are not understood, and what to write.
    """
    said = taken_apart(text, BORDER, known)
    cloths = all_cloths(said)
    said.take("border")
    for kind in ("coping", "flange"):
        if kind in said.options:
            name = name.replace("border", kind)
    called = " and ".join(said.names) or said.only_one(*_ROUNDS) or name
    if said.options.keys() & set(_PATCHES):
        border = _pieced(said, inside, how, called)
    elif said.take("coping"):
        border = _coping(said, inside, how, called, _next_patch(said, then, how, known))
    elif "flange" in said.options:
        border = _flange(said, inside, how, called)
    else:
        border = _plain(said, inside, how, called)
    said.finish()
    refuse_unused(text, _FIELD, cloths, border.made.wanted)
    return border


def is_coping(text: str, known: Collection[str] = ()) -> bool:
    """Whether a sentence asks for a coping strip: nothing is known of its width by itself."""
    try:
        said = taken_apart(text, BORDER, known)
    except Problem:
        return False
    return "coping" in said.options


def widths_said(
    text: str, how: Conventions, known: Collection[str] = ()
) -> tuple[Exact, Exact]:
    """What a border adds at the sides and at top and bottom, finished; that of a coping strip is not known here.

    Parameters
    ----------
    text : str
    how : Conventions
    known : collection of str
        Names, tags and values of fabrics in lower case.

    Raises
    ------
    Problem
        Where its sentence is not understood.
    """
    said = taken_apart(text, BORDER, known)
    if said.options.keys() & set(_PATCHES):
        _, deep = _patch(said, how)
        return deep, deep
    if "flange" in said.options:
        return ZERO, ZERO
    return _widths(said, how)


def _plain(
    said: Said, inside: tuple[Exact, Exact], how: Conventions, name: str
) -> Border:
    """A border of one width, of two, or on two sides alone."""
    widths = _widths(said, how)
    corner_cloth = said.of("corner squares")
    if corner_cloth is not None:
        corner = "corner squares"
    else:
        corner = said.only_one(*_CORNERS)
    if corner and not all(widths):
        what = f'"{said.text}" says {corner}, and a border on two sides has no corners'
        raise Problem(_FIELD, what, "leave it out")
    cut = said.only_one(*_CUTS)
    if "stripe" in said.options:
        return _striped(said, inside, how, name, (widths, corner, cut))
    return bordered(
        inside, widths, _one(said, "border"), how, name, corner_cloth, corner, cut
    )


def _striped(
    said: Said,
    inside: tuple[Exact, Exact],
    how: Conventions,
    name: str,
    made: tuple[tuple[Exact, Exact], str, str],
) -> Border:
    """Mitred, each side in one piece along the same stripe.

    Parameters
    ----------
    said : Said
    inside : (exact, exact)
        Finished size of what it goes round.
    how : Conventions
    name : str
        Of its rows.
    made : tuple
        The widths, the corners and the way to cut that are said.
    """
    widths, corner, cut = made
    repeat = how.read(said.after("stripe"), _FIELD)
    odd = [corner] if corner not in ("", "mitred") else []
    odd += [cut] if cut == "joined" else []
    if widths[0] != widths[1]:
        what = f'"{said.text}" has two widths, and a stripe runs round in one'
        raise Problem(_FIELD, what, "write one width, or leave the stripe out")
    if odd:
        what = f'"{said.text}" says {odd[0]}; a stripe runs round mitred corners, each side in one piece'
        raise Problem(_FIELD, what, f"leave {odd[0]} out, or the stripe")
    return striped(inside, widths[0], repeat, _one(said, "border"), how, name)


def _widths(said: Said, how: Conventions) -> tuple[Exact, Exact]:
    """Finished widths at the sides and at top and bottom, struck off."""
    sides = said.after(_SIDES)
    ends = said.after(_ENDS)
    only = said.only_one(_SIDES_ONLY, _ENDS_ONLY)
    if said.size and (sides or ends):
        what = f'"{said.text}" says a width twice'
        raise Problem(_FIELD, what, "write it like 3 at the sides, 4 at top and bottom")
    if (sides and only == _ENDS_ONLY) or (ends and only == _SIDES_ONLY):
        what = f'"{said.text}" says {only}, and a width for the others'
        raise Problem(_FIELD, what, "leave one of the two out")
    if said.size and only:
        sides, ends = (said.size, "") if only == _SIDES_ONLY else ("", said.size)
    elif said.size:
        sides = ends = said.size
    if not sides and not ends:
        what = f'"{said.text}" does not say how wide'
        raise Problem(_FIELD, what, f'write it like "{BORDER.like}"')
    return _width(sides, how), _width(ends, how)


def _width(text: str, how: Conventions) -> Exact:
    if not text:
        return ZERO
    return one_size(text, how, _FIELD)


def _pieced(
    said: Said, inside: tuple[Exact, Exact], how: Conventions, name: str
) -> Border:
    """Squares or rectangles, their fabrics by turns."""
    patch = _patch(said, how)
    corners = said.of("corner squares")
    if corners is None:
        said.take("corner squares")
    said.mixture = ""
    return pieced(inside, patch, _by_turns(said), how, name, corners)


def _by_turns(said: Said) -> tuple[ClothWanted, ...]:
    """The fabrics of patches that lie by turns: as many of each.

    Raises
    ------
    Problem
        Where one is to have more.
    """
    if not said.shares:
        return said.cloths
    cloths = tuple(cloth for share in said.shares for cloth in share.cloths)
    alike = Fraction(1, len(said.shares))
    if len(cloths) > len(said.shares) or any(s.part != alike for s in said.shares):
        told = " and ".join("|".join(each.fabrics) for each in cloths)
        what = f'"{said.text}": the fabrics of a border of patches lie by turns, as many of each'
        raise Problem(_FIELD, what, f'write "squares of 2 from {told}"')
    return cloths


def _patch(said: Said, how: Conventions) -> tuple[Exact, Exact]:
    """Finished size of a patch, along the edge and deep; struck off."""
    side = said.after("squares")
    if side:
        size = one_size(side, how, _FIELD)
        return size, size
    return two_sizes(said.after("rectangles"), how, _FIELD)


def _next_patch(
    said: Said, then: str, how: Conventions, known: Collection[str]
) -> Exact:
    """How long a patch of the border is that comes next.

    Raises
    ------
    Problem
        Where it is none of patches.
    """
    try:
        other = taken_apart(then, BORDER, known) if then else None
    except Problem:
        other = None
    if other is None or not other.options.keys() & set(_PATCHES):
        what = f'"{said.text}" makes the next border come out even, and that is none of squares or rectangles'
        mend = "write squares of 2 from oat and plum on the line behind it, or say how wide this one is"
        raise Problem(_FIELD, what, mend)
    return _patch(other, how)[0]


def _coping(
    said: Said,
    inside: tuple[Exact, Exact],
    how: Conventions,
    name: str,
    along: Exact,
) -> Border:
    """A plain strip as wide as it has to be."""
    if said.size:
        what = f'"{said.text}" says how wide a coping strip is, which is worked out'
        mend = f"write coping at least {said.size}, or 2 from oat for a border"
        raise Problem(_FIELD, what, mend)
    least = said.after("at least")
    wide = how.read(least, _FIELD) if least else None
    corner = said.only_one(*_CORNERS[:2])
    cut = said.only_one(*_CUTS)
    of = _one(said, "coping")
    return coped(inside, along, of, how, name, wide, corner, cut)


def _flange(
    said: Said, inside: tuple[Exact, Exact], how: Conventions, name: str
) -> Border:
    """A folded strip in the seam."""
    shows = said.after("flange") or said.size
    if not shows:
        what = f'"{said.text}" does not say how wide the flange shows'
        raise Problem(_FIELD, what, 'write it like "flange 1/4 from oat"')
    return flanged(inside, how.read(shows, _FIELD), _one(said, "flange"), how, name)


def _one(said: Said, kind: str) -> ClothWanted | None:
    """The one fabric of a strip.

    Raises
    ------
    Problem
        Where more are named: which strip is from which is not said.
    """
    cloths = [*said.cloths, *(cloth for share in said.shares for cloth in share.cloths)]
    if len(cloths) > 1:
        named = ["|".join(each.fabrics) for each in cloths]
        what = f'"{said.text}" names {len(named)} fabrics for a {kind} of one'
        told = " and ".join(named)
        mends = []
        if not said.shares:
            mends.append(f'"{said.text.replace(told, "|".join(named))}" for either')
        if kind == "border":
            mends.append(f'"squares of 2 from {told}" for patches by turns')
        mend = f"write {', or '.join(mends)}" if mends else "name one"
        raise Problem(_FIELD, what, mend)
    said.mixture = ""
    if said.cloths:
        return said.cloths[0]
    return None
