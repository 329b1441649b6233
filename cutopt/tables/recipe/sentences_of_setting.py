"""The sentence of a setting: how many blocks lie across and down, what stands between them, and of what it is."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator
from dataclasses import dataclass, replace
from functools import cache
from typing import Final

from cutopt.errors import Problem
from cutopt.quilt.conventions import Conventions, Length
from cutopt.quilt.recipe.setting import Setting
from cutopt.quilt.sashes import Sashes, Way
from cutopt.quilt.surds import exact
from cutopt.quilt.wanted_parts import ClothWanted
from cutopt.tables.recipe.kinds.blocks import BLOCKS
from cutopt.tables.recipe.places_of_setting import places_said
from cutopt.tables.recipe.wording import (
    OUTER_TRIANGLES,
    in_order,
    without_corner_size,
)
from cutopt.tables.recipe.words_of_setting import (
    FIELD,
    OUTSIDE,
    PLAIN,
    PLAIN_OF,
    SASHING_OF,
    SETTING,
    SHIFTED,
    TURNED,
)
from cutopt.tables.sentences.rules import all_cloths, refuse_unused
from cutopt.tables.sentences.said import Said
from cutopt.tables.sentences.sizes import one_size, qualified
from cutopt.tables.sentences.taking_apart import taken_apart

_SASHINGS: Final = ("inner sashing", "framed sashing", "sashing")
_SASH: Final = "sash blocks"
_CORNERSTONES: Final = ("with cornerstones", "without cornerstones")
_SAYS_STONES: Final = re.compile(
    r"\b(?:corner\w*|posts?|(?:squares?|blocks?|ones|patches)\s+(?:where|at|in))\b",
    re.IGNORECASE,
)
_ONE_WAY: Final[dict[str, Way]] = {"between columns": "columns", "between rows": "rows"}
_ALL_ROUND: Final = "sashing on point lies round every block"


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
            raise Problem(FIELD, what, "leave it out")
        if len(self.told) > len(open_):
            raise self._too_many(open_)
        yield from named.items()
        yield from zip(open_, self.told, strict=False)

    def _too_many(self, parts: list[str]) -> Problem:
        named = ["|".join(each.fabrics) for each in self.told]
        what = f'"{self.said.text}" names {len(named)}: {", ".join(named)}; fabrics are for {" and ".join(parts)}'
        mend = f"name at most {len(parts)} joined by and, with | between fabrics that may stand for each other"
        return Problem(FIELD, what, mend)


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
    said, corner = _read(text, known)
    cloths = all_cloths(said)
    _refuse_shares(said)
    across, down = places_said(said)
    _refuse_shifted(said, across, down)
    turned = said.take(*TURNED)
    on_point = bool(said.take("on point"))
    widths, framed = _sashing(said, on_point=on_point)
    _refuse_both(said, on_point=on_point, sashed=bool(widths))
    between = _between(said, widths, on_point=on_point)
    cornerstones = _has_cornerstones(said, sashed=bool(widths))
    cornerstones = cornerstones and between == "both"
    alternates = bool(said.take(PLAIN)) or PLAIN_OF in said.cloth_of
    parts = _parts(said, widths, framed=framed, stones=cornerstones, on_point=on_point)
    if alternates:
        parts = (*parts, PLAIN_OF)
    if not parts:
        _refuse_cloths(said)
    told = _mixed(said)
    cloth = dict(_Cloths(said=said, told=told).dealt(parts)) if parts else {}
    said.finish()
    setting = Setting(across=across, down=down, on_point=on_point, turned=turned)
    if alternates:
        setting = replace(setting, alternates=True, plain=cloth.get(PLAIN_OF))
    if widths:
        sashes = Sashes(
            strips=_finished(widths, how),
            framed=framed,
            cornerstones=cornerstones,
            between=between,
        )
        sashes = _clothed(sashes, cloth)
        _refuse_other_corners(said, corner, sashes, how)
        setting = replace(setting, sashes=sashes)
    if on_point:
        _refuse_bare_triangles(said, cloth, sashed=bool(widths))
        setting = replace(
            setting,
            triangles=cloth.get("side triangles"),
            corners=cloth.get("corner triangles"),
        )
    _refuse_unused(text, setting, cloths, how)
    return setting


def stones_told(text: str, setting: Setting | None) -> tuple[str, ...]:
    """That squares are cut where sashes meet, if nothing is said of them."""
    sashes = setting.sashes if setting is not None else None
    if sashes is None or not sashes.cornerstones or _SAYS_STONES.search(text):
        return ()
    note = (
        "sashing: where sashes meet, cornerstones are cut, of the fabric of the sashing unless another is named; "
        'add "no cornerstones" for long sashes in their place'
    )
    return (note,)


def _refuse_shares(said: Said) -> None:
    if said.shares:
        what = f'"{said.text}": how much is of which fabric is not planned of a setting'
        mend = "name fabrics by what they are for, such as from oat and plum: sashing and cornerstones"
        raise Problem(FIELD, what, mend)


def _refuse_cloths(said: Said) -> None:
    if said.cloths:
        what = f'"{said.text}" names fabrics, and nothing is sewn between the blocks'
        mend = "leave them out, or say a sashing, such as inner sashing 2, or sashing 2 between the columns"
        raise Problem(FIELD, what, mend)


def _refuse_unused(
    text: str, setting: Setting, cloths: tuple[ClothWanted, ...], how: Conventions
) -> None:
    """See to it that every fabric and rule is used; blocks of any size will do for that."""
    some = exact(how.read("1 m"))
    made = setting.made((some, some), how).wanted
    if plain := setting.plain_block((some, some), how):
        made = (*made, *plain.made.wanted)
    refuse_unused(text, FIELD, cloths, made)


def _refuse_shifted(said: Said, across: int, down: int) -> None:
    """Rows that are shifted have halves at their ends, which nobody knows how to piece."""
    if not said.take(SHIFTED):
        return
    what = f'"{said.text}": rows that are shifted against each other are not planned: of each second row two blocks are halves'
    mend = f'write "{across} across, {down} down" for rows that lie straight'
    raise Problem(FIELD, what, mend)


def _mixed(said: Said) -> tuple[ClothWanted, ...]:
    """The fabrics that are told without what they are for; of a scrappy sashing they stand for each other."""
    if not said.mixture or len(said.cloths) < 2:
        return said.cloths
    first, *others = said.cloths
    fabrics = (word for cloth in (first, *others) for word in cloth.fabrics)
    return (replace(first, fabrics=tuple(fabrics)),)


def _refuse_other_corners(
    said: Said, corner: str, sashes: Sashes, how: Conventions
) -> None:
    """Cornerstones are as large as the sashing is wide, and may say so."""
    if corner and one_size(corner, how, FIELD) != sashes.width(how):
        what = f'"{said.text}" says cornerstones of {corner}, and they are as large as the sashing is wide'
        raise Problem(FIELD, what, "leave their size out, or make both the same")


@cache
def _kinds() -> tuple[str, ...]:
    """Names of kinds of blocks that are no words of a setting themselves."""
    names = (name for kind in BLOCKS for name in (kind.one, kind.many))
    several = ("rectangle", "square", "block", "brick", "template", "triangle", "unit")
    return tuple(
        name
        for name in names
        if not any(name in (word, f"{word}s") for word in several)
    )


def _read(text: str, known: Collection[str]) -> tuple[Said, str]:
    """The sentence taken apart, and the size that is said of its cornerstones; "" where none is."""
    plain, corner = without_corner_size(
        in_order(text, FIELD, known, _kinds()), FIELD, known
    )
    said = taken_apart(plain, SETTING, known, typed=text)
    said.text = text
    _spread_triangles(said)
    if SASHING_OF in said.cloth_of and "sashing" not in said.cloth_of:
        said.cloth_of["sashing"] = said.cloth_of.pop(SASHING_OF)
    return said, corner


def _spread_triangles(said: Said) -> None:
    """The fabric of side and corner triangles is that of each."""
    both = said.of(OUTER_TRIANGLES)
    if both is None:
        return
    for one in ("side triangles", "corner triangles"):
        if one in said.cloth_of:
            what = f'"{said.text}" names a fabric of {one} twice'
            raise Problem(FIELD, what, "keep one of the two")
        said.cloth_of[one] = both


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
        raise Problem(FIELD, what, "write sashing 2 from oat")


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
        raise Problem(FIELD, what, mend)


def _sashing(said: Said, *, on_point: bool) -> tuple[tuple[str, ...], bool]:
    """Widths of the strips of a sash as typed, none without sashing, and whether it is framed; struck off."""
    found = [(kind, width) for kind in _SASHINGS if (width := said.after(kind))]
    named = said.take(_SASH) or "sashing" in said.cloth_of
    outside = said.take(OUTSIDE)
    if not found and (named or outside) and said.size:
        found = [("sashing", said.size)]
        said.size = ""
    elif not found and named and not _is_refused(said):
        found = [("sashing", "")]
    if len(found) > 1:
        what = f'"{said.text}" says two kinds of sashing'
        raise Problem(FIELD, what, "keep one: framed sashing runs round the quilt too")
    if not found and not outside:
        return (), False
    kind, width = found[0] if found else ("sashing", "")
    if not width:
        what = f'"{said.text}" does not say how wide the sashing is'
        raise Problem(FIELD, what, "say its width, such as sashing 2")
    if outside and kind == "inner sashing":
        what = f'"{said.text}" says inner sashing, and that it goes round the outside'
        raise Problem(FIELD, what, "leave inner out, or what is said of the outside")
    if on_point and kind == "inner sashing":
        what = f'"{said.text}": {_ALL_ROUND}, so that it is no inner one'
        mended = re.sub(r"(?i)\binner sashing\b", "sashing", said.text)
        # sashing and cornerstones come first: without a third fabric the triangles have none
        if 0 < len(said.cloths) < 3 and "side triangles" not in said.cloth_of:
            mended += ", side triangles from any"
        raise Problem(FIELD, what, f'write "{mended}"')
    if said.size:
        what = f'"{said.text}" says a width twice: {width} and {said.size}'
        raise Problem(FIELD, what, "keep one of the two")
    plain, word = qualified(width)
    if said.take("finished") and word:
        what = f'"{said.text}" says both {word} and finished'
        raise Problem(FIELD, what, "keep one of the two")
    strips = tuple(f"{part.strip()} {word}".strip() for part in plain.split("+"))
    return strips, bool(outside) or kind == "framed sashing"


def _is_refused(said: Said) -> bool:
    """Whether it is said that nothing is sewn between the blocks."""
    return bool(said.options.keys() & {"no sashing", "edge to edge"})


def _finished(widths: tuple[str, ...], how: Conventions) -> tuple[Length, ...]:
    """Finished widths of strips; of one that is said as cut two seams less."""
    return tuple(
        one_size(width, how, FIELD) if qualified(width)[1] else width
        for width in widths
    )


def _refuse_both(said: Said, *, on_point: bool, sashed: bool) -> None:
    """See to it that blocks which are straight are not on point, and that those edge to edge have no sashing."""
    said.take("set")
    if said.take("straight") and on_point:
        what = f'"{said.text}" says both straight and on point'
        raise Problem(FIELD, what, "keep one of the two")
    none = said.take("no sashing", "edge to edge")
    said.take("no sashing", "edge to edge")
    if none and sashed:
        what = f'"{said.text}" says {none}, and a sashing'
        raise Problem(FIELD, what, "keep one of the two")


def _between(said: Said, widths: tuple[str, ...], *, on_point: bool) -> Way:
    """Between what the sashing stands; struck off."""
    found = [way for word, way in _ONE_WAY.items() if said.take(word)]
    if not found:
        return "both"
    if len(found) > 1:
        what = f'"{said.text}" says both columns and rows'
        raise Problem(FIELD, what, "leave both out: then it stands between all blocks")
    (way,) = found
    if on_point:
        what = f'"{said.text}": {_ALL_ROUND}, not between the {way} alone'
        raise Problem(FIELD, what, f"leave out between the {way}")
    if not widths:
        what = f'"{said.text}" does not say how wide the sashing between the {way} is'
        raise Problem(FIELD, what, f"write it like sashing 2 between the {way}")
    if said.take("with cornerstones"):
        what = f'"{said.text}": sashing between the {way} alone does not meet in cornerstones'
        raise Problem(FIELD, what, "leave them out")
    return way


def _has_cornerstones(said: Said, *, sashed: bool) -> bool:
    word = said.take(*_CORNERSTONES)
    if not sashed and (word or "cornerstones" in said.cloth_of):
        what = f'"{said.text}" says {word or "cornerstones"}, and no sashing'
        raise Problem(FIELD, what, "say its width, such as inner sashing 2")
    both = said.take(*_CORNERSTONES)
    if both:
        what = f'"{said.text}" says both {word} and {both}'
        raise Problem(FIELD, what, "keep one of the two")
    return word != "without cornerstones"
