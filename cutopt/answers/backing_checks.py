"""Each way to piece a backing made once more by the checker: as it is sewn, and as its cutting order is printed."""

from __future__ import annotations

from collections.abc import Sequence

from cutopt.check.backs import faults_of_back, faults_of_order
from cutopt.fabric import ByLength, Fabric
from cutopt.quilt.backs.cut_order import told
from cutopt.quilt.backs.marks import mark_of
from cutopt.quilt.backs.way import Way
from cutopt.quilt.buying import shrunk
from cutopt.quilt.conventions import Conventions
from cutopt.quilt.surds import ZERO, Exact
from cutopt.quilt.top import Needed


def fabric_of(way: Way, fabrics: Sequence[Fabric]) -> Fabric:
    """The fabric of a way; one of which nothing is known where it is not among those given."""
    known = {fabric.name: fabric for fabric in fabrics}
    return known.get(way.fabric, Fabric(name=way.fabric))


def faults(
    way: Way, need: Needed, fabric: Fabric, how: Conventions, upright: bool = False
) -> list[str]:
    """What is wrong with a way; nothing where it gives the size from the length that is bought.

    Parameters
    ----------
    way, need : a way, and the size that it has to reach
    fabric : what it loses in the wash, and whether its print has a right way up
    how : seam, squaring up, and the marks of the ruler
    upright : whether a print with a right way up has to stand
    """
    cloth = bought_cloth(way, fabric, how)
    turned = not fabric.stands(upright=upright)
    asked = (need.width, need.length)
    sewn = faults_of_back(
        way.sewn, asked, cloth, how.back_seam, turned=turned, mark=mark_of(how)
    )
    return sewn + faults_of_order(told(way.sewn, cloth, how), cloth, how.unit)


def bought_cloth(way: Way, fabric: Fabric, how: Conventions) -> tuple[Exact, Exact]:
    """Usable width, and length between squared ends, after the wash.

    Parameters
    ----------
    way : nothing where it is not bought by length
    fabric : what it loses in the wash
    how : what is bought as extra, and what squaring up takes

    Returns
    -------
    tuple[Exact, Exact]
        Ticks.
    """
    if not isinstance(way.offered, ByLength):
        return ZERO, ZERO
    long = shrunk(way.bought - how.extra, fabric.shrink_along) - 2 * how.square_up_end
    return shrunk(way.offered.usable_width, fabric.shrink_across), long
