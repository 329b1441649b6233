"""Small articles, as their sentences say them: ``2 cushions of 18 from pear and oat``, ``6 place mats from ...``."""

from __future__ import annotations

from collections.abc import Callable, Collection
from functools import partial
from typing import Final

from cutopt.errors import Problem
from cutopt.quilt import articles, bags, covers
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.surds import Exact
from cutopt.quilt.wanted_parts import ClothLike, Made
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

FIELD: Final = "articles"


def _cloths(said: Said, *others: str) -> tuple[ClothLike, ...]:
    """Cloth of the main part and of each other one: named apart, or the next that is said, the last again."""
    have = list(said.cloths)
    front = said.of("fronts")
    if front is not None:
        have.insert(0, front)
    last = have[-1] if have else None
    main = have.pop(0) if have else None
    found: list[ClothLike] = [main]
    for part in others:
        own = said.of(part)
        if own is None and have:
            own = have.pop(0)
        found.append(last if own is None else own)
    return tuple(found)


def _cushion(said: Said, name: str, how: Conventions) -> Made:
    front, back = _cloths(said, "backs")
    said.take("envelope closure")
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
    body, cuff = _cloths(said, "cuffs")
    depth = _length(said, "cuff", how)
    return covers.pillowcase(w, h, said.many, (body, cuff), how, depth, name=name)


def _runner(said: Said, name: str, how: Conventions) -> Made:
    w, h = two_sizes(said.size, how, FIELD)
    top, back, bound = _cloths(said, "backing", "binding")
    return articles.runner(w, h, said.many, (top, back, bound), how, name=name)


def _mats(what: str) -> Callable[[Said, str, Conventions], Made]:
    def made(said: Said, name: str, how: Conventions) -> Made:
        front, back = _cloths(said, "backs")
        w, h = two_sizes(said.size, how, FIELD) if said.size else (None, None)
        return articles.turned_through(what, said.many, (front, back), how, w, h, name)

    return made


def _bibs(said: Said, name: str, how: Conventions) -> Made:
    front, back = _cloths(said, "backs")
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
    layer, bound = _cloths(said, "binding")
    size = one_size(said.size, how, FIELD)
    return articles.pot_holder(size, said.many, (layer, bound), how, name=name)


def _napkins(said: Said, name: str, how: Conventions) -> Made:
    of = _cloths(said)[0]
    if not said.size:
        return articles.napkins(said.many, of, how, name=name)
    plain, _ = qualified(said.size)
    cut = how.read(plain, FIELD)
    return articles.napkins(said.many, of, how, cut, name=name)


def _tote(said: Said, name: str, how: Conventions) -> Made:
    sides = sides_of(said.size)
    if len(sides) != 3:
        what = f'"{said.size}" is not a width, a height and a depth'
        raise Problem(FIELD, what, "write it like 13 x 14 x 4")
    w, h, d = (one_size(side, how, FIELD) for side in sides)
    pocket = said.after("pocket")
    lined = said.take("lined")
    if lined or "lining" in said.cloth_of:
        return _lined(said, name, (w, h, d), pocket, how)
    if pocket or len(said.cloths) > 2:
        what = f'"{said.text}" has no lining for a pocket or a third fabric'
        raise Problem(FIELD, what, f'write it like "{_LINED}"')
    body, handles = _cloths(said, "handles")
    return bags.tote(w, h, d, said.many, (body, handles), how, name=name)


def _lined(
    said: Said,
    name: str,
    size: tuple[Exact, Exact, Exact],
    pocket: str,
    how: Conventions,
) -> Made:
    """A tote with a lining; of two fabrics the handles are of the first.

    Parameters
    ----------
    said : Said
    name : of the rows
    size : finished width, height and depth
    pocket : its size as typed, "" for none
    how : Conventions
    """
    apart = bool(said.cloth_of)
    body, lining, handles = _cloths(said, "lining", "handles")
    if len(said.cloths) < 3 and not apart:
        handles = body
    inside = two_sizes(pocket, how, FIELD) if pocket else None
    return bags.lined_tote(
        size, said.many, (body, lining, handles), how, inside, name=name
    )


def _bag(said: Said, name: str, how: Conventions) -> Made:
    w, h = two_sizes(said.size, how, FIELD)
    return bags.drawstring_bag(w, h, said.many, _cloths(said)[0], how, name=name)


_FRONTS: Final = "fronts CLOTH|front CLOTH|tops CLOTH"
_BACKS: Final = "backs CLOTH|back CLOTH|backed with CLOTH|backing CLOTH"
_BACKING: Final = "backing CLOTH|back CLOTH|backed with CLOTH"
_BINDING: Final = "binding CLOTH|bound with CLOTH|bound in CLOTH"
_TOTE: Final = "1 tote of 13 x 14 x 4 from oat and plum"
_LINED: Final = "1 tote of 13 x 14 x 4, lined, pocket 6 x 7, from oat and plum and bark"
ARTICLES: Final[tuple[Kind[Made], ...]] = (
    Kind(
        one="cushion",
        many="cushions",
        make=_cushion,
        like="2 cushions of 18 from oat and plum",
        options=(
            _FRONTS,
            _BACKS,
            "oblong",
            "envelope closure|envelope",
            "overlap LENGTH|overlapping LENGTH|LENGTH overlap",
            "hem LENGTH|hems LENGTH",
        ),
        cloths=2,
    ),
    Kind(
        one="pillowcase",
        many="pillowcases",
        make=_pillowcase,
        like="2 pillowcases of 20 x 30 from oat and plum",
        options=(
            *(f"{pillow}|{pillow} size" for pillow in covers.PILLOWS),
            "cuff LENGTH|LENGTH cuff",
            "cuffs CLOTH|cuff CLOTH",
        ),
        cloths=2,
        needs_size=False,
    ),
    Kind(
        one="runner",
        many="runners",
        make=_runner,
        like="1 runner of 14 x 48 from oat and plum and bark",
        options=(_BACKING, _BINDING),
        cloths=3,
    ),
    Kind(
        one="place mat",
        many="place mats",
        make=_mats("place mat"),
        like="6 place mats of 18 x 13 from oat and plum",
        options=(_FRONTS, _BACKS),
        cloths=2,
        needs_size=False,
    ),
    Kind(
        one="mug mat",
        many="mug mats",
        make=_mats("mug mat"),
        like="6 mug mats from oat and plum",
        options=(_FRONTS, _BACKS),
        cloths=2,
        needs_size=False,
    ),
    Kind(
        one="coaster",
        many="coasters",
        make=_mats("coaster"),
        like="6 coasters from oat and plum",
        options=(_FRONTS, _BACKS),
        cloths=2,
        needs_size=False,
    ),
    Kind(
        one="burp cloth",
        many="burp cloths",
        make=_mats("burp cloth"),
        like="4 burp cloths from oat and plum",
        options=(_FRONTS, _BACKS),
        cloths=2,
        needs_size=False,
    ),
    Kind(
        one="bib",
        many="bibs",
        make=_bibs,
        like="4 bibs of 10 x 14 cut from oat and plum",
        options=(_FRONTS, _BACKS),
        cloths=2,
        needs_size=False,
    ),
    Kind(
        one="pot holder",
        many="pot holders",
        make=_holders,
        like="2 pot holders of 8 from oat and plum",
        options=(_BINDING,),
        cloths=2,
    ),
    Kind(
        one="napkin",
        many="napkins",
        make=_napkins,
        like="6 napkins of 18 cut from oat",
        needs_size=False,
    ),
    Kind(
        one="tote",
        many="totes",
        make=_tote,
        like=_TOTE,
        options=(
            "lined|with a lining|with lining",
            "pocket SIZE|SIZE pocket",
            "lining CLOTH|lined with CLOTH|lined in CLOTH",
            "handles CLOTH|handle CLOTH|straps CLOTH",
        ),
        cloths=3,
    ),
    Kind(
        one="drawstring bag",
        many="drawstring bags",
        make=_bag,
        like="2 drawstring bags of 8 x 10 from oat",
    ),
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
    reads = None
    if not trial:
        reads = reads_by(partial(article_of, how=how, known=known, trial=True))
    kind, said = kind_in(text, ARTICLES, FIELD, known, reads)
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
