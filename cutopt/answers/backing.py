"""Backing and batting to buy for a top: every way side by side, what to choose and why, what nearly fits.

The ways themselves are sums (:mod:`cutopt.quilt.backing`); here they become an answer that a notebook shows, and a
question that the general solver can be asked as well.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from cutopt import svg
from cutopt.errors import Problem
from cutopt.fabric import ByLength, Fabric, Offered, Piece
from cutopt.job import Job, Settings, answers_to
from cutopt.lengths import format_sale
from cutopt.quilt import batting as batting_sums
from cutopt.quilt import compare
from cutopt.quilt.backing import OnHand, Way, backing_ways
from cutopt.quilt.batting import BattingWay, batting_ways
from cutopt.quilt.compare import Choice, NearMiss, choices, near_misses, shift_clear_of
from cutopt.quilt.conventions import DEFAULT, Conventions
from cutopt.quilt.exact import Exact, exact
from cutopt.quilt.parts import whole_ticks
from cutopt.quilt.top import Needed, Top, backing_size, batting_size
from cutopt.result import Result
from cutopt.solve.stop import Stop, Work
from cutopt.wanted import Cut, Strip


@dataclass(frozen=True, slots=True, kw_only=True)
class BackingAnswer:
    """What to buy for a backing.

    `ways` are all, thriftiest first; `best` holds the cheapest and the one with the fewest seams, each with its
    reason (one alone where they are the same); `near` is what a little less overage would save.
    """

    need: Needed
    ways: tuple[Way, ...]
    best: tuple[Choice, ...]
    near: tuple[NearMiss, ...]
    notes: tuple[str, ...]
    how: Conventions
    shop: tuple[Offered, ...] = ()
    fabrics: tuple[Fabric, ...] = ()

    @property
    def head(self) -> tuple[str, ...]:
        """Headings of :attr:`rows`."""
        return compare.HEADER

    @property
    def rows(self) -> tuple[tuple[str, ...], ...]:
        """All ways as a table of text."""
        return compare.table(self.ways, self.how)

    @property
    def said(self) -> tuple[str, ...]:
        """What to know before the table, in sentences."""
        told = [f"The backing has to reach {self.how.size(self.need.width, self.need.length)}: {self.need.why}."]
        told += [recommended(choice, self.how) for choice in self.best]
        if not self.best:
            told.append("Nothing in this shop makes it whole: widen the choice of fabrics.")
        told += [f"Near miss: {miss.told}." for miss in self.near]
        return (*told, *self.notes)

    def _repr_html_(self) -> str:
        return svg.sheet("Backing to buy", svg.sentences(self.said), svg.table(self.head, self.rows, "All the ways"))


def recommended(choice: Choice, how: Conventions) -> str:
    """One sentence for a way to choose: what, how much, why, and whether it is tight."""
    way = choice.way
    row = compare.table([way], how)[0]
    money = f", {way.money}" if way.money is not None else ""
    bought = "nothing to buy" if not way.bought and not way.pieces else f"buy {row[4]}"
    told = f"{way.fabric}, {way.kind}: {bought}{money}, {_seams(way)}. It {choice.reason}"
    if choice.reason.startswith("fewest"):
        told = told.replace("It fewest seams", "Fewest seams")
    return told + (f". Tight: {way.tight}; measure first." if way.tight else ".")


def _seams(way: Way) -> str:
    if not way.seams + way.joins:
        return "no seam"
    told = f"{way.seams} seam{'s' if way.seams > 1 else ''}"
    return told + (f" and {way.joins} short one{'s' if way.joins > 1 else ''}" if way.joins else "")


def backing_to_buy(
    top: str | Top | Needed,
    shop: Job | Sequence[Offered],
    how: Conventions | None = None,
    fabrics: Sequence[Fabric] = (),
    on_hand: Sequence[Piece | OnHand] = (),
    upright: bool = False,
    words: Sequence[str] = (),
) -> BackingAnswer:
    """Every sensible way to piece a backing from what a shop sells.

    Parameters
    ----------
    top : "58 x 66", a :class:`~cutopt.quilt.top.Top`, or the size to reach
        The raw top as measured; several measurements, ``58, 57 3/4 x 66``, take the larger.
    shop : rows of a shop, or a job
        A job brings its fabrics (prints, shrinkage), seams and unit along.
    on_hand : pieces of the maker's own, used first
        Rectangles; what comes off ragged edges, or for a rough measure, is taken off.
    upright : bool
        A one-way print must stand up along the length of the quilt.
    words : fabrics or tags
        Look only at these.

    Raises
    ------
    Problem
        Where the size cannot be read, or nothing in the shop is meant.
    """
    rows, known, how = _shop_of(shop, fabrics, how, words)
    measured = Top.read(top, how) if isinstance(top, str) else top
    need = measured if isinstance(measured, Needed) else backing_size(measured, how)
    settings = shop.settings if isinstance(shop, Job) else Settings()
    hand = tuple(held for piece in on_hand for held in _held(piece, settings))
    ways, few = _to_be_had(backing_ways(need, rows, how, known, hand, upright), rows, how)
    best = choices(ways, how)
    notes = list(measured.out_of_square(how)) if isinstance(measured, Top) else []
    notes += [*few, *_middle(best, need, how)]
    near = near_misses(need, [row for row in rows if isinstance(row, ByLength)], how, known)
    return BackingAnswer(
        need=need, ways=ways, best=best, near=near, notes=tuple(notes), how=how, shop=rows, fabrics=known
    )


def _to_be_had(ways: Sequence[Way], rows: Sequence[Offered], how: Conventions) -> tuple[tuple[Way, ...], list[str]]:
    """The ways for which the shop has enough, and a sentence for each fabric that runs short."""
    most = {row.fabric: row.most for row in rows if isinstance(row, ByLength) and row.most is not None}
    short = [way for way in ways if not way.pieces and way.bought > most.get(way.fabric, way.bought)]
    names = dict.fromkeys(way.fabric for way in short)
    told = [f"{name}: the shop has {format_sale(most[name], how.unit)}; what takes more is left out." for name in names]
    return tuple(way for way in ways if way not in short), told


def _shop_of(
    shop: Job | Sequence[Offered], fabrics: Sequence[Fabric], how: Conventions | None, words: Sequence[str]
) -> tuple[tuple[Offered, ...], tuple[Fabric, ...], Conventions]:
    if isinstance(shop, Job):
        rows, known = shop.shop, tuple(fabrics) or shop.fabrics
        how = how or Conventions.of(shop.settings)
    else:
        rows, known, how = tuple(shop), tuple(fabrics), how or DEFAULT
    if words:
        by_name = {fabric.name: fabric for fabric in known}
        rows = tuple(
            row for row in rows
            if any(answers_to(by_name.get(row.fabric, Fabric(name=row.fabric)), word) for word in words)
        )  # fmt: skip
        if not rows:
            raise Problem("backing", f"the shop sells none of {', '.join(words)}", "add a row to shop.csv")
    return rows, known, how


def _held(piece: Piece | OnHand, settings: Settings) -> Sequence[OnHand]:
    """A piece of the pile as a rectangle that is safe to count on, one for each copy; none of what must stay."""
    if isinstance(piece, OnHand):
        return (piece,)
    if not piece.is_rectangle or piece.flaws or piece.wish in ("keep whole", "do not touch"):
        return ()
    off = 2 * ((settings.square_up if piece.edges == "raw" else 0) + (settings.about if piece.about else 0))
    width, length = piece.size[0] - off, piece.size[1] - off
    if min(width, length) <= 0:
        return ()
    return tuple(OnHand(name=piece.name, width=width, length=length) for _ in range(piece.count))


def _middle(best: Sequence[Choice], need: Needed, how: Conventions) -> list[str]:
    """What to say where a seam of a recommended way lies down the middle, and how far it can be shifted."""
    told = []
    for choice in best:
        way = choice.way
        width = need.width - 2 * need.overage[0] if way.run == "up" else need.length - 2 * need.overage[1]
        within = how.read("2 in")
        shift = shift_clear_of(way, need, [exact(width) / 2], within, how) if way.seams else exact(0)
        if shift is None:
            other = "a way with no seam in the middle is in the table" if way.seams == 1 else "shift it if you mind"
            told.append(f"{way.fabric}, {way.kind}: a seam lies down the middle of the quilt; {other}.")
        elif shift:
            side = "one side" if way.run == "up" else "one end"
            away = how.show(-shift if shift < 0 else shift)
            told.append(f"{way.fabric}, {way.kind}: shift it by {away} to {side}, and no seam lies in the middle.")
    return told


@dataclass(frozen=True, slots=True, kw_only=True)
class BattingAnswer:
    """What to buy for batting: all ways, safe ones first."""

    need: Needed
    ways: tuple[BattingWay, ...]
    how: Conventions

    @property
    def head(self) -> tuple[str, ...]:
        """Headings of :attr:`rows`."""
        return batting_sums.HEADER

    @property
    def rows(self) -> tuple[tuple[str, ...], ...]:
        """All ways as a table of text."""
        return batting_sums.table(self.ways, self.how)

    @property
    def said(self) -> tuple[str, ...]:
        """What to know before the table."""
        told = [f"The batting has to reach {self.how.size(self.need.width, self.need.length)}: {self.need.why}."]
        if not self.ways:
            return (*told, "Nothing here is large enough: join pieces, straight edges butted, with a wide zigzag.")
        first = self.ways[0]
        easy = min(self.ways, key=lambda way: (bool(way.tight), way.joins))
        said = "costs least" if first.money is not None else "is the smallest that is safe"
        if first.tight:
            said = f"is a tight fit: {first.tight}"
        told.append(f"{first.what}, {first.kind}: {said}.")
        if easy is not first and easy.joins < first.joins:
            told.append(f"{easy.what}, {easy.kind}: no join.")
        return tuple(told)

    def _repr_html_(self) -> str:
        return svg.sheet("Batting to buy", svg.sentences(self.said), svg.table(self.head, self.rows, "All the ways"))


def batting_to_buy(top: str | Top | Needed, shop: Sequence[Offered] = (), how: Conventions = DEFAULT) -> BattingAnswer:
    """Batting for a top, from what a shop sells; without a shop the usual packaged sizes (common practice)."""
    measured = Top.read(top, how) if isinstance(top, str) else top
    need = measured if isinstance(measured, Needed) else batting_size(measured, how)
    return BattingAnswer(need=need, ways=batting_ways(need, shop, how), how=how)


def as_job(way: Way, answer: BackingAnswer) -> Job:
    """A way as a job for the general solver: whole panels as cuts, strips of several segments as strips to join.

    Raises
    ------
    Problem
        Where the way takes cloth on hand or goods by the piece: then there is no length to compare.
    """
    offered = next((row for row in answer.shop if row.fabric == way.fabric and isinstance(row, ByLength)), None)
    if offered is None or way.pieces or way.from_hand or not way.complete:
        raise Problem("way", "it is not bought by length alone", "choose another")
    how = answer.how
    known = {fabric.name: fabric for fabric in answer.fabrics}
    fabric = replace(known.get(way.fabric, Fabric(name=way.fabric)), one_way="")
    settings = Settings() if how.unit == "in" else Settings.metric()
    settings = replace(settings, seam=how.seam, square_up_end=how.square_up_end)
    cuts, strips = [], []
    for number, panel in enumerate(way.panels, 1):
        width, length = _down(panel.width), whole_ticks(panel.length)
        if panel.segments > 1:
            strips.append(
                Strip(name=f"strip {number}", width=width, total_length=length, join="straight",
                      shortest=max(width, how.binding_shortest))
            )  # fmt: skip
        else:
            cuts.append(Cut(name=f"panel {number}", width=width, length=length))
    shop = replace(offered, price=None, most=None)
    return Job(
        name=f"backing of {way.fabric}, {way.kind}", settings=settings, fabrics=(fabric,), shop=(shop,),
        cuts=tuple(cuts), strips=tuple(strips),
    )  # fmt: skip


def _down(width: Exact) -> int:
    """Width of a panel in whole ticks: a whole width is what the cloth has, so nothing may be added."""
    return width.__floor__()


@dataclass(frozen=True, slots=True, kw_only=True)
class Searched:
    """What the general solver needs for the panels of a way: length bought, beside what the table says."""

    way: Way
    bought: int
    result: Result


def with_search(answer: BackingAnswer, stop: Stop | None = None, most: int = 3) -> tuple[Searched, ...]:
    """Ask the general solver for the panels of the thriftiest ways bought by length; it never buys more.

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
            out.append(Searched(way=way, bought=result.plan.totals.bought.get(way.fabric, 0), result=result))
    return tuple(out)
