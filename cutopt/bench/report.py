"""The figures of a bench as text: a line for each instance, totals for each family."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from cutopt.bench.record import Record

_HEAD = (
    "instance",
    "value",
    "known",
    "gap %",
    "own bound",
    "gap to it %",
    "proved",
    "s",
    "MB",
    "strips",
    "rectpack",
    "check",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Ratio:
    """Our total by that of another method, over the instances where both have a value; None where there are none."""

    ours_by_theirs: float | None
    instances: int

    @classmethod
    def of(cls, pairs: Iterable[tuple[int | None, int | None]]) -> Ratio:
        """From pairs (ours, theirs)."""
        both = [(ours, theirs) for ours, theirs in pairs if ours is not None and theirs]
        if not both:
            return cls(ours_by_theirs=None, instances=0)
        ours, theirs = map(sum, zip(*both, strict=True))
        return cls(ours_by_theirs=ours / theirs, instances=len(both))

    def told(self, name: str) -> str:
        """In words."""
        if self.ours_by_theirs is None:
            return f"{name}: none"
        return f"ours / {name} {self.ours_by_theirs:.4f} ({self.instances})"


@dataclass(frozen=True, slots=True, kw_only=True)
class FamilyTotals:
    """What the instances of a family come to; sums and means are over the `instances` that have a value."""

    family: str
    instances: int
    value: int
    known: int
    bound: int
    reached: int
    bettered: int
    proved: int
    mean_gap_percent: float
    mean_bound_gap_percent: float
    mean_seconds: float
    most_seconds: float
    peak_mb: float
    strip_method: Ratio
    rectpack: Ratio
    faults: int

    @classmethod
    def of(cls, family: str, records: Sequence[Record]) -> FamilyTotals:
        """The totals of these records."""
        done = [record for record in records if record.value is not None]
        gaps = [record.gap for record in done if record.gap is not None]
        return cls(
            family=family,
            instances=len(done),
            value=sum(r.value or 0 for r in done),
            known=sum(r.known for r in done),
            bound=sum(r.bound or 0 for r in done),
            reached=sum(gap <= 0 for gap in gaps),
            bettered=sum(gap < 0 for gap in gaps),
            proved=sum(r.proved for r in done),
            mean_gap_percent=_mean(gaps),
            mean_bound_gap_percent=_mean(r.bound_gap for r in done),
            mean_seconds=_mean(r.seconds for r in done),
            most_seconds=max((r.seconds for r in done), default=0.0),
            peak_mb=max((r.peak_mb for r in done), default=0.0),
            strip_method=Ratio.of((r.value, r.strip_method) for r in done),
            rectpack=Ratio.of((r.value, r.rectpack) for r in done),
            faults=sum(bool(r.faults) for r in records),
        )

    @property
    def sentence(self) -> str:
        """All of it in a line."""
        return "; ".join(
            (
                f"{self.family}: {self.instances} instances, total {self.value}",
                f"known {self.known}, own bound {self.bound}",
                f"known value reached {self.reached} (bettered {self.bettered}), proved {self.proved}",
                f"mean gap {self.mean_gap_percent:.3f} %, to the own bound {self.mean_bound_gap_percent:.3f} %",
                f"seconds mean {self.mean_seconds:.2f}, most {self.most_seconds:.2f}",
                f"peak {self.peak_mb:.0f} MB",
                self.strip_method.told("strip method"),
                self.rectpack.told("rectpack"),
                f"faults {self.faults}",
            )
        )


def totals(records: Sequence[Record]) -> list[FamilyTotals]:
    """Of each family, in the order of the records."""
    families = dict.fromkeys(record.family for record in records)
    return [
        FamilyTotals.of(family, [r for r in records if r.family == family])
        for family in families
    ]


def table(records: Sequence[Record]) -> str:
    """All instances by family, then the totals of each family."""
    families = totals(records)
    rows = [
        _line(record)
        for family in families
        for record in records
        if record.family == family.family
    ]
    return "\n".join(
        [*aligned([_HEAD, *rows]), "", *(family.sentence for family in families)]
    )


def _line(record: Record) -> Sequence[str]:
    return (
        f"{record.family}/{record.name}",
        _shown(record.value),
        str(record.known),
        _percent(record.gap),
        _shown(record.bound),
        _percent(record.bound_gap),
        "yes" if record.proved else "",
        f"{record.seconds:.2f}",
        f"{record.peak_mb:.0f}",
        _shown(record.strip_method),
        _shown(record.rectpack),
        "; ".join(record.faults) or "ok",
    )


def _shown(value: int | None) -> str:
    if value is None:
        return "-"
    return str(value)


def _percent(gap: float | None) -> str:
    if gap is None:
        return "-"
    return f"{gap:.2f}"


def _mean(values: Iterable[float | None]) -> float:
    known = [value for value in values if value is not None]
    if known:
        return sum(known) / len(known)
    return 0.0


def aligned(rows: Sequence[Sequence[str]]) -> list[str]:
    """Rows of words as lines: the first column to the left, the last as it is, all others to the right."""
    columns = list(zip(*rows, strict=True))
    widths = [max(map(len, column)) for column in columns[:-1]]
    lines = []
    for row in rows:
        first, *others, last = row
        cells = map(str.rjust, others, widths[1:])
        lines.append("  ".join([first.ljust(widths[0]), *cells, last]).rstrip())
    return lines
