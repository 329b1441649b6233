"""Sentences of what lies under a top: backing and batting."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace
from typing import Final, Literal, TypeAlias

from cutopt.errors import Problem
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.wanted_parts import ClothWanted
from cutopt.tables.sentences.said import Said
from cutopt.tables.sentences.sizes import qualified
from cutopt.tables.sentences.taking_apart import taken_apart
from cutopt.tables.sentences.vocabulary import Vocabulary

Run: TypeAlias = Literal["up", "across"]

RUNS: Final[dict[str, Run]] = {"seams up": "up", "seams across": "across"}
UP: Final = "seams up|vertical seams|vertical seam|seams vertical|seams run up"
ACROSS: Final = (
    "seams across|horizontal seams|horizontal seam|seams horizontal|seams run across"
)
OVER: Final = "larger all round"
_WHERE: Final = (
    *("all round", "all around", "on each side", "on every side", "on all sides"),
    *("each side", "every side", "at each side", "on all four sides"),
)
_BEYOND: Final = "|".join(
    f"LENGTH {word} {where}"
    for word in ("larger", "bigger", "extra", "more", "wider", "overhang", "beyond")
    for where in _WHERE
)
_OVERHANG: Final = "|".join(
    f"{word} LENGTH|LENGTH {word}|{word} LENGTH on each side|{word} LENGTH all round"
    for word in ("overhang", "overage")
)
LARGER: Final = f"{_BEYOND}|{_OVERHANG}"
# what is done of a backing anyway, where a cloth is not wide enough
_PIECED: Final = "pieced|pieced in panels|in panels|joined"
_IN_MIDDLE: Final = "seam down the middle"
_WHOLE: Final = "one piece"
NO_MIDDLE: Final = "no seam in the middle"
_NO_INSERT: Final = "no insert"

BACKING: Final = Vocabulary(
    part="backing",
    told="backings",
    like="oat|mist, seams across",
    phrases=(
        *(UP, ACROSS, NO_MIDDLE, _NO_INSERT, "backing|back", _PIECED),
        LARGER,
        f"{_IN_MIDDLE}|a seam down the middle|one seam down the middle|seam in the middle",
        f"{_WHOLE}|in one piece",
    ),
    bare_cloth=True,
)
BATTING: Final = Vocabulary(
    part="batting",
    told="the batting",
    like="any",
    phrases=("batting|wadding", LARGER),
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
    said.take("pieced")
    _refuse_where(said)
    over = said.after(OVER)
    if over:
        side = beyond(over, how, "backing")
        how = replace(how, back_overage=side, back_overage_ends=None)
    if run := said.only_one(*RUNS):
        how = replace(how, back_run=RUNS[run])
    if said.take(NO_MIDDLE):
        how = replace(how, back_middle="never")
    if said.take(_NO_INSERT):
        how = replace(how, back_insert="never")
    said.finish()
    _only_upright(said)
    return words_of(said), how, said.rules.upright


def beyond(text: str, how: Conventions, part: str) -> int:
    """How far something reaches beyond the top, in ticks, rounded up.

    Parameters
    ----------
    text : str
        As typed, in the unit of the job where it names none.
    how : Conventions
    part : str
        The part of the quilt, named in a problem.

    Raises
    ------
    Problem
        Where it is no length, or is called cut or finished.
    """
    plain, word = qualified(text)
    if word:
        what = f'"{text}" is no overage: that is the width beyond the top'
        raise Problem(part, what, f"write {plain} all round")
    return how.read(plain, part).__ceil__()


def _refuse_where(said: Said) -> None:
    """What a backing is sewn of follows from its cloth: a seam in one place, or none, is not to be had by asking.

    Raises
    ------
    Problem
        With what can be said.
    """
    if said.take(_IN_MIDDLE):
        what = f'"{said.text}" says where a seam lies, and that goes by the cloth'
        mend = 'write "seams up" for seams from top to bottom'
        raise Problem("backing", what, mend)
    if said.take(_WHOLE):
        words = "|".join(word for cloth in said.cloths for word in cloth.fabrics)
        what = f'"{said.text}" says one piece, and a backing has no seam where its cloth is wide enough'
        mend = f'write "{words or "any"}" for that, or "{words or "any"}, no seam in the middle" for seams beside it'
        raise Problem("backing", what, mend)


def batting_words(
    text: str, how: Conventions, known: Collection[str] = ()
) -> tuple[tuple[str, ...], Conventions]:
    """Fabrics of the kind batting that a sentence names, none for any; the conventions with it.

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
    said = taken_apart(text, BATTING, known)
    said.take("batting")
    over = said.after(OVER)
    if over:
        how = replace(how, batting_overage=beyond(over, how, "batting"))
    said.finish()
    if said.rules != ClothWanted():
        what = f'"{text}" says how batting is cut'
        raise Problem("batting", what, "name the batting alone, or any, or no")
    return words_of(said), how


def _only_upright(said: Said) -> None:
    """Of all the rules of cloth a backing keeps to one."""
    others = replace(said.rules, upright=False)
    if others != ClothWanted():
        what = f'"{said.text}" has a rule that no backing keeps to'
        mend = "leave it out; of the rules of cloth upright alone is for a backing"
        raise Problem(said.part, what, mend)


def words_of(said: Said) -> tuple[str, ...]:
    """The fabrics and tags that a sentence names, none for any."""
    words = tuple(word for cloth in said.cloths for word in cloth.fabrics)
    if words in (("any",), ("yes",), ("any fabric",)):
        return ()
    return words
