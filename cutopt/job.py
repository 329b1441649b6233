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
from cutopt.lengths import INCH, METRE, MM, YARD
from cutopt.shown import Shown
from cutopt.wanted import Cut, Strip, Wanted

Unit: TypeAlias = Literal["in", "cm"]
MOST_GUESSES = 500  # names among which the one that was meant is looked for
_TALK = (
    "note",
    "why",
    "colour",
    "currency",
    "quilt",
    "notices",
)  # words and looks that no plan depends on


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
    keep_width, keep_length : int
        Spare cloth that holds a rectangle of this size is worth keeping (5 x 5 in).
    longest_cut : int
        The longest cut that mat and ruler take in one go (24 in); longer ones are folded.
    turns : int or None
        At most so many changes of cutting direction in one piece; None for as many as wanted. Squaring up and
        trimming to size count like other cuts.
    preference : Fraction
        A plan that keeps to the fabrics named first may cost this share more than the cheapest (5 %).
    """

    unit: Unit = "in"
    grid: int = INCH // 8
    seam: int = INCH // 4
    square_up: int = INCH // 4
    square_up_end: int = INCH // 2
    extra: int = 0
    about: int = INCH // 2
    keep_width: int = 5 * INCH
    keep_length: int = 5 * INCH
    longest_cut: int = 24 * INCH
    turns: int | None = None
    preference: Fraction = Fraction(1, 20)
    currency: str = ""

    def __post_init__(self) -> None:
        one_of("unit", self.unit, ("in", "cm"))
        for name in ("seam", "square_up", "square_up_end", "extra", "about"):
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
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Job(Shown):
    """All that a plan is made from; `quilt` is the text of the quilt.toml that rows were worked out from.

    `notices` are sentences about what was read and may not be meant; they are no part of the job itself.

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
        """The fabric of that name; KeyError where there is none."""
        for fabric in self.fabrics:
            if fabric.name == name:
                return fabric
        raise KeyError(name)

    def row(self, key: str) -> Wanted:
        """The wanted row that a plan calls `key` ("cuts/square"); KeyError where there is none."""
        for row in self.wanted:
            if row.key == key:
                return row
        raise KeyError(key)

    def allowed(self, row: Wanted) -> tuple[str, ...]:
        """Names of the fabrics a row may be cut from, the preferred first; batting only where it is named."""
        if not row.fabrics:
            return tuple(
                fabric.name for fabric in self.fabrics if not fabric.is_batting
            )
        found = (
            fabric.name
            for word in row.fabrics
            for fabric in self.fabrics
            if answers_to(fabric, word)
        )
        return tuple(dict.fromkeys(found))

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


def answers_to(fabric: Fabric, word: str) -> bool:
    """Whether a word of a `fabrics` column means this fabric: name, tag, value, or "any" before these."""
    plain = word.strip().lower()
    names = _names(fabric)
    if plain == "any":
        return not fabric.is_batting
    return plain in names or (plain.startswith("any ") and plain[4:].strip() in names)


def _names(fabric: Fabric) -> set[str]:
    return {
        fabric.name.lower(),
        fabric.value,
        *(tag.lower() for tag in fabric.tags),
    } - {""}


class Meanings:
    """What words of a `fabrics` column mean among some fabrics, as :func:`answers_to` says it, looked up at once."""

    def __init__(self, fabrics: Iterable[Fabric]) -> None:
        self._any: set[str] = set()
        self._ways: dict[str, set[str]] = {}
        for fabric in fabrics:
            for name in _names(fabric):
                self._ways.setdefault(name, set()).add(fabric.one_way)
            if not fabric.is_batting:
                self._any.add(fabric.one_way)

    def ways(self, word: str) -> set[str]:
        """How the prints of the fabrics that a word means stand up; empty where it means none."""
        plain = word.strip().lower()
        if plain == "any":
            return self._any
        return self._ways.get(plain) or self._ways.get(
            plain.removeprefix("any ").strip(), set()
        )

    def contradictions(self, row: Wanted, settings: Settings) -> Iterable[Problem]:
        """In what a row contradicts itself, or all the fabrics that it may be cut from."""
        stands = standing(row)
        if stands and row.grain != "any":
            clash = (
                {"along": "across", "across": "along"}[row.grain]
                if stands == "along"
                else row.grain
            )
            ways = set().union(*map(self.ways, row.fabrics or ("any",)))
            if ways == {clash}:
                what = f"{row.name}: the print stands up {clash} the selvage, the grain rule says {row.grain}"
                yield Problem("grain", what, "leave grain blank or upright no")
        if (
            isinstance(row, Strip)
            and row.join != "none"
            and row.shortest <= row.join_loss(settings.seam)
        ):
            yield Problem(
                "shortest",
                f"{row.name}: a join would eat a segment so short",
                "write more",
            )


def cost_of(offered: Offered, length: int, unit: Unit) -> Decimal | None:
    """What `length` ticks of a fabric cost, or one piece; None without a price. Rounded half up to 1/100."""
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
            if not meanings.ways(word):
                yield unknown_fabric(word, known)
        yield from meanings.contradictions(row, job.settings)
    if (
        not job.wanted and not job.quilt
    ):  # a finished top may want no more than a backing
        yield Problem("", "nothing is wanted", "add a row to cuts.csv or strips.csv")


def unknown_fabric(word: str, known: Iterable[str]) -> Problem:
    """The problem of a fabric or tag that no table knows, with the nearest name as the mend."""
    import difflib

    names = sorted(known)
    near = difflib.get_close_matches(word, names[:MOST_GUESSES], 1)
    mend = (
        f'did you mean "{near[0]}"?'
        if near
        else "add it to fabrics.csv, or use one of: " + ", ".join(names)
    )
    return Problem("fabric", f'"{word}" is neither a fabric nor a tag of one', mend)


def _twice(field: str, names: Iterable[str]) -> Iterable[Problem]:
    for name, times in Counter(names).items():
        if times > 1:
            yield Problem(
                field,
                f'the name "{name}" is given {times} times',
                "give each row its own name",
            )


def standing(row: Wanted) -> Literal["", "along", "across"]:
    """How a one-way print must stand up: along the length of the row, across it, or "" for any way."""
    if isinstance(row, Cut):
        return "along" if row.upright else ""
    return "" if row.upright == "no" else row.upright


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
    "Meanings",
    "Settings",
    "answers_to",
    "contradictions",
    "cost_of",
    "unknown_fabric",
]
