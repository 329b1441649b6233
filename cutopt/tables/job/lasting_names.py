"""Names that last: those of a pile.txt written in front of its lines, so that no line that goes renames another."""

from __future__ import annotations

from pathlib import Path

from cutopt.errors import Problem
from cutopt.tables.files.atomic import write_whole
from cutopt.tables.files.text_files import read_text
from cutopt.tables.job.reading import read_job
from cutopt.tables.log import Log
from cutopt.tables.pile.reading import read_pile, with_names
from cutopt.tables.pile.stock import Stock


def name_pieces(folder: str | Path) -> int:
    """Write the names of all pieces into pile.txt, ``oat-3: oat 9 x 9``; comments and everything else stay.

    Returns
    -------
    int
        How many lines got a name; those that have one keep it.

    Raises
    ------
    JobError
        Where the job has mistakes.
    Problem
        Where there is no pile.txt.
    """
    job = read_job(folder)
    if Path(folder).name == "job.toml":
        home = Path(folder).parent
    else:
        home = Path(folder)
    if home.is_dir():
        file = next(
            (path for path in home.glob("*") if path.name.lower() == "pile.txt"), None
        )
    else:
        file = None
    if file is None:
        what = "there is no pile.txt whose lines could be named"
        mend = "write the names in front of the lines of the pile yourself, such as oat-3: oat 9 x 9"
        raise Problem("", what, mend, file=str(folder))
    lines = read_text(file, Log()).split("\n")
    names = [fabric.name for fabric in job.fabrics]
    stock = Stock.of(job.settings, names, job.shop)
    placed = read_pile(enumerate(lines, 1), file.name, stock, Log(), blocks=[])
    named = 0
    # a job has the pieces of its pile.txt first
    pairs = list(zip(placed, job.pieces, strict=False))
    for row in dict.fromkeys(at.row for at in placed):
        own = [piece.name for at, piece in pairs if at.row == row]
        told = with_names(lines[row - 1], own, stock)
        named += told != lines[row - 1]
        lines[row - 1] = told
    if named:
        write_whole(file, "\n".join(lines))
    return named
