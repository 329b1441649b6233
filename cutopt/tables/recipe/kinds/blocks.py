"""The kinds of blocks, and the blocks that a sentence asks for."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache, partial
from typing import Final

from cutopt.errors import Problem
from cutopt.lengths import NUMBER_WORDS
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.recipe.block import Block
from cutopt.quilt.wanted_parts import ClothWanted
from cutopt.tables.recipe.kinds.by_their_box import BY_THEIR_BOX
from cutopt.tables.recipe.kinds.made_of import is_made_of, made_of
from cutopt.tables.recipe.kinds.patchwork import PATCHWORK
from cutopt.tables.recipe.kinds.shapes import SHAPES
from cutopt.tables.recipe.kinds.traditional import TRADITIONAL_BLOCKS
from cutopt.tables.recipe.kinds.triangle_units import TRIANGLE_UNITS
from cutopt.tables.recipe.wording import fabric_first
from cutopt.tables.sentences.one_each import ANY_ONE
from cutopt.tables.sentences.rules import all_cloths, refuse_unused
from cutopt.tables.sentences.said import Said
from cutopt.tables.sentences.taking_apart import kind_in, reads_by
from cutopt.tables.sentences.vocabulary import Kind

FIELD: Final = "blocks"
# a longer name of a row is no help at the mat
_SHORT: Final = 40
_NUMBERS: Final = "|".join(NUMBER_WORDS)
_DISAPPEARING: Final = re.compile(
    r"(?i)(disappearing (?:nine|9)[\s-]patch(?:es)?.*?),?\s+(?:(?:made|sewn|cut|starting)\s+)?"
    r"(?:from|of|with|out of)\s+(\d[\d\s/.]*(?:\"|″|”|[\s-]?in(?:ch(?:es)?)?\b|\s?cm\b)?)[\s-]*(?:charm\s+)?squares?\b"
)
BLOCKS: Final[tuple[Kind[Block], ...]] = (
    *PATCHWORK,
    *TRIANGLE_UNITS,
    *SHAPES,
    *BY_THEIR_BOX,
    *TRADITIONAL_BLOCKS,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class AskedBlocks:
    """Blocks that a sentence asks for: `count` of them (None where it is not said), made by `make`.

    `called` is what their rows are called where the maker gave no name, "" where she did; `fabrics` are those that
    she named, in words, and `named` the same blocks under another name.
    """

    text: str
    count: int | None
    make: Callable[[int], Block]
    called: str = ""
    fabrics: str = ""
    named: Callable[[str], AskedBlocks] | None = None

    def block(self, count: int | None = None) -> Block:
        """The blocks, or so many of them; one where nothing is said."""
        return self.make(count or self.count or 1)


def asked_for(
    text: str, how: Conventions, known: Collection[str] = (), *, trial: bool = False
) -> list[AskedBlocks]:
    """The blocks that a sentence asks for; several kinds where each fabric has its share.

    Parameters
    ----------
    text : str
    how : Conventions
    known : collection of str
        Names, tags and values of fabrics in lower case.
    trial : bool
        Whether it is only tried: no mend is looked for then.

    Raises
    ------
    Problem
        With the words that are not understood, and what to write.
    """
    try:
        return _asked_in(text, how, known, trial=trial)
    except Problem:
        both = _two_in_one(text, how, known) if not trial else None
        if both is None:
            raise
        return both


def _two_in_one(
    text: str, how: Conventions, known: Collection[str]
) -> list[AskedBlocks] | None:
    """Two sentences in one: ``20 squares of 5 from navy and 10 squares of 6 from cream``; None where it is not."""
    text, both = _said_of_both(text)
    for match in re.finditer(rf",?\s+and\s+(?=\d|(?:{_NUMBERS})\b)", text):
        halves = (text[: match.start()] + both, text[match.end() :] + both)
        asked = []
        for half in halves:
            try:
                asked += asked_for(half, how, known, trial=True)
            except Problem:
                break
        else:
            _refuse_bare(text, asked)
            return asked
    return None


def _said_of_both(text: str) -> tuple[str, str]:
    """``18 nine patches and 17 squares, all 6"`` without its end, and the end that is said of both."""
    found = re.search(r",\s*(?:all|both|each)\b[^,;]*\d[^,;]*$", text)
    if found is None:
        return text, ""
    return text[: found.start()], found[0]


def _refuse_bare(text: str, asked: Sequence[AskedBlocks]) -> None:
    """Of two kinds in one sentence both name their fabrics, or neither: whose they are nobody could tell."""
    bare = [each for each in asked if each.called and not each.fabrics]
    if not bare or len(bare) == len(asked):
        return
    what = f'"{text}" names fabrics for one kind of blocks, and none for "{bare[0].text.strip()}"'
    mend = "name the fabrics of each, or say each in a sentence of its own"
    if len(asked) == 2:
        mend += ": " + " and ".join(f'"{each.text.strip()}"' for each in asked)
    raise Problem(FIELD, what, mend)


def _asked_in(
    text: str, how: Conventions, known: Collection[str], *, trial: bool
) -> list[AskedBlocks]:
    text = _cut_squares(fabric_first(text, known))
    if is_made_of(text):
        own = made_of(text, how, known, BLOCKS)
        asked = [AskedBlocks(text=text, count=own.said.count, make=cache(own.block))]
        asked[0].block()
        return asked
    reads = None
    if not trial:
        reads = reads_by(partial(asked_for, how=how, known=known, trial=True))
    text = re.sub(r"(?i)\bmade (?:up )?(?:from|out of|using)\b", "from", text)
    kind, said = kind_in(text, BLOCKS, FIELD, known, reads)
    _count_columns(said)
    parts = [one for each in said.parted(kind.one) for one in one_by_one(each, kind)]
    asked = [_asked(kind, each, how) for each in parts]
    for each in asked:
        each.block()
    return asked


def one_by_one(said: Said, kind: Kind[Block]) -> list[Said]:
    """Blocks each of which has one fabric somewhere, one by one; all in one where nothing of that is said.

    Parameters
    ----------
    said : Said
    kind : Kind

    Raises
    ------
    Problem
        Where the fabric of which each has one is none of the block.
    """
    if not said.one_each:
        return [said]
    cloths = said.cloths or (said.rules,) * kind.cloths
    meant = {
        number
        for number, cloth in enumerate(cloths)
        if said.one_each in (ANY_ONE, *(word.lower() for word in cloth.fabrics))
        or {f"{said.one_each}s", f"any {said.one_each}"} & set(cloth.fabrics)
    }
    if not meant:
        what = f'"{said.text}" has one {said.one_each} in each block, and names none'
        raise Problem(FIELD, what, "say what it is for, such as plum points")
    name = " ".join(said.names) or kind.one
    alone = said.one_each == ANY_ONE
    parts = []
    for number in range(1, said.many + 1):
        own = list(cloths)
        for at in meant:
            word = f"{name} {number} {_of_whom(kind, own, at) + 1}"
            word = word if alone else f"{name} {number}"
            own[at] = replace(cloths[at], together=word)
        one = replace(said, count=1, names=(f"{name} {number}",), one_each="")
        parts.append(replace(one, cloths=tuple(own)))
    return parts


def _of_whom(kind: Kind[Block], own: Sequence[ClothWanted], at: int) -> int:
    """The place whose fabric another has too: the centre of a star is of its points, where they are named alike."""
    if at >= len(kind.roles):
        return at
    other = kind.falls_back.get(kind.roles[at], "")
    if other not in kind.roles:
        return at
    first = kind.roles.index(other)
    if first < len(own) and own[first].fabrics == own[at].fabrics:
        return first
    return at


def _cut_squares(text: str) -> str:
    """``disappearing nine patches made from 5" squares`` as ``... of 5" cut``: they are told as they are cut."""
    return _DISAPPEARING.sub(r"\1 of \2 cut", text)


def _count_columns(said: Said) -> None:
    """So many columns of so many each are as many blocks.

    Raises
    ------
    Problem
        Where another number of blocks is said, or one of the two only.
    """
    columns, each = said.after("columns"), said.after("to a column")
    if not (columns or each):
        return
    if not (columns and each):
        missing = "columns" if each else "each column"
        what = f'"{said.text}" does not say how many {missing} there are'
        if columns:
            what = f'"{said.text}" does not say how many are in each column'
        raise Problem(FIELD, what, "write it like 5 columns, 30 to a column")
    comes_to = int(columns) * int(each)
    if said.count not in (None, comes_to):
        what = f'"{said.text}": {columns} columns of {each} are {comes_to}, not {said.count}'
        raise Problem(FIELD, what, "make the two agree, or leave one out")
    said.count = comes_to


def _asked(kind: Kind[Block], said: Said, how: Conventions) -> AskedBlocks:
    return AskedBlocks(
        text=said.text,
        count=said.count,
        make=cache(partial(_made, kind, said, how)),
        called="" if said.names else kind.one,
        fabrics=" and ".join(" or ".join(each.fabrics) for each in said.cloths),
        named=partial(_asked_as, kind, said, how),
    )


def _asked_as(
    kind: Kind[Block], said: Said, how: Conventions, name: str
) -> AskedBlocks:
    return _asked(kind, replace(said, names=(name,)), how)


def told_apart(asked: Sequence[AskedBlocks]) -> Iterator[AskedBlocks]:
    """Blocks with a name each: those that would be called alike are called by their fabrics, or by a number."""
    alike = Counter(each.called for each in asked if each.called)
    taken = Counter[str]()
    for each in asked:
        if each.named is None or alike[each.called] < 2:
            yield each
            continue
        name = each.called
        if each.fabrics and len(each.fabrics) < _SHORT:
            name = f"{name} of {each.fabrics}"
        taken[name] += 1
        if taken[name] > 1:
            name = f"{name} {taken[name]}"
        yield each.named(name)


def _made(kind: Kind[Block], said: Said, how: Conventions, count: int) -> Block:
    own = replace(
        said,
        count=count,
        options=dict(said.options),
        cloth_of=dict(said.cloth_of),
    )
    if len(own.names) == 1:
        name = own.names[0]
    else:
        name = kind.one
    if kind.needs_size and not own.size:
        what = f'"{own.text}" does not say of what size'
        raise Problem(FIELD, what, f'write it like "{kind.like}"')
    block = kind.make(own, name, how)
    own.finish()
    if own.differ:
        note = f"{kind.many}: each has one fabric of those that were named; how many share one goes by what there is"
        made = replace(block.made, notes=(*block.made.notes, note))
        block = replace(block, made=made)
    if order := _order_told(kind, own, name):
        made = replace(block.made, notes=(*block.made.notes, order))
        block = replace(block, made=made)
    refuse_unused(said.text, FIELD, all_cloths(said), block.made.wanted)
    if len(own.names) > 1:
        return block.renamed(own.names)
    return block


def _order_told(kind: Kind[Block], said: Said, name: str) -> str:
    """Which of two fabrics goes where, if nothing but their order says it; "" otherwise."""
    named = [" or ".join(cloth.fabrics) for cloth in said.cloths]
    if not said.in_order or len(kind.roles) != 2 or len(set(named)) != 2:
        return ""
    (first, second), (one, other) = kind.roles, named
    if not (one and other):
        return ""
    return (
        f"{name}: the {first} is from {one} and the {second} from {other}, in the order in which they are "
        f"named; name {other} before {one} for the other way"
    )


def block_of(
    text: str,
    how: Conventions,
    count: int | None = None,
    known: Collection[str] = (),
) -> Block:
    """The one kind of blocks that a sentence asks for, or so many of it.

    Parameters
    ----------
    text : str
    how : Conventions
    count : int, optional
        How many in place of what is said.
    known : collection of str
        Names, tags and values of fabrics in lower case.

    Raises
    ------
    Problem
        With the words that are not understood, and what to write.
    """
    return asked_for(text, how, known)[0].block(count)
