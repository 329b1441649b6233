"""Sentences of the parts that a quilt has once or in order: setting, borders, binding, sleeve, backing, batting."""

from __future__ import annotations

import re
from collections.abc import Collection
from dataclasses import replace
from typing import Final, Literal, TypeAlias

from cutopt.errors import Problem
from cutopt.quilt.binding import Fold, folded
from cutopt.quilt.block_settings import Sashing
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.recipe.setting import Border, Setting, bordered
from cutopt.quilt.surds import Exact
from cutopt.quilt.wanted_parts import ClothLike, ClothWanted
from cutopt.tables.sentences.rules import all_cloths, refuse_unused
from cutopt.tables.sentences.said import Said
from cutopt.tables.sentences.sizes import one_size
from cutopt.tables.sentences.taking_apart import taken_apart
from cutopt.tables.sentences.vocabulary import Vocabulary

BindingCut: TypeAlias = Literal["straight", "bias"]
Finish: TypeAlias = Literal["hand", "machine"]
BindingJoin: TypeAlias = Literal["diagonal", "straight", "pre-cut"]
Run: TypeAlias = Literal["up", "across"]

_SASHINGS: Final[dict[str, Sashing]] = {
    "inner sashing": "inner",
    "framed sashing": "framed",
}
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
_CORNERS: Final = ("sides first", "ends first", "mitred", "corner squares")
_BORDER_CUTS: Final = ("joined", "in one piece", "lengthwise")
_CORNERSTONES: Final = ("with cornerstones", "without cornerstones")

SETTING: Final = Vocabulary(
    part="setting",
    told="sashing and cornerstones",
    like="7 across, 8 down, inner sashing 1 1/2 with cornerstones, from oat and plum",
    phrases=(
        "NUMBER across|NUMBER wide|NUMBER blocks across|across NUMBER",
        "NUMBER down|NUMBER rows|NUMBER long|NUMBER high|NUMBER blocks down|down NUMBER",
        "rows SIZE",
        "on point",
        "straight|straight set",
        "inner sashing LENGTH|LENGTH inner sashing|sashing LENGTH|LENGTH sashing",
        "framed sashing LENGTH|LENGTH framed sashing",
        "with cornerstones|cornerstones",
        "without cornerstones|no cornerstones",
    ),
    cloths=2,
    sized=True,
)
BORDER: Final = Vocabulary(
    part="borders",
    told="the border",
    like="inner border: 2 from oat, mitred",
    phrases=(
        *_CORNERS[:-1],
        "corner squares CLOTH",
        "corner squares|with corner squares",
        *_BORDER_CUTS,
        "border|borders",
    ),
    named=True,
    sized=True,
)
BINDING: Final = Vocabulary(
    part="binding",
    told="the binding",
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
    told="the sleeve",
    like="from oat",
    phrases=("sleeve|hanging sleeve",),
    bare_cloth=True,
)
BACKING: Final = Vocabulary(
    part="backing",
    told="the backing",
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


def setting_of(text: str, how: Conventions, known: Collection[str] = ()) -> Setting:
    """``7 across, 8 down, inner sashing 2 with cornerstones, from oat and plum``; ``3 across, 4 down, on point``.

    Parameters
    ----------
    text : str
    how : Conventions
    known : collection of str
        Names, tags and values of fabrics in lower case.

    Raises
    ------
    Problem
        With the words that are not understood, and what to write.
    """
    said = taken_apart(text, SETTING, known)
    across, down = _places(said)
    on_point = bool(said.take("on point"))
    sashing, sash = _sashing(said)
    cornerstones = _has_cornerstones(said, sashing)
    said.take("straight")
    said.finish()
    if on_point and sashing != "none":
        what = "sashing between blocks on point is not worked out here"
        raise Problem("setting", what, "leave one of the two out")
    if sashing == "none" and not on_point and said.cloths:
        what = f'"{text}" names fabrics, and nothing is sewn between the blocks'
        mend = "leave them out, or say a sashing, such as inner sashing 2"
        raise Problem("setting", what, mend)
    return Setting(
        across=across,
        down=down,
        on_point=on_point,
        sashing=sashing,
        sash=how.read(sash, "setting"),
        cornerstones=cornerstones,
        of=said.cloths,
    )


def _places(said: Said) -> tuple[int, int]:
    """How many blocks lie across and down: ``7 across, 8 down``, ``7 x 8``, ``8 rows of 7``."""
    across = said.after("across")
    down = said.after("down")
    rows = said.after("rows")
    if rows and down and not across:
        across = rows
    elif said.size and not across and not down:
        across, _, down = (part.strip() for part in said.size.partition("x"))
        said.size = ""
    if (
        across.isdigit()
        and down.isdigit()
        and not said.size
        and int(across) * int(down)
    ):
        return int(across[:9]), int(down[:9])
    what = f'"{said.text}" does not say how many across and down'
    mend = "write it like 7 across, 8 down, or as large as it goes"
    raise Problem("setting", what, mend)


def _sashing(said: Said) -> tuple[Sashing, str]:
    """The kind of sashing and its width; struck off."""
    found: list[tuple[Sashing, str]] = []
    for phrase, sashing in _SASHINGS.items():
        width = said.after(phrase)
        if width:
            found.append((sashing, width))
    if len(found) > 1:
        what = f'"{said.text}" says two kinds of sashing'
        raise Problem(
            "setting", what, "keep one: framed sashing runs round the quilt too"
        )
    if found:
        return found[0]
    return "none", "0"


def _has_cornerstones(said: Said, sashing: Sashing) -> bool:
    word = said.take(*_CORNERSTONES)
    if word and sashing == "none":
        what = f'"{said.text}" says {word}, and no sashing'
        raise Problem("setting", what, "say its width, such as inner sashing 2")
    both = said.take(*_CORNERSTONES)
    if both:
        what = f'"{said.text}" says both {word} and {both}'
        raise Problem("setting", what, "keep one of the two")
    return word != "without cornerstones"


def border_of(
    text: str,
    inside: tuple[Exact, Exact],
    how: Conventions,
    name: str,
    known: Collection[str] = (),
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
    known : collection of str
        Names, tags and values of fabrics in lower case.

    Raises
    ------
    Problem
        With the words that are not understood, and what to write.
    """
    said = taken_apart(text, BORDER, known)
    cloths = all_cloths(said)
    said.take("border")
    corner_cloth = said.of("corner squares")
    if corner_cloth is not None:
        corner = "corner squares"
    else:
        corner = _only_one(said, _CORNERS)
    cut = _only_one(said, _BORDER_CUTS)
    said.finish()
    if not said.size:
        what = f'"{text}" does not say how wide'
        raise Problem("borders", what, f'write it like "{BORDER.like}"')
    width = one_size(said.size, how, "borders")
    names = " and ".join(said.names)
    of = _first(said)
    border = bordered(inside, width, of, how, names or name, corner_cloth, corner, cut)
    refuse_unused(text, "borders", cloths, border.made.wanted)
    return border


def _only_one(said: Said, phrases: tuple[str, ...]) -> str:
    """The one of these that is said, struck off.

    Raises
    ------
    Problem
        Where two are.
    """
    word = said.take(*phrases)
    other = said.take(*phrases)
    if other:
        what = f'"{said.text}" says both {word} and {other}'
        raise Problem(said.part, what, "keep one of the two")
    return word


def _first(said: Said) -> ClothWanted | None:
    if said.cloths:
        return said.cloths[0]
    return None


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
    if fold := _only_one(said, tuple(_FOLDS)):
        how = folded(how, _FOLDS[fold])
    if said.size:
        width = how.read(said.size.removesuffix(" cut"), "binding")
        how = replace(how, binding_width=int(width.plain))
    if cut := _only_one(said, tuple(_BINDING_CUTS)):
        how = replace(how, binding_cut=_BINDING_CUTS[cut])
    if sewn := _only_one(said, tuple(_FINISHES)):
        how = replace(how, binding_finish=_FINISHES[sewn])
    if join := _only_one(said, tuple(_BINDING_JOINS)):
        how = replace(how, binding_join=_BINDING_JOINS[join])
    said.finish()
    return how, _first(said), said


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
    if run := _only_one(said, tuple(_RUNS)):
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
