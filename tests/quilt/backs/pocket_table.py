"""The table of backings of a pocket guide, and ways to ask for one of its lines.

Overages and seam are common practice, no source.
"""

from __future__ import annotations

from decimal import Decimal

from cutopt.fabric import ByLength
from cutopt.lengths import YARD
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.top import Needed, Top, backing_size
from tests.quilt.sums import inch

HOW = Conventions(overage_from="finished", square_up_end=0)


def needed(quilt: str, overage: str, how: Conventions = HOW) -> Needed:
    from dataclasses import replace

    told = replace(how, back_overage=inch(overage))
    w, h = quilt.split(" x ")
    return backing_size(Top.finished(w, h, told), told)


def bolt(usable: str, name: str = "cotton", price: str | None = None) -> ByLength:
    return ByLength(
        fabric=name,
        usable_width=inch(usable),
        sold_by=YARD // 8,
        price=Decimal(price) if price else None,
    )


Line = tuple[str, str, str, tuple[int, int], tuple[int, int], str, str]


TABLE: list[
    Line
] = [  # quilt, overage, usable; seams up: widths, inches; across: widths, inches; best to 1/8 and to 1/4 yd
    ("36 x 44", "4", "42", (2, 104), (2, 88), "2 1/2", "2 1/2"),
    ("36 x 44", "2", "42", (1, 48), (2, 80), "1 3/8", "1 1/2"),
    ("36 x 44", "4", "40", (2, 104), (2, 88), "2 1/2", "2 1/2"),
    ("40 x 50", "4", "42", (2, 116), (2, 96), "2 3/4", "2 3/4"),
    ("40 x 50", "2", "42", (2, 108), (2, 88), "2 1/2", "2 1/2"),
    ("40 x 50", "4", "40", (2, 116), (2, 96), "2 3/4", "2 3/4"),
    ("50 x 60", "4", "42", (2, 136), (2, 116), "3 1/4", "3 1/4"),
    ("50 x 60", "2", "42", (2, 128), (2, 108), "3", "3"),
    ("50 x 60", "4", "40", (2, 136), (2, 116), "3 1/4", "3 1/4"),
    ("60 x 80", "4", "42", (2, 176), (3, 204), "5", "5"),
    ("60 x 80", "2", "42", (2, 168), (3, 192), "4 3/4", "4 3/4"),
    ("60 x 80", "4", "40", (2, 176), (3, 204), "5", "5"),
    ("70 x 90", "4", "42", (2, 196), (3, 234), "5 1/2", "5 1/2"),
    ("70 x 90", "2", "42", (2, 188), (3, 222), "5 1/4", "5 1/4"),
    ("70 x 90", "4", "40", (2, 196), (3, 234), "5 1/2", "5 1/2"),
    ("84 x 92", "4", "42", (3, 300), (3, 276), "7 3/4", "7 3/4"),
    ("84 x 92", "2", "42", (3, 288), (3, 264), "7 3/8", "7 1/2"),
    ("84 x 92", "4", "40", (3, 300), (3, 276), "7 3/4", "7 3/4"),
    ("90 x 108", "4", "42", (3, 348), (3, 294), "8 1/4", "8 1/4"),
    ("90 x 108", "2", "42", (3, 336), (3, 282), "7 7/8", "8"),
    ("90 x 108", "4", "40", (3, 348), (3, 294), "8 1/4", "8 1/4"),
    ("108 x 108", "4", "42", (3, 348), (3, 348), "9 3/4", "9 3/4"),
    ("108 x 108", "2", "42", (3, 336), (3, 336), "9 3/8", "9 1/2"),
    ("108 x 108", "4", "40", (3, 348), (3, 348), "9 3/4", "9 3/4"),
]


IDS = [f"{line[0]}, overage {line[1]}, width {line[2]}: identity" for line in TABLE]
