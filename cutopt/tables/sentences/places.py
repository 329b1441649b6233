"""Fabrics beside what they are for: ``navy corners and centre``, ``cream for the sides``, ``the rest plum``."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass, replace
from typing import Final

from cutopt.errors import Problem
from cutopt.tables.sentences.cloths import ANY_CLOTH, MIXTURES, is_known
from cutopt.tables.sentences.patterns import QUALIFIERS
from cutopt.tables.sentences.tokens import Token
from cutopt.tables.sentences.vocabulary import Place, Vocabulary
from cutopt.tables.sentences.words import Words

_SMALL: Final = frozenset(
    ("a", "an", "the", "my", "our", "some", "all", "its", "their", "of")
)
# between a fabric and what it is for, and between that and its fabric
_BEFORE_PLACE: Final = ("in", "for", "at", "on", "as", "to", "round", "around", "along")
_BEFORE_CLOTH: Final = ("from", "of", "in", "is", "are", ":", "=", "–", "—")
_CLOTH: Final = ("fabric", "fabrics", "print", "prints", "cloth", "scraps", "ones")
# what comes next takes the next place: pear in the middle, then cream, then rose
_THEN: Final = "then"
_OR: Final = ("or", "|")
_AND: Final = ("and", "&", "+")
_SQUARES: Final = ("square", "squares", "patch", "patches", "pieces", "of", "in", "are")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Span:
    """Words from `start` to `end` that name a fabric (`text`), or what one is for (`place`)."""

    start: int
    end: int
    text: str = ""
    places: tuple[Place, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class _Pair:
    """A fabric and what it is for."""

    cloth: _Span
    place: _Span

    @property
    def start(self) -> int:
        return min(self.cloth.start, self.place.start)

    @property
    def end(self) -> int:
        return max(self.cloth.end, self.place.end)

    @property
    def is_told(self) -> bool:
        """Whether it says which place is meant; else the fabric takes the next one."""
        return all(place.keys for place in self.place.places)

    @property
    def keys(self) -> tuple[str, ...]:
        """The keys of all its places."""
        return tuple(key for place in self.place.places for key in place.keys)


def placed_cloths(
    words: Words, vocabulary: Vocabulary, known: Collection[str]
) -> dict[str, str]:
    """Fabrics by what they are for, in words, by the key of that; struck out of the sentence.

    Parameters
    ----------
    words : Words
    vocabulary : Vocabulary
    known : collection of str
        Names, tags and values of fabrics in lower case.

    Raises
    ------
    Problem
        Where two fabrics are for the same.
    """
    if not vocabulary.places or not known:
        return {}
    words.looked_for = known
    words.left -= {i for i, word in enumerate(words.tokens) if word.compared == _THEN}
    look = Look(words=words, vocabulary=vocabulary, known=known)
    found: dict[str, str] = {}
    for pairs in (look.by_number, look.pairs):
        for pair in reversed(list(pairs())):
            for key in pair.keys:
                told = found.setdefault(key, pair.cloth.text)
                if told != pair.cloth.text:
                    what = f'"{words.text}" says two fabrics for {key}: {pair.cloth.text} and {told}'
                    raise Problem(words.part, what, "keep one of the two")
            look.strike(pair)
    return found


@dataclass(slots=True, kw_only=True)
class Look:
    """A look at the words of a sentence for fabrics and what they are for."""

    words: Words
    vocabulary: Vocabulary
    known: Collection[str]

    def pairs(self) -> Iterator[_Pair]:
        """Every fabric that stands beside what it is for, from the left."""
        i = 0
        while i < len(self.words.tokens):
            pair = self._pair_at(i)
            if pair is None:
                i += 1
                continue
            yield pair
            i = pair.end

    def by_number(self) -> list[_Pair]:
        """Fabrics told by how many patches of a block are from them: ``five squares navy and four cream``."""
        wanted = sorted(self.vocabulary.by_number)
        sites = [site for site in map(self._numbered_at, self._all()) if site]
        if not wanted or sorted(number for number, _ in sites) != wanted:
            return []
        left = list(self.vocabulary.by_number)
        pairs = []
        for number, cloth in sites:
            role = left.index(number)
            left[role] = 0
            place = replace(cloth, places=(self.vocabulary.role_place(role),))
            pairs.append(_Pair(cloth=cloth, place=place))
        return pairs

    def strike(self, pair: _Pair) -> None:
        """Take a pair out of the sentence.

        What is measured too (``2" red centre``) keeps its word, and a fabric without a place stays.
        """
        cloth, place = pair.cloth, pair.place
        measured = self._is_measured(pair)
        self.words.beside_nouns |= not pair.is_told
        if not pair.is_told and not measured:
            self.words.strike_out(place.start, place.end, apart=False)
        elif not pair.is_told:
            return
        elif measured:
            self.words.strike_out(cloth.start, cloth.end, apart=False)
        else:
            self.words.strike_out(pair.start, pair.end, apart=True)

    def _all(self) -> range:
        return range(len(self.words.tokens))

    def _numbered_at(self, i: int) -> tuple[int, _Span] | None:
        """A number of patches from word `i` on, and their fabric with all words of it."""
        whole = self.words.tokens[i].whole if i in self.words.left else None
        if whole is None:
            return None
        cloth = self.cloth_at(self.behind(i + 1, _SQUARES))
        if cloth is None:
            return None
        end = self.behind(cloth.end, _SQUARES)
        return whole, replace(cloth, start=i, end=end)

    def _is_measured(self, pair: _Pair) -> bool:
        """Whether a length stands beside the pair that belongs to its place."""
        if not any(place.is_measured for place in pair.place.places):
            return False
        before = pair.start - 1
        while before >= 0 and self._plain(before) in _SMALL:
            before -= 1
        behind = pair.end
        while self._plain(behind) in (*QUALIFIERS, "of"):
            behind += 1
        return self._is_length(before) or self._is_length(behind)

    def _is_length(self, i: int) -> bool:
        if i not in self.words.left:
            return False
        token = self.words.tokens[i]
        return token.kind == "number" or token.whole is not None

    def _pair_at(self, i: int) -> _Pair | None:
        cloth = self.cloth_at(i)
        if cloth is not None:
            place = self._place_behind(cloth)
            if place is not None:
                return self._with_another(cloth, place)
        place = self._place_at(i, leads=True)
        if place is None:
            return None
        cloth = self.cloth_at(self.behind(place.end, _BEFORE_CLOTH))
        if cloth is None:
            return None
        return _Pair(cloth=cloth, place=place)

    def _place_behind(self, cloth: _Span) -> _Span | None:
        """What stands behind a fabric as that which it is for; a small word may lead to it."""
        place = self._place_at(cloth.end)
        if place is None and self._plain(cloth.end) in _BEFORE_PLACE:
            place = self._place_at(cloth.end + 1)
        if place is None:
            return None
        return replace(place, start=cloth.end)

    def _with_another(self, cloth: _Span, place: _Span) -> _Pair:
        """``scrappy stars from darks``: of a mixture the fabrics may stand behind what it is for."""
        behind = self.behind(place.end, _BEFORE_CLOTH)
        other = self.cloth_at(behind) if cloth.text == "any" else None
        if other is None or behind == place.end:
            return _Pair(cloth=cloth, place=place)
        return _Pair(cloth=replace(other, start=cloth.start), place=place)

    def _plain(self, i: int) -> str:
        """Word `i` as it is compared, "" where there is none that is left."""
        if i in self.words.left:
            return self.words.tokens[i].compared
        return ""

    def behind(self, i: int, small: Collection[str]) -> int:
        """The first word from `i` on that is none of some small words."""
        while self._plain(i) in small:
            i += 1
        return i

    def cloth_at(self, i: int) -> _Span | None:
        """A fabric from word `i` on; of a mixture that is not named any fabric."""
        first = i
        mixed = False
        while self._plain(first) in (*_SMALL, *MIXTURES):
            mixed = mixed or self._plain(first) in MIXTURES
            first += 1
        end = self._names_end(first)
        if end > first:
            return _Span(start=i, end=end, text=self.words.raw(first, end))
        if mixed:
            return _Span(start=i, end=first, text="any")
        return None

    def _names_end(self, first: int) -> int:
        """The word behind fabrics of which any will do, from a word on."""
        end = self._name_end(first)
        while end > first and self._plain(end) in _OR:
            behind = self._name_end(self.behind(end + 1, _SMALL))
            if behind <= end + 1:
                return end
            end = behind
        return end

    def _name_end(self, i: int) -> int:
        """The word behind one fabric with what it is called beside its name; `i` where none stands there."""
        named = i + 1 if self._plain(i) == "any" else i
        if named not in self.words.left:
            return i
        token = self.words.tokens[named]
        if not self._is_known(token, named):
            return named if named > i and self._plain(named) in _CLOTH else i
        end = named + 1
        if self._plain(end) in _CLOTH and self._plain(end) not in self.known:
            end += 1
        return end

    def _is_known(self, token: Token, i: int) -> bool:
        if token.kind == "name":
            return token.plain.lower() in self.known
        raw = self.words.raw(i, i + 1)
        return token.kind == "word" and (
            is_known(raw, self.known) or raw.lower() in ANY_CLOTH
        )

    def _place_at(self, i: int, *, leads: bool = False) -> _Span | None:
        """Places from word `i` on, joined by *and*; `leads` where their fabric follows."""
        found: list[Place] = []
        end = i
        at = self.behind(i, _SMALL)
        while (place := self._one_place(at, leads=leads)) is not None:
            behind = at + len(place.words)
            if found and not leads and self.cloth_at(behind) is not None:
                break
            # lights, say, are a fabric and a place of a log cabin
            if found and self.cloth_at(at) is not None:
                break
            found.append(place)
            end = behind
            at = self.behind(end, (*_AND, *_SMALL))
            if at == end or self._plain(end) not in _AND:
                break
        if not found:
            return None
        return _Span(start=i, end=end, places=tuple(found))

    def _one_place(self, i: int, *, leads: bool) -> Place | None:
        """The place of most words that is named at word `i`."""
        best: Place | None = None
        for place in self.vocabulary.places:
            end = i + len(place.words)
            if place.leads and not leads:
                continue
            free = set(range(i, end)) <= self.words.left
            longer = best is None or len(place.words) > len(best.words)
            said = tuple(self.words.plains(i, end)) == place.words
            if free and said and longer:
                best = place
        return best
