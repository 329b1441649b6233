"""What words of a `fabrics` column mean: names, tags and values of fabrics, and how prints have to stand up."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable, Iterator
from itertools import pairwise
from typing import Final, Literal

from cutopt.errors import Problem
from cutopt.fabric import Fabric
from cutopt.piecing import Back
from cutopt.wanted import Cut, Strip, Wanted

# names among which the one that was meant is looked for
MOST_GUESSES: Final = 500
_ANY: Final = ("any", "any fabric", "all", "anything", "everything")
_BUT: Final = re.compile(r"(.+?) (?:but(?: not)?|except(?: for)?|other than) (.+)")
_ACROSS_TO: Final = {"along": "across", "across": "along"}


def plain_word(word: str) -> str:
    """A word of a `fabrics` column without case, blanks around it, and an "any" before it: ``Any light`` is ``light``."""
    return re.sub(r"^any\s+", "", word.strip().lower())


def any_but(word: str) -> tuple[str, tuple[str, ...]]:
    """What ``any light but mist or oat`` begins with, and what is kept out; nothing is where there is no "but".

    Behind it *and* and *or* say the same: neither of them.
    """
    found = _BUT.fullmatch(" ".join(word.lower().split()))
    if found is None:
        return word, ()
    kept_out = re.split(
        r"\s*,\s*(?:and |or )?|\s+(?:and|or|nor)\s+|\s*[&+]\s*", found[2]
    )
    return found[1], tuple(part for part in kept_out if part)


def words_in(word: str) -> tuple[str, ...]:
    """The words of a `fabrics` column that one is made of: ``any light but mist`` of ``any light`` and ``mist``."""
    base, kept_out = any_but(word)
    return base, *kept_out


def answers_to(fabric: Fabric, word: str) -> bool:
    """Whether a word of a `fabrics` column means this fabric: name, tag, value, "any" before these, or "any but" others.

    What lies between layers is meant by its own name alone.
    """
    plain = word.strip().lower()
    names = names_of(fabric)
    if plain in names or plain_word(word) in names:
        return True
    if plain in _ANY:
        return not fabric.is_inside
    base, kept_out = any_but(word)
    if not kept_out or not answers_to(fabric, base):
        return False
    return not any(answers_to(fabric, each) for each in kept_out)


def names_of(fabric: Fabric) -> set[str]:
    """Its name, tags and value in lower case; what lies between layers has its name alone."""
    if fabric.is_inside:
        return {fabric.name.lower()}
    return {
        fabric.name.lower(),
        fabric.value,
        *(tag.lower() for tag in fabric.tags),
    } - {""}


class Meanings:
    """What words of a `fabrics` column mean among some fabrics, as :func:`answers_to` says it, looked up at once."""

    def __init__(self, fabrics: Iterable[Fabric]) -> None:
        self._fabrics = tuple(fabrics)
        self._any: set[str] = set()
        self._ways: dict[str, set[str]] = {}
        for fabric in self._fabrics:
            for name in names_of(fabric):
                self._ways.setdefault(name, set()).add(fabric.one_way)
            if not fabric.is_inside:
                self._any.add(fabric.one_way)

    def ways(self, word: str) -> set[str]:
        """How the prints of the fabrics that a word means stand up; empty where it means none."""
        plain = word.strip().lower()
        found = self._ways.get(plain) or self._ways.get(plain_word(word), set())
        if found:
            return found
        if plain in _ANY:
            return self._any
        if not any_but(word)[1]:
            return set()
        meant = (fabric for fabric in self._fabrics if answers_to(fabric, word))
        return {fabric.one_way for fabric in meant}

    def problem(self, word: str, known: Iterable[str]) -> Problem | None:
        """What is wrong with a word: it means nothing, keeps out what is not there, or leaves no fabric.

        `known` are names and tags, as they are spelt.
        """
        base, kept_out = any_but(word)
        if word.strip().lower() in self._ways or not kept_out:
            if self.ways(word):
                return None
            return unknown_fabric(word, known)
        told = self._name_of_several(word, kept_out)
        if told is not None:
            return told
        for part in (base, *kept_out):
            if not self.ways(part):
                return unknown_fabric(part, known)
        for part in kept_out:
            both = (answers_to(f, part) and answers_to(f, base) for f in self._fabrics)
            if not any(both):
                what = f'"{word}" keeps out {part}, which is none of "{base}"'
                return Problem("fabric", what, f"leave {part} out")
        if self.ways(word):
            return None
        what = f'"{word}" leaves no fabric'
        return Problem("fabric", what, f"keep fewer out, or write {base}")

    def _lies_against_nap(self, row: Wanted) -> bool:
        """Whether all fabrics of a row have a nap, and none of them may lie as its grain asks."""
        words = row.fabrics or ("any",)
        if isinstance(row, Strip) or not any(f.nap for f in self._fabrics):
            return False
        meant = [
            fabric
            for fabric in self._fabrics
            if any(answers_to(fabric, word) for word in words)
        ]
        return bool(meant) and all(f.nap and f.one_way != row.grain for f in meant)

    def _name_of_several(self, word: str, parts: tuple[str, ...]) -> Problem | None:
        """The problem of keeping out a fabric whose name has "and" in it."""
        for one, other in pairwise(parts):
            name = f"{one} and {other}"
            if name in self._ways:
                what = f'"{word}" may keep out {name}, or {one} and {other} each'
                mend = "list the fabrics that it may be, with | between them"
                return Problem("fabric", what, mend)
        return None

    def of_back(self, back: Back) -> Iterator[Problem]:
        """Where the main fabric of a back is none that the back may be sewn from."""
        main = back.rules.main
        if not main or not back.fabrics:
            return
        allowed = [
            f for f in self._fabrics if any(answers_to(f, w) for w in back.fabrics)
        ]
        meant = any(answers_to(fabric, main) for fabric in self._fabrics)
        if meant and not any(answers_to(fabric, main) for fabric in allowed):
            what = f'{back.name}: its main fabric is "{main}", and its fabrics are {"|".join(back.fabrics)}'
            yield Problem("main", what, f"add {main} to its fabrics, or name another")

    def contradictions(self, row: Wanted, seam: int) -> Iterator[Problem]:
        """In what a row contradicts itself, or all the fabrics that it may be cut from; `seam` in ticks."""
        stands = standing(row)
        if stands and row.grain != "any":
            if stands == "along":
                clash = _ACROSS_TO[row.grain]
            else:
                clash = row.grain
            ways = set().union(*map(self.ways, row.fabrics or ("any",)))
            if ways == {clash}:
                what = f"{row.name}: the print stands up {clash} the selvage, the grain rule says {row.grain}"
                yield Problem("grain", what, "leave grain blank or upright no")
        elif row.grain != "any" and self._lies_against_nap(row):
            what = f"{row.name}: the grain rule says {row.grain}, and the nap of its cloth runs the other way"
            mend = (
                "leave grain blank, or write one_way none where the nap does not matter"
            )
            yield Problem("grain", what, mend)
        if not isinstance(row, Strip) or row.join == "none":
            return
        if row.shortest <= row.join_loss(seam):
            what = f"{row.name}: a join would eat a segment so short"
            yield Problem("shortest", what, "write more")


def unknown_fabric(word: str, known: Iterable[str]) -> Problem:
    """The problem of a fabric or tag that no table knows, with the nearest name as the mend."""
    names = sorted(known)
    refused = re.fullmatch(r"(?:not|no|never) (.+)", word.strip(), re.IGNORECASE)
    near = difflib.get_close_matches(word, names[:MOST_GUESSES], 1)
    if refused:
        mend = f"write any but {refused[1]}"
    elif near:
        mend = f'did you mean "{near[0]}"?'
    else:
        mend = "add it to fabrics.csv, or use one of: " + ", ".join(names)
    return Problem("fabric", f'"{word}" is neither a fabric nor a tag of one', mend)


def stands_up(row: Wanted, fabric: Fabric) -> Literal["", "along", "across"]:
    """How a row must stand if it is cut from a fabric; of cloth with a nap every cut stands along its length.

    A strip that goes round a quilt has its nap as its row says: it cannot run one way on all sides.
    """
    if not fabric.one_way:
        return ""
    if fabric.nap and isinstance(row, Cut):
        return "along"
    return standing(row)


def standing(row: Wanted) -> Literal["", "along", "across"]:
    """How a one-way print must stand up: along the length of the row, across it, or "" for any way."""
    if isinstance(row, Cut):
        if row.upright:
            return "along"
        return ""
    if row.upright == "no":
        return ""
    return row.upright
