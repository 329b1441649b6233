"""Binding: how long, how wide, how many strips; double or single fold, straight or bias, whole or scrappy."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal, TypeAlias

from cutopt.errors import Problem
from cutopt.quilt.conventions import DEFAULT, Conventions, Length
from cutopt.quilt.surds import ROOT2, Exact, Number, ceil_to, exact, how_many, how_often
from cutopt.quilt.wanted_parts import ClothLike, Made, a_cut, a_strip, joined_count
from cutopt.wanted import Wanted

Fold: TypeAlias = Literal["double", "single"]


def binding_length(width: Number, length: Number, how: Conventions = DEFAULT) -> Exact:
    """Twice round the corner of the quilt, and the allowance. Mitred corners take no extra along the raw edge.

    Parameters
    ----------
    width, length : of the quilt as it is bound, ticks
    how : fold, seam, join and allowance of the binding
    """
    return 2 * (exact(width) + length) + how.binding_allowance


def width_for(seam: Number, ease: Number, how: Conventions = DEFAULT) -> Exact:
    """Width of the strip: double fold 6 seams + 2t, single 4 seams + t; t is thickness and ease over the edge.

    Double: half the strip is seam + front + t + back, and front and back are a seam wide (arithmetic identity).

    Parameters
    ----------
    seam, ease : ticks
    how : whether the fold is double or single
    """
    if how.binding_fold == "double":
        return 6 * exact(seam) + 2 * exact(ease)
    return 4 * exact(seam) + ease


def folded(how: Conventions, fold: Fold) -> Conventions:
    """The conventions with another fold; a strip of the width that is usual for one becomes as wide as the other's."""
    widths = {each: usual_width(how, each) for each in ("double", "single")}
    if how.binding_width == widths[how.binding_fold]:
        width = widths[fold]
    else:
        width = how.binding_width
    return replace(how, binding_fold=fold, binding_width=width)


def usual_width(how: Conventions, fold: str) -> int:
    """Width of strip unless told: double fold 2 1/2 in or 6.5 cm, single four seams and 1/8 in or 3 mm for the cloth.

    Common practice, no source.
    """
    if fold == "double":
        return (
            Conventions() if how.unit == "in" else Conventions.metric()
        ).binding_width
    return how.cut_size(4 * how.seam + how.usual(None, "1/8", "0.3"))


def ease_of(width: Number, seam: Number, how: Conventions = DEFAULT) -> Exact:
    """What a strip of this width leaves for thickness and ease: :func:`width_for` turned round.

    Parameters
    ----------
    width, seam : of the strip as cut, and of the binding, ticks
    how : whether the fold is double or single
    """
    if how.binding_fold == "double":
        return (exact(width) - 6 * exact(seam)) / 2
    return exact(width) - 4 * exact(seam)


def join_loss(width: Number, how: Conventions = DEFAULT) -> Exact:
    """What a join costs: diagonal the width, straight two seams, ends pre-cut at 45 degrees two seams x √2.

    Bias strips cut singly have slanted ends already: two seams x √2 as well. Pre-cut ends also cost each strip
    its width (:func:`strips_needed`).
    """
    if how.binding_cut == "bias" or how.binding_join == "pre-cut":
        return 2 * how.seam * ROOT2
    if how.binding_join == "diagonal":
        return exact(width)
    return exact(2 * how.seam)


def reach(
    strips: int, width: Number, usable: Number, how: Conventions = DEFAULT
) -> Exact:
    """Length of so many strips across the fabric, joined.

    Parameters
    ----------
    strips : how many
    width : of a strip, which a diagonal join takes, ticks
    usable : width of the fabric, ticks
    how : how strips are joined
    """
    if how.binding_join == "pre-cut":
        each = exact(usable) - width
    else:
        each = exact(usable)
    return strips * each - (strips - 1) * join_loss(width, how)


def strips_needed(
    total: Number, width: Number, usable: Number, how: Conventions = DEFAULT
) -> int:
    """How many strips across the fabric reach `total`; never the rough total / width of fabric.

    Parameters
    ----------
    total : length to reach, ticks
    width : of a strip, ticks
    usable : width of the fabric, ticks
    how : how strips are joined
    """
    if how.binding_join == "pre-cut":
        each = exact(usable) - width
    else:
        each = exact(usable)
    return joined_count(total, each, join_loss(width, how))


def binding(
    width: Number,
    length: Number,
    of: ClothLike = None,
    how: Conventions = DEFAULT,
    name: str = "binding",
    base: str = "",
) -> Made:
    """The binding of a quilt whose size (of the base that `binding_from` names) is `width` by `length`.

    Parameters
    ----------
    base : str
        What the size is, told in the arithmetic ("trimmed 58 1/2 x 66 1/2"); left out, the size alone.

    Returns
    -------
    Made
        A strip to join, or with `binding_cut` "bias" the square for a continuous tube.
    """
    total = binding_length(width, length, how)
    around = base or f"{how.binding_from} {how.size(width, length)}"
    why = f"{around}: 2 x ({how.show(width)} + {how.show(length)}) + {how.show(how.binding_allowance)} = "
    why += how.show(total)
    notes = tuple(_cautions(how))
    row = (_tube if how.binding_cut == "bias" else _strip)(name, total, why, of, how)
    return Made(wanted=(row,), width=exact(width), length=exact(length), notes=notes)


def _strip(
    name: str, total: Exact, why: str, of: ClothLike, how: Conventions
) -> Wanted:
    note = f"{how.binding_fold} fold, {how.binding_finish}-finished"
    if how.binding_join == "pre-cut":
        total = total + how.binding_width
        why += f"; the ends of each strip cut at 45 degrees first: + {how.show(how.binding_width)} = {how.show(total)}"
    return a_strip(
        name,
        how.binding_width,
        total,
        why,
        how,
        of,
        join=how.binding_join,
        shortest=how.binding_shortest,
        note=note,
    )


def _tube(name: str, total: Exact, why: str, of: ClothLike, how: Conventions) -> Wanted:
    square = tube_square(total, how.binding_width, how)
    gives = tube_length(square, how.binding_width, how)
    why += f"; a continuous tube from a square of {how.show(square)} gives {how.show(gives)}"
    note = f"{how.binding_fold} fold, bias: cut {how.show(how.binding_width)} wide all along the tube"
    return a_cut(name, (square, square), 1, why, how, of, note, spares=False)


def _cautions(how: Conventions) -> list[str]:
    ease = ease_of(how.binding_width, how.seam, how)
    if ease <= 0:
        mend = f"write {how.show(width_for(how.seam, exact(how.seam) / 2, how))} or more, or a narrower seam"
        raise Problem("binding_width", "the strip does not reach round the edge", mend)
    tight = (
        how.binding_finish == "machine"
        and how.binding_fold == "double"
        and ease < 2 * how.seam
    )
    if not tight:
        return []
    easy = f"{how.show(width_for(how.seam, 2 * how.seam, how))} is easy"
    return [
        f"machine-finished: {how.show(how.binding_width)} leaves {how.show(ease)} over the edge, tight; {easy}"
    ]


def tube_length(square: Number, width: Number, how: Conventions = DEFAULT) -> Exact:
    """Length of a continuous bias binding from a square A: k√2 (A - 3s), k = floor((A - s)/(w√2)) whole widths.

    Cut once on the diagonal and rejoined, the square loses s on the joined leg; the seam of the tube takes 2s.

    Parameters
    ----------
    square : its side, ticks
    width : of the binding as cut, ticks
    how : seam
    """
    a = exact(square)
    k = how_often(a - how.seam, exact(width) * ROOT2)
    return k * ROOT2 * (a - 3 * how.seam)


def tube_square(total: Number, width: Number, how: Conventions = DEFAULT) -> Exact:
    """The smallest square, on `tube_step`, whose tube reaches `total`.

    Parameters
    ----------
    total : length to reach, ticks
    width : of the binding as cut, ticks
    how : seam, and the step of the square
    """
    step = exact(how.tube_step)
    n = max(1, (rough_square_squared(total, width) / (step * step)).__floor__())
    n = max(1, _root_floor(n) - 1)
    while tube_length(n * step, width, how) < total:
        n += 1
    return n * step


def rough_square_squared(total: Number, width: Number) -> Exact:
    """Area of the square of the rough rule A = √(length x width), which forgets every seam."""
    return exact(total) * width


def _root_floor(n: int) -> int:
    from math import isqrt

    return isqrt(n)


def crosswise(bias_width: Number) -> Exact:
    """Width of a bias strip measured along the straight grain: w√2."""
    return exact(bias_width) * ROOT2


@dataclass(frozen=True, slots=True, kw_only=True)
class Scraps:
    """A scrappy binding from segments on hand: what they reach, and what is wanting."""

    reach: Exact
    missing: Exact
    used: int
    too_short: int


def from_segments(
    segments: tuple[Length, ...],
    total: Number,
    how: Conventions = DEFAULT,
    width: Number | None = None,
) -> Scraps:
    """Whether segments on hand make a binding: the sum less a join each time, shorter ones than allowed left out.

    Longest first, as few as reach the total.

    Parameters
    ----------
    segments : lengths on hand
    total : length to reach, ticks
    how : how they are joined, and the shortest that counts
    width : of the binding as cut, ticks; left out, the usual one
    """
    w = exact(how.binding_width if width is None else width)
    loss = join_loss(w, how)
    lengths = sorted(
        (how.read(each, "segments") for each in segments), key=float, reverse=True
    )
    fit = [each for each in lengths if each >= how.binding_shortest]
    got = exact(0)
    used = 0
    for each in fit:
        if used and got >= total:
            break
        got = got + each - (loss if used else 0)
        used = used + 1
    missing = exact(total) - got
    return Scraps(
        reach=got,
        missing=missing if missing > 0 else exact(0),
        used=used,
        too_short=len(lengths) - len(fit),
    )


def segments_needed(total: Number, segment: Number, how: Conventions = DEFAULT) -> int:
    """How many segments of one length make the total.

    Parameters
    ----------
    total, segment : lengths, ticks
    how : how they are joined
    """
    return joined_count(total, segment, join_loss(how.binding_width, how))


def cloth_for(total: Number, usable: Number, how: Conventions = DEFAULT) -> Exact:
    """Length of fabric for strips across it: their number x their width.

    Parameters
    ----------
    total : length to reach, ticks
    usable : width of the fabric, ticks
    how : width of a strip, and how strips are joined
    """
    return strips_needed(total, how.binding_width, usable, how) * exact(
        how.binding_width
    )


def rough_strips(total: Number, usable: Number) -> int:
    """Total / width of fabric, forgetting joins: shown beside the true count, never used."""
    return how_many(total, usable)


def rounded_tube(total: Number, width: Number, step: Number) -> Exact:
    """The square by the rough rule, up to a step: the smallest with A² >= length x width.

    Parameters
    ----------
    total : length to reach, ticks
    width : of the binding as cut, ticks
    step : up to which the side is rounded, ticks
    """
    area = rough_square_squared(total, width)
    side = ceil_to(_root_floor(area.__ceil__()), step)
    while side * side < area:
        side = side + step
    return side
