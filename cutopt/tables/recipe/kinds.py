"""Kinds of blocks and of small articles that a sentence of quilt.toml may ask for.

A new kind is a function here that takes a sentence apart, and one in :mod:`cutopt.quilt.recipe.block_patches` that draws it.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from typing import Final, TypeAlias, get_args

from cutopt.errors import Problem
from cutopt.quilt import articles, bags, block_sums, covers, triangles
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.recipe import block_patches as make
from cutopt.quilt.recipe.block import Block
from cutopt.quilt.recipe.block_patches import Bar
from cutopt.quilt.wanted_parts import ClothLike, Made
from cutopt.tables.columns import nearest
from cutopt.tables.recipe.sentences import (
    Said,
    finish,
    one_size,
    taken_apart,
    two_sizes,
)

_METHODS: Final[dict[str, triangles.Ways]] = {
    method: method for method in get_args(triangles.Ways)
}
_TURNED: Final[dict[str, block_sums.Turned]] = {
    turned: turned for turned in get_args(block_sums.Turned)
}
_CUT: Final = " cut"


Maker: TypeAlias = Callable[[Said, str, Conventions], Block]


def _square(said: Said, name: str, how: Conventions) -> Block:
    return make.plain(
        name, said.count, two_sizes(said.size, how, "blocks"), said.cloths, how
    )


def _four(said: Said, name: str, how: Conventions) -> Block:
    return make.checkered(
        name, said.count, one_size(said.size, how, "blocks"), 2, said.cloths, how
    )


def _nine(said: Said, name: str, how: Conventions) -> Block:
    return make.checkered(
        name, said.count, one_size(said.size, how, "blocks"), 3, said.cloths, how
    )


def _halves(said: Said, name: str, how: Conventions) -> Block:
    method = said.meant(_METHODS) or "two at a time"
    return make.half_squares(
        name,
        said.count,
        one_size(said.size, how, "blocks"),
        said.cloths,
        how,
        method,
    )


def _quarters(said: Said, name: str, how: Conventions) -> Block:
    return make.quarter_squares(
        name, said.count, one_size(said.size, how, "blocks"), said.cloths, how
    )


def _hours(said: Said, name: str, how: Conventions) -> Block:
    return make.hourglasses(
        name, said.count, one_size(said.size, how, "blocks"), said.cloths, how
    )


def _geese(said: Said, name: str, how: Conventions) -> Block:
    flipped = said.take("stitch and flip", "no waste") == "stitch and flip"
    sides = two_sizes(said.size, how, "blocks")
    if " x " in said.size and sides[0] != 2 * sides[1]:
        raise Problem(
            "blocks",
            f'"{said.size}" is not twice as wide as high',
            "write it like 6 x 3, or 6",
        )
    return make.geese(
        name, said.count, sides[0], said.cloths, how, no_waste=not flipped
    )


def _diamond(said: Said, name: str, how: Conventions) -> Block:
    return make.square_in_square(
        name, said.count, one_size(said.size, how, "blocks"), said.cloths, how
    )


def _disappearing(said: Said, name: str, how: Conventions) -> Block:
    turned = said.meant(_TURNED) or "as cut"
    if said.size.endswith(_CUT):
        cut = one_size(said.size, how, "blocks") + 2 * how.seam
    else:
        cut = None
    if cut is None:
        raise Problem(
            "blocks",
            f'"{said.size}" is not a cut size',
            "write the size of the nine squares, like of 5 cut",
        )
    return make.disappearing(name, said.count, cut, said.cloths, how, turned)


def _cabin(said: Said, name: str, how: Conventions) -> Block:
    centre = said.after("centre|center")
    log = said.after("logs?")
    rounds = said.after("rounds?")
    if not (centre and log and rounds.isdigit()):
        raise Problem(
            "blocks",
            f'"{said.text}" lacks centre, logs or rounds',
            "write , centre 2, logs 1, rounds 3,",
        )
    block = make.log_cabins(
        name,
        said.count,
        one_size(centre, how, "blocks"),
        one_size(log, how, "blocks"),
        int(rounds),
        said.cloths,
        how,
    )
    if said.size and one_size(said.size, how, "blocks") != block.made.width:
        shown = how.show(block.made.width)
        raise Problem(
            "blocks",
            f'"{said.text}" comes to a block of {shown}',
            f"write of {shown}, or change the logs",
        )
    return block


def _segment(said: Said, name: str, how: Conventions) -> Block:
    long = said.after("segments?|cut every")
    if said.size:
        widths = tuple(one_size(width, how, "blocks") for width in said.size.split("+"))
    else:
        widths = ()
    if not (widths and long):
        raise Problem(
            "blocks",
            f'"{said.text}" lacks widths or segments',
            "write of 2 + 2 + 2, segments 6,",
        )
    return make.segments(
        name, said.count, widths, one_size(long, how, "blocks"), said.cloths, how
    )


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
    plain = word.replace("half square", "half-square").replace(
        "quarter square", "quarter-square"
    )
    for kind in known:
        if kind in KINDS:
            one = KINDS[kind][0]
        else:
            one = kind.removesuffix("s")
        if plain in (
            kind,
            one,
            kind.removesuffix("es"),
            kind.removesuffix("s"),
            kind.removesuffix(" units"),
        ):
            return kind
    guess = nearest(plain, known)
    if guess:
        mend = f'did you mean "{guess}"?'
    else:
        mend = "write one of: " + ", ".join(known)
    raise Problem(what, f'"{word}" in "{text}" is not known here', mend)


def block_of(text: str, how: Conventions, count: int | None = None) -> Block:
    """The blocks that a sentence asks for, or so many of them.

    Parameters
    ----------
    text : str
    how : Conventions
    count : int, optional
        How many in place of what is said.

    Raises
    ------
    Problem
        With the words that are not understood, and what to write.
    """
    if re.search(r"\s+made of\s+", text):
        return _bars(text, how, count)
    said = taken_apart(text, "blocks")
    said.count = said.count if count is None else count
    kind = _kind(said.kind, tuple(KINDS), "blocks", text)
    if len(said.names) == 1:
        name = said.names[0]
    else:
        name = KINDS[kind][0]
    block = KINDS[kind][1](said, name, how)
    finish(said, "blocks")
    if len(said.names) > 1:
        return block.renamed(said.names)
    return block


def _bars(text: str, how: Conventions, count: int | None) -> Block:
    """``10 blocks of 6 made of 1 window of 4 from blossom, upright; 1 trunk of 2 from bark``."""
    head, rest = re.split(r"\s+made of\s+", text, maxsplit=1)
    said = taken_apart(head, "blocks")
    if said.kind not in ("blocks", "block"):
        raise Problem(
            "blocks",
            f'"{head}" is not understood',
            "write it like 10 blocks of 6 made of ...",
        )
    parts = []
    for part in rest.split(";"):
        one = taken_apart(part.strip(), "blocks")
        finish(one, "blocks")
        if one.cloths:
            of = one.cloths[0]
        else:
            of = None
        parts.append(
            Bar(
                name=one.kind,
                times=one.count,
                width=one_size(one.size, how, "blocks"),
                of=of,
            )
        )
    finish(said, "blocks")
    if said.names:
        name = said.names[0]
    else:
        name = " and ".join(part.name for part in parts)
    return make.bars(
        name,
        said.count if count is None else count,
        two_sizes(said.size, how, "blocks"),
        parts,
        how,
    )


def article_of(text: str, how: Conventions) -> Made:
    """``2 cushions of 18 from pear and oat``, ``runner of 14 x 48 from ...``, ``6 place mats from ...``."""
    said = taken_apart(text, "articles")
    kind = _kind(said.kind, tuple(ARTICLES), "articles", text)
    made = ARTICLES[kind](
        said, said.names[0] if said.names else kind.removesuffix("s"), how
    )
    finish(said, "articles")
    return made


def _cloths(said: Said, n: int) -> tuple[ClothLike, ...]:
    """One cloth for each part, the last again where fewer are named."""
    have = said.cloths or (None,)
    return tuple(have[min(i, len(have) - 1)] for i in range(n))


def _cushion(said: Said, name: str, how: Conventions) -> Made:
    front, back = _cloths(said, 2)
    return covers.envelope_cushion(
        one_size(said.size, how, "articles"), said.count, (front, back), how, name=name
    )


def _pillowcase(said: Said, name: str, how: Conventions) -> Made:
    w, h = two_sizes(said.size, how, "articles")
    body, cuff = _cloths(said, 2)
    return covers.pillowcase(w, h, said.count, (body, cuff), how, name=name)


def _runner(said: Said, name: str, how: Conventions) -> Made:
    w, h = two_sizes(said.size, how, "articles")
    top, back, bound = _cloths(said, 3)
    return articles.runner(w, h, said.count, (top, back, bound), how, name=name)


def _mats(what: str) -> Callable[[Said, str, Conventions], Made]:
    def made(said: Said, name: str, how: Conventions) -> Made:
        front, back = _cloths(said, 2)
        w, h = two_sizes(said.size, how, "articles") if said.size else (None, None)
        return articles.turned_through(what, said.count, (front, back), how, w, h, name)

    return made


def _bibs(said: Said, name: str, how: Conventions) -> Made:
    front, back = _cloths(said, 2)
    if not said.size:
        return articles.bibs(said.count, (front, back), how, name=name)
    if not said.size.endswith(_CUT):
        raise Problem(
            "articles",
            f'"{said.size}" is not a cut size',
            "write it like of 10 x 14 cut",
        )
    sides = re.split(r"\s*[x×]\s*", said.size.removesuffix(_CUT))
    if len(sides) != 2:
        raise Problem(
            "articles",
            f'"{said.size}" is not a width and a length',
            "write it like of 10 x 14 cut",
        )
    w, h = (how.read(side, "articles") for side in sides)
    return articles.bibs(said.count, (front, back), how, w, h, name)


def _holders(said: Said, name: str, how: Conventions) -> Made:
    layer, bound = _cloths(said, 2)
    return articles.pot_holder(
        one_size(said.size, how, "articles"), said.count, (layer, bound), how, name=name
    )


def _napkins(said: Said, name: str, how: Conventions) -> Made:
    if not said.size:
        return articles.napkins(said.count, _cloths(said, 1)[0], how, name=name)
    cut = how.read(said.size.removesuffix(_CUT), "articles")
    return articles.napkins(said.count, _cloths(said, 1)[0], how, cut, name=name)


def _tote(said: Said, name: str, how: Conventions) -> Made:
    sides = re.split(r"\s*[x×]\s*", said.size.strip())
    if len(sides) != 3:
        raise Problem(
            "articles",
            f'"{said.size}" is not a width, a height and a depth',
            "write it like 13 x 14 x 4",
        )
    w, h, d = (one_size(side, how, "articles") for side in sides)
    body, lining = _cloths(said, 2)
    return bags.tote(w, h, d, said.count, (body, lining), how, name=name)


def _bag(said: Said, name: str, how: Conventions) -> Made:
    w, h = two_sizes(said.size, how, "articles")
    return bags.drawstring_bag(w, h, said.count, _cloths(said, 1)[0], how, name=name)


ARTICLES: Final[dict[str, Callable[[Said, str, Conventions], Made]]] = {
    "cushions": _cushion,
    "pillowcases": _pillowcase,
    "runners": _runner,
    "place mats": _mats("place mat"),
    "mug mats": _mats("mug mat"),
    "burp cloths": _mats("burp cloth"),
    "bibs": _bibs,
    "pot holders": _holders,
    "napkins": _napkins,
    "totes": _tote,
    "drawstring bags": _bag,
}
