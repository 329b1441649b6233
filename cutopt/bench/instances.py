"""Benchmark instances: `<family>.json` files, and each instance as a job of the maker's solver."""

from __future__ import annotations

import json
import os
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from pathlib import Path
from typing import Any

from cutopt.errors import Problem
from cutopt.fabric import ByLength, ByPiece, Fabric
from cutopt.job import Job
from cutopt.lengths import INCH, METRE, MM, YARD
from cutopt.settings import Settings
from cutopt.wanted import Cut, Grain

# ticks of one whole number of an instance, fewer where a sheet would be larger than any cloth
UNIT = INCH // 8
FABRIC = "cloth"
# of anything that a shop sells
HIGHEST_PRICE = 100_000
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
        if self.objective == "max value":
            return 1
        return -1

    @property
    def price(self) -> Decimal:
        """The price of a cost of 1, so small where costs are high that a shop could ask for it."""
        costs = [stock.cost for stock in self.stock if stock.h is not None]
        dearest = max(
            [*costs, *(YARD // self.unit for stock in self.stock if stock.h is None)]
        )
        if dearest <= HIGHEST_PRICE:
            return Decimal(1)
        return Decimal("0.01")

    @property
    def unit(self) -> int:
        """Ticks of one whole number."""
        return min(
            UNIT, 90 * METRE // max(max(stock.w, stock.h or 0) for stock in self.stock)
        )


def default_folder() -> Path:
    """``CUTOPT_BENCH_DATA``, else ``data/bench`` here or beside the package."""
    told = os.environ.get("CUTOPT_BENCH_DATA")
    if told:
        places = [Path(told)]
    else:
        places = [Path("data/bench"), Path(__file__).parents[2] / "data" / "bench"]
    return next((place for place in places if place.is_dir()), places[0])


def load(folder: Path, family: str | None = None) -> list[Instance]:
    """All instances of a folder, or of one family.

    Raises
    ------
    Problem
        Where there is no such file, or an entry is not of the format.
    """
    if family is None:
        files = sorted(folder.glob("*.json"))
    else:
        files = [folder / f"{family}.json"]
    if not files or not files[0].exists():
        raise Problem(
            "data",
            f'no instances in "{folder}"',
            "name a folder of <family>.json files",
        )
    return [instance_of(path.stem, row) for path in files for row in _rows(path)]


def _rows(path: Path) -> list[dict[str, Any]]:
    try:
        rows = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError) as error:
        raise Problem(
            "data", f"{path} cannot be read: {error}", "check the file"
        ) from error
    if not isinstance(rows, list):
        raise Problem(
            "data", f"{path} is not a list of instances", "see data/bench/README.md"
        )
    return rows


def instance_of(family: str, row: Mapping[str, Any]) -> Instance:
    """An entry of a file.

    Raises
    ------
    Problem
        Where it is not of the format, or asks for what makes no sense.
    """
    missing = [key for key in _KEYS if key not in row]
    if missing or row["objective"] not in OBJECTIVES:
        raise Problem(
            "data",
            f"an instance of {family} lacks {', '.join(missing) or 'an objective'}",
            "see data/bench/README.md",
        )
    stock = tuple(
        Stock(w=s["w"], h=s["h"], count=s.get("count"), cost=s.get("cost") or 0)
        for s in row["stock"]
    )
    if not row["stock"] or not row["items"]:
        raise Problem(
            "data",
            f"{row['name']} has no stock or no items",
            "see data/bench/README.md",
        )
    # else a sheet's cost is not looked at
    counts = row["objective"] == "min stock"
    if counts and any((s.get("cost") or 0) > 100 * HIGHEST_PRICE for s in row["stock"]):
        what = f"a sheet of {row['name']} costs more than {100 * HIGHEST_PRICE}"
        raise Problem("data", what, "give the costs in larger units, such as thousands")
    if row["objective"] != "max value" and not all(
        i.get("max") is not None for i in row["items"]
    ):
        what = f"an item of {row['name']} has no number (max)"
        raise Problem(
            "data",
            what,
            "say how many of it are wanted; only where value counts may it be any number",
        )
    items = tuple(
        Wish(
            w=i["w"], h=i["h"], most=i.get("max"), value=i.get("value", i["w"] * i["h"])
        )
        for i in row["items"]
    )
    return Instance(
        family=family,
        name=row["name"],
        stock=stock,
        items=items,
        rotate=bool(row.get("rotate")),
        objective=row["objective"],
        known=row["known"],
    )


def job_of(instance: Instance, counts: Iterable[int]) -> Job:
    """The instance as a job: `counts[k]` copies of item k, sheets sold by the piece or a roll by the unit.

    A cost of 1 (or a unit of length) has the price of the instance. Nothing is lost at an edge. Where nothing is
    wanted, item 0 may be left out.
    """
    copies = list(counts)
    unit = instance.unit
    wanted = [(k, count) for k, count in enumerate(copies) if count]
    cuts = tuple(_cut(instance, k, count) for k, count in wanted)
    # a job wants something: one part that need not be cut
    if not wanted:
        cuts = (replace(_cut(instance, 0, 1), importance="nice"),)
    shop = tuple(
        _offered(instance, stock, sum(copies))
        for stock in instance.stock
        # of which there is none
        if stock.count != 0
    )
    settings = Settings(grid=max(unit, MM), square_up_end=0)
    return Job(
        name=instance.name,
        settings=settings,
        fabrics=(Fabric(name=FABRIC),),
        shop=shop,
        cuts=cuts,
    )


def _cut(instance: Instance, k: int, count: int) -> Cut:
    unit = instance.unit
    item = instance.items[k]
    grain: Grain = "any" if instance.rotate else "along"
    return Cut(
        name=f"i{k}",
        width=item.w * unit,
        length=item.h * unit,
        count=count,
        grain=grain,
    )


def _offered(instance: Instance, stock: Stock, most: int) -> ByLength | ByPiece:
    unit = instance.unit
    if stock.h is None:
        price = instance.price * Decimal(YARD) / Decimal(unit)
        return ByLength(
            fabric=FABRIC, usable_width=stock.w * unit, sold_by=unit, price=price
        )
    return ByPiece(
        fabric=FABRIC,
        each_width=stock.w * unit,
        each_length=stock.h * unit,
        most=max(1, most if stock.count is None else min(most, stock.count)),
        price=Decimal(1) if instance.better > 0 else stock.cost * instance.price,
    )
