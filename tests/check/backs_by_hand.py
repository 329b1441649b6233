"""Pieced backs made by hand, and plans that are worked out for any way to divide a back; invented data.

`GOOD_BACKS` are small plans with their arithmetic in the open, in inches but one. :func:`divided` makes the plan of
any back that lines from edge to edge divide: it goes from the whole down to the parts, as a maker draws on paper, and
never sews anything up. What is drawn are finished sizes: a part is cut larger by the allowance of each of its seams.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from itertools import count

from cutopt.fabric import Fabric, Piece
from cutopt.job import Job
from cutopt.lengths import CM
from cutopt.piecing import Back, BackRules, BlockWish, SpareBlock
from cutopt.plan import Plan, Seam, Short, Side, Source, Trim, Use
from cutopt.settings import Settings
from tests.check.good_plans import BARK, MIST, PEAR, Case, cut, inch, spare, totals

PLUM = Fabric(name="plum", tags=("darks",))
MOSS = Fabric(name="moss", nap=True)
FABRICS = (PEAR, PLUM, BARK, MIST, MOSS)


@dataclass(frozen=True, kw_only=True)
class Part:
    """What is drawn in one field: cloth of a fabric, or spare block `block` of its kind."""

    fabric: str = "pear"
    turned: bool = False
    block: str = ""


@dataclass(frozen=True, kw_only=True)
class Line:
    """A line up (at `at` from the left edge of the back) or across (from its lower edge) that divides a field.

    `swapped`: the high side comes first in the seam, and the low one is sewn to its left or below it.
    """

    runs: str
    at: int
    low: Drawn
    high: Drawn
    swapped: bool = False


Drawn = Part | Line
# left, below, right, above, as drawn
Field = tuple[int, int, int, int]


def fields(drawn: Drawn, field: Field) -> Iterator[tuple[Part, Field]]:
    """All parts of what is drawn in a field, each with its own field."""
    if isinstance(drawn, Part):
        yield drawn, field
        return
    for side, part in zip(halves(drawn, field), (drawn.low, drawn.high), strict=True):
        yield from fields(part, side)


def halves(line: Line, field: Field) -> tuple[Field, Field]:
    """The two fields on either side of a line."""
    left, below, right, above = field
    if line.runs == "up":
        return (left, below, line.at, above), (line.at, below, right, above)
    return (left, below, right, line.at), (left, line.at, right, above)


def meets_a_block(line: Line, field: Field) -> bool:
    """Whether a block has one of its edges on the line."""
    drawn = list(fields(line, field))
    along = (0, 2) if line.runs == "up" else (1, 3)
    return any(
        part.block and line.at in (f[along[0]], f[along[1]]) for part, f in drawn
    )


class _Plan:
    """A plan as it grows: a piece of the pile for each part, just as large as it is cut."""

    def __init__(self, back: Back) -> None:
        self.back = back
        self.pieces: list[Piece] = []
        self.uses: list[Use] = []
        self.trims: list[Trim] = []
        self.seams: list[Seam] = []
        self.blocks: dict[str, int] = {}
        self.numbers = count(1)

    def part(self, part: Part, size: tuple[int, int]) -> str:
        wide, high = size
        if part.block:
            self.blocks[part.block] = self.blocks.get(part.block, 0) + 1
            name = f"blocks/{part.block}/{self.blocks[part.block]}"
            self.trims.append(Trim(block=name, width=wide, length=high))
            return name
        name = f"{self.back.name}-{next(self.numbers)}"
        across, along = (high, wide) if part.turned else (wide, high)
        self.pieces.append(Piece.of_size(name, part.fabric, across, along))
        self.uses.append(Use(part=name, for_=self.back.key, turned=part.turned))
        return name

    def sewn(self, drawn: Drawn, field: Field, off: Field) -> str:
        """The name of what a field is sewn to; `off` are the allowances at its four sides."""
        if isinstance(drawn, Part):
            wide = field[2] - field[0] + off[0] + off[2]
            high = field[3] - field[1] + off[1] + off[3]
            return self.part(drawn, (wide, high))
        rules = self.back.rules
        seam = rules.block_seam if meets_a_block(drawn, field) else rules.seam
        first, second = halves(drawn, field)
        left, below, right, above = off
        sides: tuple[Side, Side]
        if drawn.runs == "up":
            low = self.sewn(drawn.low, first, (left, below, seam, above))
            high = self.sewn(drawn.high, second, (seam, below, right, above))
            sides = ("right", "left")
        else:
            low = self.sewn(drawn.low, first, (left, below, right, seam))
            high = self.sewn(drawn.high, second, (left, seam, right, above))
            sides = ("above", "below")
        a, b, side = (high, low, sides[1]) if drawn.swapped else (low, high, sides[0])
        n = len(self.seams) + 1
        gives = f"{self.back.name}.{n}"
        self.seams.append(
            Seam(n=n, back=self.back.name, a=a, b=b, side=side, seam=seam, gives=gives)
        )
        return gives


def divided(
    back: Back,
    drawn: Drawn,
    *,
    blocks: tuple[SpareBlock, ...] = (),
    settings: Settings | None = None,
    fabrics: tuple[Fabric, ...] = FABRICS,
) -> Case:
    """A job and its plan for a back that is divided as it is drawn, each part from a piece of its very size.

    Parameters
    ----------
    back : Back
    drawn : Part or Line
        What fills the back, raw edge to raw edge.
    blocks : tuple of SpareBlock
        Those of the job; what is drawn with a block is sewn in at the size that its field asks.
    settings : Settings, optional
    fabrics : tuple of Fabric
    """
    made = _Plan(back)
    made.sewn(drawn, (0, 0, back.width, back.length), (0, 0, 0, 0))
    job = Job(
        settings=settings or Settings(),
        fabrics=fabrics,
        pieces=tuple(made.pieces),
        backs=(back,),
        spare_blocks=blocks,
    )
    plan = Plan(
        job=job.digest,
        sources=tuple(Source(id=each.name, piece=each.name) for each in made.pieces),
        uses=tuple(made.uses),
        seams=tuple(made.seams),
        trims=tuple(made.trims),
        totals=replace(totals(0, 0), seams=len(made.seams)),
    )
    return job, plan


def back(width: object = 44, length: object = 52, **fields: object) -> Back:
    """A back in inches, of rules by their names."""
    rules = {
        name: fields.pop(name) for name in list(fields) if hasattr(BackRules(), name)
    }
    return Back(
        **{"name": "B1", "width": inch(width), "length": inch(length)} | fields,
        rules=BackRules(**rules),
    )


def seams(text: str, seam: object = "1/2", name: str = "B1") -> tuple[Seam, ...]:
    """``a right b; B1.1 above c 1/4``: what is sewn, to which side of it, what to it; the n-th gives B1.n."""
    made = []
    for n, each in enumerate(text.split(";"), start=1):
        a, side, b, *own = each.split()
        made.append(
            Seam(
                n=n,
                back=name,
                a=a,
                b=b,
                side=side,
                seam=inch(own[0] if own else seam),
                gives=f"{name}.{n}",
            )
        )
    return tuple(made)


def trim(block: str, width: object, length: object) -> Trim:
    return Trim(block=f"blocks/{block}", width=inch(width), length=inch(length))


def pieced(
    asked: Back,
    cloth: str,
    sewn: str = "",
    *,
    turned: str = "",
    trims: tuple[Trim, ...] = (),
    **fields: object,
) -> Case:
    """A plan that cuts nothing: ``a pear 15 x 52; b plum 15 x 52`` are pieces of the pile, x across the cloth."""
    pieces = []
    for each in cloth.split(";"):
        name, fabric, across, _, along = each.split()
        pieces.append(Piece.of_size(name, fabric, inch(across), inch(along)))
    job = Job(
        **{"fabrics": FABRICS, "pieces": tuple(pieces), "backs": (asked,)} | fields
    )
    plan = Plan(
        job=job.digest,
        sources=tuple(Source(id=each.name, piece=each.name) for each in pieces),
        uses=tuple(
            Use(part=each.name, for_=asked.key, turned=each.name in turned.split())
            for each in pieces
        ),
        seams=seams(sewn) if sewn else (),
        trims=trims,
    )
    return job, replace(plan, totals=replace(totals(0, 0), seams=len(plan.seams)))


def single() -> Case:
    """One part, no seam."""
    return pieced(back(), "a pear 44 x 52")


def in_a_row() -> Case:
    """Three upright parts: 15 + 15 + 16 less two seams of 2 x 1/2 are 44. Seen: 14 1/2, 14, 15 1/2."""
    rules = {
        "run": "up",
        "most_parts": 3,
        "most_seams": 2,
        "main": "darks",
        "middle": False,
    }
    return pieced(
        back(**rules, fabrics=("plum", "pear")),
        "a pear 15 x 52; b pear 15 x 52; c plum 16 x 52",
        "a right b; B1.1 right c",
    )


def tee() -> Case:
    """A seam that meets another: 30 + 23 - 1 = 52 high, then 20 + 25 - 1 = 44 wide; parts laid left and below."""
    return pieced(
        back(run="up"),
        "a pear 20 x 52; b plum 25 x 30; c pear 25 x 23",
        "b below c; B1.1 left a",
    )


def band() -> Case:
    """A band of three blocks of 9 1/2 with coping, sewn by 1/4: 3 x 9 1/2 - 2 x 1/2 = 27 1/2 wide.

    With two copings of 8 3/4: 27 1/2 + 17 1/2 - 2 x 1/2 = 44. High: 20 + 9 1/2 + 23 1/2 - 2 x 1/2 = 52. The third was
    measured as 10 x 9 3/4, of which 1/2 in may come off each way. Another kind stays in its box.
    """
    blocks = (
        SpareBlock(name="star", width=inch("9.5"), length=inch("9.5"), count=2),
        SpareBlock(
            name="ship",
            width=inch(10),
            length=inch("9.75"),
            count=4,
            may_trim_to=(inch("9.5"), inch("9.25")),
        ),
        SpareBlock(name="leaf", width=inch(6), length=inch(6)),
    )
    wishes = (BlockWish(name="star", least=2), BlockWish(name="ship"))
    return pieced(
        back(run="across", most_parts=7, blocks=wishes),
        "a pear 8.75 x 9.5; b pear 8.75 x 9.5; low plum 44 x 20; high plum 44 x 23.5",
        "blocks/star/1 right blocks/ship/3 1/4; B1.1 right blocks/star/2 1/4;"
        "B1.2 left a 1/4; B1.3 right b 1/4; B1.4 below low 1/4; B1.5 above high 1/4",
        trims=tuple(trim(name, 9.5, 9.5) for name in ("star/1", "star/2", "ship/3")),
        spare_blocks=blocks,
    )


def inset() -> Case:
    """A column 12 wide with a block in it, at the right edge of the back (nothing is cut off there): 20 + 12 + 21 - 1 = 52.

    The seam on its left meets the block: 20 + 12 - 1/2 = 31 1/2. The next meets none: 31 1/2 + 13 1/2 - 1 = 44.
    """
    block = SpareBlock(name="star", width=inch(12), length=inch(12))
    return pieced(
        back(overage=0, blocks=(BlockWish(name="any"),)),
        "a pear 20 x 52; low plum 12 x 20; high plum 12 x 21; d plum 13.5 x 52",
        "low above blocks/star/1 1/4; B1.1 above high 1/4; a right B1.2 1/4; B1.3 left d",
        trims=(trim("star/1", 12, 12),),
        spare_blocks=(block,),
    )


def prints() -> Case:
    """Prints that have to stand up: mist stands across, so its part hangs turned; bark and moss along. 15 + 15 + 16."""
    return pieced(
        back(upright=True),
        "a mist 52 x 15; b bark 15 x 52; c moss 16 x 52",
        "a right b; B1.1 right c",
        turned="a",
    )


def metric() -> Case:
    """Seams of 1 cm: 60 + 52 - 2 = 110 wide, 130 high."""
    asked = Back(name="B1", width=110 * CM, length=130 * CM, rules=BackRules.metric())
    line = Line(runs="up", at=59 * CM, low=Part(), high=Part(fabric="plum"))
    job, plan = divided(asked, line, settings=Settings.metric())
    sizes = [piece.outline[2] for piece in job.pieces]
    assert sizes == [(60 * CM, 130 * CM), (52 * CM, 130 * CM)]
    return job, plan


def cut_up() -> Case:
    """Two parts cut from one piece: 30 + 23 - 1 = 52. 30 and 23 are the ruler widths, 7 of the length are spare."""
    piece = Piece.of_size("pile", "pear", inch(44), inch(60))
    job = Job(fabrics=FABRICS, pieces=(piece,), backs=(back(),))
    plan = Plan(
        job=job.digest,
        sources=(Source(id="S1", piece="pile"),),
        cuts=(cut(1, "S1", "y 30", "a b"), cut(2, "b", "y 53", "c d")),
        uses=(Use(part="a", for_="backs/B1"), Use(part="c", for_="backs/B1")),
        spare=spare("d"),
        seams=seams("a above c"),
        totals=replace(totals(2, 2), seams=1),
    )
    return job, plan


def two_backs() -> Case:
    """A back that is made, one that is only wished for and is not."""
    job, plan = in_a_row()
    other = replace(back(), name="B2", importance="nice")
    job = replace(job, backs=(*job.backs, other))
    short = Short(for_="backs/B2", count=1, why="no more cloth")
    return job, replace(plan, job=job.digest, short=(short,))


def both_made() -> Case:
    """Two backs sewn by turns, a block of one kind in each: 8 + 12 - 1/2 = 19 1/2, twice.

    In B1 the block meets the next seam, 19 1/2 + 25 - 1/2 = 44; in B2 it does not: 19 1/2 + 25 1/2 - 1 = 44.
    """
    asked = back(overage=0, blocks=(BlockWish(name="any"),))
    other = replace(asked, name="B2")
    block = SpareBlock(name="star", width=inch(12), length=inch(52), count=2)
    job, plan = pieced(
        asked,
        "a pear 8 x 52; b plum 25 x 52; c bark 8 x 52; d mist 25.5 x 52",
        "a right blocks/star/1 1/4; c left blocks/star/2 1/4; b left B1.1; d left B1.2",
        trims=(trim("star/1", 12, 52), trim("star/2", 12, 52)),
        backs=(asked, other),
        spare_blocks=(block,),
    )
    sewn = list(plan.seams)
    sewn[0] = replace(sewn[0], gives="left")
    sewn[1] = replace(sewn[1], back="B2", gives="right")
    sewn[2] = replace(sewn[2], b="left", seam=inch("1/4"))
    sewn[3] = replace(sewn[3], b="right", back="B2")
    uses = [
        replace(use, for_="backs/B2") if use.part in "cd" else use for use in plan.uses
    ]
    return job, replace(plan, seams=tuple(sewn), uses=tuple(uses))


GOOD_BACKS: dict[str, Callable[[], Case]] = {
    made.__name__: made
    for made in (
        single,
        in_a_row,
        tee,
        band,
        inset,
        prints,
        metric,
        cut_up,
        two_backs,
        both_made,
    )
}
