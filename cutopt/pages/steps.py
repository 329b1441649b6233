"""A plan in plain sentences: what a person does at the mat, cut by cut. Pure words, no page.

Every cut number stands in exactly one step, and the numbers of all steps, read on, run from the first to the last.
How to fold and to stack (at most four layers) is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from cutopt.cloth import is_washed_first
from cutopt.draw.views import title_of
from cutopt.lengths import format_length, format_sale
from cutopt.pages.moves_of_cuts import Table, by_source
from cutopt.pages.phrases import MOST_LAYERS, and_text, number_text, of_parts, size_text
from cutopt.pages.telling_cuts import Step, Teller
from cutopt.plan import CutStep, Plan

_LAID = "Lay it as drawn, the selvage direction up."
_SELVAGES = "The width does not count the selvages: cut one off before you measure from its side."


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """One piece of cloth, or several alike that are cut alike; `shown` is the one to draw."""

    sources: tuple[str, ...]
    title: str
    intro: tuple[str, ...]
    steps: tuple[Step, ...]
    result: str

    @property
    def shown(self) -> str:
        """The source whose drawing stands for all."""
        return self.sources[0]


def sections(plan: Plan) -> list[Section]:
    """The whole plan in words: cloth that is cut in the order of the cuts, then cloth that is used as it is."""
    table = Table(plan)
    runs = list(by_source(table))
    out: list[Section] = []
    seen: set[str] = set()
    while runs:
        group = _copies(table, runs)
        out.append(_section(table, group, again=group[0][0] in seen))
        seen.update(source for source, _ in group)
        runs = runs[len(group) :]
    return out + _uncut(table)


def _copies(
    table: Table, runs: Sequence[tuple[str, list[CutStep]]]
) -> list[tuple[str, list[CutStep]]]:
    """The runs at the front that cut like pieces alike from end to end."""

    def kind(run: tuple[str, list[CutStep]]) -> object:
        source = table.sources[run[0]]
        return (
            source.piece,
            source.bought,
            source.width,
            source.length,
            table.signature(*run),
        )

    group = [runs[0]]
    whole = runs[0][1][0].part == runs[0][0]
    for run in runs[1:]:
        if (
            not whole
            or kind(run) != kind(runs[0])
            or run[0] in {source for source, _ in group}
        ):
            break
        group.append(run)
    return group


def _section(
    table: Table, group: Sequence[tuple[str, list[CutStep]]], again: bool
) -> Section:
    first, cuts = group[0]
    teller = Teller(table, first)
    steps = teller.tell(cuts)
    source = table.sources[first]
    intro = [_about(table, first)]
    if source.bought and not source.by_piece:
        intro.append(_SELVAGES)
    if len(group) > 1:
        many = len(group)
        stack = _together(many, teller.words.layers)
        intro.append(f"You need {many} of them. {stack}The drawing shows the first.")
        others = tuple(cut.n for _, run in group[1:] for cut in run)
        done = (
            ("What you cut in one stack with the first is done already.",)
            if stack
            else ()
        )
        steps.append(
            Step(
                numbers=others,
                text=f"Do the same with the other {number_text(many - 1)}.",
                notes=done,
            )
        )
    title = title_of(table.job, source)
    if len(group) > 1:
        title = f"{many} of {source.piece or source.bought}"
    sources = tuple(source for source, _ in group)
    return Section(
        sources=sources,
        title=f"{title}, again" if again else title,
        intro=tuple(intro),
        steps=tuple(steps),
        result=_have(table, [cut for _, run in group for cut in run]),
    )


def _together(many: int, layers: int) -> str:
    """How many copies can be cut at once where each is itself folded or stacked to so many layers."""
    at_once = MOST_LAYERS // layers
    if at_once < 2:
        return ""
    piles = f"Stack them, at most {at_once} at a time,"
    if many <= at_once:
        if many == 2:
            piles = "Stack both"
        else:
            piles = "Stack them"
    even = "Layers slip: see before each cut that their edges still lie even."
    return f"{piles} and cut them together. {even} "


def _uncut(table: Table) -> list[Section]:
    """Cloth that is used as it is, copies together."""
    cut = {table.owner[step.part] for step in table.plan.cuts}
    groups: dict[tuple[object, ...], list[str]] = {}
    for source in table.plan.sources:
        if source.id not in cut:
            key = (
                source.piece,
                source.bought,
                source.width,
                source.length,
                _row_or_fate(table, source.id),
            )
            groups.setdefault(key, []).append(source.id)
    out = []
    for ids in groups.values():
        source = table.sources[ids[0]]
        name = source.piece or source.bought
        if len(ids) > 1:
            title = f"{len(ids)} of {name}"
        else:
            title = title_of(table.job, source)
        fate = table.fate(ids[0])
        text = "It is not needed: put it back."
        if fate[0] == "use":
            if len(ids) > 1:
                how = "Use all of them as they are"
            else:
                how = "Use it as it is"
            text = f"{how}: {of_parts(table, ids)}, {size_text(table, ids[0])}."
        step = Step(numbers=(), text=text)
        out.append(
            Section(
                sources=tuple(ids),
                title=title,
                intro=(_about(table, ids[0]),),
                steps=(step,),
                result="",
            )
        )
    return out


def _row_or_fate(table: Table, part: str) -> tuple[str, ...]:
    """What a part is for: of parts of one back the same, though each has its letter."""
    if part in table.uses:
        return ("use", table.uses[part].for_)
    return table.fate(part)


def _about(table: Table, source_id: str) -> str:
    """What the cloth is, before it is cut."""
    source = table.sources[source_id]
    job = table.job
    unit = job.settings.unit
    cloth = table.cloth[source_id]
    size = f"{size_text(table, source_id)} {unit}"
    if source.bought:
        across, along = table.size(source_id)
        wide = format_length(source.width, unit)
        shrunk = (across, along) != (source.width, source.length)
        if source.by_piece:
            long = format_length(source.length, unit)
            told = f"Bought by the piece, {wide} x {long} {unit}, edges taken as true. {_LAID}"
        else:
            told = f"Bought: {format_sale(source.length, unit)}, {wide} {unit} usable width."
        if shrunk:
            return f"{told} Wash it first; then it should measure {size}."
        return told
    piece = next(piece for piece in job.pieces if piece.name == source.piece)
    raw = {
        "true": "",
        "raw": ", raw edges",
        "raw ends": ", its ends as the shop cut them",
        "pinked": ", pinked edges",
    }[piece.edges]
    if piece.is_rectangle:
        shape = ""
    else:
        shape = " over all"
    told = f"From the pile: {cloth.fabric}, {size}{shape}{raw}."
    if is_washed_first(piece, job.fabric(piece.fabric), job.settings):
        measured = " x ".join(format_length(side, unit) for side in piece.size)
        told = f"From the pile: {cloth.fabric}, {measured} {unit}{shape}{raw}. Wash it first; then it should measure {size}."
    if piece.about:
        told += " It was measured roughly: measure it again first."
    if not piece.grain_known:
        return f"{told} Lay it as drawn."
    return f"{told} {_LAID}"


def _have(table: Table, cuts: Iterable[CutStep]) -> str:
    """``Now you have 4 of square and 8 of post.``"""
    made: dict[str, list[str]] = {}
    for cut in cuts:
        for name in cut.gives:
            if name in table.uses:
                made.setdefault(table.uses[name].for_, []).append(name)
    if not made:
        return ""
    told = [of_parts(table, names) for names in made.values()]
    return f"Now you have {and_text(told)}."


__all__ = ["Section", "Step", "sections"]
