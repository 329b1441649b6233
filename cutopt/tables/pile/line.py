"""One line of a pile in words: a leftover, or several alike.

The grammar, in full::

    line    = [name ":"] [count] [form] fabric size {less} {"," word | "," flaw}        # a comment
    form    = strip(s) | square(s) | half square(s) | triangle(s) | piece(s)   [of]
    fabric  = any words; in double quotes where it has figures or words of this grammar in it: "number 9"
    size    = length x length          (across x along the selvage; one length for squares and half squares)
    less    = less length x length [top right | top left | bottom right | bottom left]
    word    = cut | raw | about | grain unknown | use first | keep whole | do not touch | note any words
    flaw    = (stain | hole | tear | flaw) length x length at x y

Examples::

    pear 11 x 7                         a rectangle 11 across and 7 along the selvage
    4 strips bark 2 1/2 x 38            four alike
    oat 20 x 14 less 7 x 4              an L: the upper right corner is missing
    20 squares mist 5 cut               true edges, nothing comes off (also where nothing is said)
    half square plum 14                 a right triangle with two sides of 14, the right angle lower left
    triangle plum 14 x 9                a right triangle 14 across and 9 along
    navy 18 x 30 about, raw             measured roughly, ragged edges
    oat-3: oat 9 x 9                    a name of its own, which stays when lines above it go
    pear 12 x 15, stain 3 x 2 at 4 5    a flaw 3 across and 2 along, its lower left corner at 4, 5

A comma before a word may be left out, except before a flaw and a note. A length is any that
:func:`cutopt.lengths.parse_length` reads.
"""

from __future__ import annotations

import difflib
import re
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Final

from cutopt.errors import Problem
from cutopt.fabric import Outline, Piece, Wish, counted, named
from cutopt.geometry import rectangle
from cutopt.lengths import SPELLINGS, down, parse_length
from cutopt.tables.outlines import parse_corner
from cutopt.tables.pile.missing_corners import CORNERS, rectangle_less
from cutopt.tables.rows.odd_sizes import refuse_odd_size

_WISHES: Final[tuple[Wish, ...]] = ("use first", "keep whole", "do not touch")
WORDS: Final = (
    "grain unknown",
    *_WISHES,
    "about",
    "raw",
    "cut",
)
# words that people write for raw edges
_RAGGED: Final = ("torn", "ragged", "frayed", "fraying", "pinked", "uneven", "crooked")
_MINUS = re.compile(r"(?:minus|without|[-−–])\s*(?=[\d.½⅓⅔¼¾⅛⅜⅝⅞])", re.IGNORECASE)
FORMS: Final = ("strip", "square", "half square", "triangle", "piece")
FLAWS: Final = ("stain", "hole", "tear", "flaw")
_FORM = re.compile(
    r"(half[ -]squares?|squares?|strips?|triangles?|pieces?)\s+(?:of\s+)?(?=\S)",
    re.IGNORECASE,
)
_COUNT = re.compile(r"(\d+)\s+(?![x×\d/])(?=[^\W\d]|\")")
_NUMBER = (
    r"(?:\d+(?:[-\s]+\d+\s*/\s*\d+|\s*[½⅓⅔¼¾⅛⅜⅝⅞]|\.\d+|\s*/\s*\d+)?|[½⅓⅔¼¾⅛⅜⅝⅞]|\.\d+)"
)
_UNIT = "|".join(
    said for spelt in SPELLINGS.values() for said in spelt if said.isalpha()
)
_LENGTH = _NUMBER + rf"\s*(?:(?:{_UNIT})\b\.?|[\"″”])?"
_SIZE = re.compile(
    rf"({_LENGTH})(?:\s*(?:[x×]|by)\s*({_LENGTH}))?(?=\s|$)", re.IGNORECASE
)
_LESS = re.compile(
    rf"less\s+({_LENGTH})\s*(?:[x×]|by)\s*({_LENGTH})(?:\s+({'|'.join(CORNERS)}))?(?=\s|$)",
    re.IGNORECASE,
)
_FLAW = re.compile(
    rf"(?:{'|'.join(FLAWS)})\s+({_LENGTH})\s*(?:[x×]|by)\s*({_LENGTH})\s+at\s+(.+)",
    re.IGNORECASE,
)
_EXAMPLES = {
    "strip": "4 strips bark 2 1/2 x 38",
    "half": "half square plum 14",
    "square": "20 squares mist 5 cut",
    "triangle": "triangle plum 14 x 9",
    "less": "oat 20 x 14 less 7 x 4",
    "": "pear 11 x 7",
}


@dataclass(slots=True)
class PileLine:
    """One line while it is read."""

    text: str
    unit: str
    fabric: str = ""
    form: str = "piece"
    count: int = 1
    width: int = 0
    length: int = 0
    less: list[tuple[str, int, int]] = field(default_factory=list)
    flaws: list[Outline] = field(default_factory=list)
    words: set[str] = field(default_factory=set)
    note: str = ""

    def read(self) -> None:
        """Take the line apart; JobError or Problem where it cannot be.

        Raises
        ------
        Problem
            What cannot be read in it, and what to write.
        """
        comma = re.search(r"(?<!\S)\d+,\d+(?![\d/])", self.text)
        if comma and not re.search(r"\bat\s+$", self.text[: comma.start()]):
            told = "a decimal comma is in it"
            mend = self.text.replace(comma[0], comma[0].replace(",", "."))
            if re.fullmatch(r"[1-9]\d{0,2},\d{3}", comma[0]):
                told = f"the comma in {comma[0]} may stand before thousands or before decimals"
                mend = f"{self.text.replace(comma[0], comma[0].replace(',', ''))} for thousands, or {mend} for decimals"
            raise self._unread(told, mend)
        head, *rest = _clauses(self.text) or [""]
        self._tail(self._head(head))
        for clause in rest:
            flaw = _FLAW.fullmatch(clause)
            if flaw:
                at = parse_corner(flaw[3], self.unit, "flaw", 'the place after "at"')
                self.flaws.append(
                    rectangle(self._ticks(flaw[1]), self._ticks(flaw[2]), *at)
                )
            elif clause.lower().startswith("note "):
                self.note = clause[5:].strip()
            else:
                self._tail(clause)

    def _head(self, text: str) -> str:
        """Read count, form, fabric and size; give what is left of the clause."""
        if re.match(r"[-−–]\s*[\d.]", text):
            raise self._unread("a number below 0 is in it")
        count = _COUNT.match(text)
        rest = text
        if count:
            self.count, rest = int(count[1][:9]), text[count.end() :]
            counted("count", self.count)
        form = _FORM.match(rest)
        if form:
            self.form = form[1].lower().replace("-", " ").removesuffix("s")
            rest = rest[form.end() :]
        self.fabric, rest = self._named(rest)
        named("fabric", self.fabric)
        size = _SIZE.match(rest)
        if size is None:
            raise self._unread("its size cannot be read")
        self._sized(size[1], size[2])
        refuse_odd_size(
            "size", (size[1], size[2] or size[1]), (self.width, self.length), self.unit
        )
        return rest[size.end() :].strip()

    def _named(self, text: str) -> tuple[str, str]:
        """The fabric's name, and the rest from the size on."""
        quoted = re.match(r'"((?:[^"]|"")+)"\s+', text)
        if quoted:
            return quoted[1].replace('""', '"').strip(), text[quoted.end() :]
        for start in re.finditer(rf"(?<=\s)(?={_LENGTH})", text):
            size = _SIZE.match(text, start.end())
            if size and (size[2] or self.form in ("square", "half square")):
                return " ".join(text[: start.start()].split()), text[start.start() :]
        swapped = re.fullmatch(
            rf"({_LENGTH}\s*(?:[x×]|by)\s*{_LENGTH})\s+([^\d,]+?)",
            self.text,
            re.IGNORECASE,
        )
        if swapped:
            raise self._unread(
                "the size stands before the fabric", f"{swapped[2]} {swapped[1]}"
            )
        raise self._unread("no fabric and size are found in it")

    def _sized(self, first: str, second: str | None) -> None:
        self.width = self._ticks(first)
        self.length = self._ticks(second) if second else self.width
        if (
            second
            and self.form in ("square", "half square")
            and self.width != self.length
        ):
            raise self._unread("a square has one size", _EXAMPLES[self.form.split()[0]])

    def _ticks(self, text: str) -> int:
        ticks: Fraction = parse_length(text, self.unit, field="size")
        return down(ticks)

    def _tail(self, text: str) -> None:
        """Read what stands behind the size: missing corners and single words."""
        while text:
            less = _LESS.match(text)
            word = next(
                (w for w in WORDS if re.match(rf"{w}(?=\s|$)", text, re.IGNORECASE)),
                None,
            )
            if less:
                corner = (less[3] or "top right").lower()
                self.less.append((corner, self._ticks(less[1]), self._ticks(less[2])))
                text = text[less.end() :].strip()
            elif word:
                self.words.add(word)
                text = text[len(word) :].strip()
            else:
                raise self._unread(f'"{text}" is not understood', self._nearest(text))

    def _nearest(self, text: str) -> str:
        if text.lower().startswith("less"):
            return _EXAMPLES["less"]
        if text.lower().startswith(FLAWS):
            return f"a comma and then {text.split(maxsplit=1)[0].lower()} 3 x 2 at 4 5"
        if _MINUS.match(text):
            return f"{_MINUS.sub('less ', text, count=1)} (a missing corner)"
        if text.lower().startswith(_RAGGED):
            return '"raw"'
        if self.less:
            words = (*WORDS, *CORNERS)
        else:
            words = WORDS
        near = difflib.get_close_matches(text.lower(), words, 1)
        if near:
            return f'"{near[0]}"'
        told = ", ".join(words)
        return f"one of these behind the size: {told}, less 7 x 4 (a missing corner)"

    def _unread(self, what: str, example: str = "") -> Problem:
        """The problem of this line, with what to write or the form that is nearest."""
        if not example:
            example = next(
                (e for word, e in _EXAMPLES.items() if word in self.text.lower()), ""
            )
        return Problem("", f'"{self.text}" cannot be read, {what}', f"write {example}")

    def piece(self, name: str, fabric: str) -> Piece:
        """The piece that the line tells of.

        Raises
        ------
        Problem
            Where words of the line contradict each other.
        """
        wishes = [wish for wish in _WISHES if wish in self.words]
        if len(wishes) > 1 or {"raw", "cut"} <= self.words:
            if len(wishes) > 1:
                clash = " and ".join(sorted(wishes))
            else:
                clash = "raw and cut"
            raise Problem("", f'"{self.text}" says both {clash}', "keep one of the two")
        return Piece(
            name=name,
            fabric=fabric,
            outline=self._outline(),
            count=self.count,
            flaws=tuple(self.flaws),
            edges="raw" if "raw" in self.words else "true",
            grain_known="grain unknown" not in self.words,
            about="about" in self.words,
            wish=wishes[0] if wishes else "",
            note=self.note,
        )

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


def _clauses(text: str) -> list[str]:
    """The parts between commas; a comma inside quotes or between the x and y of a flaw does not part."""
    parts = re.findall(r'(?:(?<!\S)"(?:[^"]|"")*"(?!\S)|[^,])+', text)
    out: list[str] = []
    for part in (part.strip() for part in parts):
        if out:
            before = out[-1].lower()
        else:
            before = ""
        if before.startswith("note ") or (
            before.startswith(FLAWS) and re.fullmatch(_LENGTH, part)
        ):
            out[-1] += f", {part}"
        elif part:
            out.append(part)
    return out
