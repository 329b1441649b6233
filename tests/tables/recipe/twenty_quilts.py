"""Twenty whole quilts with the sums that a quilter does on paper (`twenty_quilts.toml`, where they are explained)."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from fractions import Fraction
from itertools import chain
from pathlib import Path
from typing import Final

_FILE: Final = Path(__file__).with_name("twenty_quilts.toml")
_LINE: Final = re.compile(r"(\w+): (.+): (\d+) strips? of (\S+(?: \S+/\S+)?), (.+)")
_BACK: Final = re.compile(r"(.+ x .+): (\d+) of (.+), (.+)")


def number(text: str) -> Fraction:
    """``2 1/2``, ``52.93``."""
    return sum(map(Fraction, text.split()), start=Fraction(0))


def sides(text: str) -> tuple[Fraction, Fraction]:
    """``2 1/2 x 6 1/2``."""
    one, other = text.split(" x ")
    return number(one), number(other)


@dataclass(frozen=True, slots=True, kw_only=True)
class Trade:
    """The numbers of an inch pattern, or of a metric one."""

    usable: Fraction
    seam: Fraction
    back_seam: Fraction
    whole: Fraction
    step: Fraction


INCH_TRADE: Final = Trade(
    usable=Fraction(42),
    seam=Fraction(1, 4),
    back_seam=Fraction(1, 2),
    whole=Fraction(36),
    step=Fraction(1, 8),
)
METRIC_TRADE: Final = Trade(
    usable=Fraction(106),
    seam=Fraction(3, 4),
    back_seam=Fraction(3, 2),
    whole=Fraction(100),
    step=Fraction(1, 10),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """A line of the cutting list of a pattern: parts of one fabric, and the strips that they are cut from."""

    fabric: str
    parts: tuple[tuple[int, Fraction, Fraction], ...]
    strips: int
    height: Fraction
    how: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Back:
    """The size a backing has to have, and the widths of cloth that it is joined from."""

    size: tuple[Fraction, Fraction]
    widths: int
    each: Fraction
    buy: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class ByHand:
    """A quilt in sentences, and what a quilter works out for it on paper."""

    name: str
    said: str
    trade: Trade
    finished: tuple[Fraction, Fraction]
    lines: tuple[Line, ...]
    buy: dict[str, Fraction]
    back: Back


def _line(text: str) -> Line:
    match = _LINE.fullmatch(text)
    assert match, text
    parts = []
    for part in match[2].split(" and "):
        count, _, size = part.partition(" of ")
        parts.append((int(count), *sides(size)))
    return Line(
        fabric=match[1],
        parts=tuple(parts),
        strips=int(match[3]),
        height=number(match[4]),
        how=match[5],
    )


def _back(text: str) -> Back:
    match = _BACK.fullmatch(text)
    assert match, text
    return Back(
        size=sides(match[1]),
        widths=int(match[2]),
        each=number(match[3]),
        buy=number(match[4]),
    )


def _twenty() -> tuple[ByHand, ...]:
    told = tomllib.loads(_FILE.read_text(encoding="utf-8"))["quilt"]
    return tuple(
        ByHand(
            name=each["name"],
            said=each["said"],
            trade=METRIC_TRADE if each.get("metric") else INCH_TRADE,
            finished=sides(each["finished"]),
            lines=tuple(map(_line, each["cut"])),
            buy={fabric: number(buy) for fabric, buy in each["buy"].items()},
            back=_back(each["back"]),
        )
        for each in told
    )


TWENTY: Final = _twenty()
FABRICS: Final = tuple(dict.fromkeys(chain.from_iterable(q.buy for q in TWENTY)))
