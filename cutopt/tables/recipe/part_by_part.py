"""From what is said of a quilt to wanted rows, part after part, each with its line and its arithmetic."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import partial

from cutopt.errors import Problem
from cutopt.quilt.beds import Bed
from cutopt.quilt.recipe.quilt import Quilt
from cutopt.quilt.surds import Exact
from cutopt.quilt.top import Top
from cutopt.tables.log import Placed
from cutopt.tables.recipe.beds_and_uses import (
    UseSaid,
    bed_of,
    says_drop,
    use_named,
)
from cutopt.tables.recipe.kinds.articles import article_of
from cutopt.tables.recipe.parts_beside_top import (
    backing_of,
    batting_of,
    binding_of,
    pieced_back_of,
    sleeve_of,
)
from cutopt.tables.recipe.parts_of_top import (
    blocks_of,
    borders_of,
    measured_of,
    set_blocks,
    top_of,
)
from cutopt.tables.recipe.reader import Reader
from cutopt.tables.recipe.sentences_of_backs import BackOfQuilt
from cutopt.wanted import Wanted


@dataclass(slots=True)
class QuiltFile:
    """The quilt, each wanted row with the line that made it, the words said of its backing and batting, its pieced back."""

    quilt: Quilt
    rows: list[Placed[Wanted]] = field(default_factory=list)
    named: dict[str, Placed[tuple[str, ...]]] = field(default_factory=dict)
    back: Placed[BackOfQuilt] | None = None


def quilt_from(reader: Reader) -> QuiltFile:
    """The quilt that the sentences of a reader make, as far as they can be understood."""
    _note_two_ways(reader)
    blocks, setting, inner = set_blocks(reader, blocks_of(reader))
    measured, middle = measured_of(reader)
    inner = inner or middle
    borders = borders_of(reader, inner)
    bed = _bed(reader)
    use = _use(reader)
    top = top_of(reader, measured, inner, borders, _aim(bed, use))
    _note_aim(reader, use, top)
    # a binding that is the backing brought round goes by the overage that is said of it
    backing, upright = backing_of(reader, top)
    binding = binding_of(reader, top)
    sleeve_of(reader, top)
    _add_articles(reader)
    backed = backing is not None or reader.pieced is not None
    batting = batting_of(reader, top, backed=backed)
    quilt = Quilt(
        how=reader.how,
        wanted=tuple(placed.value for placed in reader.rows),
        notes=_notes(reader, top, bed),
        spare=tuple(spare for made in reader.made for spare in made.spare),
        held=tuple(held for made in reader.made for held in made.held),
        blocks=tuple(blocks),
        setting=setting,
        unplaced=reader.unplaced,
        borders=tuple(borders),
        top=top,
        inner=inner,
        use=use.name if use else "",
        label=reader.text("label"),
        backing=backing,
        backing_upright=upright,
        batting=batting,
        binding=binding,
    )
    return QuiltFile(
        quilt=quilt,
        rows=reader.rows,
        named=reader.named,
        back=pieced_back_of(reader, top),
    )


def _note_two_ways(reader: Reader) -> None:
    """A top is there or made: not both."""
    top = reader.one("top")
    made = reader.one("setting")
    if top is not None and made is not None:
        what = f"a top that is there is given here, and a setting in row {made.row}"
        reader.note(Problem("top", what, "keep the top or the setting"), top)


def _bed(reader: Reader) -> Bed | None:
    line = reader.one("bed")
    said = reader.one("use")
    if line is None and said is not None and says_drop(said.text):
        line = said
    if line is None:
        return None
    return reader.attempt(partial(bed_of, line.text, reader.how), line.row)


def _aim(bed: Bed | None, use: UseSaid | None) -> tuple[Exact, Exact] | None:
    """The size that a quilt is to have: that of its bed, or that which is said of its use."""
    if bed is not None:
        return bed.width, bed.length
    return use.size if use is not None else None


def _note_aim(reader: Reader, use: UseSaid | None, top: Top | None) -> None:
    """What was said beside a use, and a size that was aimed at beside the one that comes of the parts."""
    if use is None:
        return
    reader.notes += use.notes
    if use.size is None or top is None:
        return
    size = top.size("finished", reader.how)
    fits = all(side <= most for side, most in zip(size, use.size, strict=True))
    if size == use.size or (use.at_most and fits):
        return
    said, made = (reader.how.size(*each) for each in (use.size, size))
    most = "at most " if use.at_most else ""
    reader.notes.append(f"use: {most}{said} is said, and it finishes {made}")


def _add_articles(reader: Reader) -> None:
    for line in reader.all("articles"):
        read = partial(article_of, line.text, reader.how, reader.known)
        made = reader.attempt(read, line.row)
        if made is not None:
            reader.add(made, line.row)


def _use(reader: Reader) -> UseSaid | None:
    line = reader.one("use")
    if line is None:
        return None
    if says_drop(line.text) and reader.one("bed") is None:
        # what is wrong with it is told where its bed is read
        try:
            return use_named(line.text, reader.how)
        except Problem:
            return None
    return reader.attempt(partial(use_named, line.text, reader.how), line.row)


def _notes(reader: Reader, top: Top | None, bed: Bed | None) -> tuple[str, ...]:
    """What is to be known of the quilt, each thing once."""
    notes = list(reader.notes)
    if top is not None:
        notes += top.out_of_square(reader.how)
        notes += bed.remarks(top, reader.how) if bed else ()
    for made in reader.made:
        notes += made.notes
    return tuple(dict.fromkeys(notes))
