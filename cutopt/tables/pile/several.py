"""Several leftovers in one line, each of which reads alone: ``2 navy 9 x 22, 1 navy 14 x 6``, ``navy: 5 x 7, 4 x 9``."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import partial
from typing import Final, TypeAlias

from cutopt.colours import said_colour
from cutopt.errors import Problem
from cutopt.tables.pile.asked_back import NotUnderstood
from cutopt.tables.pile.block_line import BlockLine, is_of_blocks
from cutopt.tables.pile.line import PileLine, without_note
from cutopt.tables.pile.mends import mended
from cutopt.tables.pile.phrases import COUNTED
from cutopt.tables.pile.settling import number_of, settled
from cutopt.tables.pile.stock import Stock
from cutopt.tables.pile.tokens import tokens_of

Line: TypeAlias = PileLine | BlockLine
_NAMED: Final = re.compile(r"\s*([^:,#\"]+):\s*(?=\S)")
# a name that a maker gives a piece: oat-3, no words before a list
_OF_A_PIECE: Final = re.compile(r".*\d$")
_BETWEEN: Final = re.compile(r"\s*[,;+]\s*(?:and\s+|plus\s+)?|\s+(?:and|plus)\s+")
_FABRICS: Final = re.compile(r"\s*,\s*(?:and\s+)?|\s+and\s+|\s*[&+]\s*")
_OF_EACH: Final = re.compile(
    r"(.+?)\W+(\d+|one|two|three|four|five|six)\s+(?:of\s+)?each\W*", re.IGNORECASE
)
_MOST: Final = 20
_LONGEST: Final = 400
# what is said of one piece, with a size of its own
_OF_ONE: Final = re.compile(
    r"\b(?:stain|hole|tear|flaw|spot|mark|burn|rip|notch|bite|corner|missing|usable|less\b|minus)",
    re.IGNORECASE,
)


def name_of(text: str) -> tuple[str, str]:
    """The name that a line gives its piece, "" where it gives none, and the rest of the line."""
    named_line = _NAMED.match(text)
    if named_line:
        return (named_line[1].strip(), text[named_line.end() :])
    return ("", text)


def leftovers(text: str, stock: Stock) -> list[tuple[str, Line]]:
    """Each leftover of a line, read, with the name that the line gives it, "" for none.

    Parameters
    ----------
    text : str
        Without comment.
    stock : Stock

    Raises
    ------
    Problem
        Where the line cannot be read in any way: what is wrong with it as one leftover.
    """
    given, body = name_of(text)
    if given and _says_how_many(given):
        given, body = "", _joined(text)
    try:
        return [(given, _read(body, stock))]
    except Problem as problem:
        for bodies in _other_ways(given, body, stock):
            lines = _all_read(bodies, stock) if bodies else []
            if lines:
                return [("", line) for line in lines]
        if isinstance(problem, NotUnderstood):
            raise mended(problem, partial(_wrong, stock=stock)) from None
        raise


def _read(body: str, stock: Stock) -> Line:
    said, note = without_note(body)
    if is_of_blocks(said, stock.known):
        blocks = BlockLine(text=body, stock=stock, note=note)
        blocks.read(said)
        return blocks
    line = PileLine(text=body, stock=stock)
    line.read()
    return line


def _wrong(body: str, stock: Stock) -> Problem | None:
    """What is wrong with a line of one leftover, None where it reads."""
    try:
        _read(body, stock)
    except Problem as problem:
        return problem
    return None


def _all_read(bodies: list[str], stock: Stock) -> list[Line]:
    """The lines, none where one of them cannot be read."""
    try:
        return [_read(body, stock) for body in bodies]
    except Problem:
        return []


def _joined(text: str) -> str:
    """A line with a comma for the colon that parts what is no name."""
    return _NAMED.sub(lambda match: f"{match[1].strip()}, ", text, count=1)


def _says_how_many(given: str) -> bool:
    """Whether words before a colon are no name but a part of the line: ``4 strips: bark 2 1/2 x 38``."""
    tokens = settled(tokens_of(given))
    if any(token.kind in ("plain", "name") for token in tokens):
        return False
    counted = any(number_of(token) is not None for token in tokens)
    return counted and any(token.is_a(*COUNTED) for token in tokens)


def _other_ways(given: str, body: str, stock: Stock) -> Iterator[list[str]]:
    """Lines of one leftover each that a line may stand for, the likeliest first."""
    if len(body) > _LONGEST:
        return
    if given and not _OF_A_PIECE.match(given):
        yield [f"{given}, {body}"]
    if _OF_ONE.search(body):
        return
    if given and not _OF_A_PIECE.match(given):
        # navy: 5 x 7, 4 x 9
        parts = _BETWEEN.split(body)
        if len(parts) > 1:
            yield [f"{given}, {part}" for part in parts]
            yield [f"{_of_one(given)}, {part}" for part in parts]
        body = f"{given}, {body}"
    elif given:
        return
    yield from _of_sizes(body, stock)
    yield from _of_fabrics(body, stock)
    yield _one_of_each(body)


def _of_one(given: str) -> str:
    """Words before a list, of one instead of several: ``cream offcut`` of ``cream offcuts``."""
    told = given
    for token in settled(tokens_of(given)):
        if token.means is not None and token.means.many and token.is_a("form"):
            told = told.replace(token.text, token.text.removesuffix("s"), 1)
    return told


def _of_sizes(body: str, stock: Stock) -> Iterator[list[str]]:
    """Parts with a size each; those without a fabric are of the first one's."""
    parts = [part for part in _BETWEEN.split(body) if part]
    yield _all_as(parts[:1], parts[1:], stock)
    yield _all_as(parts[-1:], parts[:-1], stock)[::-1]
    yield _all_of_last_fabric(parts, stock)
    yield _all_of_last_size(parts, stock)
    for some in _put_together(parts):
        if 1 < len(some) <= _MOST and _is_sound(some, stock):
            yield some
            fabric = _one_of(some[0], stock)
            if fabric:
                named = (_of_fabric(part, fabric) for part in some[1:])
                yield [some[0], *named]


def _all_of_last_size(parts: list[str], stock: Stock) -> list[str]:
    """Parts without a size, and the size of all behind them: ``5 red strips and 4 blue strips, 2 1/2 x WOF``."""
    *some, last = parts or [""]
    tokens = settled(tokens_of(last, stock.known))
    if any(token.kind in ("plain", "name") for token in tokens) or len(some) < 2:
        return []
    if any(_wrong(part, stock) is None for part in some):
        return []
    if not all(_counts(part) for part in some):
        return []
    return [f"{part}, {last}" for part in some]


def _counts(part: str) -> bool:
    """Whether a part says how many there are."""
    return any(number_of(token) is not None for token in settled(tokens_of(part)))


def _all_of_last_fabric(parts: list[str], stock: Stock) -> list[str]:
    """Parts without a fabric, and that of all behind them: ``four 10" squares, four 5" squares, all tan``."""
    *some, last = parts or [""]
    name = re.sub(r"^all\s+", "", last.strip(" .!"))
    tokens = settled(tokens_of(name, stock.known))
    if not tokens or any(token.kind not in ("plain", "name") for token in tokens):
        return []
    if len(some) < 2 or any(_of_fabric(part, name) == part for part in some):
        return []
    return [_of_fabric(part, name) for part in some]


def _all_as(pattern: list[str], others: list[str], stock: Stock) -> list[str]:
    """Parts that say no more than how many of which fabric, as another: ``10 squares of 5 mist, 12 of plum``.

    Parameters
    ----------
    pattern : list of str
        The other, if there is one.
    others : list of str
    stock : Stock
    """
    first = "".join(pattern)
    tokens = settled(tokens_of(first, stock.known))
    counts = [token for token in tokens if number_of(token) is not None]
    names = [token for token in tokens if token.kind in ("plain", "name")]
    if not counts or not names or not others:
        return []
    made = [first]
    for part in others:
        told = settled(tokens_of(part, stock.known))
        number = [token for token in told if number_of(token) is not None]
        named = [token for token in told if token.kind in ("plain", "name")]
        rest = (token for token in told if token not in (*number, *named))
        if len(number) != 1 or not named or not all(t.is_a("filler") for t in rest):
            return []
        name = part[named[0].start : named[-1].end]
        line = first[: names[0].start] + name + first[names[-1].end :]
        made.append(line.replace(counts[0].text, number[0].text, 1))
    return made


def _put_together(parts: list[str]) -> Iterator[list[str]]:
    """The parts as they stand, and with those that have no figures put to the one before."""
    yield parts
    some: list[str] = []
    for part in parts:
        if some and not re.search(r"\d", part):
            some[-1] += f", {part}"
        else:
            some.append(part)
    # words behind all of them may be said of each, or of the last
    if some != parts and some[-1] == parts[-1]:
        yield some


def _is_sound(parts: list[str], stock: Stock) -> bool:
    """Whether a word in each part that would name a fabric is most likely one: a colour, or behind how many."""
    for part in parts[1:]:
        tokens = settled(tokens_of(part, stock.known))
        named = [token for token in tokens if token.kind in ("plain", "name")]
        if not named or number_of(tokens[0]) is not None:
            continue
        name = part[named[0].start : named[-1].end].lower()
        if name not in stock.fabrics and not said_colour(name):
            return False
    return True


def _of_fabric(part: str, fabric: str) -> str:
    """A part with the fabric where it names none."""
    tokens = settled(tokens_of(part))
    if any(token.kind in ("plain", "name") for token in tokens):
        return part
    return f"{part} {fabric}"


def _one_of(part: str, stock: Stock) -> str:
    """The fabric of a part that tells of one leftover; "" where of several, or of none."""
    try:
        line = _read(part, stock)
    except Problem:
        return ""
    if line.count > 1 or isinstance(line, BlockLine):
        return ""
    return line.fabric


def _one_of_each(body: str) -> list[str]:
    """``red, blue and green fat quarters, one of each`` are a line for each fabric."""
    match = _OF_EACH.fullmatch(body)
    if match is None:
        return []
    tokens = settled(tokens_of(match[1]))
    plain = [token for token in tokens if token.kind in ("plain", "name")]
    if not plain or tokens[0] is not plain[0]:
        return []
    end = plain[-1].end
    names = [name for name in _FABRICS.split(match[1][:end]) if name]
    if len(names) < 2:
        return []
    return [f"{match[2]} {name}{match[1][end:]}" for name in names]


def _of_fabrics(body: str, stock: Stock) -> Iterator[list[str]]:
    """``three fat eighths: pear, gold and plum`` are one of each; ``2 fat quarters each of pear and plum`` two."""
    tokens = settled(tokens_of(body, stock.known))
    numbers = [at for at, token in enumerate(tokens) if number_of(token) is not None]
    plain = [at for at, token in enumerate(tokens) if token.kind in ("plain", "name")]
    if not numbers or not plain:
        return
    count = tokens[numbers[0]]
    start, end = tokens[plain[0]].start, tokens[plain[-1]].end
    names = [name for name in _FABRICS.split(body[start:end]) if name]
    each = any(token.text.lower() in ("each", "of each") for token in tokens)
    if len(names) < 2 or numbers[0] > plain[0]:
        return
    so_many = number_of(count)
    if so_many != len(names) and not each:
        return
    number = str(so_many) if each else "1"
    head = body[: count.start] + number + body[count.end : start]
    head = re.sub(r"\beach\b(?:\s+of\b)?", "", head)
    yield [f"{head}{name}{body[end:]}" for name in names]
