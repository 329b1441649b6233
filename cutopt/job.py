"""A job: settings, fabrics, the pile, the shop and what is wanted, checked against each other."""

from __future__ import annotations

import hashlib
import json
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field, fields, is_dataclass, replace
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from itertools import count
from typing import Literal, TypeAlias

from cutopt.colours import colour_of
from cutopt.errors import JobError, Problem
from cutopt.fabric import ByLength, ByPiece, Fabric, Offered, Piece, one_of
from cutopt.fabric_words import Meanings, answers_to, unknown_fabric
from cutopt.lengths import INCH, METRE, MM, YARD
from cutopt.precuts import Precuts
from cutopt.shown import Shown
from cutopt.wanted import Cut, Strip, Wanted

Unit: TypeAlias = Literal["in", "cm"]
Prewash: TypeAlias = Literal["", "all", "none"]
# words and looks that no plan depends on
_TALK = (
    "note",
    "why",
    "colour",
    "currency",
    "precuts",
    "quilt",
    "worked_out",
    "notices",
    "spares",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """The choices on which quilters differ, each with its default for an inch job; lengths in ticks.

    Parameters
    ----------
    grid : int
        Cut lines lie on this grid, counted from an edge of the piece (1/8 in); sizes that are not on it are cut
        as they are. Where only finer lines leave room for a part, all are finer: 1/16 in, or 1 mm, if `grid` is
        so many of them.
    seam : int
        Seam allowance (1/4 in).
    square_up : int
        Taken off each raw edge of a piece of the pile (1/4 in).
    square_up_end : int
        Taken off each of the two ends of a length that a shop cut (1/2 in).
    extra : int
        Of each length bought, so much more than the plan needs (0), before it is rounded up to what is sold.
    about : int
        Taken off every edge of a piece measured roughly (1/2 in), square-up apart.
    pinked : int
        Taken off each pinked edge (0: the points are the edge, as most patterns take it; 1/16 in down to the valleys).
    keep_width, keep_length : int
        Spare cloth that holds a rectangle of this size is worth keeping (5 x 5 in). Among plans of equal cost the one
        with the more valuable leftover is the better: Andrade, Birgin and Morabito, Two-stage two-dimensional guillotine
        cutting stock problems with usable leftover, 2013.
    longest_cut : int
        The longest cut that mat and ruler take in one go (24 in); longer ones are folded.
    turns : int or None
        At most so many changes of cutting direction in one piece; None for as many as wanted. Squaring up and
        trimming to size count like other cuts.
    preference : Fraction
        A plan that keeps to the fabrics named first may cost this share more than the cheapest (5 %).
    precuts : Precuts
        Sizes by which a pile or shop names cloth that is cut beforehand.
    prewash : {"", "all", "none"}
        Whether all cloth is washed before it is cut, leftovers too, or none; "" for as each fabric says.
    shrinkage : Fraction
        What cotton loses each way where all is washed first and nobody says how much (5 %).
    """

    unit: Unit = "in"
    grid: int = INCH // 8
    seam: int = INCH // 4
    square_up: int = INCH // 4
    square_up_end: int = INCH // 2
    extra: int = 0
    about: int = INCH // 2
    pinked: int = 0
    keep_width: int = 5 * INCH
    keep_length: int = 5 * INCH
    longest_cut: int = 24 * INCH
    turns: int | None = None
    preference: Fraction = Fraction(1, 20)
    currency: str = ""
    precuts: Precuts = field(default_factory=Precuts)
    prewash: Prewash = ""
    shrinkage: Fraction = Fraction(1, 20)

    def __post_init__(self) -> None:
        one_of("unit", self.unit, ("in", "cm"))
        one_of("prewash", self.prewash, ("", "all", "none"))
        if not 0 <= self.shrinkage < Fraction(1, 2):
            raise Problem("shrinkage", "it is no shrinkage", "write a share such as 5%")
        for name in ("seam", "square_up", "square_up_end", "extra", "about", "pinked"):
            if not 0 <= getattr(self, name) <= METRE:
                raise Problem(
                    name, "the size makes no sense", "write a small length, 0 or more"
                )
        for name in ("keep_width", "keep_length"):
            if getattr(self, name) < 0:
                raise Problem(
                    name,
                    "the size is below 0",
                    "write the size of the smallest spare cloth worth keeping",
                )
        if self.longest_cut < INCH:
            raise Problem(
                "longest_cut",
                "the length makes no sense",
                "write how long a cut mat and ruler take",
            )
        if not MM // 2 <= self.grid <= 2 * INCH:
            raise Problem(
                "grid",
                "the grid makes no sense",
                "write 1/8 or 1/16 (in), 1 mm or 5 mm",
            )
        if not 0 <= self.preference <= 1:
            raise Problem(
                "preference",
                "it is not between 0 and 100 %",
                "write a share of the money, such as 5%",
            )
        if self.turns is not None and self.turns < 2:
            raise Problem(
                "turns",
                f"{self.turns} is too few to cut a rectangle",
                "write 2 or more, or leave it out",
            )

    @classmethod
    def metric(cls) -> Settings:
        """The defaults of a metric job: whole millimetres near the inch ones (common practice, no source)."""
        return cls(
            unit="cm",
            grid=5 * MM,
            seam=15 * MM // 2,
            square_up=5 * MM,
            square_up_end=15 * MM,
            about=10 * MM,
            keep_width=120 * MM,
            keep_length=120 * MM,
            longest_cut=600 * MM,
            precuts=Precuts.metric(),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class ClothKnown:
    """What the sentences of a quilt may know of the cloth of its job.

    Parameters
    ----------
    usable_width : int or None
        How wide cloth is in the shop (ticks), None for as usual.
    names : frozenset of str
        Names, tags and values of its fabrics in lower case.
    """

    usable_width: int | None = None
    names: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkedOut:
    """A quilt that was worked out from its text, and all else that it was worked out from.

    Parameters
    ----------
    quilt : cutopt.quilt.recipe.quilt.Quilt
        A value of a room above this one.
    text : str
        The sentences that say what it is.
    settings : Settings
        Those of the job.
    cloth : ClothKnown
        What was known of the cloth.
    """

    quilt: object
    text: str
    settings: Settings
    cloth: ClothKnown

    def is_from(self, text: str, settings: Settings, cloth: ClothKnown) -> bool:
        """Whether it was worked out from just these.

        Parameters
        ----------
        text : str
        settings : Settings
        cloth : ClothKnown
        """
        return (self.text, self.settings, self.cloth) == (text, settings, cloth)


@dataclass(frozen=True, slots=True, kw_only=True)
class Job(Shown):
    """All that a plan is made from; `quilt` is the text of the quilt.toml that rows were worked out from.

    `worked_out` is the quilt itself where that text was read already; :func:`cutopt.tables.recipe.quilt.quilt_of`
    gives the quilt of any job. `notices` are sentences about what was read and may not be meant. Both are no part of
    the job itself: jobs that differ in nothing else are equal.

    Raises
    ------
    JobError
        With every contradiction between the parts: unknown fabrics, names given twice, no wanted part.
    """

    name: str = "job"
    settings: Settings = Settings()
    fabrics: tuple[Fabric, ...] = ()
    pieces: tuple[Piece, ...] = ()
    shop: tuple[Offered, ...] = ()
    cuts: tuple[Cut, ...] = ()
    strips: tuple[Strip, ...] = ()
    quilt: str = ""
    worked_out: WorkedOut | None = field(default=None, compare=False, repr=False)
    notices: tuple[str, ...] = field(default=(), compare=False)

    def __post_init__(self) -> None:
        problems = list(contradictions(self))
        if problems:
            raise JobError(problems)

    @property
    def wanted(self) -> tuple[Wanted, ...]:
        """Cuts, then strips."""
        return (*self.cuts, *self.strips)

    def with_pieces(self, pieces: Iterable[Piece]) -> Job:
        """The same job with more leftovers: new fabrics are added, and a name that is taken gets a number behind it.

        Raises
        ------
        JobError
            Where a leftover contradicts the job.
        """
        known = {fabric.name for fabric in self.fabrics}
        more = tuple(pieces)
        new = dict.fromkeys(piece.fabric for piece in more if piece.fabric not in known)
        fabrics = (*self.fabrics, *(Fabric(name=name) for name in new))
        taken = {piece.name for piece in self.pieces}
        named: list[Piece] = []
        for piece in more:
            name = _free_name(piece.name, taken)
            taken.add(name)
            named.append(replace(piece, name=name))
        return replace(self, fabrics=fabrics, pieces=(*self.pieces, *named))

    def fabric(self, name: str) -> Fabric:
        """The fabric of that name.

        Raises
        ------
        KeyError
            Where there is none.
        """
        for fabric in self.fabrics:
            if fabric.name == name:
                return fabric
        raise KeyError(name)

    def row(self, key: str) -> Wanted:
        """The wanted row that a plan calls `key` ("cuts/square").

        Raises
        ------
        KeyError
            Where there is none.
        """
        for row in self.wanted:
            if row.key == key:
                return row
        raise KeyError(key)

    def allowed(self, row: Wanted) -> tuple[str, ...]:
        """Names of the fabrics a row may be cut from, the preferred first; batting only where it is named."""
        return tuple(self.places(row))

    def places(self, row: Wanted) -> dict[str, int]:
        """The fabrics a row may be cut from, each with its place in the order of preference from 0 on.

        A word of the row is one place: all fabrics of a tag, or of "any", are liked alike.
        """
        found: dict[str, int] = {}
        for place, word in enumerate(row.fabrics or ("any",)):
            for fabric in self.fabrics:
                if answers_to(fabric, word):
                    found.setdefault(fabric.name, place)
        return found

    def colour(self, name: str) -> str:
        """The colour in which a fabric is drawn: its own, or what its name says, or a grey."""
        place = next(i for i, fabric in enumerate(self.fabrics) if fabric.name == name)
        return colour_of(self.fabrics[place].colour, name, place)

    @property
    def digest(self) -> str:
        """SHA-256 of the job in a canonical form; a plan carries it, so that altered input is noticed."""
        text = json.dumps(
            _plain(self), sort_keys=True, ensure_ascii=True, separators=(",", ":")
        )
        return hashlib.sha256(text.encode()).hexdigest()


def _free_name(name: str, taken: set[str]) -> str:
    """The name, or the first of ``NAME, 2``, ``NAME, 3``, ... that is not taken."""
    tries = (name if number == 1 else f"{name}, {number}" for number in count(1))
    return next(one for one in tries if one not in taken)


def cost_of(offered: Offered, length: int, unit: Unit) -> Decimal | None:
    """What `length` ticks of a fabric cost, or one piece; None without a price. Rounded half up to 1/100.

    Parameters
    ----------
    offered : ByLength or ByPiece
    length : int
        Ticks; what is sold by the piece costs the same whatever it is.
    unit : {"in", "cm"}
        A price is that of a yard or of a metre.
    """
    if offered.price is None:
        return None
    if isinstance(offered, ByPiece):
        return offered.price.quantize(Decimal("0.01"), ROUND_HALF_UP)
    exact = Fraction(offered.price) * length / (YARD if unit == "in" else METRE)
    return (Decimal(exact.numerator) / Decimal(exact.denominator)).quantize(
        Decimal("0.01"), ROUND_HALF_UP
    )


def contradictions(job: Job) -> Iterable[Problem]:
    """Everything in which the parts of a job disagree, as problems without a place."""
    yield from _twice("fabric", (fabric.name.lower() for fabric in job.fabrics))
    yield from _twice("piece", (piece.name.lower() for piece in job.pieces))
    yield from _twice("cut", (row.name.lower() for row in job.cuts))
    yield from _twice("strip", (row.name.lower() for row in job.strips))
    known = {fabric.name for fabric in job.fabrics}
    for owner in (*job.pieces, *job.shop):
        if owner.fabric not in known:
            yield unknown_fabric(owner.fabric, known)
    meanings = Meanings(job.fabrics)
    for row in job.wanted:
        for word in row.fabrics:
            problem = meanings.problem(word, known)
            if problem is not None:
                yield problem
        yield from meanings.contradictions(row, job.settings.seam)
    # a finished top may want no more than a backing
    if not job.wanted and not job.quilt:
        yield Problem("", "nothing is wanted", "add a row to cuts.csv or strips.csv")


def _twice(field: str, names: Iterable[str]) -> Iterable[Problem]:
    for name, times in Counter(names).items():
        if times > 1:
            yield Problem(
                field,
                f'the name "{name}" is given {times} times',
                "give each row its own name",
            )


def _plain(value: object) -> object:
    """A JSON value of the same content, independent of Python's types."""
    if is_dataclass(value) and not isinstance(value, type):
        told = {
            f.name: _plain(getattr(value, f.name))
            for f in fields(value)
            if f.name not in _TALK
        }
        return {"type": type(value).__name__} | told
    if isinstance(value, tuple):
        return [_plain(item) for item in value]
    if isinstance(value, Decimal):
        return format(value.normalize(), "f")
    if isinstance(value, Fraction):
        return f"{value.numerator}/{value.denominator}"
    return value


__all__ = [
    "ByLength",
    "ByPiece",
    "Job",
    "Settings",
    "WorkedOut",
    "contradictions",
    "cost_of",
]
