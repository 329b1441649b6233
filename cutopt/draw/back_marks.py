"""The marks on a pieced back: a letter and words on each part, a number in a circle on each seam."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from cutopt.draw.labels import Area, Labels, Spot, spots_in
from cutopt.draw.looks import SMALLEST_TEXT

_LETTERS: Final = (30.0, 24.0, 18.0, 14.0, 11.0, SMALLEST_TEXT)  # points
_WORDS: Final = 9.0
_ALONG: Final = (0.5, 0.38, 0.62, 0.25, 0.75, 0.14, 0.86, 0.06, 0.94)


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """What stands on a part: its letter, its finished size, and what it is of."""

    letter: str
    size: str
    of: str

    @property
    def both(self) -> str:
        """Size and what it is of, one below the other."""
        return f"{self.size}\n{self.of}"


def number_on(
    labels: Labels, number: int, ends: tuple[Spot, Spot], *, short: bool
) -> bool:
    """Set the number of a seam in a circle on it; tells whether it found room.

    Parameters
    ----------
    labels : Labels
    number : int
    ends : two pairs of pixels
        Of the seam.
    short : bool
        Of a short one it stands at an end, and is small, so that the letters beside it have room.
    """
    (x1, y1), (x2, y2) = ends
    shares, size, pad = _ALONG, _WORDS, 2.0
    if short:
        shares, size, pad = _ALONG[::-1], SMALLEST_TEXT, 0.5
    spots = [(x1 + (x2 - x1) * t, y1 + (y2 - y1) * t) for t in shares]
    return labels.set(
        str(number), spots, size=size, weight="bold", frame="circle", pad=pad
    )


def mark_in(labels: Labels, words: Words, area: Area) -> tuple[bool, bool]:
    """Set letter and words of a part in one block where there is room, else as they find some.

    Parameters
    ----------
    labels : Labels
    words : Words
    area : area in pixels
        The part.

    Returns
    -------
    two of bool
        Whether the letter found room, and whether the words did.
    """
    for told in (words.both, words.size):
        for points in _LETTERS[:-1]:
            if _in_one(labels, words.letter, told, points, area):
                return True, True
    is_lettered = _letter(labels, words.letter, area)
    tries = [(words.both, 0), (words.size, 0), (words.both, 90), (words.size, 90)]
    spots = spots_in(area)
    for told, turn in tries:
        if labels.set(told, spots, turn=turn, inside=area, frame="plain"):
            return is_lettered, True
    return is_lettered, False


def _in_one(labels: Labels, letter: str, told: str, points: float, area: Area) -> bool:
    """Set a letter of so many points with words below it, if both find room so."""
    wide, high = labels.size(letter, points, weight="bold")
    if _is_too_wide(wide, area):
        return False
    across, up = labels.size(told, _WORDS)
    half = max(wide, across) / 2 + 2, (high + up) / 2 + 4
    for x, y in spots_in(area):
        box = x - half[0], y - half[1], x + half[0], y + half[1]
        if _is_within(box, area) and labels.free(box):
            top = [(x, box[3] - 1 - high / 2)]
            low = [(x, box[1] + 1 + up / 2)]
            labels.set(letter, top, size=points, weight="bold", frame="plain")
            labels.set(told, low, size=_WORDS, frame="plain")
            return True
    return False


def _letter(labels: Labels, letter: str, area: Area) -> bool:
    """Set a letter alone, as large as there is room for."""
    spots = spots_in(area)
    for points in _LETTERS:
        wide = labels.size(letter, points, weight="bold")[0]
        last = points == _LETTERS[-1]
        if _is_too_wide(wide, area) and not last:
            continue
        pad = 0.5 if last else 1.0
        style = {"size": points, "inside": area, "pad": pad}
        if labels.set(letter, spots, weight="bold", frame="plain", **style):  # type: ignore[arg-type]
            return True
    return False


def _is_too_wide(wide: float, area: Area) -> bool:
    """Whether a letter would fill a part from side to side."""
    return 1.8 * wide > area[2] - area[0]


def _is_within(box: Area, area: Area) -> bool:
    low = area[0] <= box[0] and area[1] <= box[1]
    return low and box[2] <= area[2] and box[3] <= area[3]


__all__ = ["Words", "mark_in", "number_on"]
