"""A job as a maker writes it, read from its folder, and its rows as numbers in the unit of the job."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import Any, Final

import cutopt as co
from cutopt.lengths import UNITS

INCHES: Final = 'name = "told"\nunit = "in"\n'
CENTIMETRES: Final = 'name = "told"\nunit = "cm"\n'


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """What a job wants: (count, width, length) by name, lengths as exact numbers of its unit."""

    job: Any
    rows: dict[str, tuple[int, Fraction, Fraction]]

    @property
    def quilt(self) -> Any:
        """The quilt that its sentences make."""
        return self.job.worked_out.quilt

    @property
    def finished(self) -> tuple[float, float]:
        """Finished width and length in the unit of the job."""
        unit = UNITS[self.job.settings.unit]
        width, length = self.quilt.finished
        return float(width) / unit, float(length) / unit

    def only(self, word: str = "") -> tuple[int, Fraction, Fraction]:
        """The one row whose name has a word in it."""
        (found,) = [row for name, row in self.rows.items() if word in name]
        return found


def told(
    folder: Path, sentences: str, settings: str = INCHES, usable: str = ""
) -> Told:
    """A job of sentences alone, with a shop that has "oat" by length.

    Parameters
    ----------
    folder : Path
        Where it is written.
    sentences : str
        Of quilt.toml.
    settings : str
        Of job.toml.
    usable : str
        Usable width of the cloth on sale, 42 in or 107 cm where nothing is said.
    """
    folder.mkdir(exist_ok=True)
    (folder / "job.toml").write_text(settings, encoding="utf-8")
    (folder / "quilt.toml").write_text(sentences, encoding="utf-8")
    (folder / "pile.txt").write_text("", encoding="utf-8")
    width = usable or ("107" if "cm" in settings else "42")
    shop = f"fabric,usable_width,sold_by\noat,{width},\npear,{width},\n"
    (folder / "shop.csv").write_text(shop, encoding="utf-8")
    job = co.read_job(folder)
    unit = UNITS[job.settings.unit]
    rows = {}
    for row in (*job.cuts, *job.strips):
        long = row.length if isinstance(row, co.Cut) else row.total_length
        rows[row.name] = row.count, Fraction(row.width, unit), Fraction(long, unit)
    return Told(job=job, rows=rows)
