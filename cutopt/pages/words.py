"""The sentences for one move of the hands, and the notes below it. Pure words, no page."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Final, Literal

from cutopt.draw.views import rough, stretches
from cutopt.geometry import Number, Point, Polygon, bounds
from cutopt.lengths import INCH
from cutopt.measure import EDGES, ENDS, on_ruler, square_to, straight_side
from cutopt.moves import Move
from cutopt.pages.fates import left_over, pieces_apart
from cutopt.pages.folding import Fold, fold_of
from cutopt.pages.moves_of_cuts import Table
from cutopt.pages.phrases import (
    length_text,
    number_text,
    of_parts,
    size_text,
    slender,
    upper,
)
from cutopt.plan import CutStep

_BESIDE: Final = {
    (0, True): "to the right of",
    (0, False): "to the left of",
    (1, True): "above",
    (1, False): "below",
}
_BETWEEN: Final = (
    "No mark of the ruler meets it: before you cut, see that what the drawing shows "
    "fits on both sides of the ruler."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """A sentence without its full stop, or a piece of one; whether an edge is what it names last."""

    text: str
    edge_last: bool = False

    def after(self, before: str) -> Said:
        """The same behind other words."""
        return Said(text=before + self.text, edge_last=self.edge_last)


@dataclass(slots=True)
class Words:
    """Sentences about the cuts of one source, with what its parts are called."""

    table: Table
    nouns: dict[str, str] = field(default_factory=dict)
    # of what something is called the rest
    wholes: dict[str, str] = field(default_factory=dict)
    it: str = ""
    last_rest: str = ""
    last_fold: Fold | None = None
    layers: int = 1

    def lettered(self, part: str) -> bool:
        """Whether a part is called by a letter (``strip A``)."""
        return self.nouns.get(part, "").rpartition(" ")[2][:1].isupper()

    def lead(self, part: str) -> str:
        """How a sentence starts: from which part the cut is made."""
        if part == self.it:
            return "From it "
        if part == self.last_rest:
            return "From the rest "
        noun = self.nouns.get(part, "the piece")
        if noun == "the piece":
            return ""
        return f"From {noun} "

    def forget(self) -> None:
        """The next sentence cannot say "it" or "the rest"."""
        self.it = self.last_rest = ""

    def remember(self, move: Move) -> None:
        """What "it" and "the rest" mean in the next sentence, and what the rest is called later."""
        noun = self.nouns.get(move.part, "the piece")
        if move.kind in ("trim", "line"):
            self.nouns[move.rest] = noun
            self.it = move.rest if move.part == self.it else ""
            self.last_rest = move.rest if move.part == self.last_rest else ""
            return
        if move.rest and self.table.needed(move.rest):
            whole = self.wholes.get(noun, noun)
            rest = f"the rest of {whole}"
            self.wholes[rest] = whole
            self.nouns.setdefault(move.rest, rest)
        self.it = move.made[0] if len(move.made) == 1 and move.kind == "strips" else ""
        self.last_rest = move.rest

    def _length(self, ticks: Number, mark: bool = False) -> str:
        return length_text(ticks, self.table.job.settings.unit, mark=mark)

    def sentence(self, move: Move, lead: str) -> Said:
        """What to do; `lead` says from which part."""
        told = self._told(move, lead)
        return Said(text=upper(told.text), edge_last=told.edge_last)

    def _told(self, move: Move, lead: str) -> Said:
        if move.kind == "line":
            return self._straighten(move)
        if move.kind == "trim":
            return self._trim(move, EDGES[move.axis, move.side])
        if move.kind == "apart":
            apart = f"it comes apart in {len(move.made)}"
            return Said(text=f"{lead}cut {self._place(move).text}; {apart}")
        if move.kind == "spare":
            return self._place(move).after(f"{lead}cut the spare cloth in two, ")
        if not move.plain and not self._own_corner(move):
            edge = EDGES[move.axis, move.side]
            return self._place(move).after(f"{lead}cut off the {edge} part, ")
        return self._taken_off(move).after(f"{lead}cut ")

    def _straighten(self, move: Move) -> Said:
        ends = self._ends(move.cuts[0])
        told = f"cut along the line drawn{ends}"
        if move.rest:
            return Said(text=f"Straighten it first: {told}", edge_last=bool(ends))
        return Said(text=f"{told}; it comes apart")

    def _taken_off(self, move: Move) -> Said:
        """How many are cut off, of which size, from where: ``3 strips 2 1/2 wide from the left edge``."""
        size = self._length(move.size)
        off = self._off(move)
        where = self._where(move)
        if move.kind == "parts" and off[1 - move.axis] < 2 * off[move.axis]:
            return where.after(f"{number_text(len(move.made))} at {size}")
        if slender(off):
            noun = "strip"
        else:
            noun = "part"
        if len(move.made) == 1:
            many = f"a {noun}"
        else:
            many = f"{len(move.made)} {noun}s"
        named = f"{many} {size} {self._direction(move)}{self._across(move)}"
        if self._along_selvage(move):
            return Said(text=f"{named}{where.text} (it runs along the selvage)")
        return where.after(named)

    def _off(self, move: Move) -> tuple[Number, Number]:
        return self.table.size(move.made[0])

    def _direction(self, move: Move) -> Literal["wide", "long"]:
        """What the size is; of a strip that is cut off across a bolt, by how it lies then."""
        off = self._off(move)
        if self._across_bolt(move):
            if slender(off):
                return "wide"
            return "long"
        if off[move.axis] >= 2 * off[1 - move.axis]:
            return "long"
        return "wide"

    def _across(self, move: Move) -> str:
        if self._across_bolt(move):
            return " across the width"
        return ""

    def _across_bolt(self, move: Move) -> bool:
        """Whether a strip is cut off the length, from selvage to selvage."""
        off = self._off(move)
        return move.axis == 1 and self.table.from_bolt(move) and off[0] >= off[1]

    def _along_selvage(self, move: Move) -> bool:
        """Whether a strip is cut off along a selvage."""
        off = self._off(move)
        lies = slender(off) and off[1] >= off[0]
        return move.axis == 0 and self.table.from_bolt(move) and lies

    def _trim(self, move: Move, edge: str) -> Said:
        table = self.table
        size = self._length(move.size, mark=True)
        left = self._length(table.size(move.rest)[move.axis])
        if move.part == self.it:
            noun = "it"
        else:
            noun = self.nouns.get(move.part, "the piece")
        edge_of = self._edge_of(noun, f"{edge} edge")
        if move.mark is not None and move.mark.straight and not move.plain:
            told = f"Trim {noun} to {left}, measured from its {move.mark.name}"
            return Said(text=told, edge_last=True)
        if not move.plain and not self._own_corner(move):
            return self._place(move).after(f"Trim {edge_of}: cut ")
        if move.rest in table.uses:
            end = f"{edge} {'edge' if move.plain else 'corner'}"
            told = f"Trim {noun} to {left}: cut {size} off the {end}"
            return Said(text=told, edge_last=move.plain)
        if not move.plain:
            corner = self._edge_of(noun, f"{edge} corner")
            return self._square(move).after(f"Cut {size} off {corner}, ")
        due = table.due(move.part, move.axis, move.side)
        if due and move.size <= due + INCH:
            how = "Square up"
        else:
            how = "Trim"
        return Said(text=f"{how} {edge_of}: cut {size} from it")

    def _edge_of(self, noun: str, end: str) -> str:
        """An edge or corner of what is called so: ``its left edge``, ``the left edge of strip A``."""
        if noun == "it":
            return f"its {end}"
        if noun == "the piece":
            return f"the {end}"
        return f"the {end} of {noun}"

    def _where(self, move: Move) -> Said:
        """From which edge, where it matters; from a corner where there is no edge to measure from."""
        if self._any_end(move):
            return Said(text="")
        return self._measured(move).after(" from the ")

    def _any_end(self, move: Move) -> bool:
        """Whether it goes without saying from which edge: any end of a bolt or of the rest of it will do."""
        table = self.table
        wide, long = table.size(move.part)
        cut_across = (wide >= 2 * long, long >= 2 * wide)[move.axis]
        # that it is cut across is told by its size
        told = move.kind != "strips" or (
            self._direction(move) == "long" and not self._across_bolt(move)
        )
        named = self.nouns.get(move.part, "the piece") != "the piece"
        clean = table.plain(move.part) and not table.raw(move.part, move.axis, "high")
        from_end = self._across_bolt(move) or (cut_across and told and named)
        return clean and move.side == "low" and from_end

    def _own_corner(self, move: Move) -> bool:
        """Whether the cut is measured from the corner that sticks out at the side where something is taken off."""
        return (
            move.mark is not None
            and move.mark.side == move.side
            and not move.mark.straight
        )

    def _measured(self, move: Move) -> Said:
        """What one measures from: ``left edge``, or ``left corner, the ruler square to the bottom edge``."""
        if move.plain or move.mark is None:
            return Said(text=f"{EDGES[move.axis, move.side]} edge", edge_last=True)
        return self._square(move).after(f"{move.mark.name}, ")

    def _square(self, move: Move) -> Said:
        """How the ruler lies where there is no edge beside the cut."""
        edge = square_to(self.table.parts[move.part], move.axis)
        if edge:
            return Said(text=f"the ruler square to the {edge}", edge_last=True)
        if move.axis == 0:
            lies = "upright"
        else:
            lies = "level"
        return Said(text=f"the ruler {lies} as the piece is drawn")

    def _place(self, move: Move) -> Said:
        """Where a cut goes: ``5 from the left edge``, ``2 1/2 to the right of the left end of the top edge, ...``."""
        mark = move.mark
        if mark is None:
            edge = EDGES[move.axis, move.side]
            far = self._length(move.size)
            return Said(text=f"{far} from the {edge} edge", edge_last=True)
        far = self._length(abs(Fraction(move.at - mark.at)))
        if mark.straight:
            return Said(text=f"{far} from the {mark.name}", edge_last=True)
        if mark.at == move.at:
            return self._square(move).after(f"through the {mark.name}, ")
        if mark.side:
            way = "from"
        else:
            way = _BESIDE[move.axis, move.at > mark.at]
        return self._square(move).after(f"{far} {way} the {mark.name}, ")

    def notes(
        self, move: Move, after: Sequence[CutStep], times: int = 1
    ) -> tuple[str, ...]:
        """What is to be known about a move beside its sentence.

        Parameters
        ----------
        move : Move
        after : sequence of CutStep
            The cuts that come next.
        times : int
            On how many parts stacked upon each other it is done.
        """
        unit = self.table.job.settings.unit
        out = [self._far(move), self._folded(fold_of(self.table, move))]
        if move.mark is not None and not on_ruler(move.at - move.mark.at, unit):
            out.append(_BETWEEN)
        if move.kind in ("apart", "line"):
            out += pieces_apart(self.table, move, self.nouns)
        else:
            out.append(self._gives(move, times))
        out += left_over(self.table, move, after, times)
        return tuple(text for text in out if text)

    def _folded(self, fold: Fold | None) -> str:
        """How to fold, unless it is folded so already; two layers left folded would give parts twice, at wrong places."""
        before = self.last_fold
        self.last_fold = fold
        if fold is None:
            layered = before is not None and before.layers > 1
            if layered:
                return "First unfold what is still folded."
            return ""
        self.layers = max(self.layers, fold.layers)
        if fold == before:
            return "Leave it folded."
        return fold.text

    def _gives(self, move: Move, times: int) -> str:
        """What is ready after the move: ``Gives 4 of square, 2 1/2 x 2 1/2.``"""
        uses = self.table.uses
        made = [name for name in move.made if name in uses]
        if move.kind == "trim" and move.rest in uses:
            made = [move.rest]
        if not made:
            return ""
        given = of_parts(self.table, made, times)
        return f"Gives {given}, {size_text(self.table, made[0])}."

    def _ends(self, cut: CutStep) -> str:
        """``, from ... to ...``: where a straightening cut begins and ends, if that is on straight edges."""
        met = stretches(cut, self.table.parts)
        if not met:
            return ""
        part = self.table.parts[cut.part]
        found = [self._on_edge(part, corner) for corner in (met[0][0], met[-1][1])]
        if all(found):
            return f", from {' to '.join(found)}"
        return ""

    def _on_edge(self, part: Polygon, corner: Point) -> str:
        """Where on a straight edge of a part a point lies; nothing where it lies on none."""
        box = bounds(part)
        for (axis, side), edge in EDGES.items():
            at = box[axis + (2 if side == "high" else 0)]
            if corner[axis] == at and straight_side(part, axis, side):
                other = 1 - axis
                low = min(c[other] for c in part if c[axis] == at)
                far = self._length(corner[other] - low)
                return f"{far} from the {ENDS[other, 'low']} end of the {edge} edge"
        return ""

    def _far(self, move: Move) -> str:
        """How to measure what is longer than mat and ruler, and how much is left at the other side if it is right."""
        if move.mark is None or move.mark.side == "" or len(move.cuts) > 1:
            return ""
        far = abs(Fraction(move.at - move.mark.at))
        settings = self.table.job.settings
        unit = settings.unit
        if far <= settings.longest_cut:
            return ""
        long = self._length(far, mark=True)
        told = f"{long} is more than mat and ruler: measure it with a tape along both edges."
        if not move.plain or not self.table.plain(move.part):
            return told
        box = bounds(self.table.parts[move.part])
        low = move.mark.side == "low"
        if low:
            rest = box[move.axis + 2] - move.at
        else:
            rest = move.at - box[move.axis]
        other = EDGES[move.axis, "high" if low else "low"]
        # by the mark by which the whole is told, so that both add up
        left = rough(rest, unit, mark=True)
        return f"{told} At the {other} edge {left} should be left."
