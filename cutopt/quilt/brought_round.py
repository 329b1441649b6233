"""A quilt without a binding: its backing is brought round to the front."""

from __future__ import annotations

from dataclasses import replace

from cutopt.errors import Problem
from cutopt.quilt.conventions import DEFAULT, Conventions, Length


def brought_round(
    shows: Length, how: Conventions = DEFAULT
) -> tuple[Conventions, tuple[str, ...]]:
    """No binding: the backing is folded twice over the edge to the front; the conventions with what it needs for that.

    Twice what shows lies beyond the trimmed edge (arithmetic identity), and 1 in or 2.5 cm more, by which it is
    quilted and trimmed (common practice, no source). A backing that has as much overage anyway needs no more.

    Parameters
    ----------
    shows : finished width of the edge on the front
    how : overage of the backing

    Raises
    ------
    Problem
        Where nothing of it would be seen.
    """
    f = how.read(shows, "binding")
    if not f:
        mend = "write how wide it shows, such as 1/2"
        raise Problem("binding", "the edge has no width", mend)
    hand = how.usual(None, "1", "2.5")
    needed = 2 * f + hand
    told = f"2 x {how.show(f)} = {how.show(2 * f)} beyond the trimmed edge"
    sums = f"{told}, and {how.show(hand)} to quilt and trim by = {how.show(needed)}"
    if how.overage_from == "finished":
        needed = needed + how.seam
        sums += f", + {how.show(how.seam)} for the seam of a finished size"
    sides, ends = how.overage
    least = needed.__ceil__()
    if least > min(sides, ends):
        more = "the backing has so much overage for it"
        how = _wider(how, least)
    else:
        more = "the overage of the backing is enough for it"
    trimmed = (
        f"trim top and batting even and the backing {how.show(2 * f)} beyond them; "
    )
    trimmed += f"folded twice it shows {how.show(f)} on the front, of which {how.show(how.seam)} is seam"
    return how, (
        f"no binding: the backing comes round to the front: {sums}; {more}",
        trimmed,
    )


def _wider(how: Conventions, least: int) -> Conventions:
    """With so much overage of the backing at least; that of batting stays as it is."""
    sides, ends = how.overage
    batting = how.batting_overage
    return replace(
        how,
        back_overage=max(sides, least),
        back_overage_ends=max(ends, least),
        batting_overage=max(sides, ends) if batting is None else batting,
    )
