"""The patchwork of a quilt: blocks, what is set between them, borders, and the top that they make."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import Final, TypeAlias, get_args

from cutopt.errors import Problem
from cutopt.fabric import one_of
from cutopt.quilt.conventions import Base
from cutopt.quilt.recipe.block import Block
from cutopt.quilt.recipe.dealt import check_places, span, with_a_place
from cutopt.quilt.recipe.setting import Border, Setting
from cutopt.quilt.surds import ZERO, Exact, exact
from cutopt.quilt.top import Top
from cutopt.quilt.wanted_parts import Made
from cutopt.tables.log import Line
from cutopt.tables.recipe.kinds import block_of
from cutopt.tables.recipe.part_sentences import border_of, setting_of
from cutopt.tables.recipe.reader import Reader
from cutopt.tables.recipe.sizes_and_beds import Bed, found_setting, is_found

# a block with the line that asks for it
Said: TypeAlias = tuple[Line, Block]
_BASES: Final[tuple[Base, ...]] = get_args(Base)


def blocks_of(reader: Reader) -> list[Said]:
    """The blocks that are understood, each with its line."""
    blocks = []
    for line in reader.all("blocks"):
        block = reader.attempt(partial(block_of, line.text, reader.how), line.row)
        if block is not None:
            blocks.append((line, block))
    return blocks


def set_blocks(
    reader: Reader, said: Sequence[Said]
) -> tuple[list[Block], Setting | None, Made | None]:
    """The blocks that have a place, the setting, and what is set between them."""
    blocks = [block for _, block in said]
    line = reader.one("setting")
    setting = None
    cell = None
    if line is not None and len(blocks) == len(reader.all("blocks")):
        setting = _setting(reader, line, blocks)
    if line is not None and setting is not None:
        cell = reader.attempt(partial(_place, reader, blocks, setting), line.row)
    if line is None or setting is None or cell is None:
        for at, block in said:
            reader.add(block.made, at.row)
        return blocks, None, None
    counts = with_a_place(blocks, setting, cell)
    left_over = [
        block.count - count
        for block, count in zip(blocks, counts, strict=True)
        if span(block, cell) == (1, 1)
    ]
    reader.unplaced = sum(left_over)
    blocks = _with_a_place(reader, line, said, counts)
    inner = reader.attempt(partial(setting.made, cell, reader.how), line.row)
    if inner is not None:
        reader.add(inner, line.row)
    return blocks, setting, inner


def _setting(reader: Reader, line: Line, blocks: Sequence[Block]) -> Setting | None:
    """The setting as it is said, or as large as the blocks make it."""
    if not is_found(line.text):
        return reader.attempt(partial(setting_of, line.text, reader.how), line.row)
    around = ZERO
    for border in reader.all("borders"):
        around += _border_width(reader, border)
    found = reader.attempt(
        partial(found_setting, line.text, blocks, around, reader.how), line.row
    )
    if found is None:
        return None
    setting, notes = found
    reader.notes += notes
    return setting


def _border_width(reader: Reader, line: Line) -> Exact:
    """The width of a border by its sentence, 0 where it is not understood: it is told where it is made."""
    one = exact(reader.how.read("1 m"))
    try:
        return border_of(line.text, (one, one), reader.how, "border").width
    except Problem:
        return ZERO


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
    reader: Reader, line: Line, said: Sequence[Said], counts: Sequence[int]
) -> list[Block]:
    """So many of each kind of block, their rows added; what has no place is not cut, and that is told."""
    blocks = []
    without = []
    for (at, block), count in zip(said, counts, strict=True):
        if count < block.count:
            without.append(f"{block.count - count} of {block.count} {block.name}")
        if count:
            kept = block_of(at.text, reader.how, count)
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
    """The borders round what is set, none where one of them is not understood."""
    lines = reader.all("borders")
    if lines and not reader.all("setting") and not reader.all("top"):
        what = "there is nothing to put a border round"
        mend = 'write a setting, such as "4 across, 5 down"'
        reader.note(Problem("borders", what, mend), lines[0])
    if inner is None:
        return []
    borders = []
    inside = (inner.width, inner.length)
    for number, line in enumerate(lines, 1):
        if number == 1:
            name = "border"
        else:
            name = f"border {number}"
        border = reader.attempt(
            partial(border_of, line.text, inside, reader.how, name), line.row
        )
        if border is None:
            return []
        borders.append(border)
        reader.add(border.made, line.row)
        inside = (border.made.width, border.made.length)
    return borders


def top_of(
    reader: Reader, inner: Made | None, borders: Sequence[Border], bed: Bed | None
) -> Top | None:
    """The top: as it is measured, as blocks and borders make it, or as a bed wants it.

    Parameters
    ----------
    reader : Reader
    inner : Made or None
        What is set.
    borders : sequence of Border
    bed : Bed or None
    """
    line = reader.one("top")
    if line is not None:
        return reader.attempt(partial(_measured, reader, line), line.row)
    measured = reader.one("measured")
    if measured is not None:
        what = f'"{measured.text}" is said of a top, and there is none'
        mend = "write a top, or take it out"
        reader.note(Problem("measured", what, mend), measured)
    if inner is not None:
        if borders:
            last = borders[-1].made
        else:
            last = inner
        return Top.finished(last.width, last.length, reader.how)
    if bed is not None and not reader.all("setting") and not reader.all("blocks"):
        return Top.measured(bed.width, bed.length, reader.how, "trimmed")
    return None


def _measured(reader: Reader, line: Line) -> Top:
    base = one_of("measured", reader.text("measured") or "raw top", _BASES)
    return Top.read(line.text, reader.how, base)
