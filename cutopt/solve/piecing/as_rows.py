"""Make-ups as rows of a job that every search can plan, and the plans of that job as plans with seams."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from cutopt.job import Job
from cutopt.piecing import Back
from cutopt.plan import Plan, Seam, Short, Trim, Use
from cutopt.solve.explain.changed_jobs import free_name
from cutopt.solve.piecing.make_up import BlockPart, ClothPart, MakeUp, Node
from cutopt.solve.piecing.make_up import leaves as leaves_of
from cutopt.wanted import Cut


@dataclass(frozen=True, slots=True, kw_only=True)
class AsRows:
    """A job with backs, its backs made up, as a job with a row for each size of their parts.

    Attributes
    ----------
    job : Job
        As it was asked.
    made : pairs of a back and its make-up
    rows : Job
        Without backs, with the rows.
    part_of : mapping
        The key of the row of each part, by fabric and size.
    """

    job: Job
    made: tuple[tuple[Back, MakeUp], ...]
    rows: Job
    part_of: Mapping[tuple[str, ClothPart], str]

    @classmethod
    def of(cls, job: Job, made: Sequence[tuple[Back, MakeUp]]) -> AsRows:
        """Put make-ups in the place of backs; backs without one are left out.

        Parameters
        ----------
        job : Job
        made : sequence of pairs
        """
        rows: list[Cut] = []
        part_of: dict[tuple[str, ClothPart], str] = {}
        for back, make_up in made:
            counts = Counter(
                leaf for leaf in leaves_of(make_up.root) if isinstance(leaf, ClothPart)
            )
            for number, (part, count) in enumerate(counts.items(), start=1):
                name = free_name(job, f"{back.name} part {number}")
                row = Cut(
                    name=name,
                    width=part.width,
                    length=part.length,
                    count=count,
                    fabrics=(part.fabric,),
                    upright=back.rules.upright,
                    importance=back.importance,
                )
                rows.append(row)
                part_of[back.name, part] = row.key
        # a job that wants nothing says that it is a quilt, and has no rows
        rest = replace(
            job,
            cuts=(*job.cuts, *rows),
            backs=(),
            spare_blocks=(),
            quilt=job.quilt or "sewn from blocks",
            worked_out=None,
        )
        return cls(job=job, made=tuple(made), rows=rest, part_of=part_of)

    @property
    def wanted(self) -> bool:
        """Whether anything is to be cut."""
        return bool(self.rows.wanted)

    def back_of(self, key: str) -> Back | None:
        """The back of which a row stands for parts; None for other rows."""
        for (name, _), row in self.part_of.items():
            if row == key:
                return next(back for back, _ in self.made if back.name == name)
        return None

    def lacks(self, plan: Plan) -> set[str]:
        """The backs of which a plan of the rows lacks a part."""
        short = (self.back_of(each.for_) for each in plan.short)
        return {back.name for back in short if back is not None}

    def plan(self, plan: Plan) -> Plan | None:
        """A plan of the rows as one of the job, with seams and blocks; None where it lacks a part of a back.

        Parameters
        ----------
        plan : Plan
            For the job with rows, whole.
        """
        if self.lacks(plan):
            return None
        parts: dict[str, list[str]] = defaultdict(list)
        uses: list[Use] = []
        for use in plan.uses:
            back = self.back_of(use.for_)
            if back is None:
                uses.append(use)
                continue
            parts[use.for_].append(use.part)
            uses.append(replace(use, for_=back.key))
        sewing = _Sewing(self.part_of, parts)
        for back, make_up in self.made:
            sewing.sew(back, make_up.root)
        missing = {back.name for back in self.job.backs}
        missing -= {back.name for back, _ in self.made}
        short = [
            Short(for_=back.key, count=1)
            for back in self.job.backs
            if back.name in missing
        ]
        return replace(
            plan,
            job=self.job.digest,
            origin=self.job,
            uses=tuple(uses),
            seams=tuple(sewing.seams),
            trims=tuple(sewing.trims),
            short=(*plan.short, *short),
            totals=replace(plan.totals, seams=len(sewing.seams)),
        )


class _Sewing:
    """Seams in the order in which they are sewn, and the blocks that are used."""

    def __init__(
        self, part_of: Mapping[tuple[str, ClothPart], str], parts: dict[str, list[str]]
    ) -> None:
        self.part_of = part_of
        self.parts = {key: iter(names) for key, names in parts.items()}
        self.seams: list[Seam] = []
        self.trims: list[Trim] = []
        self._blocks: Counter[str] = Counter()

    def sew(self, back: Back, root: Node) -> None:
        """All seams of a back."""
        names = (f"{back.name}.{number}" for number in range(1, 10_000))
        self._node(back, root, names)

    def _node(self, back: Back, node: Node, names: Iterator[str]) -> str:
        if isinstance(node, ClothPart):
            return next(self.parts[self.part_of[back.name, node]])
        if isinstance(node, BlockPart):
            return self._block(node)
        a = self._node(back, node.a, names)
        b = self._node(back, node.b, names)
        gives = next(names)
        seam = Seam(
            n=len(self.seams) + 1,
            back=back.name,
            a=a,
            b=b,
            side="right" if node.along == "x" else "above",
            seam=node.seam,
            gives=gives,
        )
        self.seams.append(seam)
        return gives

    def _block(self, block: BlockPart) -> str:
        self._blocks[block.block] += 1
        name = f"blocks/{block.block}/{self._blocks[block.block]}"
        trim = Trim(block=name, width=block.width, length=block.length)
        self.trims.append(trim)
        return name
