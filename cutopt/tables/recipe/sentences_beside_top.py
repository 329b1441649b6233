"""Sentences of what lies under a top: backing and batting."""

from __future__ import annotations

import re
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
_SEAM: Final = "[one/single/a/two/with] seam~ [run/running/runs/going/go/sewn]"
UP: Final = (
    f"seams up|[one/single/two] (vertical/upright/lengthwise) seam~ [down] [back]|(pieced/joined) (lengthwise/vertically)|"
    f"{_SEAM} (up/vertical/vertically/lengthwise/(up and down)/(top to bottom))"
)
ACROSS: Final = (
    f"seams across|[one/single/two] (horizontal/level/crosswise) seam~ [across] [back]|"
    f"{_SEAM} (across/horizontal/horizontally/crosswise/(side to side)/(from side to side))|"
    "(pieced/joined) (crosswise/across/horizontally)"
)
OVER: Final = "larger all round"
_NOT_WHERE: Final = "larger"
_WHERE: Final = (
    "[all] [way] (round/around) [quilt/top/edges]|(on/at) (each/every/all/all four) (side~/edge~)|"
    "(each/every) side|all sides|all four sides|on each side of [quilt/top]"
).replace("|", "/")
_MORE: Final = "(larger/bigger/extra/more/wider/over/spare/beyond/overhang/overage/(larger on)/(over and above))"
_THAN: Final = "[than/beyond] [quilt/top]"
_BEYOND: Final = (
    f"LENGTH {OVER}|[at least] LENGTH {_MORE} {_THAN} ({_WHERE})|"
    f"[at least] [(an extra)/extra/another] LENGTH [bigger/larger] ({_WHERE}) {_THAN}"
)
_OVERHANG: Final = (
    f"(overhang/overage/overlap) LENGTH [{_WHERE}]|LENGTH (overhang/overage) [{_WHERE}]"
)
LARGER: Final = f"{_BEYOND}|{_OVERHANG}"
_JUST_LARGER: Final = f"LENGTH {_NOT_WHERE}|[at least] LENGTH {_MORE} {_THAN}"
# what is done of a backing anyway, where a cloth is not wide enough
_PIECED: Final = (
    "pieced|pieced in panels|[in] panels|joined|[two/three] (widths/panels/lengths)"
)
_IN_MIDDLE: Final = "seam down the middle"
_MIDDLE: Final = "(down/in/through/up/at) (middle/centre/center)"
_WHOLE: Final = "one piece"
NO_MIDDLE: Final = "no seam in the middle"
_NO_INSERT: Final = "no insert"
_WIDE: Final = "wide"

_TOGETHER: Final = re.compile(
    r"\b(?:sewn|joined|seamed|stitched|pieced)\s+together\b", re.IGNORECASE
)
# how wide the cloth of the shop is, and no fabric
_FROM_ROLL: Final = re.compile(
    r"\bfrom\s+(?:an?\s+|the\s+|my\s+)?((?:\d[\d\s/.]*)(?:\"|″|”|in\b|inch(?:es)?\b|cm\b)?[\s-]*wide)"
    r"\s+(?:roll|bolt|piece|cloth|fabric|backing)\b",
    re.IGNORECASE,
)
BACKING: Final = Vocabulary(
    part="backing",
    told="backings",
    like="oat|mist, seams across",
    phrases=(
        *(UP, ACROSS, f"{NO_MIDDLE}|(no/without) [a/any] seam~ {_MIDDLE}"),
        *(_NO_INSERT, "backing|back|backing fabric", _PIECED),
        LARGER,
        _JUST_LARGER,
        f"{_IN_MIDDLE}|[a/one/single] seam~ {_MIDDLE}|[joined/seamed] {_MIDDLE}",
        f"{_WHOLE}|[all] in one piece|(no/without) [any] (seam~/join~/piecing)|without seams",
        f"LENGTH {_WIDE}|LENGTH width",
        "wide backing|extra wide [backing]",
    ),
    bare_cloth=True,
    talk=True,
    small=frozenset(
        (
            *("quilt", "top", "piece", "two", "three", "together", "join", "use"),
            *("wide", "only", "old", "back", "by", "out"),
        )
    ),
)
MATERIALS: Final = ("cotton", "wool", "polyester", "bamboo", "silk", "blend")
_PIECED_WORD: Final = "pieced"
_LIKE_BACKING: Final = "same size as backing"
_AS_BACKING: Final = f"{_LIKE_BACKING}|[as] (large/big) as (back/backing)|[same] [size] (as/like) (back/backing)"
_SCRAPS: Final = re.compile(
    r"\b(?:scraps?|left\s?-?overs?|offcuts?|bits|pieces|oddments|remnants)\b",
    re.IGNORECASE,
)
_JOINED_ANYWAY: Final = "cloth that is not wide enough is joined anyway; a back pieced from what there is reads"
BATTING: Final = Vocabulary(
    part="batting",
    told="the batting",
    like="any",
    phrases=(
        "batting|wadding|filling",
        LARGER,
        _JUST_LARGER,
        *(MATERIALS[0], MATERIALS[1], "polyester|poly", *MATERIALS[3:5]),
        "blend|80:20 [cotton] [blend]|cotton blend|wool blend|cotton and (polyester/poly/wool/bamboo) [blend/mix]",
        f"{_PIECED_WORD}|joined|join",
        _AS_BACKING,
    ),
    bare_cloth=True,
    talk=True,
    small=frozenset(("quilt", "top", "together", "piece", "by")),
)


def backing_words(
    text: str, how: Conventions, known: Collection[str] = ()
) -> tuple[tuple[str, ...], Conventions, bool, tuple[str, ...]]:
    """``oat|mist, seams across, no insert, upright``: fabrics and tags, the conventions with it, whether it stands.

    Any of what the shop sells is meant by no fabric at all. What is to be known of it stands last.

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
    # "together" alone is a rule of cloth
    joined = _FROM_ROLL.sub(r", \1 ", _TOGETHER.sub("joined", text))
    said = taken_apart(joined, BACKING, known, typed=text)
    said.text = text
    said.take("backing")
    pieced = said.take("pieced")
    said.take("wide backing")
    notes: list[str] = []
    over = _larger(said, how, notes)
    if over is not None:
        how = replace(how, back_overage=over, back_overage_ends=None)
    how = _seams(said, how, notes)
    if wide := said.after(_WIDE):
        told = "cloth is as wide as the shop has it in its table"
        notes.append(f"backing: {wide} wide: {told}")
    said.mixture = ""
    said.finish()
    _only_upright(said)
    if pieced:
        of = "|".join(words_of(said)) or "any"
        notes.append(f'backing: pieced: {_JOINED_ANYWAY} "pieced from {of}"')
    return words_of(said), how, said.rules.upright, tuple(notes)


def _seams(said: Said, how: Conventions, notes: list[str]) -> Conventions:
    """The conventions with what is said of seams: which way they run, where none lies, none at all.

    Raises
    ------
    Problem
        Where it contradicts itself.
    """
    whole = said.take(_WHOLE)
    run = said.only_one(*RUNS)
    middle = said.only_one(NO_MIDDLE, _IN_MIDDLE)
    if whole and (run or middle == _IN_MIDDLE):
        what = f'"{said.text}" says one piece, and a seam'
        raise Problem("backing", what, "keep one of the two")
    if whole:
        how = replace(how, back_seams="never")
    if run:
        how = replace(how, back_run=RUNS[run])
    if middle == _IN_MIDDLE:
        if run == "seams across":
            what = f'"{said.text}" says seams across, and one down the middle'
            raise Problem("backing", what, "keep one of the two")
        how = replace(how, back_run="up")
        notes.append("backing: how many seams there are, and where, goes by the cloth")
    if middle == NO_MIDDLE:
        how = replace(how, back_middle="never")
    if said.take(_NO_INSERT):
        how = replace(how, back_insert="never")
    return how


def _larger(said: Said, how: Conventions, notes: list[str]) -> int | None:
    """How far it reaches beyond the top, in ticks; None where that is not said."""
    over = said.after(OVER)
    just = said.after(_NOT_WHERE)
    if over and just:
        what = f'"{said.text}" says twice how much larger'
        raise Problem(said.part, what, "keep one of the two")
    if not over and not just:
        return None
    if just:
        notes.append(f"{said.part}: {just} larger on each side")
    return beyond(over or just, how, said.part)


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


def batting_words(
    text: str, how: Conventions, known: Collection[str] = ()
) -> tuple[tuple[str, ...], Conventions, tuple[str, ...]]:
    """Fabrics of the kind batting that a sentence names, none for any; the conventions with it, and what is told.

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
    # 80/20 is a blend, and no number of halves
    plain = re.sub(r"\b(80|50|60|70)/(20|50|40|30)\b", "80:20", text)
    said = taken_apart(plain, BATTING, known, typed=text)
    said.text = text
    said.take("batting")
    notes: list[str] = []
    over = _larger(said, how, notes)
    if said.take(_PIECED_WORD) or _SCRAPS.search(text):
        told = "join them to the size that is told; none of them is planned"
        notes.append(f"batting: pieced from scraps: {told}")
    if said.take(_LIKE_BACKING):
        over = _like_the_backing(said, how, over)
    if over is not None:
        how = replace(how, batting_overage=over)
    of = [each for each in MATERIALS if said.take(each)]
    if of:
        told = "ask for it in the shop; what is compared is of any kind"
        notes.append(f"batting: {' and '.join(of)}: {told}")
    said.mixture = ""
    said.finish()
    if said.rules != ClothWanted():
        what = f'"{text}" says how batting is cut'
        raise Problem("batting", what, "name the batting alone, or any, or no")
    return words_of(said), how, tuple(notes)


def _like_the_backing(said: Said, how: Conventions, over: int | None) -> int:
    """How far batting as large as the backing reaches beyond the top, in ticks.

    Raises
    ------
    Problem
        Where it is said otherwise too.
    """
    if over is not None:
        what = f'"{said.text}" says twice how large it is'
        raise Problem(said.part, what, "keep one of the two")
    return max(how.overage)


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
