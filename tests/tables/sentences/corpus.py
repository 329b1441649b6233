"""The corpus of sentences: what quilters write, and what comes of it."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Final

_FILE: Final = Path(__file__).with_name("corpus.txt")
TOLD: Final = "! "


@dataclass(frozen=True, slots=True, kw_only=True)
class Sentence:
    """A sentence of a part of a quilt, and what comes of it."""

    part: str
    text: str
    comes: str

    @property
    def is_told(self) -> bool:
        """Whether it is told as a mistake."""
        return self.comes.startswith(TOLD)


def _sentences() -> tuple[Sentence, ...]:
    lines = _FILE.read_text(encoding="utf-8").splitlines()
    parts = [line.split(" | ", 2) for line in lines if not line.startswith("#")]
    return tuple(Sentence(part=p, text=text, comes=comes) for p, text, comes in parts)


CORPUS: Final = _sentences()
USED: Final = tuple(each for each in CORPUS if not each.is_told)
MISTAKES: Final = tuple(each for each in CORPUS if each.is_told)
