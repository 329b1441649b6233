"""The backs of a job and its spare blocks: their tables with what job.toml says of each back, and what contradicts."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import partial

from cutopt.errors import Problem
from cutopt.fabric import Fabric
from cutopt.fabric_words import Meanings
from cutopt.lengths import up
from cutopt.piecing import Back, BackRules, SpareBlock, contradictions_of_back
from cutopt.settings import Settings
from cutopt.tables.columns import nearest
from cutopt.tables.files.csv_tables import TextTable
from cutopt.tables.job.back_rules import ToldRules, told_rules, usual_rules
from cutopt.tables.job.contradictions import named_twice
from cutopt.tables.log import Log, Placed
from cutopt.tables.rows.backs import back_cells, block_of
from cutopt.tables.rows.cells import Row

_NO_TABLE = TextTable("", ())


@dataclass(slots=True)
class BacksRead:
    """What was read of backs, each with its place.

    Parameters
    ----------
    backs, blocks : list of Placed
    rules : dict
        What job.toml tells of each back, by its name in lower case.
    counts : dict
        How many spare blocks there are, by their names, also those that could not be read.
    names : list of str
        Of all backs, also those that could not be read.
    blocks_are_whole : bool
        Whether all rows of the table of blocks could be read.
    """

    backs: list[Placed[Back]] = field(default_factory=list)
    blocks: list[Placed[SpareBlock]] = field(default_factory=list)
    rules: dict[str, ToldRules] = field(default_factory=dict)
    counts: dict[str, int] = field(default_factory=dict)
    names: list[str] = field(default_factory=list)
    blocks_are_whole: bool = True

    @property
    def main_words(self) -> Iterator[tuple[str, Placed[tuple[str, ...]]]]:
        """The main fabric of each back that has one, with the setting that says so."""
        for told in self.rules.values():
            if told.rules.main:
                name, file, row = told.place("main", told.at)
                yield name, Placed((told.rules.main,), file, row)

    def note_unknown(self, log: Log, also: str = "") -> None:
        """Note each back of which job.toml tells something and that is not there.

        Parameters
        ----------
        log : Log
        also : str
            A back that may be there and could not be read.
        """
        names = [*self.names, also]
        known = {name.lower(): name for name in names if name}
        for plain, rules in self.rules.items():
            if plain in known:
                continue
            near = nearest(plain, known)
            if near:
                mend = f"did you mean [back.{known[near]}]?"
            else:
                mend = "add it to backs.csv, or take this out"
            what = f'there is no back "{rules.name}"'
            log.add(Problem("back", what, mend), rules.at.file, rules.at.row)

    def note_contradictions(self, fabrics: Sequence[Fabric], log: Log) -> None:
        """Note what each back contradicts, where it stands."""
        spare = tuple(placed.value for placed in self.blocks)
        meanings = Meanings(fabrics)
        for placed in self.backs:
            found = [*meanings.of_back(placed.value)]
            if self.blocks_are_whole:
                found += contradictions_of_back(placed.value, spare)
            for problem in found:
                note_problem(problem, self.rules, placed, log)
        if self.blocks and not self.backs and not log.problems:
            first = self.blocks[0]
            what = "spare blocks go into a back, and the job has none"
            problem = Problem("", what, "write the back into backs.csv")
            log.tell(problem, first.file)


def read_backs(
    tables: Mapping[str, TextTable],
    entries: Mapping[str, Placed[str]],
    settings: Settings,
    log: Log,
    in_pile: Iterable[Placed[SpareBlock]] = (),
    pile_file: str = "",
) -> BacksRead:
    """The backs and spare blocks of a job.

    Parameters
    ----------
    tables : mapping
        Those that were found, by name.
    entries : mapping
        The settings by name, those of backs among them.
    settings : Settings
    log : Log
    in_pile : iterable of Placed
        Spare blocks that lie in the pile.
    pile_file : str
        Of the pile: a line of it that cannot be read may be of blocks.
    """
    found = BacksRead(rules=told_rules(entries, settings, log))
    before = len(log.problems)
    found.blocks += in_pile
    found.counts |= {block.value.name: block.value.count for block in found.blocks}
    for row in _rows(tables, "blocks", settings, log):
        block = block_of(row, settings.seam)
        found.counts.setdefault(row.text("block"), block.count if block else 1)
        if block is not None:
            found.blocks.append(Placed(block, row.file, row.number))
    named_twice(found.blocks, "block", log)
    half_read = any(problem.file == pile_file for problem in log.problems)
    found.blocks_are_whole = len(log.problems) == before and not half_read
    for row in _rows(tables, "backs", settings, log):
        found.names.append(row.text("back"))
        back = _back(row, found.rules, settings, found.counts)
        if back is not None:
            found.backs.append(Placed(back, row.file, row.number))
    named_twice(found.backs, "back", log)
    return found


def _rows(
    tables: Mapping[str, TextTable], table: str, settings: Settings, log: Log
) -> Iterator[Row]:
    held = tables.get(table, _NO_TABLE)
    for number, cells in held.rows:
        yield Row(held.file, number, cells, settings.unit, log)


def _back(
    row: Row,
    told: Mapping[str, ToldRules],
    settings: Settings,
    counts: Mapping[str, int],
) -> Back | None:
    """A back; what is wrong with a rule is noted where the rule stands."""
    at = told.get(row.text("back").lower())
    rules = at.rules if at else usual_rules(settings)
    cells = back_cells(row, rules.overage, counts)
    rules = _with_seam(row, rules, at)
    if row.bad:
        return None
    try:
        return Back(rules=rules, **cells)
    except Problem as problem:
        note_problem(
            problem, told, Placed(row.text("back"), row.file, row.number), row.log
        )
        return None


def _with_seam(row: Row, rules: BackRules, told: ToldRules | None) -> BackRules:
    """The rules with the seam that the row gives; given elsewhere too, both have to agree."""
    if not row.has("seam"):
        return rules
    seam = row.length("seam", up, least=0)
    if told and "seam" in told.options and seam != rules.seam:
        there = told.options["seam"]
        what = f'the seam is "{row.text("seam")}" here, and "{there.value}" in {there.file} row {there.row}'
        row.note(Problem("seam", what, "take it out here or there"))
        return rules
    return row.attempt(partial(replace, rules, seam=seam), rules)


def note_problem(
    problem: Problem,
    told: Mapping[str, ToldRules],
    back: Placed[Back] | Placed[str],
    log: Log,
) -> None:
    """Note a problem of a back: at the rule that it is about where that is told, else in its row.

    Parameters
    ----------
    problem : Problem
    told : mapping
        What job.toml tells of backs, by their names in lower case.
    back : Placed
        The back, or its name.
    log : Log
    """
    name = back.value if isinstance(back.value, str) else back.value.name
    place = problem.field, back.file, back.row
    if name.lower() in told:
        place = told[name.lower()].place(problem.field, back)
    log.add(Problem(place[0], problem.what, problem.mend), place[1], place[2])
