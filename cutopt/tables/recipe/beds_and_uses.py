"""A bed and for whom a quilt is, in sentences: ``queen, depth 12, drop 2 below the mattress``; ``for a wheelchair``."""

from __future__ import annotations

import re
from dataclasses import dataclass
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
from cutopt.tables.columns import nearest
from cutopt.tables.sentences.said import Said
from cutopt.tables.sentences.sizes import one_size, two_sizes
from cutopt.tables.sentences.taking_apart import taken_apart
from cutopt.tables.sentences.vocabulary import RULES, Vocabulary

# where nothing else is said the table of aliases makes folds of double and single
_SAME_BED: Final = {
    "twin": ("single fold", "single bed"),
    "full": ("double fold", "double bed"),
    "crib": ("crib mattress",),
    "cot": ("cot mattress",),
    "cot bed": ("toddler bed",),
}
_SIDES: Final = ("left", "right", "foot", "head")
_AT: Final = "{side} LENGTH|[drop] LENGTH [drop] [on/at/down] {side}|{side} drop LENGTH|{side} [drop/overhang] [of] LENGTH"
_NONE_AT: Final = (
    "none at the {side}|(none/nothing/no drop) [at/on] {side}|no {side} [drop]"
)
_LIKE: Final = "queen, drop 12, tuck 10"
_LIKE_METRIC: Final = "90 x 200, drop 30, tuck 20"
_WHERE: Final = (
    "(all (round/around))/([on/at] (each/all/every) side~)/([on/at] (three/all three) sides)/"
    "([on/at] ([each/both/two] side~) and [at/on] foot)/(on three sides)/(round/around)"
)
_ALL_ROUND: Final = (
    f"(drop/drops/hanging/hangs/hang/overhang/over) [down/over] LENGTH [{_WHERE}]|"
    f"LENGTH (drop/overhang/over) [{_WHERE}]"
)
_BOTH_SIDES: Final = "[on/at/down] [both/two/each] sides"
_AT_THE_SIDES: Final = f"sides LENGTH|[drop] LENGTH [drop] {_BOTH_SIDES}"
_HOW_FAR: Final = (
    f"drop LENGTH|{_ALL_ROUND}",
    _AT_THE_SIDES,
    *(_AT.format(side=side) for side in _SIDES),
    *(_NONE_AT.format(side=side) for side in _SIDES),
    "LENGTH below the mattress|[drop] [to] LENGTH (below/under/past) mattress",
    "drop below the mattress|[drop] [to] (below/under) mattress",
    "drop to the bottom of the mattress|[drop] to (bottom/end) of mattress",
    "drop to the floor|[drop] [down] to floor|floor length",
    "LENGTH above the floor|[drop] [to] LENGTH (above/off) floor",
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
    talk=True,
    small=frozenset(("quilt", "for", "over", "mattress", "by", "at", "or", "so")),
)
_COVER: Final = "(quilt/quilts/blanket/throw/cover/robe/rug)"
_SAME_USE: Final = {
    "baby": (
        "(baby/babies/baby's) [quilt/blanket/mat]|(play/floor) mat|floor (play/quilt)|tummy time",
        "newborn|infant|(newborn's/infant's) quilt",
    ),
    "cot": ("[baby/baby's] (crib/cot) [quilt/blanket/bed]|cotbed|toddler bed",),
    "lap": (f"lap {_COVER}|[over] (knee/knees) [{_COVER}]|laps",),
    "chair with wheels": (
        f"[lap/knee] [{_COVER}] for chair with wheels|[in/on] chair with wheels [lap] [{_COVER}]",
    ),
    "ward": (
        "hospital [bed/ward]|hospice|care home|nursing home|rest home|[on/in] ward|rehab|clinic",
    ),
    "throw": (
        "(sofa/couch/settee) [throw/quilt/blanket]|throw [quilt/blanket]|snuggle quilt",
    ),
    "twin": ("single fold|single bed|twin (bed/size/long) [quilt]|twin long",),
    "full": ("double fold|double bed|full (bed/size)|full size bed",),
    "queen": ("queen (bed/size)|queen size bed",),
    "king": ("[western] king [bed/size]|king size bed",),
}
# of two that are said the one whose cautions count
_MORE_SPECIAL: Final = {
    frozenset(("lap", "chair with wheels")): "chair with wheels",
    frozenset(("baby", "cot")): "cot",
    frozenset(("throw", "lap")): "lap",
    frozenset(("ward", "lap")): "ward",
}
_AT_MOST: Final = "no bigger than"
USE: Final = Vocabulary(
    part="use",
    told="uses",
    like="lap",
    phrases=(
        *("|".join((each.name, *_SAME_USE.get(each.name, ()))) for each in USES),
        "quilt|bed|bed quilt|bedspread|blanket",
        "square",
        f"{_AT_MOST}|at most|(no/not) (bigger/larger) [than]|not over|no more than|up to|maximum|max",
    ),
    cloths=0,
    sized=True,
    talk=True,
    free=True,
)
# the name of a mattress, and the use of a quilt for it where it is called otherwise
_USE_OF_BED: Final = {
    "twin long": "twin",
    "western king": "king",
    "hospital bed": "ward",
    "crib": "cot",
    "cot": "cot",
    "toddler bed": "cot",
    "crib mattress": "cot",
}
_RULES: Final = frozenset(
    word for phrase in RULES for way in phrase.ways for word in way
)


@dataclass(frozen=True, slots=True, kw_only=True)
class UseSaid:
    """For whom a quilt is, by its name here; the size aimed at, or that is not to be passed, and what else is said."""

    name: str
    size: tuple[Exact, Exact] | None = None
    at_most: bool = False
    notes: tuple[str, ...] = ()


def says_drop(text: str) -> bool:
    """Whether it is said how far a quilt hangs: then it is a bed that is told of."""
    said = r"\d.*\b(?:drops?|overhang|hangs?)\b|\b(?:drops?|overhang|hangs?)\b.*\d|floor length|below the mattress"
    return re.search(said, text, re.IGNORECASE) is not None


def use_named(text: str, how: Conventions) -> UseSaid:
    """For whom a quilt is, by the name that it has here: ``crib`` is a cot; ``a lap quilt for my aunt, about 50 x 65``.

    Raises
    ------
    Problem
        Where none is said, or two are, or a word is like one that is known here.
    """
    if says_drop(text):
        bed = bed_of(text, how)
        name = bed.listed.name if bed.listed else ""
        return UseSaid(name=_USE_OF_BED.get(name, name))
    said = taken_apart(text, USE)
    said.take("quilt")
    names = [each.name for each in USES if said.take(each.name)]
    size = _aimed(said, how)
    most = bool(said.take(_AT_MOST))
    said.finish()
    if special := _MORE_SPECIAL.get(frozenset(names)):
        names = [special]
    if not names:
        known = ", ".join(each.name for each in USES)
        raise Problem("use", f'"{text}" says none', f"write one of: {known}")
    if len(names) > 1:
        what = f'"{text}" says {" and ".join(names)}'
        raise Problem(
            "use", what, f"keep the one whose cautions count, such as {names[0]}"
        )
    _refuse_slips(said)
    notes: tuple[str, ...] = ()
    if most and size is None:
        what = f'"{text}" says {_AT_MOST} what, and no size'
        raise Problem("use", what, 'write it like "lap, at most 40 x 48"')
    if said.aside:
        notes = (f'use: nothing is planned by "{" ".join(said.aside)}"',)
    return UseSaid(name=names[0], size=size, at_most=most, notes=notes)


def _aimed(said: Said, how: Conventions) -> tuple[Exact, Exact] | None:
    """The size that a quilt is to have, None where none is said."""
    if not said.size:
        return None
    if said.take("square") and "x" not in said.size:
        side = one_size(said.size, how, "use")
        return side, side
    if "x" not in said.size or "+" in said.size:
        what = f'"{said.size}" in "{said.text}" is not the size of a quilt'
        raise Problem("use", what, 'write width and length, like "lap, 50 x 65"')
    return two_sizes(said.size, how, "use")


def _refuse_slips(said: Said) -> None:
    """A word that is like one that has cautions is no word beside it: ``lap quilt for a wheelchiar``."""
    known = {word for word in USE.literals if len(word) > 3} | {"wheelchair"}
    for word in said.aside:
        plain = word.lower()
        near = nearest(word, known, 0.8)
        if plain in _RULES or (near and plain not in known):
            what = f'"{word}" in "{said.text}" is not understood'
            mend = f'did you mean "{near}"?' if near else "leave it out"
            raise Problem("use", what, mend)


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


__all__ = ["BED", "USE", "UseSaid", "bed_of", "says_drop", "use_named"]
