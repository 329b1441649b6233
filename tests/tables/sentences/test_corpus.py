"""Sentences as quilters write them: what comes of each was judged by eye, and every word of it is used or told.

Two checks look for words that are passed over, whatever the sentence: a word put in the place of another that nobody
knows has to be told or to be a name, and a word that is left out has to change what comes of it, but for words that say
nothing of their own, and for those that say what is done anyway.
"""

from __future__ import annotations

import re

import pytest

from cutopt.errors import JobError
from cutopt.tables.recipe.sentences_beside_top import BACKING, BATTING
from cutopt.tables.recipe.sentences_of_edges import BINDING, SLEEVE
from cutopt.tables.recipe.words_of_borders import BORDER
from cutopt.tables.recipe.words_of_setting import SETTING
from cutopt.tables.sentences.aliases import ALIASES
from cutopt.tables.sentences.small_talk import SMALL_TALK
from cutopt.tables.sentences.talk import TALK
from cutopt.tables.sentences.tokens import tokens_of
from cutopt.tables.sentences.words import FILLERS
from tests.tables.sentences.corpus import CORPUS, MISTAKES, TOLD, USED, Sentence
from tests.tables.sentences.saying import read, recipe, summary

NONSENSE = "zzq"
# what is said of it is done where nothing is said
DEFAULTS = frozenset(
    (
        *("finished", "finishing", "must", "straight", "grain", "diagonal", "joins"),
        *("hand", "by", "standing", "double", "fold", "inch", "inches"),
        *("cm", "any", "two", "at", "time", "no", "waste", "one", "cut", "once"),
        *("with", "cornerstones", "posts", "sides", "first", "border", "or"),
        *("only", "binding", "continuous", "sleeve", "deep", "round"),
        # one word of a name will do
        *("piano", "brought", "hanging"),
        *("plain", "flying", "inner", "corners", "on", "table", "bag"),
        *("t", "hst", "height", "pillows", "set", "borders", "fussy", "my", "none"),
        *("chains", "made", "rows", "between", "backs", "only"),
        # the order says it too
        *("points", "star", "background", "geese", "scrappy", "lights"),
        *("strips", "keys", "key", "laid", "too", "row"),
        *("backing", "batting"),
        *("middles", "stars", "sky", "fin", "front", "oblong"),
        *("back", "fronts"),
        *("sashing", "sashed", "folded", "quilt", "single", "bind", "lap"),
        *("blend", "corner", "finish", "bed", "overage", "alternating", "machine"),
        *("way", "overhang"),
        "robe",
        # usual anyway, or said by what stands beside it
        *("inches", "½", "baby", "bring", "butted", "couch", "foot", "half", "lattice"),
        *("layout", "mitered", "second", "strippy", "take", "touching"),
        *("high", "lumbar", "throw", "envelope"),
        # of what stands beside it, the next place is meant
        *("centers", "center", "centre", "paws", "then", "little", "ones", "tops"),
        *("top", "outside", "bound", "lining", "lined", "body", "cuff", "rest", "ties"),
        *("leaves", "triangles", "darks", "flies", "chain", "ground"),
        # said twice, or said by the number too
        *("coins", "plus", "covers", "form", "pillow", "flowers", "panel", "squares"),
        *("four", "times", "it", "square", "end", "charm", "sorts", "mixed", "fabric"),
        *("side", "inch", "petals", "bars", "middle", "hexagon", "hexagons"),
        # of whatever there is, or said by the words beside it
        *(
            "left",
            "colour",
            "there",
            "s",
            "more",
            "cheapest",
            "biggest",
            "lots",
            "scraps",
        ),
        *("over", "than", "running", "down", "wadding", "as", "same", "alternate"),
        *("framed", "when", "lay", "sash", "logs", "bags", "patchwork"),
        # a note tells of it
        "different",
        # an overage is meant anyway, corners of a binding are mitred anyway
        *(
            "larger",
            "bigger",
            "extra",
            "mitred",
            "mixed",
            "setting",
            "seam",
            "triangles",
        ),
    )
)

# of each part that is said in whole sentences
SMALL = frozenset().union(
    *(each.small for each in (SETTING, BORDER, BINDING, SLEEVE, BACKING, BATTING))
)

_TALK = frozenset(word for said in SMALL_TALK for word in re.findall("[^ ]+", said))

# one in twelve at once, the others with the slow ones: each is read once for every word that it has
QUICK = [
    pytest.param(each, marks=[pytest.mark.slow] if number % 12 else [])
    for number, each in enumerate(USED)
]


def by_text(each: Sentence) -> str:
    return f"{each.part}: {each.text}"


def test_it_has_some_three_hundred() -> None:
    assert len(CORPUS) > 300
    assert len({(each.part, each.text) for each in CORPUS}) == len(CORPUS)


@pytest.mark.parametrize("each", USED, ids=by_text)
def test_what_comes_of_it(each: Sentence) -> None:
    assert summary(each.part, each.text) == each.comes


@pytest.mark.parametrize("each", MISTAKES, ids=by_text)
def test_what_is_told_of_it(each: Sentence) -> None:
    assert summary(each.part, each.text).startswith(each.comes)


def words_of(text: str) -> list[tuple[int, int]]:
    """Where each word and number of a sentence stands."""
    return [
        (token.start, token.end)
        for token in tokens_of(text, "")
        if token.kind != "sign"
    ]


@pytest.mark.parametrize("each", QUICK, ids=by_text)
def test_a_word_that_nobody_knows_is_told(each: Sentence) -> None:
    """It may stand in a name: of the rows, of fabrics that belong together."""
    for start, end in words_of(each.text):
        text = f"{each.text[:start]}{NONSENSE}{each.text[end:]}"
        comes = summary(each.part, text)
        named = NONSENSE in comes
        assert comes.startswith(TOLD) or named, text


@pytest.mark.parametrize("each", QUICK, ids=by_text)
def test_a_word_that_is_left_out_is_missed(each: Sentence) -> None:
    for start, end in words_of(each.text):
        word = each.text[start:end].lower().strip('"“”')
        rest = f"{each.text[:start]}{each.text[end:]}"
        if summary(each.part, rest) != each.comes:
            continue
        plain = set(re.findall(r"[^\W\d]+", word))
        said = word in TALK | SMALL
        assert said or plain <= FILLERS | DEFAULTS | _TALK, (word, rest)


@pytest.mark.parametrize("each", MISTAKES, ids=by_text)
def test_a_mend_that_is_quoted_reads(each: Sentence) -> None:
    with pytest.raises(JobError) as caught:
        read(each.part, each.text)
    mend = caught.value.problems[0].mend
    assert mend or "neither a fabric" in caught.value.problems[0].what
    if "if it is a fabric" in mend:
        mend = mend.replace("from teal", "from navy")
    for quoted in re.findall(r'(?:write|or) "(.+?)"(?= for |, or |: |$)', mend):
        assert not summary(each.part, quoted).startswith(TOLD), quoted


def test_the_recipe_round_a_sentence_is_toml() -> None:
    assert recipe("blocks", 'a "b" c').endswith('["a \\"b\\" c"]\n')


@pytest.mark.parametrize("said", ALIASES)
def test_an_alias_stands_for_something_else(said: str) -> None:
    """What it stands for is no alias itself; some stand for themselves, so that no part of them is one."""
    meant = ALIASES[said]
    assert ALIASES.get(meant, meant) == meant
