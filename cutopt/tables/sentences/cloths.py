"""What stands behind "from": cloths, one for each kind of patch, and shares of the whole."""

from __future__ import annotations

import re
from collections.abc import Collection
from fractions import Fraction
from itertools import pairwise
from typing import Final

from cutopt.errors import Problem
from cutopt.fabric_words import any_but
from cutopt.lengths import NUMBER_WORDS
from cutopt.quilt.wanted_parts import ClothLike, ClothWanted
from cutopt.tables.sentences.said import Part
from cutopt.tables.sentences.vocabulary import Vocabulary

MIXTURES: Final = ("mixed", "scrappy", "alternating")
# what is there, whichever it is
ANY_CLOTH: Final = frozenset(
    ("any fabric", "any fabrics", "anything", "any cloth", "scraps", "any scraps")
)
_QUOTED: Final = re.compile(r"\"[^\"]+\"|“[^”]+”|(?<!\w)'[^']+'(?!\w)|‘[^’]+’")
_SMALL: Final = re.compile(
    r"^(?:the\s+|my\s+)?(?:left\s?-?overs?|scraps?|bits|remnants|rest)\s+of\s+(?:the\s+|my\s+)?"
    r"|^(?:all|any)\s+of\s+(?:(?:the|my|our)\s+)?|^(?:all\s+)?(?:of\s+)?(?:the|my|our|all|some|both)\s+|^plain\s+"
    r"|\s+(?:fabrics?|cloth|prints?|scraps|ones?)$",
    re.IGNORECASE,
)
# what is there, of whatever fabric
_OF_IT: Final = (
    r"colou?rs?|fabrics?|prints?|cloth|i|i've|we|we've|you|there|there's|is|are|it|it's|they|they're|have|has|got"
    r"|left|over|to|hand|at|in|the|my|our|stash|pile|house|cupboard|cheapest|biggest|largest|more|most|of|comes"
    r"|first|suits|fits|works|will|do|best|find|can|be|used|up|on|shelf|box|bag"
)
_WHATEVER: Final = re.compile(
    r"(?:(?:any|all|some|of|the|my|our|big|bigger|biggest|small|smaller|smallest|large|larger|largest|long|longer|longest"
    r"|short|shorter|shortest|odd|other|last|lots|plenty|many|different|rest|up|sorts|kinds)\s+)*"
    r"(?:left\s?-?overs|scraps|stash|bits|bits and pieces|oddments|remnants|pile|sorts|kinds)"
    r"|all\s+(?:of\s+)?(?:the|my|our)\s+(?:strips|squares|fabrics?|pieces)"
    rf"|(?:whatever|whichever)(?:'s|'ve)?(?:\s+(?:{_OF_IT}))*"
    # what is kept out follows
    rf"|any\s?(?:fabric|cloth|thing)(?:\s+(?:{_OF_IT}))*(?:\s+(?:but|except))?"
    r"|(?:any(?:\s+old)?|many|lots\s+of|plenty\s+of|all\s+sorts\s+of|different|various)"
    r"(?:\s+(?:old|different|sorts\s+of))*\s+(?:colou?rs?|fabrics|prints|bits)",
    re.IGNORECASE,
)
_ANY_FABRIC: Final = "any fabric"
_PARTS: Final[dict[str, Part]] = {
    "half": Fraction(1, 2),
    "one half": Fraction(1, 2),
    "a third": Fraction(1, 3),
    "one third": Fraction(1, 3),
    "1/3": Fraction(1, 3),
    "two thirds": Fraction(2, 3),
    "2/3": Fraction(2, 3),
    "a quarter": Fraction(1, 4),
    "one quarter": Fraction(1, 4),
    "1/4": Fraction(1, 4),
    "three quarters": Fraction(3, 4),
    "3/4": Fraction(3, 4),
    "1/2": Fraction(1, 2),
    "½": Fraction(1, 2),
    "the rest": None,
    "the others": None,
}
_EACH: Final = {2: "half", 3: "a third", 4: "a quarter"}
SHARE_WORDS: Final = sorted(_PARTS, key=lambda word: -len(word.split()))


def part_of(word: str) -> Part:
    """The share that words mean: ``half``, ``a third``, ``10``, ``the rest``."""
    plain = " ".join(word.lower().split())
    if plain in _PARTS:
        return _PARTS[plain]
    if plain in NUMBER_WORDS:
        return NUMBER_WORDS[plain]
    return int(plain[:9])


def cloths_in(text: str, known: Collection[str] = ()) -> tuple[ClothWanted, ...]:
    """The cloths of words behind "from": ``navy|any dark and cream`` are two.

    Parameters
    ----------
    text : str
    known : collection of str
        Names of fabrics in lower case; one that has "and" in it is found among them.

    Raises
    ------
    Problem
        Where another follows behind "any but" one, and nobody knows whether it is kept out too.
    """
    if is_whatever(text, known):
        return (ClothWanted(),)
    parts = _and(text)
    joined = _rejoined(parts, known)
    _refuse_and_behind_but(joined)
    apart = (each for part in joined for each in _with(part, known))
    return tuple(cloth_said(part, known) for part in apart)


def is_whatever(text: str, known: Collection[str]) -> bool:
    """Whether words mean any fabric that is there: ``the leftovers``, ``whatever I have``; no fabric is called so."""
    plain = " ".join(text.lower().split())
    word = plain.split()[-1] if plain else ""
    return not {plain, word} & set(known) and bool(_WHATEVER.fullmatch(plain))


def ground_first(text: str, known: Collection[str]) -> str:
    """``plum on cream`` with the ground before what lies on it, where both are known."""
    found = re.fullmatch(r"(.+?)\s+on\s+(?:an?\s+)?(.+)", text, re.IGNORECASE)
    if found is None:
        return text
    sides = [_bare(each, known) for part in found.groups() for each in _and(part)]
    if {side.lower() for side in sides} <= set(known):
        return f"{found[2]} and {found[1]}"
    return text


def _and(text: str) -> list[str]:
    """The parts between which *and* stands."""
    return _split(text, r"\s+and\s+|\s*&\s*|\s*/\s*|\s*\+\s*")


def _with(part: str, known: Collection[str]) -> list[str]:
    """``oat with plum`` names two fabrics, where both are known."""
    parts = _split(part, r"\s+with\s+|\s+against\s+|\s+on\s+")
    names = {_bare(each, known).lower() for each in parts}
    if len(parts) > 1 and names <= set(known):
        return parts
    return [part]


def _rejoined(parts: list[str], known: Collection[str]) -> list[str]:
    """Parts of a name with "and" in it put together again, where such a name is known."""
    out: list[str] = []
    for part in parts:
        longer = f"{out[-1]} and {part}" if out else ""
        if longer.lower() in known:
            out[-1] = longer
        else:
            out.append(part)
    return out


def cloth_said(choice: ClothLike, known: Collection[str] = ()) -> ClothWanted:
    """The cloth that words between ``from`` and ``and`` mean: ``pear|any light``, ``pear or "sun and moon"``."""
    if isinstance(choice, ClothWanted):
        return choice
    words = tuple(_bare(word, known) for word in _alternatives(choice or ""))
    if len(words) == 1 and words[0].lower() in ANY_CLOTH - set(known):
        return ClothWanted()
    return ClothWanted(fabrics=words)


def _alternatives(text: str) -> list[str]:
    """The words that may stand for each other; behind "any but" an "or" names what is kept out too."""
    out: list[str] = []
    for part in _split(text, r"\s*\|\s*"):
        first, *rest = _split(part, r"\s+or\s+")
        out.append(first)
        for each in rest:
            if any_but(out[-1])[1]:
                out[-1] = f"{out[-1]} or {each}"
            else:
                out.append(each)
    return out


def _refuse_and_behind_but(parts: list[str]) -> None:
    """Ask what is meant by ``any but cream and gold``: gold kept out too, or for the next kind of patch."""
    for one, other in pairwise(parts):
        if any_but(one)[1]:
            what = f'"{one} and {other}" may keep {other} out too, or have it for other patches'
            mend = f"write {one} or {other} to keep both out, else {other} and {one}"
            raise Problem("fabrics", what, mend)


def _split(text: str, at: str) -> list[str]:
    """Parts of a text; what stands in quotes is not parted."""
    kept: list[str] = []

    def hide(match: re.Match[str]) -> str:
        kept.append(match[0])
        return f"\0{len(kept) - 1}\0"

    hidden = _QUOTED.sub(hide, text)
    parts = re.split(at, hidden, flags=re.IGNORECASE)
    shown = [re.sub(r"\0(\d+)\0", lambda m: kept[int(m[1])], part) for part in parts]
    return [part.strip() for part in shown if part.strip()]


def _bare(word: str, known: Collection[str]) -> str:
    """A name without its quotes, blanks once, and without small words before or behind it that are none of it."""
    plain = " ".join(word.split())
    if _QUOTED.fullmatch(plain):
        return plain[1:-1].replace('""', '"').strip()
    if is_whatever(plain, known):
        return _ANY_FABRIC
    short = _SMALL.sub("", plain)
    if plain.lower() in known or not short:
        return plain
    one = short.removesuffix("s")
    if short.lower() not in known and one.lower() in known:
        return one
    return short


def is_known(word: str, known: Collection[str]) -> bool:
    """Whether a word is a fabric, a tag or a value that is known, or several of these: ``darks``."""
    plain = word.lower()
    return plain in known or plain.removesuffix("s") in known


def refuse_too_many(
    text: str, vocabulary: Vocabulary, cloths: tuple[ClothWanted, ...], typed: str
) -> None:
    """See to it that no fabric is passed over.

    Parameters
    ----------
    text : str
        The sentence.
    vocabulary : Vocabulary
        What it makes, and of how many cloths at most.
    cloths : tuple of ClothWanted
        As they are named.
    typed : str
        The words that name them.

    Raises
    ------
    Problem
        Where more are named.
    """
    most = vocabulary.cloths
    if len(cloths) <= most:
        return
    named = ["|".join(cloth.fabrics) or "any" for cloth in cloths]
    if not most:
        what = f'"{text}" names {" and ".join(named)}, and no fabric belongs here'
        raise Problem(vocabulary.part, what, f'leave out "from {typed}"')
    takes = "one fabric" if most == 1 else f"at most {most} fabrics"
    what = f'{vocabulary.told} take {takes}, and "{text}" names {len(cloths)}: {", ".join(named)}'
    raise Problem(vocabulary.part, what, _fewer(text, typed, named, vocabulary))


def _fewer(text: str, typed: str, named: list[str], vocabulary: Vocabulary) -> str:
    """What to write where more fabrics are named than are taken.

    Parameters
    ----------
    text, typed : str
        The sentence, and the words of it that name fabrics.
    named : list of str
    vocabulary : Vocabulary
    """
    most = vocabulary.cloths
    fewer = (*named[: most - 1], "|".join(named[most - 1 :]))
    joined = " and ".join(fewer)
    if typed not in text:
        return f"write from {joined}: | stands between fabrics of which either will do"
    sentence = text.replace(typed, joined)
    either = f'write "{sentence}": | stands between fabrics of which either will do'
    if most > 1 or not vocabulary.counted or len(named) not in _EACH:
        return either
    word = _EACH[len(named)]
    shares = " and ".join(f"{word} from {name}" for name in named)
    before = rf"((?:{'|'.join(SHARE_WORDS)})\s+)?(from\s+)?"
    shared = re.sub(rf"{before}{re.escape(typed)}", shares, text, count=1)
    if re.search(rf"({'|'.join(SHARE_WORDS)})\s+from", text):
        return f'write "{shared}"'
    return f'write "{shared}", or for whichever there is "{sentence}"'
