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
_SAME_ROUND: Final = {
    "inner border": ("inside border", "inside"),
    "outer border": ("outside border",),
}
_KEYS_WIDE: Final = "piano keys wide"
_KEYS_LONG: Final = "piano keys long"
_KEYS_ALONE: Final = "piano keys"
PATCHES: Final = ("squares", "rectangles", _KEYS_WIDE, _KEYS_LONG, _KEYS_ALONE)
_KEYS: Final = ("piano keys", "piano key border", "keys", "rectangles")
BUTTED: Final = "butted"
ALL_ROUND: Final = "all round"
_WIDE_KEYS: Final = "|".join(
    f"{word} LENGTH wide|{word} LENGTH wide finished|LENGTH wide {word}"
    for word in _KEYS
)
_LONG_KEYS: Final = "|".join(
    f"{word} LENGTH {how}|{word} LENGTH {how} finished|LENGTH {how} {word}"
    for word in _KEYS
    for how in ("long", "deep", "high")
)

_CORNERED: Final = (
    "(square~/block~/patches/cornerstones) (in/at/for/on) [each/all/four] corner~"
)
# ways to say where a border lies, with its width and without
_SIDES_WORDS: Final = (
    *(_SIDES, "sides", "(on/at/down/along/for/each/both) [both/two/each] side~"),
    *("side border~", "[on] (left and right)"),
)
_ENDS_WORDS: Final = (
    *(_ENDS, "top and bottom [edges/ends/border/borders]", "ends"),
    *("(on/at/across/along/for) [both/two] (ends/(top and bottom) [edges/ends])",),
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
        "sides first|[with] side (pieces/strips/borders/ones) [on] first|sides on first",
        "ends first|(top and bottom) [pieces/strips/borders/ones] [on] first",
        "mitred|(mitre/mitred/mitring/miter/mitering) [at] [all/four] [corners]|corners (mitred/mitre/miter)",
        (
            f"{BUTTED}|(butted/butt/straight/square/squared/lapped/overlapped) corner~|"
            "corners (butted/straight/square/squared/lapped)|butted at corners|"
            "(not/no/without) (mitred/mitres/mitering/mitring/mitre)"
        ),
        f"corner squares CLOTH|cornerstones CLOTH|{_CORNERED} CLOTH|corners CLOTH",
        f"corner squares|with corner squares|cornerstones|with cornerstones|{_CORNERED}",
        (
            f"{ALL_ROUND}|[all] [way] (round/around) [outside/edge/edges/quilt/top]|"
            "[on/at/to/for/along] (all/four/(all four)) (sides/edges)|every (side/edge)|four sides"
        ),
        *(
            "|".join((round_, round_.split()[0], *_SAME_ROUND.get(round_, ())))
            for round_ in ROUNDS
        ),
        *CUTS,
        _AT_SIDES,
        _AT_ENDS,
        _ONLY_SIDES,
        _ONLY_ENDS,
        "squares LENGTH|LENGTH square~|square~",
        "rectangles SIZE|SIZE rectangles|keys SIZE|piano keys SIZE|SIZE piano keys",
        f"{_KEYS_ALONE}|piano key [border]|keys|rectangles",
        _WIDE_KEYS,
        _LONG_KEYS,
        "LENGTH wide|LENGTH wide finished|each key LENGTH wide|each LENGTH wide",
        "LENGTH long|LENGTH long finished|each key LENGTH long|each LENGTH long|LENGTH deep|LENGTH high",
        "coping|coping strip|coping strips|coping border|spacer|spacer strip|spacer border",
        "stripe LENGTH|stripes LENGTH|LENGTH stripe|stripe every LENGTH|stripe repeat LENGTH|stripe repeats LENGTH",
        "at least LENGTH",
        "flange LENGTH|LENGTH flange|flange",
        "border|borders|[plain/pieced/stop] border~",
        "strips|strip",
    ),
    cloths=99,
    named=True,
    sized=True,
    mixed=True,
    talk=True,
    small=frozenset(
        (
            *(
                "one",
                "single",
                "fold",
                "row",
                "rows",
                "only",
                "stop",
                "again",
                "checkerboard",
                "chequerboard",
            ),
            *("quilt", "top", "corners", "thing", "next", "by", "at", "final", "by"),
        )
    ),
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
    plain, corner = without_corner_size(cut_behind(text, FIELD), FIELD, known)
    said = taken_apart(plain, BORDER, known, typed=text)
    said.text = text
    _refuse_two_ways(said)
    if not corner:
        return said
    wide = _deep(said, how)
    if wide is None or wide[0] != wide[1] or one_size(corner, how, FIELD) != wide[0]:
        what = f'"{text}" says corner squares of {corner}, and they are as large as the border is wide'
        raise Problem(FIELD, what, f'write "{plain}"')
    return said


def _refuse_two_ways(said: Said) -> None:
    """A border all round is none on two sides alone, and corners that are butted are not mitred."""
    round_ = bool(said.take(ALL_ROUND))
    part = said.options.keys() & {_SIDES_ONLY, _ENDS_ONLY}
    if round_ and part:
        what = f'"{said.text}" says {min(part)}, and all round'
        raise Problem(FIELD, what, "keep one of the two")
    if BUTTED in said.options and "mitred" in said.options:
        what = f'"{said.text}" says both butted and mitred'
        raise Problem(FIELD, what, "keep one of the two")


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
    square = "squares" in said.options
    squares = said.after("squares")
    said.take(_KEYS_ALONE)
    both = said.after("rectangles")
    wide = [size for key in (_KEYS_WIDE, "wide") if (size := said.after(key))]
    long = [size for key in (_KEYS_LONG, "long") if (size := said.after(key))]
    size = said.size
    said.size = ""
    if square and not squares and not both:
        squares, size = size, ""
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
    of = " and ".join("|".join(each.fabrics) or "any" for each in said.cloths)
    of = of or ("any" if said.mixture else "oat and plum")
    known = [qualified(each)[0] for each in (*wide, *long, both) if each]
    deep = known[0] if len(known) == 1 else "4"
    mend = f'write it like "piano keys of 2 x {deep} from {of}", or "squares of 2 from {of}"'
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
