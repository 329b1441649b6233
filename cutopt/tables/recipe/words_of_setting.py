"""What may be said of a setting: places, sashing, plain blocks between the others, and their fabrics."""

from __future__ import annotations

import re
from typing import Final

from cutopt.tables.recipe.wording import OUTER_TRIANGLES
from cutopt.tables.sentences.vocabulary import Vocabulary

FIELD: Final = "setting"
OUTSIDE: Final = "all round the outside too"
PLAIN: Final = "plain blocks"
PLAIN_OF: Final = "plain squares"
SASHING_OF: Final = "strips between"
SHIFTED: Final = "rows shifted"
TURNED: Final = (
    *("barn raising", "straight furrow", "straight furrows", "fields and furrows"),
    *("sunshine and shadow", "streak of lightning"),
)
ROWS_EACH: Final = "rows each"
_LAID: Final = "(block~/square~/brick~/patches/cabins)"
_SASH_WORDS: Final = "(sashing/sashings/sashes/sash/lattice/lattices/latticing)"
_STRIPS: Final = f"(({_SASH_WORDS} [strip~])/strip~)"
_WHERE_MET: Final = (
    "(square~/block~/ones/patches) (where/at/in) [each/every/all] (crossing/crossings/intersection~/corner~/joint~/"
    "([they/strips/sashes/sashing/seams] (cross/meet/join/intersect)))"
)
_CORNERS: Final = f"cornerstone|corner (square~/post~/block~/cornerstones)|{_WHERE_MET}"
_BLOCK: Final = "(block~/square~/one~/patch/patches)"
_ALTERNATE: Final = (
    "alternate|alternating|alternated|alternately|take turns|taking turns|by turns|"
    "(checkerboard/chequerboard/checker board) [fashion/style/layout/setting]|"
    f"every (other/second) {_BLOCK}|every (other/second) place"
)
_PLAIN: Final = (
    f"plain {_BLOCK}|square~ [in] between|{_BLOCK} in between|square~|"
    f"(alternate/alternating/setting) (block~/square~)|every (other/second) {_BLOCK} [is] (square/plain block)"
)
_ROUND: Final = "(round/around)"
_EDGE: Final = "(outside/outside edge/outside edges/outer edge/outer edges/edge/edges/quilt/perimeter)"

_BY_HALF: Final = "[[by] half [block/brick]]"
_SMALL: Final = frozenset(
    (
        *("blocks", "pieced", "between", "by", "where", "they", "cross", "meet"),
        *("row", "rows", "quilt", "top", "strip", "strips", "too", "next", "out"),
        *("corners", "other", "each", "every", "one", "ones", "plain", "only", "turns"),
    )
)


def _with_cloth(first: str, ways: str) -> str:
    """Ways that name a thing with its fabric behind it; it is known by the first."""
    return f"{first} CLOTH|({ways.replace('|', '/')}) CLOTH"


SETTING: Final = Vocabulary(
    part=FIELD,
    told="settings",
    like="7 across, 8 down, inner sashing 1 1/2 with cornerstones, from oat and plum",
    phrases=(
        (
            f"across NUMBER|NUMBER [{_LAID}] (across/wide)|NUMBER [{_LAID}] (to/in/per/on) [each/every/one] row|"
            f"NUMBER [{_LAID}] (each/every) row|NUMBER {_LAID} each|"
            f"NUMBER [{_LAID}] a row"
        ),
        (
            f"down NUMBER|NUMBER [{_LAID}] (down/long/high/tall/deep)|NUMBER row~|"
            f"NUMBER [{_LAID}] (to/in/per) [each/every/one] column"
        ),
        f"{ROWS_EACH} NUMBER|row~ (of/with) NUMBER",
        f"NUMBER rows of NUMBER|NUMBER row~ [of/with] NUMBER [{_LAID}] [each/across/(in [each/every] row)]",
        (
            "NUMBER columns of NUMBER|NUMBER (column~/(vertical row~)/(upright row~)) [of/with] NUMBER "
            f"[{_LAID}] [each/down/(in [each/every] column)]"
        ),
        (
            f"NUMBER across by NUMBER down|NUMBER [{_LAID}] across (by/and/x) NUMBER [{_LAID}] down|"
            f"NUMBER [{_LAID}] wide (by/and/x) NUMBER [{_LAID}] (long/high/tall/deep)|NUMBER [{_LAID}] (by/x) NUMBER"
        ),
        "NUMBER blocks",
        "between columns|[only] between columns [only]|columns only",
        "between rows|[only] between rows [only]|rows only",
        "on point|diagonal set|diagonal setting|diagonally",
        "straight|straight (set/setting/sets/layout/rows)",
        (
            "set|laid|laid in rows|laid out|laid out in rows|set in rows|in rows|set out in rows|arranged|"
            "lay [out]|setting|layout|strippy [set]"
        ),
        (
            "edge to edge|[block~] (edge to edge/side by side/butted together/butted up/butted)|"
            "[block~] (together/joined/next to each other) without sashing"
        ),
        "no sashing|(no/without) [any] (sashing/sashes/lattice/strips) [between] [at all]|touching",
        f"inner sashing LENGTH|(inner sashing/inner sashes) [strip~] SIZE|SIZE [wide] inner {_STRIPS}",
        f"framed sashing LENGTH|(framed sashing/framed sashes) [strip~] SIZE|SIZE [wide] framed {_STRIPS}",
        (
            f"sashing LENGTH|{_STRIPS} SIZE [wide]|SIZE [wide] {_STRIPS}|sashed [with] SIZE [wide] [strip~]|"
            "sash [each/every/all] [block~] [with/in] SIZE [wide] [strip~]|"
            "(joined/separated/divided) (by/with) SIZE [wide] [strip~]"
        ),
        (
            f"sash blocks|sash|sashed|{_STRIPS}|strip~|(joined/separated/divided) (by/with) strip~|"
            "sash [each/every/all] block~"
        ),
        (
            f"{OUTSIDE}|[framed] [all] [way] {_ROUND} [{_EDGE}] [too/as well]|[on/at] outside [edge/edges] too|"
            f"[all] [way] {_ROUND} outside {_EDGE} [too/as well]|outside too"
        ),
        "finished",
        "with cornerstones|cornerstones|cornerstone|corner (squares/posts)|"
        + _WHERE_MET,
        "without cornerstones|(no/without) [any] (cornerstones/cornerstone/corner squares)",
        _with_cloth("cornerstones", _CORNERS),
        f"{SASHING_OF} CLOTH|(((inner/framed) {_SASH_WORDS})/{_SASH_WORDS}) [strip~] CLOTH|strip~ [in] [between] CLOTH",
        "upright sashing CLOTH|upright sashes CLOTH|vertical (sashing/sashes) CLOTH",
        "level sashing CLOTH|level sashes CLOTH|horizontal (sashing/sashes) CLOTH",
        "middle strip CLOTH|middle strips CLOTH",
        "frame CLOTH",
        "side triangles CLOTH|setting triangles CLOTH|edge triangles CLOTH|side setting triangles CLOTH",
        "corner triangles CLOTH|corner setting triangles CLOTH|corners CLOTH",
        f"{OUTER_TRIANGLES} CLOTH|triangles CLOTH|triangles round [edge/outside/edges] CLOTH",
        f"{PLAIN}|{_ALTERNATE}|[plain] square~ [in] between|[plain] square~",
        _with_cloth(PLAIN_OF, _PLAIN),
        (
            f"{SHIFTED}|(stagger/staggered/offset/shifted/shift/stepped) [every (other/second) row] {_BY_HALF}|"
            "brick (wall/set/setting/fashion/layout/work)|half drop|"
            f"every (other/second) row [is] (shifted/offset/staggered) {_BY_HALF}"
        ),
        *TURNED,
    ),
    cloths=5,
    sized=True,
    mixed=True,
    talk=True,
    small=_SMALL,
)


def says_sashing(text: str) -> bool:
    """Whether a sentence calls the strips between blocks by a name."""
    named = r"\b(?:sash\w*|lattic\w*|strips?)\b"
    return re.search(named, text, re.IGNORECASE) is not None
