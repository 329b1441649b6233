"""Why a purchase cannot be smaller, in one sentence that a maker can check."""

from __future__ import annotations

from fractions import Fraction

from cutopt.lengths import CM, INCH, format_sale
from cutopt.solve.choices import Choice
from cutopt.solve.purchases import Argument, Purchase
from cutopt.solve.relaxed import WORTH_OF_SQUARE_INCH, Relaxed

_MOST_NAMED = 3


def reason(problem: Relaxed, argument: Argument, refuted: Purchase | None) -> str:
    """Say an argument.

    Parameters
    ----------
    refuted : Purchase or None
        For an argument from cutting: the purchase that it has shown to be too little.
    """
    names, several = _named(problem, argument)
    pile = f"the pile{_fabrics(problem, argument)}"
    if argument.kind == "count":
        copies = problem.model.items[problem.needs[argument.needs[0]].item].copies
        wanted, fits = f"{copies} of {names} {'is' if copies == 1 else 'are'} wanted", copies - argument.missing
        if not fits:
            return f"{wanted}, and no piece of {pile} is large enough for one"
        return f"{wanted}, and {pile} gives at most {fits}, even if nothing else is cut from it"
    if argument.kind == "area":
        asks = "ask" if several else "asks"
        return f"{names} {asks} for {_area(problem, argument.missing)} more cloth than {pile} has"
    if argument.kind == "shares":
        return f"too many pieces of {names} are too large to lie side by side"
    cloth = [pile] if problem.pile else []
    if refuted is not None and refuted.bought:
        cloth.append(f"{_bought(problem, refuted)} bought new")
    if not cloth:
        return f"there is no cloth on hand for {names}"
    return f"not all of {names} can be cut from {' and '.join(cloth)}"


def limits(problem: Relaxed, choice: Choice) -> str:
    """Say that a limit from each fabric allows less than is wanted."""
    need = problem.needs[choice.options[0].amounts[0][0]]
    fabrics = f"{len(choice.options)} fabrics have" if len(choice.options) > 1 else "one fabric has"
    each = f"at most {choice.options[0].cap} from each fabric"
    are = "is" if choice.total == 1 else "are"
    return f"{choice.total} of {need.name} {are} wanted, {each}, and only {fabrics} cloth for it"


def _named(problem: Relaxed, argument: Argument) -> tuple[str, bool]:
    """The rows of an argument, those of most worth first, and whether they are several."""
    needs = sorted(argument.needs, key=lambda k: -problem.needs[k].worth)
    rows = list(dict.fromkeys(problem.needs[k].item for k in needs))
    names = [problem.needs[problem.of_item[row][0]].name for row in rows[:_MOST_NAMED]]
    if len(rows) > _MOST_NAMED:
        names.append(f"{len(rows) - _MOST_NAMED} more" if len(rows) < len(problem.of_item) else "the rest")
    return _listed(names), len(names) > 1


def _listed(names: list[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def _fabrics(problem: Relaxed, argument: Argument) -> str:
    """Which fabrics of the pile are meant, where not all: " of oat"."""
    model = problem.model
    able = {model.sheets[s.sheet].fabric for s in problem.pile if any(problem.ways[s.ways][k] for k in argument.needs)}
    allowed = {f for k in argument.needs for f, turns in enumerate(model.items[problem.needs[k].item].turns) if turns}
    if len(allowed) == len(model.job.fabrics) or len(allowed) > _MOST_NAMED:
        return ""
    names = [model.job.fabrics[f].name for f in sorted(able or allowed)]
    return " of " + _listed(names)


def _area(problem: Relaxed, worth: int) -> str:
    """A worth by area as square inches or centimetres, rounded down."""
    square_inches = Fraction(worth, WORTH_OF_SQUARE_INCH)
    if problem.model.job.settings.unit == "in":
        return f"{int(square_inches)} square in"
    return f"{int(square_inches * INCH * INCH / (CM * CM))} square cm"


def _bought(problem: Relaxed, purchase: Purchase) -> str:
    unit, told = problem.model.job.settings.unit, []
    for s, copies in purchase.bought:
        source = problem.shop[s]
        name = problem.model.job.fabrics[problem.model.sheets[source.sheet].fabric].name
        told.append(
            f"{format_sale(source.sold, unit)} of {name}"
            if source.sold
            else f"{copies} piece{'s' * (copies > 1)} of {name}"
        )
    return _listed(told)
