"""What one instance of a bench came to."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Record:
    """One instance as it came out; `peak_mb` as :mod:`cutopt.bench.memory` says it."""

    family: str
    name: str
    objective: str
    value: int | None
    known: int
    status: str
    known_bound: int | None
    bound: int | None
    proved: bool
    seconds: float
    peak_mb: float
    strip_method: int | None
    rectpack: int | None
    faults: tuple[str, ...]

    @property
    def gap(self) -> float | None:
        """How far from the known value, in per cent; below 0 where it is better."""
        return self._short_of(self.known)

    @property
    def bound_gap(self) -> float | None:
        """How far from the solver's own bound, in per cent."""
        return self._short_of(self.bound)

    def _short_of(self, other: int | None) -> float | None:
        if self.value is None or not other:
            return None
        if self.objective == "max value":
            worse = other - self.value
        else:
            worse = self.value - other
        return 100.0 * worse / other
