"""The sentence of a setting: how many blocks lie across and down, what stands between them, and of what it is."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator
from dataclasses import dataclass, replace
from typing import Final

from cutopt.errors import Problem
from cutopt.quilt.conventions import Conventions, Length
from cutopt.quilt.recipe.setting import Setting
from cutopt.quilt.sashes import Sashes, Way
from cutopt.quilt.surds import exact
from cutopt.quilt.wanted_parts import ClothWanted
from cutopt.tables.recipe.wording import OUTER_TRIANGLES, in_order, without_plain_blocks
from cutopt.tables.sentences.rules import all_cloths, refuse_unused
from cutopt.tables.sentences.said import Said
from cutopt.tables.sentences.sizes import one_size, qualified
from cutopt.tables.sentences.taking_apart import taken_apart
from cutopt.tables.sentences.vocabulary import Vocabulary

_FIELD: Final = "setting"
_SASHINGS: Final = ("inner sashing", "framed sashing", "sashing")
_CORNERSTONES: Final = ("with cornerstones", "without cornerstones")
_ONE_WAY: Final[dict[str, Way]] = {"between columns": "columns", "between rows": "rows"}
_ROWS: Final = "|".join(
    f"NUMBER rows {word} NUMBER{end}"
    for word in ("of", "with")
    for end in (" blocks", " blocks in a row", " blocks in each row", " in a row")
)
_OUTSIDE: Final = "all round the outside too"
_ALL_ROUND: Final = "sashing on point lies round every block"

SETTING: Final = Vocabulary(
    part=_FIELD,
    told="settings",
    like="7 across, 8 down, inner sashing 1 1/2 with cornerstones, from oat and plum",
    phrases=(
        "NUMBER across|NUMBER wide|NUMBER blocks across|across NUMBER",
        "NUMBER down|NUMBER rows|NUMBER long|NUMBER high|NUMBER blocks down|down NUMBER",
        f"NUMBER rows of NUMBER|{_ROWS}",
        f"NUMBER columns of NUMBER|{_ROWS.replace('row', 'column')}",
        "NUMBER across by NUMBER down|NUMBER across and NUMBER down",
        "between columns|between the columns|between columns only|between the columns only|columns only",
        "between rows|between the rows|between rows only|between the rows only|rows only",
        "on point",
        "straight|straight set",
        "set|laid|laid in rows|laid out in rows|set in rows|in rows",
        "edge to edge|blocks edge to edge|side by side|blocks side by side",
        "no sashing|without sashing",
        "inner sashing LENGTH|inner sashing SIZE|SIZE inner sashing|inner sashes SIZE|SIZE inner sashes",
        "framed sashing LENGTH|framed sashing SIZE|SIZE framed sashing|framed sashes SIZE|SIZE framed sashes",
        "sashing LENGTH|sashing SIZE|SIZE sashing|sashes SIZE|SIZE sashes",
        "sash the blocks|sash blocks|sash",
        f"{_OUTSIDE}|all round the outside|{_OUTSIDE[4:]}|round the outside|around the outside|around the outside too",
        "finished",
        "with cornerstones|cornerstones",
        "without cornerstones|no cornerstones",
        "cornerstones CLOTH|with cornerstones CLOTH",
        "upright sashing CLOTH|upright sashes CLOTH",
        "level sashing CLOTH|level sashes CLOTH",
        "middle strip CLOTH|middle strips CLOTH",
        "frame CLOTH",
        "side triangles CLOTH|setting triangles CLOTH",
        "corner triangles CLOTH",
        f"{OUTER_TRIANGLES} CLOTH",
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
    said = _read(text, how, known)
    cloths = all_cloths(said)
    if said.shares:
        what = f'"{text}": how much is of which fabric is not planned of a setting'
        mend = "name fabrics by what they are for, such as from oat and plum: sashing and cornerstones"
        raise Problem(_FIELD, what, mend)
    across, down = _places(said)
    on_point = bool(said.take("on point"))
    widths, framed = _sashing(said, on_point=on_point)
    _refuse_both(said, on_point=on_point, sashed=bool(widths))
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
            strips=_finished(widths, how),
            framed=framed,
            cornerstones=cornerstones,
            between=between,
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


def _read(text: str, how: Conventions, known: Collection[str]) -> Said:
    """The sentence taken apart."""
    try:
        said = taken_apart(in_order(text, _FIELD), SETTING, known)
    except Problem as problem:
        raise _plain_blocks(text, how, known) or problem from problem
    said.text = text
    _spread_triangles(said)
    return said


def _spread_triangles(said: Said) -> None:
    """The fabric of side and corner triangles is that of each."""
    both = said.of(OUTER_TRIANGLES)
    if both is None:
        return
    for one in ("side triangles", "corner triangles"):
        if one in said.cloth_of:
            what = f'"{said.text}" names a fabric of {one} twice'
            raise Problem(_FIELD, what, "keep one of the two")
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
    both = said.after("across by down")
    if both and not across and not down:
        across, down = both.split()
    elif rows and not across and not down:
        down, across = rows.split()
    elif columns and not across and not down:
        across, down = columns.split()
    elif said.size and not across and not down:
        across, _, down = (part.strip() for part in said.size.partition("x"))
        said.size = ""
    if (
        across.isdigit()
        and down.isdigit()
        and (not said.size or "sash the blocks" in said.options)
        and int(across) * int(down)
    ):
        return int(across[:9]), int(down[:9])
    what = f'"{said.text}" does not say how many across and down'
    mend = "write it like 7 across, 8 down, or as large as it goes"
    raise Problem(_FIELD, what, mend)


def _sashing(said: Said, *, on_point: bool) -> tuple[tuple[str, ...], bool]:
    """Widths of the strips of a sash as typed, none without sashing, and whether it is framed; struck off."""
    found = [(kind, width) for kind in _SASHINGS if (width := said.after(kind))]
    if said.take("sash the blocks"):
        found += [("sashing", said.size)]
        said.size = ""
    outside = said.take(_OUTSIDE)
    if len(found) > 1:
        what = f'"{said.text}" says two kinds of sashing'
        raise Problem(_FIELD, what, "keep one: framed sashing runs round the quilt too")
    if not found and not outside:
        return (), False
    kind, width = found[0] if found else ("sashing", "")
    if not width:
        what = f'"{said.text}" does not say how wide the sashing is'
        raise Problem(_FIELD, what, "say its width, such as sashing 2")
    if outside and kind == "inner sashing":
        what = f'"{said.text}" says inner sashing, and that it goes round the outside'
        raise Problem(_FIELD, what, "leave inner out, or what is said of the outside")
    if on_point and kind == "inner sashing":
        what = f'"{said.text}": {_ALL_ROUND}, so that it is no inner one'
        mended = re.sub(r"(?i)\binner sashing\b", "sashing", said.text)
        # sashing and cornerstones come first: without a third fabric the triangles have none
        if 0 < len(said.cloths) < 3 and "side triangles" not in said.cloth_of:
            mended += ", side triangles from any"
        raise Problem(_FIELD, what, f'write "{mended}"')
    plain, word = qualified(width)
    if said.take("finished") and word:
        what = f'"{said.text}" says both {word} and finished'
        raise Problem(_FIELD, what, "keep one of the two")
    strips = tuple(f"{part.strip()} {word}".strip() for part in plain.split("+"))
    return strips, bool(outside) or kind == "framed sashing"


def _finished(widths: tuple[str, ...], how: Conventions) -> tuple[Length, ...]:
    """Finished widths of strips; of one that is said as cut two seams less."""
    return tuple(
        one_size(width, how, _FIELD) if qualified(width)[1] else width
        for width in widths
    )


def _refuse_both(said: Said, *, on_point: bool, sashed: bool) -> None:
    """See to it that blocks which are straight are not on point, and that those edge to edge have no sashing."""
    said.take("set")
    if said.take("straight") and on_point:
        what = f'"{said.text}" says both straight and on point'
        raise Problem(_FIELD, what, "keep one of the two")
    none = said.take("no sashing", "edge to edge")
    said.take("no sashing", "edge to edge")
    if none and sashed:
        what = f'"{said.text}" says {none}, and a sashing'
        raise Problem(_FIELD, what, "keep one of the two")


def _plain_blocks(
    text: str, how: Conventions, known: Collection[str]
) -> Problem | None:
    """What is told of plain blocks in a setting: they are blocks, and are said there; None where none are said."""
    plain, rest = without_plain_blocks(text)
    if not plain:
        return None
    what = f'"{plain}" in "{text}" is said of blocks, and plain ones stand under blocks with the others'
    words = [word for word in re.findall(r"[\w']+", plain) if word.lower() in known]
    of = words[-1] if words else "any"
    try:
        setting = setting_of(rest, how, known)
    except Problem:
        mend = (
            f'write a block such as "10 squares of 6 from {of}", as large as the others'
        )
        return Problem(_FIELD, what, mend)
    many = setting.places // 2
    if setting.on_point:
        many = (setting.across - 1) * (setting.down - 1)
    mend = f'write "{rest}" for the setting, and under blocks "{many} squares of 6 from {of}", as large as the others'
    return Problem(_FIELD, what, mend)


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
