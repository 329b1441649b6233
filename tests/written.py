"""The texts for makers as files: their code blocks, tables, and links."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

from tests.places import ROOT

GUIDE = ROOT / "notebooks" / "guide"


@dataclass(frozen=True, slots=True)
class Page:
    """A Markdown file."""

    path: Path
    text: str

    def blocks(self, kind: str) -> list[str]:
        """The code blocks of one kind, in order."""
        return re.findall(
            rf"^```{kind}\n(.*?)^```", self.text, re.DOTALL | re.MULTILINE
        )

    def rows(self, columns: int) -> list[tuple[str, ...]]:
        """The rows of its tables with so many columns, headings and rules left out."""
        cells = [
            tuple(cell.strip() for cell in re.split(r"(?<!\\)\|", line)[1:-1])
            for line in self.text.splitlines()
            if line.startswith("| ")
        ]
        return [row for row in cells if len(row) == columns]

    def code_words(self) -> list[str]:
        """What stands between back-ticks outside of code blocks, on one line."""
        told = re.sub(r"^```.*?^```", "", self.text, flags=re.DOTALL | re.MULTILINE)
        return [" ".join(word.split()) for word in re.findall(r"`([^`]+)`", told)]

    def links(self) -> list[Path]:
        """The files of the project to which it leads, pictures too."""
        places = re.findall(r"\]\(([^)]+)\)", self.text)
        return [self.path.parent / place for place in places if "://" not in place]


def page(path: Path) -> Page:
    return Page(path, path.read_text(encoding="utf-8"))


README = page(ROOT / "README.md")
PAGES = {path.stem: page(path) for path in sorted(GUIDE.glob("*.md"))}
