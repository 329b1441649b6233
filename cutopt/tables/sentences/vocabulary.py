"""What may be said of a part of a quilt, declared: its kinds, its phrases, and how many cloths it takes."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from typing import Final, Generic, TypeVar

from cutopt.quilt.conventions import Conventions
from cutopt.tables.sentences.patterns import PLACES, Phrase
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


ELSE: Final = "everything else CLOTH|all else CLOTH|the others CLOTH"
# other words for what a cloth is for
_ROLE_WORDS: Final = {
    "background": ("background", "ground", "backgrounds"),
    "centre": ("centre", "centres", "middle", "middles", "heart"),
    "point": ("point", "points", "star", "stars", "star points"),
    "goose": ("goose", "geese"),
}


def role_key(role: str) -> str:
    """How the phrase of a role is known."""
    return f"{role} patches"


def role_phrase(role: str) -> str:
    """What names the cloth of a role: ``background from oat``, ``plum points``."""
    words = _ROLE_WORDS.get(role, (role, f"{role}s"))
    ways = (f"{word} CLOTH" for word in words)
    return "|".join((f"{role_key(role)} CLOTH", *ways))


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

    @cached_property
    def own(self) -> tuple[Phrase, ...]:
        """Its own phrases, and those that name the cloth of a role."""
        of_roles = (role_phrase(role) for role in self.roles)
        else_ = (ELSE,) if self.roles else ()
        return tuple(Phrase(told) for told in (*self.phrases, *of_roles, *else_))

    @property
    def ground_first(self) -> bool:
        """Whether its first cloth is the one on which the others lie."""
        return self.roles[:1] == ("background",)

    @cached_property
    def before_cloths(self) -> tuple[tuple[str, ...], ...]:
        """The words before the cloth of each phrase that names one."""
        ways = [way for phrase in self.own for way in phrase.ways if "CLOTH" in way]
        return tuple(way[: way.index("CLOTH")] for way in ways)

    @cached_property
    def clothed(self) -> tuple[tuple[str, tuple[str, ...]], ...]:
        """Each phrase that names a cloth: its key, and the words before the cloth."""
        return tuple(
            (phrase.key, way[:-1])
            for phrase in self.own
            for way in phrase.ways
            if way[-1] == "CLOTH" and len(way) > 1
        )

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

    def vocabulary(self, part: str) -> Vocabulary:
        """What may be said of it in a part of the quilt."""
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
        )
