"""The letters of pictures and pages, and what stands for a name that they cannot show.

DejaVu Sans comes along with matplotlib. What it lacks is looked for in the fonts of the machine. A name that no font
has, or that is too long for a drawing, gets another one that no other thing of the job has: two fabrics never look
alike. While a job is printed (:func:`names_of`) every text that is set goes through :func:`shown`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path
from typing import Final

import matplotlib as mpl

from cutopt.job import Job
from cutopt.signs import letter, visible

FAMILY: Final = "DejaVu Sans"
CUT_OFF: Final = "\N{HORIZONTAL ELLIPSIS}"  # where the end of a text is left out
# signs of a name in drawings and lists, by what it names
_LONGEST: Final = {"quilt": 160, "": 48}
UNKNOWN: Final = "\N{WHITE SQUARE}"  # for letters that no font here has
_MOST_FONTS: Final = 3  # of the machine beside our own


@dataclass(frozen=True, slots=True, kw_only=True)
class StandIn:
    """A name as it was typed, how it is printed, and what it names, as a kind.

    Kinds are "fabric", "piece", "cut", "strip", "back", "block" and "quilt".
    """

    kind: str
    typed: str
    printed: str
    place: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Names:
    """The names of a job that print in another way; those that print as they are typed are not listed."""

    stand_ins: tuple[StandIn, ...] = ()
    by_length: tuple[tuple[str, str], ...] = field(default=(), repr=False)


_NOTHING: Final = Names()
_current: ContextVar[Names] = ContextVar(
    "names that print in another way", default=_NOTHING
)


@contextmanager
def names_of(job: Job) -> Iterator[Names]:
    """While this lasts, texts are set with the names under which this job is printed."""
    names = stand_ins(job)
    token = _current.set(names)
    try:
        yield names
    finally:
        _current.reset(token)


def shown(text: str) -> str:
    """A text as it is set, line by line: printed names, no control signs, a square for letters that are not there."""
    if text.isascii() and text.isprintable() and not _current.get().by_length:
        return text
    text = _renamed(text, _current.get().by_length)
    return "\n".join(_with_squares(visible(line)) for line in text.split("\n"))


def _with_squares(line: str) -> str:
    """A line in which a run of letters that no font has is one square."""
    known = letters_for(line)
    out: list[str] = []
    for sign in line:
        if sign in known:
            out.append(sign)
        elif not out or out[-1] != UNKNOWN:
            out.append(UNKNOWN)
    return "".join(out)


def stand_ins(job: Job) -> Names:
    """The names that a job is printed with where they are not those that were typed.

    Pieces that are called after their fabric stay so: ``fabric A-2``.
    """
    named = {
        "fabric": [fabric.name for fabric in job.fabrics],
        "piece": [piece.name for piece in job.pieces],
        "cut": [row.name for row in job.cuts],
        "strip": [row.name for row in job.strips],
        "back": [back.name for back in job.backs],
        "block": [block.name for block in job.spare_blocks],
        "quilt": [job.name],
    }
    taken = {
        name.lower()
        for kind, names in named.items()
        for name in names
        if _prints(kind, name)
    }
    found: dict[str, StandIn] = {}
    for kind, names in named.items():
        for place, name in enumerate(names):
            if name in found or _prints(kind, name):
                continue
            known = _renamed(
                name, [(each.typed, each.printed) for each in found.values()]
            )
            if known != name and _prints(kind, known) and known.lower() not in taken:
                taken.add(known.lower())
                continue
            printed = _printed(kind, known, place, taken)
            taken.add(printed.lower())
            found[name] = StandIn(kind=kind, typed=name, printed=printed, place=place)
    pairs = [(each.typed, each.printed) for each in found.values()]
    pairs.sort(key=lambda pair: -len(pair[0]))
    return Names(stand_ins=tuple(found.values()), by_length=tuple(pairs))


def _renamed(text: str, pairs: Iterable[tuple[str, str]]) -> str:
    for typed, printed in pairs:
        text = text.replace(typed, printed)
    return text


def _longest(kind: str) -> int:
    return _LONGEST.get(kind, _LONGEST[""])


def _prints(kind: str, name: str) -> bool:
    """Whether a name is set as it was typed."""
    return (
        len(name) <= _longest(kind)
        and name == visible(name)
        and letters_for(name).issuperset(name)
    )


def _printed(kind: str, name: str, place: int, taken: set[str]) -> str:
    """What can be shown of a name, if it tells it apart; else its kind and a letter, which the list explains."""
    known = letters_for(name)
    rest = " ".join("".join(sign for sign in visible(name) if sign in known).split())
    if len(rest) > _longest(kind):
        rest = cut_off(rest, _longest(kind) - 1)
    if any(sign.isalpha() for sign in rest) and rest.lower() not in taken:
        return rest
    if kind == "quilt":
        told = "my quilt"
    else:
        told = f"{kind} {letter(place)}"
    while told.lower() in taken:
        told += "*"
    return told


def cut_off(text: str, length: int) -> str:
    """The beginning of a text, with a sign that it goes on."""
    return f"{text[:length].rstrip()}{CUT_OFF}"


def fitted(text: str, fits: Callable[[str], bool]) -> str:
    """A text, or as much of its beginning as fits."""
    if fits(text):
        return text
    good = 0
    bad = len(text)
    while bad - good > 1:
        middle = (good + bad) // 2
        if fits(cut_off(text, middle)):
            good = middle
        else:
            bad = middle
    return cut_off(text, good)


@dataclass(frozen=True, slots=True, kw_only=True)
class Letters:
    """A font file, the family that it belongs to, and the signs that it has."""

    family: str
    path: Path
    signs: frozenset[str] = field(repr=False)


def own_font(weight: str = "") -> Path:
    """The file of our own letters; `weight` "Bold" for the bold ones."""
    if weight:
        name = f"DejaVuSans-{weight}.ttf"
    else:
        name = "DejaVuSans.ttf"
    return Path(mpl.get_data_path()) / "fonts" / "ttf" / name


@lru_cache(maxsize=1)
def own_signs() -> frozenset[str]:
    """The signs of our own letters, in both weights."""
    return _signs_of(own_font()) & _signs_of(own_font("Bold"))


def _signs_of(path: Path) -> frozenset[str]:
    from fontTools.ttLib import TTFont

    with TTFont(path, fontNumber=0, lazy=True) as font:
        if "glyf" not in font:
            return frozenset()  # outlines of another kind, which a page cannot carry
        return frozenset(map(chr, font.getBestCmap() or ()))


def letters_for(text: str) -> frozenset[str]:
    """The signs of a text that can be set, with our own letters or with others of the machine."""
    wanted = frozenset(text)
    own = own_signs()
    if wanted <= own:
        return wanted
    there = set(wanted & own)
    for font in _fonts_for(wanted - own):
        there |= wanted & font.signs
    return frozenset(there)


_more_fonts: list[Letters] = []
_looked_for: set[str] = set()


def _fonts_for(signs: Iterable[str]) -> list[Letters]:
    """The fonts of the machine that are used beside our own; looks for more where a sign is met for the first time."""
    missing = {sign for sign in signs if sign not in _looked_for and ord(sign) > 127}
    _looked_for.update(missing)
    for font in _more_fonts:
        missing -= font.signs
    while missing and len(_more_fonts) < _MOST_FONTS:
        best = max(
            _on_this_machine(), key=lambda font: len(missing & font.signs), default=None
        )
        if best is None or not missing & best.signs:
            break
        _more_fonts.append(best)
        missing -= best.signs
    return _more_fonts


@lru_cache(maxsize=1)
def _on_this_machine() -> tuple[Letters, ...]:
    """The fonts of the machine that a page can carry, by the path of their file."""
    from matplotlib import font_manager

    return tuple(filter(None, map(_readable, sorted(font_manager.findSystemFonts()))))


def _readable(path: str) -> Letters | None:
    """A font with all that is needed of it; None where it cannot be read or carried."""
    from fontTools.ttLib import TTLibError
    from matplotlib import font_manager
    from reportlab.pdfbase.ttfonts import TTFError, TTFont

    try:
        signs = _signs_of(Path(path))
        if not signs:
            return None
        TTFont("probe", path)
        font_manager.fontManager.addfont(path)
        family = font_manager.get_font(path).family_name
    except (
        OSError,
        TTLibError,
        TTFError,
        RuntimeError,
        ValueError,
        KeyError,
        AssertionError,
    ):
        return None  # broken, or of a kind that pages cannot carry
    return Letters(family=family, path=Path(path), signs=signs)


def families() -> list[str]:
    """The families that a picture is lettered with, our own first."""
    return [FAMILY, *(font.family for font in _more_fonts)]


def others_for(sign: str) -> int | None:
    """The number, from 0, of the font of the machine that a sign is set in; None for our own letters."""
    if sign in own_signs():
        return None
    return next(
        (number for number, font in enumerate(_more_fonts) if sign in font.signs), None
    )


def other_fonts() -> tuple[Path, ...]:
    """The files of the fonts of the machine that are in use, in the order of their numbers."""
    return tuple(font.path for font in _more_fonts)


__all__ = [
    "FAMILY",
    "Names",
    "StandIn",
    "cut_off",
    "families",
    "fitted",
    "letters_for",
    "names_of",
    "other_fonts",
    "others_for",
    "own_font",
    "shown",
    "stand_ins",
]
