"""Other ways to say what the grammar of the pile knows, as quilters write them; common practice, no source."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import product
from typing import Final


def listed(text: str) -> tuple[str, ...]:
    """The phrases of a text, with commas between them."""
    return tuple(" ".join(phrase.split()) for phrase in text.split(","))


FORMS: Final = {
    "half square triangle": "half square",
    "right triangle": "triangle",
    "sq": "square",
    "rectangle": "piece",
    "scrap": "piece",
    "leftover": "piece",
    "left over": "piece",
    "remnant": "piece",
    "offcut": "piece",
    "off cut": "piece",
    "tail end": "piece",
    "bolt end": "piece",
    "end of bolt": "piece",
    "end of the bolt": "piece",
    "end piece": "piece",
    "chunk": "piece",
    "hunk": "piece",
    "bit": "piece",
    "brick": "piece",
    "pc": "piece",
}
# strips and triangles by what they were for: kept in the note
FOR_A_USE: Final = {
    "binding strip": "strip",
    "half strip": "strip",
    "border strip": "strip",
    "sashing strip": "strip",
    "backing strip": "strip",
    "setting triangle": "triangle",
    "corner triangle": "triangle",
    "side triangle": "triangle",
}
# the last of the oat, 20 x 30
RESTS: Final = listed(
    """
    what is left of, what's left of, whats left of, what remains of,
    all that's left of, all that is left of, the rest of, rest of, the remains of,
    remains of, the remainder of, remainder of, the last of, last of,
    the last bit of, last bit of, a length of, length of, a cut of, the end of
    """
)
# before a form: a small scrap
ADJECTIVES: Final = listed(
    """
    small, smallish, big, biggish, large, long, short, narrow, wide, thin, skinny,
    tiny, little, nice, decent, good, good sized, odd, single, lone, last, more,
    other, extra, spare, loose
    """
)
_ABOUT: Final = listed(
    """
    approx, approximately, roughly, around, circa, ca, or so, or thereabouts,
    thereabouts, ish, more or less, give or take, give or take a bit, maybe, perhaps, say,
    probably, i think, i guess, i reckon, at a guess, by eye, guessed, not measured,
    unmeasured, not quite, nearly, almost, just under, a bit under, a little under,
    just short of, a bit less than, a little less than, a scant, scant, barely
    """
)
_ROUGH: Final = listed(
    "raw, torn, ragged, frayed, fraying, rough, uneven, crooked, wonky"
)


def _of_edges(words: Iterable[str], edges: Iterable[str]) -> tuple[str, ...]:
    """``torn edges``, ``edges torn``, ``edges are torn``."""
    return tuple(
        said
        for word, edge in product(words, edges)
        for said in (f"{word} {edge}", f"{edge} {word}", f"{edge} are {word}")
    )


_RAW: Final = (
    *(word for word in _ROUGH if word not in ("raw", "rough", "uneven", "crooked")),
    *_of_edges(_ROUGH, ("edges", "edge", "sides")),
    *listed(
        """
        untrimmed, not trimmed, not squared up, not squared, needs squaring up,
        needs squaring, to be squared up, needs trimming, needs a trim,
        edges not straight, not straight, not square
        """
    ),
)
# all its edges are planned as raw: what the maker said stays in the note
RAW_IN_PART: Final = (
    *_of_edges(_ROUGH, ("ends", "end")),
    *listed(
        """
        raw ends, torn ends, frayed ends, ends raw, ends torn, ends frayed,
        raw on one side, raw at one end, torn on one side, torn at one end,
        torn along one side, frayed on one side, frayed at one end, one raw edge,
        one torn edge, one edge raw, one edge torn, one end raw, one end torn,
        one side raw, one side torn
        """
    ),
)
_CUT: Final = listed(
    """
    cut edges, cut edge, clean edges, straight edges, edges cut, edges straight,
    already cut, ready cut, squared up, already squared up, trimmed, already trimmed,
    cut to size, cut to, cut into, cut at, trimmed to, squared up to, squared to
    """
)
_PINKED: Final = listed(
    """
    pinked edges, pinked edge, zigzag edges, edges pinked
    """
)
_GRAIN: Final = listed(
    """
    unknown grain, grain not known, grain unsure, grain unclear, grain?,
    unsure of grain, unsure of the grain, not sure of grain, not sure of the grain,
    not sure about the grain, not sure which way the grain runs,
    not sure which way the grain goes, no idea of the grain,
    no idea which way the grain runs, no idea which way the grain goes,
    can't tell the grain, cannot tell the grain, don't know the grain,
    do not know the grain, don't know which way the grain runs
    """
)
# no edge runs with the grain: what the maker said stays in the note
ON_BIAS: Final = listed(
    """
    on the bias, cut on the bias, bias cut, off grain, off the grain, bias
    """
)
_FIRST: Final = listed(
    """
    use up, use up first, use it up, use it up first, use it first, use this first,
    use these first, use them first, please use first, please use up,
    please use up first, to use up, to be used up, to use first, want to use it up
    """
)
_WHOLE: Final = listed(
    """
    keep it whole, keep this whole, keep in one piece, keep it in one piece,
    keep whole if possible, keep whole if you can, rather keep whole, only if needed,
    only if need be, if needed, use last, save for last, save if possible,
    save it if possible, save it if you can, spare it if possible
    """
)
_NEVER: Final = listed(
    """
    don't touch, do not cut, don't cut, do not use, don't use, not to be used,
    not to be cut, hands off, leave it alone, leave alone, don't cut it,
    don't cut this, do not cut it, do not cut this
    """
)
_WASHED: Final = listed(
    """
    prewashed, pre washed, washed many times, washed often, washed once,
    washed twice, already washed, washed already, has been washed,
    been washed, freshly washed, laundered
    """
)
_UNWASHED: Final = listed(
    """
    not washed, not yet washed, not washed yet, never washed, never been washed, not been washed,
    has not been washed, hasn't been washed, un washed, not prewashed,
    not pre washed, needs washing, to be washed, still to be washed, needs a wash
    """
)
_FROM_BOLT: Final = listed(
    """
    off the bolt, from the bolt, on the bolt, still on the bolt, straight off the bolt, straight from the bolt,
    cut off the bolt, cut from the bolt, fresh off the bolt, off bolt
    """
)
_WITH_SELVAGE: Final = listed(
    """
    selvage, with selvage, with selvages, with the selvage, with the selvages,
    with both selvages, with selvage on, with selvages on, selvage on, selvages on,
    selvage still on, selvages still on, selvage attached, selvages attached,
    selvage included, selvages included, including selvage, including selvages,
    including the selvage, including the selvages, incl selvage, incl selvages,
    selvage to trim off, selvages to trim off, selvage on one side,
    selvage along one side, selvage on one edge, selvage along one edge, one selvage,
    one selvage edge, with one selvage, with a selvage, has a selvage, has selvages
    """
)
_NO_SELVAGE: Final = listed(
    """
    without selvage, without selvages, without the selvage, without the selvages,
    no selvage, no selvages, selvage off, selvages off, selvage removed,
    selvages removed, selvage cut off, selvages cut off, selvage trimmed off,
    selvages trimmed off, not counting selvage, not counting selvages,
    not counting the selvage, not counting the selvages, excluding selvage,
    excluding selvages, less selvage, less selvages
    """
)
WORDS: Final = {
    **dict.fromkeys(_ABOUT, "about"),
    **dict.fromkeys((*_RAW, *RAW_IN_PART), "raw"),
    **dict.fromkeys(_CUT, "cut"),
    **dict.fromkeys(_PINKED, "pinked"),
    **dict.fromkeys((*_GRAIN, *ON_BIAS), "grain unknown"),
    **dict.fromkeys(_FIRST, "use first"),
    **dict.fromkeys(_WHOLE, "keep whole"),
    **dict.fromkeys(_NEVER, "do not touch"),
    **dict.fromkeys(_WASHED, "washed"),
    **dict.fromkeys(_UNWASHED, "unwashed"),
    **dict.fromkeys(_FROM_BOLT, "off the bolt"),
    **dict.fromkeys(_WITH_SELVAGE, "with selvage"),
    **dict.fromkeys(_NO_SELVAGE, "without selvage"),
}
"""What else is said for a word that tells of the cloth."""
# true of the cloth beside its size, and nothing that a plan could use: kept in its note
REMARKS: Final = listed(
    """
    ironed, pressed, starched, folded, clean, brand new, new, unused,
    washed and ironed
    """
)
# where it comes from: kept in its note, up to the next comma
SOURCES: Final = listed(
    """
    from, left over from, leftover from, left from, left after, saved from,
    salvaged from, rescued from, bought, gift from, a gift from, given by,
    given to me by, out of, was, used to be, belonged to
    """
)
# of the two sizes of a line the one that counts
USABLE: Final = listed(
    """
    is good, are good, is all good, good part is, call it, so call it, so i call it, let's call it, so let's call it, usable,
    usable part, usable is, of it usable, is usable, are usable, the usable part is,
    of which usable, count it as, so count it as, counts as, treat as,
    so treat it as, treat it as, clear of the stain, clear of the hole,
    without the stain, without the hole
    """
)
# behind a number that says how many
TALLIES: Final = listed(
    """
    of them, of these, of those, in all, all told, altogether, in total, total, @,
    at, ea, off, left, remaining
    """
)
AT: Final = listed("@, at")
COUNTERS: Final = listed(
    """
    qty, quantity, qty:, quantity:, there are, how many
    """
)
# at least so large, or beside its size: the size is what it says
AT_LEAST: Final = listed(
    """
    at least, just over, a bit over, a little over, slightly over, a bit more than,
    a little more than, more than, a good, a generous, a full, plus a bit,
    plus a little, and a bit, and a little, measuring, measures, sized, size,
    on grain, on the straight grain, i have, i've got, there is, there's, which is,
    that is, it is, it's, just, only, with
    """
)
FABRIC: Final = listed("fabric, material")
JOINING: Final = listed(
    """
    and, but, so, &, +, plus, then
    """
)
VAGUE: Final = listed(
    """
    some, several, a few, few, many, various, a handful of, a handful, handful of,
    a bunch of, bunch of, lots of, a lot of, loads of, plenty of, a pile of, pile of,
    a heap of, a bag of, a load of, a number of, a jar of, a box of, a basket of,
    a bin of, a tin of, a drawer of, a stash of, a lot, lots, countless, umpteen,
    a couple or three
    """
)
LEGS: Final = listed(
    """
    on the short sides, on the short side, on the two short sides, on its short sides,
    on each short side, short sides, legs, on the legs, the two short sides
    """
)
ELLS: Final = listed("l shaped, l shape, an l")
# a form that words do not tell, unless they say what of it is usable
IRREGULAR: Final = listed(
    """
    irregular, irregular shape, odd shaped, oddly shaped, odd shape, funny shape,
    funny shaped, weird shape
    """
)
AREAS: Final = listed(
    """
    sq in, sq inch, sq inches, square inches, square inch, sq cm, square cm,
    square centimetres, square centimeters, sq yd, sq yds, square yards, square yard,
    square metres, square meters
    """
)
ONE_WAY: Final = listed(
    """
    one way, one way print, one way design, one way pattern, directional,
    directional print, one directional, has a nap, with nap, with a nap
    """
)
SEWN: Final = listed(
    """
    hst, half square unit, four patch, nine patch, flying geese
    """
)
# of which the size is not said
PARTS: Final = listed(
    """
    half a fat quarter, half of a fat quarter, part of a fat quarter,
    most of a fat quarter, half an fq, half a fat eighth, part of a fat eighth
    """
)
# sewn, and no cloth
BLOCKS: Final = listed(
    """
    block, blocks, spare block, spare blocks, orphan block, orphan blocks,
    leftover block, leftover blocks, left over block, left over blocks, sewn block,
    sewn blocks, pieced block, pieced blocks
    """
)
# a print is called so, and no block
OF_A_PRINT: Final = listed("print, prints, printed, printing, party")
