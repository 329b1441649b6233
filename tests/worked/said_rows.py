"""What the trade's worked numbers say of one sentence each: provenance, the sentence, and the rows that it must give.

Each line: a short name, where the number comes from, sentences of quilt.toml, and of rows found by a word of their name
how many, across and along, in the unit of the job. Nothing here comes from a program.
"""

from __future__ import annotations

from typing import Final, TypeAlias

IDENTITY: Final = "arithmetic identity"
PRACTICE: Final = "common practice, no source (from memory)"
SEEN: Final = "common practice, no source (seen on pages of makers)"
MIXED: Final = f"sum: {IDENTITY}; allowance: {PRACTICE}"
Row: TypeAlias = tuple[int, str, str]
Line: TypeAlias = tuple[str, str, str, dict[str, Row]]


def blocks(sentence: str, more: str = "") -> str:
    """The sentences of a quilt with one kind of block."""
    return f'blocks = ["{sentence}"]\n{more}'


def sewn(sentence: str, setting: str, more: str = "") -> str:
    """The same, set."""
    return blocks(sentence, f'setting = "{setting}"\n{more}')


_TEN: Final = ("30 squares of 10", "5 across, 6 down")
_TOP: Final = 'top = "60 x 80"\nmeasured = "finished"\n'
_POCKET: Final = '[how]\nbinding_from = "finished"\n'
_BARE: Final = f'{_POCKET}overage_from = "finished"\n'


def _border(words: str, how: str = "") -> str:
    return sewn(*_TEN, f'borders = ["5 from oat, lengthwise{words}"]\n{how}')


UNITS_OF_PATCHWORK: Final[tuple[Line, ...]] = (
    (
        "S1 square",
        MIXED,
        blocks("1 square of 4"),
        {"square": (1, "4 1/2", "4 1/2")},
    ),
    *(
        (
            f"S6 half-square triangle {size}, cut once",
            IDENTITY,
            blocks(f"2 half-square triangles of {size}, cut once"),
            {"first": (1, cut, cut), "second": (1, cut, cut)},
        )
        for size, cut in (("3", "3 7/8"), ("6", "6 7/8"), ("12", "12 7/8"))
    ),
    (
        "S7 two at a time",
        IDENTITY,
        blocks("2 half-square triangles of 3, two at a time"),
        {"first": (1, "3 7/8", "3 7/8")},
    ),
    (
        "S7 oversize",
        MIXED,
        blocks("2 half-square triangles of 3", '[how]\ntriangles = "oversize"\n'),
        {"first": (1, "4", "4")},
    ),
    (
        "S8 eight at a time",
        IDENTITY,
        blocks("8 half-square triangles of 3, eight at a time"),
        {"first": (1, "7 3/4", "7 3/4")},
    ),
    (
        "S9 four at a time",
        IDENTITY,
        blocks("4 half-square triangles of 3, four at a time"),
        {"first": (1, "5 1/2", "5 1/2")},
    ),
    (
        "S10 hourglass",
        IDENTITY,
        blocks("2 hourglasses of 6"),
        {"first": (1, "7 1/4", "7 1/4"), "second": (1, "7 1/4", "7 1/4")},
    ),
    (
        "S11 flying geese without waste",
        IDENTITY,
        blocks("4 flying geese of 6 x 3"),
        {"goose goose": (1, "7 1/4", "7 1/4"), "sky": (4, "3 7/8", "3 7/8")},
    ),
    (
        "S12 flying geese, stitch and flip",
        IDENTITY,
        blocks("4 flying geese of 6 x 3, stitch and flip"),
        {"goose goose": (4, "6 1/2", "3 1/2"), "sky": (8, "3 1/2", "3 1/2")},
    ),
    (
        "S13 square in a square",
        IDENTITY,
        blocks("1 square in a square of 6"),
        {"centre": (1, "4 3/4", "4 3/4"), "corner": (2, "3 7/8", "3 7/8")},
    ),
    (
        "S20 strip set",
        IDENTITY,
        blocks("6 strip sets of 2 + 2 + 2, segments 6"),
        {f"strip {n}": (1, "2 1/2", "39") for n in (1, 2, 3)},
    ),
    (
        "S22 60-degree triangle",
        IDENTITY,
        blocks("1 60-degree triangle of 4"),
        {"triangle": (1, "4 3/4", "")},
    ),
)
METRIC: Final[tuple[Line, ...]] = (
    (
        "U9 square of 10 cm",
        MIXED,
        blocks("1 square of 10"),
        {"square": (1, "11.5", "11.5")},
    ),
    (
        "S24 half-square triangle",
        IDENTITY,
        blocks("2 half-square triangles of 10"),
        {"first": (1, "12.6", "12.6")},
    ),
    (
        "S24 quarter-square triangle",
        IDENTITY,
        blocks("2 hourglasses of 10"),
        {"first": (1, "13.7", "13.7")},
    ),
)
SETTINGS: Final[tuple[Line, ...]] = (
    (
        "B1 inner sashing",
        IDENTITY,
        sewn("20 squares of 12", "4 across, 5 down, inner sashing 2 with cornerstones"),
        {"sash": (31, "2 1/2", "12 1/2"), "cornerstone": (12, "2 1/2", "2 1/2")},
    ),
    (
        "B2 framed sashing",
        IDENTITY,
        sewn(
            "20 squares of 12", "4 across, 5 down, framed sashing 2 with cornerstones"
        ),
        {"sash": (49, "2 1/2", "12 1/2"), "cornerstone": (30, "2 1/2", "2 1/2")},
    ),
    (
        "B4 inner, no cornerstones",
        IDENTITY,
        sewn("20 squares of 12", "4 across, 5 down, inner sashing 2, no cornerstones"),
        {"short": (15, "2 1/2", "12 1/2"), "long": (4, "2 1/2", "54 1/2")},
    ),
    (
        "B5 framed, no cornerstones",
        IDENTITY,
        sewn("20 squares of 12", "4 across, 5 down, framed sashing 2, no cornerstones"),
        {
            "short": (15, "2 1/2", "12 1/2"),
            "long": (6, "2 1/2", "54 1/2"),
            "side": (2, "2 1/2", "72 1/2"),
        },
    ),
    (
        "B7 sides first",
        IDENTITY,
        _border(""),
        {"side": (2, "5 1/2", "60 1/2"), "end": (2, "5 1/2", "60 1/2")},
    ),
    (
        "B8 ends first",
        IDENTITY,
        _border(", ends first"),
        {"side": (2, "5 1/2", "70 1/2"), "end": (2, "5 1/2", "50 1/2")},
    ),
    (
        "B9 corner squares",
        IDENTITY,
        _border(", corner squares"),
        {
            "side": (2, "5 1/2", "60 1/2"),
            "end": (2, "5 1/2", "50 1/2"),
            "corner": (4, "5 1/2", "5 1/2"),
        },
    ),
    (
        "B10 mitred, at least",
        f"minimum: {IDENTITY}",
        _border(", mitred", '[how]\nmitre_extra = "0"\n'),
        {"end": (2, "5 1/2", "61 1/4")},
    ),
    (
        "B10 mitred",
        f"minimum: {IDENTITY}; + 2: {PRACTICE}",
        _border(", mitred"),
        {"end": (2, "5 1/2", "63 1/4")},
    ),
    (
        "S16 on point",
        IDENTITY,
        sewn("18 squares of 12", "3 across, 4 down, on point"),
        {"side": (3, "18 1/4", "18 1/4"), "corner": (2, "9 3/8", "9 3/8")},
    ),
)
EDGES: Final[tuple[Line, ...]] = (
    (
        "N1 length wanted",
        SEEN,
        f'{_TOP}binding = "from oat"\n{_POCKET}',
        {"binding": (1, "2 1/2", "290")},
    ),
    (
        "N1 with 12",
        SEEN,
        f'{_TOP}binding = "from oat"\n{_POCKET}binding_allowance = "12"\n',
        {"binding": (1, "2 1/2", "292")},
    ),
    (
        "N9 single fold",
        f"formula: {IDENTITY}; 1/8 for the cloth: {PRACTICE}",
        f'{_TOP}binding = "from oat, single fold"\n{_POCKET}',
        {"binding": (1, "1 1/8", "290")},
    ),
    (
        "N10 corners take nothing",
        IDENTITY,
        'top = "40 x 50"\nbinding = "from oat"\n[how]\nbinding_allowance = "0"\n',
        {"binding": (1, "2 1/2", "180")},
    ),
    (
        "N11 trimmed",
        IDENTITY,
        f'{_TOP}binding = "from oat"\n[how]\nbinding_allowance = "0"\n',
        {"binding": (1, "2 1/2", "282")},
    ),
    (
        "N13 continuous bias",
        IDENTITY,
        f'{_TOP}binding = "2 1/4 from oat, bias"\n{_POCKET}',
        {"binding": (1, "27", "27")},
    ),
    (
        "K11 sleeve",
        f"that it needs one: Purdue Extension, 4-H Quilting Project, 2020; size: {PRACTICE}",
        'top = "40 x 50"\nsleeve = "from oat"\nbinding = "no"\n',
        {"sleeve": (1, "8 1/2", "39")},
    ),
)
ARTICLES: Final[tuple[Line, ...]] = tuple(
    (name, provenance, f'articles = ["{sentence}"]\n{how}', rows)
    for name, provenance, sentence, how, rows in (
        (
            "L8 envelope cushion",
            f"formula: {IDENTITY}; overlap: {PRACTICE}",
            "cushion of 18",
            "",
            {"front": (1, "18 1/2", "18 1/2"), "back": (2, "18 1/2", "12 1/4")},
        ),
        (
            "L11 pillowcase",
            IDENTITY,
            "pillowcase of 20 x 31 1/2, cuff 5 1/2",
            "",
            {"body": (1, "41", "27"), "cuff": (1, "41", "12")},
        ),
        *(
            (
                f"L9 case for a {name} pillow",
                f"size of the pillow and 4 to hang over: {PRACTICE}; sum: {IDENTITY}",
                f"pillowcase for {name} pillows, cuff 5",
                "",
                {"body": (1, "41", body), "cuff": (1, "41", "11")},
            )
            for name, body in (("standard", "26"), ("queen", "30"), ("king", "36"))
        ),
        (
            "L12 runner",
            f"sizes: {PRACTICE}; sums: {IDENTITY}",
            "runner of 14 x 48",
            _BARE,
            {
                "top": (1, "14 1/2", "48 1/2"),
                "backing": (1, "18", "52"),
                "binding": (1, "2 1/2", "134"),
            },
        ),
        (
            "L13 place mat",
            f"size: {PRACTICE}; sum: {IDENTITY}",
            "1 place mat",
            "",
            {"front": (1, "18 1/2", "12 1/2")},
        ),
        ("L14 napkin", PRACTICE, "4 napkins", "", {"napkin": (4, "18", "18")}),
        (
            "L15 tote",
            IDENTITY,
            "tote of 13 x 14 x 4",
            "",
            {"front and back": (2, "18", "17"), "handle": (2, "4", "24")},
        ),
        (
            "L16 pot holder",
            f"size: {PRACTICE}; sum: {IDENTITY}",
            "pot holder of 8",
            "",
            {"layer": (2, "8", "8"), "binding": (1, "2 1/2", "42")},
        ),
        (
            "L17 burp cloth",
            PRACTICE,
            "burp cloth",
            "",
            {"front": (1, "10 1/2", "20 1/2")},
        ),
        ("L17 bib", PRACTICE, "bib", "", {"front": (1, "10", "14")}),
        ("L17 mug mat", PRACTICE, "mug mat", "", {"front": (1, "9 1/2", "6 1/2")}),
        (
            "L18 drawstring bag",
            PRACTICE,
            "drawstring bag of 10 x 12",
            "",
            {"bag": (2, "11", "15")},
        ),
    )
)
SIZES: Final[tuple[tuple[str, str, str, tuple[float, float]], ...]] = tuple(
    (name, IDENTITY, text, size)
    for name, text, size in (
        (
            "S4 squares of 5",
            sewn("99 squares of 5 cut", "9 across, 11 down"),
            (40.5, 49.5),
        ),
        (
            "S4 of 2 1/2",
            sewn("192 squares of 2 1/2 cut", "12 across, 16 down"),
            (24, 32),
        ),
        ("S4 of 10", sewn("30 squares of 10 cut", "5 across, 6 down"), (47.5, 57)),
        (
            "S16 on point",
            sewn("18 squares of 12", "3 across, 4 down, on point"),
            (50.91, 67.88),
        ),
        (
            "S17 c = 5",
            sewn("4 disappearing nine patches of 5 cut", "2 across, 2 down"),
            (13, 13),
        ),
        (
            "S17 c = 10",
            sewn("4 disappearing nine patches of 10 cut", "2 across, 2 down"),
            (28, 28),
        ),
        (
            "U5 c = 4 3/4",
            sewn("4 disappearing nine patches of 4 3/4 cut", "2 across, 2 down"),
            (12.25, 12.25),
        ),
        (
            "U5 c = 4 5/8",
            sewn("4 disappearing nine patches of 4 5/8 cut", "2 across, 2 down"),
            (11.875, 11.875),
        ),
        (
            "S17 c = 2 1/2",
            sewn("4 disappearing nine patches of 2 1/2 cut", "2 across, 2 down"),
            (5.5, 5.5),
        ),
        (
            "S19",
            sewn("24 disappearing nine patches of 5 cut", "4 across, 6 down"),
            (26, 39),
        ),
        (
            "S21",
            sewn("4 log cabins, centre 2, logs 1, rounds 3", "2 across, 2 down"),
            (16, 16),
        ),
        ("B1", sewn("20 squares of 12", "4 across, 5 down, inner sashing 2"), (54, 68)),
        (
            "B2",
            sewn("20 squares of 12", "4 across, 5 down, framed sashing 2"),
            (58, 72),
        ),
        ("B7", _border(""), (60, 70)),
    )
)
