"""The sentences of quilt.toml: ``8 nine patches of 6 from oat and plum|bark, nice``.

A sentence reads: names and a colon (may be left out), how many, what kind, of what finished size,
options between commas, ``from`` fabrics (one for each kind of patch, joined by *and*; ``|`` for a preference), and
options of the wanted tables. Sizes are finished unless *cut* stands behind them.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Final, TypeVar

from cutopt.errors import Problem
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.surds import Exact, exact
from cutopt.quilt.wanted_parts import ClothLike, ClothWanted
from cutopt.wanted import Grain, Importance

Meaning = TypeVar("Meaning")

UPRIGHT: Final = ("upright", "the print stands up")
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
    fabrics = [cloth_said(each).fabrics for each in said.cloths]
    said.cloths = tuple(replace(ruled, fabrics=names) for names in fabrics)
    if not fabrics and ruled != ClothWanted():
        said.cloths = (ruled,)
    return said


def _from(part: str) -> tuple[str, tuple[ClothLike, ...]]:
    """A part of a sentence before ``from``, and the fabrics behind it."""
    match = re.fullmatch(r"(?:(.*?)\s+)?from\s+(.+)", part, re.IGNORECASE)
    if match is None:
        return part, ()
    return match[1] or "", tuple(
        cloth_said(word) for word in re.split(r"\s+and\s+", match[2])
    )


def cloth_said(choice: ClothLike) -> ClothWanted:
    """The cloth that words between ``from`` and ``and`` mean: ``pear|any light``."""
    if isinstance(choice, ClothWanted):
        return choice
    words = tuple(word.strip() for word in (choice or "").split("|") if word.strip())
    if words == ("any fabric",):
        return ClothWanted()
    return ClothWanted(fabrics=words)


def _ruled(said: Said) -> ClothWanted:
    """Any fabric with the rules of the wanted tables that are among the options; they are struck off."""
    most = said.after("at most")
    return ClothWanted(
        upright=bool(said.take(*UPRIGHT)),
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
    if text.strip().endswith(" cut"):
        cut = " cut"
    else:
        cut = ""
    sides = re.split(
        r"\s*[x×]\s*(?=[\d.½¼¾⅛⅜⅝⅞])",
        text.strip().removesuffix(" cut").removesuffix(" finished"),
    )
    if len(sides) > 2:
        raise Problem(what, f'"{text}" is not a size', "write it like 6 x 12")
    sizes = [one_size(side + cut, how, what) for side in sides]
    return sizes[0], sizes[-1]
