"""Sentences of the parts that a quilt has once or in order: setting, borders, binding, backing."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Final, Literal, TypeAlias

from cutopt.errors import Problem
from cutopt.quilt.binding import Fold, folded
from cutopt.quilt.block_settings import Sashing
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.recipe.setting import Border, Setting, bordered
from cutopt.quilt.surds import Exact
from cutopt.quilt.wanted_parts import ClothLike
from cutopt.tables.recipe.sentences import (
    UPRIGHT,
    Said,
    cloth_said,
    finish,
    one_size,
    taken_apart,
)

BindingCut: TypeAlias = Literal["straight", "bias"]
Finish: TypeAlias = Literal["hand", "machine"]
BindingJoin: TypeAlias = Literal["diagonal", "straight", "pre-cut"]
Run: TypeAlias = Literal["up", "across"]

_SASHINGS: Final[dict[str, Sashing]] = {"inner": "inner", "framed": "framed"}
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


def setting_of(text: str, how: Conventions) -> Setting:
    """``7 across, 8 down, inner sashing 2 with cornerstones, from oat and plum``; ``3 across, 4 down, on point``.

    Raises
    ------
    Problem
        With the words that are not understood, and what to write.
    """
    said = taken_apart(text, "setting")
    # a sentence begins with its number, and a setting with how many are across
    if said.kind:
        first = f"{said.count} {said.kind}"
    else:
        first = str(said.count)
    said.options.insert(0, first)
    places = _places(said)
    if set(places) != {"across", "down"}:
        what = f'"{text}" does not say how many across and down'
        mend = "write it like 7 across, 8 down, or as large as it goes"
        raise Problem("setting", what, mend)
    on_point = bool(said.take("on point"))
    sashing, sash, cornerstones = _sashing(said)
    if said.take("without cornerstones"):
        cornerstones = False
    said.take("with cornerstones", "straight")
    finish(said, "setting")
    if on_point and sashing != "none":
        what = "sashing between blocks on point is not worked out here"
        raise Problem("setting", what, "leave one of the two out")
    return Setting(
        across=places["across"],
        down=places["down"],
        on_point=on_point,
        sashing=sashing,
        sash=how.read(sash, "setting"),
        cornerstones=cornerstones,
        of=said.cloths,
    )


def _places(said: Said) -> dict[str, int]:
    """How many blocks lie across and down, as far as it is said; struck off."""
    places = {}
    for option in list(said.options):
        if match := re.fullmatch(r"(\d+) (across|down)", option):
            said.options.remove(option)
            places[match[2]] = int(match[1])
    return places


def _sashing(said: Said) -> tuple[Sashing, str, bool]:
    """The kind of sashing, its width, and whether it has cornerstones; struck off."""
    sashing: Sashing = "none"
    sash = "0"
    cornerstones = True
    form = r"(inner|framed) sashing (.+?)(?: (with|without) cornerstones)?"
    for option in list(said.options):
        if match := re.fullmatch(form, option):
            said.options.remove(option)
            sashing = _SASHINGS[match[1]]
            sash = match[2]
            cornerstones = match[3] != "without"
    return sashing, sash, cornerstones


def border_of(
    text: str, inside: tuple[Exact, Exact], how: Conventions, name: str
) -> Border:
    """``inner border: 2 from oat, mitred``; ``3 from bark, corner squares from plum``.

    Parameters
    ----------
    text : str
    inside : (exact, exact)
        Finished width and length of what it goes round.
    how : Conventions
    name : str
        Of one that is given none.
    """
    names, _, rest = text.partition(":") if ":" in text else ("", "", text)
    rest = re.sub(r",?\s*corner squares from ([^,]+)", ", corner squares", rest)
    corner_cloth = None
    if match := re.search(r"corner squares from ([^,]+)", text):
        corner_cloth = cloth_said(match[1])
    said = taken_apart(f"1 border of {rest.strip()}", "borders")
    corner = said.take("sides first", "ends first", "mitred", "corner squares")
    cut = said.take("joined", "in one piece", "lengthwise")
    finish(said, "borders")
    width = one_size(said.size, how, "borders")
    if said.cloths:
        of = said.cloths[0]
    else:
        of = None
    return bordered(
        inside, width, of, how, names.strip() or name, corner_cloth, corner, cut
    )


def binding_words(text: str, how: Conventions) -> tuple[Conventions, ClothLike]:
    """``from bark|plum``, ``2 1/4 from bark, bias``; the conventions with it, and the cloth.

    Raises
    ------
    Problem
        Where a word of it is not understood.
    """
    sized = not text.startswith("from ")
    # a fabric or a tag may be called so
    if re.search(r"\bscrappy\b", re.sub(r"\bfrom [^,]+", "", text)):
        rest = re.sub(r",?\s*\bscrappy\b,?\s*", " ", text, count=1).strip()
        what = '"scrappy" needs no word: a binding is cut from all the fabrics that it names'
        raise Problem("binding", what, f'write binding = "{rest or "from any dark"}"')
    if sized:
        sentence = f"1 binding of {text}"
    else:
        sentence = f"binding {text}"
    said = taken_apart(sentence, "binding")
    if fold := said.meant(_FOLDS):
        how = folded(how, fold)
    if said.size:
        how = replace(how, binding_width=int(how.read(said.size, "binding").plain))
    if cut := said.meant(_BINDING_CUTS):
        how = replace(how, binding_cut=cut)
    if sewn := said.meant(_FINISHES):
        how = replace(how, binding_finish=sewn)
    if join := said.meant(_BINDING_JOINS):
        how = replace(how, binding_join=join)
    finish(said, "binding")
    return how, said.cloths[0] if said.cloths else None


def backing_words(
    text: str, how: Conventions
) -> tuple[tuple[str, ...], Conventions, bool]:
    """``oat|mist, seams across, no insert, upright``: fabrics and tags, the conventions with it, whether it stands.

    Any of what the shop sells is meant by no fabric at all.

    Raises
    ------
    Problem
        With the option that is not understood.
    """
    first, *options = [part.strip() for part in text.removeprefix("from ").split(",")]
    upright = False
    for option in (" ".join(option.lower().split()) for option in options):
        if option in UPRIGHT:
            upright = True
        elif option in _RUNS:
            how = replace(how, back_run=_RUNS[option])
        elif option == _NO_MIDDLE:
            how = replace(how, back_middle="never")
        elif option == _NO_INSERT:
            how = replace(how, back_insert="never")
        else:
            known = ", ".join(("upright", *_RUNS, _NO_MIDDLE, _NO_INSERT))
            what = f'"{option}" is not understood'
            raise Problem("backing", what, f"the options are: {known}")
    words = tuple(word.strip() for word in first.split("|") if word.strip())
    any_ = first in ("any", "any fabric", "yes", "")
    return () if any_ else words, how, upright
