"""What is known of cloth beside the lines of the pile: the unit, sizes of precuts, fabrics, and widths on the bolt."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from cutopt.fabric import USABLE_WIDTH, ByLength, Offered
from cutopt.lengths import INCH
from cutopt.precuts import Precuts
from cutopt.settings import Settings
from cutopt.tables.pile.phrases import says_more_than_a_name


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """What a line of the pile is read with.

    Parameters
    ----------
    unit : {"in", "cm"}
        Of bare numbers.
    seam : int
        Of the job, ticks: what a block measures more than it is finished.
    precuts : Precuts
        Their sizes.
    fabrics : tuple of str
        Names that the tables give.
    known : tuple of str
        Those of them that would be read otherwise ("raw silk"), the longest first.
    widths : mapping
        Usable widths by the fabric in lower case, ticks.
    """

    unit: str = "in"
    seam: int = INCH // 4
    precuts: Precuts = field(default_factory=Precuts)
    fabrics: frozenset[str] = frozenset()
    known: tuple[str, ...] = ()
    widths: Mapping[str, int] = field(default_factory=dict)

    @classmethod
    def of(
        cls,
        settings: Settings,
        fabrics: Iterable[str] = (),
        shop: Iterable[Offered] = (),
    ) -> Stock:
        """That of a job.

        Parameters
        ----------
        settings : Settings
        fabrics : iterable of str
            Names of fabrics.
        shop : iterable of Offered
            The narrowest width of a fabric is the one that is counted on.
        """
        names = tuple(fabrics)
        doubtful = (name for name in names if says_more_than_a_name(name))
        widths: dict[str, int] = {}
        for row in shop:
            if isinstance(row, ByLength):
                plain = row.fabric.lower()
                widths[plain] = min(
                    row.usable_width, widths.get(plain, row.usable_width)
                )
        return cls(
            unit=settings.unit,
            seam=settings.seam,
            precuts=settings.precuts,
            fabrics=frozenset(name.lower() for name in names),
            known=tuple(sorted(doubtful, key=len, reverse=True)),
            widths=widths,
        )

    @classmethod
    def of_unit(cls, unit: str) -> Stock:
        """That of a pile without a job."""
        if unit == "cm":
            return cls.of(Settings.metric())
        return cls.of(Settings())

    def usable(self, fabric: str) -> int:
        """How wide a fabric is between its selvages: as the shop sells it, else as usual; ticks."""
        return self.widths.get(fabric.lower(), USABLE_WIDTH[self.unit])
