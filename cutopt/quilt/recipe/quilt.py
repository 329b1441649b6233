"""A whole quilt, from a finished top or a recipe: its wanted rows, its blocks, its sizes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

from cutopt.quilt.conventions import Conventions
from cutopt.quilt.recipe.block import Block
from cutopt.quilt.recipe.setting import Border, Setting
from cutopt.quilt.shapes.nested import Held, Laid
from cutopt.quilt.surds import Exact
from cutopt.quilt.top import Needed, Top, backing_size, batting_size
from cutopt.quilt.wanted_parts import Made, Triangles
from cutopt.wanted import Wanted

Frame: TypeAlias = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Quilt:
    """All that quilt.toml says, worked out.

    `finished` is the patchwork without its outer seams, None where only single parts are wanted; `use` and
    `label` are words; `held` says of which rows a rectangle holds several
    parts that are cut by hand; `backing` lists fabrics to back it with, None where nothing was said, and so does `batting`;
    `backing_upright` says that its print stands up; `unplaced` counts the blocks of one place that are left over.
    """

    how: Conventions
    wanted: tuple[Wanted, ...] = ()
    notes: tuple[str, ...] = ()
    spare: tuple[Triangles, ...] = ()
    held: tuple[Held, ...] = ()
    blocks: tuple[Block, ...] = ()
    setting: Setting | None = None
    unplaced: int = 0
    borders: tuple[Border, ...] = ()
    top: Top | None = None
    inner: Made | None = None
    use: str = ""
    label: str = ""
    backing: tuple[str, ...] | None = None
    backing_upright: bool = False
    batting: tuple[str, ...] | None = None
    binding: str = ""

    @property
    def laid(self) -> dict[str, Laid]:
        """How shapes lie in the strips of each row that they are cut from, by its key."""
        return {each.row: each for each in self.held if isinstance(each, Laid)}

    @property
    def finished(self) -> tuple[Exact, Exact] | None:
        """Width and length of the patchwork, seams at its edge not counted."""
        if self.top is None:
            return None
        return self.top.size("finished", self.how)

    @property
    def backing_size(self) -> Needed | None:
        """What a backing has to reach."""
        if self.top is None:
            return None
        return backing_size(self.top, self.how)

    @property
    def batting_size(self) -> Needed | None:
        """What batting has to reach."""
        if self.top is None:
            return None
        return batting_size(self.top, self.how)
