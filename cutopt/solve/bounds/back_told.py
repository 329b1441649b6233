"""Why a back cannot do with less new cloth, as a sentence for the maker."""

from __future__ import annotations

from cutopt.lengths import CM, INCH, format_length, format_sale, so_many
from cutopt.solve.bounds.back_counts import BackCount
from cutopt.solve.bounds.cheapest_purchase import CheapestPurchase


def told(count: BackCount, bought: CheapestPurchase | None) -> str:
    """The reason in a maker's words, to stand after "because".

    Parameters
    ----------
    count : BackCount
        What is missing.
    bought : CheapestPurchase or None
        The cheapest purchase that is enough, None where there is none.
    """
    return f"{_wanted(count)}, and {_at_hand(count)}; {_shop(count, bought)}"


def _wanted(count: BackCount) -> str:
    back = count.back
    unit = count.job.settings.unit
    size = f"{format_length(back.width, unit)} x {format_length(back.length, unit)}"
    seam = format_length(count.rules.seam, unit, mark=True)
    wanted = f"{_whole(count, count.wanted)} square {unit}"
    return f"the parts of {back.name} ({size}) come to {wanted} once {seam} is off all round each"


def _at_hand(count: BackCount) -> str:
    """What there is, and what is missing: in whole figures that hold."""
    there = _whole(count, count.at_hand, up=True)
    missing = _whole(count, count.wanted) - there
    cloth = "the pile"
    if count.blocks and count.pile:
        cloth = "the pile and the spare blocks"
    elif count.blocks:
        cloth = "the spare blocks"
    if not there:
        return f"nothing in {cloth} can go into it"
    few = ""
    if count.is_short_of_parts:
        few = f" in so few parts ({count.back.rules.fewest} are the most)"
    verb = "give" if count.blocks else "gives"
    return f"{cloth} {verb} {there} of that at most{few}, however it is pieced, so {missing} are missing"


def _shop(count: BackCount, bought: CheapestPurchase | None) -> str:
    if not any(count.values):
        return "nothing that is on sale would do"
    if bought is None:
        return "all that is on sale is too little for that"
    names = " and ".join(_bought(count, s, copies) for s, copies in bought.bought)
    told = f"the least on sale that gives so much is {names}"
    if len(bought.bought) > 1:
        return told
    ((s, _),) = bought.bought
    shorter = [
        k
        for k in range(s)
        if count.shop[k].offer == count.shop[s].offer and count.shop[k].sold
    ]
    if not shorter:
        return told
    less = format_sale(count.shop[shorter[-1]].sold, count.job.settings.unit)
    gives = _whole(count, count.values[shorter[-1]], up=True)
    return f"{told}, as {less} gives {gives} at most"


def _bought(count: BackCount, s: int, copies: int) -> str:
    source = count.shop[s]
    fabric = count.job.shop[source.offer].fabric
    if source.sold:
        return f"{format_sale(source.sold, count.job.settings.unit)} of {fabric}"
    return f"{so_many(copies, 'piece')} of {fabric}"


def _whole(count: BackCount, square: int, *, up: bool = False) -> int:
    """Square ticks in whole square inches or centimetres, rounded down or up."""
    side = INCH if count.job.settings.unit == "in" else CM
    if up:
        return -(-square // (side * side))
    return square // (side * side)
