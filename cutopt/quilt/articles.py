"""Small articles: hanging sleeve, cushion, pillowcase, runner, mats, bib, pot holder, bags, napkins.

Sizes are common practice, no source, where they are defaults (in a metric job round figures near the inch ones); the
sums are arithmetic identities.
"""

from __future__ import annotations

from typing import Final

from cutopt.errors import Problem
from cutopt.fabric import counted
from cutopt.quilt.binding import binding
from cutopt.quilt.cautions import SMALL_PARTS
from cutopt.quilt.conventions import DEFAULT, Conventions, Length
from cutopt.quilt.surds import Exact
from cutopt.quilt.top import Top, backing_size, batting_size
from cutopt.quilt.units import seams
from cutopt.quilt.wanted_parts import ClothLike, Made, a_cut, a_long_part
from cutopt.wanted import Wanted

HEAT = (
    "pot holders: use heat-resistant batting between layers of cotton, and nothing with a metal layer in a "
    "microwave oven; try it on something warm before something hot"
)
PADDED: Final = ("place mat", "mug mat", "coaster")
"""What of :data:`MATS` has batting by habit (common practice, no source)."""
BABIES: Final = (
    "bibs and burp cloths: only while a baby is awake and watched, off and out of the cot before sleep (a bare "
    "surface: American Academy of Pediatrics, Sleep-Related Infant Deaths: Updated 2022 Recommendations, Pediatrics "
    f"150(1)); {SMALL_PARTS}"
)


def hanging_sleeve(
    width: Length,
    of: ClothLike = None,
    how: Conventions = DEFAULT,
    deep: Length | None = None,
    less: Length | None = None,
    hem: Length | None = None,
    name: str = "sleeve",
) -> Made:
    """A tube to hang a quilt of this width by: `less` (2 in) shorter than the quilt, hemmed at both ends (1/2 in).

    A tube `deep` as it lies flat is cut 2 deep + 2s; unless told it is cut 8 1/2 in, 4 deep; in a metric job 22 cm,
    5 cm shorter, hems of 1.5 cm. An upright print stands across it.

    That a quilt for the wall needs one: Purdue Extension Blackford County, 4-H Quilting Project, 2020; its size is
    common practice, no source (6 to 9 in as cut).

    Parameters
    ----------
    width : finished width of the quilt
    of : its cloth, any where nothing is said
    how : seam and unit, and what is usual in it
    deep : depth of the tube as it lies flat
    less : by how much the sleeve is shorter than the quilt
    hem : turned in at each end
    name : of the rows

    Raises
    ------
    Problem
        Where nothing would be left of the sleeve.
    """
    w = how.read(width, "width")
    cut, told = _sleeve_depth(deep, how)
    shorter = how.usual(less, "2", "5", "less")
    turned = how.usual(hem, "1/2", "1.5", "hem")
    long = w - shorter + 2 * turned
    if long <= 0:
        raise Problem(
            "width",
            "nothing would be left of the sleeve",
            "write the width of the quilt",
        )
    why = f"{how.show(w)} - {how.show(shorter)} + 2 x {how.show(turned)} for the hems = {how.show(long)}"
    row = a_long_part(name, (cut, long), 1, (why, told), how, of, stands="across")
    return Made(wanted=(row,), width=w - shorter, length=cut / 2 - how.seam)


def _sleeve_depth(deep: Length | None, how: Conventions) -> tuple[Exact, str]:
    """Width of the strip of a sleeve as cut, and the sum: a tube has a front, a back and a seam."""
    if deep is None:
        cut = how.usual(None, "8 1/2", "22", "deep")
        flat = cut / 2 - how.seam
    else:
        flat = how.read(deep, "sleeve")
        cut = 2 * flat + 2 * how.seam
    if flat <= 0:
        mend = "write how deep it is as it lies flat, such as 4"
        raise Problem("sleeve", "the sleeve has no depth", mend)
    told = f"a tube {how.show(flat)} deep: 2 x {how.show(flat)} + {seams(how)} = {how.show(cut)}"
    return cut, told


def runner(
    width: Length,
    length: Length,
    count: int = 1,
    of: tuple[ClothLike, ClothLike, ClothLike] = (None, None, None),
    how: Conventions = DEFAULT,
    name: str = "runner",
) -> Made:
    """A small bound quilt of a finished size: top in one piece, backing and binding; `of` in that order.

    Parameters
    ----------
    width, length : finished
    count : how many
    of : cloth of the top, the backing and the binding
    how : seam and unit, and what is usual in it
    name : of the rows
    """
    counted("count", count)
    w = how.read(width, "width")
    h = how.read(length, "length")
    top = Top.finished(w, h, how)
    cut = (w + 2 * how.seam, h + 2 * how.seam)
    why = f"finished {how.size(w, h)}, + {seams(how)} each way = {how.size(*cut)}"
    back = backing_size(top, how)
    rows: list[Wanted] = [
        a_cut(f"{name} top", cut, count, why, how, of[0]),
        a_cut(
            f"{name} backing", (back.width, back.length), count, back.why, how, of[1]
        ),
    ]
    base = top.size(how.binding_from, how)
    for number in range(count):
        label = f"{name} binding" + (f" {number + 1}" if count > 1 else "")
        rows.extend(binding(*base, of[2], how, label).wanted)
    batting = batting_size(top, how)
    told = _no_batting(name, (batting.width, batting.length), count, how)
    return Made(wanted=tuple(rows), width=w, length=h, notes=(told,))


MATS: Final = {
    "place mat": ("18 x 12", "45 x 30"),
    "mug mat": ("9 x 6", "23 x 15"),
    "coaster": ("4 x 4", "10 x 10"),
    "burp cloth": ("10 x 20", "25 x 50"),
}
"""What is sewn of two equal rectangles and turned through: usual finished sizes in inches and in centimetres."""


def turned_through(
    what: str,
    count: int,
    of: tuple[ClothLike, ClothLike] = (None, None),
    how: Conventions = DEFAULT,
    width: Length | None = None,
    length: Length | None = None,
    name: str = "",
) -> Made:
    """One of :data:`MATS`: front and back of one size, no binding; `of` is front and back.

    Parameters
    ----------
    what : which of the mats
    count : how many
    of : cloth of the front, and of the back
    how : seam and unit, and what is usual in it
    width, length : finished, where they are not the usual ones
    name : of the rows; left out, as the mat is called
    """
    counted("count", count)
    (w_in, h_in), (w_cm, h_cm) = (size.split(" x ") for size in MATS[what])
    w = how.usual(width, w_in, w_cm, "width")
    h = how.usual(length, h_in, h_cm, "length")
    cut = (w + 2 * how.seam, h + 2 * how.seam)
    why = f"finished {how.size(w, h)}, + {seams(how)} each way = {how.size(*cut)}"
    notes: tuple[str, ...] = (BABIES,) if what == "burp cloth" else ()
    if what in PADDED:
        notes = (_no_batting(name or what, cut, count, how),)
    return Made(
        wanted=_front_and_back(name or what, cut, count, why, how, of),
        width=w,
        length=h,
        notes=notes,
    )


def _no_batting(
    name: str, size: tuple[Exact, Exact], count: int, how: Conventions
) -> str:
    """That the batting between front and back is no part of the plan, and how much it takes."""
    return (
        f"{name}: its batting, {count} of {how.size(*size, how.least)}, is not in this plan: "
        "cut it from scraps of batting"
    )


def bibs(
    count: int,
    of: tuple[ClothLike, ClothLike] = (None, None),
    how: Conventions = DEFAULT,
    width: Length | None = None,
    length: Length | None = None,
    name: str = "bib",
) -> Made:
    """Rectangles on which a bib is drawn, 10 x 14 in or 25 x 35 cm as cut unless given; sewn about 1 in smaller.

    Parameters
    ----------
    count : how many
    of : cloth of the front, and of the back
    how : seam and unit, and what is usual in it
    width, length : as cut
    name : of the rows

    Raises
    ------
    Problem
        Where nothing would be left of the bib.
    """
    counted("count", count)
    cut = (
        how.usual(width, "10", "25", "width"),
        how.usual(length, "14", "35", "length"),
    )
    less = how.usual(None, "1", "2.5")
    w = cut[0] - less
    h = cut[1] - less
    if min(w, h) <= 0:
        raise Problem(
            "width",
            "nothing would be left of the bib",
            "write its size as cut, such as 10 x 14",
        )
    why = f"cut {how.size(*cut)}; draw the shape on it, sewn about {how.size(w, h)}"
    return Made(
        wanted=_front_and_back(name, cut, count, why, how, of),
        width=w,
        length=h,
        notes=(BABIES,),
    )


def _front_and_back(
    name: str,
    cut: tuple[Exact, Exact],
    count: int,
    why: str,
    how: Conventions,
    of: tuple[ClothLike, ClothLike],
) -> tuple[Wanted, ...]:
    sides = zip(("front", "back"), of, strict=True)
    return tuple(
        a_cut(f"{name} {side}", cut, count, why, how, cloth) for side, cloth in sides
    )


def pot_holder(
    side: Length,
    count: int = 1,
    of: tuple[ClothLike, ClothLike] = (None, None),
    how: Conventions = DEFAULT,
    layers: int = 2,
    name: str = "pot holder",
    *,
    loop: bool = False,
) -> Made:
    """Square pot holders, cut to size and bound; `of` is the layers of cotton and the binding.

    The binding goes round the cut edge, so nothing is added for seams. A loop to hang it by is a strip of 2 x 5 in or
    5 x 13 cm, folded in four (common practice, no source).

    Parameters
    ----------
    side : of the square, cut and finished
    count : how many
    of : cloth of the layers, and of the binding
    how : seam and unit, and what is usual in it
    layers : of cotton in each
    name : of the rows
    loop : whether each has a loop, of the cloth of the layers
    """
    counted("count", count)
    counted("layers", layers)
    p = how.read(side, "side")
    told = f"cut to the size of {how.show(p)}, {layers} layers of cotton for each of {count}"
    rows: list[Wanted] = [
        a_cut(f"{name} layer", (p, p), layers * count, told, how, of[0])
    ]
    for number in range(count):
        label = f"{name} binding" + (f" {number + 1}" if count > 1 else "")
        rows.extend(binding(p, p, of[1], how, label, f"edge of {how.show(p)}").wanted)
    if loop:
        strip = how.usual(None, "2", "5"), how.usual(None, "5", "13")
        folded = (
            f"a strip of {how.size(*strip)}, folded in four; one for each of {count}"
        )
        rows.append(a_cut(f"{name} loop", strip, count, folded, how, of[0]))
    notes = HEAT, _no_batting(name, (p, p), count, how)
    return Made(wanted=tuple(rows), width=p, length=p, notes=notes)


def napkins(
    count: int,
    of: ClothLike = None,
    how: Conventions = DEFAULT,
    cut: Length | None = None,
    name: str = "napkin",
) -> Made:
    """Squares of a cut size (18 in or 45 cm), hemmed narrowly all round (1/2 in or 1.5 cm a side, turned twice).

    Parameters
    ----------
    count : how many
    of : its cloth, any where nothing is said
    how : seam and unit, and what is usual in it
    cut : side of the square as cut
    name : of the rows
    """
    c = how.usual(cut, "18", "45", "cut")
    hem = how.usual(None, "1/2", "1.5")
    why = f"cut {how.show(c)}, hemmed to {how.show(c - 2 * hem)}"
    return Made(
        wanted=(a_cut(name, (c, c), count, why, how, of),),
        width=c - 2 * hem,
        length=c - 2 * hem,
    )
