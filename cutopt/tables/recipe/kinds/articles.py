"""Small articles, as their sentences say them: ``2 cushions of 18 from pear and oat``, ``6 place mats from ...``."""

from __future__ import annotations

import re
from collections.abc import Callable, Collection
from functools import partial
from typing import Final

from cutopt.errors import Problem
from cutopt.quilt import articles, covers
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.surds import Exact
from cutopt.quilt.wanted_parts import Made
from cutopt.tables.recipe.kinds.bags import BAGS
from cutopt.tables.recipe.kinds.parts_of_articles import (
    BACKING,
    BACKS,
    BINDING,
    BOTH,
    FIELD,
    FRONTS,
    cloths_of,
)
from cutopt.tables.sentences.rules import all_cloths, refuse_unused
from cutopt.tables.sentences.said import Said
from cutopt.tables.sentences.sizes import (
    CUT,
    one_size,
    qualified,
    sides_of,
    two_sizes,
)
from cutopt.tables.sentences.taking_apart import kind_in, reads_by
from cutopt.tables.sentences.vocabulary import Kind

# a top of blocks is that of a quilt
_PATCHWORK: Final = re.compile(
    r"\b(?:made\s+(?:from|of)\s+(?:\w+\s+)?patchwork\s+\w+|patchwork|pieced (?:tops?|fronts?))\b",
    re.IGNORECASE,
)


def _cushion(said: Said, name: str, how: Conventions) -> Made:
    front, back = cloths_of(said, "backs")
    said.take("envelope closure")
    said.size = _one_of(said, said.size, said.after("form"))
    size = two_sizes(said.size, how, FIELD)
    if said.take("oblong") and size[0] == size[1]:
        what = f'"{said.size}" in "{said.text}" is not oblong'
        raise Problem(FIELD, what, "write its width and height, such as 12 x 20")
    return covers.envelope_cushion(
        size,
        said.many,
        (front, back),
        how,
        overlap=_length(said, "overlap", how),
        hem=_length(said, "hem", how),
        name=name,
    )


def _one_of(said: Said, *sizes: str) -> str:
    """The one size that is said in any of several ways.

    Raises
    ------
    Problem
        Where none is, or more than one.
    """
    told = [size for size in sizes if size]
    if len(told) == 1:
        return told[0]
    if told:
        what = f'"{said.text}" says two sizes: {" and ".join(told)}'
        raise Problem(FIELD, what, "keep one of the two")
    what = f'"{said.text}" does not say of what size'
    raise Problem(FIELD, what, 'write it like "2 cushions of 18 from oat and plum"')


def _sham(said: Said, name: str, how: Conventions) -> Made:
    """A cover as large as the pillow, which closes like that of a cushion."""
    pillow = said.take(*covers.PILLOWS)
    front, back = cloths_of(said, "backs")
    said.take("envelope closure")
    size = _one_of(said, said.size, pillow)
    w, h = covers.PILLOWS[pillow] if pillow else (0, 0)
    sides = (how.read(f"{w} in"), how.read(f"{h} in"))
    if not pillow:
        sides = two_sizes(size, how, FIELD)
    return covers.envelope_cushion(sides, said.many, (front, back), how, name=name)


def _length(said: Said, phrase: str, how: Conventions) -> Exact | None:
    """What stands in the place of an option, None where it is not said."""
    length = said.after(phrase)
    if not length:
        return None
    return how.read(length, FIELD)


def _pillowcase(said: Said, name: str, how: Conventions) -> Made:
    pillow = said.take(*covers.PILLOWS)
    if bool(pillow) == bool(said.size):
        what = f'"{said.text}" needs a size, or the pillow that it is for'
        mend = "write it like of 20 x 30, or like for standard pillows"
        raise Problem(FIELD, what, mend)
    if pillow:
        w, h = covers.pillowcase_for(pillow, how)
    else:
        w, h = two_sizes(said.size, how, FIELD)
    body, cuff = cloths_of(said, "cuffs")
    depth = _length(said, "cuff", how)
    return covers.pillowcase(w, h, said.many, (body, cuff), how, depth, name=name)


def _runner(said: Said, name: str, how: Conventions) -> Made:
    w, h = two_sizes(said.size, how, FIELD)
    top, back, bound = cloths_of(said, "backing", "binding")
    return articles.runner(w, h, said.many, (top, back, bound), how, name=name)


def _mats(what: str) -> Callable[[Said, str, Conventions], Made]:
    def made(said: Said, name: str, how: Conventions) -> Made:
        front, back = cloths_of(said, "backs")
        w, h = two_sizes(said.size, how, FIELD) if said.size else (None, None)
        return articles.turned_through(what, said.many, (front, back), how, w, h, name)

    return made


def _bibs(said: Said, name: str, how: Conventions) -> Made:
    front, back = cloths_of(said, "backs")
    if not said.size:
        return articles.bibs(said.many, (front, back), how, name=name)
    plain, word = qualified(said.size)
    if word != CUT:
        what = f'"{said.size}" is not a cut size'
        raise Problem(FIELD, what, "write it like of 10 x 14 cut")
    sides = sides_of(plain)
    if len(sides) != 2:
        what = f'"{said.size}" is not a width and a length'
        raise Problem(FIELD, what, "write it like of 10 x 14 cut")
    w, h = (how.read(side, FIELD) for side in sides)
    return articles.bibs(said.many, (front, back), how, w, h, name)


def _holders(said: Said, name: str, how: Conventions) -> Made:
    layer, bound = cloths_of(said, "binding")
    size = one_size(said.size, how, FIELD)
    loop = bool(said.take("hanging loop"))
    return articles.pot_holder(
        size, said.many, (layer, bound), how, name=name, loop=loop
    )


def _one_side(size: str, said: Said, how: Conventions) -> str:
    """The side of a square that is said with one or both.

    Raises
    ------
    Problem
        Where they differ.
    """
    sides = sides_of(size)
    if len({how.read(side, FIELD) for side in sides}) > 1:
        what = f'"{said.size}" in "{said.text}" has two sides, and napkins are square'
        raise Problem(FIELD, what, "write one size")
    return sides[0]


def _napkins(said: Said, name: str, how: Conventions) -> Made:
    of = cloths_of(said)[0]
    if not said.size:
        return articles.napkins(said.many, of, how, name=name)
    plain, _ = qualified(said.size)
    cut = how.read(_one_side(plain, said, how), FIELD)
    if said.size.endswith("finished") and not said.size.endswith("unfinished"):
        cut += 2 * how.usual(None, "1/2", "1.5")
    return articles.napkins(said.many, of, how, cut, name=name)


_QUILT: Final = re.compile(r"\b(?:\w+ )?quilts?\b", re.IGNORECASE)
ARTICLES: Final[tuple[Kind[Made], ...]] = (
    Kind(
        one="cushion",
        many="cushions",
        make=_cushion,
        like="2 cushions of 18 from oat and plum",
        options=(
            FRONTS,
            BACKS,
            "oblong",
            "form SIZE|SIZE form|SIZE forms|SIZE insert|SIZE inserts|SIZE pad|SIZE pads",
            "envelope closure|envelope",
            "overlap LENGTH|overlapping LENGTH|LENGTH overlap",
            "hem LENGTH|hems LENGTH",
        ),
        cloths=2,
        needs_size=False,
        several=BOTH,
    ),
    Kind(
        one="sham",
        many="shams",
        make=_sham,
        like="2 shams for standard pillows from oat and plum",
        options=(
            *(f"{pillow}|{pillow} size" for pillow in covers.PILLOWS),
            FRONTS,
            BACKS,
            "envelope closure|envelope",
        ),
        cloths=2,
        needs_size=False,
        several=BOTH,
    ),
    Kind(
        one="pillowcase",
        many="pillowcases",
        make=_pillowcase,
        like="2 pillowcases of 20 x 30 from oat and plum",
        options=(
            *(f"{pillow}|{pillow} size" for pillow in covers.PILLOWS),
            "cuff LENGTH|LENGTH cuff|LENGTH cuffs|cuffs LENGTH",
            "cuffs CLOTH|cuff CLOTH|cuffed in CLOTH",
            FRONTS,
        ),
        cloths=2,
        needs_size=False,
    ),
    Kind(
        one="runner",
        many="runners",
        make=_runner,
        like="1 runner of 14 x 48 from oat and plum and bark",
        options=(FRONTS, BACKING, BINDING),
        cloths=3,
        several={"both sides": ("fronts", "backing")},
    ),
    Kind(
        one="place mat",
        many="place mats",
        make=_mats("place mat"),
        like="6 place mats of 18 x 13 from oat and plum",
        options=(FRONTS, BACKS),
        cloths=2,
        needs_size=False,
        several=BOTH,
    ),
    Kind(
        one="mug mat",
        many="mug mats",
        make=_mats("mug mat"),
        like="6 mug mats from oat and plum",
        options=(FRONTS, BACKS),
        cloths=2,
        needs_size=False,
        several=BOTH,
    ),
    Kind(
        one="coaster",
        many="coasters",
        make=_mats("coaster"),
        like="6 coasters from oat and plum",
        options=(FRONTS, BACKS),
        cloths=2,
        needs_size=False,
        several=BOTH,
    ),
    Kind(
        one="burp cloth",
        many="burp cloths",
        make=_mats("burp cloth"),
        like="4 burp cloths from oat and plum",
        options=(FRONTS, BACKS),
        cloths=2,
        needs_size=False,
        several=BOTH,
    ),
    Kind(
        one="bib",
        many="bibs",
        make=_bibs,
        like="4 bibs of 10 x 14 cut from oat and plum",
        options=(FRONTS, BACKS),
        cloths=2,
        needs_size=False,
        several=BOTH,
    ),
    Kind(
        one="pot holder",
        many="pot holders",
        make=_holders,
        like="2 pot holders of 8 from oat and plum",
        options=(
            FRONTS,
            BINDING,
            "hanging loop|loop|loops|hanging loops|loop to hang|loop to hang it by",
        ),
        cloths=2,
    ),
    Kind(
        one="napkin",
        many="napkins",
        make=_napkins,
        like="6 napkins of 18 cut from oat",
        needs_size=False,
    ),
    *BAGS,
)


def article_of(
    text: str, how: Conventions, known: Collection[str] = (), *, trial: bool = False
) -> Made:
    """What an article needs, as its sentence says.

    Parameters
    ----------
    text : str
    how : Conventions
    known : collection of str
        Names, tags and values of fabrics in lower case.
    trial : bool
        Whether it is only tried: no mend is looked for then.

    Raises
    ------
    Problem
        With the words that are not understood, and what to write.
    """
    quilt = _QUILT.search(text)
    if quilt:
        what = f'"{quilt[0]}" in "{text}" is a quilt, and articles are small things'
        mend = "say its blocks, setting and borders; of one cloth write runners, such as 1 runner of 36 x 36 from oat"
        raise Problem(FIELD, what, mend)
    pieced = _PATCHWORK.search(text)
    if pieced:
        what = f'"{pieced[0]}" in "{text}": the tops of articles are cut in one piece, and patchwork is that of a quilt'
        mend = (
            'say it in a quilt of its own: blocks, such as "48 squares of 4 from any", a setting, such as '
            '"4 across, 12 down", its backing and binding; or name one fabric for the top'
        )
        raise Problem(FIELD, what, mend)
    reads = None
    if not trial:
        reads = reads_by(partial(article_of, how=how, known=known, trial=True))
    kind, said = kind_in(text, ARTICLES, FIELD, known, reads)
    if said.one_each:
        what = (
            f'"{text}" has one {said.one_each} in each, and articles are not told apart'
        )
        raise Problem(FIELD, what, "write a sentence for each, or leave it out")
    if said.count is None:
        what = f'"{text}" does not say how many'
        raise Problem(FIELD, what, f'write it like "{kind.like}"')
    if kind.needs_size and not said.size:
        what = f'"{text}" does not say of what size'
        raise Problem(FIELD, what, f'write it like "{kind.like}"')
    made = [_made(kind, each, how) for each in said.parted(kind.one)]
    whole = made[0]
    for more in made[1:]:
        whole = whole + more
    return whole


def _made(kind: Kind[Made], said: Said, how: Conventions) -> Made:
    name = said.names[0] if said.names else kind.one
    if len(said.names) > 1:
        what = f'"{said.text}" has {len(said.names)} names'
        raise Problem(FIELD, what, "give one name, or none")
    cloths = all_cloths(said)
    made = kind.make(said, name, how)
    said.finish()
    refuse_unused(said.text, FIELD, cloths, made.wanted)
    return made
