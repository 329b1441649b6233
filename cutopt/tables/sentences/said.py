"""A sentence taken apart."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction
from typing import TypeAlias, TypeVar

from cutopt.errors import Problem
from cutopt.quilt.wanted_parts import ClothWanted

Meaning = TypeVar("Meaning")
# a number of them, a part of all, or None for the rest
Part: TypeAlias = int | Fraction | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Share:
    """Part of what is wanted, from cloths of its own: ``half from navy``."""

    part: Part
    cloths: tuple[ClothWanted, ...]


@dataclass(slots=True)
class Said:
    """A sentence taken apart; whoever makes something of it strikes off the options that are used.

    Parameters
    ----------
    text : str
        The sentence as typed.
    part : str
        The part of the quilt, named in a problem.
    names : tuple of str
        Given before a colon.
    count : int or None
        None where it is not said.
    kind : str
        As the vocabulary has it, "" where there is none.
    size : str
        As typed, ``6 x 12 cut``; "" where there is none.
    options : dict
        What stands in the place of each phrase that was said ("" for nothing), by the words of the phrase.
    cloths : tuple of ClothWanted
        One for each kind of patch, the rules of the sentence with each.
    cloth_of : dict
        The cloth that an option names (``corner squares from plum``), by the words of the phrase.
    shares : tuple of Share
        Where parts of the whole come from cloths of their own; then `cloths` is empty.
    mixture : str
        "mixed", "scrappy" or "alternating" where that was said of the cloths.
    rules : ClothWanted
        Any fabric, with the rules of the sentence.
    one_each : str
        The fabric of which each block has one, in words; "" where nothing is said.
    differ : bool
        Whether each block is to have another of these.
    in_order : bool
        Whether its cloths are named with no word of what they are for: their order says it.
    aside : tuple of str
        Other words, where they may stand in it.
    """

    text: str
    part: str = ""
    names: tuple[str, ...] = ()
    count: int | None = None
    kind: str = ""
    size: str = ""
    options: dict[str, str] = field(default_factory=dict)
    cloths: tuple[ClothWanted, ...] = ()
    cloth_of: dict[str, ClothWanted] = field(default_factory=dict)
    shares: tuple[Share, ...] = ()
    mixture: str = ""
    rules: ClothWanted = field(default_factory=ClothWanted)
    one_each: str = ""
    differ: bool = False
    in_order: bool = False
    aside: tuple[str, ...] = ()

    @property
    def many(self) -> int:
        """The count, 1 where none is said."""
        return 1 if self.count is None else self.count

    @property
    def cloth(self) -> ClothWanted | None:
        """The first of its cloths, None where none is named."""
        return next(iter(self.cloths), None)

    def take(self, *phrases: str) -> str:
        """The first of these phrases that was said, and strike it off; "" where none was."""
        for phrase in phrases:
            if phrase in self.options:
                del self.options[phrase]
                return phrase
        return ""

    def only_one(self, *phrases: str) -> str:
        """The one of these phrases that was said, and strike it off; "" where none was.

        Raises
        ------
        Problem
            Where two are.
        """
        word = self.take(*phrases)
        other = self.take(*phrases)
        if other:
            what = f'"{self.text}" says both {word} and {other}'
            raise Problem(self.part, what, "keep one of the two")
        return word

    def meant(self, phrases: Mapping[str, Meaning]) -> Meaning | None:
        """What the first of these phrases that was said means, and strike it off; None where none was."""
        said = self.take(*phrases)
        if said:
            return phrases[said]
        return None

    def after(self, phrase: str) -> str:
        """What stands in the place of a phrase (``logs LENGTH``), and strike it off; "" where it was not said."""
        return self.options.pop(phrase, "")

    def of(self, phrase: str) -> ClothWanted | None:
        """The cloth that a phrase names, and strike it off; None where it was not said."""
        return self.cloth_of.pop(phrase, None)

    def finish(self) -> None:
        """See to it that nothing is passed over.

        Raises
        ------
        Problem
            For what nobody took.
        """
        left = [*self.options, *self.cloth_of]
        if left:
            what = f'"{left[0]}" in "{self.text}" is of no use here'
            raise Problem(self.part, what, "leave it out")

    def parted(self, name: str) -> Iterator[Said]:
        """The sentence for each of its shares, with the count of that; itself where it has none.

        Each is named by its fabrics behind the names that are given, or behind `name`: ``square of navy``.

        Raises
        ------
        Problem
            Where there is no count to share, or the shares do not come to it.
        """
        if not self.shares:
            yield self
            return
        for share, count in zip(self.shares, self._counts(), strict=True):
            if count:
                yield self._of_share(share, count, self.names or (name,))

    def _of_share(self, share: Share, count: int, names: tuple[str, ...]) -> Said:
        cloths = (" or ".join(cloth.fabrics) or "any" for cloth in share.cloths)
        of = " and ".join(cloths)
        return replace(
            self,
            count=count,
            names=tuple(f"{each} of {of}" for each in names),
            cloths=share.cloths,
            shares=(),
            options=dict(self.options),
            cloth_of=dict(self.cloth_of),
        )

    def _counts(self) -> list[int]:
        """How many each share has; what does not divide goes to the first of them."""
        if self.count is None:
            what = f'"{self.text}" does not say how many are shared'
            raise Problem(self.part, what, "write how many before the kind")
        given = [self._so_many(share.part, self.count) for share in self.shares]
        rest = self.count - sum(given)
        open_ = [i for i, share in enumerate(self.shares) if share.part is None]
        if not open_ and all(isinstance(each.part, Fraction) for each in self.shares):
            whole = sum(Fraction(each.part or 0) for each in self.shares)
            open_ = list(range(len(self.shares))) if whole == 1 else []
        if rest and (rest < 0 or not open_):
            told = " + ".join(map(str, given))
            what = f'"{self.text}": {told} = {sum(given)}, and {self.count} are wanted'
            raise Problem(self.part, what, "make the shares come to all of them")
        for n in range(rest):
            given[open_[n % len(open_)]] += 1
        return given

    @staticmethod
    def _so_many(part: Part, count: int) -> int:
        if part is None:
            return 0
        if isinstance(part, int):
            return part
        return int(part * count)
