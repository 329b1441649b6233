"""What a pieced back is asked to be: its size, what may go into it, and how it is sewn. All lengths are ticks."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, fields
from fractions import Fraction
from typing import Final, Literal, TypeAlias, get_args

from cutopt.errors import Problem
from cutopt.fabric import counted, named, one_of
from cutopt.lengths import INCH, METRE, MM
from cutopt.wanted import IMPORTANCE, Importance

Run: TypeAlias = Literal["", "up", "across"]
Look: TypeAlias = Literal["", "calm", "busy"]
RUNS: Final[tuple[Run, ...]] = get_args(Run)
LOOKS: Final[tuple[Look, ...]] = get_args(Look)
# a back may come out larger than asked by less than this each way, half of it on either side: more is cloth wasted
LARGER: Final = {"in": INCH, "cm": 25 * MM}
# where no seam may lie along the middle of a back, none comes nearer to it than this (common practice, no source), ...
MIDDLE: Final = {"in": 2 * INCH, "cm": 50 * MM}
# ... but one that shows less than this part of the width (the length) of the back, where it runs across (up)
MIDDLE_SHARE: Final = Fraction(1, 3)
_LENGTHS: Final = ("seam", "block_seam", "overage", "smallest_part", "edge_part")


@dataclass(frozen=True, slots=True, kw_only=True)
class SpareBlock:
    """`count` sewn blocks that are left over, unfinished, as measured and as they are to hang.

    `may_trim_to` is the least width and length that they may be trimmed to, None where nothing may come off. A block
    is never turned: its table says which way up it is.
    """

    name: str
    width: int
    length: int
    count: int = 1
    may_trim_to: tuple[int, int] | None = None
    note: str = ""

    def __post_init__(self) -> None:
        named("block", self.name)
        if "/" in self.name:
            raise Problem("block", f'"{self.name}" has a / in it', "write it without")
        if self.name.lower().split()[0] == "must" or self.name.lower() == "any":
            what = f'"{self.name}" means something else where a back names its blocks'
            raise Problem("block", what, "give the block another name")
        counted("count", self.count)
        for field in ("width", "length"):
            if not INCH <= getattr(self, field) <= 10 * METRE:
                raise Problem(field, "the size makes no sense", "write its size sewn")
        least = self.least
        if least[0] > self.width or least[1] > self.length:
            what = "a block cannot be trimmed to more than it is"
            raise Problem("may_trim_to", what, "write a smaller size, or leave it out")
        if min(least) < INCH:
            what = "nothing would be left of the block"
            raise Problem("may_trim_to", what, "write the size that it may be cut to")

    @property
    def least(self) -> tuple[int, int]:
        """The least width and length with which it may be sewn in."""
        return self.may_trim_to or (self.width, self.length)

    @property
    def key(self) -> str:
        """How a plan names this kind; ``blocks/star/3`` is the third of them."""
        return f"blocks/{self.name}"


@dataclass(frozen=True, slots=True, kw_only=True)
class BlockWish:
    """Blocks of one kind ("any" for every kind) may go into a back; at least `least` of them have to."""

    name: str
    least: int = 0

    def __post_init__(self) -> None:
        named("blocks", self.name)
        counted("blocks", self.least, 0)
        if self.least and self.name == "any":
            what = "must says which blocks have to go in"
            raise Problem("blocks", what, "write must and the name of a block")


@dataclass(frozen=True, slots=True, kw_only=True)
class BackRules:
    """How a back is sewn, and what its maker would like.

    Parameters
    ----------
    seam : int
        Allowance of its seams (1/2 in).
    block_seam : int
        Allowance of a seam that touches a block on either side (that of the job, 1/4 in).
    overage : int
        What is cut off all round once it is quilted (2 in): no block comes so near to an edge.
    smallest_part : int
        No part is narrower than this, seams taken off (3 in).
    edge_part : int
        A part at the outer edge is narrower than this only where that saves something (6 in).
    most_parts, most_seams : int or None
        Spare blocks count as parts.
    main : str
        The fabric of the largest part; "" for any.
    run : {"", "up", "across"}
        Which way the seams go that run from edge to edge of the whole back.
    middle : bool
        Whether a seam may lie along the middle of the back, up or across; if not, none that is as long as a third of
        the back comes nearer to it than 2 in (5 cm).
    upright : bool
        Whether prints that stand up have to.
    look : {"", "calm", "busy"}
        Few fabrics in large parts, or many beside each other.
    """

    seam: int = INCH // 2
    block_seam: int = INCH // 4
    overage: int = 2 * INCH
    smallest_part: int = 3 * INCH
    edge_part: int = 6 * INCH
    most_parts: int | None = None
    most_seams: int | None = None
    main: str = ""
    run: Run = ""
    middle: bool = True
    upright: bool = False
    look: Look = ""

    def __post_init__(self) -> None:
        one_of("run", self.run, RUNS)
        one_of("look", self.look, LOOKS)
        for field in _LENGTHS:
            if not 0 <= getattr(self, field) <= METRE:
                what = "the size makes no sense"
                raise Problem(field, what, "write a small length, 0 or more")
        if self.smallest_part < INCH // 2:
            what = "so small a part cannot be sewn into a back"
            raise Problem("smallest_part", what, "write 1/2 in or more")
        for field in ("seam", "block_seam"):
            if getattr(self, field) > self.smallest_part:
                what = "the seam allowance is wider than the smallest part"
                raise Problem(field, what, "write a smaller seam or a larger part")
        for field in ("most_parts", "most_seams"):
            most = getattr(self, field)
            if most is not None:
                counted(field, most, int(field == "most_parts"))

    @classmethod
    def metric(cls) -> BackRules:
        """The defaults of a metric job: sizes near the inch ones (common practice, no source)."""
        return cls(
            seam=10 * MM,
            block_seam=15 * MM // 2,
            overage=50 * MM,
            smallest_part=75 * MM,
            edge_part=150 * MM,
        )

    @property
    def fewest(self) -> int | None:
        """The parts that there may be at most: of `n` parts there are `n` - 1 seams."""
        limits = [self.most_parts]
        if self.most_seams is not None:
            limits.append(self.most_seams + 1)
        told = [limit for limit in limits if limit is not None]
        return min(told, default=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Back:
    """A back `width` by `length` as it goes under the quilt, raw and with its overage, sewn from what there is.

    `width` runs across the quilt, `length` from its foot to its head. `fabrics` lists fabrics or tags in order of
    preference, empty for any; `blocks` the spare blocks that may go in.
    """

    name: str
    width: int
    length: int
    fabrics: tuple[str, ...] = ()
    blocks: tuple[BlockWish, ...] = ()
    importance: Importance = "must"
    note: str = ""
    rules: BackRules = BackRules()

    def __post_init__(self) -> None:
        named("back", self.name)
        one_of("importance", self.importance, IMPORTANCE)
        for field in ("width", "length"):
            if not 4 * INCH <= getattr(self, field) <= 100 * METRE:
                what = "the size makes no sense for a back"
                raise Problem(field, what, "write the raw size, overage included")
        least = self.rules.smallest_part + 2 * self.rules.seam
        if min(self.width, self.length) < least:
            what = "the smallest part is larger than the back"
            raise Problem("smallest_part", what, "write a smaller one")
        if 2 * self.rules.overage >= min(self.width, self.length):
            what = "the overage takes all of the back"
            raise Problem("overage", what, "write less")

    @property
    def key(self) -> str:
        """How a plan names it: ``backs/B1``."""
        return f"backs/{self.name}"

    @property
    def count(self) -> int:
        """Rows of cuts and strips say how many; a back is one."""
        return 1

    def may_take(self, block: SpareBlock) -> bool:
        """Whether blocks of a kind may go into it."""
        return any(wish.name in ("any", block.name) for wish in self.blocks)

    def least_of(self, block: SpareBlock) -> int:
        """How many blocks of a kind have to go into it."""
        wishes = (wish.least for wish in self.blocks if wish.name == block.name)
        return max(wishes, default=0)


def name_of(key: str) -> str:
    """What a maker calls what a plan calls by a key: ``square`` of ``cuts/square``, ``back B1`` of ``backs/B1``.

    A part of a back, which :func:`cutopt.back_letters.lettered` calls ``parts/A/B1``, is ``back B1, part A``.
    """
    room, _, name = key.partition("/")
    if room == "backs":
        return _back_called(name)
    if room == "parts":
        mark, _, back = name.partition("/")
        return f"{_back_called(back)}, part {mark}"
    return name or key


def _back_called(name: str) -> str:
    """The name of a back behind the word, unless it says so itself."""
    if name.lower().startswith("back"):
        return name
    return f"back {name}"


def contradictions_of_back(
    back: Back, blocks: tuple[SpareBlock, ...]
) -> Iterator[Problem]:
    """In what a back contradicts the spare blocks that there are, or itself."""
    known = {block.name: block for block in blocks}
    inner = (
        back.width - 2 * back.rules.overage,
        back.length - 2 * back.rules.overage,
    )
    # of what shows of the blocks that must go in
    area = 0
    names = Counter(wish.name for wish in back.blocks)
    for name, times in names.items():
        if times > 1:
            what = f"{back.name}: {name} stands {times} times among its blocks"
            yield Problem("blocks", what, "say once whether it may or must go in")
    for wish in back.blocks:
        if wish.name == "any":
            continue
        block = known.get(wish.name)
        if block is None:
            what = f'{back.name}: there are no spare blocks "{wish.name}"'
            mend = "add them to blocks.csv, or use one of: " + ", ".join(sorted(known))
            if not known:
                mend = "add them to blocks.csv"
            yield Problem("blocks", what, mend)
            continue
        if wish.least > block.count:
            what = f"{back.name} must have {wish.least} of {wish.name}, and there are {block.count}"
            yield Problem("blocks", what, f"write must {block.count} {wish.name}")
        shown = tuple(side - 2 * back.rules.block_seam for side in block.least)
        if min(shown) <= 0:
            what = f"{back.name}: the seams take all of a block {wish.name}"
            yield Problem("block_seam", what, "write a smaller seam")
        elif shown[0] > inner[0] or shown[1] > inner[1]:
            what = f"{back.name}: a block {wish.name} is larger than what is left of the back without its overage"
            yield Problem("blocks", what, f"leave {wish.name} out")
        area += wish.least * max(0, shown[0]) * max(0, shown[1])
    if area > inner[0] * inner[1]:
        what = f"{back.name}: the blocks that have to go in are larger together than what is left without its overage"
        yield Problem("blocks", what, "let fewer of them have to go in")
    fewest = back.rules.fewest
    musts = sum(wish.least for wish in back.blocks)
    if fewest is not None and musts > fewest:
        what = f"{back.name}: {musts} blocks have to go in, and {fewest} parts are the most"
        if fewest == back.rules.most_parts:
            yield Problem("most_parts", what, f"write {musts + 1} or more")
        else:
            yield Problem("most_seams", what, f"write {musts} or more")


# every rule of a back has its word under [back.NAME]
RULES: Final = tuple(field.name for field in fields(BackRules))
