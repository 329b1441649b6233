"""Why a back cannot do with less new cloth, as a sentence for the maker."""

from __future__ import annotations

from collections.abc import Sequence

from cutopt.job import Job
from cutopt.lengths import CM, INCH, format_length, format_sale, so_many
from cutopt.solve.bounds.back_counts import BackCount
from cutopt.solve.bounds.cheapest_purchase import CheapestPurchase
from cutopt.solve.bounds.relaxed import RelaxedCloth


def told(count: BackCount, bought: CheapestPurchase | None) -> str:
    """The reason in a maker's words, to stand after "because".

    Parameters
    ----------
    count : BackCount
        What is missing.
    bought : CheapestPurchase or None
        The cheapest purchase that is enough, None where there is none.
    """
    unit = count.job.settings.unit
    gives = [whole_squares(value, unit, up=True) for value in count.values]
    sale = on_sale(count.job, count.shop, gives, bought)
    return f"{_wanted(count)}, and {_at_hand(count)}; {sale}"


def _wanted(count: BackCount) -> str:
    back = count.back
    unit = count.job.settings.unit
    size = f"{format_length(back.width, unit)} x {format_length(back.length, unit)}"
    seam = format_length(count.rules.seam, unit, mark=True)
    wanted = f"{whole_squares(count.wanted, unit)} square {unit}"
    return f"the parts of {back.name} ({size}) come to {wanted} once {seam} is off all round each"


def _at_hand(count: BackCount) -> str:
    """What there is, and what is missing: in whole figures that hold."""
    unit = count.job.settings.unit
    there = whole_squares(count.at_hand, unit, up=True)
    missing = whole_squares(count.wanted, unit) - there
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


def on_sale(
    job: Job,
    shop: Sequence[RelaxedCloth],
    gives: Sequence[int],
    bought: CheapestPurchase | None,
) -> str:
    """What the shop would have to give, and that the next shorter length is too little.

    Parameters
    ----------
    job : Job
    shop : sequence of RelaxedCloth
        As :mod:`cutopt.solve.bounds.back_shop` makes them.
    gives : sequence of int
        What each gives at most, square inches or centimetres.
    bought : CheapestPurchase or None
        The cheapest that is enough, None where there is none.
    """
    if not any(gives):
        return "nothing that is on sale would do"
    if bought is None:
        return "all that is on sale is too little for that"
    names = " and ".join(_bought(job, shop[s], copies) for s, copies in bought.bought)
    told = f"the least on sale that gives so much is {names}"
    if len(bought.bought) > 1:
        return told
    ((chosen, _),) = bought.bought
    offer = shop[chosen].offer
    shorter = [s for s in range(chosen) if shop[s].offer == offer and shop[s].sold]
    if not shorter:
        return told
    less = format_sale(shop[shorter[-1]].sold, job.settings.unit)
    return f"{told}, as {less} gives {gives[shorter[-1]]} at most"


def _bought(job: Job, source: RelaxedCloth, copies: int) -> str:
    fabric = job.shop[source.offer].fabric
    if source.sold:
        return f"{format_sale(source.sold, job.settings.unit)} of {fabric}"
    return f"{so_many(copies, 'piece')} of {fabric}"


def whole_squares(square: int, unit: str, *, up: bool = False) -> int:
    """Square ticks in whole square inches or centimetres, rounded down or up.

    Parameters
    ----------
    square : int
    unit : {"in", "cm"}
    up : bool
    """
    side = INCH if unit == "in" else CM
    if up:
        return -(-square // (side * side))
    return square // (side * side)
