"""The words that a line of the pile knows, each with what it means: one table, from which the grammar reads.

A form, a precut, a bundle, a number, a word that stands behind a size, or a filler that says nothing by itself.
"""

from __future__ import annotations

import difflib
import re
from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

from cutopt.lengths import NUMBER_WORDS
from cutopt.precuts import phrases as precut_phrases

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
    "odd",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Meaning:
    """What a phrase means: its kind, and a form, precut, number, share of a yard or word by its one name."""

    kind: Kind
    value: str
    many: bool = False


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
COUNTED: Final = ("form", "precut", "share", "bundle", "odd")
# that begin names of fabrics: raw silk, cut velvet
OF_NAMES: Final = ("raw", "cut", "pinked", "washed")
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
_OTHER_FORMS: Final = {
    "half square triangle": "half square",
    "right triangle": "triangle",
    "rectangle": "piece",
    "scrap": "piece",
    "leftover": "piece",
    "remnant": "piece",
    "offcut": "piece",
    "bit": "piece",
    "pc": "piece",
}
_OTHER_WORDS: Final = {
    "approx": "about",
    "approximately": "about",
    "roughly": "about",
    "around": "about",
    "circa": "about",
    "ca": "about",
    "raw edges": "raw",
    "cut edges": "cut",
    "pinked edges": "pinked",
    "don't touch": "do not touch",
    "unknown grain": "grain unknown",
    "not washed": "unwashed",
    "not yet washed": "unwashed",
}
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
}
_VAGUE: Final = ("some", "several", "a few", "few", "many", "various")
_SHARES: Final = {"half": "1/2", "quarter": "1/4", "third": "1/3", "eighth": "1/8"}
_BUNDLES: Final = {
    "strip bundle": "bundle_strip",
    "bundle": "",
    "pack": "",
    "stack": "",
}
FILLERS: Final = ("of", "a", "an", "the", "from", "each", "in")


def _phrases() -> dict[str, Meaning]:
    known: dict[str, Meaning] = {}
    for form in FORMS:
        known[form] = Meaning(kind="form", value=form)
        known[f"{form}s"] = Meaning(kind="form", value=form, many=True)
    for said, form in _OTHER_FORMS.items():
        known[said] = Meaning(kind="form", value=form)
        known[f"{said}s"] = Meaning(kind="form", value=form, many=True)
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
    for said, word in _OTHER_WORDS.items():
        known[said] = Meaning(kind="word", value=word)
    for said, number in NUMBER_WORDS.items():
        known[said] = Meaning(kind="number", value=str(number))
    for said, count in _COUNTS.items():
        known[said] = known[f"{said} of"] = Meaning(kind="count", value=count)
    for said in _VAGUE:
        known[said] = Meaning(kind="vague", value=said)
    for word in FILLERS:
        known[word] = Meaning(kind="filler", value=word)
    return known | _shares_of_a_yard()


def _shares_of_a_yard() -> dict[str, Meaning]:
    """``half yard``, ``half a yard``, ``quarter of a metre``, ``a yard``: a length of the whole width."""
    known: dict[str, Meaning] = {}
    for word, share in _SHARES.items():
        for unit, sign in (("yard", "yd"), ("metre", "m"), ("meter", "m")):
            value = f"{share} {sign}"
            one = Meaning(kind="share", value=value)
            for said in (f"{word} a {unit}", f"{word} of a {unit}", f"{word} {unit}"):
                known[said] = one
            known[f"{word} {unit}s"] = Meaning(kind="share", value=value, many=True)
    for unit, sign in (("yard", "yd"), ("metre", "m"), ("meter", "m")):
        more = Meaning(kind="share", value=f"3/4 {sign}")
        known[f"three quarters of a {unit}"] = known[f"three quarter {unit}"] = more
    known["long quarter"] = Meaning(kind="share", value="1/4 yd")
    known["long quarters"] = Meaning(kind="share", value="1/4 yd", many=True)
    known["a yard"] = Meaning(kind="share", value="1 yd")
    known["a metre"] = known["a meter"] = Meaning(kind="share", value="1 m")
    return known


PHRASES: Final = _phrases()
LONGEST: Final = max(len(phrase.split()) for phrase in PHRASES)
"""Words of the longest phrase."""


def plain_phrase(text: str) -> str:
    """Words as they stand in the table: in lower case, with blanks for hyphens, without a full stop behind."""
    return re.sub(r"[\s-]+", " ", text.lower()).strip().removesuffix(".")


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
