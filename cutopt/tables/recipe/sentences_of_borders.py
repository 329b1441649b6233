"""Sentences of borders: plain ones, those of squares, the strip that makes these come out even, and flanges."""

from __future__ import annotations

from collections.abc import Collection
from fractions import Fraction

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
from cutopt.tables.recipe.words_of_borders import (
    BORDER,
    BUTTED,
    CORNERS,
    CUTS,
    FIELD,
    PATCHES,
    ROUNDS,
    border_apart,
    patch_size,
    widths_of,
)
from cutopt.tables.sentences.rules import all_cloths, refuse_unused
from cutopt.tables.sentences.said import Said
from cutopt.tables.sentences.sizes import one_size
from cutopt.tables.sentences.taking_apart import taken_apart


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
    said = border_apart(text, how, known)
    cloths = all_cloths(said)
    said.take("border", "strips")
    said.take("border", "strips")
    for kind in ("coping", "flange"):
        if kind in said.options:
            name = name.replace("border", kind)
    called = " and ".join(said.names) or said.only_one(*ROUNDS) or name
    if said.options.keys() & set(PATCHES):
        border = _pieced(said, inside, how, called)
    elif said.take("coping"):
        border = _coping(said, inside, how, called, _next_patch(said, then, how, known))
    elif "flange" in said.options:
        border = _flange(said, inside, how, called)
    else:
        border = _plain(said, inside, how, called)
    said.finish()
    refuse_unused(text, FIELD, cloths, border.made.wanted)
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
    said = border_apart(text, how, known)
    if said.options.keys() & set(PATCHES):
        _, deep = patch_size(said, how)
        return deep, deep
    if "flange" in said.options:
        return ZERO, ZERO
    return widths_of(said, how)


def _plain(
    said: Said, inside: tuple[Exact, Exact], how: Conventions, name: str
) -> Border:
    """A border of one width, of two, or on two sides alone."""
    widths = widths_of(said, how)
    corner_cloth = said.of("corner squares")
    if corner_cloth is not None:
        corner = "corner squares"
    else:
        corner = said.only_one(*CORNERS)
    if corner and not all(widths):
        what = f'"{said.text}" says {corner}, and a border on two sides has no corners'
        raise Problem(FIELD, what, "leave it out")
    if said.take(BUTTED) and not corner and how.border_corner == "mitred":
        corner = "sides first"
    cut = said.only_one(*CUTS)
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
    repeat = how.read(said.after("stripe"), FIELD)
    odd = [corner] if corner not in ("", "mitred") else []
    odd += [cut] if cut == "joined" else []
    if widths[0] != widths[1]:
        what = f'"{said.text}" has two widths, and a stripe runs round in one'
        raise Problem(FIELD, what, "write one width, or leave the stripe out")
    if odd:
        what = f'"{said.text}" says {odd[0]}; a stripe runs round mitred corners, each side in one piece'
        raise Problem(FIELD, what, f"leave {odd[0]} out, or the stripe")
    return striped(inside, widths[0], repeat, _one(said, "border"), how, name)


def _pieced(
    said: Said, inside: tuple[Exact, Exact], how: Conventions, name: str
) -> Border:
    """Squares or rectangles, their fabrics by turns."""
    patch = patch_size(said, how)
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
        raise Problem(FIELD, what, f'write "squares of 2 from {told}"')
    return cloths


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
        other = border_apart(then, how, known) if then else None
    except Problem:
        other = None
    if other is None or not other.options.keys() & set(PATCHES):
        what = f'"{said.text}" makes the next border come out even, and that is none of squares or rectangles'
        mend = "write squares of 2 from oat and plum on the line behind it, or say how wide this one is"
        raise Problem(FIELD, what, mend)
    return patch_size(other, how)[0]


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
        raise Problem(FIELD, what, mend)
    least = said.after("at least")
    wide = one_size(least, how, FIELD) if least else None
    corner = said.only_one(*CORNERS[:2])
    cut = said.only_one(*CUTS)
    of = _one(said, "coping")
    return coped(inside, along, of, how, name, wide, corner, cut)


def _flange(
    said: Said, inside: tuple[Exact, Exact], how: Conventions, name: str
) -> Border:
    """A folded strip in the seam."""
    shows = said.after("flange") or said.size
    if not shows:
        what = f'"{said.text}" does not say how wide the flange shows'
        raise Problem(FIELD, what, 'write it like "flange 1/4 from oat"')
    width = one_size(shows, how, FIELD)
    return flanged(inside, width, _one(said, "flange"), how, name)


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
        raise Problem(FIELD, what, mend)
    said.mixture = ""
    if said.cloths:
        return said.cloths[0]
    return None
