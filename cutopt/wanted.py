"""What the maker wants: rectangles to cut, and strips to join end to end. All lengths are ticks."""

from __future__ import annotations

from dataclasses import dataclass
from math import isqrt
from typing import Final, Literal, TypeAlias, get_args

from cutopt.errors import Problem
from cutopt.fabric import counted, named, one_of
from cutopt.lengths import INCH, METRE

Grain: TypeAlias = Literal["any", "along", "across"]
Importance: TypeAlias = Literal["must", "nice", "if left"]
JoinKind: TypeAlias = Literal["diagonal", "straight", "pre-cut", "none"]
Upright: TypeAlias = Literal["no", "along", "across"]
IMPORTANCE: Final[tuple[Importance, ...]] = get_args(Importance)
JOINS: Final[tuple[JoinKind, ...]] = get_args(JoinKind)
UPRIGHT: Final[tuple[Upright, ...]] = get_args(Upright)


def _common(row: Cut | Strip, size: int) -> None:
    one_of("grain", row.grain, ("any", "along", "across"))
    one_of("importance", row.importance, IMPORTANCE)
    counted("count", row.count)
    if not INCH // 8 <= row.width <= 100 * METRE:
        raise Problem(
            "width", "the size makes no sense", "write a length of 1/8 in or more"
        )
    if not INCH // 8 <= size <= 1000 * METRE:
        raise Problem(
            "length", "the size makes no sense", "write a length of 1/8 in or more"
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """`count` rectangles, `width` by `length` as cut, seam allowances included.

    `fabrics` lists fabrics or tags in order of preference, empty for any. `grain` "along" puts the length along
    the selvage, "across" across it. `upright`: where the fabric has a one-way print it must stand up along the
    length. `together`: rows with the same word come from one fabric. `most_each`: at most so many of this row
    from any one fabric. `why` is the arithmetic that made the row. `spares` of the count need not be there for the
    quilt: they are wanted like the others, and told apart where some are missing.
    """

    name: str
    width: int
    length: int
    count: int = 1
    fabrics: tuple[str, ...] = ()
    grain: Grain = "any"
    upright: bool = False
    importance: Importance = "must"
    together: str = ""
    most_each: int | None = None
    why: str = ""
    note: str = ""
    spares: int = 0

    def __post_init__(self) -> None:
        named("cut", self.name)
        _common(self, self.length)
        if self.most_each is not None:
            counted("most_each", self.most_each)

    @property
    def key(self) -> str:
        """How a plan names this row: ``cuts/square``."""
        return f"cuts/{self.name}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """`count` strips of `width` by `total_length`, each of one segment or pieced from several of `shortest` or longer.

    A join costs its width on the centre line where it is diagonal (strips crossed at right angles), twice the
    seam where it is straight, and both where the ends are pre-cut at 45 degrees; "none" asks for one segment.
    `upright`: where the fabric has a one-way print it must stand up along the length of the strip, or across it.
    """

    name: str
    width: int
    total_length: int
    count: int = 1
    shortest: int = 8 * INCH
    join: JoinKind = "diagonal"
    fabrics: tuple[str, ...] = ()
    grain: Grain = "any"
    upright: Upright = "no"
    importance: Importance = "must"
    together: str = ""
    why: str = ""
    note: str = ""

    def __post_init__(self) -> None:
        named("strip", self.name)
        one_of("join", self.join, JOINS)
        one_of("upright", self.upright, UPRIGHT)
        _common(self, self.total_length)
        if self.total_length <= self.width:
            raise Problem(
                "total_length",
                "the strip is no longer than it is wide",
                "write it as a row of cuts.csv",
            )
        if self.shortest < 0:
            raise Problem(
                "shortest",
                "it is below 0",
                "write the shortest segment you would join, such as 8",
            )
        if self.join in ("diagonal", "pre-cut") and self.shortest <= self.width:
            raise Problem(
                "shortest",
                "it is no longer than the strip is wide, so a join would eat it",
                "write more",
            )

    @property
    def key(self) -> str:
        """How a plan names this row: ``strips/binding``."""
        return f"strips/{self.name}"

    def join_loss(self, seam: int) -> int:
        """What one join costs of the length: the width (diagonal) or two seams (straight).

        Diagonal: each strip loses half its width on the centre line, arithmetic identity. Pre-cut ends lose that with
        the cut, and then two seams that run askew, each √2 times as long on the centre line; rounded up.
        """
        if seam:
            askew = isqrt(8 * seam * seam - 1) + 1
        else:
            askew = 0
        costs = {
            "diagonal": self.width,
            "straight": 2 * seam,
            "pre-cut": self.width + askew,
            "none": 0,
        }
        return costs[self.join]


Wanted: TypeAlias = Cut | Strip
