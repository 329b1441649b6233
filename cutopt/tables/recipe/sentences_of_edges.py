"""Sentences of the edge of a quilt and of what hangs it: binding, a backing brought round, sleeve."""

from __future__ import annotations

import re
from collections.abc import Collection
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final, Literal, TypeAlias, get_args

from cutopt.errors import Problem
from cutopt.fabric import Value
from cutopt.quilt.binding import Fold, folded
from cutopt.quilt.brought_round import brought_round
from cutopt.quilt.conventions import Conventions, Length
from cutopt.quilt.surds import exact
from cutopt.quilt.wanted_parts import ClothLike, ClothWanted
from cutopt.tables.recipe.wording import cut_behind
from cutopt.tables.sentences.said import Said
from cutopt.tables.sentences.sizes import CUT, UNFINISHED, qualified
from cutopt.tables.sentences.taking_apart import taken_apart
from cutopt.tables.sentences.vocabulary import Vocabulary

BindingCut: TypeAlias = Literal["straight", "bias", "bias strips"]
Finish: TypeAlias = Literal["hand", "machine"]
BindingJoin: TypeAlias = Literal["diagonal", "straight", "pre-cut"]

_FOLDS: Final[dict[str, Fold]] = {"double fold": "double", "single fold": "single"}
_CUTS: Final[dict[str, BindingCut]] = {
    "straight grain": "straight",
    "bias": "bias",
    "bias strips": "bias strips",
}
_FINISHES: Final[dict[str, Finish]] = {"by hand": "hand", "by machine": "machine"}
_JOINS: Final[dict[str, BindingJoin]] = {
    "diagonal joins": "diagonal",
    "straight joins": "straight",
    "pre-cut joins": "pre-cut",
}
_ROUND: Final = "backing brought round"
_ACROSS: Final = "across the width"
_SINGLY: Final = "bias singly"

_NO_BINDING: Final = "no binding"
_TURNED: Final = "(brought/folded/turned/wrapped/rolled/comes/coming/pulled)"
_TURN: Final = "(bring/bringing/fold/folding/turn/turning/wrap/wrapping/roll/pull)"
_OVER: Final = "[round/around/over/up/forward] [to] [front]"
BINDING: Final = Vocabulary(
    part="binding",
    told="bindings",
    like="2 1/4 from bark, bias",
    phrases=(
        "double fold|double folded|folded [in] (double/half)|folded double fold|doubled|doubled over|fold in half",
        "single fold|single folded|folded once|single layer",
        "straight grain|straight cut",
        "bias",
        "continuous|continuous tube|tube",
        f"bias strips|{_SINGLY}|bias strips cut singly|singly bias",
        "by hand|(hand/slip) stitched [down]|[finish/finished] by hand [at/on] [back]",
        "by machine|machine stitched [down]|[finish/finished] by machine [on] [both] (sides/front) [and back]",
        "diagonal joins|[joined/joins/seams/join] (diagonal/diagonally/on point) [joins/seams]",
        "straight joins|(joined/join) straight|straight seams",
        "pre-cut joins",
        "mitred|corners mitred",
        (
            f"{_ROUND}|backing brought to the front|backing to the front|self binding|self bound|"
            f"{_TURN} (backing/back) {_OVER}|(backing/back) {_TURNED} {_OVER}|"
            "(backing/back) [round/over] to front"
        ),
        f"{_NO_BINDING}|(no/without) [a/any] separate binding|instead of [a] [separate] binding",
        "strips|binding strips|strip",
        "binding|bind|bound",
        f"{_ACROSS}|[cut] [across] width [of fabric]|[cut] (selvage to selvage)|[cut] [across] wof",
        "scrappy",
    ),
    cloths=99,
    sized=True,
    bare_cloth=True,
    mixed=True,
    talk=True,
    small=frozenset(
        (
            *("edge", "edges", "quilt", "top", "round", "around", "all", "both", "out"),
            *(
                "two",
                "three",
                "leftover",
                "colours",
                "fabrics",
                "front",
                "back",
                "joined",
                "separate",
                "wide",
                "cut",
                "corners",
                "up",
            ),
        )
    ),
)
# the second half without an "and" before it
# strips that are there already say how wide they are, and no fabric
_OF_SCRAPS: Final = re.compile(
    r"\b(?:from|with|using|out of)\s+(?:my\s+|the\s+|some\s+)?(?:left\s?-?over|scrap)s?\s+(?=\d)",
    re.IGNORECASE,
)
_HALVES: Final = re.compile(r"\bhalf ([\w ]+?),? half\b", re.IGNORECASE)
SLEEVE: Final = Vocabulary(
    part="sleeve",
    told="sleeves",
    like="4 deep from oat",
    phrases=(
        "LENGTH deep|LENGTH depth|LENGTH [deep/wide] [hanging/rod] sleeve|deep LENGTH|sleeve LENGTH [deep]",
        "sleeve|hanging sleeve|rod (sleeve/pocket)",
        "in one piece",
        "pieced|joined",
        "strip width LENGTH|LENGTH [wide] strip~|strip~ LENGTH",
    ),
    cloths=99,
    sized=True,
    bare_cloth=True,
    mixed=True,
    talk=True,
    small=frozenset(
        ("hanging", "across", "top", "along", "at", "back", "hang", "quilt", "by")
    ),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Edge:
    """What a sentence of a binding says: the conventions with it, its cloths, and what is to be known of it.

    `bound` is False where the backing is brought round to the front in its place.
    """

    how: Conventions
    said: Said
    cloths: tuple[ClothLike, ...] = (None,)
    parts: tuple[Fraction, ...] = ()
    bound: bool = True
    notes: tuple[str, ...] = ()


def binding_words(text: str, how: Conventions, known: Collection[str] = ()) -> Edge:
    """``from bark|plum``, ``2 1/4 from bark, bias``, ``scrappy from plum and bark``, ``backing brought round 1/2``.

    Parameters
    ----------
    text : str
    how : Conventions
    known : collection of str
        Names, tags and values of fabrics in lower case.

    Raises
    ------
    Problem
        Where a word of it is not understood.
    """
    scraps = _OF_SCRAPS.sub("", text)
    plain = _HALVES.sub(r"half \1 and half", cut_behind(scraps, "binding"))
    said = taken_apart(plain, BINDING, known, typed=text)
    said.text = text
    none = said.take(_NO_BINDING)
    if said.take(_ROUND):
        return _brought_round(said, how)
    if none:
        what = f'"{text}" says no binding, and one'
        raise Problem("binding", what, 'write "no" for none')
    said.take("strips")
    said.take("binding")
    # corners of a binding are mitred anyway, and take no extra (arithmetic identity)
    said.take("mitred")
    if fold := said.only_one(*_FOLDS):
        how = folded(how, _FOLDS[fold])
    notes: tuple[str, ...] = ()
    if said.size.endswith("finished") and not said.size.endswith(UNFINISHED):
        how, notes = _finished(said, how)
    elif said.size:
        width = how.read(qualified(said.size)[0], "binding")
        how = replace(how, binding_width=int(width.plain))
    if cut := said.only_one(*_CUTS):
        how = replace(how, binding_cut=_CUTS[cut])
    if how.binding_cut == "bias":
        said.take("continuous")
    if sewn := said.only_one(*_FINISHES):
        how = replace(how, binding_finish=_FINISHES[sewn])
    if join := said.only_one(*_JOINS):
        how = replace(how, binding_join=_JOINS[join])
    if said.take(_ACROSS):
        _across(said, how)
    notes += _scrappy_notes(said)
    if said.shares:
        parts = _parts(said)
        cloths: tuple[ClothLike, ...] = tuple(each.cloths[0] for each in said.shares)
        said.take("scrappy")
    else:
        parts = ()
        cloths = _cloths(said)
    said.finish()
    return Edge(how=how, said=said, cloths=cloths, parts=parts, notes=notes)


def _finished(said: Said, how: Conventions) -> tuple[Conventions, tuple[str, ...]]:
    """A binding by how wide it shows: the strip is 6 times that for a double fold, 4 times for a single (practice).

    Raises
    ------
    Problem
        Where it is so wide that the strip was meant.
    """
    shows = how.read(qualified(said.size)[0], "binding")
    times = {"double": 6, "single": 4}[how.binding_fold]
    if shows > how.read(how.usual(None, "1", "2.5"), "binding"):
        what = (
            f'"{said.text}" says a finished width, and a binding is said by its strip'
        )
        mend = "write how wide the strip is cut, such as 2 1/4"
        raise Problem("binding", what, mend)
    wide = exact(how.cut_size(times * shows))
    told = f"binding: {how.show(shows)} finished, {how.binding_fold} fold: {times} x {how.show(shows)} = "
    told += f"{how.show(times * shows)} is the width of the strip"
    return replace(how, binding_width=int(wide.plain)), (told,)


def _scrappy_notes(said: Said) -> tuple[str, ...]:
    """What comes of a scrappy binding that names no fabrics to share it: they are not dealt out."""
    scrappy = "scrappy" in said.options or bool(said.mixture)
    if not scrappy and len(said.cloths) > 1:
        named = ["|".join(each.fabrics) for each in said.cloths]
        either = "|".join(named)
        return (
            f"binding: as much of {' as of '.join(named)}; write from {either} for whichever there is",
        )
    if not scrappy or said.shares or len(said.cloths) > 1:
        return ()
    named = [word for cloth in said.cloths for word in cloth.fabrics]
    of = " or ".join(named) or "any fabric"
    return (
        f"binding: scrappy from {of}: from whatever the plan finds of it; as much of each is for fabrics by name",
    )


def _across(said: Said, how: Conventions) -> None:
    """Strips from selvage to selvage: the grain of the cloths that are named."""
    if how.binding_cut != "straight" or said.rules.grain == "along":
        what = f'"{said.text}" says across the width, and another way to cut'
        raise Problem("binding", what, "keep one of the two")
    said.rules = replace(said.rules, grain="across")
    cloths = said.cloths or (said.rules,)
    said.cloths = tuple(replace(each, grain="across") for each in cloths)
    said.shares = tuple(
        replace(each, cloths=tuple(replace(one, grain="across") for one in each.cloths))
        for each in said.shares
    )


def _parts(said: Said) -> tuple[Fraction, ...]:
    """Which part of the length each fabric has: ``half from plum, a quarter from bark and the rest from navy``.

    Raises
    ------
    Problem
        Where they are numbers, do not come to the whole, or one is of several fabrics.
    """
    given = [each.part for each in said.shares]
    known = [part for part in given if isinstance(part, Fraction)]
    rest = 1 - sum(known)
    open_ = len(given) - len(known)
    told = any(isinstance(part, int) for part in given)
    several = any(len(each.cloths) > 1 for each in said.shares)
    if told or several or open_ > 1 or (rest <= 0 if open_ else rest != 0):
        what = f'the parts of the binding in "{said.text}" do not come to the whole'
        mend = 'write it like "half from plum, half from bark", or "scrappy from plum and bark"'
        raise Problem("binding", what, mend)
    return tuple(
        part if isinstance(part, Fraction) else Fraction(rest) for part in given
    )


def _cloths(said: Said) -> tuple[ClothLike, ...]:
    """One cloth, or several by which a binding is shared.

    Raises
    ------
    Problem
        Where one is to be shared.
    """
    scrappy = said.take("scrappy") or said.mixture
    named = ["|".join(each.fabrics) for each in said.cloths]
    if scrappy and len(named) == 1 and not _is_tag(named[0]):
        what = f'"{said.text}": a {scrappy} binding has as much of each fabric that is named, and one is'
        rest = re.sub(rf"(?i)\b{scrappy}\b", "", said.text)
        mend = f'name several, or write "{" ".join(rest.split()).strip(" ,")}" for whichever there is'
        raise Problem("binding", what, mend)
    return said.cloths or (None,)


def _is_tag(name: str) -> bool:
    """Whether a word means whatever is tagged so, several fabrics: ``any greens``, ``dark``."""
    return name.startswith("any ") or name in ("any", *get_args(Value))


def _either(text: str, named: list[str]) -> str:
    """A sentence that names several fabrics with and, as it is written for whichever of them there is."""
    return text.replace(" and ".join(named), "|".join(named))


def _brought_round(said: Said, how: Conventions) -> Edge:
    """No binding: the edge is the backing's, 1/2 in or 1.5 cm wide unless told (common practice, no source)."""
    if said.cloths:
        what = f'"{said.text}" names a fabric, and the edge is of the backing'
        raise Problem("binding", what, "name it in backing")
    shows: Length = how.usual(None, "1/2", "1.5")
    if said.size:
        shows = qualified(said.size)[0]
    said.finish()
    wider, notes = brought_round(shows, how)
    return Edge(how=wider, said=said, bound=False, notes=notes)


@dataclass(frozen=True, slots=True, kw_only=True)
class SleeveSaid:
    """What a sentence of a sleeve says: the conventions with it, its cloth, and its depth (None for as usual)."""

    how: Conventions
    said: Said
    of: ClothWanted | None
    deep: Length | None


def sleeve_words(
    text: str, how: Conventions, known: Collection[str] = ()
) -> SleeveSaid:
    """``from oat``, ``4 deep from oat``, ``pieced from oat|plum``, or the fabric alone.

    Parameters
    ----------
    text : str
    how : Conventions
    known : collection of str
        Names, tags and values of fabrics in lower case.

    Raises
    ------
    Problem
        Where a word of it is not understood.
    """
    said = taken_apart(text, SLEEVE, known)
    said.take("sleeve")
    deep = said.after("deep") or said.size
    tube: Length | None = qualified(deep)[0] or None
    if strip := said.after("strip width"):
        # a tube is its strip folded, less the seam at both edges
        tube = how.read(qualified(strip)[0], "sleeve") / 2 - how.seam
    if qualified(deep)[1] == CUT:
        what = f'"{text}" says how wide the strip is cut'
        raise Problem("sleeve", what, "write how deep the tube lies, such as 4 deep")
    cut = said.only_one("in one piece", "pieced")
    if cut == "in one piece":
        how = replace(how, border_cut="in one piece")
    elif cut:
        how = replace(how, border_cut="joined")
    said.finish()
    of = _joined(said, pieced=cut == "pieced")
    return SleeveSaid(how=how, said=said, of=of, deep=tube)


def _joined(said: Said, *, pieced: bool) -> ClothWanted | None:
    """The fabrics of a strip that may be joined of several.

    Raises
    ------
    Problem
        Where several are named for a strip that is not pieced.
    """
    if said.shares:
        named = ["|".join(each.cloths[0].fabrics) for each in said.shares]
        what = f'"{said.text}": how much of a sleeve is of which fabric is not planned here'
        mend = f'write "pieced from {" and ".join(named)}" for segments of either'
        raise Problem("sleeve", what, mend)
    if not said.cloths:
        return None
    first, *others = said.cloths
    if others and not pieced and not said.mixture:
        named = ["|".join(each.fabrics) for each in said.cloths]
        what = f'"{said.text}" names {len(named)} fabrics for one sleeve'
        mend = (
            f'write "pieced, {said.text}", or "{_either(said.text, named)}" for either'
        )
        raise Problem("sleeve", what, mend)
    fabrics = tuple(word for cloth in said.cloths for word in cloth.fabrics)
    return replace(first, fabrics=fabrics)
