"""Cautions in a maker's words, each with where it comes from; local rules and licensed practice come first.

A publication is named for what it says. What makers do beside it stands in a sentence of its own, marked common
practice, no source; what nobody here has seen while writing is marked from memory. Each stands where it is needed: at
the cutter, on the page of the quilt, on the label, on the wash card, or as one line in the terminal.
"""

from __future__ import annotations

from typing import Final

PRACTICE: Final = "common practice, no source"
INFANT: Final = (
    "never for sleep: under 12 months a baby sleeps on a bare, firm, flat surface with no quilt, blanket, pillow or "
    "bumper. For floor play while watched, or the wall; say so on the label (American Academy of Pediatrics, "
    "Sleep-Related Infant Deaths: Updated 2022 Recommendations, Pediatrics 150(1))"
)
COT_QUILT: Final = (
    "a quilt in the size of a cot is for the floor, awake and watched, or for the wall, and never for sleep under 12 "
    "months (American Academy of Pediatrics, 2022)"
)
SMALL_PARTS: Final = (
    "no buttons, beads, snaps or other small parts for children under 3 (16 CFR 1501.1 to 1501.4). Count pins and needles, "
    f"and go over it with a magnet ({PRACTICE})"
)
WHEELS: Final = (
    "keep corners, ties and loose edges out of spokes and casters: measure the person seated in the chair, keep it "
    f"short and narrow, round the corners ({PRACTICE}). Ask the carers first"
)
TIES: Final = (
    "no ties: round a person they may count as a restraint, on which nursing homes have rules (a nurse's remark; 42 CFR "
    "483, from memory)"
)
WARD: Final = (
    "the rules of the ward come first: ask before you make it. Expect a hot wash (above 160 F / 71 C for 25 minutes), or "
    "one of low heat with a chlorine rinse (125 ppm): try shrinkage and bleeding of the colours in both (CMS State "
    "Operations Manual, long-term-care surveyor guidance)"
)
GIVEN: Final = (
    "wash it before giving, fragrance free, and keep it from smoke and pets; count pins and needles, go over it with a "
    f"magnet, and give it in a clean sealed bag ({PRACTICE})"
)
YOUNG: Final = (
    "Young people cut only with an adult beside them (Univ. of Kentucky Cooperative Extension, 4-H Needlework: Quilting, "
    "4JF-12PB, 2011)."
)
BLADE: Final = (
    "Close the guard every time you lay the cutter down. Cut away from your body, keep your fingers clear of the edge, "
    "wear shoes. Change a dull blade: it skips, and slips where you press harder."
)
SHARP: Final = (
    "slanted cuts end in sharp points: keep your fingers well behind the edge of the ruler, and close the guard before "
    f"you turn strip or ruler ({PRACTICE})"
)
FUSING: Final = (
    "shirts: fuse before you trim, as knitted cloth stretches. Interfacing never reaches past the shirt, or it sticks to "
    f"iron and board; press from the wrong side, and never on a printed picture ({PRACTICE})"
)
BLEEDING: Final = (
    "Before you cut: press a damp white cloth on reds, navies and batiks. Where colour comes off, wash first "
    f"({PRACTICE})."
)


def of_use(name: str) -> str:
    """The one line for a terminal that fits a use; that of the blade where none was said, or no other is known.

    Parameters
    ----------
    name : of the use, "" where nothing was said
    """
    return _LINES.get(name, _AT_THE_CUTTER)


_AT_THE_CUTTER: Final = "Close the guard at every lay-down; a dull blade slips. Young people cut only with an adult beside them."
_ASLEEP: Final = "Never for sleep under 12 months: for the floor, watched, or the wall (American Academy of Pediatrics, 2022)."
_LINES: Final = {
    "baby": _ASLEEP,
    "cot": _ASLEEP,
    "ward": "Ask the ward before you cut: its rules come first. Try the cloth in a hot wash and with chlorine.",
    "chair with wheels": "Measure the person seated in the chair. Nothing may reach spokes or casters; no ties.",
}
