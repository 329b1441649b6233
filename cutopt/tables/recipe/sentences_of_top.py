"""Sentences of the setting and of borders."""

from __future__ import annotations

from collections.abc import Collection
from typing import Final

from cutopt.errors import Problem
from cutopt.quilt.block_settings import Sashing
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.recipe.setting import Border, Setting, bordered
from cutopt.quilt.surds import Exact
from cutopt.tables.sentences.rules import all_cloths, refuse_unused
from cutopt.tables.sentences.said import Said
from cutopt.tables.sentences.sizes import one_size
from cutopt.tables.sentences.taking_apart import taken_apart
from cutopt.tables.sentences.vocabulary import Vocabulary

_SASHINGS: Final[dict[str, Sashing]] = {
    "inner sashing": "inner",
    "framed sashing": "framed",
}
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
        "NUMBER rows of NUMBER",
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
    told="borders",
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
    rows = said.after("rows of")
    if rows and not across and not down:
        down, across = rows.split()
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
        corner = said.only_one(*_CORNERS)
    cut = said.only_one(*_BORDER_CUTS)
    said.finish()
    if not said.size:
        what = f'"{text}" does not say how wide'
        raise Problem("borders", what, f'write it like "{BORDER.like}"')
    width = one_size(said.size, how, "borders")
    names = " and ".join(said.names)
    of = said.cloth
    border = bordered(inside, width, of, how, names or name, corner_cloth, corner, cut)
    refuse_unused(text, "borders", cloths, border.made.wanted)
    return border
