"""One line of a pile in words: a leftover, or several alike.

The grammar; the order of words is free::

    line    = [name ":"] {count | form | fabric | size | word | less | flaw | aside | ", note" ...}     # a comment
              (several of them, with commas or "and" between, where each has its size: see several.py)
    count   = 4 | 2x | x4 | two, twelve (before a form) | a dozen | a pair of | 4 of them | 4 @
    form    = strip(s) | square(s) | half square(s) | triangle(s) | piece(s), scrap(s), the rest of ...   [of]
    bought  = fat quarter(s) | fat eighth(s) | charm square(s) | layer square(s) | strip bundle of 40
            | 1/2 yd | 1 m | half yard | a yard and a half | 1 yd 9 in   [off the bolt]
    fabric  = any words; in double quotes where it has words or figures of this grammar in it: "raw silk"
    size    = length x length, length by length, length wide x length long, length wide ... length long, length x WOF
              (across x along the selvage; one length for squares and half squares; none for what is bought so)
    less    = less length x length [corner] | with a length x length corner missing | ... notch in the top left
    word    = cut | raw | pinked | washed | unwashed | about | grain unknown | use first | keep whole | do not touch
              | with selvage, or one of the `ways_to_say.py` these
    flaw    = (stain | hole | tear | flaw) length x length (at x y | in the top left corner)
    aside   = from ... | bought ... | left over from ...     (up to a comma; kept in the note)

Every word is used or told: one that could be the form or a part of the fabric's name is asked back. Examples::

    pear 11 x 7                         a rectangle 11 across and 7 along the selvage
    4 strips bark 2 1/2 x 38            four alike, also: 4 bark strips 2 1/2 x 38
    oat 20 x 14 less 7 x 4              an L: the upper right corner is missing
    20 squares mist 5 cut               true edges, nothing comes off (also where nothing is said)
    half square plum 14                 a right triangle with two sides of 14, the right angle lower left
    navy 18 x 30 about, raw             measured roughly, ragged edges
    3 fat quarters plum                 of the usual size, which is a setting
    1/2 yd oat                          a length of the whole usable width, its ends not squared up
    oat-3: oat 9 x 9                    a name of its own, which stays when lines above it go
    pear 12 x 15, stain 3 x 2 at 4 5    a flaw 3 across and 2 along, its lower left corner at 4, 5

A length is any that :func:`cutopt.lengths.parse_length` reads.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import Final

from cutopt.errors import Problem
from cutopt.fabric import Edges, Outline, Piece, Washed, Wish, counted, named
from cutopt.lengths import down, exact_length, parse_length
from cutopt.precuts import PINKED
from cutopt.tables.pile.asked_back import (
    NotUnderstood,
    a_comma,
    feet,
    three_numbers,
    two_said,
    unread,
)
from cutopt.tables.pile.flaws import FLAWS, Flaw, flaw_in
from cutopt.tables.pile.missing_corners import rectangle_less
from cutopt.tables.pile.phrases import FORMS
from cutopt.tables.pile.said import Said
from cutopt.tables.pile.said_lengths import SIDE, in_figures
from cutopt.tables.pile.stock import Stock
from cutopt.tables.pile.words_used import said_in
from cutopt.tables.rows.odd_sizes import refuse_odd_size

_WISHES: Final[tuple[Wish, ...]] = ("use first", "keep whole", "do not touch")
_EDGES: Final[dict[str, Edges]] = {
    "raw": "raw",
    "cut": "true",
    "pinked": "pinked",
    "off the bolt": "raw ends",
}
_WASHED: Final[tuple[Washed, ...]] = ("washed", "unwashed")
_SQUARES: Final = ("square", "half square")
_NOTE = re.compile(
    r'((?:(?<!\S)"(?:[^"]|"")*"(?!\S)|.)*?),\s*note\s+(.*)', re.IGNORECASE
)
__all__ = ["FORMS", "PileLine"]


@dataclass(slots=True)
class PileLine:
    """One line while it is read.

    Parameters
    ----------
    text : str
        Without comment and name.
    stock : Stock
        What is known beside the line: the unit, sizes of precuts, widths of cloth.
    """

    text: str
    stock: Stock
    fabric: str = ""
    form: str = "piece"
    count: int = 1
    width: int = 0
    length: int = 0
    edges: Edges = "true"
    less: list[tuple[str, int, int]] = field(default_factory=list)
    flaws: list[Flaw] = field(default_factory=list)
    words: set[str] = field(default_factory=set)
    note: str = ""

    def read(self) -> None:
        """Take the line apart.

        Raises
        ------
        Problem
            What cannot be read in it, and what to write.
        """
        a_comma(self.text)
        feet(self.text)
        three_numbers(self.text)
        if re.match(r"[-−–]\s*[\d.]", self.text):
            raise unread(self.text, "a number below 0 is in it")
        said, self.note = without_note(self.text)
        kept: list[str] = []
        for clause in _clauses(said):
            flaw = flaw_in(clause, self.stock.unit)
            if flaw:
                self.flaws.append(flaw[0])
                clause = flaw[1]
            if clause.lower().startswith(FLAWS):
                raise NotUnderstood(self.text, clause, corners=bool(self.less))
            if clause:
                kept.append(clause)
        body = ", ".join(kept)
        self._take(said_in(self.text, body, self.stock))

    def _take(self, used: Said) -> None:
        """What the words of the line say, as values."""
        self.fabric = used.fabric
        named("fabric", self.fabric)
        self.form = used.form or "piece"
        self.count = used.count
        counted("count", self.count)
        self.words = used.words
        self._sized(used)
        for across, along, corner in used.less:
            where = (corner or "top right").lower()
            self.less.append((where, self._ticks(across), self._ticks(along)))
        self.edges = self._edges(used)
        self.note = "; ".join(part for part in (*used.notes, self.note) if part)

    def _sized(self, used: Said) -> None:
        if used.size:
            first, second = used.size
            self.width, self.length = self._ticks(first), self._ticks(second)
            texts = (first, second)
        elif used.whole_width:
            self.width = self.stock.usable(self.fabric)
            if used.wide:
                self.width = self._ticks(used.wide)
            if used.half_width:
                self.width //= 2
            self.length = self._ticks(used.whole_width)
            # widths of the shop are asked about there
            texts = (used.wide or '1"', used.whole_width)
        else:
            self.width, self.length = self.stock.precuts.of(used.precut)
            return
        if self.form in _SQUARES and self.width != self.length:
            raise unread(self.text, "a square has one size", form="square")
        refuse_odd_size("size", texts, (self.width, self.length), self.stock.unit)

    def _edges(self, used: Said) -> Edges:
        """The edges that are said, else those that cloth of the kind usually has."""
        said = [word for word in _EDGES if word in self.words]
        if len(said) > 1:
            raise two_said(self.text, said)
        if said:
            return _EDGES[said[0]]
        if used.precut in PINKED:
            return "pinked"
        if used.whole_width and not used.across:
            if self.less:
                raise self._ends_to_square_up()
            return "raw ends"
        return "true"

    def _ends_to_square_up(self) -> Problem:
        """The problem of a length from the bolt of which a corner is missing."""
        unit = self.stock.unit
        size = " x ".join(
            exact_length(side, unit) for side in (self.width, self.length)
        )
        what = "a corner is missing of a length whose ends are as the shop cut them"
        corners = "".join(
            f" less {exact_length(across, unit)} x {exact_length(along, unit)} {where}"
            for where, across, along in self.less
        )
        mend = f"{self.count} {self.fabric} {size}{corners}, with its size squared up"
        return unread(self.text, what, mend)

    def _ticks(self, text: str) -> int:
        return down(parse_length(in_figures(text), self.stock.unit, field="size"))

    def piece(self, name: str, fabric: str) -> Piece:
        """The piece that the line tells of.

        Raises
        ------
        Problem
            Where words of the line contradict each other.
        """
        wishes = [wish for wish in _WISHES if wish in self.words]
        if len(wishes) > 1:
            clash = " and ".join(sorted(wishes))
            raise Problem("", f'"{self.text}" says both {clash}', "keep one of the two")
        return Piece(
            name=name,
            fabric=fabric,
            outline=self._outline(),
            count=self.count,
            flaws=tuple(flaw.on(self.width, self.length) for flaw in self.flaws),
            edges=self.edges,
            grain_known="grain unknown" not in self.words,
            about="about" in self.words,
            washed=self._washed(),
            wish=wishes[0] if wishes else "",
            note=self.note,
        )

    def _washed(self) -> Washed:
        said = [word for word in _WASHED if word in self.words]
        if len(said) > 1:
            raise two_said(self.text, said)
        return said[0] if said else ""

    def _outline(self) -> Outline:
        if self.form in ("half square", "triangle"):
            if self.less:
                raise Problem(
                    "less",
                    f'"{self.text}" takes a corner from a triangle',
                    "give its outline in pieces.csv",
                )
            return ((0, 0), (self.width, 0), (0, self.length))
        return rectangle_less(self.width, self.length, self.less)


def without_note(text: str) -> tuple[str, str]:
    """A line without its note, and the note as it was written."""
    found = _NOTE.match(text)
    if found:
        return found[1], found[2].strip()
    return text, ""


def _clauses(text: str) -> list[str]:
    """The parts between commas; a comma inside quotes or between the x and y of a flaw does not part."""
    parts = re.findall(r'(?:(?<!\S)"(?:[^"]|"")*"(?!\S)|[^,])+', text)
    out: list[str] = []
    for part in (part.strip() for part in parts):
        if out:
            before = out[-1].lower()
        else:
            before = ""
        if before.startswith(FLAWS) and re.fullmatch(SIDE, part, re.IGNORECASE):
            out[-1] += f", {part}"
        elif part:
            out.append(part)
    return out
