"""A bed and for whom a quilt is, in sentences: ``queen, depth 12, drop 2 below the mattress``; ``for a wheelchair``."""

from __future__ import annotations

from typing import Final

from cutopt.errors import Problem
from cutopt.quilt.beds import (
    MATTRESSES,
    Bed,
    Drops,
    Mattress,
    bed_quilt,
    below_mattress,
    mattress,
    to_floor,
)
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.sizes import USES
from cutopt.quilt.surds import ZERO, Exact, exact
from cutopt.tables.sentences.said import Said
from cutopt.tables.sentences.sizes import two_sizes
from cutopt.tables.sentences.taking_apart import taken_apart
from cutopt.tables.sentences.vocabulary import Vocabulary

# where nothing else is said the table of aliases makes folds of double and single
_SAME_BED: Final = {
    "twin": ("single fold", "single bed"),
    "full": ("double fold", "double bed"),
    "crib": ("crib mattress",),
    "cot": ("cot mattress",),
    "cot bed": ("toddler bed",),
}
_SIDES: Final = ("left", "right", "foot", "head")
_AT: Final = (
    "{side} LENGTH|LENGTH {side}|LENGTH on the {side}|LENGTH at the {side}|LENGTH on {side}|LENGTH at {side}|"
    "drop LENGTH on the {side}|drop LENGTH at the {side}|drop LENGTH {side}|{side} drop LENGTH"
)
_NONE_AT: Final = (
    "none at the {side}|nothing at the {side}|none on the {side}|nothing on the {side}|no {side}|no {side} drop|"
    "no drop at the {side}|no drop on the {side}"
)
_LIKE: Final = "queen, drop 12, tuck 10"
_LIKE_METRIC: Final = "90 x 200, drop 30, tuck 20"
_ALL_ROUND: Final = (
    "drop LENGTH",
    "LENGTH drop",
    "hanging LENGTH",
    "overhang LENGTH",
    "LENGTH overhang",
    *(
        f"drop LENGTH {where}"
        for where in (
            "all round",
            "all around",
            "each side",
            "on each side",
            "each side and the foot",
            "on each side and the foot",
            "on each side and at the foot",
            "at the sides and the foot",
            "on the sides and the foot",
            "on three sides",
        )
    ),
)
_AT_THE_SIDES: Final = (
    "sides LENGTH",
    "LENGTH sides",
    *(
        f"{drop}LENGTH {where} sides"
        for drop in ("", "drop ")
        for where in ("at the", "on the", "on both", "at both")
    ),
)
_HOW_FAR: Final = (
    "|".join(_ALL_ROUND),
    "|".join(_AT_THE_SIDES),
    *(_AT.format(side=side) for side in _SIDES),
    *(_NONE_AT.format(side=side) for side in _SIDES),
    "LENGTH below the mattress|drop LENGTH below the mattress|drop to LENGTH below the mattress",
    "drop below the mattress|below the mattress",
    "drop to the bottom of the mattress|to the bottom of the mattress|drop to the end of the mattress",
    "drop to the floor|to the floor|floor length",
    "LENGTH above the floor|drop to LENGTH above the floor|drop LENGTH above the floor|LENGTH off the floor",
)
BED: Final = Vocabulary(
    part="bed",
    told="beds",
    like=_LIKE,
    phrases=(
        *("|".join((name, *_SAME_BED.get(name, ()))) for name in MATTRESSES),
        *_HOW_FAR,
        "depth LENGTH|LENGTH deep|mattress LENGTH deep|mattress depth LENGTH|LENGTH depth|LENGTH thick",
        "height LENGTH|LENGTH high|bed LENGTH high|bed height LENGTH",
        "tuck LENGTH|LENGTH tuck|LENGTH to tuck|LENGTH for tuck",
        "no tuck|without tuck",
        "bed|mattress",
    ),
    cloths=0,
    sized=True,
)
_SAME_USE: Final = {
    "baby": ("baby quilt", "play mat", "floor play", "tummy time"),
    "cot": ("crib", "cot quilt", "crib quilt", "cot bed"),
    "lap": ("lap quilt", "lap robe", "knees", "over the knees"),
    "chair with wheels": (
        "lap robe for chair with wheels",
        "lap quilt for chair with wheels",
        "chair with wheels lap robe",
        "chair with wheels lap quilt",
    ),
    "ward": ("hospital", "hospital bed", "hospice", "care home", "nursing home"),
    "throw": ("sofa", "couch", "sofa throw"),
    "twin": ("single fold", "single bed", "twin bed"),
    "full": ("double fold", "double bed", "full bed"),
    "queen": ("queen bed",),
    "king": ("king bed",),
}
USE: Final = Vocabulary(
    part="use",
    told="uses",
    like="lap",
    phrases=(
        *("|".join((each.name, *_SAME_USE.get(each.name, ()))) for each in USES),
        "quilt",
    ),
    cloths=0,
)


def use_named(text: str) -> str:
    """For whom a quilt is, by the name that it has here: ``crib`` is a cot.

    Raises
    ------
    Problem
        Where none is said, or two are.
    """
    said = taken_apart(text, USE)
    said.take("quilt")
    names = [each.name for each in USES if said.take(each.name)]
    said.finish()
    if not names:
        known = ", ".join(each.name for each in USES)
        raise Problem("use", f'"{text}" says none', f"write one of: {known}")
    if len(names) > 1:
        what = f'"{text}" says {" and ".join(names)}'
        raise Problem(
            "use", what, f"keep the one whose cautions count, such as {names[0]}"
        )
    return names[0]


def bed_of(text: str, how: Conventions) -> Bed:
    """``queen, drop 12, tuck 10``; ``60 x 80, depth 12, drop 2 below the mattress``; ``twin, 10 left, 14 right, 12 foot``.

    Raises
    ------
    Problem
        Where the bed or the drop is not understood.
    """
    said = taken_apart(text, BED)
    said.take("bed")
    size, listed = _size(said, how)
    depth = _length(said, "depth", how)
    height = _length(said, "height", how)
    drops = _drops(said, depth, height, how)
    tuck = _tuck(said, how)
    said.finish()
    width, length, why = bed_quilt(size, drops, tuck, how)
    return Bed(
        size=size,
        drops=drops,
        tuck=tuck,
        width=width,
        length=length,
        why=why,
        depth=depth,
        height=height,
        listed=listed,
    )


def _like(how: Conventions) -> str:
    if how.unit == "cm":
        return _LIKE_METRIC
    return _LIKE


def _size(said: Said, how: Conventions) -> tuple[tuple[Exact, Exact], Mattress | None]:
    """The size of the mattress, and which one was named where none was measured."""
    names = [name for name in MATTRESSES if said.take(name)]
    given = [*names, *([said.size] if said.size else [])]
    if not given:
        what = f'"{said.text}" says no bed'
        mend = f'write its size or its name: "{_like(how)}"'
        raise Problem("bed", what, mend)
    if len(given) > 1:
        what = f'"{said.text}" says two beds: {" and ".join(given)}'
        raise Problem("bed", what, "keep one; a measured size is the better")
    if said.size:
        return _measured(said, how), None
    try:
        listed = mattress(names[0], how)
    except Problem as problem:
        what = f'the bed in "{said.text}" is not of the same size in every country'
        raise Problem("bed", what, problem.mend) from problem
    return (exact(listed.width), exact(listed.length)), listed


def _measured(said: Said, how: Conventions) -> tuple[Exact, Exact]:
    if "x" not in said.size or "+" in said.size:
        what = f'"{said.size}" in "{said.text}" is not the size of a bed'
        raise Problem("bed", what, f'write width and length: "{_like(how)}"')
    if said.size.endswith(("cut", "finished")):
        what = f'"{said.size}" in "{said.text}" is the size of cloth, not of a bed'
        raise Problem("bed", what, "write the width and length of the mattress alone")
    return two_sizes(said.size, how, "bed")


def _length(said: Said, phrase: str, how: Conventions) -> Exact | None:
    """What is said behind a word, None where it is not said."""
    told = said.after(phrase)
    if not told:
        return None
    return how.read(told, phrase)


def _tuck(said: Said, how: Conventions) -> Exact:
    none = said.take("no tuck")
    tuck = _length(said, "tuck", how)
    if none and tuck is not None:
        what = f'"{said.text}" says a tuck, and none'
        raise Problem("bed", what, "keep one of the two")
    return tuck or ZERO


def _drops(
    said: Said, depth: Exact | None, height: Exact | None, how: Conventions
) -> Drops:
    """How far it is to hang on each side: what is said of a side comes before what is said of all."""
    every = _drop_of_all(said, depth, height, how)
    sides = _length(said, "sides", how)
    found: dict[str, Exact | None] = {}
    for side in _SIDES:
        told = _length(said, side, how)
        none = said.take(f"none at the {side}")
        if none and told is not None:
            what = f'"{said.text}" says how far it hangs at the {side}, and that it does not'
            raise Problem("bed", what, "keep one of the two")
        found[side] = ZERO if none else told
    usual = {"left": every if sides is None else sides, "foot": every, "head": ZERO}
    usual["right"] = usual["left"]
    each = {side: usual[side] if told is None else told for side, told in found.items()}
    missing = [side for side in _SIDES if each[side] is None]
    if missing:
        what = f'how far it hangs is missing in "{said.text}"'
        if len(missing) < 3:
            what += f": at the {' and the '.join(missing)}"
        raise Problem("bed", what, f'write it like "{_like(how)}"')
    return Drops(
        **{side: exact(drop) for side, drop in each.items() if drop is not None}
    )


def _drop_of_all(
    said: Said, depth: Exact | None, height: Exact | None, how: Conventions
) -> Exact | None:
    """How far it hangs where nothing is said of a side; None where nothing is said at all."""
    found: list[Exact] = []
    drop = _length(said, "drop", how)
    if drop is not None:
        found.append(drop)
    below = _length(said, "below the mattress", how)
    if said.take("drop to the bottom of the mattress"):
        found.append(below_mattress(_needed(said, depth, "depth", "12")))
    if below is not None:
        found.append(below_mattress(_needed(said, depth, "depth", "12"), below))
    if said.take("drop below the mattress"):
        what = f'"{said.text}" does not say how far below the mattress'
        raise Problem(
            "bed", what, _like_with("depth 12, drop 2 below the mattress", how)
        )
    above = _length(said, "above the floor", how)
    if above is not None:
        found.append(to_floor(_needed(said, height, "height", "25"), above))
    if said.take("drop to the floor"):
        found.append(to_floor(_needed(said, height, "height", "25")))
    if len(found) > 1:
        what = f'"{said.text}" says twice how far it hangs'
        raise Problem("bed", what, "keep one of the two")
    return next(iter(found), None)


def _needed(said: Said, length: Exact | None, word: str, like: str) -> Exact:
    """A depth or height that is needed for what is said."""
    if length is None:
        where = {
            "depth": "how deep the mattress is",
            "height": "how high the top of the mattress is above the floor",
        }[word]
        what = f'"{said.text}" needs to know {where}'
        raise Problem("bed", what, f'measure it, and add "{word} {like}"')
    return length


def _like_with(option: str, how: Conventions) -> str:
    if how.unit == "cm":
        option = option.replace("12", "30").replace("2 below", "5 below")
        return f'write it like "90 x 200, {option}"'
    return f'write it like "queen, {option}"'


__all__ = ["BED", "USE", "bed_of", "use_named"]
