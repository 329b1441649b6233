"""Which word of a line says what: each is used once, or the line is asked back."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from cutopt.errors import Problem
from cutopt.tables.pile.amounts import (
    across_and_along,
    is_across,
    length_of_cloth,
)
from cutopt.tables.pile.asides import without_asides
from cutopt.tables.pile.asked_back import NotUnderstood, unread
from cutopt.tables.pile.fabric_run import check_name, fabric_run, words_from
from cutopt.tables.pile.phrases import COUNTED, Meaning
from cutopt.tables.pile.said import Said
from cutopt.tables.pile.settling import AMOUNTS, number_of, settled
from cutopt.tables.pile.stock import Stock
from cutopt.tables.pile.tokens import tokens_of
from cutopt.tables.pile.whole_line import check_amount, check_bundle, check_count

_ASIDE: Final = ("comma", "filler")


def said_in(text: str, body: str, stock: Stock) -> Said:
    """What the words of a line say.

    Parameters
    ----------
    text, body : str
        The line, and what of it stands beside flaws and note.
    stock : Stock

    Raises
    ------
    Problem
        For the first word that cannot be used, or what is missing.
    """
    tokens = settled(tokens_of(body, stock.known))
    kept, notes, usable = without_asides(body, tokens)
    said = Said(text=text, body=body, stock=stock, tokens=kept)
    said.notes = notes
    said.usable = usable
    _Reader(said).read()
    return said


class _Reader:
    """Uses each word of a line."""

    def __init__(self, said: Said) -> None:
        self._said = said
        self._uses: dict[str, Callable[[int], None]] = {
            "size": self._use_size,
            "across": self._use_across,
            "side": self._use_side,
            "length": self._use_length,
            "less": self._use_less,
            "comma": self._pass_over,
            "form": self._use_form,
            "precut": self._use_precut,
            "bundle": self._use_bundle,
            "share": self._use_share,
            "word": self._use_word,
            "filler": self._pass_over,
            "tally": self._pass_over,
            "counter": self._pass_over,
            "odd": self._use_odd,
            "ell": self._use_ell,
            "legs": self._use_legs,
            "whole width": self._use_whole,
            "remark": self._use_remark,
            "nominal": self._use_remark,
            "vague": self._use_vague,
            "area": self._use_area,
            "one way": self._use_one_way,
            "sewn": self._use_sewn,
            "part": self._use_part,
        }

    def read(self) -> None:
        """Use each word of the line.

        Raises
        ------
        Problem
            For the first that cannot be used, or what is missing.
        """
        said = self._said
        run = fabric_run(said.text, said.body, said.tokens)
        first = said.tokens[run.start]
        name = said.body[first.start : said.tokens[run.stop - 1].end]
        said.fabric = " ".join(name.split())
        if first.kind == "name":
            said.fabric = first.parts[0].replace('""', '"').strip()
        rest = [at for at in range(len(said.tokens)) if at not in run]
        for at in rest:
            before = (said.tokens[b] for b in rest if b < at)
            alone = all(token.is_a("filler") for token in before)
            self._use(at, leads=alone and at < run.start)
        check_amount(said)
        check_bundle(said)
        check_name(said.text, said.body, said.tokens, run, said.stock)
        check_count(said, name)

    def _use(self, at: int, *, leads: bool) -> None:
        """Use a word that is none of the name; `leads` says that it is the first that says anything."""
        token = self._said.tokens[at]
        kind: str = token.kind
        if token.means is not None:
            kind = token.means.kind
        if token.about:
            self._said.words.add("about")
        number = number_of(token)
        if number is not None and self._is_count(at, leads=leads):
            self._refuse_parts_of_one(at, number)
            self._said.counts.append(number)
        elif number is not None and self._is_of_bundle(at):
            self._said.each = number
        elif kind in self._uses:
            self._uses[kind](at)
        else:
            raise self._refused(at)

    def _refuse_parts_of_one(self, at: int, number: int) -> None:
        """Ask how large each is of what one amount is cut into: ``1 1/2 yd in two pieces``."""
        said = self._said
        before = said.tokens[at - 1].text.lower() if at else ""
        if before not in ("in", "into", "cut in", "cut into") or said.sized < 0:
            return
        what = f"how large each of the {number} is, is not said"
        mend = f"it, such as {number} pieces {said.fabric} 18 x 20"
        raise unread(said.text, what, mend)

    def _is_count(self, at: int, *, leads: bool) -> bool:
        tokens = self._said.tokens
        token = tokens[at]
        if self._is_of_bundle(at):
            return False
        if token.kind == "times" or token.is_a("count"):
            return True
        if at and tokens[at - 1].is_a("counter"):
            return True
        several = self._said.many or self._said.form in ("square", "strip")
        if self._is_between_commas(at) and several and not self._said.counts:
            return True
        return leads or (at + 1 < len(tokens) and tokens[at + 1].is_a(*COUNTED))

    def _is_between_commas(self, at: int) -> bool:
        """Whether a number stands alone, beside another that is the size: ``5" squares, 12, mist``."""
        tokens = self._said.tokens
        beside = (*tokens[max(at - 1, 0) : at], *tokens[at + 1 : at + 2])
        others = (one for n, one in enumerate(tokens) if n != at)
        sized = any(one.kind in AMOUNTS for one in others)
        return sized and all(one.kind == "comma" for one in beside)

    def _is_of_bundle(self, at: int) -> bool:
        """Whether a number stands behind a bundle: ``bundle of 40``."""
        said = self._said
        if said.bundle is None or said.each:
            return False
        start = said.bundle.start
        between = (token for token in said.tokens[:at] if token.start > start)
        return all(token.is_a("filler") or token.kind == "comma" for token in between)

    def _pass_over(self, at: int) -> None:
        tokens = self._said.tokens
        before_size = any(one.kind in AMOUNTS for one in tokens[at + 1 : at + 2])
        said = self._said.sized >= 0 or before_size
        if tokens[at].text.lower() == "each" and not said:
            raise self._refused(at)

    def _use_size(self, at: int) -> None:
        said = self._said
        if said.size:
            mend = "one leftover a line, with one size"
            raise unread(said.text, "two sizes are in it", mend)
        self._refuse_two_amounts(at)
        token = said.tokens[at]
        said.sized = at
        length = length_of_cloth(token, said.stock.unit)
        if length is None:
            said.size = across_and_along(said.text, token, said.stock.unit)
        else:
            said.whole_width, said.wide = length

    def _use_across(self, at: int) -> None:
        """A strip from selvage to selvage: so long along the selvage, and as wide as the cloth."""
        self._refuse_two_amounts(at)
        along, half = self._said.tokens[at].parts
        self._said.whole_width = along
        self._said.across = True
        self._said.half_width = bool(half)
        self._said.sized = at

    def _use_less(self, at: int) -> None:
        self._said.less.append(self._said.tokens[at].parts)

    def _use_side(self, at: int) -> None:
        """``6 wide``, ``20 long``: the other may stand anywhere."""
        said = self._said
        length, way = said.tokens[at].parts
        across = is_across(way)
        if said.size or (said.wide if across else said.long):
            raise self._refused(at)
        if across:
            said.wide = length
        else:
            said.long = length
        if said.sized < 0:
            said.sized = at

    def _use_length(self, at: int) -> None:
        self._refuse_two_amounts(at)
        self._said.whole_width = self._said.tokens[at].parts[0]
        self._said.sized = at

    def _use_share(self, at: int) -> None:
        self._refuse_two_amounts(at)
        self._said.whole_width = self._means(at).value
        self._said.sized = at

    def _refuse_two_amounts(self, at: int) -> None:
        if self._said.size or self._said.whole_width:
            raise self._refused(at)

    def _use_form(self, at: int) -> None:
        said = self._said
        means = self._means(at)
        if means.noted:
            said.notes.append(said.tokens[at].text)
        if "piece" in (said.form, means.value):
            # any leftover is a piece
            said.form = said.form.replace("piece", "") or means.value
            return
        if said.form not in ("", means.value):
            what = f'it says both "{said.form}" and "{means.value}"'
            raise unread(said.text, what, "one of the two")
        said.form = means.value

    def _use_precut(self, at: int) -> None:
        means = self._means(at)
        if self._said.precut:
            raise self._refused(at)
        self._said.precut = means.value

    def _use_bundle(self, at: int) -> None:
        if self._said.bundle is not None:
            raise self._refused(at)
        self._said.bundle = self._said.tokens[at]
        self._said.many = ""
        self._means(at)

    def _means(self, at: int) -> Meaning:
        """What a phrase means; of several that stand without their number it is asked later."""
        token = self._said.tokens[at]
        assert token.means is not None
        if token.means.many and self._said.bundle in (None, token):
            self._said.many = token.text
        return token.means

    def _use_word(self, at: int) -> None:
        said = self._said
        token = said.tokens[at]
        assert token.means is not None
        follows = said.tokens[at + 1 : at + 2]
        if token.means.value == "about" and any(
            number_of(one) is not None and not self._is_last_length(at + 1)
            for one in follows
        ):
            what = f'"{token.text}" stands before how many there are'
            line = " ".join(said.text.replace(token.text, "", 1).split())
            mend = (
                f"how many there are at least, such as {line}, or about behind the size"
            )
            raise unread(said.text, what, mend)
        said.words.add(token.means.value)
        if token.means.noted:
            said.notes.append(token.text)

    def _is_last_length(self, at: int) -> bool:
        """Whether a number is the last length of the line, and so its size: ``square mist about 5``."""
        tokens = self._said.tokens
        lengths = [n for n, token in enumerate(tokens) if token.kind == "length"]
        sizes = any(token.kind == "size" for token in tokens)
        return not sizes and lengths[-1:] == [at]

    def _use_whole(self, at: int) -> None:
        if self._said.whole or self._said.across:
            raise self._refused(at)
        self._said.whole = True

    def _use_legs(self, at: int) -> None:
        if self._said.legs:
            raise self._refused(at)
        self._said.legs = True

    def _use_ell(self, at: int) -> None:
        self._said.ell = self._said.tokens[at].text

    def _use_remark(self, at: int) -> None:
        self._said.notes.append(self._said.tokens[at].text)

    def _use_vague(self, at: int) -> None:
        word = self._said.tokens[at].text
        text = self._said.text
        mend = f"how many there are, such as {text.replace(word, '2', 1)}"
        raise unread(text, f'"{word}" is no number', mend)

    def _use_area(self, at: int) -> None:
        word = self._said.tokens[at].text
        what = f'"{word}" says how much cloth it is, not how wide and how long'
        raise unread(self._said.text, what)

    def _use_one_way(self, at: int) -> None:
        """Said of a fabric, not of a piece."""
        raise NotUnderstood(self._said.text, self._said.tokens[at].text)

    def _use_sewn(self, at: int) -> None:
        said = self._said
        word = said.tokens[at].text
        what = f'"{word}" may be sewn or only cut'
        sewn = said.text.replace(word, f"{word.removesuffix('s')} blocks", 1)
        cut = "half square plum 14 for triangles that are cut"
        raise unread(said.text, what, f"{sewn} if they are sewn, or {cut}")

    def _use_part(self, at: int) -> None:
        word = self._said.tokens[at].text
        if any(token.kind == "size" for token in self._said.tokens):
            self._said.notes.append(word)
            return
        what = f'"{word}" says no size'
        mend = f"it, such as {self._said.fabric} 10 1/2 x 18"
        raise unread(self._said.text, what, mend)

    def _use_odd(self, at: int) -> None:
        said = self._said
        word = said.tokens[at].text
        if said.usable:
            said.notes.append(word)
            return
        what = f"words do not tell the form of a {word}"
        mend = "its outline in pieces.csv"
        for name in (f"{word} {said.fabric}", f"{said.fabric} {word}"):
            if name in said.text:
                quoted = said.text.replace(name, f'"{name}"', 1)
                mend = f"{quoted} if that is its name, or {mend}"
        raise unread(said.text, what, mend)

    def _refused(self, at: int) -> Problem:
        said = self._said
        corners = any(token.kind == "less" for token in said.tokens)
        rest = words_from(said.body, said.tokens[at])
        return NotUnderstood(said.text, rest, corners=corners)
