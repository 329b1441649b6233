"""The words of one sentence while they are taken, one phrase after the other; what nobody takes is told."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, field, replace
from typing import Final, TypeVar

from cutopt.errors import Problem
from cutopt.tables.sentences.aliases import with_own_words
from cutopt.tables.sentences.cloths import MIXTURES, cloths_in, is_known
from cutopt.tables.sentences.mends import NotUnderstood
from cutopt.tables.sentences.patterns import QUALIFIERS, Found, Phrase, all_at
from cutopt.tables.sentences.talk import without_talk
from cutopt.tables.sentences.tokens import Token, tokens_of
from cutopt.tables.sentences.vocabulary import Kind, Vocabulary

MadeT = TypeVar("MadeT")
FROM: Final = "from"
# of the name of a fabric that stands before what is cut from it
MOST_WORDS: Final = 4
# phrases that say what a thing is called, and nothing of it
_NOUNS: Final = ("border", "strips", "sleeve", "backing", "batting")
# what may stand between words and is none itself
_GAP: Final = re.compile(r"[\s‐‑-]*")
# words that say nothing of their own: without them a sentence means the same
FILLERS: Final = frozenset(
    (
        *("of", "the", "a", "an", "and", "with", "in", "each", "them", "for", "from"),
        *("is", "are", "that", "all", "to", "be", "size", "wide", "long", "using"),
        *("unit", "units", "block", "blocks", "piece", "pieces", "patch", "patches"),
        *("needed", "wanted", "altogether", "please", "total", "worth", "measuring"),
        *("on", "finished", "both", "those", "these", "big", "large"),
        *("fit", "fits", "per", "equal", "alike"),
        *("i", "we", "need", "want", "make", "pcs", "pc", "method", "x", "×"),
        *(",", ";", ":", "=", "-", "–", "—", ".", "!", "(", ")"),
        "&",
    )
)


@dataclass(slots=True)
class Words:
    """The words of a sentence; `left` are those that nothing took yet.

    `looked_for` are fabrics that were looked for beside what they are for, none where nothing was; `beside_nouns` is whether
    some stand beside what they make, and not beside a place of it.
    """

    text: str
    part: str
    names: tuple[str, ...]
    tokens: list[Token]
    left: set[int] = field(default_factory=set)
    looked_for: Collection[str] = ()
    beside_nouns: bool = False

    @classmethod
    def of(cls, text: str, part: str) -> Words:
        """The words of a text; `part` of the quilt is named in a problem.

        Raises
        ------
        Problem
            Where a number of it cannot be read.
        """
        tokens = with_own_words(tokens_of(text, part))
        left = set(range(len(tokens)))
        return cls(text=text, part=part, names=(), tokens=tokens, left=left)

    @property
    def colon(self) -> int | None:
        """The place of the first colon."""
        return _colon(self.tokens)

    def part_names(self, vocabulary: Vocabulary, known: Collection[str]) -> None:
        """Take what stands before a colon as names, unless words of the grammar are among it.

        Parameters
        ----------
        vocabulary : Vocabulary
        known : collection of str
            Names, tags and values of fabrics in lower case.
        """
        colon = self.colon
        if colon is None or self._says_something(colon, vocabulary, known):
            return
        self.names = _names(self.text[: self.tokens[colon].start])
        self.strike_out(0, colon + 1)

    def join_known(self, known: Collection[str]) -> None:
        """Each name of several words that is known as one: ``oatmeal wide`` says nothing of a width."""
        for length in range(MOST_WORDS, 1, -1):
            for start in range(len(self.tokens) - length, -1, -1):
                end = start + length
                free = set(range(start, end)) <= self.left
                if free and self.raw(start, end).lower() in known:
                    at = (self.tokens[start].start, self.tokens[end - 1].end)
                    name = Token(kind="name", plain=self.raw(start, end), at=at)
                    self.strike_out(start + 1, end)
                    self.tokens[start] = name

    def skip_talk(self, vocabulary: Vocabulary, known: Collection[str]) -> None:
        """Take out what only talks, so that the words around it stand side by side."""
        self.tokens = without_talk(self.tokens, vocabulary.literals, known)
        self.left = set(range(len(self.tokens)))

    def part_cloths(self, vocabulary: Vocabulary) -> None:
        """An *and* before words that name the cloth of something parts the sentence: ``lights cream and darks navy``."""
        for i, token in enumerate(self.tokens):
            if token.compared == "and" and self._names_cloth(i + 1, vocabulary):
                self.tokens[i] = replace(token, kind="sign", plain=",")

    def _names_cloth(self, i: int, vocabulary: Vocabulary) -> bool:
        """Whether words that name the cloth of something begin at word `i`, with a fabric behind them."""
        for way in vocabulary.before_cloths:
            end = i + len(way)
            if tuple(self.plains(i, end)) == way and end < self.clause_end(i):
                return True
        return False

    def _says_something(
        self, colon: int, vocabulary: Vocabulary, known: Collection[str]
    ) -> bool:
        """Whether words before a colon are no names: a number, a rule, a fabric where no other is named."""
        before = self.tokens[:colon]
        numbers = (i for i, token in enumerate(before) if token.kind == "number")
        if any(i + 1 < colon or before[i].unit for i in numbers):
            return True
        if set(self.plains(0, colon)) & {*MIXTURES, *QUALIFIERS}:
            return True
        if any(self._says_at(i, colon, vocabulary) for i in range(colon)):
            return True
        behind = {token.plain.lower() for token in self.tokens[colon + 1 :]}
        named = behind & {FROM, *known}
        return not named and self.raw(0, colon).lower() in known

    def _says_at(self, i: int, end: int, vocabulary: Vocabulary) -> bool:
        """Whether an option or a rule is said from word `i` on, and not only what the thing is called."""
        said = all_at(vocabulary.tree, self.tokens, i, end, self.text)
        return any(
            vocabulary.all_phrases[number].key not in _NOUNS and not found.cloth
            for number, found in said.items()
        )

    def clauses(self) -> Iterator[tuple[int, int]]:
        """First word and end of each run of words that are left, within one part of the sentence."""
        start = None
        for i, token in enumerate((*self.tokens, None)):
            runs = token is not None and i in self.left and not token.ends_clause
            if runs and start is None:
                start = i
            if not runs and start is not None:
                yield start, i
                start = None

    def clause_end(self, i: int) -> int:
        """The word behind the last of the part of the sentence in which word `i` stands."""
        while i < len(self.tokens) and not self.tokens[i].ends_clause:
            i += 1
        return i

    def take(self, start: int, end: int) -> None:
        """Strike off words."""
        self.left -= set(range(start, end))

    def raw(self, start: int, end: int) -> str:
        """Words as they are typed; those that were struck out between them are no part of it."""
        typed = ""
        last = 0
        for token in self.tokens[start:end]:
            between = self.text[last : token.start]
            if typed and token.start >= last:
                typed += between if _GAP.fullmatch(between) else " "
            typed += self.text[max(last, token.start) : token.end]
            last = max(last, token.end)
        return typed

    def plains(self, start: int, end: int) -> list[str]:
        """Words as they are compared; a quoted one is like none of the grammar."""
        return [token.compared for token in self.tokens[start:end]]

    def says_from(self) -> list[int]:
        """The place of each "from"."""
        plains = self.plains(0, len(self.tokens))
        return [i for i, plain in enumerate(plains) if plain == FROM]

    def kind(self, kinds: Sequence[Kind[MadeT]]) -> tuple[Kind[MadeT], bool] | None:
        """The kind of the longest name among the words, and whether one of it is said; its words are struck off."""
        for kind in kinds:
            if kind.told_by and re.search(kind.told_by, self.text, re.IGNORECASE):
                self._take_all(kind)
                return kind, False
        before = self._before_cloths()
        behind = set(range(self.colon or 0, len(self.tokens)))
        best = (
            self._kind_among(kinds, before & behind)
            or self._kind_among(kinds, before)
            or self._kind_among(kinds, self.left)
        )
        if best is None:
            return None
        _, _, found, one = best
        self._take_all(found)
        return found, one

    def _take_all(self, kind: Kind[MadeT]) -> None:
        """Strike off the names of a kind, wherever they stand: ``half-square triangles (HST)``."""
        for name in (kind.many, kind.one):
            spelt = name.replace("-", " ").lower().split()
            among = self._before_cloths() or self.left
            while (at := self._at(spelt, among)) is not None:
                self.take(at, at + len(spelt))

    def _kind_among(
        self, kinds: Sequence[Kind[MadeT]], among: set[int]
    ) -> tuple[int, int, Kind[MadeT], bool] | None:
        """First word and end of the longest name of a kind, the first of them, the kind, and whether one of it is said."""
        best: tuple[int, int, Kind[MadeT], bool] | None = None
        for kind in kinds:
            for name, one in ((kind.many, False), (kind.one, True)):
                spelt = name.replace("-", " ").lower().split()
                at = self._at(spelt, among)
                if at is None:
                    continue
                # of names equally long the first is meant: sawtooth stars with geese
                if best is None or (len(spelt), -at) > (best[1] - best[0], -best[0]):
                    best = at, at + len(spelt), kind, one and kind.one != kind.many
        return best

    def _before_cloths(self) -> set[int]:
        """Words that stand behind no "from" of their part of the sentence."""
        before = set(range(len(self.tokens)))
        for at in self.says_from():
            before -= set(range(at, self.clause_end(at)))
        return before

    def _at(self, spelt: list[str], among: set[int]) -> int | None:
        """Where these words stand among others, None where they do not."""
        able = among & self.left
        for i in range(len(self.tokens) - len(spelt) + 1):
            end = i + len(spelt)
            if set(range(i, end)) <= able and self.plains(i, end) == spelt:
                return i
        return None

    def said_of(
        self, clothed: Sequence[tuple[str, tuple[str, ...]]]
    ) -> list[tuple[str, tuple[str, ...]]]:
        """Those whose first and last word stand in the sentence."""
        said = set(self.plains(0, len(self.tokens)))
        return [each for each in clothed if each[1][0] in said and each[1][-1] in said]

    def place_of(self, spelt: Sequence[str]) -> int | None:
        """Where words stand side by side that are left; None where they do not."""
        return self._at(list(spelt), self.left)

    def fabric_starts(self, end: int, known: Collection[str]) -> int:
        """The first word of the longest name of a fabric right before word `end`; `end` where there is none.

        Parameters
        ----------
        end : int
        known : collection of str
            Names of fabrics in lower case.
        """
        for start in range(max(0, end - MOST_WORDS), end):
            free = set(range(start, end)) <= self.left
            if free and self.raw(start, end).lower() in known:
                return start
        return end

    def strike_out(self, start: int, end: int, *, apart: bool = False) -> None:
        """Take words out of the sentence.

        Parameters
        ----------
        start, end : int
            The first of them, and the one behind the last.
        apart : bool
            Whether a comma keeps apart what stood around them; else it stands side by side.
        """
        if start >= end:
            return
        gone = set(range(start, end))
        first = self.tokens[start].start
        comma = [Token(kind="sign", plain=",", at=(first, first))] if apart else []
        shift = end - start - len(comma)
        kept = self.left - gone
        self.left = {i - shift if i >= end else i for i in kept}
        self.tokens = [*self.tokens[:start], *comma, *self.tokens[end:]]

    def options(self, vocabulary: Vocabulary) -> tuple[dict[str, str], dict[str, str]]:
        """What is said of each phrase, and the cloths that some of them name; struck off.

        Raises
        ------
        Problem
            Where one is said twice.
        """
        values: dict[str, str] = {}
        cloths: dict[str, str] = {}
        while (best := self._longest(vocabulary)) is not None:
            phrase, found = best
            self.take(found.start, found.end)
            if not found.cloth and values.get(phrase.key) == found.value:
                # a lap quilt, for the knees: the same once more
                continue
            if phrase.key in values or phrase.key in cloths:
                what = f'"{phrase.key}" is said twice in "{self.text}"'
                mend = "keep one of the two, or write two sentences"
                raise Problem(self.part, what, mend)
            if found.cloth:
                cloths[phrase.key] = found.cloth
            else:
                values[phrase.key] = found.value
        return values, cloths

    def _longest(self, vocabulary: Vocabulary) -> tuple[Phrase, Found] | None:
        """The phrase of most words that is said anywhere in what is left, the first of these.

        In whole sentences the words of a cloth do not count: whatever stands behind *sashing* may be one.
        """
        best: tuple[Phrase, Found] | None = None
        for phrase, found in self._all_said(vocabulary):
            if vocabulary.talk and found.cloth:
                said = self.plains(found.start, found.end)
                found = replace(found, words=found.length if FROM in said else 1)
            weight = self._weight(found)
            if best is None or weight > self._weight(best[1]):
                best = phrase, found
        return best

    def _weight(self, found: Found) -> tuple[bool, int]:
        """Of two phrases the one of more words; where fabrics were looked for already, one that names another comes last."""
        return not (bool(self.looked_for) and bool(found.cloth)), found.length

    def _all_said(self, vocabulary: Vocabulary) -> Iterator[tuple[Phrase, Found]]:
        """Each phrase wherever it is said."""
        for start, end in self.clauses():
            for i in range(start, end):
                said = all_at(vocabulary.tree, self.tokens, i, end, self.text)
                for number, found in said.items():
                    if not self._is_cloth(found):
                        yield vocabulary.all_phrases[number], found

    def _is_cloth(self, found: Found) -> bool:
        """Whether what names the place of a cloth is one itself (the *lights* of a log cabin), or another place follows."""
        if not (self.looked_for and found.cloth):
            return False
        first = self.raw(found.start, found.start + 1)
        return is_known(first, self.looked_for) or found.cloth.startswith("on ")

    def skip_fillers(self, small: Collection[str] = ()) -> None:
        """Strike off words that say nothing of their own; `small` are those of a part of the quilt."""
        plains = self.plains(0, len(self.tokens))
        squares = set(filter(self._is_square, self.left))
        self.left = {
            i
            for i in self.left - squares
            if plains[i] not in FILLERS and plains[i] not in small
        }

    def _is_square(self, i: int) -> bool:
        """``8 inches square``: whether word `i` says of the length before it that both sides are alike."""
        if self.tokens[i].compared != "square" or i - 1 in self.left:
            return False
        before = i - 1 - (self.tokens[i - 1].compared in QUALIFIERS)
        two = before > 0 and self.tokens[before - 1].plain in ("x", "by")
        return before >= 0 and self.tokens[before].kind == "number" and not two

    def take_aside(self) -> tuple[str, ...]:
        """The words that are left, as typed; numbers are none."""
        aside = [i for i in sorted(self.left) if self.tokens[i].kind == "word"]
        self.left -= set(aside)
        return tuple(self.raw(i, i + 1) for i in aside)

    def unknown(self) -> str:
        """The first run of words that may name a kind, as typed."""
        self.skip_fillers()
        self.left &= self._before_cloths()
        self.left = {i for i in self.left if self.tokens[i].kind == "word"}
        runs = [self.raw(start, end) for start, end in self.clauses()]
        return next(iter(runs), "")

    def refuse_what_is_left(self) -> None:
        """See to it that no word is passed over.

        Raises
        ------
        NotUnderstood
            For the first that is left.
        """
        runs = [*self.clauses(), *((i, i + 1) for i in sorted(self.left))]
        for start, end in runs:
            raise NotUnderstood(self.part, self.raw(start, end), self.text)


def _colon(tokens: Sequence[Token]) -> int | None:
    colons = (i for i, token in enumerate(tokens) if token.compared == ":")
    return next(colons, None)


def _names(text: str) -> tuple[str, ...]:
    cloths = cloths_in(text.replace("+", " and "))
    return tuple(word for cloth in cloths for word in cloth.fabrics)
