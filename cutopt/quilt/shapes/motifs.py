"""What is cut by the print: a motif in the middle of a patch.

Where on a piece of cloth a print begins nobody knows before it lies there. So the rectangle that is asked for holds as
many whole motifs as are wanted wherever it is cut from, and the maker finds them in it. That fussy cuts take about
one repeat each is common practice, no source; the sums are arithmetic identities.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from cutopt.errors import Problem
from cutopt.fabric import counted
from cutopt.quilt.conventions import DEFAULT, Conventions, Length
from cutopt.quilt.shapes.nested import Held
from cutopt.quilt.surds import Exact, exact, how_many
from cutopt.quilt.wanted_parts import ClothLike, Made, a_cut, cloth


@dataclass(frozen=True, slots=True, kw_only=True)
class Repeat:
    """Motifs in one direction: every `repeat` one, of each of which `window` is cut; ticks.

    Windows that are larger than a repeat reach into the next motif: then only every second one is cut, or third.
    """

    repeat: Exact
    window: Exact

    @property
    def step(self) -> Exact:
        """From one window that is cut to the next: the least number of repeats that is not below the window."""
        return how_many(self.window, self.repeat) * self.repeat

    def room(self, count: int) -> Exact:
        """A length that holds so many whole windows wherever it begins: one repeat to find the first, then steps.

        The first window begins less than a repeat behind the end of the cloth, or at it; the last one ends count - 1
        steps and a window later.
        """
        return self.repeat + (count - 1) * self.step + self.window

    def fit_in(self, room: Exact | int) -> int:
        """How many whole windows a length holds for sure, 0 where none."""
        left = exact(room) - self.repeat - self.window
        if left < 0:
            return 0
        return (left / self.step).__floor__() + 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Motifs:
    """Motifs of a print in both directions, and the patch that is cut of each.

    `cut` is the patch as cut; where `lies_across` its length runs across the fabric. `widest` is how many motifs lie
    side by side for sure on the usual cloth.
    """

    across: Repeat
    along: Repeat
    cut: tuple[Exact, Exact]
    widest: int
    lies_across: bool = False

    def rectangle(
        self, count: int, how: Conventions
    ) -> tuple[tuple[Exact, Exact], str]:
        """Width and length of cloth that holds so many, and the sums: evened out over as few rows as can be."""
        rows = -(-count // self.widest)
        columns = -(-count // rows)
        wide = self.across.room(columns)
        long = self.along.room(rows)
        told_wide = one_way(self.across, columns, how)
        told_long = one_way(self.along, rows, how)
        told = f"{columns} across: {told_wide}; {rows} along: {told_long}"
        if self.lies_across:
            return (long, wide), told
        return (wide, long), told


def motifs_of(
    size: tuple[Length, Length],
    repeat: tuple[Length, Length],
    how: Conventions = DEFAULT,
    *,
    lies_across: bool = False,
) -> Motifs:
    """Motifs for patches of a finished size.

    Parameters
    ----------
    size : finished width and length of a patch
    repeat : of the motif, across the fabric and along the selvage
    how : seam and usable width
    lies_across : whether the length of a patch runs across the fabric

    Raises
    ------
    Problem
        Where the repeat is so wide that the usual cloth need not hold a whole motif.
    """
    w, h = (how.read(side, "size") + 2 * how.seam for side in size)
    if lies_across:
        windows = h, w
    else:
        windows = w, h
    across, along = (
        Repeat(repeat=repeat_of(each, how), window=window)
        for each, window in zip(repeat, windows, strict=True)
    )
    widest = across.fit_in(how.usable_width)
    if not widest:
        wide = how.show(how.usable_width)
        what = f"cloth {wide} wide need not hold a whole motif every {how.show(across.repeat)}"
        mend = "measure where the motifs lie on your cloth, and write the rectangles round them as rectangles of ... cut"
        raise Problem("repeat", what, mend)
    return Motifs(
        across=across,
        along=along,
        cut=(w, h),
        widest=widest,
        lies_across=lies_across,
    )


def fussy_cuts(
    name: str,
    size: tuple[Length, Length],
    count: int,
    repeat: tuple[Length, Length],
    of: ClothLike = None,
    how: Conventions = DEFAULT,
    to_a_piece: int | None = None,
) -> Made:
    """Patches with a motif in the middle: rectangles of cloth that hold them wherever the print begins.

    Parameters
    ----------
    name : of the rows
    size : finished width and length of a patch
    count : how many patches
    repeat : of the motif, across the fabric and along the selvage
    of : its cloth, any where nothing is said
    how : seam, usable width and spares
    to_a_piece : how many are cut from one rectangle; None for all of them

    Raises
    ------
    Problem
        Where a limit for each fabric is said of rectangles that hold several.
    """
    counted("count", count)
    chosen = cloth(of)
    found = motifs_of(size, repeat, how, lies_across=chosen.grain == "across")
    if chosen.grain == "any" and found.across != found.along:
        chosen = replace(chosen, grain="along")
    wanted = count + how.spares
    if to_a_piece is not None:
        counted("to a piece", to_a_piece)
    each = min(to_a_piece or wanted, wanted)
    if chosen.most_each is not None and each > 1:
        what = f'"at most {chosen.most_each} each" is said of {name}, {each} of which come from one rectangle'
        raise Problem("at most", what, "write 1 to a piece beside it, or leave it out")
    full, rest = divmod(wanted, each)
    rows = []
    held_in = []
    for pieces, motifs in ((full, each), (1, rest)):
        if pieces and motifs:
            held, why = found.rectangle(motifs, how)
            note = f"from each {motifs} of {how.size(*found.cut)}, the motif in the middle: find it with a paper window"
            why += f"; {motifs} of {wanted} from each"
            # the rectangle holds so many: nobody is to count it as one of them
            label = f"{name} piece for {motifs}"
            row = a_cut(label, held, pieces, why, how, chosen, note, spares=False)
            rows.append(row)
            held_in.append(Held(row=row.key, count=motifs))
    w, h = (side - 2 * how.seam for side in found.cut)
    return Made(
        wanted=tuple(rows),
        width=w,
        length=h,
        notes=(_measured(name),),
        held=tuple(held_in),
    )


def repeat_of(length: Length, how: Conventions) -> Exact:
    """How far it is from motif to motif.

    Raises
    ------
    Problem
        Where it is nothing.
    """
    value = how.read(length, "repeat")
    if value <= 0:
        raise Problem("repeat", "a repeat of nothing", "measure from motif to motif")
    return value


def one_way(repeat: Repeat, count: int, how: Conventions) -> str:
    """The sum of one direction: ``12 repeat + 2 x 12 + 4 1/2 = 40 1/2``.

    Parameters
    ----------
    repeat : of the motif, and what is cut of it
    count : how many are cut beside each other
    how : the unit
    """
    steps = f"{count - 1} x {how.show(repeat.step)} + " if count > 1 else ""
    window = how.show(repeat.window)
    return f"{how.show(repeat.repeat)} repeat + {steps}{window} = {how.show(repeat.room(count))}"


def _measured(name: str) -> str:
    return (
        f"{name}: planned so that the motifs are there wherever the print begins; once you see where they lie on your "
        "cloth, less may do"
    )


__all__ = ["Motifs", "Repeat", "fussy_cuts", "motifs_of", "one_way", "repeat_of"]
