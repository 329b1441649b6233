"""The pile in words, one leftover a line; the grammar of a line stands at the top of :mod:`cutopt.tables.pile.line`.

A piece without a name of its own is named by fabric and number: ``pear-1``, ``pear-2``.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from functools import partial
from itertools import count
from typing import Final

from cutopt.errors import Problem
from cutopt.fabric import Piece, refuse_long_text
from cutopt.piecing import SpareBlock
from cutopt.tables.log import Log, Placed
from cutopt.tables.pile.block_line import BlockLine
from cutopt.tables.pile.line import PileLine
from cutopt.tables.pile.several import leftovers, name_of
from cutopt.tables.pile.stock import Stock
from cutopt.tables.pile.tokens import plain_quotes

# signs of a line
_LONGEST: Final = 1_000


def pile(text: str, unit: str = "in") -> tuple[Piece, ...]:
    """Pieces from a pile in words (the grammar is at the top of :mod:`cutopt.tables.pile.line`).

    Parameters
    ----------
    text : str
        One leftover a line; ``#`` begins a comment.
    unit : {"in", "cm"}
        The unit of bare numbers.

    Raises
    ------
    JobError
        With one problem for each line that cannot be read.

    Examples
    --------
    >>> [piece.name for piece in pile("pear 11 x 7\\n2 strips bark 2 1/2 x 38\\npear 4 x 4")]
    ['pear-1', 'bark-1', 'pear-2']
    """
    log = Log()
    lines = enumerate(text.splitlines(), 1)
    pieces = read_pile(lines, "pile", Stock.of_unit(unit), log)
    log.finish()
    return tuple(placed.value for placed in pieces)


def read_pile(
    lines: Iterable[tuple[int, str]],
    file: str,
    stock: Stock,
    log: Log,
    taken: Iterable[str] = (),
    blocks: list[Placed[SpareBlock]] | None = None,
) -> list[Placed[Piece]]:
    """The pieces of a pile, with their places.

    Parameters
    ----------
    lines : iterable of (int, str)
        Each with its number.
    file : str
        How a problem names the place of the pile.
    stock : Stock
        The unit of bare numbers, and what is known of the cloth.
    log : Log
        What cannot be read.
    taken : iterable of str
        Names that no generated one may be.
    blocks : list of Placed, optional
        To which the spare blocks of the pile are put; without it a line of blocks is a mistake.
    """
    lines = [(number, plain_quotes(text)) for number, text in lines]
    own = (name_of(text)[0] for _, text in lines)
    names = _Names([name for name in (*taken, *own) if name])
    pieces: list[Placed[Piece]] = []
    for number, text in lines:
        body = _without_comment(text)
        if not body:
            continue
        if len(body) > _LONGEST:
            what = f'a line of {len(body)} signs is too long: "{body[:40]}..."'
            log.add(Problem("", what, "write one leftover a line"), file, number)
            continue
        read = log.attempt(partial(leftovers, body, stock), None, file, number)
        for given, line in read or ():
            if isinstance(line, BlockLine):
                block = log.attempt(
                    partial(_block, line, given, blocks), None, file, number
                )
                if block is not None and blocks is not None:
                    blocks.append(Placed(block, file, number))
                continue
            piece = _piece(line, given, names, log, file, number)
            if piece is not None:
                names.take(piece.name)
                pieces.append(Placed(piece, file, number))
    return pieces


def _block(
    line: BlockLine, given: str, blocks: list[Placed[SpareBlock]] | None
) -> SpareBlock:
    """The blocks of a line, where blocks are asked for.

    Parameters
    ----------
    line : BlockLine
        As it was read.
    given : str
        The name that the line gives them, "" for none.
    blocks : list of Placed, optional
    """
    if blocks is None:
        what = f'"{line.text}" tells of sewn blocks, and cloth is asked for'
        raise Problem("", what, "keep it in the pile.txt of a job, or in blocks.csv")
    return line.block(given)


def _piece(
    line: PileLine, given: str, names: _Names, log: Log, file: str, number: int
) -> Piece | None:
    """The piece of a leftover; None where a problem is told.

    Parameters
    ----------
    line : PileLine
        As it was read.
    given : str
        The name that the line gives it, "" for none.
    names : _Names
    log : Log
    file : str
    number : int
        Of the line.
    """
    before = len(log.problems)
    for field, text in (("piece", given), ("fabric", line.fabric)):
        log.attempt(partial(refuse_long_text, field, text), None, file, number)
    if len(log.problems) > before:
        return None
    fabric = names.spelling(line.fabric)
    name = given or names.free(fabric)
    return log.attempt(partial(line.piece, name, fabric), None, file, number)


class _Names:
    """Names of pieces that are taken, and one spelling of the name of each fabric."""

    def __init__(self, taken: Sequence[str]) -> None:
        self._taken = {name.lower() for name in taken}
        self._spelt: dict[str, str] = {}
        # by fabric: below this number all names are taken
        self._next: dict[str, int] = {}

    def spelling(self, fabric: str) -> str:
        """The name of a fabric as it is spelt first."""
        return self._spelt.setdefault(fabric.lower(), fabric)

    def take(self, name: str) -> None:
        """Nobody else is called so."""
        self._taken.add(name.lower())

    def free(self, fabric: str) -> str:
        """The first of ``FABRIC-1``, ``FABRIC-2``, ... that is not taken."""
        numbers = count(self._next.get(fabric, 1))
        number = next(n for n in numbers if f"{fabric}-{n}".lower() not in self._taken)
        self._next[fabric] = number
        return f"{fabric}-{number}"


def with_names(text: str, names: Sequence[str], stock: Stock) -> str:
    """A line with the names of its pieces in front, one leftover a line where it has several.

    Parameters
    ----------
    text : str
        A line that reads.
    names : sequence of str
        Of its pieces, in order.
    stock : Stock
    """
    body = _without_comment(plain_quotes(text))
    found = leftovers(body, stock)
    if found[0][0] or not names:
        return text
    if len(found) == 1 and found[0][1].text == body:
        return f"{names[0]}: {text.lstrip()}"
    comment = plain_quotes(text).strip().removeprefix(body)
    left = iter(names)
    told = []
    for _, line in found:
        if isinstance(line, BlockLine):
            told.append(line.text)
        else:
            told.append(f"{next(left)}: {line.text}")
    return "\n".join([told[0] + comment, *told[1:]])


def _without_comment(text: str) -> str:
    """The line without its comment: from a # that begins the line or follows a space, outside quotes."""
    kept = re.match(
        r'((?:(?<!\S)"(?:[^"]|"")*"(?!\S)|(?<!\S)(?!#)\S+|\s+)*)', text.strip()
    )
    if kept:
        return kept[0].strip()
    return ""
