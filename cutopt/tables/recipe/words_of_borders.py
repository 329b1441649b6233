"""What may be said of a border, and the sizes that are said: how wide it is, and of what size its patches are."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace
from typing import Final

from cutopt.errors import Problem
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.surds import ZERO, Exact
from cutopt.tables.recipe.wording import cut_behind, without_corner_size
from cutopt.tables.sentences.said import Said
from cutopt.tables.sentences.sizes import one_size, qualified, sides_of, two_sizes
from cutopt.tables.sentences.taking_apart import taken_apart
from cutopt.tables.sentences.vocabulary import Vocabulary

FIELD: Final = "borders"
CORNERS: Final = ("sides first", "ends first", "mitred", "corner squares")
CUTS: Final = ("joined", "in one piece", "lengthwise")
_SIDES: Final = "at the sides"
_ENDS: Final = "at top and bottom"
_SIDES_ONLY: Final = "at the sides only"
_ENDS_ONLY: Final = "at top and bottom only"
ROUNDS: Final = tuple(
    f"{word} border"
    for word in ("inner", "middle", "outer", "first", "second", "third", "last")
)
_KEYS_WIDE: Final = "piano keys wide"
_KEYS_LONG: Final = "piano keys long"
PATCHES: Final = ("squares", "rectangles", _KEYS_WIDE, _KEYS_LONG)
_KEYS: Final = ("piano keys", "piano key border", "keys", "rectangles")
_KEYS_ALONE: Final = "|".join(_KEYS)
_WIDE_KEYS: Final = "|".join(
    f"{word} LENGTH wide|{word} LENGTH wide finished|LENGTH wide {word}"
    for word in _KEYS
)
_LONG_KEYS: Final = "|".join(
    f"{word} LENGTH {how}|{word} LENGTH {how} finished|LENGTH {how} {word}"
    for word in _KEYS
    for how in ("long", "deep", "high")
)

# ways to say where a border lies, with its width and without
_SIDES_WORDS: Final = (_SIDES, "on the sides", "at both sides", "the sides", "sides")
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
    part=FIELD,
    told="borders",
    like="inner border: 2 from oat, mitred",
    phrases=(
        *CORNERS[:-1],
        "corner squares CLOTH|cornerstones CLOTH",
        "corner squares|with corner squares|cornerstones|with cornerstones",
        *(f"{round_}|{round_.split()[0]}" for round_ in ROUNDS),
        *CUTS,
        _AT_SIDES,
        _AT_ENDS,
        _ONLY_SIDES,
        _ONLY_ENDS,
        "squares LENGTH|LENGTH squares",
        f"rectangles SIZE|SIZE rectangles|keys SIZE|piano keys SIZE|SIZE piano keys|{_KEYS_ALONE}",
        _WIDE_KEYS,
        _LONG_KEYS,
        "LENGTH wide|LENGTH wide finished|each key LENGTH wide|each LENGTH wide",
        "LENGTH long|LENGTH long finished|each key LENGTH long|each LENGTH long|LENGTH deep|LENGTH high",
        "coping|coping strip|coping strips|coping border|spacer|spacer strip|spacer border",
        "stripe LENGTH|stripes LENGTH|LENGTH stripe|stripe every LENGTH|stripe repeat LENGTH|stripe repeats LENGTH",
        "at least LENGTH",
        "flange LENGTH|LENGTH flange|flange",
        "border|borders|plain border|pieced border",
        "strips|strip",
    ),
    cloths=99,
    named=True,
    sized=True,
    mixed=True,
)


def border_apart(text: str, how: Conventions, known: Collection[str]) -> Said:
    """A sentence taken apart; its corner squares are as large as the border is wide, and may say so.

    Parameters
    ----------
    text : str
    how : Conventions
    known : collection of str
        Names, tags and values of fabrics in lower case.

    Raises
    ------
    Problem
        Where a word of it is not understood, or corner squares are of another size.
    """
    plain, corner = without_corner_size(cut_behind(text, FIELD), FIELD)
    said = taken_apart(plain, BORDER, known)
    said.text = text
    if not corner:
        return said
    wide = _deep(said, how)
    if wide is None or wide[0] != wide[1] or one_size(corner, how, FIELD) != wide[0]:
        what = f'"{text}" says corner squares of {corner}, and they are as large as the border is wide'
        raise Problem(FIELD, what, f'write "{plain}"')
    return said


def _deep(said: Said, how: Conventions) -> tuple[Exact, Exact] | None:
    """What a border adds at the sides and at top and bottom, nothing struck off; None for a coping strip."""
    trial = replace(said, options=dict(said.options))
    if "coping" in said.options or "flange" in said.options:
        return None
    if said.options.keys() & set(PATCHES):
        _, deep = patch_size(trial, how)
        return deep, deep
    return widths_of(trial, how)


def widths_of(said: Said, how: Conventions) -> tuple[Exact, Exact]:
    """Finished widths at the sides and at top and bottom, struck off.

    Raises
    ------
    Problem
        Where none is said, or one twice.
    """
    sides = said.after(_SIDES)
    ends = said.after(_ENDS)
    wide = said.after("wide")
    if said.size and wide:
        what = f'"{said.text}" says a width twice'
        raise Problem(FIELD, what, f'write it like "{BORDER.like}"')
    said.size = said.size or wide
    only = said.only_one(_SIDES_ONLY, _ENDS_ONLY)
    if said.size and (sides or ends):
        what = f'"{said.text}" says a width twice'
        raise Problem(FIELD, what, "write it like 3 at the sides, 4 at top and bottom")
    if (sides and only == _ENDS_ONLY) or (ends and only == _SIDES_ONLY):
        what = f'"{said.text}" says {only}, and a width for the others'
        raise Problem(FIELD, what, "leave one of the two out")
    if said.size and only:
        sides, ends = (said.size, "") if only == _SIDES_ONLY else ("", said.size)
    elif said.size:
        sides = ends = said.size
    if not sides and not ends:
        what = f'"{said.text}" does not say how wide'
        raise Problem(FIELD, what, f'write it like "{BORDER.like}"')
    return _width(sides, how), _width(ends, how)


def _width(text: str, how: Conventions) -> Exact:
    if not text:
        return ZERO
    return one_size(text, how, FIELD)


def patch_size(said: Said, how: Conventions) -> tuple[Exact, Exact]:
    """Finished size of a patch, along the edge and deep; struck off.

    Raises
    ------
    Problem
        Where a size is missing, or is said twice.
    """
    squares = said.after("squares")
    both = said.after("rectangles")
    wide = [size for key in (_KEYS_WIDE, "wide") if (size := said.after(key))]
    long = [size for key in (_KEYS_LONG, "long") if (size := said.after(key))]
    size = said.size
    said.size = ""
    if squares and not both:
        return _square(said, squares, [*wide, *long, size], how)
    if size and not both:
        both, size = size, ""
    sides = sides_of(qualified(both)[0]) if both else []
    if len(sides) == 1 and len(wide) + len(long) == 1:
        # 4 piano keys, each 2 wide: the other side is said by itself
        (long if wide else wide).append(both)
        both, sides = "", []
    if len(sides) > 1 and not (wide or long or size or squares):
        return two_sizes(both, how, FIELD)
    if len(wide) == len(long) == 1 and not (sides or size or squares):
        return one_size(wide[0], how, FIELD), one_size(long[0], how, FIELD)
    what = (
        f'"{said.text}" does not say how wide and how long a patch is, or says it twice'
    )
    mend = 'write it like "piano keys of 2 x 4 from oat and plum", or "squares of 2 from oat and plum"'
    raise Problem(FIELD, what, mend)


def _square(
    said: Said, side: str, others: list[str], how: Conventions
) -> tuple[Exact, Exact]:
    """The size of a square; the border is as wide as it, and may say so.

    Parameters
    ----------
    said : Said
    side : str
    others : list of str
        Sizes that are said besides, "" for none.
    how : Conventions

    Raises
    ------
    Problem
        Where another width is said.
    """
    size = one_size(side, how, FIELD)
    for other in others:
        if other and one_size(other, how, FIELD) != size:
            what = f'"{said.text}" says {other} beside squares of {side}, and a border of squares is one square wide'
            mend = "say each row of squares as a border of its own, or the size of the squares alone"
            raise Problem(FIELD, what, mend)
    return size, size
