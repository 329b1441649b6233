"""From what is said of a quilt to wanted rows, part after part, each with its line and its arithmetic."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Any

from cutopt.errors import Problem
from cutopt.quilt.articles import hanging_sleeve
from cutopt.quilt.binding import binding as binding_sums
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.recipe.block_patches import Block
from cutopt.quilt.recipe.dealt import check_places, span, with_a_place
from cutopt.quilt.recipe.quilt import Border, Quilt, Setting
from cutopt.quilt.sizes import use as use_of
from cutopt.quilt.surds import ZERO, Exact, exact
from cutopt.quilt.top import Top
from cutopt.quilt.wanted_parts import ClothLike, Made
from cutopt.tables.log import Line, Log, Placed
from cutopt.tables.recipe.kinds import article_of, block_of
from cutopt.tables.recipe.sentences import (
    backing_words,
    binding_words,
    border_of,
    setting_of,
)
from cutopt.tables.recipe.sizes_and_beds import Bed, bed_of, found_setting, is_found
from cutopt.wanted import Wanted


@dataclass(slots=True)
class QuiltFile:
    """The quilt, each wanted row with the line that made it, and the words said of its backing and batting."""

    quilt: Quilt
    rows: list[Placed[Wanted]] = field(default_factory=list)
    named: dict[str, Placed[tuple[str, ...]]] = field(default_factory=dict)


@dataclass(slots=True)
class Reader:
    """Works out a quilt from its sentences, as far as they can be understood."""

    file: str
    log: Log
    said: dict[str, list[Line]]
    how: Conventions
    rows: list[Placed[Wanted]] = field(default_factory=list)
    named: dict[str, Placed[tuple[str, ...]]] = field(default_factory=dict)
    notes: list[str] = field(default_factory=list)
    made: list[Made] = field(default_factory=list)
    unplaced: int = 0

    @property
    def sound(self) -> bool:
        """Whether this file has no mistake so far; where it has one, what is missing may be missing for that."""
        return all(problem.file != self.file for problem in self.log.problems)

    def one(self, key: str) -> Line | None:
        """The one sentence of a key."""
        lines = self.said.get(key)
        return lines[0] if lines else None

    def attempt(self, read: Callable[[], Any], row: int) -> Any:
        """What `read` gives, None where it has a problem, which is noted with its line."""
        return self.log.attempt(read, None, self.file, row)

    def add(self, made: Made, row: int) -> None:
        """Keep the rows of a part, with the line that made them."""
        self.rows += [Placed(each, self.file, row) for each in made.wanted]
        self.made.append(made)

    def read(self) -> QuiltFile:
        """The quilt, part after part."""
        if "top" in self.said and ("setting" in self.said or "borders" in self.said):
            line = self.said["top"][0]
            other = self.one("setting") or self.said["borders"][0]
            what = f"a finished top is given here, and a recipe in row {other.row}"
            self.log.add(
                Problem("top", what, "keep the top, or setting and borders"),
                self.file,
                line.row,
            )
        blocks, setting, inner = self._setting(self._blocks())
        borders = self._borders(inner)
        bed = self._bed()
        top = self._top(inner, borders, bed)
        told = self._binding(top)
        self._sleeve(top)
        for line in self.said.get("articles", []):
            made = self.attempt(
                lambda line=line: article_of(line.text, self.how),  # type: ignore[misc]
                line.row,
            )
            if made is not None:
                self.add(made, line.row)
        backing, upright = self._backing(top)
        batting = self._batting(top, backing is not None)
        notes = [note for made in self.made for note in made.notes]
        if top is not None:
            notes = [
                *top.out_of_square(self.how),
                *(bed.remarks(top, self.how) if bed else ()),
                *notes,
            ]
        done = Quilt(
            how=self.how,
            wanted=tuple(placed.value for placed in self.rows),
            notes=tuple(dict.fromkeys([*self.notes, *notes])),
            spare=tuple(s for made in self.made for s in made.spare),
            blocks=tuple(blocks),
            setting=setting,
            unplaced=self.unplaced,
            borders=tuple(borders),
            top=top,
            inner=inner,
            use=self._use(),
            label=self._word("label"),
            backing=backing,
            backing_upright=upright,
            batting=batting,
            binding=told,
        )
        return QuiltFile(quilt=done, rows=self.rows, named=self.named)

    def _word(self, key: str) -> str:
        line = self.one(key)
        return line.text if line else ""

    def _use(self) -> str:
        line = self.one("use")
        if line is None:
            return ""
        self.attempt(lambda: use_of(line.text), line.row)
        return line.text

    def _blocks(self) -> list[tuple[Line, Block]]:
        """The blocks that are understood, each with its line."""
        blocks = []
        for line in self.said.get("blocks", []):
            block = self.attempt(
                lambda line=line: block_of(line.text, self.how),  # type: ignore[misc]
                line.row,
            )
            if block is not None:
                blocks.append((line, block))
        return blocks

    def _setting(
        self, said: Sequence[tuple[Line, Block]]
    ) -> tuple[list[Block], Setting | None, Made | None]:
        """The blocks that have a place, the setting, and what is set between them."""
        blocks = [block for _, block in said]
        line = self.one("setting")
        setting = None
        cell = None
        if line is not None and len(blocks) == len(self.said.get("blocks", [])):
            setting = self._set(line, blocks)
        if line is not None and setting is not None:
            cell = self.attempt(lambda: self._places(blocks, setting), line.row)
        if line is None or setting is None or cell is None:
            for at, block in said:
                self.add(block.made, at.row)
            return blocks, None, None
        counts = with_a_place(blocks, setting, cell)
        self.unplaced = sum(
            block.count - count
            for block, count in zip(blocks, counts, strict=True)
            if span(block, cell) == (1, 1)
        )
        blocks = self._with_a_place(line, said, counts)
        inner = self.attempt(lambda: setting.made(cell, self.how), line.row)
        if inner is not None:
            self.add(inner, line.row)
        return blocks, setting, inner

    def _with_a_place(
        self, line: Line, said: Sequence[tuple[Line, Block]], counts: Sequence[int]
    ) -> list[Block]:
        """So many of each kind of block, their rows added; what has no place is not cut, and that is told."""
        blocks = []
        without = list[str]()
        for (at, block), count in zip(said, counts, strict=True):
            if count < block.count:
                without.append(f"{block.count - count} of {block.count} {block.name}")
            if count:
                kept = block_of(at.text, self.how, count)
                self.add(kept.made, at.row)
                blocks.append(kept)
        if without:
            what = f"there is no place for {' and '.join(without)}, so they are not cut"
            notice = Problem(
                "setting", what, "set more blocks, or ask for spares under [how]"
            )
            self.notes.append(notice.sentence)
            if not is_found(line.text):
                self.log.tell(notice, self.file, line.row)
        return blocks

    def _places(self, blocks: Sequence[Block], setting: Setting) -> tuple[Exact, Exact]:
        """The size of a place; what does not go together names the lines of the blocks too."""
        try:
            return check_places(blocks, setting, self.how)
        except Problem as problem:
            rows = sorted({line.row for line in self.said["blocks"]}) if blocks else []
            if not rows:
                raise
            lines = (
                f"row {rows[0]}" if len(rows) == 1 else f"rows {rows[0]} to {rows[-1]}"
            )
            raise Problem(
                problem.field, f"{problem.what} (blocks in {lines})", problem.mend
            ) from problem

    def _set(self, line: Line, blocks: Sequence[Block]) -> Setting | None:
        """The setting as it is said, or as large as the blocks make it."""
        if not is_found(line.text):
            said: Setting | None = self.attempt(
                lambda: setting_of(line.text, self.how), line.row
            )
            return said
        around = sum(
            (self._border_width(each) for each in self.said.get("borders", [])),
            start=ZERO,
        )
        found = self.attempt(
            lambda: found_setting(line.text, blocks, around, self.how), line.row
        )
        if found is None:
            return None
        self.notes += found[1]
        setting: Setting = found[0]
        return setting

    def _border_width(self, line: Line) -> Exact:
        """The width of a border by its sentence, 0 where it is not understood: it is told where it is made."""
        one = exact(self.how.read("1 m"))
        try:
            return border_of(line.text, (one, one), self.how, "border").width
        except Problem:
            return ZERO

    def _borders(self, inner: Made | None) -> list[Border]:
        lines = self.said.get("borders", [])
        borders = list[Border]()
        if lines and "setting" not in self.said and "top" not in self.said:
            what = "there is nothing to put a border round"
            self.log.add(
                Problem("borders", what, 'write a setting, such as "4 across, 5 down"'),
                self.file,
                lines[0].row,
            )
        if inner is None:
            return []
        at = inner
        for number, line in enumerate(lines, 1):
            name = "border" if number == 1 else f"border {number}"
            inside = (at.width, at.length)
            made = self.attempt(
                lambda line=line, inside=inside, name=name: border_of(
                    line.text, inside, self.how, name
                ),  # type: ignore[misc]
                line.row,
            )
            if made is None:
                return []
            borders.append(made)
            self.add(made.made, line.row)
            at = made.made
        return borders

    def _top(
        self, inner: Made | None, borders: Sequence[Border], bed: Bed | None
    ) -> Top | None:
        line = self.one("top")
        measured = self.one("measured")
        if line is not None:
            base = measured.text if measured else "raw top"
            found: Top | None = self.attempt(
                lambda: Top.read(line.text, self.how, base),  # type: ignore[arg-type]
                line.row,
            )
            return found
        if measured is not None:
            what = f'"{measured.text}" is said of a top, and there is none'
            self.log.add(
                Problem("measured", what, "write a top, or take it out"),
                self.file,
                measured.row,
            )
        if inner is None:
            for_bed = (
                bed is not None
                and "setting" not in self.said
                and "blocks" not in self.said
            )
            return (
                Top.measured(bed.width, bed.length, self.how, "trimmed")
                if bed and for_bed
                else None
            )
        last = borders[-1].made if borders else inner
        return Top.finished(last.width, last.length, self.how)

    def _bed(self) -> Bed | None:
        line = self.one("bed")
        if line is None:
            return None
        bed: Bed | None = self.attempt(lambda: bed_of(line.text, self.how), line.row)
        return bed

    def _binding(self, top: Top | None) -> str:
        line = self.one("binding")
        if line is not None and line.text.lower() in ("no", "none"):
            return "none"
        if top is None:
            if line is not None and self.sound:
                what = "there is no size to bind"
                self.log.add(
                    Problem("binding", what, "write a top, or a setting"),
                    self.file,
                    line.row,
                )
            return ""
        row = (
            line.row
            if line
            else (self.one("top") or self.one("setting") or Line("", 1)).row
        )
        how: Conventions = self.how
        of: ClothLike = None
        if line is not None:
            found = self.attempt(lambda: binding_words(line.text, self.how), row)
            if found is None:
                return ""
            how, of = found
        base = how.binding_from
        size = top.size(base, how)
        made = self.attempt(lambda: binding_sums(*size, of, how, "binding"), row)
        if made is not None:
            self.add(made, row)
        return line.text if line else "any fabric"

    def _sleeve(self, top: Top | None) -> None:
        line = self._asked("sleeve", top, "there is no quilt to hang")
        if line is None or top is None:
            return

        def sewn() -> Made:
            of = (
                binding_words(line.text, self.how)[1]
                if line.text.startswith("from ")
                else line.text
            )
            return hanging_sleeve(top.size("trimmed", self.how)[0], of, self.how)

        made = self.attempt(sewn, line.row)
        if made is not None:
            self.add(made, line.row)

    def _backing(self, top: Top | None) -> tuple[tuple[str, ...] | None, bool]:
        """Fabrics to back it with, and whether the print stands up; what is said about seams becomes a convention."""
        line = self._asked("backing", top)
        if line is None:
            return None, False
        found = self.attempt(lambda: backing_words(line.text, self.how), line.row)
        if found is None:
            return None, False
        words, self.how, upright = found
        self.named["backing"] = Placed(words, self.file, line.row)
        return words, upright

    def _batting(self, top: Top | None, backed: bool) -> tuple[str, ...] | None:
        """Batting to look at; it comes with the backing unless it is refused."""
        if self.one("batting") is None:
            return () if backed else None
        line = self._asked("batting", top)
        if line is None:
            return None
        found = self.attempt(
            lambda: backing_words(line.text.partition(",")[0], self.how), line.row
        )
        if found is None:
            return None
        words: tuple[str, ...] = found[0]
        self.named["batting"] = Placed(words, self.file, line.row)
        return words

    def _asked(
        self,
        key: str,
        top: Top | None,
        without: str = "there is no quilt to put it under",
    ) -> Line | None:
        """The sentence of a key that is not refused; a problem `without` a quilt for it."""
        line = self.one(key)
        if line is None or line.text.lower() in ("no", "none"):
            return None
        if top is None and self.sound:
            self.log.add(
                Problem(key, without, "write a top, or a setting"), self.file, line.row
            )
        return line
