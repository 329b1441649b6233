"""The quilt of a quilt.toml or of a sheet ``quilt``, with every mistake told in its place."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache, partial
from typing import Final

from cutopt.errors import JobError, Problem
from cutopt.job import ClothKnown, Job
from cutopt.quilt.recipe.quilt import Quilt
from cutopt.settings import Settings
from cutopt.tables.files.csv_tables import TextTable
from cutopt.tables.files.toml_rows import loaded
from cutopt.tables.job.settings import toml_problem
from cutopt.tables.log import Log
from cutopt.tables.recipe.asides import settled
from cutopt.tables.recipe.habits import cloth_known, conventions_of
from cutopt.tables.recipe.part_by_part import QuiltFile, quilt_from
from cutopt.tables.recipe.reader import Reader
from cutopt.tables.recipe.told import KEYS, ToldQuilt, told_in_sheet, told_in_toml

FILE: Final = "quilt.toml"
NOT_KNOWN: Final = ClothKnown()
__all__ = ["FILE", "KEYS", "QuiltFile", "quilt", "quilt_of", "read_quilt", "read_sheet"]


def read_quilt(
    text: str,
    settings: Settings,
    log: Log,
    file: str = FILE,
    cloth: ClothKnown = NOT_KNOWN,
) -> QuiltFile | None:
    """The quilt of a quilt.toml, None where nothing can be made of it.

    Parameters
    ----------
    text : str
    settings : Settings
        Of the job.
    log : Log
        Every mistake, with its line.
    file : str
        Its name.
    cloth : ClothKnown
        What is known of the cloth of the job.
    """
    try:
        told = loaded(text)
    except (ValueError, RecursionError) as error:
        log.add(toml_problem(error, text), file)
        return None
    mend = 'write top = "58 x 66", or blocks = [...] and setting = "..."'
    return worked_out(
        told_in_toml(told, text, file, log), mend, settings, log, file, cloth
    )


def read_sheet(
    sheet: TextTable, settings: Settings, log: Log, cloth: ClothKnown = NOT_KNOWN
) -> QuiltFile | None:
    """The quilt of a sheet ``quilt``, as :func:`read_quilt` reads that of a quilt.toml.

    Parameters
    ----------
    sheet : TextTable
    settings : Settings
        Of the job.
    log : Log
        Every mistake, with its row.
    cloth : ClothKnown
        What is known of the cloth of the job.
    """
    mend = "write a row with top and a size, or rows with blocks and a setting"
    return worked_out(told_in_sheet(sheet, log), mend, settings, log, sheet.file, cloth)


def worked_out(
    told: ToldQuilt,
    mend: str,
    settings: Settings,
    log: Log,
    file: str,
    cloth: ClothKnown = NOT_KNOWN,
) -> QuiltFile | None:
    """The quilt of what is said, None where nothing is, or something is wrong.

    Parameters
    ----------
    told : ToldQuilt
    mend : str
        What to write where nothing is said.
    settings : Settings
        Of the job.
    log : Log
    file : str
        Where it is said.
    cloth : ClothKnown
        What is known of the cloth of the job.
    """
    how = conventions_of(told.how, settings, file, log)
    if cloth.usable_width is not None:
        how = replace(how, usable_width=cloth.usable_width)
    said, notes = settled(told.sentences, cloth.names, file, log)
    reader = Reader(
        file=file, log=log, said=said, how=how, known=cloth.names, notes=notes
    )
    if not told.sentences:
        if reader.sound:
            log.add(Problem("", "it says nothing", mend), file)
        return None
    made = log.attempt(partial(quilt_from, reader), None, file)
    if reader.sound:
        return made
    return None


def quilt_of(job: Job) -> Quilt | None:
    """The quilt that a job was worked out from, None where there is none.

    It is the one that the job holds, as long as nothing was changed since of what it was worked out from.

    Raises
    ------
    JobError
        Where its text cannot be read, as in a job put together by hand.
    """
    if not job.quilt:
        return None
    cloth = cloth_known(job.shop, job.fabrics)
    kept = job.worked_out
    if kept is not None and kept.is_from(job.quilt, job.settings, cloth):
        assert isinstance(kept.quilt, Quilt)
        return kept.quilt
    return _quilt_of(job.quilt, job.settings, cloth)


@lru_cache(maxsize=16)
def _quilt_of(text: str, settings: Settings, cloth: ClothKnown) -> Quilt | None:
    """The quilt of a job that does not hold it; each is worked out once."""
    log = Log()
    found = read_quilt(text, settings, log, cloth=cloth)
    log.finish()
    if found:
        return found.quilt
    return None


def quilt(text: str, settings: Settings | None = None) -> Quilt:
    """A quilt from the words of a quilt.toml: ``quilt('top = "58 x 66"')``.

    Raises
    ------
    JobError
        With every mistake, its line and its mend.
    """
    log = Log()
    found = read_quilt(text, settings or Settings(), log, "text")
    log.finish()
    if found is None:
        raise JobError([Problem("", "it says nothing", 'write top = "58 x 66"')])
    return found.quilt
