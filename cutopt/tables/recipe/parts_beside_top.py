"""What goes round, under and behind a top: its binding, sleeve, backing and batting."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from typing import Final

from cutopt.errors import Problem
from cutopt.quilt.articles import hanging_sleeve
from cutopt.quilt.binding import binding as binding_sums
from cutopt.quilt.top import Top
from cutopt.quilt.wanted_parts import Made
from cutopt.tables.log import Line, Placed
from cutopt.tables.recipe.reader import Reader, is_refused
from cutopt.tables.recipe.sentences_beside_top import backing_words, batting_words
from cutopt.tables.recipe.sentences_of_backs import (
    BackOfQuilt,
    back_of_quilt,
    is_pieced,
    pieced_words,
)
from cutopt.tables.recipe.sentences_of_edges import Edge, binding_words, sleeve_words
from cutopt.tables.recipe.wording import pieced_from_any
from cutopt.tables.sentences.rules import all_cloths, refuse_unused

_NOTHING_ABOVE: Final = "there is no quilt to put it under"


def binding_of(reader: Reader, top: Top | None) -> str:
    """Add the binding, which every top has unless it is refused; what is said of it, "" without one."""
    line = reader.one("binding")
    if line is not None and is_refused(line):
        return "none"
    if top is None:
        if line is not None and reader.sound:
            mend = "write a top, or a setting"
            reader.note(Problem("binding", "there is no size to bind", mend), line)
        if line is not None:
            # what is wrong with its words is told whether there is a top or not
            words = partial(binding_words, line.text, reader.how, reader.known)
            reader.attempt(words, line.row)
        return ""
    at = line or reader.one("top") or reader.one("setting") or Line("", 1)
    edge = None
    if line is not None:
        read = partial(binding_words, line.text, reader.how, reader.known)
        edge = reader.attempt(read, at.row)
        if edge is None:
            return ""
    if edge is not None and not edge.bound:
        reader.how = edge.how
        reader.notes += edge.notes
        return "the backing, brought round to the front"
    if edge is not None:
        reader.notes += edge.notes
    made = reader.attempt(partial(_bound, reader, top, edge), at.row)
    if made is not None:
        reader.add(made, at.row)
    if line:
        return line.text
    return "any fabric"


def _bound(reader: Reader, top: Top, edge: Edge | None) -> Made:
    how = reader.how
    if edge is None:
        return binding_sums(*top.size(how.binding_from, how), None, how, "binding")
    how = edge.how
    size = top.size(how.binding_from, how)
    made = binding_sums(*size, edge.cloths, how, "binding", parts=edge.parts)
    refuse_unused(edge.said.text, "binding", all_cloths(edge.said), made.wanted)
    return made


def sleeve_of(reader: Reader, top: Top | None) -> None:
    """Add the sleeve to hang a quilt by, where one is asked for."""
    line = reader.asked("sleeve", top, "there is no quilt to hang")
    if line is None:
        return
    if top is None:
        words = partial(sleeve_words, line.text, reader.how, reader.known)
        reader.attempt(words, line.row)
        return
    made = reader.attempt(partial(_sleeve, reader, line.text, top), line.row)
    if made is not None:
        reader.add(made, line.row)


def _sleeve(reader: Reader, text: str, top: Top) -> Made:
    said = sleeve_words(text, reader.how, reader.known)
    width, _ = top.size("trimmed", reader.how)
    made = hanging_sleeve(width, said.of, said.how, said.deep)
    refuse_unused(text, "sleeve", all_cloths(said.said), made.wanted)
    return made


def backing_of(reader: Reader, top: Top | None) -> tuple[tuple[str, ...] | None, bool]:
    """Fabrics to back it with, and whether the print stands up; what is said of seams becomes a convention.

    None where no backing is bought: none is asked for, or it is pieced from what there is.
    """
    line = reader.asked("backing", top, _NOTHING_ABOVE)
    if line is None:
        return None, False
    line = replace(line, text=pieced_from_any(line.text, reader.known))
    if is_pieced(line.text):
        _read_pieced(reader, line)
        return None, False
    found = reader.attempt(
        partial(backing_words, line.text, reader.how, reader.known), line.row
    )
    if found is None:
        return None, False
    words, reader.how, upright, notes = found
    reader.notes += notes
    reader.named["backing"] = Placed(words, reader.file, line.row)
    return words, upright


def _read_pieced(reader: Reader, line: Line) -> None:
    """Keep what is said of a back that is pieced from what there is."""
    read = partial(pieced_words, line.text, reader.how, reader.known)
    said = reader.attempt(read, line.row)
    if said is None:
        return
    reader.pieced = Placed(said, reader.file, line.row)
    reader.how = said.how
    words = (*said.fabrics, *filter(None, [said.rules.get("main")]))
    reader.named["backing"] = Placed(words, reader.file, line.row)


def pieced_back_of(reader: Reader, top: Top | None) -> Placed[BackOfQuilt] | None:
    """The back that is to be pieced, as large as all that is said of the quilt asks."""
    if reader.pieced is None or top is None:
        return None
    back = back_of_quilt(reader.pieced.value, top, reader.how)
    return Placed(back, reader.file, reader.pieced.row)


def batting_of(
    reader: Reader, top: Top | None, *, backed: bool
) -> tuple[str, ...] | None:
    """Batting to look at; it comes with the backing unless it is refused.

    Parameters
    ----------
    reader : Reader
    top : Top or None
    backed : bool
        Whether a backing is asked for.
    """
    if reader.one("batting") is None:
        if backed:
            return ()
        return None
    line = reader.asked("batting", top, _NOTHING_ABOVE)
    if line is None:
        return None
    read = partial(batting_words, line.text, reader.how, reader.known)
    found = reader.attempt(read, line.row)
    if found is None:
        return None
    words, reader.how, notes = found
    reader.notes += notes
    reader.named["batting"] = Placed(words, reader.file, line.row)
    return words
