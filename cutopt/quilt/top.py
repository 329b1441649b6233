"""From a finished top, as measured, to the sizes of backing, batting and binding. No recipe is needed.

Three bases are told apart everywhere: the *raw top* is what a maker measures, seam allowances at its edge
included; *trimmed* is the quilt before binding, cut at that edge, so of the same size; *finished* is the
patchwork without its outer seams, two seams less each way. The binding wraps the raw edge, so the bound quilt
has the trimmed size.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final

from cutopt.errors import Problem
from cutopt.fabric import one_of
from cutopt.lengths import INCH
from cutopt.quilt.binding import binding
from cutopt.quilt.conventions import DEFAULT, Base, Conventions, Length
from cutopt.quilt.surds import ZERO, Exact, Number, exact, larger
from cutopt.quilt.wanted_parts import ClothLike, Made

LEAST: Final = 2 * INCH
"""No top is smaller: then 58/57 stands for two measurements."""


_MEASURE: Final = (
    "borders: measure the top through the middle, not along its edges; cut the borders to that, "
    "and ease the edges in"
)


def _refuse_decimal_comma(text: str) -> None:
    """Refuse ``96,5 x 84,5``: a comma between measurements has a blank behind it.

    Raises
    ------
    Problem
        With the size as it is written with a point.
    """
    comma = re.search(r"\d,\d", text)
    if comma is None:
        return
    point = re.sub(r"(?<=\d),(?=\d)", ".", text)
    apart = re.sub(r"(?<=\d),(?=\d)", ", ", text)
    what = f'"{text}" has a comma inside a number'
    mend = f"write {point}, or with a blank between several measurements, {apart}"
    raise Problem("top", what, mend)


@dataclass(frozen=True, slots=True, kw_only=True)
class Top:
    """A top by the measurements of its raw edges.

    Parameters
    ----------
    widths, lengths : exact lengths
        One measurement, or several: through the middle and at both ends.
    base : {"raw top", "trimmed", "finished"}
        What was measured.
    """

    widths: tuple[Exact, ...]
    lengths: tuple[Exact, ...]
    base: Base = "raw top"

    def __post_init__(self) -> None:
        for field in ("widths", "lengths"):
            sizes = getattr(self, field)
            if not sizes or any(size <= 0 for size in sizes):
                raise Problem(
                    field,
                    "a measurement is missing or 0",
                    "measure through the middle and at both ends",
                )

    @classmethod
    def measured(
        cls,
        widths: Length | tuple[Length, ...],
        lengths: Length | tuple[Length, ...],
        how: Conventions = DEFAULT,
        base: Base = "raw top",
    ) -> Top:
        """A top from one or several measurements each way; of a finished size two seams are added back.

        Parameters
        ----------
        widths, lengths : one measurement, or several
        how : seam and unit
        base : what was measured, "raw top", "trimmed" or "finished"
        """
        one_of("base", base, ("raw top", "trimmed", "finished"))
        if base == "finished":
            more = 2 * how.seam
        else:
            more = 0
        sides = [
            tuple(
                how.read(each, field) + more
                for each in (given if isinstance(given, tuple) else (given,))
            )
            for field, given in (("widths", widths), ("lengths", lengths))
        ]
        return cls(widths=sides[0], lengths=sides[1], base=base)

    @classmethod
    def finished(cls, width: Length, length: Length, how: Conventions = DEFAULT) -> Top:
        """The top of a patchwork of a finished size, seams not counted.

        Parameters
        ----------
        width, length : of the patchwork
        how : seam and unit
        """
        return cls.measured(width, length, how, "finished")

    @classmethod
    def read(cls, text: str, how: Conventions = DEFAULT, base: Base = "raw top") -> Top:
        """A top from words: ``58 x 66``, or with three measurements ``58, 57 3/4, 58 1/4 x 66``.

        Parameters
        ----------
        text : a size
        how : seam and unit
        base : what was measured, "raw top", "trimmed" or "finished"

        Raises
        ------
        Problem
            Where it is not one or several widths, an x, and one or several lengths.
        """
        _refuse_decimal_comma(text)
        halves = re.split(r"\s*[x×]\s*|\s+by\s+", text.strip().lower())
        if len(halves) != 2 or not all(
            re.search(r"\d|[¼½¾⅛⅜⅝⅞]", half) for half in halves
        ):
            raise Problem("top", f'"{text}" is not a size', "write it like 58 x 66")
        first, second = (
            tuple(re.split(r"\s*[,;]\s*", half.strip(" ,;"))) for half in halves
        )
        try:
            made = cls.measured(first, second, how, base)
        except Problem as problem:
            raise Problem("top", problem.what, problem.mend) from problem
        if min(made.width, made.length) < LEAST:
            what = f'"{text}" would be a top of {how.size(made.width, made.length, how.near)}'
            raise Problem(
                "top", what, "put a comma between several measurements: 58, 57 1/2 x 66"
            )
        return made

    @property
    def width(self) -> Exact:
        """The largest width."""
        return larger(*self.widths)

    @property
    def length(self) -> Exact:
        """The largest length."""
        return larger(*self.lengths)

    def size(self, base: Base, how: Conventions = DEFAULT) -> tuple[Exact, Exact]:
        """Width and length of a base: raw top and trimmed alike, finished two seams less."""
        if base == "finished":
            less = 2 * how.seam
        else:
            less = 0
        return self.width - less, self.length - less

    def middle(self, how: Conventions = DEFAULT) -> tuple[Exact, Exact]:
        """The finished size to which borders are cut: one measurement through the middle, or the mean of several."""
        less = 2 * how.seam
        return _mean(self.widths) - less, _mean(self.lengths) - less

    def told_middle(self, how: Conventions = DEFAULT) -> tuple[str, ...]:
        """How borders go on to this top, with the mean of measurements that differ.

        That a border is measured through the middle (or is the mean of three measurements), and never along the
        edge, is common practice, no source.
        """
        told = [_MEASURE]
        for word, sizes in (("width", self.widths), ("length", self.lengths)):
            if len(set(sizes)) > 1:
                shown = " + ".join(how.show(size) for size in sizes)
                mean = how.show(_mean(sizes))
                told.append(
                    f"borders are cut to the mean {word}: ({shown}) / {len(sizes)} = {mean}"
                )
        return tuple(told)

    def with_borders(
        self, sides: Number, ends: Number, how: Conventions = DEFAULT
    ) -> Top:
        """The top with borders, `sides` wide at the sides and `ends` at top and bottom, all together and finished.

        Side borders bring its length to the middle one, end borders its width.

        Parameters
        ----------
        sides, ends : ticks, one of them may be 0
        how : seam
        """
        width, length = self.middle(how)
        two = 2 * how.seam
        widths = (width + two,) if ends else self.widths
        lengths = (length + two,) if sides else self.lengths
        return Top(
            widths=tuple(each + 2 * exact(sides) for each in widths),
            lengths=tuple(each + 2 * exact(ends) for each in lengths),
        )

    def out_of_square(self, how: Conventions = DEFAULT) -> tuple[str, ...]:
        """What to say where the measurements differ: the larger is taken."""
        told = []
        for word, sizes in (("width", self.widths), ("length", self.lengths)):
            least = -larger(*(-size for size in sizes))
            most = larger(*sizes)
            if least != most:
                told.append(
                    f"out of square: the {word} runs from {how.show(least)} to {how.show(most)} "
                    f"({how.show(most - least)} apart); the larger is taken; ease it in, or square it up first"
                )
        return tuple(told)


def _mean(sizes: tuple[Exact, ...]) -> Exact:
    return sum(sizes, start=ZERO) / len(sizes)


@dataclass(frozen=True, slots=True, kw_only=True)
class Needed:
    """A size to reach, and the arithmetic that gives it."""

    what: str
    width: Exact
    length: Exact
    base: Base
    overage: tuple[int, int]
    why: str

    def less(self, by: Number) -> Needed:
        """The same with `by` less overage on every side."""
        step = exact(by)
        sides, ends = (int((exact(each) - step).plain) for each in self.overage)
        return Needed(
            what=self.what,
            width=self.width - 2 * step,
            length=self.length - 2 * step,
            base=self.base,
            overage=(sides, ends),
            why=self.why,
        )


def _with_overage(
    what: str, top: Top, over: tuple[int, int], how: Conventions
) -> Needed:
    width, length = top.size(how.overage_from, how)
    w = width + 2 * over[0]
    h = length + 2 * over[1]
    # a raw top and a trimmed one are of one size: it is called as the maker called it
    alike = how.overage_from != "finished" and top.base == "trimmed"
    base = f"{'trimmed' if alike else how.overage_from} {how.size(width, length)}"
    if over[0] == over[1]:
        why = f"{base} + {how.show(over[0])} on every side = {how.size(w, h)}{_on_a_ruler(w, h, how)}"
    else:
        told = f"{how.show(over[0])} on each side and {how.show(over[1])} at each end"
        why = f"{base} + {told} = {how.size(w, h)}{_on_a_ruler(w, h, how)}"
    return Needed(
        what=what, width=w, length=h, base=how.overage_from, overage=over, why=why
    )


def _on_a_ruler(width: Exact, length: Exact, how: Conventions) -> str:
    """What a sum comes to on a ruler, where it lies on no mark of one."""
    exactly = how.size(width, length)
    least = how.size(width, length, how.least)
    if exactly == least:
        return ""
    return f", on a ruler {least}"


def backing_size(top: Top, how: Conventions = DEFAULT) -> Needed:
    """The size that a backing has to reach: the base that `overage_from` names, and the overage."""
    return _with_overage("backing", top, how.overage, how)


def batting_size(top: Top, how: Conventions = DEFAULT) -> Needed:
    """The same for batting; as much overage as the backing unless `batting_overage` says otherwise."""
    if how.batting_overage is None:
        over = how.overage
    else:
        over = (how.batting_overage, how.batting_overage)
    return _with_overage("batting", top, over, how)


@dataclass(frozen=True, slots=True, kw_only=True)
class Finishing:
    """All that a finished top still needs."""

    backing: Needed
    batting: Needed
    binding: Made
    notes: tuple[str, ...]


def finishing(top: Top, how: Conventions = DEFAULT, of: ClothLike = None) -> Finishing:
    """Backing, batting and binding for a top; `of` is the cloth of the binding.

    ``finishing(Top.read("58 x 66"))`` is all that has to be said.

    Parameters
    ----------
    top : as measured
    how : overages, and how it is bound
    of : cloth of the binding
    """
    made = binding(*top.size(how.binding_from, how), of, how)
    return Finishing(
        backing=backing_size(top, how),
        batting=batting_size(top, how),
        binding=made,
        notes=top.out_of_square(how) + made.notes,
    )
