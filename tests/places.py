"""Where the project lies, for tests that read its files."""

from __future__ import annotations

from pathlib import Path
from typing import Final

ROOT: Final = Path(__file__).parents[1]
BENCH: Final = ROOT / "data" / "bench"
ORCHARD: Final = ROOT / "data" / "orchard"
