"""Reading a job from a folder of tables (or a workbook), with every mistake found in one pass."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace
from functools import partial
from pathlib import Path
from typing import Final, TypeVar

from cutopt.errors import Problem
from cutopt.fabric import Fabric, Offered, Piece
from cutopt.job import ClothKnown, Job, WorkedOut
from cutopt.piecing import Back, SpareBlock
from cutopt.settings import Settings
from cutopt.tables.columns import COLUMNS
from cutopt.tables.job.back_of_quilt import add_back_of_quilt
from cutopt.tables.job.backs import BacksRead, read_backs
from cutopt.tables.job.contradictions import (
    named_twice,
    of_known_fabric,
    of_known_words,
    of_owners,
    of_sound_rules,
)
from cutopt.tables.job.finding import find_tables
from cutopt.tables.job.found_tables import FoundTables
from cutopt.tables.job.rows_by_hand import mixed
from cutopt.tables.job.settings import settings_of
from cutopt.tables.job.washing import SHRINKAGE, with_prewash
from cutopt.tables.log import Log, Placed
from cutopt.tables.pile.reading import read_pile
from cutopt.tables.pile.stock import Stock
from cutopt.tables.recipe.habits import cloth_known
from cutopt.tables.recipe.quilt import QuiltFile, read_quilt, read_sheet
from cutopt.tables.recipe.sentences_of_backs import NAME
from cutopt.tables.recipe.told import SENTENCE
from cutopt.tables.rows.cells import Row
from cutopt.tables.rows.odd_sizes import of_cells
from cutopt.tables.rows.reading import cut_of, fabric_of, offered_of, piece_of, strip_of
from cutopt.wanted import Cut, Strip, Wanted

T = TypeVar("T")
_VALUES: Final = ("light", "medium", "dark")


def read_job(folder: str | Path) -> Job:
    """Read a job from a folder of tables.

    Parameters
    ----------
    folder : str or Path
        A folder with job.toml, a pile (pile.txt or pieces.csv or both) and what is wanted (cuts.csv, strips.csv,
        backs.csv with its blocks.csv, or a quilt.toml that they are worked out from); fabrics.csv and shop.csv
        where they are needed. The tables may also be sheets of one
        .xlsx file in the folder. The path of an .xlsx or of the job.toml itself will do as well.

    Returns
    -------
    Job
        With every length in ticks: cloth rounded down, what is needed rounded up. What can be planned but is
        hardly meant (cloth as narrow as if its width were in another unit) is told in its `notices`.

    Raises
    ------
    JobError
        With every mistake of the folder, each with its file, row, column and mend.
    """
    log = Log()
    found = find_tables(Path(folder), log)
    name, settings = settings_of(found.entries or {}, log)
    parts = _Reader(found=found, settings=settings, log=log).read()
    if found.quilt_sheet:
        log.in_column(found.quilt_file, SENTENCE, COLUMNS["quilt"])
    log.finish()
    return Job(
        name=name,
        settings=parts.settings,
        fabrics=parts.fabrics,
        pieces=parts.pieces,
        shop=parts.shop,
        cuts=parts.cuts,
        strips=parts.strips,
        backs=parts.backs,
        spare_blocks=parts.spare_blocks,
        quilt=found.quilt or "",
        worked_out=parts.worked_out,
        notices=log.notices,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Parts:
    """What a job is made of; of no use where a mistake was noted."""

    settings: Settings
    fabrics: tuple[Fabric, ...]
    pieces: tuple[Piece, ...]
    shop: tuple[Offered, ...]
    cuts: tuple[Cut, ...]
    strips: tuple[Strip, ...]
    backs: tuple[Back, ...]
    spare_blocks: tuple[SpareBlock, ...]
    worked_out: WorkedOut | None


@dataclass(slots=True)
class _Reader:
    """Turns the tables of a folder into the parts of a job."""

    found: FoundTables
    settings: Settings
    log: Log
    made: QuiltFile | None = None
    backed: BacksRead = field(default_factory=BacksRead)
    blocks: list[Placed[SpareBlock]] = field(default_factory=list)
    named: dict[str, Placed[tuple[str, ...]]] = field(default_factory=dict)

    def read(self) -> _Parts:
        """The parts of a job, checked against each other row by row."""
        shop = self._shop()
        pieces = self._pieces(_values(shop))
        of_cells(pieces, self.settings, self.log)
        placed = self._fabrics(pieces, shop)
        fabrics = _values(placed)
        cloth = cloth_known(_values(shop), fabrics)
        entries = self.found.entries or {}
        tables = self.found.tables
        self.backed = read_backs(
            tables,
            entries,
            self.settings,
            self.log,
            self.blocks,
            self.found.pile_file,
        )
        cuts, strips = self._wanted(cloth)
        self._back_of_quilt()
        named_twice(placed, "fabric", self.log)
        named_twice(pieces, "piece", self.log)
        named_twice(cuts, "cut", self.log)
        named_twice(strips, "strip", self.log)
        half_read = self._half_read()
        wanted: list[Placed[Wanted]] = [*cuts, *strips]
        backs = self.backed.backs
        named = [*self.named.items(), *self.backed.main_words]
        of_known_words([*wanted, *backs], named, fabrics, half_read, self.log)
        of_sound_rules(wanted, fabrics, self.settings, self.log)
        self.backed.note_contradictions(fabrics, self.log)
        return _Parts(
            settings=self.settings,
            fabrics=fabrics,
            pieces=of_known_fabric(pieces, fabrics, half_read, self.log),
            shop=of_known_fabric(shop, fabrics, half_read, self.log),
            cuts=_values(cuts),
            strips=_values(strips),
            backs=_values(backs),
            spare_blocks=_values(self.backed.blocks),
            worked_out=self._worked_out(cloth),
        )

    def _shop(self) -> list[Placed[Offered]]:
        """What can be bought; a word for a precut stands for its size."""
        return self._rows("shop", partial(offered_of, precuts=self.settings.precuts))

    def _pieces(self, shop: Iterable[Offered]) -> list[Placed[Piece]]:
        """The pile in words, then the table of pieces."""
        in_table = self._rows("pieces", piece_of)
        rows = self._cells("pieces")
        told = [cells["piece"] for _, cells in rows if "piece" in cells]
        lines = self.found.pile or ()
        fabrics = self._cells("fabrics")
        names = [cells["fabric"] for _, cells in fabrics if "fabric" in cells]
        names += [row.fabric for row in shop]
        stock = Stock.of(self.settings, names, shop)
        file = self.found.pile_file
        in_words = read_pile(lines, file, stock, self.log, told, self.blocks)
        return [*in_words, *in_table]

    def _wanted(
        self, cloth: ClothKnown
    ) -> tuple[list[Placed[Cut]], list[Placed[Strip]]]:
        """What is wanted: the rows written by hand, and those that quilt.toml makes."""
        cuts = self._rows("cuts", cut_of)
        strips = self._rows("strips", strip_of)
        self.made = self._quilt(cloth)
        if self.made is None:
            return cuts, strips
        rows = self.made.rows
        quilt = self.made.quilt
        # what [how] says of lengths from the shop holds for all of the job
        self.settings = replace(
            self.settings,
            extra=quilt.how.extra,
            square_up_end=quilt.how.square_up_end,
        )
        self.named = self.made.named
        backed = quilt.backing is not None or quilt.batting is not None
        pieced = self.backed.backs or self.made.back
        wanted = bool(cuts or strips or rows or backed or pieced)
        if not wanted and not self.found.is_spoilt(self.log):
            mend = "write blocks, a binding, a backing or articles"
            problem = Problem("", "nothing is wanted", mend)
            self.log.add(problem, self.found.quilt_file)
        return mixed(cuts, strips, rows, self.settings.unit, self.log)

    def _back_of_quilt(self) -> None:
        """The back that quilt.toml asks for; where it could not be read nobody knows whether it does."""
        if self.made is not None and self.made.back is not None:
            asked = self.made.back
            add_back_of_quilt(asked, self.backed, self.settings, self.log)
        unread = self.found.quilt is not None and self.made is None
        self.backed.note_unknown(self.log, NAME if unread else "")

    def _quilt(self, cloth: ClothKnown) -> QuiltFile | None:
        if self.found.quilt is None:
            return None
        if self.found.quilt_sheet:
            return read_sheet(self.found.quilt_sheet, self.settings, self.log, cloth)
        return read_quilt(self.found.quilt, self.settings, self.log, cloth=cloth)

    def _worked_out(self, cloth: ClothKnown) -> WorkedOut | None:
        """The quilt, for whoever asks the job for it."""
        if self.made is None:
            return None
        return WorkedOut(
            quilt=self.made.quilt,
            text=self.found.quilt or "",
            settings=self.settings,
            cloth=cloth,
        )

    def _cells(self, table: str) -> tuple[tuple[int, dict[str, str]], ...]:
        if table in self.found.tables:
            return self.found.tables[table].rows
        return ()

    def _rows(self, table: str, read: Callable[[Row], T | None]) -> list[Placed[T]]:
        """The values of a table's rows that could be read."""
        out = []
        for number, cells in self._cells(table):
            file = self.found.tables[table].file
            value = read(Row(file, number, cells, self.settings.unit, self.log))
            if value is not None:
                out.append(Placed(value, file, number))
        return out

    def _half_read(self) -> str:
        """The text of all rows that name fabrics and in which something is wrong, in lower case."""
        wrong = {(problem.file, problem.row) for problem in self.log.problems}
        told: list[str] = []
        in_table = "fabrics" in self.found.tables
        for table in ("fabrics",) if in_table else ("pieces", "shop"):
            for row, cells in self._cells(table):
                if (self.found.tables[table].file, row) in wrong:
                    told += cells.values()
                    told += _VALUES if in_table else ()
        if not in_table:
            file = self.found.pile_file
            lines = self.found.pile or ()
            told += [text for row, text in lines if (file, row) in wrong]
        return "\n".join(told).lower()

    def _fabrics(
        self, pieces: Iterable[Placed[Piece]], shop: Iterable[Placed[Offered]]
    ) -> list[Placed[Fabric]]:
        """The rows of fabrics.csv, and each fabric that only pile or shop name."""
        told = self._rows("fabrics", fabric_of)
        owners: list[Placed[Piece] | Placed[Offered]] = [*pieces, *shop]
        if "fabrics" in self.found.tables:
            log = self.log
        else:
            log = None
        found = [*told, *of_owners(owners, told, self._half_read(), log)]
        rows = (cells for _, cells in self._cells("fabrics"))
        known = {
            row.get("fabric", "").lower() for row in rows if row.keys() & {*SHRINKAGE}
        }
        names = {placed.value.name.lower() for placed in found}
        unwashed = {placed.value.fabric.lower() for placed in shop}
        unwashed |= {
            p.value.fabric.lower() for p in pieces if p.value.washed == "unwashed"
        }
        return with_prewash(found, names - known, unwashed, self.settings, self.log)


def _values(rows: Iterable[Placed[T]]) -> tuple[T, ...]:
    return tuple(row.value for row in rows)
