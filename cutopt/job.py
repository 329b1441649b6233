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

from cutopt.colours import colour_of
from cutopt.errors import JobError, Problem
from cutopt.fabric import ByPiece, Fabric, Offered, Piece
from cutopt.fabric_words import Meanings, answers_to, unknown_fabric
from cutopt.lengths import METRE, YARD
from cutopt.piecing import Back, SpareBlock, contradictions_of_back
from cutopt.settings import Settings, Unit
from cutopt.shown import Shown
from cutopt.wanted import Cut, Strip, Wanted

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
    settings: Settings = field(default_factory=Settings)
    fabrics: tuple[Fabric, ...] = ()
    pieces: tuple[Piece, ...] = ()
    shop: tuple[Offered, ...] = ()
    cuts: tuple[Cut, ...] = ()
    strips: tuple[Strip, ...] = ()
    backs: tuple[Back, ...] = ()
    spare_blocks: tuple[SpareBlock, ...] = ()
    quilt: str = ""
    worked_out: WorkedOut | None = field(default=None, compare=False, repr=False)
    notices: tuple[str, ...] = field(default=(), compare=False)

    def __post_init__(self) -> None:
        problems = list(contradictions(self))
        if problems:
            raise JobError(problems)

    @property
    def wanted(self) -> tuple[Wanted, ...]:
        """Cuts, then strips; backs are pieced, and stand apart."""
        return (*self.cuts, *self.strips)

    @property
    def is_cut_for(self) -> bool:
        """Whether anything is wanted that cloth is cut for."""
        return bool(self.wanted or self.backs)

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
        """The row that a plan calls `key` ("cuts/square").

        Raises
        ------
        KeyError
            Where there is none.
        """
        for row in self.wanted:
            if row.key == key:
                return row
        raise KeyError(key)

    def asked(self, key: str) -> Wanted | Back:
        """The row or back that a plan calls `key` ("cuts/square", "backs/B1").

        Raises
        ------
        KeyError
            Where there is none.
        """
        for back in self.backs:
            if back.key == key:
                return back
        return self.row(key)

    def allowed(self, row: Wanted | Back) -> tuple[str, ...]:
        """Names of the fabrics a row may be cut from, the preferred first; batting only where it is named."""
        return tuple(self.places(row))

    def places(self, row: Wanted | Back) -> dict[str, int]:
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


def is_priced(job: Job) -> bool:
    """Whether plans of a job are weighed by money: else, where a price is missing, by the length that is bought."""
    return all(offered.price is not None for offered in job.shop)


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
    yield from _twice("back", (row.name.lower() for row in job.backs))
    yield from _twice("block", (row.name.lower() for row in job.spare_blocks))
    known = {fabric.name for fabric in job.fabrics}
    for owner in (*job.pieces, *job.shop):
        if owner.fabric not in known:
            yield unknown_fabric(owner.fabric, known)
    meanings = Meanings(job.fabrics)
    for row in job.wanted:
        yield from _unmeant(row.fabrics, meanings, known)
        yield from meanings.contradictions(row, job.settings.seam)
    for back in job.backs:
        main = (back.rules.main,) if back.rules.main else ()
        yield from _unmeant((*back.fabrics, *main), meanings, known)
        yield from contradictions_of_back(back, job.spare_blocks)
        yield from meanings.of_back(back)
    # a finished top may want no more than a backing
    if not (job.wanted or job.backs or job.quilt):
        yield Problem("", "nothing is wanted", "add a row to cuts.csv or strips.csv")


def _unmeant(
    words: Iterable[str], meanings: Meanings, known: Iterable[str]
) -> Iterable[Problem]:
    """The words of a row that mean no fabric."""
    for word in words:
        problem = meanings.problem(word, known)
        if problem is not None:
            yield problem


def _twice(field: str, names: Iterable[str]) -> Iterable[Problem]:
    for name, times in Counter(names).items():
        if times > 1:
            yield Problem(
                field,
                f'the name "{name}" is given {times} times',
                "give each row its own name",
            )


def _says_nothing(field: str, value: object) -> bool:
    """Whether a field is one that jobs did not have before, and is empty: their digest stays as it was."""
    return field in ("backs", "spare_blocks") and not value


def _plain(value: object) -> object:
    """A JSON value of the same content, independent of Python's types."""
    if is_dataclass(value) and not isinstance(value, type):
        told = {
            f.name: _plain(getattr(value, f.name))
            for f in fields(value)
            if f.name not in _TALK and not _says_nothing(f.name, getattr(value, f.name))
        }
        return {"type": type(value).__name__} | told
    if isinstance(value, tuple):
        return [_plain(item) for item in value]
    if isinstance(value, Decimal):
        return format(value.normalize(), "f")
    if isinstance(value, Fraction):
        return f"{value.numerator}/{value.denominator}"
    return value
