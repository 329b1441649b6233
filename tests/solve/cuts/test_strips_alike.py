"""Segments that are cut already are sewn so that a strip is of one fabric and lies one way, where that can be."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from cutopt.solve.cuts.strips_alike import Segment, sort_out


def segments(told: str) -> list[Segment]:
    """``m40 r20-``: of fabric m, 40 long; of fabric r, 20 long, turned."""
    return [
        Segment(
            part=f"{told}.{n}",
            long=int(each[1:].rstrip("-")),
            fabric=ord(each[0]),
            turned=each.endswith("-"),
        )
        for n, each in enumerate(told.split())
    ]


def kinds(strip: Sequence[Segment]) -> set[tuple[str, bool]]:
    return {(chr(segment.fabric), segment.turned) for segment in strip}


@pytest.mark.parametrize(
    ("one", "other", "found"),
    [
        ("m40 m40 r40 r40", "m40 r40 m40 r40", [{("m", False)}, {("r", False)}]),
        ("m40 m40-", "m40 m40-", [{("m", False)}, {("m", True)}]),
        (
            "m40 r40-",
            "m40- r40",
            [{("m", False), ("m", True)}, {("r", False), ("r", True)}],
        ),
        (
            "m60 r20",
            "m10 r70",
            [{("m", False), ("r", False)}] * 2,
        ),  # 60 and 10 are no 80
        ("m60 r30", "m30 r60", [{("m", False)}, {("r", False)}]),
    ],
)
def test_segments_change_places(
    one: str, other: str, found: list[set[tuple[str, bool]]]
) -> None:
    strips = [segments(one), segments(other)]
    before = sorted(segment for strip in strips for segment in strip)
    sort_out(strips, lambda strip: sum(segment.long for segment in strip) >= 80)
    assert sorted(segment for strip in strips for segment in strip) == before
    assert sorted(map(sorted, map(kinds, strips))) == sorted(map(sorted, found))
