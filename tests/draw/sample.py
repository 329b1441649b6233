"""Hand-made plans for the tests of pictures and pages: invented data of the orchard lap quilt.

A :class:`Maker` cuts step by step on the real polygons, so that a plan of the tests is valid by construction:
every cut runs edge to edge through one part, and what is neither used nor cut again is spare.
"""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

from cutopt.cloth import cloth_of, cut_part, finished_parts
from cutopt.fabric import ByLength, ByPiece, Fabric, Piece
from cutopt.geometry import Polygon, bounds
from cutopt.job import Job, cost_of
from cutopt.lengths import CM, INCH, METRE, MM, YARD
from cutopt.plan import (
    Bought,
    CutStep,
    Join,
    Level,
    Plan,
    Short,
    Source,
    Spare,
    Totals,
    Use,
    bought_in,
)
from cutopt.result import Offer, Result, Room, WidthCase, estimate_minutes
from cutopt.settings import Settings
from cutopt.wanted import Cut, Strip


def inches(value: float | str | Fraction) -> int:
    """Ticks of a length in inches."""
    ticks = Fraction(value) * INCH
    assert ticks.denominator == 1
    return int(ticks)


class Maker:
    """Builds a plan cut by cut."""

    def __init__(self, job: Job) -> None:
        self.job = job
        self.parts: dict[str, Polygon] = {}
        self.sources: list[Source] = []
        self.cuts: list[CutStep] = []
        self.uses: list[Use] = []

    def take(self, piece: str, copy: int = 1) -> str:
        return self._add(Source(id=f"S{len(self.sources) + 1}", piece=piece, copy=copy))

    def buy(self, fabric: str, width: int, length: int) -> str:
        row = next(
            row
            for row in self.job.shop
            if row.fabric == fabric
            and (
                row.usable_width == width
                if isinstance(row, ByLength)
                else (row.each_width, row.each_length) == (width, length)
            )
        )
        price = cost_of(row, length, self.job.settings.unit)
        name = f"S{len(self.sources) + 1}"
        return self._add(
            Source(
                id=name,
                bought=fabric,
                by_piece=isinstance(row, ByPiece),
                width=width,
                length=length,
                price=price,
            )
        )

    def _add(self, source: Source) -> str:
        self.sources.append(source)
        self.parts[source.id] = cloth_of(self.job, source).outline
        return source.id

    def cut(
        self, part: str, *, x: int | None = None, y: int | None = None
    ) -> tuple[str, ...]:
        source = part.split(".", maxsplit=1)[0]
        step = len(self.cuts) + 1
        made = sum(
            len(cut.gives) for cut in self.cuts if cut.part.split(".")[0] == source
        )
        trial = CutStep(n=step, part=part, gives=(), x=x, y=y)
        results = cut_part(self.parts[part], trial)
        assert len(results) > 1, (part, x, y)
        names = tuple(f"{source}.{made + i + 1}" for i in range(len(results)))
        self.parts.update(zip(names, results, strict=True))
        self.cuts.append(CutStep(n=step, part=part, gives=names, x=x, y=y))
        return names

    def straighten(
        self, part: str, line: tuple[tuple[int, int], tuple[int, int]]
    ) -> tuple[str, ...]:
        """A straightening cut: what lies left of the line first."""
        source = part
        made = sum(
            len(cut.gives) for cut in self.cuts if cut.part.split(".")[0] == part
        )
        results = cut_part(
            self.parts[part], CutStep(n=1, part=part, gives=(), line=line)
        )
        names = tuple(f"{source}.{made + i + 1}" for i in range(len(results)))
        self.parts.update(zip(names, results, strict=True))
        self.cuts.append(
            CutStep(n=len(self.cuts) + 1, part=part, gives=names, line=line)
        )
        return names

    def use(self, part: str, key: str, turned: bool = False) -> None:
        x1, y1, x2, y2 = bounds(self.parts[part])
        row = self.job.row(key)
        size = (x2 - x1, y2 - y1)[:: -1 if turned else 1]
        assert size[0] == row.width, (key, [float(s / INCH) for s in size])
        assert isinstance(row, Strip) or size[1] == row.length, (
            key,
            [float(s / INCH) for s in size],
        )
        self.uses.append(Use(part=part, for_=key, turned=turned))

    def run(
        self,
        part: str,
        axis: str,
        size: int,
        count: int,
        key: str = "",
        turned: bool = False,
    ) -> list[str]:
        """Cut `count` parts of `size` off the low side, use them for `key`; gives the parts, the rest last."""
        out = []
        rest = part
        for _ in range(count):
            low = bounds(self.parts[rest])["xy".index(axis)]
            high_end = bounds(self.parts[rest])[2 + "xy".index(axis)]
            if high_end - low == size:
                first = rest
                rest = ""
            else:
                first, rest = self.cut(rest, **{axis: int(low) + size})
            if key:
                self.use(first, key, turned)
            out.append(first)
        return [*out, rest]

    def plan(
        self, *, short: tuple[Short, ...] = (), joins: tuple[Join, ...] = ()
    ) -> Plan:
        bare = Plan(
            job=self.job.digest,
            sources=tuple(self.sources),
            cuts=tuple(self.cuts),
            uses=tuple(self.uses),
        )
        used = {use.part for use in self.uses}
        keep = self.job.settings
        spare = []
        for name in finished_parts(bare):
            x1, y1, x2, y2 = bounds(self.parts[name])
            if name not in used:
                big = x2 - x1 >= keep.keep_width and y2 - y1 >= keep.keep_length
                spare.append(Spare(part=name, keep=big))
        money = sum((source.price or Decimal(0) for source in self.sources), Decimal(0))
        widths = _ruler_widths(self)
        sewn = sum(len(join.segments) - 1 for join in joins)
        return Plan(
            job=self.job.digest,
            sources=tuple(self.sources),
            cuts=tuple(self.cuts),
            uses=tuple(self.uses),
            spare=tuple(spare),
            joins=joins,
            short=short,
            origin=self.job,
            levels=(
                Level(name="money", value=f"{money}", bound=f"{money}", proved=True),
                Level(name="cuts", value=str(len(self.cuts)), bound="0", proved=False),
            ),
            totals=Totals(
                money=money,
                bought=bought_in(self.sources),
                cuts=len(self.cuts),
                ruler_widths=widths,
                joins=sewn,
            ),
        )


def _ruler_widths(maker: Maker) -> int:
    found = set()
    needed = {use.part for use in maker.uses} | {cut.part for cut in maker.cuts}
    for cut in maker.cuts:
        if cut.line is not None:
            continue
        side, at = (0, cut.x) if cut.x is not None else (1, cut.y)
        assert at is not None
        if any(
            bounds(maker.parts[name])[side] < at and name in needed
            for name in cut.gives
        ):
            found.add(at - bounds(maker.parts[cut.part])[side])
    return len(found)


def orchard_job() -> Job:
    """An L, a triangle, a stained piece, a raw piece, squares alike, a bought length and a fat quarter."""
    i = inches
    return Job(
        name="orchard lap quilt",
        settings=Settings(currency="$"),
        fabrics=(
            Fabric(name="pear", colour="#b9c46a", value="light", tags=("greens",)),
            Fabric(name="plum", colour="#6b3a5b", value="dark"),
            Fabric(name="oat", colour="#e8dcc0", value="light"),
            Fabric(name="bark", colour="saddlebrown", value="dark"),
            Fabric(name="mist & dew", value="medium", one_way="along"),
        ),
        pieces=(
            Piece(
                name="pear L",
                fabric="pear",
                outline=(
                    (0, 0),
                    (i(20), 0),
                    (i(20), i(7)),
                    (i(9), i(7)),
                    (i(9), i(16)),
                    (0, i(16)),
                ),
            ),
            Piece(
                name="plum half square",
                fabric="plum",
                outline=((0, 0), (i(14), 0), (0, i(14))),
            ),
            Piece(
                name="oat stained",
                fabric="oat",
                outline=((0, 0), (i(18), 0), (i(18), i(12)), (0, i(12))),
                flaws=(((i(12), i(7)), (i(15), i(7)), (i(14), i(9)), (i(12), i(9))),),
            ),
            Piece.of_size("bark raw", "bark", i(19), i(11), edges="raw"),
            Piece.of_size("mist & dew squares", "mist & dew", i(5), i(5), count=6),
            Piece.of_size("pear post", "pear", i("2.5"), i("2.5"), grain_known=False),
        ),
        shop=(
            ByLength(
                fabric="oat",
                usable_width=i(42),
                sold_by=YARD // 8,
                price=Decimal("9.60"),
            ),
            ByPiece(
                fabric="plum",
                each_width=i(21),
                each_length=i(18),
                price=Decimal("3.20"),
            ),
        ),
        cuts=(
            Cut(name="square", width=i("4.5"), length=i("4.5"), count=32),
            Cut(name="post", width=i("2.5"), length=i("2.5"), count=49),
            Cut(name="leaf", width=i("2.5"), length=i("4.5"), count=12),
            Cut(
                name="centre",
                width=i("8.5"),
                length=i("8.5"),
                count=1,
                importance="nice",
            ),
        ),
        strips=(Strip(name="binding", width=i("2.5"), total_length=i(120)),),
    )


def orchard_plan(job: Job | None = None) -> Plan:
    """A whole plan for :func:`orchard_job`, written by hand."""
    i = inches
    maker = Maker(job or orchard_job())
    _from_pile(maker)
    oat = maker.buy("oat", i(42), i("22.5"))
    _, oat = maker.cut(oat, y=i("0.5"))
    *strips, oat = maker.run(oat, "y", i("2.5"), 3)
    for strip in strips:
        maker.use(strip, "strips/binding", turned=True)
    *rows, oat = maker.run(oat, "y", i("4.5"), 2)
    for row in rows:
        maker.run(row, "x", i("4.5"), 9, "cuts/square")
    maker.cut(oat, x=i(18))
    plum = maker.buy("plum", i(21), i(18))
    *strips, plum = maker.run(plum, "y", i("2.5"), 2)
    for strip in strips:
        maker.run(strip, "x", i("2.5"), 8, "cuts/post")
    segments = tuple(use.part for use in maker.uses if use.for_ == "strips/binding")
    join = Join(
        for_="strips/binding", segments=segments, join="diagonal", length=i(121)
    )
    short = Short(
        for_="cuts/leaf",
        count=4,
        why="no piece that is left is 4 1/2 long",
        mends=("buy 1/8 yd more oat", "make 8 leaves"),
    )
    return maker.plan(short=(short,), joins=(join,))


def _from_pile(maker: Maker) -> None:
    i = inches
    pear = maker.take("pear L")
    upper = maker.cut(pear, y=i(7))
    squares, posts = maker.cut(upper[0], y=i("4.5"))
    maker.run(squares, "x", i("4.5"), 4, "cuts/square")
    maker.run(posts, "x", i("2.5"), 8, "cuts/post")
    rest = maker.run(upper[1], "y", i("8.5"), 1)
    part = maker.cut(rest[0], x=i("8.5"))[0]
    maker.use(part, "cuts/centre")
    plum = maker.take("plum half square")
    low, _ = maker.cut(plum, y=i("4.5"))
    maker.run(low, "x", i("4.5"), 2, "cuts/square")
    stained = maker.take("oat stained")
    *strips, rest = maker.run(stained, "y", i("2.5"), 2)
    for strip in strips:
        maker.run(strip, "x", i("4.5"), 4, "cuts/leaf", turned=True)
    bark = maker.take("bark raw")
    _, bark = maker.cut(bark, x=i("0.25"))
    _, bark = maker.cut(bark, y=i("0.25"))
    *rows, _ = maker.run(bark, "y", i("4.5"), 2)
    for row in rows:
        maker.run(row, "x", i("4.5"), 4, "cuts/square")
    for copy in range(1, 7):
        mist = maker.take("mist & dew squares", copy)
        *halves, _ = maker.run(mist, "x", i("2.5"), 2)
        for half in halves:
            maker.run(half, "y", i("2.5"), 2, "cuts/post")
    maker.use(maker.take("pear post"), "cuts/post")


def orchard_result() -> Result:
    """A result round :func:`orchard_plan` with a second offer."""
    i = inches
    job = orchard_job()
    plan = orchard_plan(job)
    other = small_plan(job)
    return Result(
        job=job,
        offers=(
            Offer(
                name="thriftiest",
                plan=plan,
                minutes=estimate_minutes(plan),
                spare=300 * INCH * INCH,
                biggest_spare=144 * INCH * INCH,
                also=("keeps the biggest pieces",),
            ),
            Offer(
                name="simplest to cut",
                plan=other,
                minutes=estimate_minutes(other),
                spare=100 * INCH * INCH,
                biggest_spare=90 * INCH * INCH,
            ),
        ),
        complete=False,
        room=(
            Room(source="S1", across=i("0.125"), along=0),
            Room(source="S4", across=i(2), along=i(1)),
            Room(source="S12", across=i("1.5"), along=i("0.25")),
        ),
        widths=tuple(
            WidthCase(
                usable_width=i(w),
                complete=w > 40,
                money=Decimal("9.20"),
                bought=(Bought(fabric="oat", amount=i("22.5")),),
                plan=plan,
            )
            for w in (40, 41, 42, 43)
        ),
        because="the binding alone takes 3 strips of 2 1/2 from 42 inches",
        notices=("Wash the oat before you cut it.",),
        stopped="time",
        seconds=5.0,
    )


def small_plan(job: Job) -> Plan:
    """Two strips from one piece only."""
    maker = Maker(job)
    bark = maker.take("bark raw")
    _, bark = maker.cut(bark, y=inches("0.25"))
    maker.run(bark, "y", inches("4.5"), 2)
    return maker.plan()


def metric_result() -> Result:
    """A metric job: a bought length and one piece of the pile."""
    job = Job(
        name="pear runner",
        settings=Settings.metric(),
        fabrics=(
            Fabric(name="pear", colour="olivedrab"),
            Fabric(name="mist", colour="#aabbcc"),
        ),
        pieces=(Piece.of_size("mist big", "mist", 32 * CM, 21 * CM, edges="raw"),),
        shop=(
            ByLength(
                fabric="pear",
                usable_width=106 * CM,
                sold_by=10 * CM,
                price=Decimal("14.90"),
            ),
        ),
        cuts=(
            Cut(name="square", width=115 * MM, length=115 * MM, count=9),
            Cut(name="bar", width=65 * MM, length=115 * MM, count=4),
        ),
    )
    maker = Maker(job)
    mist = maker.take("mist big")
    _, mist = maker.cut(mist, x=5 * MM)
    _, mist = maker.cut(mist, y=5 * MM)
    row, _ = maker.cut(mist, y=120 * MM)
    maker.run(row, "x", 65 * MM, 4, "cuts/bar")
    pear = maker.buy("pear", 106 * CM, 20 * CM)
    _, pear = maker.cut(pear, y=15 * MM)
    row, _ = maker.cut(pear, y=130 * MM)
    maker.run(row, "x", 115 * MM, 9, "cuts/square")
    plan = maker.plan()
    return Result(
        job=job,
        offers=(
            Offer(
                name="thriftiest",
                plan=plan,
                minutes=estimate_minutes(plan),
                spare=0,
                biggest_spare=0,
            ),
        ),
        complete=True,
        room=(Room(source="S2", across=25 * MM, along=5 * MM),),
        widths=tuple(
            WidthCase(
                usable_width=w * CM,
                complete=True,
                money=Decimal("2.98"),
                bought=(Bought(fabric="pear", amount=METRE // 5),),
                plan=plan,
            )
            for w in (100, 106, 110)
        ),
        because="nine squares of 11.5 need one row of 11.5 and the ends",
        stopped="proved",
    )
