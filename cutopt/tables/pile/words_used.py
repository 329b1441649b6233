"""Which word of a line says what: each is used once, or the line is asked back."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Final

from cutopt.errors import Problem
from cutopt.tables.pile.amounts import (
    across_and_along,
    refuse_turned_quarter,
    unit_of,
)
from cutopt.tables.pile.asked_back import not_understood, unread
from cutopt.tables.pile.fabric_run import (
    check_name,
    fabric_run,
    number_or_name,
    words_from,
)
from cutopt.tables.pile.phrases import COUNTED, Meaning
from cutopt.tables.pile.stock import Stock
from cutopt.tables.pile.tokens import Token

_SQUARES: Final = ("square", "half square")
_SQUARE_PRECUTS: Final = ("charm_square", "layer_square")
_QUARTERS: Final = ("fat_quarter", "fat_eighth")
# sold by these alone: a length of cloth from the bolt
_BIG_UNITS: Final = ("yd", "yard", "m", "met")
# more is never counted; Python refuses to read some thousands of figures
_MOST_FIGURES: Final = 9


@dataclass(slots=True)
class UsedWords:
    """What the words of a line say, still as they were written.

    `size` are its two lengths; of a length from the bolt `whole_width` is the length, `wide` the width where it is
    said, and `across` that it is a strip cut from it, its edges true. `precut` is a name of :data:`cutopt.precuts.NAMES`.
    """

    text: str
    body: str
    tokens: Sequence[Token]
    stock: Stock
    fabric: str = ""
    form: str = ""
    precut: str = ""
    size: tuple[str, str] | None = None
    whole_width: str = ""
    across: bool = False
    wide: str = ""
    words: set[str] = field(default_factory=set)
    less: list[tuple[str, ...]] = field(default_factory=list)
    _counts: list[int] = field(default_factory=list)
    _many: str = ""
    _bundle: Token | None = None
    _each: int = 0
    # the size, or the length that stands for it
    _sized: int = -1

    @property
    def count(self) -> int:
        """How many alike."""
        return (self._counts or [1])[0] * (self._each or 1)

    def read(self) -> None:
        """Use each word of the line.

        Raises
        ------
        Problem
            For the first that cannot be used, or what is missing.
        """
        run = fabric_run(self.text, self.body, self.tokens)
        first = self.tokens[run.start]
        name = self.body[first.start : self.tokens[run.stop - 1].end]
        self.fabric = " ".join(name.split())
        if first.kind == "name":
            self.fabric = first.parts[0].replace('""', '"').strip()
        rest = [at for at in range(len(self.tokens)) if at not in run]
        for at in rest:
            self._use(
                at,
                leads=not any(self._says(b) for b in rest if b < at) and at < run.start,
            )
        self._check_size()
        self._check_bundle()
        check_name(self.text, self.body, self.tokens, run, self.stock)
        self._check_count(name)

    def _says(self, at: int) -> bool:
        return not self.tokens[at].is_a("filler")

    def _use(self, at: int, *, leads: bool) -> None:
        """Use a word that is none of the name; `leads` says that it is the first that says anything."""
        token = self.tokens[at]
        uses: dict[str, Callable[[int], None]] = {
            "size": self._use_size,
            "across": self._use_across,
            "less": self._use_less,
            "comma": self._pass_over,
            "form": self._use_form,
            "precut": self._use_precut,
            "bundle": self._use_bundle,
            "share": self._use_share,
            "word": self._use_word,
            "filler": self._pass_over,
            "odd": self._use_odd,
            "vague": self._use_vague,
        }
        kind: str = token.kind
        if token.means is not None:
            kind = token.means.kind
        number = self._number(token)
        if number is not None and self._is_count(at, leads=leads):
            self._counts.append(number)
        elif number is not None and self._is_of_bundle(at):
            self._each = number
        elif kind == "length":
            self._use_length(at)
        elif kind in uses:
            uses[kind](at)
        else:
            raise self._refused(at)

    def _number(self, token: Token) -> int | None:
        """How many a word may say."""
        if token.is_bare:
            return int(token.text[:_MOST_FIGURES])
        if token.kind == "times":
            return int(token.parts[0][:_MOST_FIGURES])
        if token.means is not None and token.is_a("number", "count"):
            return int(token.means.value)
        return None

    def _is_count(self, at: int, *, leads: bool) -> bool:
        token = self.tokens[at]
        if self._is_of_bundle(at):
            return False
        if token.kind == "times" or token.is_a("count"):
            return True
        return leads or (
            at + 1 < len(self.tokens) and self.tokens[at + 1].is_a(*COUNTED)
        )

    def _is_of_bundle(self, at: int) -> bool:
        """Whether a number stands behind a bundle: ``bundle of 40``."""
        if self._bundle is None or self._each:
            return False
        between = (
            token for token in self.tokens[:at] if token.start > self._bundle.start
        )
        return all(token.is_a("filler") for token in between)

    def _pass_over(self, at: int) -> None:
        token = self.tokens[at]
        if token.text.lower() == "each" and self._sized < 0:
            raise self._refused(at)

    def _use_size(self, at: int) -> None:
        if self.size:
            mend = "one leftover a line, with one size"
            raise unread(self.text, "two sizes are in it", mend)
        self._refuse_two_amounts(at)
        self.size = across_and_along(self.text, self.tokens[at], self.stock.unit)
        self._sized = at

    def _use_across(self, at: int) -> None:
        """A strip from selvage to selvage: so long along the selvage, and as wide as the cloth."""
        self._refuse_two_amounts(at)
        self.whole_width = self.tokens[at].parts[0]
        self.across = True
        self._sized = at

    def _use_less(self, at: int) -> None:
        self.less.append(self.tokens[at].parts)

    def _use_length(self, at: int) -> None:
        token = self.tokens[at]
        if token.parts[-1] == "wide" and not self.wide:
            self.wide = token.parts[0]
            return
        self._refuse_two_amounts(at)
        self.whole_width = token.text
        self._sized = at

    def _use_share(self, at: int) -> None:
        self._refuse_two_amounts(at)
        means = self._means(at)
        self.whole_width = means.value
        self._sized = at

    def _refuse_two_amounts(self, at: int) -> None:
        if self.size or self.whole_width:
            raise self._refused(at)

    def _use_form(self, at: int) -> None:
        means = self._means(at)
        if "piece" in (self.form, means.value):
            # any leftover is a piece
            self.form = self.form.replace("piece", "") or means.value
            return
        if self.form not in ("", means.value):
            what = f'it says both "{self.form}" and "{means.value}"'
            raise unread(self.text, what, "one of the two")
        self.form = means.value

    def _use_precut(self, at: int) -> None:
        means = self._means(at)
        if self.precut:
            raise self._refused(at)
        self.precut = means.value

    def _use_bundle(self, at: int) -> None:
        if self._bundle is not None:
            raise self._refused(at)
        self._bundle = self.tokens[at]
        self._many = ""
        self._means(at)

    def _means(self, at: int) -> Meaning:
        """What a phrase means; of several that stand without their number it is asked later."""
        token = self.tokens[at]
        assert token.means is not None
        if token.means.many and (self._bundle is None or token is self._bundle):
            self._many = token.text
        return token.means

    def _use_word(self, at: int) -> None:
        token = self.tokens[at]
        assert token.means is not None
        follows = self.tokens[at + 1 : at + 2]
        if token.means.value == "about" and any(
            self._number(one) is not None and not self._is_last_length(at + 1)
            for one in follows
        ):
            what = f'"{token.text}" stands before how many there are'
            raise unread(
                self.text, what, "how many there are, or about behind the size"
            )
        self.words.add(token.means.value)

    def _is_last_length(self, at: int) -> bool:
        """Whether a number is the last length of the line, and so its size: ``square mist about 5``."""
        lengths = [n for n, token in enumerate(self.tokens) if token.kind == "length"]
        sizes = any(token.kind == "size" for token in self.tokens)
        return not sizes and lengths[-1:] == [at]

    def _use_vague(self, at: int) -> None:
        word = self.tokens[at].text
        mend = f"how many there are, such as {self.text.replace(word, '2', 1)}"
        raise unread(self.text, f'"{word}" is no number', mend)

    def _use_odd(self, at: int) -> None:
        word = self.tokens[at].text
        what = f"words do not tell the form of a {word}"
        mend = "its outline in pieces.csv"
        for name in (f"{word} {self.fabric}", f"{self.fabric} {word}"):
            if name in self.text:
                quoted = self.text.replace(name, f'"{name}"', 1)
                mend = f"{quoted} if that is its name, or {mend}"
        raise unread(self.text, what, mend)

    def _check_size(self) -> None:
        """One size, or what has a usual one."""
        lone = self.whole_width
        if self.across and self.form in (*_SQUARES, "triangle"):
            raise unread(self.text, f"a {self.form} is not as wide as the cloth")
        if self.across:
            return
        if lone and (self.form in _SQUARES or self.precut in _SQUARE_PRECUTS):
            self.size, self.whole_width = (lone, lone), ""
        elif lone and not unit_of(lone):
            raise unread(self.text, "no fabric and size are found in it")
        elif lone and (self.form not in ("", "piece") or self.precut):
            what = f'"{lone}" is one side of it, the other is missing'
            if self.form == "strip":
                other = "WOF"
            else:
                other = lone
            mend = self.text.replace(lone, f"{lone} x {other}", 1)
            raise unread(self.text, what, mend)
        elif lone:
            self._check_length(lone)
        elif not self.size and not self.precut and self._bundle is None:
            raise unread(self.text, "no fabric and size are found in it")
        if self.wide and not self.whole_width:
            raise unread(self.text, f'"{self.wide} wide" is one side of it')
        if self.size and self.precut in _QUARTERS:
            token = self.tokens[self._sized]
            refuse_turned_quarter(self.text, token, self.size, self.stock.unit)

    def _check_length(self, lone: str) -> None:
        """A length behind the name that is not in yards or metres may be half a size."""
        name_first = any(
            token.kind in ("plain", "name") for token in self.tokens[: self._sized]
        )
        if name_first and not unit_of(lone).startswith(_BIG_UNITS):
            what = f'"{lone}" is one length alone'
            whole = f"{lone} {self.fabric} for a length of the whole width"
            raise unread(self.text, what, f"{whole}, or {self.fabric} {lone} x {lone}")

    def _check_bundle(self) -> None:
        """Strips of a bundle, squares of a pack: so many in each, which has to be said."""
        if self._bundle is None:
            return
        assert self._bundle.means is not None
        what = self._bundle.means.value or self.precut
        if self.form == "strip" and what in ("", "bundle_strip"):
            what, self.form = "bundle_strip", ""
        if self.precut and what != self.precut:
            said = f"{self._bundle.text} and {self.precut.replace('_', ' ')}"
            raise unread(self.text, f"it says both {said}", "one of the two")
        if not what and not self.size:
            mend = "strip bundle of 40 oat"
            raise unread(self.text, "what is in the bundle is not said", mend)
        self.precut = what
        if not self._each:
            end = self._bundle.end
            mend = f"{self.body[:end]} of 40{self.body[end:]}"
            raise unread(self.text, "how many are in it is not said", mend)

    def _check_count(self, name: str) -> None:
        """One count, said where there are several; a number in words may belong to the name."""
        if len(self._counts) > 1:
            raise unread(self.text, "how many there are is said twice", "it once")
        if self._many and not self._counts:
            counted = f"2 {self.body}"
            if self.body[0].isdigit():
                # no 2 1/4 yard of 2 and 1/4 yard
                counted = self.body.replace(self._many, f"2 {self._many}", 1)
            mend = f"how many there are, such as {counted}"
            raise unread(self.text, f'"{self._many}" without how many', mend)
        if self.fabric.lower() in self.stock.fabrics:
            return
        if not any(token.is_a(*COUNTED) for token in self.tokens):
            for token in self.tokens:
                if token.is_a("number") and f"{token.text} {name}" in self.text:
                    raise number_or_name(self.text, token.text, self.count, name)

    def _refused(self, at: int) -> Problem:
        corners = any(token.kind == "less" for token in self.tokens)
        rest = words_from(self.body, self.tokens[at])
        return not_understood(self.text, rest, corners=corners)
