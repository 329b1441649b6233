"""A way to piece a backing as a question to the general solver, which may or may not need less cloth for it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from cutopt.answers.backing import BackingAnswer
from cutopt.errors import Problem
from cutopt.fabric import ByLength, Fabric
from cutopt.job import Job
from cutopt.quilt.backs.sewn import BackPart, Piecing, parts_of, size_of
from cutopt.quilt.backs.way import Way
from cutopt.quilt.surds import Exact
from cutopt.result import Result
from cutopt.settings import Settings
from cutopt.solve.control.stop import Stop, Work
from cutopt.wanted import Cut, Strip


def as_job(way: Way, answer: BackingAnswer) -> Job:
    """A way as a job for the general solver: whole panels as cuts, strips of several segments as strips to join.

    Raises
    ------
    Problem
        Where the way takes cloth on hand or goods by the piece: then there is no length to compare.
    """
    offered = way.offered
    if (
        not isinstance(offered, ByLength)
        or way.pieces
        or way.from_hand
        or not way.complete
    ):
        raise Problem("way", "it is not bought by length alone", "choose another")
    how = answer.how
    known = {fabric.name: fabric for fabric in answer.fabrics}
    fabric = replace(known.get(way.fabric, Fabric(name=way.fabric)), one_way="")
    if how.unit == "in":
        settings = Settings()
    else:
        settings = Settings.metric()
    settings = replace(settings, seam=how.back_seam, square_up_end=how.square_up_end)
    cuts = []
    strips = []
    for number, (part, shortest) in enumerate(_cut_parts(way.sewn), 1):
        wide, long = (_down(size) for size in part)
        if shortest is not None:
            strips.append(
                Strip(
                    name=f"strip {number}",
                    width=wide,
                    total_length=long,
                    join="straight",
                    shortest=min(_down(shortest), how.binding_shortest),
                )
            )
        else:
            cuts.append(Cut(name=f"width {number}", width=wide, length=long))
    shop = replace(offered, price=None, most=None)
    return Job(
        name=f"backing of {way.fabric}, {way.kind}",
        settings=settings,
        fabrics=(fabric,),
        shop=(shop,),
        cuts=tuple(cuts),
        strips=tuple(strips),
    )


def _cut_parts(node: Piecing) -> Iterator[tuple[tuple[Exact, Exact], Exact | None]]:
    """Width and length of each part as it is cut; of each strip as it is joined, with its shortest segment."""
    if isinstance(node, BackPart):
        yield (node.width, node.height) if node.place is None else node.place[2:], None
    elif node.strip:
        wide, long = sorted(size_of(node))
        yield (wide, long), min(max(part.width, part.height) for part in parts_of(node))
    else:
        for part in node.parts:
            yield from _cut_parts(part)


def _down(size: Exact) -> int:
    """Size of a part in whole ticks: a whole width is what the cloth has, so nothing may be added."""
    return size.__floor__()


@dataclass(frozen=True, slots=True, kw_only=True)
class Searched:
    """What the general solver needs for the panels of a way: length bought, beside what the table says."""

    way: Way
    bought: int
    result: Result


def with_search(
    answer: BackingAnswer, stop: Stop | None = None, most: int = 3
) -> tuple[Searched, ...]:
    """Ask the general solver for the panels of the thriftiest ways bought by length.

    It joins narrow strips from segments of any length that lie anyhow, so that it may need less. A search that is
    cut short may need more: then the way of the table stands.

    Parameters
    ----------
    stop : default Work(20_000), less than a second each
    most : int
        So many ways, thriftiest first.
    """
    from cutopt.solve.solver import solve

    out: list[Searched] = []
    for way in answer.ways:
        if len(out) == most:
            break
        try:
            job = as_job(way, answer)
        except Problem:
            continue
        result = solve(job, stop or Work(20_000), offers=False)
        if result.complete:
            out.append(
                Searched(
                    way=way,
                    bought=result.plan.totals.length_of(way.fabric),
                    result=result,
                )
            )
    return tuple(out)
