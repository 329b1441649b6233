"""What sashing is: its strips, its cloths, and what its rows are called; `sashing.py` works it out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

from cutopt.errors import Problem
from cutopt.quilt.conventions import Conventions, Length
from cutopt.quilt.surds import ZERO, Exact, exact
from cutopt.quilt.wanted_parts import ClothLike, cloth

Way: TypeAlias = Literal["both", "columns", "rows"]
OUTER: Final = "outer"
MIDDLE: Final = "middle"
LONG: Final = "long sash"


@dataclass(frozen=True, slots=True, kw_only=True)
class Sashes:
    """Sashing of one finished width between blocks, and round them where it is framed.

    Parameters
    ----------
    strips : finished widths
        One, or of a pieced sash those of its three strips, the outer two alike.
    framed : bool
        Whether it goes round the blocks too.
    cornerstones : bool
        Whether sashes meet in squares.
    upright, level : cloth
        Of the sashes between the blocks of a row, and between the rows.
    middle, posts : cloth
        Of the middle strip of a pieced sash, and of the cornerstones.
    frame : cloth
        Of the sashes that go round; None where it is that of the others.
    between : {"both", "columns", "rows"}
        Whether it stands between the columns of blocks alone, or between their rows.
    """

    strips: tuple[Length, ...]
    framed: bool = False
    cornerstones: bool = True
    upright: ClothLike = None
    level: ClothLike = None
    middle: ClothLike = None
    posts: ClothLike = None
    frame: ClothLike = None
    between: Way = "both"

    def __post_init__(self) -> None:
        if self.framed and self.between != "both":
            what = f"sashing between the {self.between} alone does not go round"
            raise Problem("sash", what, "leave out framed, or say a border")

    def way(self, across: int, down: int) -> Way:
        """Between what it stands where so many blocks are set: of one row there are only columns.

        Parameters
        ----------
        across, down : how many blocks
        """
        if self.framed or self.between != "both":
            return self.between
        if down == 1:
            return "columns"
        if across == 1:
            return "rows"
        return "both"

    def widths(self, how: Conventions) -> tuple[Exact, ...]:
        """Finished widths of the strips of a sash, from one side to the other.

        Raises
        ------
        Problem
            Where one has no width, there are neither one nor three, or the outer two differ.
        """
        widths = tuple(exact(how.read(strip, "sash")) for strip in self.strips)
        if not all(widths):
            mend = "write its finished width, such as 2"
            raise Problem("sash", "the sashing has no width", mend)
        alike = len(widths) == 3 and widths[0] == widths[2]
        if len(widths) != 1 and not alike:
            told = " + ".join(how.show(width) for width in widths)
            what = f"{told} are not three strips of which the outer two are alike"
            raise Problem("sash", what, "write it like 1 + 1/2 + 1")
        return widths

    def width(self, how: Conventions) -> Exact:
        """Finished width of a sash."""
        return sum(self.widths(how), start=ZERO)


@dataclass(frozen=True, slots=True, kw_only=True)
class Labels:
    """What the rows of sashes are called: upright and level ones, and those of the frame."""

    upright: str
    level: str
    frame_upright: str
    frame_level: str


def labels(sashes: Sashes, block: tuple[Exact, Exact]) -> Labels:
    """Names of the rows; upright and level sashes are one row where block and cloth make them alike."""
    if not sashes.cornerstones:
        end = LONG if sashes.frame is None else "end sash"
        return Labels(
            upright="short sash", level=LONG, frame_upright="side sash", frame_level=end
        )
    upright, level = _two_labels("sash", block, sashes.upright, sashes.level)
    sides, ends = (upright, level)
    if sashes.frame is not None:
        sides, ends = _two_labels("frame sash", block, sashes.frame, sashes.frame)
    return Labels(upright=upright, level=level, frame_upright=sides, frame_level=ends)


def _two_labels(
    word: str, block: tuple[Exact, Exact], one: ClothLike, other: ClothLike
) -> tuple[str, str]:
    """One name twice where both are cut alike; a print that stands up makes them two rows."""
    alike = cloth(one) == cloth(other) and not cloth(one).upright
    if alike and block[0] == block[1]:
        return word, word
    return f"upright {word}", f"level {word}"
