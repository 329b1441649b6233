"""The sentences of quilt.toml: ``8 nine patches of 6 from oat and plum|bark, nice``.

A sentence reads: names and a colon (may be left out), how many, what kind, of what finished size,
options between commas, ``from`` fabrics (one for each kind of patch, joined by *and*; ``|`` for a preference), and
options of the wanted tables. Sizes are finished unless *cut* stands behind them.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace

from cutopt.errors import Problem
from cutopt.quilt.binding import folded
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.recipe.quilt import Border, Setting, bordered
from cutopt.quilt.surds import Exact, exact
from cutopt.quilt.wanted_parts import Cloth, ClothLike

_GRAIN = {
    "grain along": "along",
    "along the selvage": "along",
    "grain across": "across",
}
_IMPORTANCE = ("must", "nice", "if left")


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

    def after(self, word: str) -> str:
        """What stands behind a word in an option ("log 1"), and strike it off; "" where it was not said."""
        for option in self.options:
            if match := re.fullmatch(rf"(?:{word}) (.+)", option):
                self.options.remove(option)
                return match[1]
        return ""


def taken_apart(text: str, what: str) -> Said:
    """Names, count, kind, size, options and fabrics of a sentence; rules of the wanted tables go with the fabrics."""
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
    said.count, said.kind, said.size = (
        int((match[1] or "1")[:9]),
        " ".join(match[2].lower().split()),
        match[3] or "",
    )
    rules = _rules(said)
    said.cloths = tuple(replace(_cloth(each), **rules) for each in said.cloths) or (  # type: ignore[arg-type]
        (Cloth(**rules),) if rules else ()  # type: ignore[arg-type]
    )
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


def _rules(said: Said) -> dict[str, object]:
    """The rules of the wanted tables among the options, struck off."""
    rules: dict[str, object] = {}
    if said.take("upright", "the print stands up"):
        rules["upright"] = True
    if word := said.take(*_GRAIN):
        rules["grain"] = _GRAIN[word]
    if word := said.take(*_IMPORTANCE):
        rules["importance"] = word
    if word := said.after("together"):
        rules["together"] = word
    if word := said.after("at most"):
        number = re.fullmatch(r"(\d+)(?: (?:each|from one|of one fabric))?", word)
        if number is None:
            raise Problem(
                "at most",
                f'"at most {word}" is not a number',
                "write it like at most 10 each",
            )
        rules["most_each"] = int(number[1])
    return rules


def finish(said: Said, what: str) -> None:
    """A problem for each option that nobody took: none is passed over in silence."""
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
    """A finished size; ``5 cut`` is a cut size, two seams more."""
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
    """A finished width and length; one size stands for a square."""
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
    """``7 across, 8 down, inner sashing 2 with cornerstones, from oat and plum``; ``3 across, 4 down, on point``."""
    said = taken_apart(text, "setting")
    words = [
        " ".join([str(said.count), said.kind]) if said.kind else str(said.count),
        *said.options,
    ]
    numbers = {}
    for word in words[:]:
        if match := re.fullmatch(r"(\d+) (across|down)", word):
            numbers[match[2]] = int(match[1])
            words.remove(word)
    if set(numbers) != {"across", "down"}:
        raise Problem(
            "setting",
            f'"{text}" does not say how many across and down',
            "write it like 7 across, 8 down, or as large as it goes",
        )
    said.options = words
    on_point = bool(said.take("on point"))
    sashing = "none"
    sash = "0"
    corners = True
    for word in said.options[:]:
        match = re.fullmatch(
            r"(inner|framed) sashing (.+?)(?: (with|without) cornerstones)?", word
        )
        if match:
            said.options.remove(word)
            sashing = match[1]
            sash = match[2]
            corners = match[3] != "without"
    if said.take("without cornerstones"):
        corners = False
    said.take("with cornerstones", "straight")
    finish(said, "setting")
    if on_point and sashing != "none":
        raise Problem(
            "setting",
            "sashing between blocks on point is not worked out here",
            "leave one of the two out",
        )
    return Setting(
        across=numbers["across"],
        down=numbers["down"],
        on_point=on_point,
        sashing=sashing,  # type: ignore[arg-type]
        sash=how.read(sash, "setting"),
        cornerstones=corners,
        of=said.cloths,
    )


def border_of(
    text: str, inside: tuple[Exact, Exact], how: Conventions, name: str
) -> Border:
    """``inner border: 2 from oat, mitred``; ``3 from bark, corner squares from plum``."""
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
    """``from bark|plum``, ``2 1/4 from bark, bias``; the conventions with it, and the cloth."""
    said = taken_apart(
        f"1 binding of {text}" if not text.startswith("from ") else f"binding {text}",
        "binding",
    )
    if fold := said.take("double fold", "single fold"):
        how = folded(how, fold.removesuffix(" fold"))  # type: ignore[arg-type]
    changes: dict[str, object] = {}
    if said.size:
        changes["binding_width"] = int(how.read(said.size, "binding").plain)
    for key, words in (
        ("binding_cut", ("straight grain", "bias")),
        ("binding_finish", ("by hand", "by machine")),
        ("binding_join", ("diagonal joins", "straight joins", "pre-cut joins")),
    ):
        if word := said.take(*words):
            changes[key] = re.sub(r"^by | (grain|joins)$", "", word)
    finish(said, "binding")
    return replace(how, **changes), said.cloths[0] if said.cloths else None  # type: ignore[arg-type]


_BACK = {
    "seams up": ("back_run", "up"),
    "seams across": ("back_run", "across"),
    "no seam in the middle": ("back_middle", "never"),
    "no insert": ("back_insert", "never"),
}


def backing_words(
    text: str, how: Conventions
) -> tuple[tuple[str, ...], Conventions, bool]:
    """``oat|mist, seams across, no insert, upright``: fabrics and tags, the conventions with it, whether it stands.

    Any of what the shop sells is meant by no fabric at all.
    """
    first, *options = [part.strip() for part in text.removeprefix("from ").split(",")]
    upright = False
    changes = {}
    for option in (" ".join(option.lower().split()) for option in options):
        if option in ("upright", "the print stands up"):
            upright = True
        elif option in _BACK:
            key, value = _BACK[option]
            changes[key] = value
        else:
            raise Problem(
                "backing",
                f'"{option}" is not understood',
                "the options are: upright, " + ", ".join(_BACK),
            )
    words = tuple(word.strip() for word in first.split("|") if word.strip())
    any_ = first in ("any", "any fabric", "yes", "")
    return () if any_ else words, replace(how, **changes), upright  # type: ignore[arg-type]
