"""The patchwork of a quilt: blocks, what is set between them, borders, and the top that they make."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import partial
from typing import Final, TypeAlias, get_args

from cutopt.errors import Problem
from cutopt.fabric import one_of
from cutopt.quilt.conventions import Base
from cutopt.quilt.recipe.block import Block
from cutopt.quilt.recipe.dealt import check_places, span, with_a_place
from cutopt.quilt.recipe.setting import Border, Setting, all_widths
from cutopt.quilt.surds import ZERO, Exact
from cutopt.quilt.top import Top
from cutopt.quilt.wanted_parts import Made
from cutopt.tables.log import Line
from cutopt.tables.recipe.borders_in_one import borders_in, one_border
from cutopt.tables.recipe.found_sizes import found_setting, is_found
from cutopt.tables.recipe.kinds.blocks import AskedBlocks, asked_for, told_apart
from cutopt.tables.recipe.reader import Reader, is_refused
from cutopt.tables.recipe.sentences_of_borders import is_coping, widths_said
from cutopt.tables.recipe.sentences_of_setting import setting_of, stones_told

# blocks with the line that asks for them
Asked: TypeAlias = tuple[Line, AskedBlocks]
_BASES: Final[tuple[Base, ...]] = get_args(Base)


def blocks_of(reader: Reader) -> list[Asked]:
    """The blocks that are understood, each with its line and its number."""
    asked: list[Asked] = []
    for line in reader.all("blocks"):
        read = partial(asked_for, line.text, reader.how, reader.known)
        found = reader.attempt(read, line.row)
        asked += [(line, each) for each in found or ()]
    named = told_apart([each for _, each in asked])
    return [(line, each) for (line, _), each in zip(asked, named, strict=True)]


def _counted(reader: Reader, asked: Sequence[Asked], *, told: bool) -> list[Asked]:
    """The blocks with their numbers; one kind without a number takes the places that the others leave.

    Parameters
    ----------
    reader : Reader
    asked : sequence of Asked
    told : bool
        Whether a missing number is told: how many places there are is not known of a setting that is not understood.
    """
    open_ = [(line, each) for line, each in asked if each.count is None]
    if not open_:
        return list(asked)
    _, one = open_[0]
    many = None
    if len(open_) == 1:
        many = _places_left(reader, [each for _, each in asked])
    if many is None:
        for at, each in open_ if told else ():
            reader.note(_how_many(each), at)
        return [(at, each) for at, each in asked if each.count is not None]
    filled = replace(one, count=many)
    return [(at, filled if each is one else each) for at, each in asked]


def _how_many(asked: AskedBlocks) -> Problem:
    what = f'"{asked.text}" does not say how many'
    head, colon, rest = asked.text.rpartition(":")
    mend = (
        f'write "{head}{colon}{" " if colon else ""}20 {rest.strip()}" for 20 of them'
    )
    return Problem("blocks", what, mend)


def _places_left(reader: Reader, asked: Sequence[AskedBlocks]) -> int | None:
    """How many places of the setting the blocks with a number leave; None where that is not clear, or none."""
    line = reader.one("setting")
    if line is None or is_found(line.text):
        return None
    try:
        setting = setting_of(line.text, reader.how, reader.known)
    except Problem:
        return None
    blocks = [each.block() for each in asked]
    sizes = {block.size for block in blocks if block.patches}
    if len(sizes) != 1:
        return None
    told = sum(each.count or 0 for each in asked)
    left = setting.places - setting.plain_places - told
    if left < 1:
        return None
    return left


def set_blocks(
    reader: Reader, found: Sequence[Asked]
) -> tuple[list[Block], Setting | None, Made | None]:
    """The blocks that have a place, the setting, and what is set between them."""
    understood = len({id(line) for line, _ in found}) == len(reader.all("blocks"))
    line = reader.one("setting")
    readable = _setting_reads(reader)
    asked = _counted(reader, found, told=readable)
    understood = understood and len(asked) == len(found)
    blocks = [each.block() for _, each in asked]
    setting = None
    cell = None
    if line is not None and readable and understood:
        setting = _setting(reader, line, blocks)
    if line is not None and setting is not None and setting.alternates:
        plain = reader.attempt(partial(_plain, reader, blocks, setting), line.row)
        if plain is None:
            setting = None
        else:
            asked = [*asked, (line, plain)]
            blocks = [*blocks, plain.block()]
    if line is not None and setting is not None:
        cell = reader.attempt(partial(_place, reader, blocks, setting), line.row)
    counts = None
    if line is not None and setting is not None and cell is not None:
        dealt = partial(with_a_place, blocks, setting, cell, reader.how)
        counts = reader.attempt(dealt, line.row)
    if line is None or setting is None or cell is None or counts is None:
        for (at, _), block in zip(asked, blocks, strict=True):
            reader.add(block.made, at.row)
        return blocks, None, None
    if setting.turned:
        told = "how blocks are turned changes nothing of what is cut, and is not drawn"
        reader.notes.append(f"setting: {setting.turned}: {told}")
    left_over = [
        block.count - count
        for block, count in zip(blocks, counts, strict=True)
        if span(block, cell) == (1, 1)
    ]
    reader.unplaced = sum(left_over)
    blocks = _with_a_place(reader, line, asked, counts)
    inner = reader.attempt(partial(setting.made, cell, reader.how), line.row)
    if inner is not None:
        reader.add(inner, line.row)
    return blocks, setting, inner


def _plain(reader: Reader, blocks: Sequence[Block], setting: Setting) -> AskedBlocks:
    """The plain blocks that lie between the others.

    Raises
    ------
    Problem
        Where the others are more than there are places left, or none are there.
    """
    shown = [block for block in blocks if block.patches]
    plain = setting.plain_block(shown[0].size, reader.how) if shown else None
    if plain is None:
        what = "plain blocks lie between others, and there are none"
        raise Problem("setting", what, "write blocks, or set more than one")
    others = sum(block.count for block in shown)
    left = setting.places - plain.count
    if others > left:
        told = f"every other block is plain: {plain.count} of {setting.places}"
        what = f"{told}, so that {left} others have a place, and {others} are said"
        raise Problem("setting", what, f"make {left} blocks, or set more of them")
    return AskedBlocks(
        text=plain.name,
        count=plain.count,
        make=lambda count: replace(plain, count=count),
    )


def _setting_reads(reader: Reader) -> bool:
    """Whether the setting is understood by itself, whatever the blocks are; what is wrong with it is noted."""
    line = reader.one("setting")
    if line is None or is_found(line.text):
        return True
    read = partial(setting_of, line.text, reader.how, reader.known)
    return reader.attempt(read, line.row) is not None


def _setting(reader: Reader, line: Line, blocks: Sequence[Block]) -> Setting | None:
    """The setting as it is said, or as large as the blocks make it."""
    if not is_found(line.text):
        read = partial(setting_of, line.text, reader.how, reader.known)
        said = reader.attempt(read, line.row)
        reader.notes += stones_told(line.text, said)
        return said
    around = _around(reader)
    if around is None:
        return None
    found = reader.attempt(
        partial(found_setting, line.text, blocks, around, reader.how, reader.known),
        line.row,
    )
    if found is None:
        return None
    setting, notes = found
    reader.notes += (*notes, *stones_told(line.text, setting))
    return setting


def _around(reader: Reader) -> tuple[Exact, Exact] | None:
    """What all borders add at the sides and at top and bottom; None where one goes by what is set, which is told.

    A border that is not understood adds nothing: it is told where it is made.
    """
    sides = ends = ZERO
    for line in border_lines(reader):
        if is_coping(line.text, reader.known):
            what = "a coping strip goes by the size of what is set, and that is to be found"
            mend = "say how many blocks are across and down, or how wide this border is"
            reader.note(Problem("borders", what, mend), line)
            return None
        try:
            wide, high = widths_said(line.text, reader.how, reader.known)
        except Problem:
            continue
        sides, ends = sides + wide, ends + high
    return sides, ends


def _place(
    reader: Reader, blocks: Sequence[Block], setting: Setting
) -> tuple[Exact, Exact]:
    """The size of a place; what does not go together names the lines of the blocks too."""
    try:
        return check_places(blocks, setting, reader.how)
    except Problem as problem:
        rows = sorted({line.row for line in reader.all("blocks")})
        if not blocks or not rows:
            raise
        first, last = rows[0], rows[-1]
        if len(rows) == 1:
            lines = f"row {first}"
        else:
            lines = f"rows {first} to {last}"
        what = f"{problem.what} (blocks in {lines})"
        raise Problem(problem.field, what, problem.mend) from problem


def _with_a_place(
    reader: Reader, line: Line, asked: Sequence[Asked], counts: Sequence[int]
) -> list[Block]:
    """So many of each kind of block, their rows added; what has no place is not cut, and that is told."""
    blocks = []
    without = []
    for (at, each), count in zip(asked, counts, strict=True):
        wanted = each.count or 1
        if count < wanted:
            name = each.block().name
            without.append(f"{wanted - count} of {wanted} {name}")
        if count:
            kept = each.block(count)
            reader.add(kept.made, at.row)
            blocks.append(kept)
    if without:
        what = f"there is no place for {' and '.join(without)}, so they are not cut"
        mend = "set more blocks, or ask for spares under [how]"
        notice = Problem("setting", what, mend)
        reader.notes.append(notice.sentence)
        if not is_found(line.text):
            reader.log.tell(notice, reader.file, line.row)
    return blocks


def borders_of(reader: Reader, inner: Made | None) -> list[Border]:
    """The borders round what is set or measured, none where one of them is not understood; each mistake is noted."""
    lines = border_lines(reader)
    refused = [line for line in reader.all("borders") if _no_border(line)]
    if lines and refused:
        what = f'"{refused[0].text}" stands beside borders'
        mend = "leave it out, or all others"
        reader.note(Problem("borders", what, mend), refused[0])
    if lines and not reader.all("setting") and not reader.all("top"):
        what = "there is nothing to put a border round"
        mend = (
            'write a setting, such as "4 across, 5 down", or a top, such as "58 x 66"'
        )
        reader.note(Problem("borders", what, mend), lines[0])
    borders: list[Border] = []
    sound = True
    inside = (inner.width, inner.length) if inner else None
    for number, line in enumerate(lines, 1):
        if number == 1:
            name = "border"
        else:
            name = f"border {number}"
        then = lines[number].text if number < len(lines) else ""
        make = partial(
            one_border, line.text, inside, reader.how, name, reader.known, then
        )
        border = reader.attempt(make, line.row)
        if border is None or inside is None:
            sound = False
            inside = None
            continue
        borders.append(border)
        reader.add(border.made, line.row)
        inside = (border.made.width, border.made.length)
    return borders if sound else []


def border_lines(reader: Reader) -> list[Line]:
    """The sentences of borders, each by itself; none where there is to be none."""
    kept = [line for line in reader.all("borders") if not _no_border(line)]
    apart = []
    for line in kept:
        texts = borders_in(line.text, reader.how, reader.known)
        apart += [Line(text, line.row) for text in texts]
    return apart


def _no_border(line: Line) -> bool:
    return is_refused(line) or line.text.lower() in ("no border", "no borders")


def measured_of(reader: Reader) -> tuple[Top | None, Made | None]:
    """The top that is there, and what borders go round of it: nothing where none are said.

    Borders are cut to the middle of the top.
    """
    line = reader.one("top")
    if line is None:
        return None, None
    top = reader.attempt(partial(_measured, reader, line), line.row)
    borders = border_lines(reader)
    if top is None or not borders or reader.one("setting") is not None:
        return top, None
    if top.base == "trimmed":
        what = "a quilt that is quilted and trimmed gets no borders"
        mend = 'take them out, or write measured = "raw top"'
        reader.note(Problem("measured", what, mend), reader.one("measured") or line)
        return top, None
    reader.notes += top.told_middle(reader.how)
    width, length = top.middle(reader.how)
    return top, Made(wanted=(), width=width, length=length)


def top_of(
    reader: Reader,
    measured: Top | None,
    inner: Made | None,
    borders: Sequence[Border],
    aim: tuple[Exact, Exact] | None,
) -> Top | None:
    """The top: as it is measured, as blocks and borders make it, or as large as it is to be.

    Parameters
    ----------
    reader : Reader
    measured : Top or None
        The one that is there.
    inner : Made or None
        What is set, or the middle of the one that is there.
    borders : sequence of Border
    aim : (exact, exact) or None
        The size that a bed or a use wants.
    """
    if reader.one("top") is not None:
        if measured is not None and borders:
            return measured.with_borders(*all_widths(borders), reader.how)
        return measured
    said = reader.one("measured")
    if said is not None:
        what = f'"{said.text}" is said of a top, and there is none'
        mend = "write a top, or take it out"
        reader.note(Problem("measured", what, mend), said)
    if inner is not None:
        if borders:
            last = borders[-1].made
        else:
            last = inner
        return Top.finished(last.width, last.length, reader.how)
    if aim is not None and not reader.all("setting") and not reader.all("blocks"):
        return Top.measured(*aim, reader.how, "trimmed")
    return None


def _measured(reader: Reader, line: Line) -> Top:
    base = one_of("measured", reader.text("measured") or "raw top", _BASES)
    return Top.read(line.text, reader.how, base)
