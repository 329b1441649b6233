"""What every part of a quilt gives: wanted rows with their arithmetic, a finished size, and what is spare.

Sizes go in exactly and are rounded once, up, when a row is made; the row says how it came about.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final, TypeAlias

from cutopt.errors import Problem
from cutopt.lengths import up
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.shapes.nested import Held
from cutopt.quilt.surds import Exact, Number, exact, how_many
from cutopt.wanted import Cut, Grain, Importance, JoinKind, Strip, Upright, Wanted


@dataclass(frozen=True, slots=True, kw_only=True)
class ClothWanted:
    """What a part may be cut from: fabrics or tags in order of preference, and the rules of the wanted tables."""

    fabrics: tuple[str, ...] = ()
    grain: Grain = "any"
    upright: bool = False
    importance: Importance = "must"
    together: str = ""
    most_each: int | None = None


ClothLike: TypeAlias = ClothWanted | str | None
Pair: TypeAlias = tuple[ClothLike, ClothLike]
ANY: Final[Pair] = (None, None)


def cloth(choice: ClothLike) -> ClothWanted:
    """A choice of cloth from ``pear``, ``pear|any light`` or a :class:`ClothWanted`; None or "" for any fabric."""
    if isinstance(choice, ClothWanted):
        return choice
    return ClothWanted(
        fabrics=tuple(
            word.strip() for word in (choice or "").split("|") if word.strip()
        )
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Triangles:
    """Spare right-angled triangles that a method leaves: `count` with legs of `leg`, as cut."""

    name: str
    leg: Exact
    count: int
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
    """What a part needs, and the size it comes to.

    `width` and `length` are finished sizes, seams not counted, of one unit or of the quilt so far. Adding two
    puts their rows together and keeps the size of the second: a top, then the top with its border. `held` says of
    which rows a rectangle holds several parts.
    """

    wanted: tuple[Wanted, ...]
    width: Exact
    length: Exact
    notes: tuple[str, ...] = ()
    spare: tuple[Triangles, ...] = ()
    held: tuple[Held, ...] = ()

    def __add__(self, other: Made) -> Made:
        return Made(
            wanted=self.wanted + other.wanted,
            width=other.width,
            length=other.length,
            notes=self.notes
            + tuple(note for note in other.notes if note not in self.notes),
            spare=self.spare + other.spare,
            held=self.held + other.held,
        )

    def sized(self, width: Number, length: Number) -> Made:
        """The same rows, for another size."""
        return replace(self, width=exact(width), length=exact(length))

    @property
    def cuts(self) -> tuple[Cut, ...]:
        """The rows of cuts.csv."""
        return tuple(row for row in self.wanted if isinstance(row, Cut))

    @property
    def strips(self) -> tuple[Strip, ...]:
        """The rows of strips.csv."""
        return tuple(row for row in self.wanted if isinstance(row, Strip))


def a_cut(
    name: str,
    size: tuple[Number, Number],
    count: int,
    why: str,
    how: Conventions,
    of: ClothLike = None,
    note: str = "",
    *,
    then: str = "",
    spares: bool = True,
) -> Cut:
    """A row of cuts, rounded up once; where that changed the size the arithmetic says what is cut.

    `why` tells the sum of the size ("12 x 1.4142 + 1.21 = 18.18"), `then` that of the count. The maker's spares are
    added to the count, but for what `spares` leaves out: parts as long as the quilt, and what makes a whole binding.

    Parameters
    ----------
    name : of the rows
    size : width and length that are needed, ticks
    count : how many, spares not counted
    why, then : the sums of the size and of the count
    how : grid, ruler and spares
    of : its cloth, any where nothing is said
    note : what is done with it
    spares : whether the maker's spares are added
    """
    width, length = (how.cut_size(side) for side in size)
    rounded = exact(width) != exact(size[0]) or exact(length) != exact(size[1])
    if rounded:
        square = width == length and exact(size[0]) == exact(size[1])
        why += f", cut {how.show(width) if square else how.size(width, length)}"
    why += f"; {then}" if then else ""
    more = how.spares if spares else 0
    if more:
        why += f"; {count} and {more} spare"
        count += more
    chosen = cloth(of)
    return Cut(
        name=name,
        width=width,
        length=length,
        count=count,
        fabrics=chosen.fabrics,
        grain=chosen.grain,
        upright=chosen.upright,
        importance=chosen.importance,
        together=chosen.together,
        most_each=chosen.most_each,
        why=why,
        note=note,
        spares=more,
    )


def a_long_part(
    name: str,
    size: tuple[Number, Number],
    count: int,
    why: tuple[str, str],
    how: Conventions,
    of: ClothLike = None,
    *,
    stands: Upright = "along",
) -> Wanted:
    """A side of a border, a long sash, a sleeve, of a width and a length: joined or not, as the cloth at hand allows.

    A strip that may be joined end to end. A cut in one piece where `border_cut` asks for that, and where it is shorter
    than three of the shortest segments (`border_shortest`): nobody joins so short a side (common practice, no source).
    `why` tells the sums of length and width, `stands` how an upright print stands on it.

    Parameters
    ----------
    name : of the rows
    size : width and length that are needed, ticks
    count : how many
    why : the sums of length and width
    how : grid, and how long parts are cut and joined
    of : its cloth, any where nothing is said
    stands : how an upright print stands on it
    """
    width, length = (how.cut_size(side) for side in size)
    shortest = max(
        how.border_shortest, 2 * width if how.border_join == "diagonal" else width
    )
    loss = width if how.border_join == "diagonal" else 2 * how.seam
    if how.border_cut == "joined" and length >= max(
        3 * how.border_shortest, 2 * shortest - loss
    ):
        note = "in one piece, or joined end to end"
        strip = a_strip(
            name,
            *size,
            why[0],
            how,
            of,
            join=how.border_join,
            shortest=shortest,
            count=count,
            note=note,
            then=why[1],
        )
        return replace(strip, upright=stands) if strip.upright != "no" else strip
    chosen = cloth(of)
    note = ""
    if how.border_cut == "lengthwise":
        chosen = replace(chosen, grain="along")
        note = "along the selvage, in one piece"
    chosen, size = standing(chosen, size, stands)
    return a_cut(name, size, count, "; ".join(why), how, chosen, note, spares=False)


def standing(
    of: ClothLike, size: tuple[Number, Number], stands: Upright
) -> tuple[ClothWanted, tuple[Number, Number]]:
    """Cloth and size of a part as a row of cuts tells them: a print stands up along the length of the row.

    Parameters
    ----------
    of : its cloth
    size : width and length, ticks
    stands : whether a print stands up along the length of the part or across it
    """
    chosen = cloth(of)
    if not chosen.upright or stands != "across":
        return chosen, size
    other: dict[Grain, Grain] = {"any": "any", "along": "across", "across": "along"}
    return replace(chosen, grain=other[chosen.grain]), (size[1], size[0])


def come_of_it(name: str, what: str, have: int, wanted: int) -> tuple[str, ...]:
    """A note where a method gives more than is wanted.

    Parameters
    ----------
    name, what : of the part, and what its units are called
    have, wanted : how many
    """
    return (
        ()
        if have == wanted
        else (f"{name}: {have} {what} come of it, {wanted} are wanted",)
    )


def a_strip(
    name: str,
    width: Number,
    total: Number,
    why: str,
    how: Conventions,
    of: ClothLike = None,
    *,
    join: JoinKind,
    shortest: int,
    count: int = 1,
    note: str = "",
    then: str = "",
) -> Strip:
    """A row of strips, rounded up once; an upright print stands up along it. `then` tells the sum of the width.

    Parameters
    ----------
    name : of the rows
    width, total : width and length that are needed, ticks
    why, then : the sums of the length and of the width
    how : grid and ruler
    of : its cloth, any where nothing is said
    join, shortest : how segments are joined, and the shortest, ticks
    count : how many strips
    note : what is done with it

    Raises
    ------
    Problem
        Where at most so many are to come from one fabric: segments are not counted.
    """
    cut_width = how.cut_size(width)
    cut_total = how.cut_size(total)
    if exact(cut_total) != exact(total):
        why += f", make it {how.show(cut_total)} long"
    why += f"; {then}" if then else ""
    if exact(cut_width) != exact(width):
        why += f", cut {how.show(cut_width)} wide"
    chosen = cloth(of)
    if chosen.most_each is not None:
        what = f'"at most {chosen.most_each} each" is said of {name}, which may be joined of any number of segments'
        raise Problem("at most", what, "leave it out, or let a border be in one piece")
    return Strip(
        name=name,
        width=cut_width,
        total_length=cut_total,
        count=count,
        shortest=shortest,
        join=join,
        fabrics=chosen.fabrics,
        grain=chosen.grain,
        upright="along" if chosen.upright else "no",
        importance=chosen.importance,
        together=chosen.together,
        why=why,
        note=note,
    )


def joined_count(total: Number, width: Number, loss: Number) -> int:
    """How many strips of `width` (of fabric) reach `total` when each join costs `loss`: ceil((T - j)/(U - j)).

    n strips give nU - (n - 1)j (arithmetic identity).

    Parameters
    ----------
    total : length to reach, ticks
    width : of the fabric, ticks
    loss : what each join takes, ticks

    Raises
    ------
    Problem
        Where a join would eat a whole strip.
    """
    if exact(width) <= loss:
        raise Problem(
            "join",
            "a join would eat a whole strip",
            "use wider fabric, or straight joins",
        )
    return max(1, how_many(exact(total) - loss, exact(width) - loss))


def whole_ticks(value: Number) -> int:
    """Whole ticks, rounded up."""
    number = exact(value)
    return up(number.plain) if number.is_plain else number.__ceil__()
