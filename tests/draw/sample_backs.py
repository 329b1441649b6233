"""Hand-made pieced backs for the tests of pictures and pages, and backs cut apart at random. Invented data.

The back of the orchard lap quilt (44 x 52 in) has three spare blocks in a column with coping at both ends.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from decimal import Decimal
from random import Random
from typing import TypeAlias

from cutopt.fabric import ByLength, Fabric, Piece
from cutopt.job import Job
from cutopt.lengths import INCH, YARD
from cutopt.piecing import Back, BackRules, BlockWish, SpareBlock
from cutopt.plan import Plan, Seam, Side, Source, Totals, Trim, Use
from cutopt.result import Offer, Result, estimate_minutes
from cutopt.settings import Settings
from cutopt.wanted import Cut
from tests.draw.sample import Maker, inches

Size: TypeAlias = tuple[int, int]


def sewing(back: str, *seams: tuple[str, Side, str, str, str]) -> tuple[Seam, ...]:
    """Seams of (a, side, b, allowance in inches, what it gives)."""
    return tuple(
        Seam(n=n, back=back, a=a, b=b, side=side, seam=inches(wide), gives=gives)
        for n, (a, side, b, wide, gives) in enumerate(seams, 1)
    )


def orchard_back_job(name: str = "B1") -> Job:
    i = inches
    return Job(
        name="orchard lap quilt",
        settings=Settings(currency="$"),
        fabrics=(
            Fabric(name="pear", colour="#b9c46a", value="light"),
            Fabric(name="plum", colour="#6b3a5b", value="dark"),
            Fabric(name="oat", colour="#e8dcc0", value="light"),
            Fabric(name="bark", colour="saddlebrown", value="dark"),
        ),
        pieces=(
            Piece.of_size("pear-1", "pear", i(24), i(34)),
            Piece.of_size("plum-1", "plum", i("24.5"), i("20.5"), edges="raw"),
            Piece.of_size("bark-1", "bark", i(13), i(50)),
        ),
        shop=(
            ByLength(
                fabric="oat",
                usable_width=i(42),
                sold_by=YARD // 8,
                price=Decimal("9.60"),
            ),
        ),
        cuts=(Cut(name="square", width=i("3.5"), length=i("3.5"), count=4),),
        backs=(
            Back(
                name=name,
                width=i(44),
                length=i(52),
                blocks=(BlockWish(name="star", least=2), BlockWish(name="hen")),
            ),
        ),
        spare_blocks=(
            SpareBlock(name="star", width=i("12.5"), length=i("12.5"), count=3),
            SpareBlock(
                name="hen",
                width=i("12.75"),
                length=i(13),
                may_trim_to=(i(12), i(12)),
            ),
        ),
    )


def orchard_back_plan(name: str = "B1", job: Job | None = None) -> Plan:
    """Nine parts and eight seams, worked by hand.

    Column: 3 x 12 1/2 + 8 1/2 + 8 less 4 seams of 2 x 1/4 = 52. Left: 30 + 23 - 1 = 52, right: 22 + 31 - 1 = 52.
    Across: 20 + 12 1/2 + 12 1/2 less 2 seams of 2 x 1/4 = 44.
    """
    i = inches
    job = job or orchard_back_job(name)
    maker = Maker(job)
    for_back = _ForBack(maker, name)
    pear = maker.take("pear-1")
    left, rest = maker.cut(pear, x=i(20))
    low = for_back.taken(left, y=i(30))[0]
    *_, _ = maker.run(rest, "y", i("3.5"), 0)
    column = maker.cut(rest, x=i("23.5"))[0]
    maker.run(column, "y", i("3.5"), 4, "cuts/square")
    plum = maker.take("plum-1")
    _, plum = maker.cut(plum, x=i("0.25"))
    _, plum = maker.cut(plum, y=i("0.25"))
    plum = maker.cut(plum, y=i("20.25"))[0]
    high = for_back.taken(plum, x=i("23.25"), turned=True)[0]
    bark = maker.take("bark-1")
    bark, _ = maker.cut(bark, x=i("12.5"))
    panel, bark = for_back.taken(bark, y=i(31))
    foot, bark = for_back.taken(bark, y=i("39.5"))
    top, _ = for_back.taken(bark, y=i("47.5"))
    oat = maker.buy("oat", i(42), i("13.5"))
    _, oat = maker.cut(oat, y=i("0.5"))
    oat = maker.cut(oat, y=i(13))[0]
    right = for_back.taken(oat, x=i(22), turned=True)[0]
    stars = ("blocks/star/1", "blocks/hen/1", "blocks/star/2")
    seams = sewing(
        name,
        (stars[0], "above", stars[1], "0.25", "b.1"),
        ("b.1", "above", stars[2], "0.25", "b.2"),
        ("b.2", "below", foot, "0.25", "b.3"),
        ("b.3", "above", top, "0.25", "b.4"),
        (low, "above", high, "0.5", "b.5"),
        (right, "below", panel, "0.5", "b.6"),
        ("b.4", "left", "b.5", "0.25", "b.7"),
        ("b.7", "right", "b.6", "0.25", "b.8"),
    )
    trims = tuple(
        Trim(block=block, width=i("12.5"), length=i("12.5")) for block in stars
    )
    plan = maker.plan()
    totals = replace(plan.totals, seams=len(seams))
    return replace(plan, seams=seams, trims=trims, totals=totals)


class _ForBack:
    """Cuts whose low part goes into a back."""

    def __init__(self, maker: Maker, back: str) -> None:
        self.maker = maker
        self.back = back

    def taken(
        self,
        part: str,
        *,
        x: int | None = None,
        y: int | None = None,
        turned: bool = False,
    ) -> tuple[str, ...]:
        given = self.maker.cut(part, x=x, y=y)
        use = Use(part=given[0], for_=f"backs/{self.back}", turned=turned)
        self.maker.uses.append(use)
        return given


def result_of(plan: Plan) -> Result:
    assert plan.origin is not None
    offer = Offer(
        name="thriftiest",
        plan=plan,
        minutes=estimate_minutes(plan),
        spare=0,
        biggest_spare=0,
    )
    return Result(job=plan.origin, offers=(offer,), complete=True)


@dataclass
class Apart:
    """A back cut apart at random from the whole down, so that every piece is known before it is sewn.

    `leaves` are the sizes with which parts are cut, as they hang, by the name of their source; `seen` where each is
    seen in the back. What one has more than is seen of it, it loses to the seams at its sides.
    """

    random: Random
    size: Size
    seam: int
    leaves: dict[str, Size] = field(default_factory=dict)
    seen: dict[str, tuple[int, int, int, int]] = field(default_factory=dict)
    seams: list[Seam] = field(default_factory=list)

    def whole(self, parts: int) -> None:
        self._apart((0, 0, *self.size), (0, 0, 0, 0), parts)

    def _apart(
        self,
        seen: tuple[int, int, int, int],
        taken: tuple[int, int, int, int],
        parts: int,
    ) -> str:
        x, y, wide, high = seen
        left, right, below, above = taken
        least = 3 * INCH
        axes = [axis for axis in (0, 1) if seen[2 + axis] > 2 * least]
        if parts < 2 or not axes:
            name = f"S{len(self.leaves) + 1}"
            self.leaves[name] = (wide + left + right, high + below + above)
            self.seen[name] = seen
            return name
        seam = self.seam
        axis = self.random.choice(axes)
        step = INCH // 8
        at = least + step * self.random.randrange((seen[2 + axis] - 2 * least) // step)
        low_parts = self.random.randint(1, parts - 1)
        if axis == 0:
            low = self._apart((x, y, at, high), (left, seam, below, above), low_parts)
            top = self._apart(
                (x + at, y, wide - at, high),
                (seam, right, below, above),
                parts - low_parts,
            )
        else:
            low = self._apart((x, y, wide, at), (left, right, below, seam), low_parts)
            top = self._apart(
                (x, y + at, wide, high - at),
                (left, right, seam, above),
                parts - low_parts,
            )
        ways: tuple[tuple[Side, Side], ...] = (("right", "left"), ("above", "below"))
        side = ways[axis][0]
        if self.random.random() < 0.5:
            low, top = top, low
            side = ways[axis][1]
        n = len(self.seams) + 1
        gives = f"B1.{n}"
        self.seams.append(
            Seam(n=n, back="B1", a=low, b=top, side=side, seam=seam, gives=gives)
        )
        return gives


def random_back(seed: int, parts: int = 12) -> tuple[Job, Plan, Apart]:
    """A back of about so many parts, each of which is a whole piece of the pile."""
    random = Random(seed)
    size = (random.randint(40, 70) * INCH, random.randint(40, 90) * INCH)
    seam = random.choice((INCH // 4, INCH // 2))
    apart = Apart(random, size, seam)
    apart.whole(parts)
    names = ("pear", "plum", "oat", "bark", "mist")
    fabrics = tuple(Fabric(name=name) for name in names)
    turned = {name: random.random() < 0.3 for name in apart.leaves}
    pieces = tuple(
        Piece.of_size(
            f"p{name}", random.choice(names), *wide[:: -1 if turned[name] else 1]
        )
        for name, wide in apart.leaves.items()
    )
    back = Back(name="B1", width=size[0], length=size[1], rules=BackRules(seam=seam))
    job = Job(fabrics=fabrics, pieces=pieces, backs=(back,))
    plan = Plan(
        job=job.digest,
        sources=tuple(Source(id=name, piece=f"p{name}") for name in apart.leaves),
        uses=tuple(
            Use(part=name, for_="backs/B1", turned=turned[name])
            for name in apart.leaves
        ),
        seams=tuple(apart.seams),
        origin=job,
    )
    totals = Totals(money=Decimal(0), seams=len(plan.seams))
    return job, replace(plan, totals=totals), apart
