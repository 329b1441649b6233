"""A job round one sentence (invented, like the fabrics), and what comes of the sentence, in a line."""

from __future__ import annotations

from functools import cache

from cutopt.errors import JobError
from cutopt.fabric import Fabric
from cutopt.lengths import format_length
from cutopt.quilt.recipe.block import Block
from cutopt.settings import Settings
from cutopt.tables.job.contradictions import of_known_words
from cutopt.tables.log import Log
from cutopt.tables.recipe.habits import cloth_known
from cutopt.tables.recipe.part_by_part import QuiltFile
from cutopt.tables.recipe.quilt import read_quilt
from cutopt.wanted import Cut, Strip, Wanted

_PLAIN = "oat mist pear plum bark blossom navy cream gold red rose"
FABRICS = (
    *(Fabric(name=name) for name in _PLAIN.split()),
    Fabric(name="sun and moon", value="light"),
    Fabric(name="fern", value="dark", tags=("greens",)),
    Fabric(name="hazel", tags=("browns",)),
)
CLOTH = cloth_known((), FABRICS)
# six blocks to be set, or a top to go round
_BLOCKS = 'blocks = ["blk: 6 squares of 6 from rose"]\n'
_SET = f'{_BLOCKS}setting = "2 across, 3 down"\n'
_AROUND = {
    "blocks": "",
    "articles": "",
    "setting": _BLOCKS,
    "borders": f'{_SET}binding = "no"\n',
    "binding": 'top = "40 x 50"\n',
    "backing": 'top = "40 x 50"\nbinding = "no"\n',
    "batting": 'top = "40 x 50"\nbinding = "no"\n',
    "sleeve": 'top = "40 x 50"\nbinding = "no"\n',
    "sashing": _SET,
    # as many blocks as the setting has places for
    "places": 'blocks = ["blk: squares of 6 from rose"]\n',
    "use": 'top = "40 x 50"\nbinding = "no"\n',
}
_LISTS = ("blocks", "borders", "articles")


def recipe(part: str, sentence: str) -> str:
    """A quilt.toml that says a sentence."""
    quoted = '"' + sentence.replace("\\", "\\\\").replace('"', '\\"') + '"'
    if part in _LISTS:
        quoted = f"[{quoted}]"
    key = "setting" if part == "places" else part
    return f"{_AROUND[part]}{key} = {quoted}\n"


def read(part: str, sentence: str) -> QuiltFile:
    """What a sentence makes.

    Raises
    ------
    JobError
        With what is wrong.
    """
    log = Log()
    made = read_quilt(recipe(part, sentence), Settings(), log, cloth=CLOTH)
    if made is not None:
        of_known_words(made.rows, made.named.items(), FABRICS, "", log)
    log.finish()
    assert made is not None
    return made


@cache
def summary(part: str, sentence: str) -> str:
    """What comes of a sentence beyond what stands around it; behind "!" what is told of it."""
    try:
        made = read(part, sentence)
    except JobError as error:
        problem = error.problems[0]
        return f"! {problem.what}; {problem.mend}"
    around = {row.value for row in _around(part)}
    if part == "backing" and made.back is not None:
        back = made.back.value
        size = f"{format_length(back.width)} x {format_length(back.length)}"
        return f"pieced from {back.said.fabrics or 'any'}, {size}"
    rows = [_row(row.value) for row in made.rows if row.value not in around]
    told = "; ".join(rows)
    quilt = made.quilt
    if part == "blocks":
        names = "; ".join(_block(block) for block in quilt.blocks)
        told = f"{told} ({names})"
    if part == "backing":
        how = quilt.how
        words = (how.back_run, how.back_middle, how.back_insert)
        told = f"{quilt.backing} {' '.join(words)} {quilt.backing_upright}"
        told += _beyond(how.back_overage)
        told += " in one piece" if how.back_seams == "never" else ""
        told += _notes(quilt.notes)
    if part == "binding" and rows:
        aside = [note for note in quilt.notes if "nothing is planned" in note]
        told += _notes(tuple(aside))
    if part == "binding" and not rows:
        told = "; ".join(quilt.notes)
    if part == "batting":
        told = f"{quilt.batting}{_beyond(quilt.how.batting_overage)}"
        told += _notes(quilt.notes)
    if part == "use":
        told = "; ".join((quilt.use, *quilt.notes))
    if part in ("setting", "sashing", "places"):
        size = quilt.finished or ()
        told += f" -> {' x '.join(quilt.how.show(side) for side in size)}"
        told += _notes(tuple(note for note in quilt.notes if "as you say" in note))
    return told


def _notes(notes: tuple[str, ...]) -> str:
    """What is told beside the plan."""
    return f" ({'; '.join(notes)})" if notes else ""


def _beyond(overage: int | None) -> str:
    """How far something reaches beyond the top, where that is said."""
    return "" if overage is None else f" {format_length(overage)} beyond"


def _block(block: Block) -> str:
    """``8 nine patch``, and how it is turned."""
    return f"{block.count} {block.name} {block.turns or ''}".strip()


def _around(part: str) -> list:  # type: ignore[type-arg]
    if not _AROUND[part]:
        return []
    made = read_quilt(_AROUND[part], Settings(), Log(), cloth=CLOTH)
    if made is None:
        return []
    return [row for row in made.rows if row.value.name != "binding"]


def _row(row: Wanted) -> str:
    """``20 square 5 1/2 x 5 1/2 navy upright``."""
    if isinstance(row, Cut):
        size = f"{format_length(row.width)} x {format_length(row.length)}"
    else:
        size = f"{format_length(row.width)} x {format_length(row.total_length)} long"
    words = [f"{row.count} {row.name} {size}", "|".join(row.fabrics) or "any"]
    if row.grain != "any":
        words.append(row.grain)
    if row.importance != "must":
        words.append(row.importance)
    if row.together:
        words.append(f"together {row.together}")
    return " ".join((*words, *_of_kind(row)))


def _of_kind(row: Wanted) -> list[str]:
    if isinstance(row, Strip):
        words = [f"{row.join} joins", f"shortest {format_length(row.shortest)}"]
        return words + ([f"upright {row.upright}"] if row.upright != "no" else [])
    words = ["upright"] if row.upright else []
    if row.most_each is not None:
        words.append(f"at most {row.most_each}")
    return words
