"""Sentences of what lies under a top: backing and batting."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace
from typing import Final, Literal, TypeAlias

from cutopt.errors import Problem
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.wanted_parts import ClothWanted
from cutopt.tables.sentences.said import Said
from cutopt.tables.sentences.taking_apart import taken_apart
from cutopt.tables.sentences.vocabulary import Vocabulary

Run: TypeAlias = Literal["up", "across"]

_RUNS: Final[dict[str, Run]] = {"seams up": "up", "seams across": "across"}
_NO_MIDDLE: Final = "no seam in the middle"
_NO_INSERT: Final = "no insert"

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
