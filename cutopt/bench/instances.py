"""Benchmark instances: `<family>.json` files, and each instance as a job of the maker's solver."""

from __future__ import annotations

import json
import os
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from typing import Any

from cutopt.errors import Problem
from cutopt.fabric import ByLength, ByPiece, Fabric
from cutopt.job import Job, Settings
from cutopt.lengths import INCH, METRE, MM, YARD
from cutopt.wanted import Cut, Grain

UNIT = INCH // 8  # ticks of one whole number of an instance, fewer where a sheet would be larger than any cloth
FABRIC = "cloth"
OBJECTIVES = ("max value", "min stock", "min length")
_KEYS = ("name", "stock", "items", "objective", "known")


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """A sheet w x h, `count` of it (None: as many as wanted) at `cost`; h is None for a roll."""

    w: int
    h: int | None
    count: int | None
    cost: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Wish:
    """A rectangle w x h, at most (or exactly) `most` times, None for any number; `value` of one."""

    w: int
    h: int
    most: int | None
    value: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Instance:
    """One instance of the format of ``data/bench/README.md``."""

    family: str
    name: str
    stock: tuple[Stock, ...]
    items: tuple[Wish, ...]
    rotate: bool
    objective: str
    known: Mapping[str, Any]

    @property
    def better(self) -> int:
        """1 where more is better, -1 where less is."""
        return 1 if self.objective == "max value" else -1

    @property
    def unit(self) -> int:
        """Ticks of one whole number."""
        return min(UNIT, 90 * METRE // max(max(stock.w, stock.h or 0) for stock in self.stock))


def default_folder() -> Path:
    """``CUTOPT_BENCH_DATA``, else ``data/bench`` here or beside the package."""
    told = os.environ.get("CUTOPT_BENCH_DATA")
    places = [Path(told)] if told else [Path("data/bench"), Path(__file__).parents[2] / "data" / "bench"]
    return next((place for place in places if place.is_dir()), places[0])


def load(folder: Path, family: str | None = None) -> list[Instance]:
    """All instances of a folder, or of one family.

    Raises
    ------
    Problem
        Where there is no such file, or an entry is not of the format.
    """
    files = sorted(folder.glob("*.json")) if family is None else [folder / f"{family}.json"]
    if not files or not files[0].exists():
        raise Problem("data", f'no instances in "{folder}"', "name a folder of <family>.json files")
    return [_instance(path.stem, row) for path in files for row in _rows(path)]


def _rows(path: Path) -> list[dict[str, Any]]:
    try:
        rows = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError) as error:
        raise Problem("data", f"{path} cannot be read: {error}", "check the file") from error
    if not isinstance(rows, list):
        raise Problem("data", f"{path} is not a list of instances", "see data/bench/README.md")
    return rows


def _instance(family: str, row: Mapping[str, Any]) -> Instance:
    missing = [key for key in _KEYS if key not in row]
    if missing or row["objective"] not in OBJECTIVES:
        raise Problem(
            "data", f"an instance of {family} lacks {', '.join(missing) or 'an objective'}",
            "see data/bench/README.md",
        )  # fmt: skip
    stock = tuple(Stock(w=s["w"], h=s["h"], count=s.get("count"), cost=s.get("cost") or 0) for s in row["stock"])
    items = tuple(
        Wish(w=i["w"], h=i["h"], most=i.get("max"), value=i.get("value", i["w"] * i["h"])) for i in row["items"]
    )
    return Instance(
        family=family, name=row["name"], stock=stock, items=items, rotate=bool(row.get("rotate")),
        objective=row["objective"], known=row["known"],
    )  # fmt: skip


def job_of(instance: Instance, counts: Iterable[int]) -> Job:
    """The instance as a job: `counts[k]` copies of item k, sheets sold by the piece or a roll by the unit.

    A price of 1 is a cost of 1 (or a unit of length). Nothing is lost at an edge.
    """
    grain: Grain = "any" if instance.rotate else "along"
    copies, unit = list(counts), instance.unit
    cuts = tuple(
        Cut(name=f"i{k}", width=item.w * unit, length=item.h * unit, count=copies[k], grain=grain)
        for k, item in enumerate(instance.items)
        if copies[k]
    )
    priced = instance.objective != "max value"
    shop = tuple(_offered(stock, sum(copies), unit, priced=priced) for stock in instance.stock)
    settings = Settings(grid=max(unit, MM), square_up_end=0)
    return Job(name=instance.name, settings=settings, fabrics=(Fabric(name=FABRIC),), shop=shop, cuts=cuts)


def _offered(stock: Stock, most: int, unit: int, *, priced: bool) -> ByLength | ByPiece:
    if stock.h is None:
        return ByLength(
            fabric=FABRIC, usable_width=stock.w * unit, sold_by=unit, price=Decimal(YARD) / Decimal(unit)
        )  # fmt: skip
    return ByPiece(
        fabric=FABRIC, each_width=stock.w * unit, each_length=stock.h * unit,
        most=min(most, stock.count) if stock.count else most, price=Decimal(stock.cost if priced else 1),
    )  # fmt: skip
