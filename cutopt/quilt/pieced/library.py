"""The traditional blocks by name, as they are drawn and counted where nothing else is said of them.

Names are common property of the trade. Arrangements and the order of cloths are from memory, common practice without a
source: another maker's churn dash may have its rails the other way round, of the same patches.
"""

from __future__ import annotations

from typing import Final

from cutopt.quilt.pieced.pattern import Pattern
from cutopt.quilt.pieced.plus_and_frame import PLUS
from cutopt.quilt.pieced.stars import SNOWBALL, WITH_TRIANGLES
from cutopt.quilt.pieced.straight import COURTHOUSE, FENCE, STRAIGHT

TRADITIONAL: Final[dict[str, Pattern]] = {
    pattern.many: pattern
    for pattern in (*STRAIGHT, PLUS, FENCE, COURTHOUSE, SNOWBALL, *WITH_TRIANGLES)
}
