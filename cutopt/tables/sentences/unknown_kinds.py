"""What is told of a sentence that names no kind that is known: the nearest ones, each in a sentence that was tried."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from typing import Final, TypeAlias, TypeVar

from cutopt.errors import Problem
from cutopt.lengths import NUMBER_WORDS, TENS
from cutopt.tables.columns import nearest
from cutopt.tables.sentences.mends import NotUnderstood, runs
from cutopt.tables.sentences.vocabulary import Kind
from cutopt.tables.sentences.words import FILLERS, Words

# kinds that anybody reads in one sentence
_MOST_TOLD: Final = 12
# shapes of any outline, sewn on a background
_SHAPES: Final = re.compile(
    r"appliqu|dresden|\bfans?\b|\bplates?\b|orange peels?|sunbonnet|\bhearts?\b",
    re.IGNORECASE,
)
_SHAPES_ON: Final = "14 squares of 8 from oat and 14 applique pieces of 6 x 5 from plum"
# strips of any width, which are trimmed when they are sewn
_STRINGS: Final = re.compile(r"\b(?:strings?|crazy|crumbs?)\b", re.IGNORECASE)
BY_ROWS: Final = (
    "9 blocks of 4 made of rows: 1 end of 4 x 2 from oat; "
    "1 side of 2 x 2 from plum + 1 middle of 2 x 2 from oat"
)
"""A block that has no name here, said by what it is sewn from."""
_CHECKED: Final = {
    "4": "four patches",
    "9": "nine patches",
    "16": "sixteen patches",
    "25": "twenty-five patches",
    "36": "thirty-six patches",
}
_TWICE_A_NUMBER: Final = re.compile(
    rf"\b({'|'.join(TENS)})[\s-]+((?:four|nine)[\s-]+patch(?:es)?)\b", re.IGNORECASE
)
_BEFORE: Final = frozenset(("inch", "inches", "cm", "in", "dozen", "finished", "cut"))
MadeT = TypeVar("MadeT")
Reads: TypeAlias = Callable[[str], bool]


def no_kind(
    words: Words, kinds: Sequence[Kind[MadeT]], part: str, reads: Reads | None
) -> Problem:
    """What is told of a sentence that names no kind: the nearest one, in a sentence that reads.

    Parameters
    ----------
    words : Words
    kinds : sequence of Kind
    part : str
        The part of the quilt, named in the problem.
    reads : callable, optional
        Whether a sentence is understood: nothing is tried without it.
    """
    twice = _two_numbers(words.text, part, reads)
    if twice is not None:
        return twice
    told = words.unknown()
    what = f'"{words.text}" does not say what is made'
    if told:
        what = f'"{told}" in "{words.text}" is not known here'
    mend = _instead(told, words.text, kinds, reads)
    plain = f"{told}: {words.text.replace(told, 'rectangles', 1)}"
    two_sides = re.search(r"\d\W* ?x ?\d", words.text)
    one_word = bool(told) and " " not in told
    if one_word and two_sides and reads is not None and reads(plain):
        mend = f'for plain patches write "{plain}"; else {mend}'
    return Problem(part, what, mend)


def _two_numbers(text: str, part: str, reads: Reads | None) -> Problem | None:
    """``Twenty nine patches``: twenty of them, or 29 patches; None where nothing reads so."""
    found = _TWICE_A_NUMBER.search(text)
    if found is None or reads is None:
        return None
    tens = NUMBER_WORDS[found[1].lower()]
    many = tens + NUMBER_WORDS[re.split(r"[\s-]+", found[2].lower())[0]]
    sentence = f"{text[: found.start()]}{tens} {found[2]}{text[found.end() :]}"
    if not reads(sentence):
        return None
    what = f'"{found[0]}" in "{text}" is {tens} of these blocks, or {many} patches'
    mend = (
        f'write "{sentence}" for {tens} blocks, or {many} squares for so many patches'
    )
    return Problem(part, what, mend)


def _instead(
    told: str, text: str, kinds: Sequence[Kind[MadeT]], reads: Reads | None
) -> str:
    """What to write in place of a kind that is not known."""
    if _SHAPES.search(told or text):
        shapes = "say the background and the shapes by their width and height"
        return f'{shapes}: write "{_SHAPES_ON}"'
    tried = next(_that_read(told, text, kinds, reads), "")
    if tried:
        return tried
    if _STRINGS.search(told):
        nearest_ = "strips of any width are not planned; the nearest are rail fences"
        return f'{nearest_}: write it like "8 rail fences of 6, 4 rails, from any"'
    alike = _of_the_same_noun(told, kinds)
    near = None if alike else _nearest(told, kinds)
    if near is not None:
        word, name, like = near
        sentence = text.replace(word, name, 1)
        if reads is None or not reads(sentence):
            sentence = like
        return f'did you mean "{name}"? write it like "{sentence}"'
    known = _listed(kinds, told)
    return f"write one of: {known}{_by_rows(kinds)}"


def _by_rows(kinds: Sequence[Kind[MadeT]]) -> str:
    """How another block is said; "" where none are made."""
    if any(kind.one == "nine patch" for kind in kinds):
        return f'; or say what it is sewn from: write "{BY_ROWS}"'
    return ""


def _that_read(
    told: str, text: str, kinds: Sequence[Kind[MadeT]], reads: Reads | None
) -> Iterator[str]:
    """Sentences with a kind that is known in place of the one that is told, tried."""
    if reads is None or not told:
        return
    numbers = re.findall(rf"\d+|\b(?:{'|'.join(NUMBER_WORDS)}|dozen)\b", text.lower())
    for name, sentence in _in_its_place(told, text, kinds):
        if len(numbers) < 2:
            # how many is not said either
            sentence = f"20 {sentence}"
        if reads(sentence):
            yield f'did you mean "{name}"? write "{sentence}"'


def _in_its_place(
    told: str, text: str, kinds: Sequence[Kind[MadeT]]
) -> Iterator[tuple[str, str]]:
    names = {kind.many for kind in kinds}
    block = rf"{re.escape(told)}(?:\s+blocks?)?"
    checked = re.search(
        rf"{block}\s+(?:of|with|from)\s+(\d+)\s+(?:squares|patches)\b",
        text,
        re.IGNORECASE,
    )
    if checked and _CHECKED.get(checked[1]) in names:
        name = _CHECKED[checked[1]]
        yield name, f"{text[: checked.start()]}{name}{text[checked.end() :]}"
    for kind in _related(kinds, told):
        yield kind.many, re.sub(block, kind.many, text, count=1)
    if _STRINGS.search(told) and "rail fences" in names:
        yield "rail fences", re.sub(block, "rail fences", text, count=1)


def _related(kinds: Sequence[Kind[MadeT]], told: str) -> list[Kind[MadeT]]:
    """The kinds with every word that was said in their names."""
    words = _singular(told)
    if not words:
        return []
    return [kind for kind in kinds if words <= _singular(kind.many)]


def _singular(text: str) -> set[str]:
    return {word.removesuffix("s") for word in text.lower().split()} - FILLERS


def _listed(kinds: Sequence[Kind[MadeT]], told: str) -> str:
    """The kinds with a word that was said in their names, else the first of all."""
    words = _singular(told)
    like = [kind.many for kind in kinds if words & _singular(kind.many)]
    if like:
        return ", ".join(like)
    known = ", ".join(kind.many for kind in kinds[:_MOST_TOLD])
    if len(kinds) > _MOST_TOLD:
        known += " and more, which the guide lists"
    return known


def _nearest(told: str, kinds: Sequence[Kind[MadeT]]) -> tuple[str, str, str] | None:
    """The words that are most like the name of a kind, that name, and a sentence with it."""
    names = {name: kind.like for kind in kinds for name in (kind.many, kind.one)}
    for word in (told, *re.findall(r"[^\W\d]{4,}", told)):
        # one word of several is a poor guess: card tricks are no bricks
        guess = nearest(word, names, 0.7 if word == told else 0.85)
        if guess is not None:
            return word, guess, names[guess]
    return None


def _of_the_same_noun(told: str, kinds: Sequence[Kind[MadeT]]) -> bool:
    """Whether several kinds are called by its last word: *stars*."""
    last = told.lower().split()[-1:] or [""]
    noun = last[0].removesuffix("s")
    return sum(kind.one.lower().split()[-1] == noun for kind in kinds) > 1


def other_kind(
    problem: NotUnderstood, kinds: Sequence[Kind[MadeT]], reads: Reads
) -> Problem | None:
    """The problem of a kind that is none though a part of it is: ``half square triangels``, ``chains of 25 squares``.

    None where what is not understood is something else.

    Parameters
    ----------
    problem : NotUnderstood
    kinds : sequence of Kind
    reads : callable
        Whether a sentence is understood.
    """
    names = [name for kind in kinds for name in (kind.many, kind.one)]
    for typed in runs(problem.text):
        numbered = any(sign.isdigit() for sign in typed)
        if problem.word not in typed or typed in names or numbered:
            continue
        guess = nearest(typed, names, 0.85)
        if guess is not None:
            sentence = problem.text.replace(typed, guess, 1)
            if reads(sentence):
                mend = f'did you mean "{guess}"? write "{sentence}"'
                return Problem(problem.field, problem.what, mend)
    if not _is_made(problem, kinds):
        return None
    what = f'"{problem.word}" in "{problem.text}" is not known here'
    return Problem(
        problem.field, what, _instead(problem.word, problem.text, kinds, reads)
    )


def _is_made(problem: NotUnderstood, kinds: Sequence[Kind[MadeT]]) -> bool:
    """Whether a word stands where a kind does: behind no more than number and size, and before none that is known."""
    before, _, behind = problem.text.partition(problem.word)
    words = set(re.findall(r"[^\W\d]+", before.lower()))
    if words - FILLERS - set(NUMBER_WORDS) - _BEFORE:
        return False
    follows = re.match(r"\W*(\w+)", behind)
    first = follows[1].lower() if follows else ""
    names = {name.split()[0] for kind in kinds for name in (kind.many, kind.one)}
    if first[:1].isdigit() or first in names or first == "plain":
        return False
    return bool(re.fullmatch(r"[^\W\d][^\d,;]*", problem.word))
