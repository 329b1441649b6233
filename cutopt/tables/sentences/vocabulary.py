"""What may be said of a part of a quilt, declared: its kinds, its phrases, and how many cloths it takes."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import Final, Generic, TypeVar

from cutopt.quilt.conventions import Conventions
from cutopt.tables.sentences.patterns import PLACES, Node, Phrase, tree_of
from cutopt.tables.sentences.said import Said

Made_co = TypeVar("Made_co", covariant=True)

RULES: Final = (
    Phrase("upright|the print stands up|print upright|standing up"),
    Phrase("grain along|along the selvage|parallel to the selvage"),
    Phrase("grain across|across the selvage"),
    Phrase("must"),
    Phrase("nice|nice to have"),
    Phrase("if left"),
    Phrase("together WORD"),
    Phrase(
        "at most NUMBER|at most NUMBER each|at most NUMBER from one|at most NUMBER of one fabric|"
        "at most NUMBER from each|at most NUMBER of each"
    ),
)
"""What may be said of the cloth of anything: the rules of the wanted tables."""


ELSE: Final = (
    "everything else CLOTH|all else CLOTH|the others CLOTH|others CLOTH|the rest CLOTH|"
    "rest CLOTH|rest of it CLOTH|remainder CLOTH|elsewhere CLOTH|all the others CLOTH"
)
# their cloth stands behind them
_LEADS: Final = ("with", "in")
# other words for what a cloth is for
_ROLE_WORDS: Final = {
    "background": ("background", "ground", "backgrounds"),
    "centre": ("centre", "centres", "middle", "middles", "heart"),
    "middle": ("middle", "middles", "centre", "centres"),
    "point": ("point", "points", "star", "stars", "star points"),
    "goose": ("goose", "geese", "large triangle", "large triangles"),
    "sky": ("sky", "skies", "background", "small triangle", "small triangles"),
    "leaf": ("leaf", "leaves"),
    "light": ("light", "lights", "light half", "light side", "light logs"),
    "dark": ("dark", "darks", "dark half", "dark side", "dark logs"),
}


def role_key(role: str) -> str:
    """How the phrase of a role is known."""
    return f"{role} patches"


def role_phrase(role: str, also: Sequence[str] = ()) -> str:
    """What names the cloth of a role, `also` by other words: ``background from oat``, ``plum points``."""
    words = (*_ROLE_WORDS.get(role, (role, f"{role}s")), *also)
    ways = (f"{word} CLOTH" for word in words)
    return "|".join((f"{role_key(role)} CLOTH", *ways))


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Words for what a cloth is for: the `keys` of that, none where they only say that it is cut from the cloth.

    `leads` where its cloth always stands behind it, `is_measured` where a length may stand beside the words too.
    """

    words: tuple[str, ...]
    keys: tuple[str, ...] = ()
    leads: bool = False
    is_measured: bool = False


@dataclass(frozen=True, kw_only=True)
class Vocabulary:
    """What may be said of one thing.

    Parameters
    ----------
    part : str
        The part of the quilt, named in a problem.
    like : str
        A sentence that reads.
    told : str
        What it is called in a problem.
    phrases : tuple of str
        As :mod:`cutopt.tables.sentences.patterns` reads them.
    cloths : int
        How many cloths it takes at most.
    named : bool
        Whether names and a colon may stand before it.
    counted, sized : bool
        Whether a count and a size belong to it.
    bare_cloth : bool
        Whether words that are none of these name its fabric, without "from".
    mixed : bool
        Whether its cloths may be a mixture, read by whoever makes it.
    roles : tuple of str
        What each of its cloths is for, in their order, where that has a name: background, point, centre.
    also : mapping
        More words for roles.
    nouns : tuple of str
        What fabrics may stand beside without a word of where they go: the *logs* of a block.
    noun_roles : tuple of str
        The roles of these, where not every role is one.
    several : mapping
        Words for several places at once, with their keys: *both sides*.
    by_number : tuple of int
        How many patches of a block each role has, where they may be told by that.
    falls_back : mapping
        The role whose cloth another has where that is not said.
    by_place : bool
        Whether fabrics may stand on either side of what they are for.
    evenly : bool
        Whether each fabric of a mixture gives as many as the others; strips that hold several cannot tell.
    talk : bool
        Whether it is said in whole sentences as well: ``I'd like it mitred, please``.
    small : frozenset of str
        Small words of its own that say nothing beside the others.
    free : bool
        Whether other words may stand in it, which are kept as they are.
    """

    part: str
    like: str
    told: str
    phrases: tuple[str, ...] = ()
    cloths: int = 1
    named: bool = False
    counted: bool = False
    sized: bool = False
    bare_cloth: bool = False
    mixed: bool = False
    roles: tuple[str, ...] = ()
    also: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    nouns: tuple[str, ...] = ()
    noun_roles: tuple[str, ...] = ()
    several: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    by_number: tuple[int, ...] = ()
    falls_back: Mapping[str, str] = field(default_factory=dict)
    by_place: bool = False
    evenly: bool = True
    talk: bool = False
    small: frozenset[str] = frozenset()
    free: bool = False

    @cached_property
    def own(self) -> tuple[Phrase, ...]:
        """Its own phrases, and those that name the cloth of a role."""
        of_roles = (role_phrase(role, self.also.get(role, ())) for role in self.roles)
        else_ = (ELSE,) if self.roles else ()
        return tuple(Phrase(told) for told in (*self.phrases, *of_roles, *else_))

    @property
    def ground_first(self) -> bool:
        """Whether its first cloth is the one on which the others lie."""
        return self.roles[:1] == ("background",)

    def says_ground(self, text: str) -> bool:
        """Whether ``plum on cream`` stands in a sentence of a block with a ground."""
        return self.ground_first and re.search(r"(?i)\bon\b", text) is not None

    @cached_property
    def before_cloths(self) -> tuple[tuple[str, ...], ...]:
        """The words before the cloth of each phrase that names one."""
        ways = [way for phrase in self.own for way in phrase.ways if "CLOTH" in way]
        return tuple(way[: way.index("CLOTH")] for way in ways)

    @cached_property
    def clothed(self) -> tuple[tuple[str, tuple[str, ...]], ...]:
        """Each phrase that names a cloth: its key, and the words before the cloth; of most words first."""
        found = [
            (phrase.key, way[:-1])
            for phrase in self.own
            for way in phrase.ways
            if way[-1] == "CLOTH" and len(way) > 1
        ]
        return tuple(sorted(found, key=lambda each: -len(each[1])))

    @cached_property
    def places(self) -> tuple[Place, ...]:
        """What its cloths may be for; none where they are told in other ways."""
        if not self.by_place:
            return ()
        own = (
            Place(
                words=words,
                keys=(key,),
                leads=words[-1] in _LEADS,
                is_measured=self.says_alone(words, key),
            )
            for key, words in self.clothed
        )
        several = (
            Place(words=tuple(words.split()), keys=keys)
            for words, keys in self.several.items()
        )
        spelt = (tuple(noun.split()) for noun in self.nouns)
        nouns = (Place(words=n, is_measured=self.says_alone(n, "")) for n in spelt)
        return (*own, *several, *nouns)

    def role_place(self, number: int) -> Place:
        """The place of a role, by its number."""
        role = self.roles[number]
        return Place(words=(role,), keys=(role_key(role),))

    def says_alone(self, words: tuple[str, ...], key: str) -> bool:
        """Whether words that name a cloth belong to another phrase too: the *sashing* of ``2 sashing``."""
        phrases = [phrase for phrase in self.own if phrase.key != key]
        ways = [way for phrase in phrases for way in phrase.ways]
        others = [way for way in ways if "CLOTH" not in way]
        return any(set(words) <= set(way) for way in others)

    @cached_property
    def literals(self) -> frozenset[str]:
        """All words of its own phrases."""
        ways = [way for phrase in self.own for way in phrase.ways]
        return frozenset(word for way in ways for word in way if word not in PLACES)

    @cached_property
    def all_phrases(self) -> tuple[Phrase, ...]:
        """Its own phrases and, where it has cloth, the rules of it."""
        if not self.cloths:
            return self.own
        return (*self.own, *RULES)

    @cached_property
    def tree(self) -> Node:
        """All ways to say all its phrases."""
        return tree_of(self.all_phrases)


@dataclass(frozen=True, kw_only=True)
class Kind(Generic[Made_co]):
    """A kind of block or article, and what may be said of it.

    Parameters
    ----------
    one, many : str
        What it is called.
    make : callable
        From the sentence taken apart, the name of its rows and the conventions.
    like : str
        A sentence that reads.
    options : tuple of str
        Its phrases.
    cloths : int
        How many cloths it takes at most, one for each kind of patch; the last holds for those that are not named.
    needs_size : bool
        Whether nothing can be made of it without a size.
    square : bool
        Whether its size has one side only: ``12 x 6"`` are twelve of 6 in then.
    roles : tuple of str
        What each cloth is for, where that has a name.
    told_by : str
        A pattern by which it is known, whatever it is called.
    also, nouns, noun_roles, several, by_number, falls_back, evenly
        As those of a :class:`Vocabulary`.
    """

    one: str
    many: str
    make: Callable[[Said, str, Conventions], Made_co]
    like: str
    options: tuple[str, ...] = ()
    cloths: int = 1
    needs_size: bool = True
    square: bool = False
    roles: tuple[str, ...] = ()
    told_by: str = ""
    also: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    nouns: tuple[str, ...] = ()
    noun_roles: tuple[str, ...] = ()
    several: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    by_number: tuple[int, ...] = ()
    falls_back: Mapping[str, str] = field(default_factory=dict)
    evenly: bool = True

    def vocabulary(self, part: str) -> Vocabulary:
        """What may be said of it in a part of the quilt."""
        if part not in self._made:
            self._made[part] = self._vocabulary(part)
        return self._made[part]

    @cached_property
    def _made(self) -> dict[str, Vocabulary]:
        """Its vocabularies, each made once."""
        return {}

    def _vocabulary(self, part: str) -> Vocabulary:
        return Vocabulary(
            part=part,
            like=self.like,
            told=self.many,
            phrases=self.options,
            cloths=self.cloths,
            named=True,
            counted=True,
            sized=True,
            roles=self.roles,
            also=self.also,
            nouns=self.nouns,
            noun_roles=self.noun_roles,
            several=self.several,
            by_number=self.by_number,
            falls_back=self.falls_back,
            evenly=self.evenly,
            by_place=True,
        )
