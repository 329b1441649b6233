"""The words that a line of the pile knows, each with what it means: one table, from which the grammar reads.

A form, a precut, a bundle, a number, a word that stands behind a size, or a filler that says nothing by itself.
"""

from __future__ import annotations

import difflib
import re
from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

from cutopt.lengths import NUMBER_WORDS, TENS
from cutopt.precuts import phrases as precut_phrases
from cutopt.tables.pile import ways_to_say

Kind: TypeAlias = Literal[
    "form",
    "precut",
    "bundle",
    "share",
    "number",
    "count",
    "vague",
    "word",
    "filler",
    "soft",
    "adjective",
    "join",
    "tally",
    "counter",
    "whole width",
    "usable",
    "source",
    "remark",
    "legs",
    "ell",
    "area",
    "one way",
    "sewn",
    "odd",
    "part",
    "nominal",
    "block",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Meaning:
    """What a phrase means: its kind, and a form, precut, number, share of a yard or word by its one name.

    `many` where it is said of several, `noted` where what was said is kept in the note too.
    """

    kind: Kind
    value: str
    many: bool = False
    noted: bool = False


FORMS: Final = ("strip", "square", "half square", "triangle", "piece")
WORDS: Final = (
    "grain unknown",
    "use first",
    "keep whole",
    "do not touch",
    "about",
    "raw",
    "cut",
    "pinked",
    "washed",
    "unwashed",
)
# kinds of phrases behind a number that says how many
COUNTED: Final = ("form", "precut", "share", "bundle", "odd", "ell", "tally")
# that begin names of fabrics: raw silk, cut velvet
OF_NAMES: Final = ("raw", "cut", "pinked", "washed", "bias")
# what no word of the pile tells the outline of
_ODD_FORMS: Final = (
    "circle",
    "oval",
    "hexagon",
    "octagon",
    "diamond",
    "trapezoid",
    "wedge",
    "tumbler",
)
_COUNTS: Final = {
    "a dozen": "12",
    "dozen": "12",
    "one dozen": "12",
    "two dozen": "24",
    "half a dozen": "6",
    "a pair": "2",
    "pair": "2",
    "a couple": "2",
    "couple": "2",
    "twice": "2",
    "three times": "3",
}
_SHARES: Final = {"half": "1/2", "quarter": "1/4", "third": "1/3", "eighth": "1/8"}
_BUNDLES: Final = {
    "strip bundle": "bundle_strip",
    "strip roll": "bundle_strip",
    "roll": "bundle_strip",
    "charm pack": "charm_square",
    "pack of charms": "charm_square",
    "fat quarter bundle": "fat_quarter",
    "fat quarter pack": "fat_quarter",
    "fq bundle": "fat_quarter",
    "fat eighth bundle": "fat_eighth",
    "bundle": "",
    "pack": "",
    "stack": "",
}
FILLERS: Final = ("of", "a", "an", "the", "from", "each", "in")


_OF_A_KIND: Final[dict[Kind, tuple[str, ...]]] = {
    "filler": (*FILLERS, *ways_to_say.FABRIC),
    "vague": ways_to_say.VAGUE,
    "part": ways_to_say.PARTS,
    "soft": ways_to_say.AT_LEAST,
    "adjective": ways_to_say.ADJECTIVES,
    "join": ways_to_say.JOINING,
    "tally": ways_to_say.TALLIES,
    "counter": ways_to_say.COUNTERS,
    "usable": ways_to_say.USABLE,
    "remark": ways_to_say.REMARKS,
    "source": ways_to_say.SOURCES,
    "legs": ways_to_say.LEGS,
    "ell": ways_to_say.ELLS,
    "area": ways_to_say.AREAS,
    "one way": ways_to_say.ONE_WAY,
    "odd": ways_to_say.IRREGULAR,
    "block": ways_to_say.BLOCKS,
}


def _phrases() -> dict[str, Meaning]:
    known: dict[str, Meaning] = {}
    for form in FORMS:
        known[form] = Meaning(kind="form", value=form)
        known[f"{form}s"] = Meaning(kind="form", value=form, many=True)
    for said, form in ways_to_say.FORMS.items():
        known[said] = Meaning(kind="form", value=form)
        known[f"{said}s"] = Meaning(kind="form", value=form, many=True)
    for said, form in ways_to_say.FOR_A_USE.items():
        known[said] = Meaning(kind="form", value=form, noted=True)
        known[f"{said}s"] = Meaning(kind="form", value=form, many=True, noted=True)
    known["cuts"] = Meaning(kind="form", value="piece", many=True)
    for said, precut in precut_phrases().items():
        many = said.endswith("s")
        known[said] = Meaning(kind="precut", value=precut, many=many)
    for said, precut in _BUNDLES.items():
        known[said] = Meaning(kind="bundle", value=precut)
        known[f"{said}s"] = Meaning(kind="bundle", value=precut, many=True)
    for form in _ODD_FORMS:
        known[form] = known[f"{form}s"] = Meaning(kind="odd", value=form)
    for word in WORDS:
        known[word] = Meaning(kind="word", value=word)
    for said, word in ways_to_say.WORDS.items():
        noted = said in (*ways_to_say.RAW_IN_PART, *ways_to_say.ON_BIAS)
        known[said] = Meaning(kind="word", value=word, noted=noted)
    for said, number in _numbers().items():
        known[said] = Meaning(kind="number", value=str(number))
    for said, count in _COUNTS.items():
        known[said] = known[f"{said} of"] = Meaning(kind="count", value=count)
    for kind, phrases in _OF_A_KIND.items():
        known |= {said: Meaning(kind=kind, value=said) for said in phrases}
    for said in ways_to_say.RESTS:
        known[said] = Meaning(kind="form", value="piece")
    for said in ways_to_say.SEWN:
        known[said] = known[f"{said}s"] = Meaning(kind="sewn", value=said)
    return known | _shares_of_a_yard()


def _numbers() -> dict[str, int]:
    """Numbers as words, also those of two words: ``twenty four``."""
    both = dict(NUMBER_WORDS)
    ones = [word for word, number in NUMBER_WORDS.items() if number < 10]
    for ten in TENS:
        both |= {f"{ten} {one}": both[ten] + both[one] for one in ones}
    return both


def _shares_of_a_yard() -> dict[str, Meaning]:
    """``half yard``, ``half a yard``, ``quarter of a metre``, ``a yard``: a length of the whole width."""
    known: dict[str, Meaning] = {}
    for word, share in _SHARES.items():
        for unit, sign in (("yard", "yd"), ("metre", "m"), ("meter", "m")):
            value = f"{share} {sign}"
            one = Meaning(kind="share", value=value)
            for said in (f"{word} a {unit}", f"{word} of a {unit}", f"{word} {unit}"):
                known[said] = one
            known[f"{word} {unit} cut"] = one
            many = Meaning(kind="share", value=value, many=True)
            known[f"{word} {unit}s"] = known[f"{word} {unit} cuts"] = many
    for unit, sign in (("yard", "yd"), ("metre", "m"), ("meter", "m")):
        more = Meaning(kind="share", value=f"3/4 {sign}")
        known[f"three quarters of a {unit}"] = known[f"three quarter {unit}"] = more
    known["long quarter"] = Meaning(kind="share", value="1/4 yd")
    known["skinny quarter"] = known["long quarter yard"] = known["long quarter"]
    known["long eighth"] = Meaning(kind="share", value="1/8 yd")
    known["long quarters"] = Meaning(kind="share", value="1/4 yd", many=True)
    known["a yard"] = Meaning(kind="share", value="1 yd")
    known["a metre"] = known["a meter"] = Meaning(kind="share", value="1 m")
    return known


PHRASES: Final = _phrases()
LONGEST: Final = max(len(phrase.split()) for phrase in PHRASES)
"""Words of the longest phrase."""


def plain_phrase(text: str) -> str:
    """Words as they stand in the table: in lower case, with blanks for hyphens, without a full stop behind."""
    plain = re.sub(r"[\s-]+", " ", text.lower()).strip().removesuffix(".")
    return plain.replace("selvedge", "selvage")


def meaning_of(text: str) -> Meaning | None:
    """What a phrase means, None where it is none of the table."""
    return PHRASES.get(plain_phrase(text))


def says_more_than_a_name(name: str) -> bool:
    """Whether a word of a name is one of this table too, or has figures in it: read so only where it is known."""
    words = name.split()
    return any(word in PHRASES or re.search(r"\d", word) for word in words)


def slip_of_a_form(word: str) -> str:
    """The word for a form of which a word is most likely a slip of the finger (``stirps``), "" where of none."""
    plain = plain_phrase(word)
    # a navy stripe is a print
    if plain in PHRASES or len(plain) < 5 or plain.startswith("strip"):
        return ""
    forms = [phrase for phrase in PHRASES if PHRASES[phrase].kind == "form"]
    for form in forms:
        if sorted(form) == sorted(plain):
            return form
    return next(iter(difflib.get_close_matches(plain, forms, 1, 0.9)), "")
