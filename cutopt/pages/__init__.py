"""Pages to print and take to the mat; all that is heavy is imported when pages are written."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from cutopt.result import Result

FILES: Final = ("plan.pdf", "cut-list.csv", "shopping.csv", "plan.json", "overview.png")


def write_pages(result: Result, folder: str | Path) -> tuple[Path, ...]:
    """Write plan.pdf, cut-list.csv, shopping.csv, plan.json and overview.png into a folder; gives their paths."""
    from cutopt.pages import files

    return files.write_pages(result, folder)


__all__ = ["FILES", "write_pages"]
