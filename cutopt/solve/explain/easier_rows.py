"""What a person would try where several rectangles of a row are short: each as the job that she would have then."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from functools import partial
from typing import Final

from cutopt.fabric_words import standing
from cutopt.job import Job
from cutopt.lengths import format_length, up_to
from cutopt.result import Evidence
from cutopt.solve.explain.changed_jobs import (
    Mend,
    changed,
    changed_row,
    free_name,
    from_fabric,
    set_of,
    with_row,
    with_rows,
)
from cutopt.solve.explain.trials import Trials, listed
from cutopt.wanted import Cut, Strip, Wanted

# no new size has sides of less than so much of the old ones: it would be another thing
_LEAST: Final = (
    2,
    3,
)
# fabrics that are tried
_MOST_FABRICS: Final = 3
# steps that a size gives up for room to spare, where a search from nothing misses it
_TO_SPARE: Final = (
    1,
    2,
    4,
)

_DIRECTIONS: Final = {
    "grain": "its grain is set",
    "upright": "its print has to stand up",
}

# the mend with sides so many steps smaller
Shrink = Callable[[int], Mend | None]


def fabrics(job: Job, row: Wanted, others: Iterable[str]) -> Iterator[Mend]:
    """Cut from a fabric besides that the row, or one of its set, does not name.

    Parameters
    ----------
    job : Job
    row : Cut or Strip
    others : iterable of str
        Names of fabrics, of which the first few are tried.
    """
    rows = set_of(job, row)
    for name in list(others)[:_MOST_FABRICS]:
        also = from_fabric(job, row, name)
        if also is not None:
            bound = [each for each in rows if name not in job.allowed(each)]
            who = "it" if bound == [row] else _names(bound)
            yield Mend(
                said=f"let {who} be cut from {name} too", job=also, whole=_keys(rows)
            )


def turned(job: Job, row: Wanted) -> Iterator[Mend]:
    """Lying the other way: without a rule for its grain, and with a print that need not stand up."""
    free = _unbound(row)
    across = None if free is None else with_row(job, row, free[1])
    if free is not None and across is not None:
        said = f"let it lie the other way (leave {listed(free[0])} blank)"
        rule = listed([f"{_DIRECTIONS[word]} ({word})" for word in free[0]])
        yield Mend(said=said, job=across, whole=_keys([row]), rule=rule)


def apart(job: Job, row: Wanted) -> Iterator[Mend]:
    """From several fabrics, where it has to come from one with all of its set."""
    rows = set_of(job, row)
    if row.together:
        keys = _keys(rows)
        told = f"let {_names(rows)} differ in fabric"
        alike = f"{_names(rows)} have to be"
        if len(rows) == 1:
            told = "let its parts come from several fabrics"
            alike = "all of it has to be"
        free = with_rows(
            job,
            lambda each: (replace(each, together="") if each.key in keys else each,),
        )
        if free is not None:
            yield Mend(
                said=f"{told} (leave together blank)",
                job=free,
                whole=_keys([row]),
                rule=f"{alike} of one fabric (together)",
            )


def wishes(job: Job, row: Wanted) -> Iterator[Mend]:
    """With pieces of its fabrics cut that should not be touched."""
    kept = [
        piece
        for piece in job.pieces
        if piece.wish == "do not touch" and piece.fabric in job.allowed(row)
    ]
    if kept:
        pieces = tuple(
            replace(piece, wish="") if piece in kept else piece for piece in job.pieces
        )
        names = (
            listed([piece.name for piece in kept[:3]])
            if len(kept) <= 3
            else "what should not be touched"
        )
        free = changed(job, pieces=pieces)
        if free is not None:
            said = f'let {names} be cut too (the wish says "do not touch")'
            yield Mend(
                said=said,
                job=free,
                whole=frozenset({row.key}),
                rule=f"{names} must not be touched (wish)",
            )


def sewn(trials: Trials, row: Cut, short: int) -> Iterator[Evidence]:
    """What is short sewn from two halves each, seams counted in.

    Parameters
    ----------
    trials : Trials
    row : Cut
    short : int
        How many of it the plan lacks.
    """
    job = trials.run.job
    if row.most_each is not None:
        # whether halves are to be counted is hers to say
        return
    for side in sorted(("length", "width"), key=lambda side: -getattr(row, side)):
        mend = _from_halves(job, row, short, side)
        found = None if mend is None else trials.search(mend)
        if mend is not None and found is not None and found.complete:
            told = trials.told(mend, found)
            if told is not None:
                yield told
                return


def _from_halves(job: Job, row: Cut, short: int, side: str) -> Mend | None:
    """The job with two halves of what is short, this side of each about half as long."""
    seam = job.settings.seam
    unit = job.settings.unit
    half = up_to(-(-getattr(row, side) // 2) + seam, job.settings.grid)
    if half < 3 * seam or half >= getattr(row, side):
        return None
    part = changed_row(
        row, name=free_name(job, f"half of {row.name}"), count=2 * short, **{side: half}
    )
    halves = None if part is None else with_row(job, row, *_fewer(row, short), part)
    if part is None or halves is None:
        return None
    many = "it" if row.count == 1 else f"{short} of them"
    seams = f"a seam of {format_length(seam, unit, mark=True)} is counted in"
    said = f"sew {many} from two halves of {_size(part, unit)} each ({seams})"
    return Mend(said=said, job=halves, whole=_keys((row, part)))


def fewer(job: Job, row: Wanted, short: int) -> Mend | None:
    """As many of a row as the plan gives, where it gives any.

    Parameters
    ----------
    job : Job
    row : Cut or Strip
    short : int
        How many of it the plan lacks.
    """
    there = _fewer(row, short)
    less = with_row(job, row, *there) if there else None
    if less is None:
        return None
    said = f"want {row.count - short} of it in place of {row.count}"
    return Mend(said=said, job=less, whole=frozenset({row.key}))


def smaller(trials: Trials, row: Cut) -> Iterator[Evidence]:
    """A new size for all of a row, and for all of its set."""
    job = trials.run.job
    rows = set_of(trials.run.job, row)
    if len(rows) > 1:
        found = _least(
            trials, row, lambda less, sides: _all_smaller(job, rows, less, sides)
        )
    else:
        found = _least(trials, row, lambda less, sides: _all_of(job, row, less, sides))
    if found is not None:
        yield found


def some_smaller(trials: Trials, row: Cut, short: int) -> Iterator[Evidence]:
    """A new size for those of a row that are short alone.

    Parameters
    ----------
    trials : Trials
    row : Cut
    short : int
        How many of it the plan lacks.
    """
    job = trials.run.job
    if not row.together and row.most_each is None and short < row.count:
        few = _least(
            trials, row, lambda less, sides: _some_of(job, row, short, less, sides)
        )
        if few is not None:
            yield few


Sides = tuple[str, ...]


def _least(
    trials: Trials, row: Cut, shrink: Callable[[int, Sides], Mend | None]
) -> Evidence | None:
    """The mend that makes sides as little smaller as helps: the longer side alone, or both."""
    grid = trials.run.job.settings.grid
    both: Sides = ("width", "length")
    longer = max(both, key=lambda side: int(getattr(row, side)))
    ways: tuple[Sides, ...] = (both,) if row.width == row.length else ((longer,), both)
    for sides in ways:
        most = (
            min(
                getattr(row, side) * (_LEAST[1] - _LEAST[0]) // _LEAST[1]
                for side in sides
            )
            // grid
        )
        found = _first(trials, partial(_with_sides, shrink, sides), most)
        if found is not None:
            return found
    return None


def _with_sides(
    shrink: Callable[[int, Sides], Mend | None], sides: Sides, less: int
) -> Mend | None:
    return shrink(less, sides)


def _first(trials: Trials, shrink: Shrink, most: int) -> Evidence | None:
    """The first number of steps, to `most`, with which a search finds all of it, as if more steps never hurt.

    It finds it from nothing too, else there have to be more steps: she writes the size and plans again.
    """
    low = 1
    high = most
    best = None
    at = most
    while low <= high:
        told = _whole(trials, shrink(at))
        if told is None:
            if at == most:
                return None
            low = at + 1
        else:
            best = told
            high = at - 1
        at = (low + high) // 2
    return _found_again(trials, shrink, best, high + 1, most)


def _found_again(
    trials: Trials, shrink: Shrink, told: Evidence | None, first: int, most: int
) -> Evidence | None:
    """The same mend where a search from nothing finds it, else one with a little room to spare."""
    for more in (0, *_TO_SPARE):
        at = first + more
        if at > most:
            return None
        mend = shrink(at)
        if mend is not None and trials.anew(mend):
            return told if not more else _whole(trials, mend)
    return None


def _whole(trials: Trials, mend: Mend | None) -> Evidence | None:
    """What is told of a mend that gives all of what is meant."""
    found = None if mend is None else trials.search(mend)
    return (
        trials.told(mend, found)
        if mend is not None and found is not None and found.complete
        else None
    )


def _all_of(job: Job, row: Cut, less: int, sides: Sides) -> Mend | None:
    other = _smaller(job, row, less, sides)
    if other is None:
        return None
    return _of_row(
        job, row, f"make {every(row)} {_size(other, job.settings.unit)}", other
    )


def every(row: Wanted) -> str:
    """All of a row in words."""
    return {1: "it", 2: "both of them"}.get(row.count, f"all {row.count} of it")


def _all_smaller(
    job: Job, rows: tuple[Wanted, ...], less: int, sides: Sides
) -> Mend | None:
    """All rectangles of a set by the same amount."""
    cuts = [row for row in rows if isinstance(row, Cut)]
    new = {row.key: _smaller(job, row, less, sides) for row in cuts}
    other = with_rows(job, lambda row: (new.get(row.key, row),))
    if other is None:
        return None
    sizes = [f"{row.name} {_size(new[row.key], job.settings.unit)}" for row in cuts]
    return Mend(
        said=f"make all of the set smaller: {listed(sizes)}",
        job=other,
        whole=_keys(rows),
    )


def _some_of(job: Job, row: Cut, short: int, less: int, sides: Sides) -> Mend | None:
    """Those that are short as a row of their own."""
    part = _smaller(job, row, less, sides)
    if part is None:
        return None
    part = replace(part, name=free_name(job, f"{row.name} smaller"), count=short)
    other = with_row(job, row, *_fewer(row, short), part)
    if other is None:
        return None
    said = f"cut {short} of them {_size(part, job.settings.unit)} instead"
    return Mend(said=said, job=other, whole=frozenset({row.key, part.key}))


def _smaller(job: Job, row: Cut, less: int, sides: Sides) -> Cut | None:
    """A row with these sides so many steps smaller, on the grid; None where that would be another thing."""
    grid = job.settings.grid
    new = {}
    for side in sides:
        size = getattr(row, side)
        new[side] = up_to(size, grid) - less * grid
        if _LEAST[1] * new[side] < _LEAST[0] * size:
            return None
    other = changed_row(row, **new)
    return other if isinstance(other, Cut) else None


def _unbound(row: Wanted) -> tuple[list[str], Wanted] | None:
    """A row that may lie either way, and the names of the rules that it has then no more; None where it has none."""
    words = ["grain"] if row.grain != "any" else []
    words += ["upright"] if standing(row) else []
    return (words, replace(lying(row), grain="any")) if words else None


def lying(row: Wanted) -> Wanted:
    """The row with a print that need not stand up."""
    return (
        replace(row, upright=False)
        if isinstance(row, Cut)
        else replace(row, upright="no")
    )


def _fewer(row: Wanted, short: int) -> tuple[Wanted, ...]:
    """A row without what is short; nothing where that is all of it."""
    return (replace(row, count=row.count - short),) if short < row.count else ()


def _of_row(job: Job, row: Wanted, said: str, other: Wanted | None) -> Mend | None:
    new = with_row(job, row, other)
    return None if new is None else Mend(said=said, job=new, whole=frozenset({row.key}))


def _keys(rows: Iterable[Wanted]) -> frozenset[str]:
    return frozenset(row.key for row in rows)


def _names(rows: Iterable[Wanted]) -> str:
    return listed([row.name for row in rows])


def _size(row: Wanted | None, unit: str) -> str:
    if row is None:
        return ""
    long = row.total_length if isinstance(row, Strip) else row.length
    return f"{format_length(row.width, unit)} x {format_length(long, unit)}"
