"""The sentences of quilt.toml: ``8 nine patches of 6 from oat and plum|bark, nice``.

A sentence about blocks reads: names and a colon (may be left out), how many, what kind, of what finished size,
options between commas, ``from`` fabrics (one for each kind of patch, joined by *and*; ``|`` for a preference), and
options of the wanted tables. Sizes are finished unless *cut* stands behind them.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from typing import Final, TypeAlias

from cutopt.answers import blocks as make
from cutopt.answers.blocks import Bar, Block
from cutopt.answers.recipe import Border, Setting, bordered
from cutopt.errors import Problem
from cutopt.quilt import articles
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.exact import Exact, exact
from cutopt.quilt.parts import Cloth, ClothLike, Made
from cutopt.tables.columns import nearest

_GRAIN = {"grain along": "along", "along the selvage": "along", "grain across": "across"}
_IMPORTANCE = ("must", "nice", "if left")
_METHODS: Final = ("cut once", "two at a time", "four at a time", "eight at a time")
_TURNED: Final = ("as cut", "every other one", "all turned", "pinwheel")


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
    said = Said(text=text, names=tuple(name.strip() for name in re.split(r"\band\b|\+", names) if name.strip()))
    head, said.cloths = _from(head)
    for option in options:
        option, cloths = _from(option)
        if cloths and said.cloths:
            raise Problem(what, f'"{text}" says "from" twice', "name the fabrics once, joined by and")
        said.cloths = said.cloths or cloths
        if option:
            said.options.append(" ".join(option.lower().split()))
    match = re.fullmatch(r"(?:(\d+)\s+)?(.*?)(?:\s+of\s+(.+))?", head)
    assert match is not None
    said.count, said.kind, said.size = int(match[1] or 1), " ".join(match[2].lower().split()), match[3] or ""
    rules = _rules(said)
    said.cloths = tuple(replace(_cloth(each), **rules) for each in said.cloths) or ((Cloth(**rules),) if rules else ())  # type: ignore[arg-type]
    return said


def _from(part: str) -> tuple[str, tuple[ClothLike, ...]]:
    """A part of a sentence before ``from``, and the fabrics behind it."""
    match = re.fullmatch(r"(?:(.*?)\s+)?from\s+(.+)", part, re.IGNORECASE)
    if match is None:
        return part, ()
    return match[1] or "", tuple(_cloth(word) for word in re.split(r"\s+and\s+", match[2]))


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
            raise Problem("at most", f'"at most {word}" is not a number', "write it like at most 10 each")
        rules["most_each"] = int(number[1])
    return rules


def finish(said: Said, what: str) -> None:
    """A problem for each option that nobody took: none is passed over in silence."""
    if said.options:
        raise Problem(what, f'"{said.options[0]}" in "{said.text}" is not understood', _OPTIONS)


_OPTIONS = (
    "the options are: upright, grain along, grain across, nice, if left, together WORD, at most N each, and those "
    "that README lists for this kind"
)


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
        raise Problem(what, f'"{text}" leaves nothing after the seams', "write a larger size")
    return size


def two_sizes(text: str, how: Conventions, what: str) -> tuple[Exact, Exact]:
    """A finished width and length; one size stands for a square."""
    cut = " cut" if text.strip().endswith(" cut") else ""
    sides = re.split(r"\s*[x×]\s*(?=[\d.½¼¾⅛⅜⅝⅞])", text.strip().removesuffix(" cut").removesuffix(" finished"))
    if len(sides) > 2:
        raise Problem(what, f'"{text}" is not a size', "write it like 6 x 12")
    sizes = [one_size(side + cut, how, what) for side in sides]
    return sizes[0], sizes[-1]


Maker: TypeAlias = Callable[[Said, str, Conventions], Block]


def _square(said: Said, name: str, how: Conventions) -> Block:
    return make.plain(name, said.count, two_sizes(said.size, how, "blocks"), said.cloths, how)


def _four(said: Said, name: str, how: Conventions) -> Block:
    return make.checkered(name, said.count, one_size(said.size, how, "blocks"), 2, said.cloths, how)


def _nine(said: Said, name: str, how: Conventions) -> Block:
    return make.checkered(name, said.count, one_size(said.size, how, "blocks"), 3, said.cloths, how)


def _halves(said: Said, name: str, how: Conventions) -> Block:
    method = said.take(*_METHODS) or "two at a time"
    return make.half_squares(name, said.count, one_size(said.size, how, "blocks"), said.cloths, how, method)  # type: ignore[arg-type]


def _quarters(said: Said, name: str, how: Conventions) -> Block:
    return make.quarter_squares(name, said.count, one_size(said.size, how, "blocks"), said.cloths, how)


def _hours(said: Said, name: str, how: Conventions) -> Block:
    return make.hourglasses(name, said.count, one_size(said.size, how, "blocks"), said.cloths, how)


def _geese(said: Said, name: str, how: Conventions) -> Block:
    flipped = bool(said.take("stitch and flip")) or not (said.take("no waste") or True)
    sides = two_sizes(said.size, how, "blocks")
    if " x " in said.size and sides[0] != 2 * sides[1]:
        raise Problem("blocks", f'"{said.size}" is not twice as wide as high', "write it like 6 x 3, or 6")
    return make.geese(name, said.count, sides[0], said.cloths, how, no_waste=not flipped)


def _diamond(said: Said, name: str, how: Conventions) -> Block:
    return make.square_in_square(name, said.count, one_size(said.size, how, "blocks"), said.cloths, how)


def _disappearing(said: Said, name: str, how: Conventions) -> Block:
    turned = said.take(*_TURNED) or "as cut"
    cut = one_size(said.size, how, "blocks") + 2 * how.seam if said.size.endswith(" cut") else None
    if cut is None:
        raise Problem("blocks", f'"{said.size}" is not a cut size', "write the size of the nine squares, like of 5 cut")
    return make.disappearing(name, said.count, cut, said.cloths, how, turned)  # type: ignore[arg-type]


def _cabin(said: Said, name: str, how: Conventions) -> Block:
    centre, log, rounds = said.after("centre|center"), said.after("logs?"), said.after("rounds?")
    if not (centre and log and rounds.isdigit()):
        raise Problem("blocks", f'"{said.text}" lacks centre, logs or rounds', "write , centre 2, logs 1, rounds 3,")
    block = make.log_cabins(name, said.count, one_size(centre, how, "blocks"), one_size(log, how, "blocks"),
                            int(rounds), said.cloths, how)  # fmt: skip
    if said.size and one_size(said.size, how, "blocks") != block.made.width:
        shown = how.show(block.made.width)
        raise Problem("blocks", f'"{said.text}" comes to a block of {shown}', f"write of {shown}, or change the logs")
    return block


def _segment(said: Said, name: str, how: Conventions) -> Block:
    long = said.after("segments?|cut every")
    widths = tuple(one_size(width, how, "blocks") for width in said.size.split("+")) if said.size else ()
    if not (widths and long):
        raise Problem("blocks", f'"{said.text}" lacks widths or segments', "write of 2 + 2 + 2, segments 6,")
    return make.segments(name, said.count, widths, one_size(long, how, "blocks"), said.cloths, how)


KINDS: Final[dict[str, tuple[str, Maker]]] = {
    "squares": ("square", _square),
    "rectangles": ("rectangle", _square),
    "four patches": ("four patch", _four),
    "nine patches": ("nine patch", _nine),
    "half-square triangles": ("half-square triangle", _halves),
    "quarter-square triangles": ("quarter-square triangle", _quarters),
    "hourglasses": ("hourglass", _hours),
    "flying geese": ("goose", _geese),
    "squares in a square": ("square in a square", _diamond),
    "disappearing nine patches": ("disappearing nine patch", _disappearing),
    "log cabins": ("log cabin", _cabin),
    "strip sets": ("strip set", _segment),
}


def _kind(word: str, known: Sequence[str], what: str, text: str) -> str:
    """The kind that a word means, one or many of it."""
    plain = word.replace("half square", "half-square").replace("quarter square", "quarter-square")
    for kind in known:
        one = KINDS[kind][0] if kind in KINDS else kind.removesuffix("s")
        if plain in (kind, one, kind.removesuffix("es"), kind.removesuffix("s"), kind.removesuffix(" units")):
            return kind
    guess = nearest(plain, known)
    mend = f'did you mean "{guess}"?' if guess else "write one of: " + ", ".join(known)
    raise Problem(what, f'"{word}" in "{text}" is not known here', mend)


def block_of(text: str, how: Conventions) -> Block:
    """The blocks that a sentence asks for.

    Raises
    ------
    Problem
        With the words that are not understood, and what to write.
    """
    if re.search(r"\s+made of\s+", text):
        return _bars(text, how)
    said = taken_apart(text, "blocks")
    kind = _kind(said.kind, tuple(KINDS), "blocks", text)
    name = said.names[0] if len(said.names) == 1 else KINDS[kind][0]
    block = KINDS[kind][1](said, name, how)
    finish(said, "blocks")
    return block.renamed(said.names) if len(said.names) > 1 else block


def _bars(text: str, how: Conventions) -> Block:
    """``10 blocks of 6 made of 1 window of 4 from blossom, upright; 1 trunk of 2 from bark``."""
    head, rest = re.split(r"\s+made of\s+", text, maxsplit=1)
    said = taken_apart(head, "blocks")
    if said.kind not in ("blocks", "block"):
        raise Problem("blocks", f'"{head}" is not understood', "write it like 10 blocks of 6 made of ...")
    parts = []
    for part in rest.split(";"):
        one = taken_apart(part.strip(), "blocks")
        finish(one, "blocks")
        of = one.cloths[0] if one.cloths else None
        parts.append(Bar(name=one.kind, times=one.count, width=one_size(one.size, how, "blocks"), of=of))
    finish(said, "blocks")
    name = said.names[0] if said.names else " and ".join(part.name for part in parts)
    return make.bars(name, said.count, two_sizes(said.size, how, "blocks"), parts, how)


def setting_of(text: str, how: Conventions) -> Setting:
    """``7 across, 8 down, inner sashing 2 with cornerstones, from oat and plum``; ``3 across, 4 down, on point``."""
    said = taken_apart(text, "setting")
    words = [" ".join([str(said.count), said.kind]) if said.kind else str(said.count), *said.options]
    numbers = {}
    for word in words[:]:
        if match := re.fullmatch(r"(\d+) (across|down)", word):
            numbers[match[2]] = int(match[1])
            words.remove(word)
    if set(numbers) != {"across", "down"}:
        raise Problem("setting", f'"{text}" does not say how many across and down', "write it like 7 across, 8 down")
    said.options = words
    on_point, sashing, sash, corners = bool(said.take("on point")), "none", "0", True
    for word in said.options[:]:
        match = re.fullmatch(r"(inner|framed) sashing (.+?)(?: (with|without) cornerstones)?", word)
        if match:
            said.options.remove(word)
            sashing, sash, corners = match[1], match[2], match[3] != "without"
    if said.take("without cornerstones"):
        corners = False
    said.take("with cornerstones", "straight")
    finish(said, "setting")
    if on_point and sashing != "none":
        raise Problem("setting", "sashing between blocks on point is not worked out here", "leave one of the two out")
    return Setting(
        across=numbers["across"], down=numbers["down"], on_point=on_point, sashing=sashing,  # type: ignore[arg-type]
        sash=how.read(sash, "setting"), cornerstones=corners, of=said.cloths,
    )  # fmt: skip


def border_of(text: str, inside: tuple[Exact, Exact], how: Conventions, name: str) -> Border:
    """``inner border: 2 from oat, mitred``; ``3 from bark, corner squares from plum``."""
    names, _, rest = text.partition(":") if ":" in text else ("", "", text)
    rest, corner_cloth = re.sub(r",?\s*corner squares from ([^,]+)", ", corner squares", rest), None
    if match := re.search(r"corner squares from ([^,]+)", text):
        corner_cloth = _cloth(match[1])
    said = taken_apart(f"1 border of {rest.strip()}", "borders")
    corner = said.take("sides first", "ends first", "mitred", "corner squares")
    cut = said.take("joined", "lengthwise")
    finish(said, "borders")
    width = one_size(said.size, how, "borders")
    of = said.cloths[0] if said.cloths else None
    return bordered(inside, width, of, how, names.strip() or name, corner_cloth, corner, cut)


def binding_words(text: str, how: Conventions) -> tuple[Conventions, ClothLike]:
    """``from bark|plum``, ``2 1/4 from bark, bias``; the conventions with it, and the cloth."""
    said = taken_apart(f"1 binding of {text}" if not text.startswith("from ") else f"binding {text}", "binding")
    changes: dict[str, object] = {}
    if said.size:
        changes["binding_width"] = int(how.read(said.size, "binding").plain)
    for key, words in (
        ("binding_fold", ("double fold", "single fold")), ("binding_cut", ("straight grain", "bias")),
        ("binding_finish", ("by hand", "by machine")),
        ("binding_join", ("diagonal joins", "straight joins", "pre-cut joins")),
    ):  # fmt: skip
        if word := said.take(*words):
            changes[key] = re.sub(r"^by | (fold|grain|joins)$", "", word)
    finish(said, "binding")
    return replace(how, **changes), said.cloths[0] if said.cloths else None  # type: ignore[arg-type]


def article_of(text: str, how: Conventions) -> Made:
    """``2 cushions of 18 from pear and oat``, ``runner of 14 x 48 from ...``, ``6 place mats from ...``."""
    said = taken_apart(text, "articles")
    kind = _kind(said.kind, tuple(ARTICLES), "articles", text)
    made = ARTICLES[kind](said, said.names[0] if said.names else kind.removesuffix("s"), how)
    finish(said, "articles")
    return made


def _cloths(said: Said, n: int) -> tuple[ClothLike, ...]:
    """One cloth for each part, the last again where fewer are named."""
    have = said.cloths or (None,)
    return tuple(have[min(i, len(have) - 1)] for i in range(n))


def _cushion(said: Said, name: str, how: Conventions) -> Made:
    front, back = _cloths(said, 2)
    return articles.envelope_cushion(one_size(said.size, how, "articles"), said.count, (front, back), how, name=name)


def _pillowcase(said: Said, name: str, how: Conventions) -> Made:
    w, h = two_sizes(said.size, how, "articles")
    body, cuff = _cloths(said, 2)
    return articles.pillowcase(w, h, said.count, (body, cuff), how, name=name)


def _runner(said: Said, name: str, how: Conventions) -> Made:
    w, h = two_sizes(said.size, how, "articles")
    top, back, bound = _cloths(said, 3)
    return articles.runner(w, h, said.count, (top, back, bound), how, name=name)


def _mats(said: Said, name: str, how: Conventions) -> Made:
    front, back = _cloths(said, 2)
    if not said.size:
        return articles.place_mats(said.count, (front, back), how, name=name)
    w, h = two_sizes(said.size, how, "articles")
    return articles.place_mats(said.count, (front, back), how, w, h, name=name)


def _holders(said: Said, name: str, how: Conventions) -> Made:
    layer, bound = _cloths(said, 2)
    return articles.pot_holder(one_size(said.size, how, "articles"), said.count, (layer, bound), how, name=name)


def _napkins(said: Said, name: str, how: Conventions) -> Made:
    if not said.size:
        return articles.napkins(said.count, _cloths(said, 1)[0], how, name=name)
    cut = how.read(said.size.removesuffix(" cut"), "articles")
    return articles.napkins(said.count, _cloths(said, 1)[0], how, cut, name=name)


ARTICLES: Final[dict[str, Callable[[Said, str, Conventions], Made]]] = {
    "cushions": _cushion, "pillowcases": _pillowcase, "runners": _runner, "place mats": _mats,
    "pot holders": _holders, "napkins": _napkins,
}  # fmt: skip
