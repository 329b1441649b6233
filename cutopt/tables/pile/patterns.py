"""What of a line is found by its signs and figures: sizes, lengths, missing corners, and how many in brackets."""

from __future__ import annotations

import re
from typing import Final

from cutopt.lengths import NUMBER_WORDS, UNIT_WORDS
from cutopt.tables.pile.said_lengths import LENGTH, SHARE_WORDS, SIDE

TIMES: Final = r"\s*(?:[x×*✕]|by\b(?:\s+the\b)?)\s*"
ENDS: Final = r"(?=\s|[,;:)]|[.!]?$|[.!]\s)"
_ALONG: Final = r"long|length(?!\s+of\b)|along|tall|high|deep|l"
_ACROSS: Final = r"along\s+the\s+(?:bottom|top)|wide|width(?!\s+of\b)|across|w"
# 20 long, 20 along the selvage, 6"W
_WAY_SAID: Final = rf"(?:\s*-?\s*(?:in\s+)?({_ACROSS}|{_ALONG})\b(?:\s+the\s+(?:selv(?:age|edge)|grain))?)"
_A_SIDE: Final = rf"({SIDE}){_WAY_SAID}?"
_SIGN: Final = r"([~≈]\s*)?"
_ABOUT: Final = r"((?:about\b|around\b|roughly\b|approx\b\.?|maybe\b|[~≈])\s*)?"


def _pattern(text: str) -> re.Pattern[str]:
    return re.compile(text + ENDS, re.IGNORECASE)


QUOTED: Final = re.compile(r'"((?:[^"]|"")+)"(?=\s|,|$)')
SIZE: Final = _pattern(_SIGN + _A_SIDE + TIMES + _ABOUT + _A_SIDE)
"""A size: groups are sign, side, way, sign, side, way."""
ONE_SIDE: Final = _pattern(rf"(?:(?:and|by)\s+)?({LENGTH}){_WAY_SAID}")
"""``6 wide``, wherever the other side stands."""
USABLE_WIDTH: Final = _pattern(rf"({LENGTH})\s+usable(?:\s+width)?")
"""``43 in usable``, of a length from the bolt."""
NAMED_SIDE: Final = _pattern(rf"(width|length)\s*(?:of|is|=|:)?\s*({LENGTH})")
LONE: Final = _pattern(rf"{_SIGN}({LENGTH})")
_WIDTH: Final = (
    r"(?:(?:full\s+)?width[\s-]of[\s-](?:the[\s-])?(?:fabric|cloth|bolt)"
    r"|(?:the\s+)?(?:full|fabric|bolt)[\s-]width(?:\s+of\s+(?:the\s+)?fabric)?"
    r"|wof|selv(?:age|edge)\s+to\s+selv(?:age|edge))"
)
WIDTH_OF_FABRIC: Final = _pattern(rf"(?:(?:across|over)\s+the\s+)?{_WIDTH}")
ACROSS: Final = _pattern(
    rf"({SIDE})(?:\s*(?:wide|w)\b)?{TIMES}(half\s+(?:the\s+)?)?{_WIDTH}"
)
"""``2 1/2 x WOF``: a strip from selvage to selvage."""
ACROSS_FIRST: Final = _pattern(rf"(half\s+(?:the\s+)?)?{_WIDTH}{TIMES}({SIDE})")
# 2x rose, 2 x rose: so many times
TIMES_IN_FRONT: Final = re.compile(r"(\d+)\s*[x×]\s+(?=[^\W\d]|\")", re.IGNORECASE)
# behind the rest: navy 5 x 5 (4), navy 5 x 5 (x4), navy 5 x 5 x4
IN_BRACKETS: Final = _pattern(
    r"\((?:[x×]\s*)?(\d+)\s*(?:[x×]|of(?:\s+(?:them|these))?|off)?\)"
)
TIMES_BEHIND: Final = _pattern(r"[x×](\d+)")
# 2" squares x 32
TIMES_APART: Final = _pattern(r"[x×]\s+(\d+)")
GLUED: Final = _pattern(r"(\d+)([a-z.]+)")
"""``2pcs``: a number and a word."""
NOMINAL_WIDTH: Final = _pattern(
    r"4\d\s*/\s*4\d(?:\s*(?:\"|″|''|in\b\.?|inch(?:es)?\b))?(?:[\s-]*wide)?"
)
"""``44/45``, the width of a bolt with its selvages, as shops tell it."""
# 5 yds @ 44"
AT_WIDTH: Final = _pattern(rf"(?:@|at)\s*({SIDE})")
# a fat 1/4, said in figures
FAT: Final = _pattern(r"fat[\s-]+(1/4|¼|1/8|⅛)(?:'?s|\s?ths?)?")

CORNER: Final = r"(?:top|upper|bottom|lower)[\s-]+(?:left|right)"
_OUT: Final = r"(?:cut|missing|gone|taken|torn|off|out|away|removed)"
_BITE: Final = r"(?:notch|bite|nick|cut[\s-]?out)"
_PART: Final = r"(?:piece|bit|square|rectangle|chunk)"
_LEAD: Final = r"(?:with|but|has|minus|missing|less|without|except(?:\s+for)?)"
_NOT_ONE: Final = r"(?!(?:one|a|an|the)\s+(?:corner|notch|bite))"
# two sides, or one of a square
_HOW_LARGE: Final = (
    rf"(?:(?:an?|the|one)\s+)?{_NOT_ONE}"
    rf"(?:(?P<across>{SIDE}){TIMES}(?P<along>{SIDE})|(?P<both>{SIDE}))"
)
_FROM_CORNER: Final = (
    r"(?:\s+(?:(?:of|from|at|in)\s+)?(?:(?:the|one|a)\s+)?"
    rf"(?:(?P<behind>{CORNER})(?:\s+corner)?|corner|end))?"
)
_SAID_BEFORE: Final = rf"(?:(?P<before>{CORNER})\s+)?"
_IS_OUT: Final = rf"(?:\s+(?:is|was|has\s+been))?\s+{_OUT}(?:\s+{_OUT})?"
LESS: Final = (
    # less 7 x 4 top left
    _pattern(
        rf"less\s+(?P<across>{SIDE}){TIMES}(?P<along>{SIDE})(?:\s+(?P<behind>{CORNER})(?:\s+corner)?)?"
    ),
    # a 7 x 4 corner cut out of the top left
    _pattern(
        rf"(?:(?:{_LEAD}|and)\s+)?{_HOW_LARGE}\s+{_SAID_BEFORE}(?:corner|{_BITE}){_IS_OUT}{_FROM_CORNER}"
    ),
    # with a 7 x 4 piece cut from the top left
    _pattern(rf"{_LEAD}\s+{_HOW_LARGE}\s+{_SAID_BEFORE}{_PART}{_IS_OUT}{_FROM_CORNER}"),
    # minus a 3 x 3 corner, with a 3 x 3 notch in the top left corner
    _pattern(
        rf"(?:but\s+)?{_LEAD}\s+{_HOW_LARGE}\s+{_SAID_BEFORE}(?:corner|{_BITE}){_FROM_CORNER}"
    ),
    # less a 5 inch square from one corner
    _pattern(
        rf"{_LEAD}\s+{_HOW_LARGE}\s+{_PART}\s+(?:of|from|at|in|out\s+of)\s+(?:the|one|a)\s+"
        rf"(?:(?P<behind>{CORNER})\s+)?corner"
    ),
    # with 8 x 6 gone
    _pattern(
        rf"(?:with|but)\s+(?:an?\s+)?(?P<across>{SIDE}){TIMES}(?P<along>{SIDE})\s+{_OUT}{_FROM_CORNER}"
    ),
    # missing 6 x 6 top right
    _pattern(
        rf"(?:but\s+)?{_LEAD}\s+{_HOW_LARGE}\s+(?P<behind>{CORNER})(?:\s+corner)?"
    ),
    # top left corner missing, 7 x 4
    _pattern(
        rf"(?:(?:with|has|but|and)\s+)?(?:(?:an?|one|the)\s+)?{_SAID_BEFORE}corner(?:\s+is)?{_IS_OUT}"
        rf",?\s+(?:about\s+)?{_HOW_LARGE}"
    ),
    # with a bite out of the top left corner, 3 x 3
    _pattern(
        rf"(?:with|has|but)\s+(?:an?\s+)?{_BITE}(?:\s+{_OUT})*{_FROM_CORNER},?\s+(?:about\s+)?{_HOW_LARGE}"
    ),
)
"""Missing corners: groups are across and along, or both, and where it is, said before or behind."""

OF_CORNERS: Final = re.compile(
    r"less|minus|missing|corner|notch|bite|nick|cut|gone|taken|out|off|away|removed|torn|except|left|right",
    re.IGNORECASE,
)
"""Each text with a missing corner has one of these in it."""
_OPENING: Final = (
    "a an the one half with but has and minus missing less without except top upper bottom lower"
    " width length across over full fabric bolt wof selvage selvedge fat by x"
)
OPENING: Final = frozenset(
    {*_OPENING.split(), *SHARE_WORDS, *NUMBER_WORDS, *UNIT_WORDS}
)
"""The words with which something of these patterns may begin: any other is no more than a word."""
