"""What would help strips from which shapes are cut by hand: fewer shapes to a strip, so that shorter cloth will do.

Such a strip is never sewn from two, and none of it may be left out: only its sentence says how many it holds.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from cutopt.job import Job
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.shapes.nested import Laid
from cutopt.solve.explain.changed_jobs import Mend, changed_row, free_name, with_rows
from cutopt.tables.recipe.quilt import quilt_of
from cutopt.wanted import Cut, Wanted

# shares of the shapes of a strip that are tried, the most first: (1, 2) is half of them
_SHARES = ((3, 4), (1, 2), (1, 3), (1, 4), (1, 6))


def is_held(job: Job, row: Wanted) -> bool:
    """Whether a rectangle of the row holds several parts that are cut by hand, so that it serves as it is or not at all."""
    quilt = quilt_of(job)
    return quilt is not None and any(each.row == row.key for each in quilt.held)


def fewer_to_a_strip(job: Job, row: Wanted) -> Iterator[Mend]:
    """The job with fewer shapes in each strip, nothing for rows that are no strips of shapes."""
    quilt = quilt_of(job)
    laid = {} if quilt is None else quilt.laid
    if quilt is None or row.key not in laid or not isinstance(row, Cut):
        return
    most = laid[row.key].count
    tried = {most * times // parts for times, parts in _SHARES} | {1}
    for count in sorted(tried - {0}, reverse=True):
        if count < most:
            mend = _so_many(job, row, laid, count, quilt.how)
            if mend is not None:
                yield mend


def _so_many(
    job: Job, row: Cut, laid: dict[str, Laid], count: int, how: Conventions
) -> Mend | None:
    """All the strips of these shapes with so many to a strip, and one that holds the rest.

    Parameters
    ----------
    job : Job
    row : Cut
    laid : dict
        How shapes lie in the strips of each row, by its key.
    count : int
        How many are to come from a strip.
    how : Conventions
        For the grid of cut sizes.
    """
    alike = [each for each in job.cuts if _is_alike(each, row, laid)]
    shapes = sum(each.count * laid[each.key].count for each in alike)
    strips, rest = divmod(shapes, count)
    new = [_with(row, laid[row.key], count, strips, how)] if strips else []
    if rest:
        last = _with(row, laid[row.key], rest, 1, how)
        name = free_name(job, f"{row.name} rest")
        new.append(None if last is None else changed_row(last, name=name))
    keys = {each.key for each in alike}

    def instead(each: Wanted) -> tuple[Wanted | None, ...]:
        if each.key == row.key:
            return tuple(new)
        return () if each.key in keys else (each,)

    other = with_rows(job, instead)
    if other is None:
        return None
    whole = frozenset(each.key for each in new if each is not None)
    said = f"cut {count} of these shapes from a strip (write {count} to a strip)"
    return Mend(said=said, job=other, whole=whole)


def _is_alike(other: Cut, row: Cut, laid: dict[str, Laid]) -> bool:
    """Whether another row has strips of the same shapes, from the same fabrics."""
    if other.key not in laid or laid[other.key].shape != laid[row.key].shape:
        return False
    same = {"name": row.name, "width": row.width, "length": row.length}
    told = {"count": row.count, "why": row.why, "note": row.note}
    return replace(other, **same, **told) == row  # type: ignore[arg-type]


def _with(
    row: Cut, laid: Laid, count: int, strips: int, how: Conventions
) -> Wanted | None:
    """The row with so many shapes to a strip.

    Parameters
    ----------
    row : Cut
    laid : Laid
        How its shapes lie.
    count, strips : int
        How many come from a strip, and how many strips there are.
    how : Conventions
        For the grid of cut sizes.
    """
    long = how.cut_size(laid.shape.length(count))
    # an upright print stands up along the length, and the strip lies across it
    side = "length" if row.length == laid.long else "width"
    return changed_row(row, count=strips, **{side: long})


__all__ = ["fewer_to_a_strip", "is_held"]
