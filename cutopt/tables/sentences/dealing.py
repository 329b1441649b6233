"""Each cloth to what it is for: those that are named with a place, and the others in the order of a kind."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Final

from cutopt.errors import Problem
from cutopt.quilt.wanted_parts import ClothWanted
from cutopt.tables.sentences.one_each import ANY_ONE
from cutopt.tables.sentences.patterns import Phrase
from cutopt.tables.sentences.said import Said
from cutopt.tables.sentences.vocabulary import ELSE, Vocabulary, role_key
from cutopt.tables.sentences.words import Words

_ELSE: Final = Phrase(ELSE).key


def said_once(
    words: Words, placed: Mapping[str, str], others: Mapping[str, str]
) -> dict[str, str]:
    """Cloths by what they are for, that of each thing said once.

    Parameters
    ----------
    words : Words
    placed, others : mapping
        Fabrics in words, by the keys of what they are for.

    Raises
    ------
    Problem
        Where one is said twice.
    """
    for key in placed:
        if key in others:
            what = f'"{words.text}" says two fabrics for {key}'
            raise Problem(words.part, what, "keep one of the two")
    return {**placed, **others}


def deal_roles(said: Said, vocabulary: Vocabulary, *, beside_nouns: bool) -> None:
    """Cloths by what they are for, in the order of their kind; those without a word take the places left.

    Parameters
    ----------
    said : Said
    vocabulary : Vocabulary
    beside_nouns : bool
        Whether fabrics without a place stand beside what they make: the *logs* of a log cabin.

    Raises
    ------
    Problem
        Where one is not named, or one is too many.
    """
    keys = [role_key(role) for role in vocabulary.roles]
    nouns = vocabulary.noun_roles if beside_nouns else ()
    if not nouns and not said.cloth_of.keys() & {*keys, _ELSE}:
        said.in_order = not vocabulary.says_ground(said.text)
        return
    unnamed = list(said.cloths)
    if unnamed == [said.rules]:
        unnamed = []
    if len(unnamed) > len(nouns):
        nouns = ()
    rest = said.of(_ELSE)
    given = {
        role: said.of(key) for role, key in zip(vocabulary.roles, keys, strict=True)
    }
    for role in vocabulary.roles:
        own = [cloth for cloth in unnamed if _is_called(cloth, role)]
        if given[role] is None and own:
            given[role] = own[0]
            unnamed.remove(own[0])
    for role in (*nouns, *vocabulary.roles[: vocabulary.cloths]):
        if given[role] is None and unnamed:
            given[role] = unnamed.pop(0)
    dealt: dict[str, ClothWanted] = {}
    for role in vocabulary.roles:
        fallen = dealt.get(vocabulary.falls_back.get(role, ""))
        cloth = given[role] or rest or fallen
        if cloth is None and (said.mixture or said.one_each == ANY_ONE):
            cloth = said.rules
        if cloth is None:
            what = f'"{said.text}" does not say the fabric of the {role}'
            mend = f"say it too, such as {role} from oat, or everything else from oat"
            raise Problem(said.part, what, mend)
        dealt[role] = cloth
    if unnamed:
        more = " and ".join("|".join(cloth.fabrics) for cloth in unnamed)
        what = f'"{said.text}" does not say what {more} is for'
        mend = f"these have fabrics: {', '.join(vocabulary.roles)}"
        raise Problem(said.part, what, mend)
    said.cloths = tuple(dealt.values())


def _is_called(cloth: ClothWanted, role: str) -> bool:
    """Whether a cloth is called as what it is for: lights and darks."""
    words = {
        re.sub(r"^any ", "", word.lower()).removesuffix("s") for word in cloth.fabrics
    }
    return words == {role}
