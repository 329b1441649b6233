"""The sentence of a back that is pieced from what there is: ``pieced from any, main oat, blocks star, calm``."""

from __future__ import annotations

import re
from collections.abc import Collection
from dataclasses import dataclass, replace
from typing import Any, Final

from cutopt.errors import Problem
from cutopt.lengths import up
from cutopt.piecing import Look
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.surds import ceil_to
from cutopt.quilt.top import Top, backing_size
from cutopt.quilt.wanted_parts import ClothWanted
from cutopt.tables.recipe.sentences_beside_top import (
    ACROSS,
    LARGER,
    NO_MIDDLE,
    OVER,
    RUNS,
    UP,
    beyond,
    words_of,
)
from cutopt.tables.sentences.said import Said
from cutopt.tables.sentences.taking_apart import taken_apart
from cutopt.tables.sentences.vocabulary import Vocabulary
from cutopt.wanted import Importance

NAME: Final = "backing"
"""How the back of a quilt is called: ``[back.backing]`` in job.toml, ``backs/backing`` in a plan."""

_PIECED: Final = re.compile(r"\s*pieced\s+(?:from|out\s+of)\b", re.IGNORECASE)
_MAIN_FABRIC: Final = re.compile(r"\bmain\s+(?:fabric|cloth)\b", re.IGNORECASE)
# a clause that names blocks, which may be called as any word of a sentence
_BLOCKS: Final = re.compile(
    r"(?:with\s+)?(?:spare\s+)?blocks?\s+(?P<may>.+)|(?P<must>must\s+.+)|(?P<all>(?:any|no)\s+(?:spare\s+)?blocks?)",
    re.IGNORECASE,
)
_HAVE: Final = re.compile(r"(?<=^must)\s+(?:have|include)\b", re.IGNORECASE)
_LOOKS: Final[dict[str, Look]] = {"calm": "calm", "busy": "busy"}
_MOST: Final = {"at most parts": "most_parts", "at most seams": "most_seams"}
_WHOLE: Final = "one piece"

PIECED: Final = Vocabulary(
    part="backing",
    told="pieced backs",
    like="pieced from oat|mist, main oat, at most 6 parts",
    phrases=(
        *("pieced", UP, ACROSS, *_LOOKS),
        f"{NO_MIDDLE}|no seam down the middle|no seam along the middle|no middle seam",
        "at most NUMBER parts|at most NUMBER pieces|no more than NUMBER parts|no more than NUMBER pieces",
        "at most NUMBER seams|no more than NUMBER seams",
        "smallest part LENGTH|smallest parts LENGTH|no part smaller than LENGTH|no part under LENGTH",
        LARGER,
        "main CLOTH|mainly CLOTH|mostly CLOTH",
        "seam LENGTH|seams LENGTH|LENGTH seams|LENGTH seam",
        f"{_WHOLE}|in one piece|no seam|no seams",
    ),
    cloths=12,
    bare_cloth=True,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class BackSaid:
    """What a sentence says of a back that is to be pieced.

    Parameters
    ----------
    text : str
        The sentence.
    fabrics : tuple of str
        Empty for any.
    blocks : str
        Blocks that may or must go in, as in a table of backs.
    importance : {"must", "nice", "if left"}
    rules : dict
        Those of :class:`cutopt.piecing.BackRules` that it says, by name.
    how : Conventions
        With the overage that it says.
    """

    text: str
    fabrics: tuple[str, ...]
    blocks: str
    importance: Importance
    rules: dict[str, Any]
    how: Conventions


@dataclass(frozen=True, slots=True, kw_only=True)
class BackOfQuilt:
    """The back that a quilt needs: raw, with its overage, in ticks; `why` is the arithmetic.

    `rules` are those that follow from the quilt, and those that its sentence says; `seam` is what is usual for it.
    """

    said: BackSaid
    width: int
    length: int
    why: str
    seam: int
    rules: dict[str, Any]


def is_pieced(text: str) -> bool:
    """Whether a sentence of a backing asks for one that is pieced from what there is."""
    return _PIECED.match(text) is not None


def pieced_words(text: str, how: Conventions, known: Collection[str] = ()) -> BackSaid:
    """``pieced from any, main oat, blocks star, no seam in the middle``, taken apart.

    Parameters
    ----------
    text : str
    how : Conventions
    known : collection of str
        Names, tags and values of fabrics in lower case.

    Raises
    ------
    Problem
        With the word that is not understood.
    """
    told = _MAIN_FABRIC.sub("main", _PIECED.sub("pieced from", text))
    plain, of_blocks, blocks = _without_blocks(told)
    try:
        said = taken_apart(plain, PIECED, known)
    except Problem as problem:
        raise _with_blocks(problem, of_blocks) from problem
    said.take("pieced")
    rules = _rules_of(said, how)
    over = said.after(OVER)
    if over:
        side = beyond(over, how, "backing")
        how = replace(how, back_overage=side, back_overage_ends=None)
    said.finish()
    _refuse_rules(said)
    return BackSaid(
        text=text,
        fabrics=words_of(said),
        blocks=blocks,
        importance=said.rules.importance,
        rules=rules,
        how=how,
    )


def _with_blocks(problem: Problem, of_blocks: str) -> Problem:
    """The problem with a mend that does not leave out what is said of blocks."""
    mend = re.sub(r'(write "pieced [^"]*)"$', rf'\1{of_blocks}"', problem.mend)
    return Problem(problem.field, problem.what, mend)


def _without_blocks(text: str) -> tuple[str, str, str]:
    """The sentence without the clauses that name blocks, those clauses, and what they say as a table says it."""
    rest: list[str] = []
    clauses = ""
    blocks: list[str] = []
    for clause in text.split(","):
        found = _BLOCKS.fullmatch(clause.strip())
        if found is None:
            rest.append(clause)
            continue
        clauses += f",{clause}"
        if found["all"]:
            blocks += ["any"] if found["all"].lower().startswith("any") else []
        else:
            blocks.append(_HAVE.sub("", found["may"] or found["must"]).strip())
    return ",".join(rest), clauses, "|".join(blocks)


def _rules_of(said: Said, how: Conventions) -> dict[str, Any]:
    """The rules that a sentence says, which are struck off it."""
    rules: dict[str, Any] = {}
    if run := said.only_one(*RUNS):
        rules["run"] = RUNS[run]
    if look := said.only_one(*_LOOKS):
        rules["look"] = _LOOKS[look]
    if said.take(NO_MIDDLE):
        rules["middle"] = False
    for phrase, rule in _MOST.items():
        if most := said.after(phrase):
            rules[rule] = int(most[:9])
    if said.take(_WHOLE):
        rules["most_seams"] = 0
    for phrase, rule in (("smallest part", "smallest_part"), ("seam", "seam")):
        if length := said.after(phrase):
            rules[rule] = up(how.read(length, "backing").plain)
    if main := said.of("main"):
        rules["main"] = _one_fabric(said, main)
    if said.rules.upright:
        rules["upright"] = True
    return rules


def _one_fabric(said: Said, main: ClothWanted) -> str:
    """The one fabric of the largest part."""
    if len(main.fabrics) != 1:
        what = f'"{said.text}" names several main fabrics'
        raise Problem(said.part, what, "name one, that of the largest part")
    return main.fabrics[0]


def _refuse_rules(said: Said) -> None:
    """Of the rules of cloth a pieced back keeps to two."""
    kept = ClothWanted(upright=said.rules.upright, importance=said.rules.importance)
    if said.rules != kept or said.mixture:
        what = f'"{said.text}" has a rule that no pieced back keeps to'
        raise Problem(
            said.part, what, "leave it out; upright, nice and if left are kept"
        )


def back_of_quilt(said: BackSaid, top: Top, how: Conventions) -> BackOfQuilt:
    """The back that a top needs, by the same arithmetic as one that is bought.

    Parameters
    ----------
    said : BackSaid
    top : Top
    how : Conventions
        Those of the whole quilt, with all that was said of its backing.
    """
    need = backing_size(top, how)
    rules: dict[str, Any] = {"overage": max(need.overage)}
    if how.back_run != "any":
        rules["run"] = how.back_run
    if how.back_middle == "never":
        rules["middle"] = False
    return BackOfQuilt(
        said=said,
        width=int(ceil_to(need.width, how.ruler).plain),
        length=int(ceil_to(need.length, how.ruler).plain),
        why=need.why,
        seam=how.back_seam,
        rules=rules | said.rules,
    )
