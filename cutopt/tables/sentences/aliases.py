"""The one table of other ways to say a thing: what a maker writes, and what it is called here.

An entry holds for whole words, whatever their case; hyphens part words. Nothing of it holds inside quotes, nor in the
name of a fabric.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import cache
from typing import Final

from cutopt.tables.sentences.names_of_articles import OF_ARTICLES
from cutopt.tables.sentences.small_talk import SMALL_TALK
from cutopt.tables.sentences.tokens import Token

ALIASES: Final[Mapping[str, str]] = {
    # blocks and units
    "hst": "half-square triangle",
    "hsts": "half-square triangles",
    "hst units": "half-square triangles",
    "half square triangle units": "half-square triangles",
    "triangle squares": "half-square triangles",
    "qst": "quarter-square triangle",
    "qsts": "quarter-square triangles",
    "4 patch": "four patch",
    "4 patches": "four patches",
    "9 patch": "nine patch",
    "9 patches": "nine patches",
    "plain square": "square",
    "plain squares": "squares",
    "plain block": "square",
    "plain blocks": "squares",
    "16 patch": "sixteen patch",
    "16 patches": "sixteen patches",
    "basketweave": "basket weave",
    "basketweaves": "basket weaves",
    "bear paw": "bear's paw",
    "bear paws": "bear's paws",
    "bears paw": "bear's paw",
    "bears paws": "bear's paws",
    "broken dish": "broken dishes",
    "churndash": "churn dash",
    "courthouse step": "courthouse steps",
    "dutchmans puzzle": "dutchman's puzzle",
    "dutchmans puzzles": "dutchman's puzzles",
    "dutchman puzzle": "dutchman's puzzle",
    "hole in the barn door": "churn dash",
    "monkey wrench": "churn dash",
    "monkey wrenches": "churn dashes",
    "evening star": "sawtooth star",
    "evening stars": "sawtooth stars",
    "variable star": "Ohio star",
    "variable stars": "Ohio stars",
    "windmill": "pinwheel",
    "windmills": "pinwheels",
    "cotton reel": "spool",
    "cotton reels": "spools",
    "jacobs ladder": "jacob's ladder",
    "jacobs ladders": "jacob's ladders",
    "25 patch": "twenty-five patch",
    "25 patches": "twenty-five patches",
    "36 patch": "thirty-six patch",
    "36 patches": "thirty-six patches",
    "puss in the corner": "uneven nine patch",
    "grandmother's flower garden": "hexagon flowers",
    "grandmothers flower garden": "hexagon flowers",
    "hexie flower": "hexagon flower",
    "hexie flowers": "hexagon flowers",
    "hex flower": "hexagon flower",
    "hex flowers": "hexagon flowers",
    "pin wheel": "pinwheel",
    "pin wheels": "pinwheels",
    "saw tooth star": "sawtooth star",
    "saw tooth stars": "sawtooth stars",
    "shoo fly": "shoofly",
    "shoo flies": "shooflies",
    "snow ball": "snowball",
    "snow balls": "snowballs",
    # "single" and "double" are of a binding where no chain stands behind them
    "double nine patch": "double nine patch",
    "double nine patches": "double nine patches",
    "double 9 patch": "double nine patch",
    "double 9 patches": "double nine patches",
    "single irish chain": "single irish chain",
    "single irish chains": "single irish chains",
    "double irish chain": "double irish chain",
    "double irish chains": "double irish chains",
    "alternate double irish chain": "double irish chain alternate",
    "alternate double irish chains": "double irish chain alternates",
    "geese": "flying geese",
    "goose": "flying goose",
    "2 at a time": "two at a time",
    "4 at a time": "four at a time",
    "8 at a time": "eight at a time",
    "flip and stitch": "stitch and flip",
    "flippy corners": "stitch and flip",
    "center": "centre",
    "centers": "centres",
    "square in square": "square in a square",
    "squares in squares": "squares in a square",
    "diamond in a square": "square in a square",
    "economy patch": "economy block",
    "economy patches": "economy blocks",
    "economy": "economy block",
    "economy blocks": "economy blocks",
    "square in a square in a square": "economy block",
    "bowtie": "bow tie",
    "bowties": "bow ties",
    "neckties": "bow ties",
    "maple leafs": "maple leaves",
    "plus sign": "plus",
    "plus signs": "pluses",
    "plusses": "pluses",
    "cross block": "plus",
    "cross blocks": "pluses",
    "jumbo": "big",
    "giant": "big",
    # they are told as they are cut
    "charm squares": "squares cut",
    "charm square": "square cut",
    "centre panel": "panel",
    "center panel": "panel",
    # shapes
    "equilateral triangle": "60-degree triangle",
    "equilateral triangles": "60-degree triangles",
    "sixty degree triangles": "60-degree triangles",
    "sixty degree diamonds": "60-degree diamonds",
    "triangles 60 degrees": "60-degree triangles",
    "triangles 60 degree": "60-degree triangles",
    "60 degrees triangles": "60-degree triangles",
    "diamonds 60 degrees": "60-degree diamonds",
    "diamonds 60 degree": "60-degree diamonds",
    "diamonds 45 degrees": "45-degree diamonds",
    "diamonds 45 degree": "45-degree diamonds",
    "english paper piecing": "over papers",
    "english paper pieced": "over papers",
    "60 deg triangles": "60-degree triangles",
    "60 deg diamonds": "60-degree diamonds",
    "45 deg diamonds": "45-degree diamonds",
    "hexie": "hexagon",
    "hexies": "hexagons",
    "half hexie": "half hexagon",
    "half hexies": "half hexagons",
    "hrt": "half-rectangle triangle",
    "hrts": "half-rectangle triangles",
    "half rectangle triangle units": "half-rectangle triangles",
    "appliqué piece": "applique piece",
    "appliqué pieces": "applique pieces",
    "applique patches": "applique pieces",
    "applique shapes": "applique pieces",
    "appliqué shapes": "applique pieces",
    "needle turned": "turned under",
    "needle turn": "turned under",
    "paper pieced bit": "paper-pieced bit",
    "paper pieced patches": "paper-pieced bits",
    "paper piecing bits": "paper-pieced bits",
    "foundation pieces": "paper-pieced bits",
    "foundation pieced bits": "paper-pieced bits",
    "curves": "templates",
    "curved pieces": "templates",
    "template pieces": "templates",
    "tshirt block": "t-shirt block",
    "tshirt blocks": "t-shirt blocks",
    "tee shirt blocks": "t-shirt blocks",
    "shirt blocks": "t-shirt blocks",
    "patchwork square": "square",
    "patchwork squares": "squares",
    "patchwork patches": "squares",
    "one patch": "square",
    "one patches": "squares",
    "one patch squares": "squares",
    "fussy cut": "fussy",
    "fussy cuts": "fussy",
    # a pillowcase for one, and no cushion
    "standard pillow": "standard",
    "standard pillows": "standard",
    "queen pillow": "queen",
    "queen pillows": "queen",
    "king pillow": "king",
    "king pillows": "king",
    "lumbar": "oblong",
    "rectangular": "oblong",
    # several fabrics
    "assorted": "scrappy",
    "mixed colours": "scrappy",
    "mixed colors": "scrappy",
    "mixed fabrics": "scrappy",
    "mixed prints": "scrappy",
    "lots of different": "scrappy",
    "lots of different fabrics": "scrappy",
    "lots of fabrics": "scrappy",
    "lots of prints": "scrappy",
    "many different": "scrappy",
    "many different fabrics": "scrappy",
    "many fabrics": "scrappy",
    "different fabrics": "scrappy",
    "various fabrics": "scrappy",
    "all different fabrics": "scrappy",
    "all sorts": "scrappy",
    "all sorts of": "scrappy",
    "random": "scrappy",
    "various": "scrappy",
    "different": "scrappy",
    "odds and ends": "scrappy",
    "whatever i have": "scrappy",
    "whatever i have in my stash": "scrappy",
    "whatever i've got": "scrappy",
    "whatever there is": "scrappy",
    "whatever is there": "scrappy",
    "use up whatever i have": "scrappy",
    "use up whatever i've got": "scrappy",
    "use up whatever there is": "scrappy",
    "use what i have": "scrappy",
    "made from scraps": "scrappy",
    "made from my scraps": "scrappy",
    "from scraps": "scrappy",
    "from my scraps": "scrappy",
    "from the scraps": "scrappy",
    "from the scrap bag": "scrappy",
    "from my stash": "scrappy",
    # numbers
    "a pair of": "two",
    "pair of": "two",
    "a couple of": "two",
    # sizes
    "finishing": "finished",
    "finishing at": "finished",
    "finishes at": "finished",
    "finish at": "finished",
    "that finish at": "finished",
    "which finish at": "finished",
    "that finish": "finished",
    "which finish": "finished",
    "that finishes": "finished",
    "finishing to": "finished",
    "finish to": "finished",
    "when finished": "finished",
    "once finished": "finished",
    "once sewn": "finished",
    "when sewn": "finished",
    "after sewing": "finished",
    "to finish at": "finished",
    "to finish": "finished",
    "unfin": "unfinished",
    "fin": "finished",
    "before sewing": "cut",
    "cut size": "cut",
    "cut at": "cut",
    # setting and borders
    "on the diagonal": "on point",
    "set on point": "on point",
    "posts": "cornerstones",
    "post": "cornerstones",
    "sashing squares": "cornerstones",
    "mitered": "mitred",
    "mitred corners": "mitred",
    "mitered corners": "mitred",
    "corner blocks": "corner squares",
    "corner stones": "cornerstones",
    "single piece": "one piece",
    "without joins": "in one piece",
    "no joins": "in one piece",
    "selvedge": "selvage",
    "along the grain": "grain along",
    "half each": "scrappy",
    "half and half": "scrappy",
    "a third each": "scrappy",
    "equal parts": "scrappy",
    "equal amounts": "scrappy",
    "as much of each": "scrappy",
    "lengthwise grain": "grain along",
    "crosswise grain": "grain across",
    "across the grain": "grain across",
    "optional": "nice",
    "if there is any left": "if left",
    "if any is left": "if left",
    "leftovers only": "if left",
    "only if there is cloth left": "if left",
    "if there is cloth left": "if left",
    # beds, and for whom
    "wheelchair": "chair with wheels",
    "wheel chair": "chair with wheels",
    "twin xl": "twin long",
    "twin extra long": "twin long",
    "extra long twin": "twin long",
    "california king": "western king",
    "cal king": "western king",
    "pillow tuck": "tuck",
    "tuck under the pillow": "tuck",
    "tuck under the pillows": "tuck",
    "under the pillow": "tuck",
    "under the pillows": "tuck",
    # binding
    "french fold": "double fold",
    "double": "double fold",
    "single": "single fold",
    "double bed": "double bed",
    "single bed": "single bed",
    "on the bias": "bias",
    "bias cut": "bias",
    "cut on the bias": "bias",
    "on the straight grain": "straight grain",
    "straight of grain": "straight grain",
    "sewn by hand": "by hand",
    "hand sewn": "by hand",
    "finished by hand": "by hand",
    "sewn by machine": "by machine",
    "finished by machine": "by machine",
    "hand finished": "by hand",
    "machine finished": "by machine",
    "machine sewn": "by machine",
    "mitred joins": "diagonal joins",
    **OF_ARTICLES,
}


def with_own_words(tokens: Sequence[Token]) -> list[Token]:
    """The same words with each alias in the words that it stands for; each has the place of the whole alias."""
    out: list[Token] = []
    i = 0
    while i < len(tokens):
        length = _longest_at(tokens, i)
        if not length:
            out.append(tokens[i])
            i += 1
            continue
        span = tokens[i : i + length]
        words = _table()[_words(span)]
        at = (span[0].start, span[-1].end)
        first = Token(kind="word", plain="", at=at)
        out += [replace(first, plain=word) for word in words]
        i += length
    return out


def _longest_at(tokens: Sequence[Token], i: int) -> int:
    """How many words from `i` on are the longest alias, 0 where none stands there."""
    most = min(_most(), len(tokens) - i)
    for length in range(most, 0, -1):
        span = tokens[i : i + length]
        if all(_is_word(token) for token in span) and _words(span) in _table():
            return length
    return 0


def _is_word(token: Token) -> bool:
    return token.kind == "word" or (token.kind == "number" and not token.unit)


def _words(tokens: Sequence[Token]) -> tuple[str, ...]:
    return tuple(token.plain for token in tokens)


@cache
def _table() -> dict[tuple[str, ...], tuple[str, ...]]:
    # what an alias stands for is never taken for another: "flying geese" has "geese" in it
    own = {_split(meant): _split(meant) for meant in ALIASES.values()}
    nothing: dict[tuple[str, ...], tuple[str, ...]] = {
        _split(said): () for said in SMALL_TALK
    }
    return (
        own | nothing | {_split(said): _split(meant) for said, meant in ALIASES.items()}
    )


@cache
def _most() -> int:
    return max(len(words) for words in _table())


def _split(text: str) -> tuple[str, ...]:
    return tuple(text.replace("-", " ").lower().split())
