"""Spare blocks in a line of the pile: ``5 blocks star 6 1/2``, ``3 churn dash blocks 9 1/2 x 9 1/2, may trim to 9``.

They are sewn and no cloth to cut: sizes are as measured, unfinished, width and then length as they hang, one length for
a square. The grammar; the order of words is free::

    line  = [name ":"] {count | block(s) | name | size | trim | aside}
    name  = any words beside "block", such as four patch; "block" where there are none
    trim  = (may trim | trimmed | cut) to length [x length]
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Final

from cutopt.fabric import refuse_long_text
from cutopt.lengths import down, format_length, parse_length, up
from cutopt.piecing import SpareBlock
from cutopt.tables.pile.amounts import across_and_along, is_across
from cutopt.tables.pile.asides import without_asides
from cutopt.tables.pile.asked_back import NotUnderstood, unread
from cutopt.tables.pile.fabric_run import words_from
from cutopt.tables.pile.patterns import TIMES
from cutopt.tables.pile.said_lengths import SIDE, in_figures
from cutopt.tables.pile.settling import number_of, settled
from cutopt.tables.pile.stock import Stock
from cutopt.tables.pile.tokens import Token, tokens_of
from cutopt.tables.rows.odd_sizes import refuse_odd_size

_MAY: Final = (
    r"(?:i\s+)?(?:may|can|could|will)\s+(?:be\s+)?(?:trim(?:med)?|cut|squared?)"
)
_TRIM: Final = re.compile(
    rf",?\s*\(?(?:{_MAY}|trims?|to\s+trim)(?:\s+(?:up|down))*\s+to\s+({SIDE})(?:{TIMES}({SIDE}))?\)?"
    r"(?=\s*[,;.)]|\s*$)",
    re.IGNORECASE,
)
# what sizes of blocks are without a word
_AS_IT_IS: Final = re.compile(
    r",?\s*\(?\b(?:unfinished|as\s+measured|(?:with|including|incl\.?)\s+(?:its\s+|the\s+)?"
    r"seams?(?:\s+allowances?)?|seams?\s+included)\b\)?",
    re.IGNORECASE,
)
_FINISHED: Final = re.compile(r"\bfinish(?:ed|es|ing)?\b", re.IGNORECASE)
_SIDES: Final = re.compile(
    rf"(?<!\S)({SIDE})(?:{TIMES}({SIDE}))?(?=[\s,;)]|$)", re.IGNORECASE
)
# words of a name: four patch, square in a square
_NAMING: Final = ("sewn", "odd", "form", "adjective", "precut", "remark", "number")
_UNSAID: Final = ("filler", "soft", "join", "block", "tally", "counter")


def is_of_blocks(text: str, known: Sequence[str] = ()) -> bool:
    """Whether a line tells of spare blocks.

    Parameters
    ----------
    text : str
    known : sequence of str
        Names of fabrics that have words of the grammar in them.
    """
    if "block" not in text.lower():
        return False
    return any(token.is_a("block") for token in settled(tokens_of(text, known)))


@dataclass(slots=True)
class BlockLine:
    """One line of spare blocks while it is read.

    Parameters
    ----------
    text : str
        Without comment and name.
    note : str
        What the line says behind "note".
    """

    text: str
    stock: Stock
    note: str = ""
    name: str = ""
    count: int = 0
    size: tuple[int, int] = (0, 0)
    may_trim_to: tuple[int, int] | None = None
    _sides: dict[bool, str] = field(default_factory=dict)
    _lengths: list[str] = field(default_factory=list)
    _square: bool = False
    _many: bool = False

    def read(self, said: str) -> None:
        """Take the line apart.

        Parameters
        ----------
        said : str
            What stands before the note.

        Raises
        ------
        Problem
            What cannot be read in it, and what to write.
        """
        trim = _TRIM.search(said)
        body = said
        if trim:
            first, second = trim[1], trim[2] or trim[1]
            self.may_trim_to = self._up(first), self._up(second)
            body = f"{said[: trim.start()]}{said[trim.end() :]}"
        body = _AS_IT_IS.sub(" ", body)
        self._refuse_finished(body)
        tokens, told, _ = without_asides(
            body, settled(tokens_of(body, self.stock.known))
        )
        self.note = "; ".join(part for part in (*told, self.note) if part)
        named = _name_run(tokens)
        self.name = _name(body, tokens, named)
        for at, token in enumerate(tokens):
            several = token.is_a("block") and token.text.lower().endswith("s")
            self._many = self._many or several
            if at not in named:
                self._use(at, token, tokens, body)
        self._check()

    def _refuse_finished(self, body: str) -> None:
        found = _FINISHED.search(body)
        if found is None:
            return
        sizes = list(_SIDES.finditer(body))
        mend = "its size as it is measured, seams included"
        if sizes:
            last = sizes[-1]
            measured = " x ".join(
                self._measured(side) for side in last.groups() if side
            )
            line = body[: last.start()] + measured + body[last.end() :]
            mend = " ".join(_FINISHED.sub("", line).split())
        raise unread(self.text, "a finished size is in it", mend)

    def _measured(self, finished: str) -> str:
        """A finished side with its seams."""
        sewn = self._down(finished) + 2 * self.stock.seam
        return format_length(sewn, self.stock.unit)

    def _use(self, at: int, token: Token, tokens: Sequence[Token], body: str) -> None:
        """Use a word that is none of the name.

        Parameters
        ----------
        at : int
        token : Token
        tokens : sequence of Token
            All of the line.
        body : str
        """
        number = number_of(token)
        before = (one for one in tokens[:at] if one.kind != "comma")
        leads = not any(one for one in before if not one.is_a(*_UNSAID))
        behind = tokens[at + 1] if at + 1 < len(tokens) else None
        counts = leads or token.kind == "times" or token.is_a("count")
        if behind is not None and behind.is_a("block", "tally"):
            counts = True
        if number is not None and counts and not self.count:
            self.count = number
            if not number:
                raise unread(self.text, "0 is too few", "how many there are")
        elif token.kind == "size" and not self.size[0]:
            sides = across_and_along(self.text, token, self.stock.unit)
            self.size = self._down(sides[0]), self._down(sides[1])
            self._refuse_about(token)
            refuse_odd_size("size", sides, self.size, self.stock.unit)
        elif token.kind == "side" and is_across(token.parts[1]) not in self._sides:
            self._sides[is_across(token.parts[1])] = token.parts[0]
        elif token.kind == "length":
            self._refuse_about(token)
            self._lengths.append(token.parts[0])
        elif token.means is not None and token.means.value in ("cut", "square"):
            # trimmed to 6 1/2; of 6 1/2 square
            self._square = self._square or token.means.value == "square"
        elif token.kind != "comma" and not token.is_a(*_UNSAID):
            self._refuse_word(token, body)

    def _refuse_word(self, token: Token, body: str) -> None:
        if token.means is not None and token.means.value == "about":
            self._refuse_about(token)
        raise NotUnderstood(self.text, words_from(body, token))

    def _refuse_about(self, token: Token) -> None:
        roughly = token.means is not None and token.means.value == "about"
        if not token.about and not roughly:
            return
        what = "a block is sewn in as it is, and about is no measure"
        line = " ".join(self.text.replace(token.text, "", 1).split())
        raise unread(self.text, what, f"{line}, with its size as measured")

    def _check(self) -> None:
        """One size, and a name that a plan can carry."""
        if len(self._sides) == 2 and not self.size[0]:
            self.size = self._down(self._sides[True]), self._down(self._sides[False])
        elif len(self._lengths) == 1 and not self.size[0] and not self._sides:
            side = self._down(self._lengths.pop())
            self.size = side, side
        if self._lengths or (self._sides and len(self._sides) < 2):
            raise unread(self.text, "it has more or less than one size", _EXAMPLE)
        if not self.size[0]:
            raise unread(self.text, "no size is found in it", _EXAMPLE)
        if self._square and self.size[0] != self.size[1]:
            raise unread(self.text, "a square has one size", _EXAMPLE)
        if self._many and not self.count:
            mend = f"how many there are, such as 2 {self.text}"
            raise unread(self.text, "blocks without how many", mend)
        refuse_long_text("block", self.name)

    def block(self, given: str) -> SpareBlock:
        """The blocks that the line tells of.

        Parameters
        ----------
        given : str
            The name that the line gives them in front, "" for none.

        Raises
        ------
        Problem
            Where they make no sense.
        """
        width, length = self.size
        return SpareBlock(
            name=given or self.name,
            count=self.count or 1,
            width=width,
            length=length,
            may_trim_to=self.may_trim_to,
            note=self.note,
        )

    def _down(self, text: str) -> int:
        return down(parse_length(in_figures(text), self.stock.unit, field="size"))

    def _up(self, text: str) -> int:
        return up(parse_length(in_figures(text), self.stock.unit, field="may_trim_to"))


_EXAMPLE: Final = (
    "5 star blocks 6 1/2, or 3 star blocks 9 1/2 x 12 1/2, may trim to 9 x 12"
)


def _name_run(tokens: Sequence[Token]) -> range:
    """The places from the first to the last word of the name; "block" may stand between."""
    quoted = [at for at, token in enumerate(tokens) if token.kind == "name"]
    if quoted:
        return range(quoted[0], quoted[0] + 1)
    naming = [at for at, token in enumerate(tokens) if _names(at, tokens)]
    if not naming:
        return range(0)
    first = naming[0]
    last = first
    for at in naming:
        between = tokens[last + 1 : at]
        if all(token.is_a("filler", "join", "block") for token in between):
            last = at
    return range(first, last + 1)


def _names(at: int, tokens: Sequence[Token]) -> bool:
    token = tokens[at]
    if token.is_a("number"):
        # nine patch blocks; 5 star blocks
        before = tokens[at - 1] if at else None
        return before is not None and before.kind in ("plain", "length")
    return token.kind == "plain" or token.is_a(*_NAMING)


def _name(body: str, tokens: Sequence[Token], run: range) -> str:
    """The words of the name without "block" and what counts."""
    if run and tokens[run.start].kind == "name":
        return tokens[run.start].parts[0].replace('""', '"').strip()
    words: list[str] = []
    for at in run:
        token = tokens[at]
        if not token.is_a("block"):
            words.append(body[token.start : token.end])
    return " ".join(" ".join(words).split()) or "block"
