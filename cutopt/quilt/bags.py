"""Bags: a tote with boxed corners, with or without a lining, a pouch with a zipper, and one with a drawstring.

Sizes are common practice, no source, where they are defaults; the sums are arithmetic identities.
"""

from __future__ import annotations

from cutopt.errors import Problem
from cutopt.fabric import counted
from cutopt.quilt.conventions import DEFAULT, Conventions, Length
from cutopt.quilt.surds import exact
from cutopt.quilt.units import seams
from cutopt.quilt.wanted_parts import ClothLike, Made, a_cut
from cutopt.wanted import Cut


def tote(
    width: Length,
    height: Length,
    depth: Length | None,
    count: int = 1,
    of: tuple[ClothLike, ClothLike] = (None, None),
    how: Conventions = DEFAULT,
    seam: Length | None = None,
    handle: tuple[Length, Length] | None = None,
    name: str = "tote",
) -> Made:
    """A bag with boxed corners and two handles folded in four: front and back (w + d + 2s) x (h + d/2 + 2s).

    Seams of 1/2 in or 1.5 cm, handles of 1 x 24 in or 2.5 x 60 cm unless given.

    Parameters
    ----------
    width, height, depth : finished; a flat bag has no depth
    count : how many
    of : cloth of the bag, and of the handles
    how : seam and unit, and what is usual in it
    seam : of a bag, on each side
    handle : finished width and length of each of two
    name : of the rows
    """
    counted("count", count)
    w, h = how.read(width), how.read(height)
    d = how.read(depth) if depth is not None else exact(0)
    s = how.usual(seam, "1/2", "1.5", "seam")
    side = (w + d + 2 * s, h + d / 2 + 2 * s)
    deep = (
        (f" + {how.show(d)}", f" + {how.show(d)} / 2")
        if depth is not None
        else ("", "")
    )
    why = (
        f"{how.show(w)}{deep[0]} + 2 x {how.show(s)} = {how.show(side[0])}; "
        f"{how.show(h)}{deep[1]} + 2 x {how.show(s)} = {how.show(side[1])}"
    )
    wide, far = handle or (None, None)
    strap = how.usual(wide, "1", "2.5", "handle")
    long = how.usual(far, "24", "60", "handle")
    told = f"4 x {how.show(strap)} = {how.show(4 * strap)} wide, folded in four; {how.show(long)} long"
    rows = (
        a_cut(f"{name} front and back", side, 2 * count, why, how, of[0]),
        a_cut(f"{name} handle", (4 * strap, long), 2 * count, told, how, of[1]),
    )
    return Made(wanted=rows, width=w, length=h)


def lined_tote(
    size: tuple[Length, Length, Length | None],
    count: int = 1,
    of: tuple[ClothLike, ClothLike, ClothLike] = (None, None, None),
    how: Conventions = DEFAULT,
    pocket: tuple[Length, Length] | None = None,
    handle: tuple[Length, Length] | None = None,
    name: str = "tote",
) -> Made:
    """A :func:`tote` with a lining as large as the bag, and, where one is asked for, a pocket on the lining.

    A pocket of w x h is hemmed above (1 in or 2.5 cm, turned twice) and turned in at the other sides by a seam of the
    bag. That a lining is cut as the bag is, is common practice, no source.

    Parameters
    ----------
    size : finished width, height and depth
    count : how many
    of : cloth of the bag, of its lining and of the handles
    how : seam and unit, and what is usual in it
    pocket : finished width and height of one in each bag, None for none
    handle : finished width and length of each of two
    name : of the rows

    Raises
    ------
    Problem
        Where the pocket is wider or higher than the bag.
    """
    bag = tote(*size, count, (of[0], of[2]), how, handle=handle, name=name)
    body, strap = bag.cuts
    inside = body.width, body.length
    why = f"as the bag: {how.size(*inside)}"
    # the count of the body has its spares already
    lining = a_cut(f"{name} lining", inside, 2 * count, why, how, of[1])
    rows = [body, lining, strap]
    if pocket is not None:
        rows.append(_pocket(name, pocket, size, count, of[1], how))
    return Made(wanted=tuple(rows), width=bag.width, length=bag.length)


def _pocket(
    name: str,
    pocket: tuple[Length, Length],
    size: tuple[Length, Length, Length | None],
    count: int,
    of: ClothLike,
    how: Conventions,
) -> Cut:
    """The row of pockets, one in each bag.

    Parameters
    ----------
    name : of the bag
    pocket : finished width and height
    size : of the bag, finished
    count : of bags
    of : cloth of the lining
    how : unit, and what is usual in it
    """
    w, h = (how.read(each, "pocket") for each in pocket)
    if w > how.read(size[0]) or h > how.read(size[1]):
        what = f"a pocket of {how.size(w, h)} is larger than the bag"
        raise Problem("pocket", what, "make it smaller")
    s = how.usual(None, "1/2", "1.5")
    hem = how.usual(None, "1", "2.5")
    cut = w + 2 * s, h + s + 2 * hem
    why = (
        f"{how.show(w)} + 2 x {how.show(s)} = {how.show(cut[0])}; "
        f"{how.show(h)} + {how.show(s)} + 2 x {how.show(hem)} = {how.show(cut[1])}"
    )
    return a_cut(f"{name} pocket", cut, count, why, how, of)


def zipper_pouch(
    width: Length,
    height: Length,
    count: int = 1,
    of: tuple[ClothLike, ClothLike] = (None, None),
    how: Conventions = DEFAULT,
    name: str = "zipper pouch",
) -> Made:
    """A flat pouch with a zipper: two outside and two of the lining, a seam on every side (common practice, no source).

    Parameters
    ----------
    width, height : finished
    count : how many
    of : cloth of the outside, and of the lining
    how : seam and unit, and what is usual in it
    name : of the rows
    """
    counted("count", count)
    w = how.read(width, "width")
    h = how.read(height, "height")
    side = w + 2 * how.seam, h + 2 * how.seam
    why = f"{how.size(w, h)}, + {seams(how)} each way = {how.size(*side)}"
    then = f"2 to each of {count}"
    rows = tuple(
        a_cut(f"{name} {part}", side, 2 * count, why, how, cloth, then=then)
        for part, cloth in zip(("outside", "lining"), of, strict=True)
    )
    note = (
        f"{name}: its zippers, {count} of {how.show(w)} or longer, are not in this plan"
    )
    return Made(wanted=rows, width=exact(w), length=exact(h), notes=(note,))


def drawstring_bag(
    width: Length,
    height: Length,
    count: int = 1,
    of: ClothLike = None,
    how: Conventions = DEFAULT,
    name: str = "drawstring bag",
) -> Made:
    """Front and back: seams of 1/2 in at the sides and below, 2 1/2 in for the casing above; 1.5 and 6 cm.

    Parameters
    ----------
    width, height : finished, the casing not counted
    count : how many
    of : its cloth, any where nothing is said
    how : seam and unit, and what is usual in it
    name : of the rows
    """
    counted("count", count)
    w = how.read(width, "width")
    h = how.read(height, "height")
    wider = how.usual(None, "1", "3")
    higher = how.usual(None, "3", "7.5")
    side = w + wider, h + higher
    why = f"{how.show(w)} + {how.show(wider)} = {how.show(side[0])}; {how.show(h)} + {how.show(higher)} = "
    why += how.show(side[1])
    return Made(
        wanted=(a_cut(name, side, 2 * count, why, how, of),),
        width=exact(w),
        length=exact(h),
    )
