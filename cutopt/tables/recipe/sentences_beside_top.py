"""Sentences of what goes round, under and behind a top: binding, sleeve, backing, batting."""

from __future__ import annotations

import re
from collections.abc import Collection
from dataclasses import replace
from typing import Final, Literal, TypeAlias

from cutopt.errors import Problem
from cutopt.quilt.binding import Fold, folded
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.wanted_parts import ClothLike, ClothWanted
from cutopt.tables.sentences.said import Said
from cutopt.tables.sentences.taking_apart import taken_apart
from cutopt.tables.sentences.vocabulary import Vocabulary

BindingCut: TypeAlias = Literal["straight", "bias"]
Finish: TypeAlias = Literal["hand", "machine"]
BindingJoin: TypeAlias = Literal["diagonal", "straight", "pre-cut"]
Run: TypeAlias = Literal["up", "across"]

_FOLDS: Final[dict[str, Fold]] = {"double fold": "double", "single fold": "single"}
_BINDING_CUTS: Final[dict[str, BindingCut]] = {
    "straight grain": "straight",
    "bias": "bias",
}
_FINISHES: Final[dict[str, Finish]] = {"by hand": "hand", "by machine": "machine"}
_BINDING_JOINS: Final[dict[str, BindingJoin]] = {
    "diagonal joins": "diagonal",
    "straight joins": "straight",
    "pre-cut joins": "pre-cut",
}
_RUNS: Final[dict[str, Run]] = {"seams up": "up", "seams across": "across"}
_NO_MIDDLE: Final = "no seam in the middle"
_NO_INSERT: Final = "no insert"

BINDING: Final = Vocabulary(
    part="binding",
    told="bindings",
    like="2 1/4 from bark, bias",
    phrases=(
        *_FOLDS,
        "straight grain",
        "bias",
        *_FINISHES,
        "diagonal joins",
        "straight joins",
        "pre-cut joins",
        "strips|binding|binding strips",
        "scrappy",
    ),
    sized=True,
    bare_cloth=True,
)
SLEEVE: Final = Vocabulary(
    part="sleeve",
    told="sleeves",
    like="from oat",
    phrases=("sleeve|hanging sleeve",),
    bare_cloth=True,
)
BACKING: Final = Vocabulary(
    part="backing",
    told="backings",
    like="oat|mist, seams across",
    phrases=(*_RUNS, _NO_MIDDLE, _NO_INSERT, "backing"),
    bare_cloth=True,
)
BATTING: Final = Vocabulary(
    part="batting",
    told="the batting",
    like="any",
    phrases=("batting|wadding",),
    bare_cloth=True,
)


def binding_words(
    text: str, how: Conventions, known: Collection[str] = ()
) -> tuple[Conventions, ClothLike, Said]:
    """``from bark|plum``, ``2 1/4 from bark, bias``; the conventions with it, the cloth, and the sentence.

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
    said = taken_apart(text, BINDING, known)
    said.take("strips")
    _refuse_scrappy(said)
    if fold := said.only_one(*_FOLDS):
        how = folded(how, _FOLDS[fold])
    if said.size:
        width = how.read(said.size.removesuffix(" cut"), "binding")
        how = replace(how, binding_width=int(width.plain))
    if cut := said.only_one(*_BINDING_CUTS):
        how = replace(how, binding_cut=_BINDING_CUTS[cut])
    if sewn := said.only_one(*_FINISHES):
        how = replace(how, binding_finish=_FINISHES[sewn])
    if join := said.only_one(*_BINDING_JOINS):
        how = replace(how, binding_join=_BINDING_JOINS[join])
    said.finish()
    return how, said.cloth, said


def _refuse_scrappy(said: Said) -> None:
    if not said.take("scrappy"):
        return
    rest = re.sub(r",?\s*\bscrappy\b,?\s*", " ", said.text, count=1).strip()
    what = (
        '"scrappy" needs no word: a binding is cut from all the fabrics that it names'
    )
    raise Problem("binding", what, f'write binding = "{rest or "from any dark"}"')


def sleeve_words(text: str, known: Collection[str] = ()) -> Said:
    """``from oat``, or the fabric alone.

    Raises
    ------
    Problem
        Where a word of it is not understood.
    """
    said = taken_apart(text, SLEEVE, known)
    said.take("sleeve")
    said.finish()
    return said


def backing_words(
    text: str, how: Conventions, known: Collection[str] = ()
) -> tuple[tuple[str, ...], Conventions, bool]:
    """``oat|mist, seams across, no insert, upright``: fabrics and tags, the conventions with it, whether it stands.

    Any of what the shop sells is meant by no fabric at all.

    Parameters
    ----------
    text : str
    how : Conventions
    known : collection of str
        Names, tags and values of fabrics in lower case.

    Raises
    ------
    Problem
        With the option that is not understood.
    """
    said = taken_apart(text, BACKING, known)
    said.take("backing")
    if run := said.only_one(*_RUNS):
        how = replace(how, back_run=_RUNS[run])
    if said.take(_NO_MIDDLE):
        how = replace(how, back_middle="never")
    if said.take(_NO_INSERT):
        how = replace(how, back_insert="never")
    said.finish()
    _only_upright(said)
    return _words_of(said), how, said.rules.upright


def batting_words(text: str, known: Collection[str] = ()) -> tuple[str, ...]:
    """Fabrics of the kind batting that a sentence names; none for any.

    Raises
    ------
    Problem
        Where a word of it is not understood.
    """
    said = taken_apart(text, BATTING, known)
    said.take("batting")
    said.finish()
    if said.rules != ClothWanted():
        what = f'"{text}" says how batting is cut'
        raise Problem("batting", what, "name the batting alone, or any, or no")
    return _words_of(said)


def _only_upright(said: Said) -> None:
    """Of all the rules of cloth a backing keeps to one."""
    others = replace(said.rules, upright=False)
    if others != ClothWanted():
        what = f'"{said.text}" has a rule that no backing keeps to'
        mend = "leave it out; of the rules of cloth upright alone is for a backing"
        raise Problem(said.part, what, mend)


def _words_of(said: Said) -> tuple[str, ...]:
    words = tuple(word for cloth in said.cloths for word in cloth.fabrics)
    if words in (("any",), ("yes",), ("any fabric",)):
        return ()
    return words
