"""Blocks of the maker's own: ``10 blocks of 6 made of 1 window of 4 from blossom, upright; 1 trunk of 2 from bark``.

Patches are as high as the block, side by side; or ``made of rows: 1 roof of 6 x 2 from bark; 1 wall of 2 x 4 from oat + 1
door of 2 x 4 from plum + 1 wall of 2 x 4 from oat``: rows from the top, between semicolons, and plus signs between units.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass
from functools import partial
from itertools import pairwise
from typing import Final, TypeAlias

from cutopt.errors import Problem
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.pieced.in_rows import Own, block_in_rows
from cutopt.quilt.pieced.pattern import Sewn
from cutopt.quilt.recipe.block import Block
from cutopt.quilt.surds import ZERO, Exact, exact
from cutopt.tables.recipe.kinds.row_units import HighAsRow, InRow, in_row
from cutopt.tables.recipe.kinds.traditional import GEESE, HALVES, sewn
from cutopt.tables.sentences.said import Said
from cutopt.tables.sentences.sizes import two_sizes
from cutopt.tables.sentences.taking_apart import taken_apart
from cutopt.tables.sentences.tokens import tokens_of
from cutopt.tables.sentences.vocabulary import Kind, Vocabulary

# where in a sentence something stands: its first sign, and the one behind its last
Span: TypeAlias = tuple[int, int]
_FIELD: Final = "blocks"
_LIKE: Final = "10 blocks of 6 made of 1 window of 4 from oat; 1 trunk of 2 from bark"
LIKE_ROWS: Final = (
    "10 blocks of 6 made of rows: 1 roof of 6 x 2 from bark; "
    "1 wall of 2 x 4 from oat + 1 door of 2 x 4 from plum + 1 wall of 2 x 4 from oat"
)
_BLOCK: Final = Vocabulary(
    part=_FIELD,
    told="these blocks",
    like=_LIKE,
    phrases=(*HALVES, *GEESE),
    named=True,
    counted=True,
    sized=True,
)
# in rows: ... is said too, but only with the colon
_MADE_OF: Final = re.compile(
    r"\s*(?:\bmade\s+(?:up\s+)?of\b|\b(?:made\s+)?(?:in|with|of)(?=\s+(?:\w+\s+)?rows?\s*:))\s*",
    re.IGNORECASE,
)
_ROWS: Final = re.compile(
    r"\s*(?:(?:\w+\s+)?rows?\s*:|rows\b|(?=row\s*1\b))\s*", re.IGNORECASE
)
_NUMBERED: Final = re.compile(r"row\s*\d+\s*[:=]?\s*", re.IGNORECASE)
# what people write between patches that lie side by side
_COMMA: Final = re.compile(r"\s*(?:,\s*(?:and\s+)?|\s+and\s+)(?=(?:\d+|an?)\s)")
# a sentence in a mend
_TO_WRITE: Final = re.compile(r'(write (?:it like )?)"([^"]+)"')


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnBlocks:
    """Blocks of a maker's own that a sentence asks for."""

    said: Said
    name: str
    size: tuple[Exact, Exact] | None
    rows: tuple[tuple[Own, ...], ...]
    how: Conventions
    sewn: Sewn

    def block(self, count: int) -> Block:
        """So many of them."""
        return block_in_rows(
            self.name, count, self.size, self.rows, self.how, self.sewn
        )


class _InUnit(Problem):
    """What is wrong with a unit of a row, and where in the sentence it stands."""

    def __init__(self, problem: Problem, unit: Span) -> None:
        super().__init__(_FIELD, problem.what, problem.mend)
        self.unit = unit

    def mended(self, whole: str, unit: str) -> str:
        """The sentence with the unit said in other words."""
        start, end = self.unit
        return f"{whole[:start]}{unit}{whole[end:]}"


def is_made_of(text: str) -> bool:
    """Whether a sentence says of what its blocks are made."""
    return _MADE_OF.search(text) is not None


def made_of(
    text: str,
    how: Conventions,
    known: Collection[str],
    others: Sequence[Kind[Block]] = (),
) -> OwnBlocks:
    """The blocks that are asked for, of units in rows.

    Parameters
    ----------
    text : str
    how : Conventions
    known : collection of str
        Names, tags and values of fabrics in lower case.
    others : sequence of Kind
        Kinds of blocks: none of them is meant by a name of the maker's own.

    Raises
    ------
    Problem
        With the words that are not understood, and what to write.
    """
    try:
        return _made_of(text, how, known, others)
    except _InUnit as problem:

        def reads(sentence: str) -> bool:
            try:
                _made_of(sentence, how, known, others).block(1)
            except Problem:
                return False
            return True

        raise _of_the_whole(problem, text, reads) from problem


def _made_of(
    text: str, how: Conventions, known: Collection[str], others: Sequence[Kind[Block]]
) -> OwnBlocks:
    made = _MADE_OF.search(text)
    assert made is not None
    head = text[: made.start()]
    said = taken_apart(head, _BLOCK, known)
    _refuse_in_head(said, head)
    parts, in_rows = _parts(text, made.end())
    size = two_sizes(said.size, how, _FIELD) if said.size else None
    if size is None and not in_rows:
        what = f'"{head}" does not say how large the blocks are'
        raise Problem(_FIELD, what, f'write it like "{_LIKE}"')
    prefix = said.names[0] if said.names else ""
    read = partial(
        in_row, how=how, known=known, others=_no_units(others), prefix=prefix
    )
    rows = [_row(text, row, read) for row in parts]
    heights = [_height(row) for row in rows]
    units = tuple(
        _closed(row, _resolved(number, heights, size, head))
        for number, row in enumerate(rows)
    )
    own = sewn(said)
    said.finish()
    names = dict.fromkeys(unit.name for row in units for unit in row)
    name = prefix or " and ".join(names)
    return OwnBlocks(said=said, name=name, size=size, rows=units, how=how, sewn=own)


def _refuse_in_head(said: Said, head: str) -> None:
    """Before "made of" stand no fabrics and no rules: each patch has its own, and one name will do."""
    if len(said.names) > 1:
        what = f'"{head}" has {len(said.names)} names'
        raise Problem(_FIELD, what, "give one name, or none: patches have their own")
    if said.cloths or said.shares:
        what = f'"{head} made of" names a fabric, or a rule for it, before the patches'
        raise Problem(_FIELD, what, f'say it of each patch, as in "{_LIKE}"')


def _parts(text: str, start: int) -> tuple[list[list[Span]], bool]:
    """Where the units of each row stand, and whether they are said in rows; else all are side by side."""
    said = _ROWS.match(text, start)
    if said:
        start = said.end()
    rows = _split(text, (start, len(text)), ";")
    if said:
        rows = [_behind_its_number(text, row) for row in rows]
    units = [_split(text, row, "+") for row in rows]
    if said or any(len(row) > 1 for row in units):
        return units, True
    return [rows], False


def _behind_its_number(text: str, row: Span) -> Span:
    """A row without ``row 2:`` before it."""
    number = _NUMBERED.match(text, *row)
    if number is None:
        return row
    return number.end(), row[1]


def _split(text: str, span: Span, sign: str) -> list[Span]:
    """The parts between signs that stand in no quotes, blanks around them left out."""
    first, last = span
    cuts = [
        first + token.start
        for token in tokens_of(text[first:last], _FIELD)
        if token.kind == "sign" and token.plain == sign
    ]
    return [
        _trimmed(text, (start + 1, end))
        for start, end in pairwise([first - 1, *cuts, last])
    ]


def _trimmed(text: str, span: Span) -> Span:
    start, end = span
    while start < end and text[start].isspace():
        start += 1
    while start < end and text[end - 1].isspace():
        end -= 1
    return start, end


def _no_units(kinds: Sequence[Kind[Block]]) -> list[Kind[Block]]:
    """Kinds that no part of a block is called by; squares and rectangles are."""
    plain = ("square", "rectangle")
    return [kind for kind in kinds if kind.one not in plain]


def _row(text: str, parts: Sequence[Span], read: Callable[[str], InRow]) -> list[InRow]:
    units = []
    for start, end in parts:
        try:
            units.append(read(text[start:end]))
        except Problem as problem:
            raise _InUnit(problem, (start, end)) from problem
    return units


def _of_the_whole(
    problem: _InUnit, whole: str, reads: Callable[[str], bool]
) -> Problem:
    """What is wrong with a unit, with a mend that is a whole sentence and reads."""
    start, end = problem.unit
    for sign in (";", " +"):
        apart = _COMMA.sub(f"{sign} ", whole[start:end])
        sentence = problem.mended(whole, apart)
        if sentence != whole and reads(sentence):
            return Problem(_FIELD, problem.what, f'write "{sentence}"')
    return Problem(_FIELD, problem.what, _sentences(problem, whole, reads))


def _sentences(problem: _InUnit, whole: str, reads: Callable[[str], bool]) -> str:
    """A mend with whole sentences in place of those of a unit: all of it where they read, else the first that does.

    Parameters
    ----------
    problem : _InUnit
    whole : str
        The sentence.
    reads : callable
        Whether a sentence is understood.
    """
    mend = problem.mend or ""
    if not _TO_WRITE.search(mend):
        return mend
    told = [problem.mended(whole, said) for _, said in _TO_WRITE.findall(mend)]
    good = [sentence for sentence in told if reads(sentence)]
    if not good:
        return f'write it like "{LIKE_ROWS}"'
    if len(good) < len(told):
        return f'write "{good[0]}"'

    def sentence(match: re.Match[str]) -> str:
        return f'{match[1]}"{problem.mended(whole, match[2])}"'

    return _TO_WRITE.sub(sentence, mend)


def _height(row: Sequence[InRow]) -> Exact | None:
    """How high a row is by those of its units that say so; None where none does."""
    said = [exact(unit.cell.lies[1]) for unit in row if isinstance(unit, Own)]
    return max(said, default=None)


def _resolved(
    number: int,
    heights: Sequence[Exact | None],
    size: tuple[Exact, Exact] | None,
    head: str,
) -> Exact:
    """How high a row is: as said, or what the other rows leave of the block.

    Parameters
    ----------
    number : int
        Which row, from 0.
    heights : sequence
        As they are said.
    size : tuple or None
        Of the block.
    head : str
        What is said before the rows.

    Raises
    ------
    Problem
        Where nothing tells how high it is.
    """
    height = heights[number]
    if height is not None:
        return height
    others = [each for each in heights if each is not None]
    if size is None or len(others) < len(heights) - 1:
        what = f'row {number + 1} of "{head} made of rows" does not say how high it is'
        mend = f'write width and height of a unit of it, as in "{LIKE_ROWS}"'
        raise Problem(_FIELD, what, mend)
    left = size[1] - sum(others, start=ZERO)
    if left <= 0:
        what = f'the rows of "{head}" leave no height for row {number + 1}'
        raise Problem(_FIELD, what, "make the heights add up to the block")
    return left


def _closed(row: Sequence[InRow], height: Exact) -> tuple[Own, ...]:
    """The units of a row, each with its height."""
    return tuple(
        unit.made(height) if isinstance(unit, HighAsRow) else unit for unit in row
    )
