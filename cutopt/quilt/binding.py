"""Binding: how long, how wide, how many strips; double or single fold, straight or bias, whole or scrappy."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final, Literal, TypeAlias

from cutopt.errors import Problem
from cutopt.quilt.bias import (
    bias_reach,
    bias_square,
    bias_strips,
    tube_length,
    tube_square,
)
from cutopt.quilt.conventions import DEFAULT, Conventions, Length
from cutopt.quilt.surds import ROOT2, Exact, Number, exact, how_many
from cutopt.quilt.wanted_parts import (
    ClothLike,
    Made,
    a_cut,
    a_strip,
    cloth,
    joined_count,
)
from cutopt.wanted import Wanted

Fold: TypeAlias = Literal["double", "single"]
_BY_TURNS: Final = "join its segments by turns with those of the other fabrics: no more joins than apart"


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
    if how.binding_cut != "straight" or how.binding_join == "pre-cut":
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
    of: ClothLike | tuple[ClothLike, ...] = None,
    how: Conventions = DEFAULT,
    name: str = "binding",
    base: str = "",
    parts: tuple[Fraction, ...] = (),
) -> Made:
    """The binding of a quilt whose size (of the base that `binding_from` names) is `width` by `length`.

    Parameters
    ----------
    width, length : ticks
    of : cloth
        Several make a scrappy binding, with as much of its length from each.
    how : Conventions
    name : str
        Of its row; of several cloths each has a row of its own.
    base : str
        What the size is, told in the arithmetic ("trimmed 58 1/2 x 66 1/2"); left out, the size alone.
    parts : tuple of Fraction
        Which part of the length is from each of several cloths; left out, as much from each.

    Returns
    -------
    Made
        A strip to join; with `binding_cut` "bias" the square for a continuous tube, with "bias strips" the square
        that they are cut from.

    Raises
    ------
    Problem
        Where a print is to stand up on bias, or several cloths make a continuous tube.
    """
    total = binding_length(width, length, how)
    around = base or f"{how.binding_from} {how.size(width, length)}"
    why = f"{around}: 2 x ({how.show(width)} + {how.show(length)}) + {how.show(how.binding_allowance)} = "
    why += how.show(total)
    cloths = of if isinstance(of, tuple) else (of,)
    if how.binding_cut != "straight" and any(cloth(each).upright for each in cloths):
        what = "a print does not stand up along strips that are cut on the bias"
        raise Problem("binding", what, "leave out upright, or bias")
    parts = parts or tuple(Fraction(1, len(cloths)) for _ in cloths)
    rows = _rows(name, total, why, tuple(zip(cloths, parts, strict=True)), how)
    return Made(
        wanted=tuple(rows),
        width=exact(width),
        length=exact(length),
        notes=tuple(_cautions(how)),
    )


def _rows(
    name: str,
    total: Exact,
    why: str,
    of: tuple[tuple[ClothLike, Fraction], ...],
    how: Conventions,
) -> Iterator[Wanted]:
    """A row for each cloth, of its share of the length where there are several."""
    make = {"straight": _strip, "bias": _tube, "bias strips": _bias_strips}
    made = make[how.binding_cut]
    if how.binding_cut == "straight" and how.binding_join == "pre-cut":
        total = total + how.binding_width
        why += f"; the ends of each strip cut at 45 degrees first: + {how.show(how.binding_width)} = {how.show(total)}"
    if len(of) == 1:
        yield made(name, total, why, of[0][0], how)
        return
    if how.binding_cut == "bias":
        what = "a continuous bias tube is of one fabric"
        raise Problem("binding", what, "name one, or write bias strips")
    for each, part in of:
        label = f"{name} {' or '.join(cloth(each).fabrics) or 'any'}"
        share, told = scrappy_share(total, part, len(of), how)
        row = made(label, share, why + told, each, how)
        yield replace(row, note=f"{row.note}; {_BY_TURNS}")


def scrappy_share(
    total: Number, part: Fraction, cloths: int, how: Conventions = DEFAULT
) -> tuple[Exact, str]:
    """How long the part of a cloth is in a scrappy binding, and the sum that tells it.

    The parts are joined too: all together T + (n - 1)j, j lost per join (arithmetic identity). In which order their
    segments are joined does not matter, for the joins are as many in any. Shares alike are common practice, no source.

    Parameters
    ----------
    total : length to reach, ticks
    part : of the length
    cloths : of how many cloths it is
    how : how segments are joined, and the shortest

    Raises
    ------
    Problem
        Where a share is shorter than a segment may be.
    """
    loss = join_loss(how.binding_width, how)
    if how.binding_cut == "straight" and how.binding_join == "pre-cut":
        loss = loss + how.binding_width
    share = (exact(total) + (cloths - 1) * loss) * part
    if share < how.binding_shortest:
        what = f"a fabric would have {how.show(share)} of the binding, and no segment is to be shorter than "
        what += how.show(how.binding_shortest)
        raise Problem("binding", what, "name fewer fabrics")
    told = f"; {part} of it from this fabric: ({how.show(total)} + {cloths - 1} x {how.show(loss)} "
    told += f"for joining {cloths} fabrics) x {part} = {how.show(share)}"
    return share, told


def _strip(
    name: str, total: Exact, why: str, of: ClothLike, how: Conventions
) -> Wanted:
    note = f"{how.binding_fold} fold, {how.binding_finish}-finished"
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


def _bias_strips(
    name: str, total: Exact, why: str, of: ClothLike, how: Conventions
) -> Wanted:
    w = how.binding_width
    square = bias_square(total, w, how)
    k = bias_strips(square, w, how)
    gives = bias_reach(square, w, how)
    why += f"; from a square of {how.show(square)}, cut on the diagonal, {k} strips on either side of it: centre lines "
    why += f"{how.show(square * ROOT2)} less {how.show(w)}, {how.show(3 * exact(w))} and so on, less {2 * k - 1} joins "
    why += f"of {how.show(2 * how.seam * ROOT2)}, give {how.room(gives)}"
    note = f"{how.binding_fold} fold, bias: the plan cuts the square; from it cut by hand {2 * k} strips "
    note += f"{how.show(w)} wide, along the diagonal; turn every other one and join the slanted ends"
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
