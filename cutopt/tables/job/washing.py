"""All cloth washed before it is cut, or none: what each fabric loses by it where its row says nothing."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Final

from cutopt.errors import Problem
from cutopt.fabric import Fabric
from cutopt.settings import Settings
from cutopt.tables.log import Log, Placed
from cutopt.tables.rows.writing import share_text

SHRINKAGE: Final = ("shrink_across", "shrink_along")
# the most that is usual: flannel 4 to 10, linen 3 to 10, rayon up to 10 in 100 (common practice, no source)
_MORE: Final = {
    "flannel": Fraction(1, 10),
    "linen": Fraction(1, 10),
    "rayon": Fraction(1, 10),
    "viscose": Fraction(1, 10),
}


def with_prewash(
    fabrics: Sequence[Placed[Fabric]],
    untold: Collection[str],
    unwashed: Collection[str],
    settings: Settings,
    log: Log,
) -> list[Placed[Fabric]]:
    """The fabrics, of those that are washed first with what they lose by it.

    Parameters
    ----------
    fabrics : sequence of Placed
    untold : collection of str
        Those in lower case of which no shrinkage is written.
    unwashed : collection of str
        Those in lower case that the shop sells, or of which a piece is not washed yet.
    settings : Settings
    log : Log
        What is taken for granted, and a shrinkage that is told though nothing is washed.
    """
    if settings.prewash == "none":
        _refuse_shrinkage(fabrics, log)
    if settings.prewash != "all":
        return list(fabrics)
    out = []
    taken: dict[Fraction, list[str]] = {}
    for placed in fabrics:
        fabric = placed.value
        plain = fabric.name.lower()
        new = plain in unwashed or not fabric.washed
        if not new or plain not in untold or fabric.is_inside:
            out.append(placed)
            continue
        share = usual_shrinkage(fabric, settings)
        taken.setdefault(share, []).append(fabric.name)
        fabric = replace(fabric, shrink_across=share, shrink_along=share)
        out.append(Placed(fabric, placed.file, placed.row))
    for share, names in taken.items():
        what = f"{', '.join(names)}: {share_text(share) or '0%'} is counted as lost in the wash, across and along"
        mend = "write shrink_across and shrink_along in fabrics.csv if you know them"
        log.tell(Problem("prewash", what, mend), "job.toml")
    return out


def usual_shrinkage(fabric: Fabric, settings: Settings) -> Fraction:
    """What cloth of a kind loses at most each way, where nobody measured it."""
    for word in fabric.kind.lower().split():
        if word in _MORE:
            return max(_MORE[word], settings.shrinkage)
    return settings.shrinkage


def _refuse_shrinkage(fabrics: Iterable[Placed[Fabric]], log: Log) -> None:
    for placed in fabrics:
        for column in SHRINKAGE:
            share = getattr(placed.value, column)
            if share:
                lost = f"{placed.value.name} loses {share_text(share)} in the wash"
                what = f"{lost}, and prewash in job.toml says that none is washed"
                mend = "leave it blank, or take prewash out"
                log.add(Problem(column, what, mend), placed.file, placed.row)
