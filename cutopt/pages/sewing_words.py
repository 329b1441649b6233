"""How a pieced back is sewn, in sentences: its seams, what comes off its blocks, what it is in a line. No page."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Final

from cutopt.geometry import Number
from cutopt.lengths import so_many
from cutopt.pages.phrases import and_text, length_text
from cutopt.piecing import name_of
from cutopt.sewn_back import LetteredPart, Portion, SewingStep, SewnBack

HOW_PRESSED: Final = (
    "Sizes as the back hangs, width first, from raw edge to raw edge. Where a size comes out otherwise, mend that seam "
    "before the next. Which way a seam is pressed is common practice, no source: to the side with fewer seams, else to "
    "the darker, else to the larger part; wide seams may be pressed open instead."
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
_BACK: Final = {"right": "left", "left": "right", "above": "below", "below": "above"}


def seam_text(step: SewingStep, unit: str, *, last: bool) -> str:
    """``Sew B to the right of A along the 41 1/2-in side, seam 1/2; press to A. Now 23 x 41 1/2 in: measure.``

    Parameters
    ----------
    step : SewingStep
    unit : {"in", "cm"}
    last : bool
        Whether the back is whole after it.
    """
    long = length_text(step.length, unit)
    seam = length_text(step.seam, unit)
    size = size_text(step.width, step.height, unit)
    if last:
        gives = f"Now the back is whole, {size} {unit}"
    else:
        gives = f"Now {size} {unit}"
    return (
        f"Sew {_called(step.other)} {_BESIDE[step.side]} {_called(step.one)} along the "
        f"{long}-{unit} side, seam {seam}; press {_pressed(step)}. {gives}: measure."
    )


def _called(portion: Portion) -> str:
    """``B``, or ``what seam 3 gave``."""
    if portion.seam is None:
        return portion.letters[0]
    return f"what seam {portion.seam} gave"


def _pressed(step: SewingStep) -> str:
    """``to B``, or the way where that is more than a part."""
    if step.press.seam is None:
        return f"to {step.press.letters[0]}"
    if step.press == step.other:
        return _TOWARDS[step.side]
    return _TOWARDS[_BACK[step.side]]


def size_text(width: Number, height: Number, unit: str) -> str:
    """``23 x 41 1/2``; a length that no ruler shows is told to the nearest mark.

    Parameters
    ----------
    width, height : int or Fraction
        Ticks.
    unit : {"in", "cm"}
    """
    return f"{length_text(width, unit)} x {length_text(height, unit)}"


def block_texts(back: SewnBack, unit: str) -> Iterator[str]:
    """What is done to the blocks of a back before they are sewn in, those alike in one sentence."""
    alike: dict[tuple[str, Number, Number], list[LetteredPart]] = {}
    for part in back.blocks:
        assert part.block is not None
        key = (part.block.name, part.width, part.height)
        alike.setdefault(key, []).append(part)
    for parts in alike.values():
        yield _trimmed(parts, unit)


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
    """``The back B1: 44 x 52 in, pieced of 9 parts (3 of them spare blocks) with 8 seams``."""
    return f"{title_text(back, unit)}, {pieced_text(back)}"


def title_text(back: SewnBack, unit: str) -> str:
    """``The back B1: 44 x 52 in``."""
    size = size_text(back.width, back.height, unit)
    return f"The {name_of(back.back.key)}: {size} {unit}"


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
    "back_text",
    "block_texts",
    "pieced_text",
    "seam_text",
    "size_text",
    "title_text",
]
