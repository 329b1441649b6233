"""Where the parts of a back come from, those alike in one row: cut alike, of one fabric, from one kind of piece."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from cutopt.draw.views import title_of
from cutopt.job import Job
from cutopt.pages.runs import numbers_text, runs
from cutopt.pages.sewing_words import size_text
from cutopt.sewn_back import LetteredPart, SewnBack

_COPING: Final = "Coping: a strip that only brings blocks to the size that fits."
_TURNED: Final = "Turned: its width, as the back hangs, runs along the selvage."
_DIFFER: Final = (
    "Parts cut alike may differ once finished: an outer edge keeps its allowance until the quilt is trimmed, and a seam "
    "at a block may take less than another."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class AlikeParts:
    """One row of the list of parts; `cuts` are the numbers of those that free them."""

    parts: tuple[LetteredPart, ...]
    letters: str
    source: str
    cuts: tuple[int, ...]

    @property
    def first(self) -> LetteredPart:
        """Any of them."""
        return self.parts[0]

    def cut_text(self, unit: str) -> str:
        """``5 of 12 1/2 x 8 1/2, turned``."""
        told = size_text(self.first.width, self.first.height, unit)
        if len(self.parts) > 1:
            told = f"{len(self.parts)} of {told}"
        if self.first.turned:
            return f"{told}, turned"
        return told

    def finished_texts(self, unit: str, every: Sequence[str]) -> list[str]:
        """``12 x 8 1/4``; where they differ, each with its letters."""
        sizes = self.finished(unit)
        if len(sizes) == 1:
            return list(sizes)
        return [f"{size}: {_listed(every, of)}" for size, of in sizes.items()]

    def finished(self, unit: str) -> dict[str, list[str]]:
        """The letters of its parts by their finished size."""
        sizes: dict[str, list[str]] = {}
        for part in self.parts:
            sizes.setdefault(size_text(*part.box[2:], unit), []).append(part.letter)
        return sizes

    @property
    def of_text(self) -> str:
        """Its fabric, or which block it is."""
        if self.first.block is not None:
            return f"block {self.first.block.name}"
        if self.first.coping:
            return f"{self.first.fabric}, coping"
        return self.first.fabric

    @property
    def freed_text(self) -> str:
        """``cut 12``, ``cuts 12 and 14-16``; a part that no cut frees is a whole piece."""
        if self.first.block is not None:
            return ""
        if not self.cuts:
            return "used whole"
        noun = "cut" if len(set(self.cuts)) == 1 else "cuts"
        return f"{noun} {numbers_text(self.cuts)}"


def parts_alike(job: Job, back: SewnBack, freed: Mapping[str, int]) -> list[AlikeParts]:
    """All parts of a back, by their first letter.

    Parameters
    ----------
    job : Job
    back : SewnBack
    freed : mapping
        By the name of a part the cut that frees it.
    """
    every = [part.letter for part in back.parts]
    rows: dict[tuple[object, ...], list[LetteredPart]] = {}
    for part in back.parts:
        look = (part.width, part.height, part.turned, part.coping, part.fabric)
        whole = part.name not in freed
        key = (*look, _origin(job, part), whole)
        rows.setdefault(key, []).append(part)
    return [
        AlikeParts(
            parts=tuple(parts),
            letters=_listed(every, [part.letter for part in parts]),
            source=_source_text(job, parts),
            cuts=tuple(freed[part.name] for part in parts if part.name in freed),
        )
        for parts in rows.values()
    ]


def _listed(every: Sequence[str], letters: Sequence[str]) -> str:
    return ", ".join(runs(every, letters))


def _origin(job: Job, part: LetteredPart) -> str:
    """The piece that a part is of, whichever of those alike."""
    if part.block is not None:
        return part.block.key
    assert part.source is not None
    return part.source.piece or title_of(job, part.source)


def _source_text(job: Job, parts: list[LetteredPart]) -> str:
    sources = {part.source.id: part.source for part in parts if part.source is not None}
    if not sources:
        return "your blocks"
    source = next(iter(sources.values()))
    if len(sources) > 1 and source.piece:
        return f"{source.piece} ({len(sources)} of these)"
    return title_of(job, source)


def notes_text(rows: list[AlikeParts], unit: str) -> str:
    """What the words in the list mean, of those that stand in it."""
    told = {
        _TURNED: any(row.first.turned for row in rows),
        _COPING: any(row.first.coping for row in rows),
        _DIFFER: any(len(row.finished(unit)) > 1 for row in rows),
    }
    return " ".join(note for note, is_needed in told.items() if is_needed)


__all__ = ["AlikeParts", "notes_text", "parts_alike"]
