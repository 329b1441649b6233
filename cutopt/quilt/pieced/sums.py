"""From the units of a block to the rows to cut: what is the same is one row, with its count and the sums."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final, Literal, TypeAlias

from cutopt.quilt import triangles, units
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.pieced.alike import Alike, how_many_each, members
from cutopt.quilt.pieced.panel import Panel
from cutopt.quilt.recipe.block import Block, Patch
from cutopt.quilt.surds import Exact, exact
from cutopt.quilt.wanted_parts import ClothLike, Made, cloth
from cutopt.wanted import Wanted

GeeseWays: TypeAlias = Literal["no waste", "stitch and flip"]
# what the patches of a unit are called beside the words of their cloths
_CALLED: Final = {
    "half-square triangle": ("triangle", "triangle"),
    "hourglass": ("quarter", "quarter"),
    "flying goose": ("large triangle", "small triangle"),
    "square in a square": ("middle", "corner"),
    "corner": ("",),
}
# what notes of a block, and triangles that are left, call its units
_NOTED: Final = {
    "half-square triangle": "half-square triangles",
    "hourglass": "hourglasses",
    "flying goose": "geese",
    "corner": "corner",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """What is told of a block: how many, of which cloths, how its triangles are made.

    `words` names the rows of each cloth; where they are `whole` names, nothing is put behind them. `side` is the
    finished side of a block that is a pattern on a grid, so that the sums begin with it; None where every size was said.
    """

    name: str
    count: int
    words: tuple[str, ...]
    whole: bool = False
    cloths: tuple[ClothLike, ...]
    how: Conventions
    halves: triangles.Ways = "two at a time"
    geese: GeeseWays = "no waste"
    side: Exact | None = None

    def share(self, part: Exact) -> str:
        """``9 / 3 = 3``: how a size follows from that of the block, "" where it is said, or is the block."""
        if self.side is None or part == self.side:
            return ""
        of = (part / self.side).plain
        whole = self.how.show(self.side)
        shown = self.how.show(part)
        if of.numerator == 1:
            return f"{whole} / {of.denominator} = {shown}"
        return f"{of.numerator}/{of.denominator} of {whole} = {shown}"

    def of(self, group: Alike) -> tuple[ClothLike, ...]:
        """The cloths of a group."""
        return tuple(self.cloths[slot] for slot in group.slots)


def pieced(panel: Panel, told: Told) -> Block:
    """Blocks of units in rows: what is cut, and every patch.

    Parameters
    ----------
    panel : its units where they lie, in ticks
    told : how many, from what, and how

    Raises
    ------
    Problem
        Where the units do not fill the block.
    """
    width, length = panel.size
    numbers = how_many_each(panel, told.cloths)
    made = {group: _made(group, each, told) for group, each in numbers.items()}
    rows = _named_apart(made, told)
    patches = tuple(
        Patch(
            row=rows[group][place].key,
            corners=tuple(
                (Fraction(x) / width, Fraction(y) / length) for x, y in corners
            ),
        )
        for group, place, corners in members(panel, told.cloths)
    )
    whole = Made(
        wanted=tuple(row for own in rows.values() for row in own),
        width=exact(width),
        length=exact(length),
        notes=tuple(note for each in made.values() for note in each.notes),
        spare=tuple(spare for each in made.values() for spare in each.spare),
    )
    whole = replace(whole, notes=(*whole.notes, *_prints_that_turn(made, told)))
    return Block(name=told.name, count=told.count, made=whole, patches=patches)


def _made(group: Alike, each: int, told: Told) -> Made:
    """The rows of what is cut alike, with the sums from the size of the block to the count."""
    made = _cut(group, each * told.count, told)
    sides = dict.fromkeys(exact(side) for side in group.lies)
    begin = [sum_of for side in sides if (sum_of := told.share(side))]
    if group.is_one_patch:
        what = f"{each} to each"
    else:
        what = f"{each} units to each"
    end = f"{what} of {told.count} blocks"
    rows = (replace(row, why="; ".join([*begin, row.why, end])) for row in made.wanted)
    return replace(made, wanted=tuple(rows))


def _cut(group: Alike, count: int, told: Told) -> Made:
    """The rows of so many units, by the arithmetic of their kind."""
    how = told.how
    name = " ".join(word for word in (told.name, _NOTED.get(group.kind, "")) if word)
    of = told.of(group)
    side = exact(group.size[0])
    if group.kind == "patch":
        width, length = (exact(side) for side in group.lies)
        made = units.rectangles(name, width, length, count, of[0], how)
        if told.side is None:
            return made
        # of a pattern one note tells of all patches what does not meet a mark
        return replace(made, notes=())
    if group.kind == "corner":
        return triangles.corners_sewn_over(name, side, count, of[0], how)
    pair = (of[0], of[1])
    if group.kind == "half-square triangle":
        return triangles.half_square_triangles(
            name, side, count, pair, how, told.halves
        )
    if group.kind == "hourglass":
        return triangles.hourglasses(name, side, count, pair, how)
    if group.kind == "flying goose":
        return triangles.flying_geese(name, side, count, pair, how, told.geese)
    return triangles.square_in_a_square(name, side, count, pair, how)


def _named_apart(
    made: Mapping[Alike, Made], told: Told
) -> dict[Alike, tuple[Wanted, ...]]:
    """The rows under names of their own: by cloth and word, by number where that does not tell them apart."""
    taken: set[str] = set()
    found = {}
    for group, each in made.items():
        rows = []
        for row, slot, called in zip(
            each.wanted, group.slots, _words(group, told), strict=True
        ):
            name = " ".join(word for word in (told.words[slot], called) if word)
            numbered = (f"{name} {n}" for n in range(2, len(taken) + 3))
            chosen = next(word for word in (name, *numbered) if word not in taken)
            taken.add(chosen)
            rows.append(replace(row, name=chosen))
        found[group] = tuple(rows)
    return found


def _words(group: Alike, told: Told) -> tuple[str, ...]:
    if told.whole:
        return ("",) * len(group.slots)
    if group.kind == "patch":
        return (group.word,)
    return _CALLED[group.kind]


def _prints_that_turn(made: Mapping[Alike, Made], told: Told) -> tuple[str, ...]:
    """A note where an upright print is cut to triangles: those that a block turns do not stand up."""
    turned = [
        group
        for group in made
        if group.kind != "patch" and any(cloth(of).upright for of in told.of(group))
    ]
    if not turned:
        return ()
    note = f"{told.name}: the print stands up in its squares and rectangles; in triangles it lies as they are turned"
    return (note,)
