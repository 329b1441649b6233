"""The sentences for one move of the hands, and the notes below it. Pure words, no page."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Final

from cutopt.draw.spare import usable
from cutopt.draw.views import exact_size, rough, rough_size, stretches
from cutopt.geometry import Number, aside, bounds
from cutopt.lengths import INCH, MM, format_length, so_many
from cutopt.measure import EDGES, on_ruler, square_to, straight_side
from cutopt.moves import Move
from cutopt.pages.moves_of_cuts import Table
from cutopt.plan import CutStep
from cutopt.strips import segment_size

MOST_LAYERS: Final = 4
_BESIDE = {
    (0, True): "to the right of",
    (0, False): "to the left of",
    (1, True): "above",
    (1, False): "below",
}
_BETWEEN = "No mark of the ruler meets it: before you cut, see that what the drawing shows fits on both sides of the ruler."


def and_text(words: Sequence[str]) -> str:
    return words[0] if len(words) == 1 else ", ".join(words[:-1]) + " and " + words[-1]


def number_text(count: int) -> str:
    return "one" if count == 1 else str(count)


def of_row(count: int, key: str) -> str:
    """So many of a wanted row, whatever its name is: ``1 slat``, ``4 of slat``, ``1 segment of binding``."""
    if not key.startswith("strips/"):
        return f"1 {row_name(key)}" if count == 1 else f"{count} of {row_name(key)}"
    return f"{so_many(count, 'segment')} of {row_name(key)}"


def row_name(key: str) -> str:
    return key.partition("/")[2] or key


def spare_text(table: Table, part: str) -> str:
    """What a spare part is good for: ``12 x 7 beside a flaw``."""
    cloth = table.cloth[table.owner[part]]
    return usable(table.job, cloth, table.parts[part]).told(table.job.settings.unit)


def size_text(table: Table, part: str) -> str:
    """A part's size across and along; of a segment as much as a ruler shows, since its length is counted on."""
    if part in table.joined:
        return exact_size(
            *segment_size(table.job, table.uses[part], table.parts[part]),
            table.job.settings.unit,
        )
    return rough_size(*table.size(part), table.job.settings.unit)


def slender(size: tuple[Number, Number]) -> bool:
    """Whether a part looks like a strip: at least twice as long as wide."""
    return max(size) >= 2 * min(size)


def piles(count: int) -> str:
    return "" if count <= MOST_LAYERS else f", at most {MOST_LAYERS} at a time"


def upper(text: str) -> str:
    return text[:1].upper() + text[1:]


def lower(text: str) -> str:
    return text[:1].lower() + text[1:]


@dataclass(slots=True)
class Words:
    """Sentences about the cuts of one source, with what its parts are called."""

    table: Table
    source: str
    nouns: dict[str, str] = field(default_factory=dict)
    it: str = ""
    last_rest: str = ""
    last_fold: str = ""
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
        return "" if noun == "the piece" else f"From {noun} "

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
            self.nouns.setdefault(
                move.rest, f"the rest of {noun.removeprefix('the rest of ')}"
            )
        self.it = move.made[0] if len(move.made) == 1 and move.kind == "strips" else ""
        self.last_rest = move.rest

    def _length(self, ticks: Number, mark: bool = False) -> str:
        """A length as a ruler shows it; one that none shows, to the nearest mark and said to be."""
        unit = self.table.job.settings.unit
        exact, step = (INCH // 64, INCH // 32) if unit == "in" else (MM // 2, MM)
        if Fraction(ticks) % exact == 0:
            return format_length(Fraction(ticks), unit, mark=mark)
        return f"about {format_length(round(Fraction(ticks) / step) * step, unit, mark=mark)}"

    def _rough(self, ticks: Number) -> str:
        return rough(ticks, self.table.job.settings.unit)

    def sentence(self, move: Move, lead: str) -> str:
        edge = EDGES[move.axis, move.side]
        size = self._length(move.size)
        if move.kind == "line":
            told = f"cut along the line drawn{self._ends(move.cuts[0])}"
            return (
                f"Straighten it first: {told}."
                if move.rest
                else upper(f"{told}; it comes apart.")
            )
        if move.kind == "trim":
            return self._trim(move, edge)
        if move.kind == "apart":
            return upper(
                f"{lead}cut {self._place(move)}; it comes apart in {len(move.made)}."
            )
        if move.kind == "spare":
            return upper(f"{lead}cut the spare cloth in two, {self._place(move)}.")
        if not move.plain and not self._own_corner(move):
            return upper(f"{lead}cut off the {edge} part, {self._place(move)}.")
        off = self._off(move)
        if move.kind == "parts" and off[1 - move.axis] < 2 * off[move.axis]:
            return upper(
                f"{lead}cut {number_text(len(move.made))} at {size}{self._where(move)}."
            )
        noun = "strip" if slender(off) else "part"
        many = f"a {noun}" if len(move.made) == 1 else f"{len(move.made)} {noun}s"
        return upper(
            f"{lead}cut {many} {size}{self._direction(move)}{self._where(move)}{self._runs(move)}."
        )

    def _off(self, move: Move) -> tuple[Number, Number]:
        return self.table.size(move.made[0])

    def _bolt(self, move: Move) -> bool:
        """Whether the cut runs from end to end of cloth from the bolt."""
        source = self.table.sources[self.source]
        whole = (
            self.table.size(move.part)[1 - move.axis]
            == self.table.size(self.source)[1 - move.axis]
        )
        return bool(source.bought) and not source.by_piece and whole

    def _direction(self, move: Move) -> str:
        """What the size is: ``wide``, or ``long``; of a strip from the bolt also how it lies."""
        off = self._off(move)
        if self._across_bolt(move):
            return (
                " wide across the width" if slender(off) else " long across the width"
            )
        return " long" if off[move.axis] >= 2 * off[1 - move.axis] else " wide"

    def _across_bolt(self, move: Move) -> bool:
        """Whether a strip is cut off the length, from selvage to selvage."""
        off = self._off(move)
        return move.axis == 1 and self._bolt(move) and off[0] >= off[1]

    def _runs(self, move: Move) -> str:
        """How a strip lies that is cut off along a selvage."""
        off = self._off(move)
        along = (
            move.axis == 0 and self._bolt(move) and slender(off) and off[1] >= off[0]
        )
        return " (it runs along the selvage)" if along else ""

    def _trim(self, move: Move, edge: str) -> str:
        table = self.table
        size = self._length(move.size, mark=True)
        left = self._length(table.size(move.rest)[move.axis])
        noun = "it" if move.part == self.it else self.nouns.get(move.part, "the piece")
        edge_of = {"it": f"its {edge} edge", "the piece": f"the {edge} edge"}.get(
            noun, f"the {edge} edge of {noun}"
        )
        if move.mark is not None and move.mark.straight and not move.plain:
            return f"Trim {noun} to {left}, measured from its {move.mark.name}."
        if not move.plain and not self._own_corner(move):
            return f"Trim {edge_of}: cut {self._place(move)}."
        if move.rest in table.uses:
            return f"Trim {noun} to {left}: cut {size} off the {edge} {'edge' if move.plain else 'corner'}."
        if not move.plain:
            corner = edge_of.replace(f"{edge} edge", f"{edge} corner", 1)
            return f"Cut {size} off {corner}, {self._square(move)}."
        due = table.due(move.part, move.axis, move.side)
        if due and move.size <= due + INCH:
            return f"Square up {edge_of}: cut {size} from it."
        return f"Trim {edge_of}: cut {size} from it."

    def _where(self, move: Move) -> str:
        """From which edge, where it matters; from a corner where there is no edge to measure from."""
        table = self.table
        wide, long = table.size(move.part)
        across = (wide >= 2 * long, long >= 2 * wide)[
            move.axis
        ]  # a strip that is cut across
        bolt = self._across_bolt(move)
        told = (
            move.kind != "strips" or self._direction(move) == " long"
        )  # that it is cut across, by its size
        from_rest = (
            across and told and self.nouns.get(move.part, "the piece") != "the piece"
        )
        clean = table.plain(move.part) and not table.raw(move.part, move.axis, "high")
        if clean and move.side == "low" and (bolt or from_rest):
            return ""
        return f" from the {self._measured(move)}"

    def _own_corner(self, move: Move) -> bool:
        """Whether the cut is measured from the corner that sticks out at the side where something is taken off."""
        return (
            move.mark is not None
            and move.mark.side == move.side
            and not move.mark.straight
        )

    def _measured(self, move: Move) -> str:
        """What one measures from: ``left edge``, or ``left corner, the ruler square to the bottom edge``."""
        if move.plain or move.mark is None:
            return f"{EDGES[move.axis, move.side]} edge"
        return f"{move.mark.name}, {self._square(move)}"

    def _square(self, move: Move) -> str:
        """How the ruler lies where there is no edge beside the cut."""
        edge = square_to(self.table.parts[move.part], move.axis)
        if edge:
            return f"the ruler square to the {edge}"
        return f"the ruler {'upright' if move.axis == 0 else 'level'} as the piece is drawn"

    def _place(self, move: Move) -> str:
        """Where a cut goes: ``5 from the left edge``, ``2 1/2 to the right of the left end of the top edge, ...``."""
        mark = move.mark
        if mark is None:
            return (
                f"{self._length(move.size)} from the {EDGES[move.axis, move.side]} edge"
            )
        far = self._length(abs(Fraction(move.at - mark.at)))
        if mark.straight:
            return f"{far} from the {mark.name}"
        if mark.at == move.at:
            return f"through the {mark.name}, {self._square(move)}"
        way = "from" if mark.side else _BESIDE[move.axis, move.at > mark.at]
        return f"{far} {way} the {mark.name}, {self._square(move)}"

    def notes(
        self, move: Move, after: Sequence[CutStep], times: int = 1
    ) -> tuple[str, ...]:
        table = self.table
        out = []
        far = self._far(move)
        if far:
            out.append(far)
        fold = self._fold(move)
        if fold:
            out.append("Leave it folded." if fold == self.last_fold else fold)
            self.layers = max(
                self.layers, 4 if "once more" in fold else 2 if "in half" in fold else 1
            )
        elif (
            "fold in half" in self.last_fold
        ):  # two layers would give twice as many parts, at the wrong places
            out.append("First unfold what is still folded.")
        self.last_fold = fold
        if move.mark is not None and not on_ruler(
            move.at - move.mark.at, table.job.settings.unit
        ):
            out.append(_BETWEEN)
        made = [name for name in move.made if name in table.uses]
        if move.kind == "trim" and move.rest in table.uses:
            made = [move.rest]
        if made and move.kind not in ("apart", "line"):
            given = of_row(times * len(made), table.uses[made[0]].for_)
            out.append(f"Gives {given}, {size_text(table, made[0])}.")
        if move.kind in ("apart", "line"):
            out += self._pieces_apart(move)
        out += self._left(move, after, times)
        return tuple(out)

    def _pieces_apart(self, move: Move) -> list[str]:
        """What becomes of the pieces that a cut gives, side by side."""
        sides: dict[str, list[str]] = {}
        for name in move.made:
            sides.setdefault(self._side(move, name), []).append(name)
        return [
            text
            for side, names in sides.items()
            for text in self._pieces_of(move, side, names)
        ]

    def _side(self, move: Move, name: str) -> str:
        """On which side of a cut a piece lies."""
        corners = self.table.parts[name]
        line = move.cuts[0].line
        if line is None:
            return EDGES[
                move.axis, "low" if bounds(corners)[move.axis] < move.at else "high"
            ].capitalize()
        right = max(aside(line, corner)[0] for corner in corners) > 0
        away = (
            line[1][1] > line[0][1]
        ) == right  # of a line drawn from the top down, left and right change
        return f"{'Right' if away else 'Left'} of the line"

    def _pieces_of(self, move: Move, side: str, names: Sequence[str]) -> list[str]:
        """The pieces on one side of a cut; several are numbered, unless all of them are scrap."""
        if len(names) == 1 or move.kind == "line":
            return [f"{side}: {self._becomes(name)}." for name in names]
        if all(self.table.fate(name)[0] == "scrap" for name in names):
            return [
                f"{side}: {'both' if len(names) == 2 else f'all {len(names)}'} are scrap."
            ]
        other = 1 - move.axis
        order = sorted(names, key=lambda name: bounds(self.table.parts[name])[other])
        end = EDGES[other, "low"]
        return [
            f"{side}, number {order.index(name) + 1} from the {end}: {self._becomes(name)}."
            for name in names
        ]

    def _becomes(self, name: str) -> str:
        fate = self.table.fate(name)
        size = size_text(self.table, name)
        if fate[0] == "use":
            return f"{of_row(1, fate[1])}, {size}"
        if fate[0] == "keep":
            return f"spare, {spare_text(self.table, name)}, keep it"
        return "scrap" if fate[0] == "scrap" else self.nouns[name]

    def _ends(self, cut: CutStep) -> str:
        """``, from ... to ...``: where a straightening cut begins and ends, if that is on straight edges."""
        part = self.table.parts[cut.part]
        found = []
        met = stretches(cut, self.table.parts)
        for corner in (met[0][0], met[-1][1]) if met else ():
            for (axis, side), edge in EDGES.items():
                box = bounds(part)
                other = 1 - axis
                if corner[axis] == box[
                    axis + (2 if side == "high" else 0)
                ] and straight_side(part, axis, side):
                    ends = sorted(c[other] for c in part if c[axis] == corner[axis])
                    low = EDGES[other, "low"].replace("bottom", "lower")
                    found.append(
                        f"{self._length(corner[other] - ends[0])} from the {low} end of the {edge} edge"
                    )
                    break
        return f", from {' to '.join(found)}" if len(found) == 2 else ""

    def _left(self, move: Move, after: Sequence[CutStep], times: int) -> list[str]:
        """What becomes of the rest, and of what is cut off only to be kept."""
        table = self.table
        if move.kind == "trim" or (move.kind == "line" and move.rest):
            off = next((name for name in move.cuts[0].gives if name != move.rest), "")
            return (
                [f"What you cut off, {spare_text(table, off)}, is spare: keep it."]
                if off in table.keep
                else []
            )
        if move.kind in ("apart", "line") or not move.rest:
            return []
        rests = "What is left" if times == 1 else "What is left of each"
        fate = table.fate(move.rest)
        if fate[0] == "use":
            return [f"{rests} is {of_row(1, fate[1])}, {size_text(table, move.rest)}."]
        if fate[0] == "keep":
            return [f"{rests}, {spare_text(table, move.rest)}, is spare: keep it."]
        if fate[0] == "scrap":
            return [f"{rests} is scrap."]
        return [] if after and after[0].part == move.rest else ["Lay the rest aside."]

    def _far(self, move: Move) -> str:
        """How to measure what is longer than mat and ruler, and how much is left at the other side if it is right."""
        if move.mark is None or move.mark.side == "" or len(move.cuts) > 1:
            return ""
        far = abs(Fraction(move.at - move.mark.at))
        box = bounds(self.table.parts[move.part])
        if far <= self.table.job.settings.longest_cut:
            return ""
        told = f"{self._length(far, mark=True)} is more than mat and ruler: measure it with a tape along both edges."
        if not move.plain or not self.table.plain(move.part):
            return told
        low = move.mark.side == "low"
        rest = box[move.axis + 2] - move.at if low else move.at - box[move.axis]
        other = EDGES[move.axis, "high" if low else "low"]
        return f"{told} At the {other} edge {self._length(rest, mark=True)} should be left."

    def _fold(self, move: Move) -> str:
        """How to fold where a cut is longer than mat and ruler; in stretches where folding does not help."""
        longest = self.table.job.settings.longest_cut
        long = max(map(self.table.long, move.cuts))
        if long <= longest:
            return ""
        told = f"This cut is {self._rough(long)} long"
        slide = "slide the cloth on and lay the ruler on the edge just cut"
        if move.kind == "line" or not self.table.plain(move.part):
            return f"{told}: cut at most {self._length(longest)} at a time, {slide}."
        half = Fraction(long) / 2
        quarter = Fraction(long) / 4
        bolt = move.axis == 1 and self._bolt(
            move
        )  # a part cut off across has lost a selvage
        how = "selvage to selvage" if bolt else "the ends on each other"
        if half <= longest:
            return f"{told}: fold in half, {how}, {self._rough(long)} to {self._rough(half)}."
        folded = f"fold in half, {how}, and once more, {self._rough(long)} to {self._rough(quarter)}"
        if quarter <= longest:
            return f"{told}: {folded}."
        return f"{told}: {folded}; then cut at most {self._length(longest)} at a time, {slide}."
