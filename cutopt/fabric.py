"""Cloth: what a fabric is, the pieces of the pile, and what a shop sells.

All lengths are ticks (see :mod:`cutopt.lengths`); x runs across the fabric, y along the selvage.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Final, Literal, TypeAlias, TypeVar

from cutopt.crossing import crossing_edges
from cutopt.errors import Problem
from cutopt.geometry import area2, bounds, contains_point, is_rectangle, rectangle, tidy
from cutopt.lengths import CM, INCH, METRE
from cutopt.shown import Shown
from cutopt.signs import unseen_sign

Value: TypeAlias = Literal["", "light", "medium", "dark"]
Word = TypeVar("Word", bound=str)
Wish: TypeAlias = Literal["", "use first", "keep whole", "do not touch"]
Edges: TypeAlias = Literal["true", "raw", "raw ends", "pinked"]
EDGES: Final[tuple[Edges, ...]] = ("true", "raw", "raw ends", "pinked")
Washed: TypeAlias = Literal["", "washed", "unwashed"]
Corner: TypeAlias = tuple[int, int]
Outline: TypeAlias = tuple[Corner, ...]

MOST_COPIES = 10_000
MOST_CORNERS = 1_000
_MOST_FLAWS = 100
_LONGEST_NAME = 80
LONGEST_TITLE = 400
_SMALLEST = INCH // 8
_LARGEST = 100 * METRE

USABLE_WIDTH: Final = {"in": 42 * INCH, "cm": 106 * CM}
"""Usable width of fabric from the bolt where nobody says it: 44/45 in or 110 cm less selvages (common practice)."""


def one_of(field: str, text: str, words: tuple[Word, ...]) -> Word:
    """The one of some words that a text is.

    Parameters
    ----------
    field : str
        Named in the problem.
    text : str
    words : tuple of str

    Raises
    ------
    Problem
        Where it is none of them.
    """
    for word in words:
        if text == word:
            return word
    known = ", ".join(word or "(blank)" for word in words)
    raise Problem(field, f'"{text}" is not known here', f"write one of: {known}")


def named(field: str, text: str) -> None:
    """Raise a problem unless `text` can name a row.

    Raises
    ------
    Problem
        Where it is blank, or has a sign that tables and plans keep for themselves.
    """
    if not text.strip():
        mend = "give the row a name"
        if field == "fabric":
            mend = "write the name of the fabric"
        raise Problem(field, "a name is missing", mend)
    if any(sign in text for sign in "|/;\n"):
        raise Problem(
            field,
            f'"{text}" has a | / ; or line break in it',
            "use letters, figures, spaces, - or _",
        )


def refuse_long_text(field: str, text: str, most: int = _LONGEST_NAME) -> None:
    """Raise a problem unless a text fits on a page and all its signs can be seen.

    Parameters
    ----------
    field, text : str
        Its column, and what stands there.
    most : int
        Signs.

    Raises
    ------
    Problem
        Where it is longer, or has a sign that nobody can see.
    """
    if len(text) > most:
        raise Problem(
            field,
            f'"{text[:most]}..." has {len(text)} signs',
            f"write a shorter one, of at most {most}",
        )
    sign = unseen_sign(text)
    if sign:
        what = f'"{text}" has a sign that nobody can see (U+{ord(sign):04X}, shown as \ufffd)'
        raise Problem(field, what, "write the name again without it")


def counted(field: str, count: int, least: int = 1) -> None:
    """Raise a problem unless the count makes sense.

    Parameters
    ----------
    field : str
        Its column.
    count, least : int

    Raises
    ------
    Problem
        Where it is below `least`, or more than anybody cuts.
    """
    if count < least:
        raise Problem(field, f"{count} is too few", f"write {least} or more")
    if count > MOST_COPIES:
        raise Problem(field, f"{count} is more than {MOST_COPIES}", "check the number")


# words of the trade (common practice, no source)
_BATTING: Final = ("batting", "wadding")
_NAPPED: Final = frozenset(
    ("velvet", "velveteen", "velour", "corduroy", "plush", "fur", "terry", "fleece")
)
_STIFFENED: Final = ("interfacing", "stabilizer", "stabiliser", "foam")


@dataclass(frozen=True, slots=True, kw_only=True)
class Fabric:
    """One fabric of the pile or the shop.

    `one_way` says along which direction a one-way print stands up: "along" the selvage, "across" it, or "" for
    a print that has no right way up. Cloth with a `nap` is one-way, along the selvage unless it says across, and all
    that is cut from it lies the same way up, whatever its row says. Shrinkage is a share (0.03) that bought cloth loses
    in the wash before it is cut; cloth of the pile is planned as measured, but as its first wash leaves it where it is
    not washed yet and goes into a backing, or all is washed first. `tags` are the maker's own words ("greens").
    """

    name: str
    colour: str = ""
    value: Value = ""
    kind: str = "quilting cotton"
    washed: bool = True
    one_way: Literal["", "along", "across"] = ""
    nap: bool = False
    shrink_across: Fraction = Fraction(0)
    shrink_along: Fraction = Fraction(0)
    tags: tuple[str, ...] = ()
    note: str = ""

    def __post_init__(self) -> None:
        named("fabric", self.name)
        one_of("value", self.value, ("", "light", "medium", "dark"))
        one_of("one_way", self.one_way, ("", "along", "across"))
        if self.nap and not self.one_way:
            object.__setattr__(self, "one_way", "along")
        for field in ("shrink_across", "shrink_along"):
            share = getattr(self, field)
            if not 0 <= share < Fraction(1, 2):
                raise Problem(
                    field,
                    f"{float(share):g} is not a shrinkage",
                    "write a share such as 3% (below 50%)",
                )

    @property
    def usually_has_nap(self) -> bool:
        """Whether cloth of its kind has one: velvet, corduroy, plush (common practice, no source)."""
        return not _NAPPED.isdisjoint(self.kind.lower().split())

    def stands(self, *, upright: bool) -> bool:
        """Whether its parts may not be turned, where a print has to stand `upright` or not."""
        return self.one_way != "" and (upright or self.nap)

    @property
    def is_batting(self) -> bool:
        """Whether it goes between top and backing."""
        return self._is_of(_BATTING)

    @property
    def is_inside(self) -> bool:
        """Whether it lies between layers, as batting and interfacing do: a row is cut from it by its own name only."""
        return self._is_of((*_BATTING, *_STIFFENED))

    def _is_of(self, kinds: Iterable[str]) -> bool:
        kind = self.kind.lower()
        return any(word in kind for word in kinds)


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece(Shown):
    """A piece of the pile, or `count` pieces alike.

    Parameters
    ----------
    outline : corners in ticks, in the grain frame
        A simple polygon; kept counter-clockwise and without corners on a straight line.
    flaws : outlines
        Areas that no wanted part may touch. The cloth there is still cloth.
    edges : {"true", "raw", "raw ends", "pinked"}
        Nothing is taken off a true edge; a raw one loses the square-up of the job, a pinked one what pinking takes.
        Raw ends are those of a length from the bolt: they lose what the ends of a length from the shop lose.
    grain_known : bool
        Whether y is known to run along the selvage. Where not, the piece serves no wanted part with a grain
        rule and none whose print must stand up.
    about : bool
        Measured roughly: planned smaller by the allowance of the job on every edge.
    washed : {"", "washed", "unwashed"}
        "" for as its fabric is.
    """

    name: str
    fabric: str
    outline: Outline
    count: int = 1
    flaws: tuple[Outline, ...] = ()
    edges: Edges = "true"
    grain_known: bool = True
    about: bool = False
    washed: Washed = ""
    wish: Wish = ""
    note: str = ""

    def __post_init__(self) -> None:
        named("piece", self.name)
        named("fabric", self.fabric)
        counted("count", self.count)
        one_of("edges", self.edges, EDGES)
        if self.edges == "raw ends" and not is_rectangle(self.outline):
            what = "only a rectangle has raw ends"
            raise Problem("edges", what, "write raw, or true")
        one_of("washed", self.washed, ("", "washed", "unwashed"))
        one_of("wish", self.wish, ("", "use first", "keep whole", "do not touch"))
        if len(self.flaws) > _MOST_FLAWS:
            raise Problem(
                "flaws",
                f"{len(self.flaws)} flaws are too many",
                "mark those that lie close as one",
            )
        object.__setattr__(self, "outline", _checked_outline("outline", self.outline))
        object.__setattr__(
            self, "flaws", tuple(self._checked_flaw(flaw) for flaw in self.flaws)
        )

    @classmethod
    def of_size(
        cls, name: str, fabric: str, width: int, length: int, **more: object
    ) -> Piece:
        """A rectangular piece.

        Parameters
        ----------
        name, fabric : str
        width, length : int
            Across and along the selvage, ticks.
        more
            The other fields of a piece.
        """
        return cls(name=name, fabric=fabric, outline=rectangle(width, length), **more)  # type: ignore[arg-type]

    def is_washed(self, fabric: Fabric) -> bool:
        """Whether it is washed already, as it says itself or else its fabric."""
        if self.washed:
            return self.washed == "washed"
        return fabric.washed

    @property
    def size(self) -> tuple[int, int]:
        """Width and length of the smallest upright rectangle round the piece."""
        x1, y1, x2, y2 = bounds(self.outline)
        return int(x2 - x1), int(y2 - y1)

    @property
    def is_rectangle(self) -> bool:
        """Whether the outline is an upright rectangle."""
        return is_rectangle(self.outline)

    @property
    def area(self) -> int:
        """Square ticks of cloth, flaws included (rounded down)."""
        return int(area2(self.outline)) // 2

    def _checked_flaw(self, flaw: Outline) -> Outline:
        tidied = _checked_outline("flaws", flaw)
        if not all(contains_point(self.outline, corner) for corner in tidied):
            raise Problem(
                "flaws",
                "a flaw lies outside the piece",
                "give its corners in the frame of the outline",
            )
        return tidied


def _checked_outline(field: str, outline: Outline) -> Outline:
    if len(outline) < 3:
        raise Problem(
            field,
            f"{len(outline)} corners make no area",
            "list at least three corners, x y; x y; x y",
        )
    if len(outline) > MOST_CORNERS:
        what = f"an outline of {len(outline)} corners is too fine"
        raise Problem(field, what, f"leave corners out: {MOST_CORNERS} are the most")
    if any(abs(c) > _LARGEST for corner in outline for c in corner):
        raise Problem(
            field,
            "a corner lies more than 100 m away",
            "check the numbers and their unit",
        )
    ring = tuple(corner for i, corner in enumerate(outline) if corner != outline[i - 1])
    met = crossing_edges(ring)
    if met is not None:
        one, other = (f"{i + 1}-{(i + 1) % len(ring) + 1}" for i in met)
        raise Problem(
            field,
            f"the side between corners {one} meets the one between corners {other}",
            "list the corners in order round the piece",
        )
    if len(ring) < 3 or area2(ring) == 0:
        raise Problem(
            field, "the corners lie on one line", "list the corners round the piece"
        )
    x1, y1, x2, y2 = bounds(ring)
    if min(x2 - x1, y2 - y1) < _SMALLEST:
        raise Problem(
            field,
            "the piece is narrower than 1/8 in",
            "check the numbers and their unit",
        )
    return tidy(ring)  # type: ignore[return-value]


@dataclass(frozen=True, slots=True, kw_only=True)
class ByLength:
    """Fabric that a shop cuts from the bolt.

    `usable_width`, `sold_by` (the step), `smallest` and `most` are ticks; `price` is per yard in an inch job and
    per metre in a metric one, None where not given.
    """

    fabric: str
    usable_width: int
    sold_by: int
    smallest: int = 0
    most: int | None = None
    price: Decimal | None = None
    note: str = ""

    def __post_init__(self) -> None:
        named("fabric", self.fabric)
        _sized("usable_width", self.usable_width)
        _sized("sold_by", self.sold_by)
        _priced(self.price)
        if self.smallest < 0:
            raise Problem(
                "smallest",
                "it is below 0",
                "leave it blank or write the smallest sale, such as 1/4 yd",
            )
        if self.most is not None and self.most < max(self.smallest, self.sold_by):
            raise Problem(
                "most",
                "the most that is sold is less than the smallest sale",
                "leave it blank or raise it",
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class ByPiece:
    """Fabric sold by the piece (fat quarters, squares, sheets, the remnant bin): usable size, each."""

    fabric: str
    each_width: int
    each_length: int
    most: int | None = None
    price: Decimal | None = None
    note: str = ""

    def __post_init__(self) -> None:
        named("fabric", self.fabric)
        _sized("each_width", self.each_width)
        _sized("each_length", self.each_length)
        _priced(self.price)
        if self.most is not None:
            counted("most", self.most)


Offered: TypeAlias = ByLength | ByPiece


def _sized(field: str, ticks: int) -> None:
    if not _SMALLEST <= ticks <= _LARGEST:
        raise Problem(
            field, "the size makes no sense", "write a length between 1/8 in and 100 m"
        )


def _priced(price: Decimal | None) -> None:
    if price is not None and not (price.is_finite() and 0 <= price <= 100_000):
        raise Problem(
            "price", f'"{price}" is not a price', "write a number such as 9.60"
        )
