"""How sure a plan is, in plain sentences: why none can buy less, what is the best there is, what is open."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Final

from cutopt.lengths import UNITS, format_sale, parse_number
from cutopt.pages.phrases import and_text
from cutopt.plan import BUYING_LEVELS, CUTS_LEVEL, LEFT_OUT_LEVEL, SHORT_LEVEL, Level
from cutopt.result import Result

_NOTHING: Final = ("0", "0.00")
_LEVELS: Final = {"spare": "spare cloth"}
_ENDED: Final = {
    "time": "the time was up",
    "work": "the work allowed was done",
    "interrupted": "it was stopped",
}
_OPEN: Final = {
    SHORT_LEVEL: "what is short",
    LEFT_OUT_LEVEL: "what is left out",
    "money": "the price",
    CUTS_LEVEL: "the number of cuts",
}


def how_sure(result: Result) -> list[str]:
    """Why no plan can buy less, and for each level whether it is the best there is."""
    levels = list(result.levels)
    out = []
    if levels and levels[0].name == SHORT_LEVEL:
        out += _lacking(result, levels.pop(0))
    if levels and levels[0].name in BUYING_LEVELS:
        out.append(_buying(result, levels.pop(0)))
    elif result.because:
        out.append(_sentence(result.because))
    out += [
        _level(level) for level in levels if level.proved or level.name != CUTS_LEVEL
    ]
    return [*out, *_ended(result)]


def _ended(result: Result) -> Iterator[str]:
    """Why the search ended, and what is still open then."""
    if result.stopped == "quiet":
        yield "The search ended by itself: it found nothing better any more."
    elif result.stopped != "proved":
        still = [
            _OPEN.get(level.name, "what to buy")
            for level in result.levels
            if not level.proved
        ]
        if still:
            more = f"; more time might better {and_text(still)}"
        else:
            more = ""
        yield f"The search ended because {_ENDED[result.stopped]}{more}."


def _lacking(result: Result, level: Level) -> list[str]:
    """``Every plan lacks at least 2 of what must be cut; this one lacks 3.``"""
    if level.proved:
        told = f"Every plan lacks at least {level.bound} of what must be cut, and this one lacks just that many."
    elif level.bound in _NOTHING:
        told = f"This plan lacks {level.value} of what must be cut; whether one lacks fewer is open."
    else:
        told = f"Every plan lacks at least {level.bound} of what must be cut; this one lacks {level.value}."
    return [told, *([_sentence(result.because)] if result.because else [])]


def _buying(result: Result, level: Level) -> str:
    """``No plan can pay less than $7.25, because ...``; of a plan that is short, of those that lack no more."""
    verb, value, bound = _amounts(result, level)
    buys = any(source.bought for source in result.plan.sources)
    lacking = any(other.name == SHORT_LEVEL for other in result.levels)
    if result.plan.lacking and not buys:
        return "Something is short, so the least that a whole plan would take is not known."
    if level.proved and not buys:
        return "This plan buys nothing: it is the cheapest there is."
    if result.because and not lacking:
        because = f", because {result.because.rstrip('.')}"
    else:
        because = ""
    if lacking:
        plan = "plan that lacks no more"
    else:
        plan = "plan"
    if level.proved:
        if level.name == "money":
            best = "it is the cheapest there is"
        else:
            best = "it is the least there is"
        return f"No {plan} can {verb} less than {value}{because}. This plan takes just that: {best}."
    # something is short
    if level.value == level.bound or (not result.complete and level.bound in _NOTHING):
        return "Something is short, so the least that a whole plan would take is not known."
    known = f"No {plan} can {verb} less than {bound}{because}."
    return f"{known} This plan takes {value}; whether one in between exists is open."


def _amounts(result: Result, level: Level) -> tuple[str, str, str]:
    """``pay``, with sums of money, or ``buy``, with lengths as a shop sells them: value and bound of a level."""
    if level.name == "money":
        sign = result.job.settings.currency
        return "pay", f"{sign}{level.value}", f"{sign}{level.bound}"
    unit = result.job.settings.unit
    sizes = (parse_number(text) or Fraction(0) for text in (level.value, level.bound))
    value, bound = (format_sale(int(size * UNITS[unit]), unit) for size in sizes)
    return "buy", value, bound


def _level(level: Level) -> str:
    name = _LEVELS.get(level.name, level.name).capitalize()
    if level.value in _NOTHING and level.proved:
        return f"{name}: none."
    if level.proved:
        return f"{name}: {level.value}; no plan does better."
    if level.bound in _NOTHING:
        known = ""
    else:
        known = f" No plan can do better than {level.bound}."
    return f"{name}: {level.value}.{known} Whether a plan does better than this one is open."


def _sentence(text: str) -> str:
    plain = text.strip()
    return plain[:1].upper() + plain[1:] + ("" if plain.endswith((".", "!")) else ".")
