"""The choices on which quilters disagree, each a setting with a stated default, per job.

Defaults are common practice and have no source, unless a line says otherwise. Lengths are ticks.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, fields
from fractions import Fraction
from typing import Literal, TypeAlias

from cutopt.errors import Problem
from cutopt.fabric import USABLE_WIDTH, one_of
from cutopt.lengths import CM, INCH, METRE, MM, UNITS, YARD, format_length, parse_length
from cutopt.quilt.surds import ROOT2, Exact, Number, ceil_to, decimals, exact
from cutopt.settings import Settings

Length: TypeAlias = str | Number
Base: TypeAlias = Literal["raw top", "trimmed", "finished"]
Triangles: TypeAlias = Literal["exact", "rule", "oversize"]
_WORDS: dict[str, tuple[str, ...]] = {
    "unit": ("in", "cm"),
    "triangles": ("exact", "rule", "oversize"),
    "setting_triangles": ("exact", "rule"),
    "overage_from": ("raw top", "trimmed", "finished"),
    "machine": ("longarm", "domestic", "small"),
    "binding_from": ("raw top", "trimmed", "finished"),
    "binding_fold": ("double", "single"),
    "binding_cut": ("straight", "bias", "bias strips"),
    "binding_finish": ("hand", "machine"),
    "binding_join": ("diagonal", "straight", "pre-cut"),
    "border_corner": ("sides first", "ends first", "mitred", "corner squares"),
    "border_cut": ("joined", "in one piece", "lengthwise"),
    "border_join": ("straight", "diagonal"),
    "back_run": ("any", "up", "across"),
    "back_middle": ("allowed", "never"),
    "back_insert": ("allowed", "never"),
    "back_seams": ("allowed", "never"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Conventions:
    """How this maker does it.

    Parameters
    ----------
    grid : int
        A cut size that no mark of the ruler meets is rounded up to this, once (1/8 in).
    ruler : int
        The finest marks of the ruler: a size that meets one is cut as it is (1/16 in).
    seam, back_seam : int
        Seam of the top (1/4 in) and of a pieced backing (1/2 in).
    triangles : {"exact", "rule", "oversize"}
        Half- and quarter-square triangles: the exact allowance, (2 + √2) and (2 + 2√2) seams; the rule of thumb
        (`rule_half`, `rule_quarter`: 7/8 and 1 1/4 in); or larger and trimmed (`over_half`, `over_quarter`: 1 and
        1 1/2 in). Always rounded up once, from the exact size.
    setting_triangles : {"exact", "rule"}
        The same for the triangles round an on-point quilt; `float_by` (0) is added to both squares, so that the
        blocks float and the edge can be trimmed.
    back_overage : int or None
        What a backing needs beyond the top on each side; None for 4 in where a longarm quilts, 2 in elsewhere.
        `back_overage_ends` is the same at top and bottom, None for the same as at the sides.
    back_run : {"any", "up", "across"}
        How the seams of a backing may run; across is easier on many frames, up is traditional.
    back_middle, back_insert : {"allowed", "never"}
        Whether a seam may lie in the middle of a backing, and whether it may have an insert of other cloth.
    back_seams : {"allowed", "never"}
        Whether a backing may have seams at all, where some cloth is wide enough for one without.
    overage_from : {"raw top", "trimmed", "finished"}
        The size to which the overage is added.
    batting_overage : int or None
        The same for batting; None for as much as the backing.
    binding_width : int
        Width of a binding strip as cut (2 1/2 in), with `binding_allowance` (10 in) for closing and handling,
        measured round the trimmed quilt; `binding_shortest` is the shortest segment of a scrappy one (8 in).
    tube_step : int
        The square for a continuous bias binding is rounded up to this (1 in).
    mitre_extra : int
        Beyond the exact length of a mitred border (2 in).
    usable_width : int
        Of fabric from the bolt (42 in): in a job that of the narrowest row of the shop. Only the strips of strip sets
        are made to it; whatever may be joined is joined where the cloth at hand ends.
    sold_by, smallest_sale, extra : int
        Step of a purchase by length (1/8 yd), least sale (0) and what is added before rounding (0).
    square_up_end : int
        Lost at each of the two ends of a length from the shop (1/2 in).
    tight : int
        A fit with less to spare than this is called tight (1/4 in).
    seam_clear : int
        A backing seam nearer than this to a long seam of the top lies under it (1 in).
    batting_tolerance : int
        Packaged batting may be this much smaller than it says (1 in).
    spares : int
        Extra of each small piece (0).
    """

    unit: Literal["in", "cm"] = "in"
    grid: int = INCH // 8
    ruler: int = INCH // 16
    seam: int = INCH // 4
    back_seam: int = INCH // 2
    triangles: Triangles = "exact"
    rule_half: int = 7 * INCH // 8
    rule_quarter: int = 5 * INCH // 4
    over_half: int = INCH
    over_quarter: int = 3 * INCH // 2
    setting_triangles: Literal["exact", "rule"] = "exact"
    float_by: int = 0
    machine: Literal["longarm", "domestic", "small"] = "domestic"
    back_overage: int | None = None
    back_overage_ends: int | None = None
    back_run: Literal["any", "up", "across"] = "any"
    back_middle: Literal["allowed", "never"] = "allowed"
    back_insert: Literal["allowed", "never"] = "allowed"
    back_seams: Literal["allowed", "never"] = "allowed"
    overage_from: Base = "raw top"
    batting_overage: int | None = None
    binding_width: int = 5 * INCH // 2
    binding_allowance: int = 10 * INCH
    binding_from: Base = "trimmed"
    binding_fold: Literal["double", "single"] = "double"
    binding_cut: Literal["straight", "bias", "bias strips"] = "straight"
    binding_finish: Literal["hand", "machine"] = "hand"
    binding_join: Literal["diagonal", "straight", "pre-cut"] = "diagonal"
    binding_shortest: int = 8 * INCH
    tube_step: int = INCH
    border_corner: Literal["sides first", "ends first", "mitred", "corner squares"] = (
        "sides first"
    )
    border_cut: Literal["joined", "in one piece", "lengthwise"] = "joined"
    border_join: Literal["straight", "diagonal"] = "straight"
    border_shortest: int = 8 * INCH
    mitre_extra: int = 2 * INCH
    usable_width: int = USABLE_WIDTH["in"]
    sold_by: int = YARD // 8
    smallest_sale: int = 0
    extra: int = 0
    square_up_end: int = INCH // 2
    tight: int = INCH // 4
    seam_clear: int = INCH
    batting_tolerance: int = INCH
    spares: int = 0

    def __post_init__(self) -> None:
        for field, words in _WORDS.items():
            one_of(field, getattr(self, field), words)
        for each in fields(self):
            value = getattr(self, each.name)
            if isinstance(value, int) and not 0 <= value <= 100 * METRE:
                raise Problem(
                    each.name, "the size makes no sense", "write a length, 0 or more"
                )
        for name in (
            "grid",
            "ruler",
            "sold_by",
            "usable_width",
            "binding_width",
            "tube_step",
        ):
            if getattr(self, name) <= 0:
                raise Problem(name, "it is nothing", "write a length above 0")
        if self.triangles == "rule" or self.setting_triangles == "rule":
            self._not_below("rule_half", "rule_quarter")
        if self.triangles == "oversize":
            self._not_below("over_half", "over_quarter")

    def _not_below(self, half: str, quarter: str) -> None:
        """An allowance below the exact one makes units that come out short."""
        for field, least in ((half, self.exact_half), (quarter, self.exact_quarter)):
            if getattr(self, field) < least:
                what = f"{self.show(getattr(self, field))} is short of the {self.show(least)} that this seam needs"
                raise Problem(
                    field, what, f"write {self.show(self.cut_size(least))} or more"
                )

    @classmethod
    def metric(cls) -> Conventions:
        """The defaults of a metric job: round figures near the inch ones; triangle rules that do not fall short.

        The usual metric rule of thumb at a seam of 0.75 cm, + 2.5 and + 3.5 cm, is 0.6 and 1.2 mm short.
        """
        return cls(
            unit="cm",
            grid=MM,
            ruler=MM,
            seam=15 * MM // 2,
            back_seam=15 * MM,
            rule_half=26 * MM,
            rule_quarter=37 * MM,
            over_half=3 * CM,
            over_quarter=45 * MM,
            back_overage=None,
            binding_width=65 * MM,
            binding_allowance=25 * CM,
            binding_shortest=20 * CM,
            tube_step=CM,
            border_shortest=20 * CM,
            mitre_extra=5 * CM,
            usable_width=USABLE_WIDTH["cm"],
            sold_by=10 * CM,
            square_up_end=15 * MM,
            tight=5 * MM,
            batting_tolerance=25 * MM,
            seam_clear=25 * MM,
        )

    @classmethod
    def of(cls, settings: Settings) -> Conventions:
        """The defaults for a job, with the unit, seam, grid, square-up and extra that it already states."""
        if settings.unit == "in":
            base = cls()
        else:
            base = cls.metric()
        # cut sizes may be finer than the grid on which offcuts are cut
        grid = min(settings.grid, base.grid)
        ends = {"square_up_end": settings.square_up_end, "extra": settings.extra}
        stated = {"seam": settings.seam, "grid": grid} | ends
        kept = {each.name: getattr(base, each.name) for each in fields(cls)} | stated
        kept["ruler"] = min(base.ruler, grid)
        return cls(**kept)

    @property
    def exact_half(self) -> Exact:
        """Added to the finished side of a half-square triangle: (2 + √2) seams (arithmetic identity).

        A right isosceles triangle of leg f has inradius f(2 - √2)/2; a seam s all round adds s to the inradius.
        """
        return (2 + ROOT2) * self.seam

    @property
    def exact_quarter(self) -> Exact:
        """Added to the finished long side of a quarter-square triangle: √2 times the half-square one."""
        return (2 + 2 * ROOT2) * self.seam

    @property
    def overage(self) -> tuple[int, int]:
        """What a backing needs beyond the top on each side, and at each end."""
        usual = {"longarm": 4, "domestic": 2, "small": 2}[self.machine]
        sides = self.back_overage
        if sides is None:
            if self.unit == "in":
                sides = usual * INCH
            else:
                sides = usual * 5 * CM // 2
        return (
            sides,
            sides if self.back_overage_ends is None else self.back_overage_ends,
        )

    def read(self, length: Length, field: str = "length") -> Exact:
        """A length as typed ("2 1/2", in the unit of the job) or in ticks, exactly.

        Raises
        ------
        Problem
            Where it is no length, below 0, or a bare number that is next to nothing in ticks.
        """
        if isinstance(length, str):
            return exact(parse_length(length, self.unit, field=field, zero=True))
        if 0 < length < INCH // 16:
            raise Problem(
                field,
                f"{float(length):g} ticks is next to nothing",
                'write a length as text, "2 1/2"',
            )
        if length < 0:
            raise Problem(field, "it is below 0", "write a length, 0 or more")
        return exact(length)

    def usual(
        self,
        length: Length | None,
        inches: str,
        centimetres: str,
        field: str = "length",
    ) -> Exact:
        """A length as given; where none is, the usual one, a round figure in the unit of the job.

        Parameters
        ----------
        length : as given, or None
        inches, centimetres : the usual one, as typed in either unit
        field : named in a problem
        """
        if length is not None:
            return self.read(length, field)
        return self.read(f"{inches} in" if self.unit == "in" else f"{centimetres} cm")

    def cut_size(self, needed: Number) -> int:
        """The size to cut: as it is where the ruler has a mark for it, else up to the grid. Never down."""
        on_a_mark = ceil_to(needed, self.ruler)
        if on_a_mark == needed:
            return int(on_a_mark.plain)
        return int(ceil_to(needed, self.grid).plain)

    def show(self, length: Number) -> str:
        """A length as a ruler shows it, or with two decimals (more where they are needed to tell it from one)."""
        value = exact(length)
        if value.is_plain:
            text = format_length(value.plain, self.unit)
            if not text.startswith("≈"):
                return text
        scaled = value / UNITS[self.unit]
        near = exact(ceil_to(scaled, Fraction(1, 8)) - Fraction(1, 8))
        places = next(
            (n for n in (2, 3, 4) if decimals(scaled, n) != decimals(near, n)), 5
        )
        return decimals(scaled, places)

    def near(self, length: Number) -> str:
        """A length as a ruler shows it: at the nearest mark where it lies on none."""
        value = exact(length)
        if value.is_plain and not (
            text := format_length(value.plain, self.unit)
        ).startswith("≈"):
            return text
        return self.show((value / self.ruler + Fraction(1, 2)).__floor__() * self.ruler)

    def least(self, length: Number) -> str:
        """What is needed at least, as a ruler shows it: up to a mark."""
        return self.show(ceil_to(length, self.ruler))

    def room(self, length: Number) -> str:
        """What is left, as a ruler shows it: down to a mark; less than the first is no length to count on."""
        marks = (exact(length) / self.ruler).__floor__()
        if length > 0 and not marks:
            return f"under {self.show(self.ruler)}"
        return self.show(marks * self.ruler)

    def size(
        self, width: Number, length: Number, show: Callable[[Number], str] | None = None
    ) -> str:
        """``58 x 66`` in the unit of the job, each side shown as :meth:`show` or another way does it.

        Parameters
        ----------
        width, length : ticks
        show : how a side is written, :meth:`show` where nothing is said
        """
        show = show or self.show
        return f"{show(width)} x {show(length)}"


DEFAULT = Conventions()
