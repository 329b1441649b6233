"""The figures of a bench as text: a line for each instance, totals for each family."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from cutopt.bench.run import Record

_HEAD = ("instance", "value", "known", "gap %", "own bound", "proved", "s", "MB", "strips", "rectpack", "check")


def table(records: Sequence[Record]) -> str:
    """All instances by family, then the totals of each family."""
    rows: list[Sequence[str]] = [_HEAD]
    families = list(dict.fromkeys(record.family for record in records))
    for family in families:
        rows += [_line(record) for record in records if record.family == family]
    totals = [totals_of(family, [r for r in records if r.family == family]) for family in families]
    return "\n".join([*_aligned(rows), "", *totals])


def _line(record: Record) -> Sequence[str]:
    gap = "-" if record.gap is None else f"{record.gap:.2f}"
    return (
        f"{record.family}/{record.name}", _shown(record.value), str(record.known), gap, _shown(record.bound),
        "yes" if record.proved else "", f"{record.seconds:.2f}", f"{record.peak_mb:.0f}",
        _shown(record.strip_method), _shown(record.rectpack), "; ".join(record.faults) or "ok",
    )  # fmt: skip


def _shown(value: int | None) -> str:
    return "-" if value is None else str(value)


def totals_of(family: str, records: Sequence[Record]) -> str:
    """One sentence on a family; ratios only over instances where both sides have a value."""
    done = [record for record in records if record.value is not None]
    reached = sum(1 for record in done if record.gap is not None and record.gap <= 0)
    better = sum(1 for record in done if record.gap is not None and record.gap < 0)
    words = [
        f"{family}: {len(done)} instances, total {sum(r.value or 0 for r in done)}",
        f"known {sum(r.known for r in done)}, own bound {sum(r.bound or 0 for r in done)}",
        f"known value reached {reached} (bettered {better}), proved {sum(r.proved for r in done)}",
        f"mean gap {_mean(r.gap for r in done):.3f} %",
        f"seconds mean {_mean(r.seconds for r in done):.2f}, most {max((r.seconds for r in done), default=0):.2f}",
        f"peak {max((r.peak_mb for r in done), default=0):.0f} MB",
        _ratio("strip method", [(r.value, r.strip_method) for r in done]),
        _ratio("rectpack", [(r.value, r.rectpack) for r in done]),
        f"faults {sum(bool(r.faults) for r in records)}",
    ]
    return "; ".join(words)


def _mean(values: Iterable[float | None]) -> float:
    known = [value for value in values if value is not None]
    return sum(known) / len(known) if known else 0.0


def _ratio(name: str, pairs: Sequence[tuple[int | None, int | None]]) -> str:
    both = [(ours, theirs) for ours, theirs in pairs if ours is not None and theirs]
    if not both:
        return f"{name}: none"
    return f"ours / {name} {sum(a for a, _ in both) / sum(b for _, b in both):.4f} ({len(both)})"


def _aligned(rows: Sequence[Sequence[str]]) -> list[str]:
    widths = [max(len(row[k]) for row in rows) for k in range(len(_HEAD) - 1)]
    lines = []
    for row in rows:
        cells = [row[0].ljust(widths[0])] + [row[k].rjust(widths[k]) for k in range(1, len(widths))]
        lines.append("  ".join([*cells, row[-1]]).rstrip())
    return lines
