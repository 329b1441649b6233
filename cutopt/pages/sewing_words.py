"""How a pieced back is sewn, in sentences: its seams, what comes off its blocks, what it is in a line. No page."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from cutopt.geometry import Number
from cutopt.lengths import so_many
from cutopt.pages.phrases import and_text, length_text
from cutopt.pages.runs import numbers_text, runs_text
from cutopt.piecing import name_of
from cutopt.plan import Side
from cutopt.sewn_back import LetteredPart, Portion, SewingStep, SewnBack

HOW_TOLD: Final = "A-C: what is sewn of A, B and C. Sizes: width first, raw edges included; if one is off, mend that seam first."
HOW_PRESSED: Final = (
    "Which way a seam is pressed is common practice, no source: to the side with fewer seams, else to the darker, else "
    "to the larger part; wide seams may be pressed open instead."
)
_BESIDE: Final = {
    "right": "to the right of",
    "left": "to the left of",
    "above": "above",
    "below": "below",
}
_TOWARDS: Final = {
    "right": "to the right",
    "left": "to the left",
    "above": "upwards",
    "below": "downwards",
}
_BACK: Final[dict[Side, Side]] = {
    "right": "left",
    "left": "right",
    "above": "below",
    "below": "above",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Sewing:
    """What is told in one sentence: one seam, or those of a row of parts alike; `bold` is what of it must be seen."""

    label: str
    text: str
    bold: str = ""


def sewing_of(back: SewnBack, unit: str) -> Iterator[Sewing]:
    """All seams of a back in the order of sewing."""
    every = [part.letter for part in back.parts]
    for steps in _rows(back):
        first, last = steps[0], steps[-1]
        seam = f"seam {length_text(first.seam, unit)}"
        numbers = numbers_text([step.n for step in steps])
        yield Sewing(
            label=f"{'seams' if len(steps) > 1 else 'seam'} {numbers}",
            text=f"{_joined(steps, every, unit)} {_given(back, last, unit)}: measure.",
            bold=seam if first.seam != usual_seam(back) else "",
        )


def _rows(back: SewnBack) -> list[list[SewingStep]]:
    """Its seams, those of a row of parts alike together."""
    parts = {part.letter: part for part in back.parts}
    rows: list[list[SewingStep]] = []
    for step in back.steps:
        if rows and _goes_on(rows[-1], step, parts):
            rows[-1].append(step)
        else:
            rows.append([step])
    return rows


def _goes_on(
    row: list[SewingStep], step: SewingStep, parts: dict[str, LetteredPart]
) -> bool:
    """Whether a seam only sets the next of parts alike to the end of a row of them."""
    first, last = row[0], row[-1]
    singles = (first.one, first.other, step.other)
    if any(each.seam is not None for each in singles) or step.one.seam != last.n:
        return False
    same = (first.side, first.seam, _way(first)) == (step.side, step.seam, _way(step))
    return same and len({_alike(parts[each.letters[0]]) for each in singles}) == 1


def _alike(part: LetteredPart) -> tuple[str, str, Number, Number]:
    """What parts that are cut alike have in common."""
    of = part.block.name if part.block is not None else ""
    return of, part.fabric, part.width, part.height


def _way(step: SewingStep) -> Side:
    """The way in which a seam is pressed."""
    if step.press == step.other:
        return step.side
    return _BACK[step.side]


def _joined(steps: list[SewingStep], every: Sequence[str], unit: str) -> str:
    """``Sew B to the right of A along the 41 1/2-in side, seam 1/2; press to A.``"""
    first = steps[0]
    beside = _BESIDE[first.side]
    side = f"the {length_text(first.length, unit)}-{unit}"
    seam = f"seam {length_text(first.seam, unit)}"
    one = runs_text(every, first.one.letters)
    if len(steps) == 1:
        other = runs_text(every, first.other.letters)
        return (
            f"Sew {other} {beside} {one} along {side} side, {seam}; press "
            f"{_pressed(first)}."
        )
    others = and_text([step.other.letters[0] for step in steps])
    return (
        f"Sew {others} one after the other {beside} {one}, all along {side} sides, "
        f"{seam}; press all {_TOWARDS[_way(first)]}."
    )


def _given(back: SewnBack, step: SewingStep, unit: str) -> str:
    size = size_text(step.width, step.height, unit)
    if step is back.steps[-1]:
        return f"Now the back is whole, {size} {unit}"
    return f"Now {size} {unit}"


def _pressed(step: SewingStep) -> str:
    """``to B``, or the way where that is more than a part."""
    if step.press.seam is None:
        return f"to {_only(step.press)}"
    return _TOWARDS[_way(step)]


def _only(portion: Portion) -> str:
    (letter,) = portion.letters
    return letter


def usual_seam(back: SewnBack) -> int:
    """The allowance of most seams of a back; of two as frequent the wider."""
    many = Counter(step.seam for step in back.steps)
    return max(many, key=lambda seam: (many[seam], seam))


def seams_text(back: SewnBack, unit: str) -> str:
    """Which seams are not as wide as the others; "" where all are alike.

    ``Mind the seams: 1/2 in, but seams 3 and 5-7 are 1/4 in (in bold).``
    """
    usual = usual_seam(back)
    others: dict[int, list[int]] = {}
    for step in back.steps:
        if step.seam != usual:
            others.setdefault(step.seam, []).append(step.n)
    if not others:
        return ""
    told = [
        f"{_seams(numbers)} {length_text(seam, unit)} {unit}"
        for seam, numbers in others.items()
    ]
    return (
        f"Mind the seams: {length_text(usual, unit)} {unit}, but {and_text(told)} "
        "(in bold)."
    )


def _seams(numbers: list[int]) -> str:
    """``seam 3 is``, ``seams 3 and 5-7 are``."""
    if len(numbers) == 1:
        return f"seam {numbers[0]} is"
    return f"seams {numbers_text(numbers)} are"


def size_text(width: Number, height: Number, unit: str) -> str:
    """``23 x 41 1/2``; a length that no ruler shows is told to the nearest mark.

    Parameters
    ----------
    width, height : int or Fraction
        Ticks.
    unit : {"in", "cm"}
    """
    return f"{length_text(width, unit)} x {length_text(height, unit)}"


def block_texts(back: SewnBack, unit: str) -> Iterator[tuple[str, str]]:
    """What is done to the blocks of a back before they are sewn in, those alike in one sentence; before it their letters."""
    alike: dict[tuple[str, Number, Number], list[LetteredPart]] = {}
    for part in back.blocks:
        assert part.block is not None
        key = (part.block.name, part.width, part.height)
        alike.setdefault(key, []).append(part)
    for parts in alike.values():
        letters = ", ".join(part.letter for part in parts)
        yield letters, _trimmed(parts, unit)


def _trimmed(parts: list[LetteredPart], unit: str) -> str:
    first = parts[0]
    block = first.block
    assert block is not None
    letters = and_text([part.letter for part in parts])
    sewn = size_text(first.width, first.height, unit)
    if len(parts) == 1:
        head = f"Block {letters} ({block.name}) is"
    else:
        head = f"Blocks {letters} ({block.name}) are each"
    off = (block.width - first.width, block.length - first.height)
    if not any(off):
        return f"{head} {sewn} {unit}: measure. Nothing comes off."
    there = size_text(block.width, block.length, unit)
    sides = ("left and right", "top and bottom")
    told = [
        f"{length_text(Fraction(much) / 2, unit)} each at {where}"
        for much, where in zip(off, sides, strict=True)
        if much
    ]
    return (
        f"{head} {there} {unit}: trim to {sewn}, {and_text(told)}, so that the middle "
        "stays in the middle."
    )


def back_text(back: SewnBack, unit: str) -> str:
    """``The back "B1": 44 x 52 in, pieced of 9 parts (3 of them spare blocks) with 8 seams``."""
    return f"{title_text(back, unit)}, {pieced_text(back)}"


def title_text(back: SewnBack, unit: str) -> str:
    """``The back "B1": 44 x 52 in``; one whose name says that it is a back needs no more."""
    size = size_text(back.width, back.height, unit)
    name = back.back.name
    called = f'back "{name}"'
    if name_of(back.back.key) == name:
        called = name
    return f"The {called}: {size} {unit}"


def pieced_text(back: SewnBack) -> str:
    """``pieced of 9 parts (3 of them spare blocks) with 8 seams``."""
    parts = len(back.parts)
    blocks = len(back.blocks)
    if parts == 1:
        return "in one part"
    of = ""
    if blocks == 1:
        of = " (one of them a spare block)"
    elif blocks:
        of = f" ({blocks} of them spare blocks)"
    return f"pieced of {parts} parts{of} with {so_many(len(back.steps), 'seam')}"


__all__ = [
    "HOW_PRESSED",
    "HOW_TOLD",
    "Sewing",
    "back_text",
    "block_texts",
    "pieced_text",
    "seams_text",
    "sewing_of",
    "size_text",
    "title_text",
    "usual_seam",
]
