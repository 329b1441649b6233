"""The sentence of a setting: how many blocks lie across and down, what stands between them, and of what it is."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator
from dataclasses import dataclass, replace
from typing import Final

from cutopt.errors import Problem
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.recipe.setting import Setting
from cutopt.quilt.sashes import Sashes, Way
from cutopt.quilt.surds import exact
from cutopt.quilt.wanted_parts import ClothWanted
from cutopt.tables.sentences.rules import all_cloths, refuse_unused
from cutopt.tables.sentences.said import Said
from cutopt.tables.sentences.taking_apart import taken_apart
from cutopt.tables.sentences.vocabulary import Vocabulary

_FIELD: Final = "setting"
_SASHINGS: Final = ("inner sashing", "framed sashing", "sashing")
_CORNERSTONES: Final = ("with cornerstones", "without cornerstones")
_ONE_WAY: Final[dict[str, Way]] = {"between columns": "columns", "between rows": "rows"}
_ALL_ROUND: Final = "sashing on point lies round every block"

SETTING: Final = Vocabulary(
    part=_FIELD,
    told="settings",
    like="7 across, 8 down, inner sashing 1 1/2 with cornerstones, from oat and plum",
    phrases=(
        "NUMBER across|NUMBER wide|NUMBER blocks across|across NUMBER",
        "NUMBER down|NUMBER rows|NUMBER long|NUMBER high|NUMBER blocks down|down NUMBER",
        "NUMBER rows of NUMBER",
        "NUMBER columns of NUMBER",
        "between columns|between the columns|between columns only|between the columns only|columns only",
        "between rows|between the rows|between rows only|between the rows only|rows only",
        "on point",
        "straight|straight set",
        "inner sashing LENGTH|inner sashing SIZE|SIZE inner sashing",
        "framed sashing LENGTH|framed sashing SIZE|SIZE framed sashing",
        "sashing LENGTH|sashing SIZE|SIZE sashing",
        "with cornerstones|cornerstones",
        "without cornerstones|no cornerstones",
        "cornerstones CLOTH|with cornerstones CLOTH",
        "upright sashing CLOTH|upright sashes CLOTH",
        "level sashing CLOTH|level sashes CLOTH",
        "middle strip CLOTH|middle strips CLOTH",
        "frame CLOTH",
        "side triangles CLOTH|setting triangles CLOTH",
        "corner triangles CLOTH",
    ),
    cloths=5,
    sized=True,
)


@dataclass(slots=True)
class _Cloths:
    """The fabrics of a sentence by what they are for: named by their part, or in the order in which they are told."""

    said: Said
    told: tuple[ClothWanted, ...]

    def dealt(self, parts: tuple[str, ...]) -> Iterator[tuple[str, ClothWanted]]:
        """Each part with its cloth, as far as fabrics are named; struck off.

        Raises
        ------
        Problem
            Where more are named than there are parts for them.
        """
        named = {part: cloth for part in parts if (cloth := self.said.of(part))}
        open_ = [part for part in parts if part not in named]
        if not open_ and self.told:
            fabrics = " and ".join("|".join(each.fabrics) for each in self.told)
            what = f'"{self.said.text}" names {fabrics}, and every part has its fabric'
            raise Problem(_FIELD, what, "leave it out")
        if len(self.told) > len(open_):
            raise self._too_many(open_)
        yield from named.items()
        yield from zip(open_, self.told, strict=False)

    def _too_many(self, parts: list[str]) -> Problem:
        named = ["|".join(each.fabrics) for each in self.told]
        what = f'"{self.said.text}" names {len(named)}: {", ".join(named)}; fabrics are for {" and ".join(parts)}'
        mend = f"name at most {len(parts)} joined by and, with | between fabrics that may stand for each other"
        return Problem(_FIELD, what, mend)


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
    said = taken_apart(_apart(text), SETTING, known)
    cloths = all_cloths(said)
    if said.shares:
        what = f'"{text}": how much is of which fabric is not planned of a setting'
        mend = "name fabrics by what they are for, such as from oat and plum: sashing and cornerstones"
        raise Problem(_FIELD, what, mend)
    across, down = _places(said)
    on_point = bool(said.take("on point"))
    said.take("straight")
    widths, framed = _sashing(said, on_point=on_point)
    between = _between(said, widths, on_point=on_point)
    cornerstones = _has_cornerstones(said, sashed=bool(widths))
    cornerstones = cornerstones and between == "both"
    parts = _parts(said, widths, framed=framed, stones=cornerstones, on_point=on_point)
    if not parts and said.cloths:
        what = f'"{text}" names fabrics, and nothing is sewn between the blocks'
        mend = "leave them out, or say a sashing, such as inner sashing 2, or sashing 2 between the columns"
        raise Problem(_FIELD, what, mend)
    cloth = dict(_Cloths(said=said, told=said.cloths).dealt(parts)) if parts else {}
    said.finish()
    setting = Setting(across=across, down=down, on_point=on_point)
    if widths:
        sashes = Sashes(
            strips=widths, framed=framed, cornerstones=cornerstones, between=between
        )
        sashes = _clothed(sashes, cloth)
        sashes.width(how)
        setting = replace(setting, sashes=sashes)
    if on_point:
        _refuse_bare_triangles(said, cloth, sashed=bool(widths))
        setting = replace(
            setting,
            triangles=cloth.get("side triangles"),
            corners=cloth.get("corner triangles"),
        )
    # blocks of any size will do to see which fabrics and rules are used
    some = exact(how.read("1 m"))
    refuse_unused(text, _FIELD, cloths, setting.made((some, some), how).wanted)
    return setting


def _apart(text: str) -> str:
    """``with cornerstones from oat and plum`` names the fabrics of the whole sashing where no others are named."""
    if len(re.findall(r"\bfrom\b", text, re.IGNORECASE)) > 1:
        return text
    return re.sub(r"(?i)\b(with (?:cornerstones|posts)) from\b", r"\1, from", text)


def _parts(
    said: Said,
    widths: tuple[str, ...],
    *,
    framed: bool,
    stones: bool,
    on_point: bool,
) -> tuple[str, ...]:
    """What of the setting is cut from a fabric of its own, in the order in which fabrics are told."""
    parts: list[str] = []
    if widths:
        if "upright sashing" in said.cloth_of or "level sashing" in said.cloth_of:
            _refuse_slanted(said, on_point=on_point)
            parts += ["upright sashing", "level sashing"]
        else:
            parts.append("sashing")
        if len(widths) > 1:
            parts.append("middle strip")
        if stones:
            parts.append("cornerstones")
        if framed and not on_point:
            parts.append("frame")
    if on_point:
        parts += ["side triangles", "corner triangles"]
    return tuple(parts)


def _refuse_slanted(said: Said, *, on_point: bool) -> None:
    if on_point:
        what = f'"{said.text}": on point no sashing is upright or level'
        raise Problem(_FIELD, what, "write sashing 2 from oat")


def _clothed(sashes: Sashes, cloth: dict[str, ClothWanted]) -> Sashes:
    """Sashing with its cloths; what is not named is of the cloth of the sashes."""
    first = cloth.get("sashing")
    upright = cloth.get("upright sashing", first)
    level = cloth.get("level sashing", first)
    return replace(
        sashes,
        upright=upright,
        level=level,
        middle=cloth.get("middle strip"),
        posts=cloth.get("cornerstones", upright),
        frame=cloth.get("frame"),
    )


def _refuse_bare_triangles(
    said: Said, cloth: dict[str, ClothWanted], *, sashed: bool
) -> None:
    """Where fabrics of a sashing are told, those of the triangles are too: no one knows them by these."""
    if sashed and cloth and "side triangles" not in cloth:
        what = f'"{said.text}" does not say of what the triangles round the blocks are'
        mend = f'name it behind the others, or write "{said.text}, side triangles from any"'
        raise Problem(_FIELD, what, mend)


def _places(said: Said) -> tuple[int, int]:
    """How many blocks lie across and down: ``7 across, 8 down``, ``7 x 8``, ``8 rows of 7``, ``7 columns of 8``."""
    across = said.after("across")
    down = said.after("down")
    rows = said.after("rows of")
    columns = said.after("columns of")
    if rows and not across and not down:
        down, across = rows.split()
    elif columns and not across and not down:
        across, down = columns.split()
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
    raise Problem(_FIELD, what, mend)


def _sashing(said: Said, *, on_point: bool) -> tuple[tuple[str, ...], bool]:
    """Widths of the strips of a sash as typed, none without sashing, and whether it is framed; struck off."""
    found = [(kind, width) for kind in _SASHINGS if (width := said.after(kind))]
    if len(found) > 1:
        what = f'"{said.text}" says two kinds of sashing'
        raise Problem(_FIELD, what, "keep one: framed sashing runs round the quilt too")
    if not found:
        return (), False
    kind, width = found[0]
    if on_point and kind == "inner sashing":
        what = f'"{said.text}": {_ALL_ROUND}, so that it is no inner one'
        mended = re.sub(r"(?i)\binner sashing\b", "sashing", said.text)
        # sashing and cornerstones come first: without a third fabric the triangles have none
        if 0 < len(said.cloths) < 3 and "side triangles" not in said.cloth_of:
            mended += ", side triangles from any"
        raise Problem(_FIELD, what, f'write "{mended}"')
    return tuple(part.strip() for part in width.split("+")), kind == "framed sashing"


def _between(said: Said, widths: tuple[str, ...], *, on_point: bool) -> Way:
    """Between what the sashing stands; struck off."""
    found = [way for word, way in _ONE_WAY.items() if said.take(word)]
    if not found:
        return "both"
    if len(found) > 1:
        what = f'"{said.text}" says both columns and rows'
        raise Problem(_FIELD, what, "leave both out: then it stands between all blocks")
    (way,) = found
    if on_point:
        what = f'"{said.text}": {_ALL_ROUND}, not between the {way} alone'
        raise Problem(_FIELD, what, f"leave out between the {way}")
    if not widths:
        what = f'"{said.text}" does not say how wide the sashing between the {way} is'
        raise Problem(_FIELD, what, f"write it like sashing 2 between the {way}")
    if said.take("with cornerstones"):
        what = f'"{said.text}": sashing between the {way} alone does not meet in cornerstones'
        raise Problem(_FIELD, what, "leave them out")
    return way


def _has_cornerstones(said: Said, *, sashed: bool) -> bool:
    word = said.take(*_CORNERSTONES)
    if not sashed and (word or "cornerstones" in said.cloth_of):
        what = f'"{said.text}" says {word or "cornerstones"}, and no sashing'
        raise Problem(_FIELD, what, "say its width, such as inner sashing 2")
    both = said.take(*_CORNERSTONES)
    if both:
        what = f'"{said.text}" says both {word} and {both}'
        raise Problem(_FIELD, what, "keep one of the two")
    return word != "without cornerstones"
