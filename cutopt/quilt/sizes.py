"""Sizes: for whom and how a quilt is used, with provenance and cautions, and what the wash leaves of a size.

There is no agreed standard: one maker's twin is another's queen. A range is a suggestion and stands beside its
provenance; a caution stands beside the size that it belongs to and defers to the rules of the place of use.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Any, Final

from cutopt.errors import Problem
from cutopt.lengths import CM, INCH
from cutopt.quilt.buying import shrunk
from cutopt.quilt.cautions import (
    GIVEN,
    INFANT,
    PRACTICE,
    SMALL_PARTS,
    TIES,
    WARD,
    WHEELS,
)
from cutopt.quilt.conventions import DEFAULT, Conventions
from cutopt.quilt.surds import Exact, Number, exact


@dataclass(frozen=True, slots=True, kw_only=True)
class QuiltUse:
    """For whom and how: the usual range of width and length in ticks, where it comes from, and cautions.

    `draws_in` is the share that a hot wash may take, for what is washed so (cotton 2 to 6 in 100: common practice).
    """

    name: str
    what: str
    widths: tuple[int, int]
    lengths: tuple[int, int]
    provenance: str = PRACTICE
    cautions: tuple[str, ...] = ()
    draws_in: Fraction = Fraction(0)

    def ranges(self, how: Conventions = DEFAULT) -> tuple[str, str]:
        """The usual width and length in the unit of a job, in whole inches or centimetres."""
        width, length = (
            " to ".join(how.show(end) for end in _whole(each, how))
            for each in (self.widths, self.lengths)
        )
        return width, length

    def remarks(
        self, width: Number, length: Number, how: Conventions = DEFAULT
    ) -> tuple[str, ...]:
        """Cautions, and whether a size lies in the usual range (either way round is not tried).

        Parameters
        ----------
        width, length : of the quilt, ticks
        how : the unit
        """
        told = list(self.cautions)
        if self.draws_in:
            before = how.size(width, length, how.near)
            after = how.size(*after_wash(width, length, self.draws_in), how.near)
            told.append(
                f"{before} that draws in by {self.draws_in * 100} in 100 in a hot wash comes out at {after}"
            )
        for word, size, usual, said in zip(
            ("width", "length"),
            (width, length),
            (self.widths, self.lengths),
            self.ranges(how),
            strict=True,
        ):
            low, high = _whole(usual, how)
            if not low <= exact(size) <= high:
                told.append(
                    f"a {word} of {how.near(size)} is outside the usual {said} for {self.name} ({self.provenance})"
                )
        return tuple(told)


def _whole(usual: tuple[int, int], how: Conventions) -> tuple[int, int]:
    """A usual range, which is no nearer than that, in whole inches or centimetres."""
    if how.unit == "in":
        step = INCH
    else:
        step = CM
    low, high = (round(Fraction(each, step)) * step for each in usual)
    return low, high


def _use(
    name: str,
    what: str,
    widths: tuple[int, int],
    lengths: tuple[int, int],
    *cautions: str,
    **more: Any,
) -> QuiltUse:
    return QuiltUse(
        name=name,
        what=what,
        widths=(widths[0] * INCH, widths[1] * INCH),
        lengths=(lengths[0] * INCH, lengths[1] * INCH),
        cautions=cautions,
        **more,
    )


USES: Final = (
    _use(
        "baby",
        "floor play or the wall",
        (36, 40),
        (36, 48),
        INFANT,
        SMALL_PARTS,
    ),
    _use(
        "cot",
        "floor play or the wall, in the size of a cot",
        (36, 45),
        (54, 60),
        INFANT,
        SMALL_PARTS,
        provenance=f"{PRACTICE}; a full-size crib is 28 x 52 3/8 in inside (16 CFR 1219)",
    ),
    _use("lap", "over the knees", (36, 50), (45, 65)),
    _use(
        "chair with wheels",
        "over the knees in a wheelchair",
        (30, 36),
        (36, 48),
        WHEELS,
        TIES,
        provenance=f"{PRACTICE}; an adult chair is about 26 in over the wheels and 42 in long (1991 ADA Standards "
        "for Accessible Design, A4.2.4)",
    ),
    _use(
        "ward",
        "on a hospital bed or chair",
        (36, 50),
        (45, 72),
        WARD,
        GIVEN,
        draws_in=Fraction(5, 100),
    ),
    _use("throw", "on a sofa", (50, 60), (60, 72)),
    _use("twin", "on a bed", (63, 72), (86, 96)),
    _use("full", "on a bed", (76, 86), (86, 96)),
    _use("queen", "on a bed", (84, 96), (90, 108)),
    _use("king", "on a bed", (100, 110), (90, 120)),
)


def may_be_a_babys(name: str) -> bool:
    """Whether a baby may come to lie on a quilt of that use: it says so, or says nothing."""
    return not name or INFANT in use(name).cautions


def use(name: str) -> QuiltUse:
    """The use of that name.

    Raises
    ------
    Problem
        Where there is none.
    """
    for each in USES:
        if each.name == name:
            return each
    raise Problem(
        "use",
        f'"{name}" is not known here',
        f"write one of: {', '.join(u.name for u in USES)}",
    )


def after_wash(width: Number, length: Number, share: Fraction) -> tuple[Exact, Exact]:
    """What quilting or the wash leaves of a size: take-up is 1-3 % when quilted, 3-5 % with washing (practice).

    Parameters
    ----------
    width, length : ticks
    share : that is drawn in, 0.03 for 3 %
    """
    return shrunk(width, share), shrunk(length, share)


def before_take_up(
    width: Number, length: Number, share: Fraction
) -> tuple[Exact, Exact]:
    """What to make so that so much is left after take-up.

    Parameters
    ----------
    width, length : to be left, ticks
    share : that is drawn in, 0.03 for 3 %
    """
    return exact(width) / (1 - share), exact(length) / (1 - share)
