"""What goes round, under and behind a top: its binding, sleeve, backing and batting."""

from __future__ import annotations

from functools import partial
from typing import Final

from cutopt.errors import Problem
from cutopt.quilt.articles import hanging_sleeve
from cutopt.quilt.binding import binding as binding_sums
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.top import Top
from cutopt.quilt.wanted_parts import ClothLike, Made
from cutopt.tables.log import Line, Placed
from cutopt.tables.recipe.part_sentences import backing_words, binding_words
from cutopt.tables.recipe.reader import Reader, is_refused

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
        return ""
    at = line or reader.one("top") or reader.one("setting") or Line("", 1)
    how: Conventions = reader.how
    of: ClothLike = None
    if line is not None:
        found = reader.attempt(partial(binding_words, line.text, reader.how), at.row)
        if found is None:
            return ""
        how, of = found
    size = top.size(how.binding_from, how)
    made = reader.attempt(partial(binding_sums, *size, of, how, "binding"), at.row)
    if made is not None:
        reader.add(made, at.row)
    if line:
        return line.text
    return "any fabric"


def sleeve_of(reader: Reader, top: Top | None) -> None:
    """Add the sleeve to hang a quilt by, where one is asked for."""
    line = reader.asked("sleeve", top, "there is no quilt to hang")
    if line is None or top is None:
        return
    made = reader.attempt(partial(_sleeve, line.text, top, reader.how), line.row)
    if made is not None:
        reader.add(made, line.row)


def _sleeve(text: str, top: Top, how: Conventions) -> Made:
    """A sentence that begins with "from" has the words of a binding, any other names the fabric alone."""
    of: ClothLike = text
    if text.startswith("from "):
        _, of = binding_words(text, how)
    width, _ = top.size("trimmed", how)
    return hanging_sleeve(width, of, how)


def backing_of(reader: Reader, top: Top | None) -> tuple[tuple[str, ...] | None, bool]:
    """Fabrics to back it with, and whether the print stands up; what is said of seams becomes a convention."""
    line = reader.asked("backing", top, _NOTHING_ABOVE)
    if line is None:
        return None, False
    found = reader.attempt(partial(backing_words, line.text, reader.how), line.row)
    if found is None:
        return None, False
    words, reader.how, upright = found
    reader.named["backing"] = Placed(words, reader.file, line.row)
    return words, upright


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
    fabrics = line.text.partition(",")[0]
    found = reader.attempt(partial(backing_words, fabrics, reader.how), line.row)
    if found is None:
        return None
    words, _, _ = found
    reader.named["batting"] = Placed(words, reader.file, line.row)
    return words
