"""Why a purchase cannot be smaller, as a sentence for the maker."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from math import ceil, floor

from cutopt.fabric_words import standing, stands_up
from cutopt.lengths import CM, INCH, MM, format_length, format_sale, so_many
from cutopt.solve.bounds.cheapest_purchase import cheapest_for
from cutopt.solve.bounds.claims import Claim
from cutopt.solve.bounds.reasons import Reason
from cutopt.solve.bounds.relaxed import Relaxed, RelaxedCloth
from cutopt.solve.model.fabric_choices import FabricChoice

_MOST_NAMED = 3
# sizes in eighths of an inch have areas of six decimals
_MOST_PLACES = 7
# lengths are told in these steps where that is near enough
_COARSE = {"in": INCH // 8, "cm": MM}
# lengths that no mark of a ruler meets, as those of cloth that shrinks, are told by these
_MARKS = {"in": INCH // 16, "cm": MM}


def told(problem: Relaxed, reason: Reason) -> str:
    """The reason in a maker's words, to stand after "because"; "" where nothing need be bought."""
    if reason.kind == "redone":
        return "; ".join(_Telling(problem, claim).sentence() for claim in reason.claims)
    if reason.kind == "limit" and reason.choice is not None:
        return _limits(problem, reason.choice)
    if reason.kind == "weighed":
        return _weighed(problem, possible=reason.possible)
    return ""


def _weighed(problem: Relaxed, *, possible: bool) -> str:
    how = "all ways to cut it were weighed against each other"
    if possible:
        return f"{how}, and none takes less; there is no shorter reason"
    names = _listed(
        _few([problem.needs[needs[0]].name for needs in problem.of_item.values()])
    )
    if problem.pile:
        cloth = ["the pile"]
    else:
        cloth = []
    if problem.shop:
        cloth.append("all that the shop sells")
    if not cloth:
        return _nowhere(problem, list(problem.of_item))
    return f"not all of {names} can be cut from {' and '.join(cloth)}: {how}; there is no shorter reason"


def _limits(problem: Relaxed, choice: FabricChoice) -> str:
    """Say that a limit from each fabric allows less than is wanted."""
    need = problem.needs[choice.options[0].amounts[0][0]]
    if len(choice.options) > 1:
        fabrics = f"{len(choice.options)} fabrics have"
    else:
        fabrics = "one fabric has"
    each = f"at most {choice.options[0].cap} from each fabric"
    if choice.total == 1:
        are = "is"
    else:
        are = "are"
    return f"{choice.total} of {need.name} {are} wanted, {each}, and only {fabrics} cloth for it"


def _few(names: Sequence[str]) -> list[str]:
    more = len(names) - _MOST_NAMED
    if more <= 1:
        return list(names)
    return [*names[:_MOST_NAMED], f"{more} more"]


def _nowhere(problem: Relaxed, numbers: Sequence[int]) -> str:
    """That no cloth holds these items of the model: those of them that come from the fabrics of the first one."""
    job = problem.model.job
    items = [problem.model.items[number] for number in numbers]
    names = job.allowed(items[0].row)
    items = [item for item in items if job.allowed(item.row) == names]
    rows = _listed(_few([f"{item.copies} of {item.row.name}" for item in items]))
    cloth = _any_of(names)
    pieces = [piece for piece in job.pieces if piece.fabric in names]
    if not pieces and not any(offered.fabric in names for offered in job.shop):
        return f"there is no {cloth} on hand or on sale for {rows}"
    fabrics = [fabric for fabric in job.fabrics if fabric.name in names]
    bound = any(item.row.grain != "any" or standing(item.row) for item in items)
    bound |= any(stands_up(item.row, one) for item in items for one in fabrics)
    if bound:
        lying = ", lying as asked for"
    else:
        lying = ""
    if any(piece.wish == "do not touch" for piece in pieces):
        free = " that may be cut"
    else:
        free = ""
    return f"no {cloth} on hand or on sale{free} is large enough for {rows}{lying}"


def _any_of(names: Sequence[str]) -> str:
    """``pear, plum or oat``; of many, or of none, just ``cloth``."""
    if not 0 < len(names) <= _MOST_NAMED:
        return "cloth"
    *others, last = names
    if others:
        return f"{', '.join(others)} or {last}"
    return last


def _listed(names: Sequence[str]) -> str:
    if len(names) == 1:
        return names[0]
    return f"{', '.join(names[:-1])} and {names[-1]}"


class _Telling:
    """One claim in words: what is asked, what the pile has of it, what the rest takes of the cloth on sale."""

    def __init__(self, problem: Relaxed, claim: Claim) -> None:
        self.problem = problem
        self.claim = claim
        self.unit = problem.model.job.settings.unit
        self.offers: list[list[RelaxedCloth]] = []
        for offer in by_offer(problem):
            of_use = [problem.shop[s] for s in offer if claim.values[s]]
            if of_use:
                self.offers.append(of_use)
        self._figures_that_force()

    def sentence(self) -> str:
        """All of it."""
        if not self.claim.fabrics:
            return _nowhere(self.problem, [asked.item for asked in self.claim.asked])
        return f"{self._asked()}{self._pile()}; {self._shop()}"

    # -- what is asked and at hand -----------------------------------------------------------------

    def _rows(self) -> str:
        return _listed(
            _few([f"{asked.copies} of {asked.name}" for asked in self.claim.asked])
        )

    def _asked(self) -> str:
        claim = self.claim
        rows = self._rows()
        if claim.counted == "area":
            alone = len(claim.asked) == 1 and claim.asked[0].copies == 1
            return f"{rows} {'takes' if alone else 'take'} {self._area(self.wanted)}"
        if claim.counted == "patches" and {asked.each for asked in claim.asked} == {1}:
            if len(claim.asked) == 1:
                smaller = ""
            else:
                smaller = f", none smaller than {self._patch()}"
            return f"{rows} {'is' if claim.wanted == 1 else 'are'} wanted{smaller}"
        each = _listed(
            _few(
                [
                    f"{self._much(asked.each)} in each {asked.name}"
                    for asked in claim.asked
                ]
            )
        )
        return f"{rows} come to {self._much(claim.wanted)} {self._size()} ({each})"

    def _pile(self) -> str:
        claim = self.claim
        fabrics = self._fabrics()
        if claim.pile:
            missing = self._much(claim.missing)
            has = self._much(claim.pile)
            if claim.counted == "area":
                missing = self._area(self.wanted - self.pile)
                has = self._area(self.pile)
            if claim.weighed:
                gives = f"gives at most {has} however it is cut"
            else:
                gives = f"has at most {has}"
            if claim.fill[0].partly:
                filled = " (of each piece only what they can fill)"
            else:
                filled = ""
            return f", and the pile{fabrics} {gives}{filled}, so {missing} {self._are()} missing"
        if any(
            self.problem.model.sheets[source.sheet].fabric in claim.fabrics
            for source in self.problem.pile
        ):
            return f", and the pile{fabrics} has no cloth for {self._those()}"
        return ""

    def _are(self) -> str:
        if self.claim.missing == 1 and self.claim.counted == "patches":
            return "is"
        return "are"

    def _those(self) -> str:
        if self.claim.wanted == 1:
            return "it"
        return "them"

    def _fabrics(self) -> str:
        """Which fabrics of the pile are meant, where not all: " of oat"."""
        names = [
            self.problem.model.job.fabrics[f].name for f in sorted(self.claim.fabrics)
        ]
        every = len(names) == len(self.problem.model.job.fabrics)
        if every or len(names) > _MOST_NAMED:
            return ""
        return f" of {_listed(names)}"

    # -- what is on sale ---------------------------------------------------------------------------

    def _shop(self) -> str:
        if not self.offers:
            return "nothing that is on sale would do"
        if len(self.offers) == 1:
            (offer,) = self.offers
            if offer[0].sold:
                return self._lengths(offer)
            return self._pieces(offer[0])
        gives = "; ".join(self._a_little(offer[-1]) for offer in self.offers)
        if self.claim.bought is None:
            return f"{gives}; all that the shop sells is too little for that"
        cheapest = _listed(
            [self._bought(self.problem.shop[s], n) for s, n in self.claim.bought.bought]
        )
        return f"{gives}; the cheapest on sale that gives so much is {cheapest}"

    def _lengths(self, offer: Sequence[RelaxedCloth]) -> str:
        """The only offer, lengths of a fabric: how long it has to be, and why the next shorter one is too little."""
        takes = f"{self._side_by_side(offer[0])} {self._needed(offer)}"
        if self.claim.bought is None:
            return f"{takes}, and {self._sale(offer[-1])}, the most that is sold, {self._leaves(offer[-1])}"
        ((s, _),) = self.claim.bought.bought
        told = self._sale(self.problem.shop[s])
        shorter = [source for source in offer if source.l < self.problem.shop[s].l]
        if not shorter:
            return f"{takes}, and the shop sells no less than {told}"
        less = f"{self._sale(shorter[-1])}, the next shorter length on sale, {self._leaves(shorter[-1])}"
        return f"{takes}, so {told}, as {less}"

    def _leaves(self, source: RelaxedCloth) -> str:
        """The usable length of a length on sale, as far as parts one above the other can fill it."""
        filled = self.claim.fill[1].of(source.l)
        leaves = f"leaves {self._length(source.l)}"
        if self.claim.along is not None or filled == source.l:
            return leaves
        return f"{leaves}, of which they can fill {self._length(filled)}"

    def _side_by_side(self, source: RelaxedCloth) -> str:
        """What a line across the cloth holds."""
        claim = self.claim
        width = f"{self._length(source.w)} wide {self._fabric(source)}"
        filled = claim.fill[0].of(source.w)
        if claim.across is not None:
            most = int(filled // claim.across)
            return f"on {width} at most {most} of {self._length(claim.across, up=True)} lie side by side:"
        if filled == source.w:
            return f"on {width}"
        return f"side by side on {width} they can fill {self._length(filled)}:"

    def _needed(self, offer: Sequence[RelaxedCloth]) -> str:
        """The length that is missing."""
        claim = self.claim
        filled = claim.fill[0].of(offer[0].w)
        if claim.across is None:
            lanes = filled
        else:
            lanes = int(filled // claim.across)
        if claim.along is None:
            return f"that is at least {self._about(Fraction(claim.missing, lanes), offer)} of length"
        rows = -(-claim.missing // lanes)
        length = self._length(rows * claim.along)
        return f"that is {so_many(rows, 'row')} of {self._length(claim.along, up=True)}, {length} of length"

    def _about(self, length: Fraction, offer: Sequence[RelaxedCloth]) -> str:
        """A length rounded down, as far as it is then still more than what the next shorter one on sale leaves."""
        step = _COARSE[self.unit]
        coarse = int(length // step) * step
        reached = (self.claim.fill[1].of(source.l) for source in offer)
        shorter = max((reach for reach in reached if reach < length), default=0)
        return self._length(coarse if coarse > shorter else length)

    def _pieces(self, source: RelaxedCloth) -> str:
        claim = self.claim
        each = f"{self._a_little(source)}, so {so_many(-(-claim.missing // self._value(source)), 'piece')}"
        if claim.bought:
            return each
        return f"{each}, and the shop sells {source.copies}"

    def _a_little(self, source: RelaxedCloth) -> str:
        """What an offer gives: side by side, or by the piece."""
        if not source.sold:
            size = f"{self._length(source.w)} x {self._length(source.l)}"
            return f"a piece of {self._fabric(source)}, {size}, gives at most {self._much(self._value(source))}"
        if self.claim.across is not None or self.claim.fill[0].of(source.w) < source.w:
            beside = self._side_by_side(source).removesuffix(":")
            if self.claim.counted != "patches":
                return beside
            return f"{beside}, in rows of {self._length(self.claim.along, up=True)}"
        return f"{self._fabric(source)} is {self._length(source.w)} wide"

    def _bought(self, source: RelaxedCloth, copies: int) -> str:
        name = self._fabric(source)
        if source.sold:
            return f"{self._sale(source)} of {name}"
        return f"{so_many(copies, 'piece')} of {name}"

    def _value(self, source: RelaxedCloth) -> int:
        return next(
            value
            for other, value in zip(self.problem.shop, self.claim.values, strict=True)
            if other is source
        )

    # -- figures -----------------------------------------------------------------------------------

    def _much(self, count: int) -> str:
        """So much of what the claim counts."""
        counted = self.claim.counted
        if counted == "area":
            return self._area(self._in_figures(count, up=True))
        if counted == "patches":
            plain = {asked.each for asked in self.claim.asked} == {1}
            if plain:
                return str(count)
            return f"{count} patch{'es' * (count != 1)}"
        return f"{self._length(count)} of {'strips' if counted == 'length' else 'rows'}"

    def _figures_that_force(self) -> None:
        """Find with how few decimals areas can be told so that what is told still forces the amount."""
        argument = self.claim.argument(self.problem)
        for self.places in range(_MOST_PLACES):
            self.wanted = self._in_figures(self.claim.wanted)
            self.pile = self._in_figures(self.claim.pile, up=True)
            missing = (self.wanted - self.pile) * self._square // 10**self.places
            wanted = replace(argument.wanted, base=missing, least=missing, most=missing)
            bought = cheapest_for(self.problem, replace(argument, wanted=wanted))
            if (bought and bought.cost) == (self.claim.bought and self.claim.cost):
                return

    @property
    def _square(self) -> int:
        """Square ticks of what areas are told in."""
        if self.unit == "in":
            return INCH * INCH
        return CM * CM

    def _in_figures(self, square: int, *, up: bool = False) -> int:
        """An area in the last decimal that is told."""
        scaled: int = square * 10**self.places
        if up:
            return -(-scaled // self._square)
        return scaled // self._square

    def _area(self, figures: int) -> str:
        shown = f"{Decimal(figures).scaleb(-self.places):f}"
        if self.places:
            shown = shown.rstrip("0").rstrip(".")
        return f"{shown} square {self.unit}"

    def _size(self) -> str:
        """The size of the patches; strips have a width only, rows a height."""
        claim = self.claim
        if claim.counted == "length":
            return f"{self._length(claim.across, up=True)} wide"
        if claim.counted == "width":
            return f"{self._length(claim.along, up=True)} high"
        return f"of {self._patch()}"

    def _patch(self) -> str:
        return f"{format_length(self.claim.across or 1, self.unit)} x {self._length(self.claim.along, up=True)}"

    def _length(self, ticks: Fraction | int | None, *, up: bool = False) -> str:
        """A length; of one between two marks of a ruler the lower is told, `up` the upper.

        Cloth is told smaller and parts are told larger, so that what is told of them is never more than is so.
        """
        told = format_length(ticks or 0, self.unit, mark=True)
        if not told.startswith("≈"):
            return told
        marks = Fraction(ticks or 0) / _MARKS[self.unit]
        whole = ceil(marks) if up else floor(marks)
        return format_length(whole * _MARKS[self.unit], self.unit, mark=True)

    def _sale(self, source: RelaxedCloth) -> str:
        return format_sale(source.sold, self.unit)

    def _fabric(self, source: RelaxedCloth) -> str:
        return self.problem.model.job.fabrics[
            self.problem.model.sheets[source.sheet].fabric
        ].name


def by_offer(problem: Relaxed) -> list[list[int]]:
    """Sources of the shop (by number) of each offer: lengths of one bolt, or one kind of piece."""
    offers: dict[int, list[int]] = {}
    for s, source in enumerate(problem.shop):
        offers.setdefault(source.offer, []).append(s)
    return list(offers.values())
