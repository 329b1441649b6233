"""Values that a notebook shows; what it shows of them is written above them, in `cutopt.reprs`."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, ClassVar


class Shown:
    """A value that a notebook shows: it asks `html`, which the package sets when it is imported."""

    __slots__ = ()

    html: ClassVar[Callable[[Any], str]]

    def _repr_html_(self) -> str:
        """What a notebook shows."""
        return Shown.html(self)


__all__ = ["Shown"]
