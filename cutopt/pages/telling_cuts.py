"""Telling the cuts of one piece of cloth: what each part is called, what is stacked, what is done again."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from cutopt.moves import Move
from cutopt.pages.moves_of_cuts import Table, descent, next_move
from cutopt.pages.phrases import MOST_LAYERS, lower, piles, slender
from cutopt.pages.words import Words
from cutopt.plan import CutStep


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """What to do in one go: the numbers of its cuts in order, the sentence, and notes below it."""

    numbers: tuple[int, ...]
    text: str
    notes: tuple[str, ...] = ()

    @property
    def cuts(self) -> str:
        """``cut 3`` or ``cuts 3-7``."""
        if not self.numbers:
            return ""
        first = self.numbers[0]
        last = self.numbers[-1]
        if len(self.numbers) == 1:
            return f"cut {first}"
        return f"cuts {first}-{last}"


class Teller:
    """Tells the cuts of one source; remembers what each part is called."""

    def __init__(self, table: Table, source: str) -> None:
        self.table = table
        self.words = Words(table=table, nouns={source: "the piece"})
        self.families: dict[str, tuple[str, ...]] = {}
        self.letters = 0

    def tell(self, cuts: Sequence[CutStep]) -> list[Step]:
        """All steps for these cuts."""
        out: list[Step] = []
        todo = list(cuts)
        while todo:
            blocks = self._stack(todo)
            if len(blocks) > 1:
                todo = todo[sum(map(len, blocks)) :]
                out += self._stacked(blocks, todo)
                continue
            move = next_move(self.table, todo)
            todo = todo[len(move.cuts) :]
            out.append(self._step(move, todo))
        return out

    def _stack(self, cuts: Sequence[CutStep]) -> list[list[CutStep]]:
        """The cuts at the front as blocks, one for each strip of a family that is cut like the first one."""
        family = self.families.get(cuts[0].part, ())
        return list(_equal_blocks(self.table, family, cuts))

    def _stacked(
        self, blocks: list[list[CutStep]], after: Sequence[CutStep]
    ) -> list[Step]:
        """Equal strips cut alike: in one step where that is one move, else the first and then the others."""
        roots = [block[0].part for block in blocks]
        cuts = blocks[0]
        many = len(blocks)
        self.words.layers = max(self.words.layers, min(many, MOST_LAYERS))
        move = next_move(self.table, cuts)
        which = self._which(roots)
        if len(move.cuts) == len(cuts):
            numbers = tuple(cut.n for block in blocks for cut in block)
            said = self.words.sentence(move, "")
            notes = self.words.notes(move, after, times=many)
            self.words.forget()
            if said.edge_last:
                each = "of each"
            else:
                each = "from each"
            told = f"{lower(said.text)} {each}"
            text = f"Stack {which}{piles(many)}, edges even, and {told}."
            return [Step(numbers=numbers, text=text, notes=notes)]
        self.words.forget()
        self.families.pop(roots[0])
        noun = self._noun(roots[0])
        if not self.words.lettered(roots[0]):
            self.words.nouns[roots[0]] = f"the first {noun}"
        steps = self.tell(cuts)
        self.words.forget()
        others = tuple(cut.n for block in blocks[1:] for cut in block)
        text = f"Do the same with the other {noun if many == 2 else f'{many - 1} {noun}s'}."
        note = f"Or stack {which}{piles(many)} and cut them together."
        return [*steps, Step(numbers=others, text=text, notes=(note,))]

    def _which(self, roots: Sequence[str]) -> str:
        """``the 3 strips``, or ``strips A1 to A3`` where they have letters."""
        if self.words.lettered(roots[0]):
            return self._span(roots)
        return f"the {len(roots)} {self._noun(roots[0])}s"

    def _noun(self, part: str) -> str:
        if slender(self.table.size(part)):
            return "strip"
        return "part"

    def _span(self, parts: Sequence[str]) -> str:
        noun, _, first = self.words.nouns[parts[0]].partition(" ")
        last = self.words.nouns[parts[-1]].partition(" ")[2]
        if len(parts) == 1:
            return f"{noun} {first}"
        return f"{noun}s {first} {'and' if len(parts) == 2 else 'to'} {last}"

    def _step(self, move: Move, after: Sequence[CutStep]) -> Step:
        said = self.words.sentence(move, self.words.lead(move.part)).text
        again = self._name(move, after)
        notes = self.words.notes(move, after)
        if move.kind == "strips" and again and self.words.lettered(again[0]):
            said = f"{said}: {self._span(again)}"
        self.words.remember(move)
        numbers = tuple(cut.n for cut in move.cuts)
        return Step(numbers=numbers, text=f"{said}.", notes=notes)

    def _name(self, move: Move, after: Sequence[CutStep]) -> list[str]:
        """Name what is cut again: by a letter, unless all of it is cut, and cut alike, straight afterwards."""
        again = [name for name in move.made if name in self.table.cut_of]
        if not again:
            return []
        noun = self._noun(again[0])
        if len(again) > 1 and move.kind == "strips":
            self.families.update(dict.fromkeys(again, tuple(again)))
        plain = self._at_once(again, after) and not self._inside(
            move.part, f"the {noun}"
        )
        if move.kind == "strips" and plain and not self._taken_up(again[0], after):
            self.words.nouns.update(dict.fromkeys(again, f"the {noun}"))
        elif move.kind == "strips":
            letter = self._letter()
            numbered = [f"{noun} {letter}{i + 1}" for i in range(len(again))]
            self.words.nouns.update(
                zip(
                    again,
                    numbered if len(again) > 1 else [f"{noun} {letter}"],
                    strict=True,
                )
            )
        else:
            self.words.nouns.update({name: f"part {self._letter()}" for name in again})
        return again

    def _at_once(self, parts: Sequence[str], after: Sequence[CutStep]) -> bool:
        """Whether all of the parts are cut up, all alike, by the cuts that come next."""
        if not after or after[0].part != parts[0]:
            return False
        return sum(1 for _ in _equal_blocks(self.table, parts, after)) == len(parts)

    def _taken_up(self, part: str, after: Sequence[CutStep]) -> bool:
        """Whether a strip is cut off the part and cut up before what is left of the part is taken up again.

        "The rest of the strip" could then be that of either, so the part needs a letter.
        """
        todo: Sequence[CutStep] = descent(part, after)
        while todo:
            move = next_move(self.table, todo)
            todo = todo[len(move.cuts) :]
            within = [name for name in move.made if name in self.table.cut_of]
            if within and todo and todo[0].part == within[0]:
                blocks = _equal_blocks(self.table, within, todo)
                if sum(map(len, blocks)) < len(todo):
                    return True
        return False

    def _inside(self, part: str, noun: str) -> bool:
        """Whether the part came from one that is called the same."""
        here: str | None = part
        while here is not None:
            if self.words.nouns.get(here) == noun:
                return True
            here = self.table.parent.get(here)
        return False

    def _letter(self) -> str:
        self.letters += 1
        place = self.letters - 1
        return chr(65 + place % 26) * (place // 26 + 1)


def _equal_blocks(
    table: Table, family: Sequence[str], cuts: Sequence[CutStep]
) -> Iterator[list[CutStep]]:
    """The cuts of the part at the front, then those of its family that follow and are the same."""
    first = None
    todo = cuts
    while todo and (first is None or todo[0].part in family):
        block = descent(todo[0].part, todo)
        shape = table.signature(todo[0].part, block)
        if first is not None and shape != first:
            return
        yield block
        first = shape
        todo = todo[len(block) :]
