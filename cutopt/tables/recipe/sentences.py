"""The sentences of quilt.toml: ``8 nine patches of 6 from oat and plum|bark, nice``.

A sentence reads: names and a colon (may be left out), how many, what kind, of what finished size,
options between commas, ``from`` fabrics (one for each kind of patch, joined by *and*; ``|`` for a preference), and
options of the wanted tables. Sizes are finished unless *cut* stands behind them.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Final, Literal, TypeAlias, TypeVar

from cutopt.errors import Problem
from cutopt.quilt.binding import Fold, folded
from cutopt.quilt.block_settings import Sashing
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.recipe.setting import Border, Setting, bordered
from cutopt.quilt.surds import Exact, exact
from cutopt.quilt.wanted_parts import Cloth, ClothLike
from cutopt.wanted import Grain, Importance

Meaning = TypeVar("Meaning")
BindingCut: TypeAlias = Literal["straight", "bias"]
Finish: TypeAlias = Literal["hand", "machine"]
BindingJoin: TypeAlias = Literal["diagonal", "straight", "pre-cut"]
Run: TypeAlias = Literal["up", "across"]

_UPRIGHT: Final = ("upright", "the print stands up")
_GRAIN: Final[dict[str, Grain]] = {
    "grain along": "along",
    "along the selvage": "along",
    "grain across": "across",
}
_IMPORTANCE: Final[dict[str, Importance]] = {
    "must": "must",
    "nice": "nice",
    "if left": "if left",
}
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


@dataclass(slots=True)
class Said:
    """A sentence taken apart: names, count, kind, sizes, options that were not used yet, and fabrics."""

    text: str
    names: tuple[str, ...] = ()
    count: int = 1
    kind: str = ""
    size: str = ""
    options: list[str] = field(default_factory=list)
    cloths: tuple[ClothLike, ...] = ()

    def take(self, *words: str) -> str:
        """The first of these options that was said, and strike it off; "" where none was."""
        for option in self.options:
            if option in words:
                self.options.remove(option)
                return option
        return ""

    def meant(self, words: Mapping[str, Meaning]) -> Meaning | None:
        """What the first of these options that was said means, and strike it off; None where none was."""
        for option in self.options:
            if option in words:
                self.options.remove(option)
                return words[option]
        return None

    def after(self, word: str) -> str:
        """What stands behind a word in an option ("log 1"), and strike it off; "" where it was not said."""
        for option in self.options:
            if match := re.fullmatch(rf"(?:{word}) (.+)", option):
                self.options.remove(option)
                return match[1]
        return ""


def taken_apart(text: str, what: str) -> Said:
    """Names, count, kind, size, options and fabrics of a sentence; rules of the wanted tables go with the fabrics.

    Raises
    ------
    Problem
        Where fabrics are named twice, or a rule is not understood.
    """
    names, _, rest = text.partition(":") if ":" in text else ("", "", text)
    head, *options = [part.strip() for part in rest.split(",")]
    said = Said(
        text=text,
        names=tuple(
            name.strip() for name in re.split(r"\band\b|\+", names) if name.strip()
        ),
    )
    head, said.cloths = _from(head)
    for option in options:
        option, cloths = _from(option)
        if cloths and said.cloths:
            raise Problem(
                what,
                f'"{text}" says "from" twice',
                "name the fabrics once, joined by and",
            )
        said.cloths = said.cloths or cloths
        if option:
            said.options.append(" ".join(option.lower().split()))
    match = re.fullmatch(r"(?:(\d+)\s+)?(.*?)(?:\s+of\s+(.+))?", head)
    assert match is not None
    said.count = int((match[1] or "1")[:9])
    said.kind = " ".join(match[2].lower().split())
    said.size = match[3] or ""
    ruled = _ruled(said)
    fabrics = [_cloth(each).fabrics for each in said.cloths]
    said.cloths = tuple(replace(ruled, fabrics=names) for names in fabrics)
    if not fabrics and ruled != Cloth():
        said.cloths = (ruled,)
    return said


def _from(part: str) -> tuple[str, tuple[ClothLike, ...]]:
    """A part of a sentence before ``from``, and the fabrics behind it."""
    match = re.fullmatch(r"(?:(.*?)\s+)?from\s+(.+)", part, re.IGNORECASE)
    if match is None:
        return part, ()
    return match[1] or "", tuple(
        _cloth(word) for word in re.split(r"\s+and\s+", match[2])
    )


def _cloth(choice: ClothLike) -> Cloth:
    if isinstance(choice, Cloth):
        return choice
    words = tuple(word.strip() for word in (choice or "").split("|") if word.strip())
    return Cloth() if words == ("any fabric",) else Cloth(fabrics=words)


def _ruled(said: Said) -> Cloth:
    """Any fabric with the rules of the wanted tables that are among the options; they are struck off."""
    most = said.after("at most")
    return Cloth(
        upright=bool(said.take(*_UPRIGHT)),
        grain=said.meant(_GRAIN) or "any",
        importance=said.meant(_IMPORTANCE) or "must",
        together=said.after("together"),
        most_each=_most_each(most) if most else None,
    )


def _most_each(word: str) -> int:
    number = re.fullmatch(r"(\d+)(?: (?:each|from one|of one fabric))?", word)
    if number is None:
        what = f'"at most {word}" is not a number'
        raise Problem("at most", what, "write it like at most 10 each")
    return int(number[1])


def finish(said: Said, what: str) -> None:
    """See to it that no option is passed over in silence.

    Raises
    ------
    Problem
        For the first that nobody took.
    """
    if said.options:
        mend = f"the options are: {_OPTIONS.get(what, _RULES)}"
        raise Problem(
            what, f'"{said.options[0]}" in "{said.text}" is not understood', mend
        )


_RULES = (
    "upright, grain along, grain across, nice, if left, together WORD, at most N each, and those that the guide lists for "
    "this kind"
)
_OPTIONS = {
    "setting": "on point, inner sashing 2, framed sashing 2, with cornerstones, without cornerstones",
    "borders": "sides first, ends first, mitred, corner squares from oat, joined, in one piece, lengthwise",
    "binding": "double fold, single fold, straight grain, bias, by hand, by machine, diagonal joins, straight joins, "
    "pre-cut joins",
}


def one_size(text: str, how: Conventions, what: str) -> Exact:
    """A finished size; ``5 cut`` is a cut size, two seams more.

    Parameters
    ----------
    text : str
    how : Conventions
    what : str
        Named in the problem.

    Raises
    ------
    Problem
        Where it is none, or leaves nothing.
    """
    match = re.fullmatch(r"(.+?)\s+(cut|finished)", text.strip())
    plain, kind = (match[1], match[2]) if match else (text.strip(), "finished")
    if not plain:
        raise Problem(what, "a size is missing", "write it like of 6")
    size = how.read(plain, what)
    if kind == "cut":
        size = exact(how.cut_size(size)) - 2 * how.seam
    if size <= 0:
        raise Problem(
            what, f'"{text}" leaves nothing after the seams', "write a larger size"
        )
    return size


def two_sizes(text: str, how: Conventions, what: str) -> tuple[Exact, Exact]:
    """A finished width and length; one size stands for a square.

    Parameters
    ----------
    text : str
    how : Conventions
    what : str
        Named in the problem.

    Raises
    ------
    Problem
        Where it is none.
    """
    cut = " cut" if text.strip().endswith(" cut") else ""
    sides = re.split(
        r"\s*[x×]\s*(?=[\d.½¼¾⅛⅜⅝⅞])",
        text.strip().removesuffix(" cut").removesuffix(" finished"),
    )
    if len(sides) > 2:
        raise Problem(what, f'"{text}" is not a size', "write it like 6 x 12")
    sizes = [one_size(side + cut, how, what) for side in sides]
    return sizes[0], sizes[-1]


def setting_of(text: str, how: Conventions) -> Setting:
    """``7 across, 8 down, inner sashing 2 with cornerstones, from oat and plum``; ``3 across, 4 down, on point``.

    Raises
    ------
    Problem
        With the words that are not understood, and what to write.
    """
    said = taken_apart(text, "setting")
    # a sentence begins with its number, and a setting with how many are across
    first = f"{said.count} {said.kind}" if said.kind else str(said.count)
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
        corner_cloth = _cloth(match[1])
    said = taken_apart(f"1 border of {rest.strip()}", "borders")
    corner = said.take("sides first", "ends first", "mitred", "corner squares")
    cut = said.take("joined", "in one piece", "lengthwise")
    finish(said, "borders")
    width = one_size(said.size, how, "borders")
    of = said.cloths[0] if said.cloths else None
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
    sentence = f"1 binding of {text}" if sized else f"binding {text}"
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
        if option in _UPRIGHT:
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
