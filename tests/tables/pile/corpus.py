"""Lines of a pile as quilters write them (ours, of the orchard), each with what it says: count, fabric, size, form.

Sizes in inches, across and along; a corner list of three is a triangle.
"""

from __future__ import annotations

from typing import Final, NamedTuple


class Says(NamedTuple):
    """What a line says."""

    count: int
    fabric: str
    across: float
    along: float
    corners: int = 4


CORPUS: Final[dict[str, Says]] = {
    # rectangles
    "pear 11 x 7": Says(1, "pear", 11, 7),
    "11 x 7 pear": Says(1, "pear", 11, 7),
    "pear, 11 x 7": Says(1, "pear", 11, 7),
    'rose 6 1/2" x 9"': Says(1, "rose", 6.5, 9),
    "rose 6 1/2” x 9”": Says(1, "rose", 6.5, 9),
    "rose 6½ × 9": Says(1, "rose", 6.5, 9),
    "rose 6-1/2 x 9": Says(1, "rose", 6.5, 9),
    "rose 6.5 by 9 in": Says(1, "rose", 6.5, 9),
    "rose 6.5 in by 9 in": Says(1, "rose", 6.5, 9),
    "rose 16.51 x 22.86 cm": Says(1, "rose", 6.5, 9),
    "bark 2 1/2 wide x 38 long": Says(1, "bark", 2.5, 38),
    "bark 38 long x 2 1/2 wide": Says(1, "bark", 2.5, 38),
    "a piece of oat 20 x 14": Says(1, "oat", 20, 14),
    "scrap of oat 3 x 4": Says(1, "oat", 3, 4),
    "oat remnant 3 x 4": Says(1, "oat", 3, 4),
    "oat rectangle 3 x 4": Says(1, "oat", 3, 4),
    "number 9 3 x 4": Says(1, "number 9", 3, 4),
    "pear 2 11 x 7": Says(1, "pear 2", 11, 7),
    "out of the blue 5 x 5": Says(1, "out of the blue", 5, 5),
    "navy stripe 5 x 5": Says(1, "navy stripe", 5, 5),
    "black and white 5 x 5": Says(1, "black and white", 5, 5),
    '"raw silk" 18 x 20': Says(1, "raw silk", 18, 20),
    "“old rose” 18 x 20": Says(1, "old rose", 18, 20),
    # several alike
    "3 pear 11 x 7": Says(3, "pear", 11, 7),
    "2x rose 5 x 5": Says(2, "rose", 5, 5),
    "2 x rose 5 x 5": Says(2, "rose", 5, 5),
    "2× rose 5 x 5": Says(2, "rose", 5, 5),
    "a dozen rose 5 x 5": Says(12, "rose", 5, 5),
    "a pair of rose 5 x 5": Says(2, "rose", 5, 5),
    "half a dozen pieces rose 5 x 5": Says(6, "rose", 5, 5),
    # strips
    "4 strips bark 2 1/2 x 38": Says(4, "bark", 2.5, 38),
    "4 strips of bark 2 1/2 x 38": Says(4, "bark", 2.5, 38),
    "4 bark strips 2 1/2 x 38": Says(4, "bark", 2.5, 38),
    "bark 4 strips 2 1/2 x 38": Says(4, "bark", 2.5, 38),
    "two strips bark 2 1/2 x 38": Says(2, "bark", 2.5, 38),
    "twelve bark strips 2 1/2 x 38": Says(12, "bark", 2.5, 38),
    "bark strip 2 1/2 x 38": Says(1, "bark", 2.5, 38),
    "bark 2 1/2 x 38 strip": Says(1, "bark", 2.5, 38),
    '4 strips bark 2 1/2" x WOF': Says(4, "bark", 42, 2.5),
    "4 strips bark 2 1/2 x width of fabric": Says(4, "bark", 42, 2.5),
    "bark 2 1/2 x 38 (4)": Says(4, "bark", 2.5, 38),
    "bark - 4 strips 2 1/2 x 38": Says(4, "bark", 2.5, 38),
    "leftover strip bark 2 1/2 x 38": Says(1, "bark", 2.5, 38),
    "bark 2 and 1/2 x 38": Says(1, "bark", 2.5, 38),
    # squares
    "20 squares mist 5 cut": Says(20, "mist", 5, 5),
    "20 mist squares 5 cut": Says(20, "mist", 5, 5),
    '20 5" squares mist': Says(20, "mist", 5, 5),
    "20 5-inch squares mist": Says(20, "mist", 5, 5),
    "20 squares of 5 in mist": Says(20, "mist", 5, 5),
    'mist 6 1/2" square': Says(1, "mist", 6.5, 6.5),
    "square mist about 5": Says(1, "mist", 5, 5),
    "20 squares mist 5 each": Says(20, "mist", 5, 5),
    # triangles
    "lilac triangle 12 x 12": Says(1, "lilac", 12, 12, 3),
    "triangle plum 14 x 9": Says(1, "plum", 14, 9, 3),
    "plum 14 x 9 triangle": Says(1, "plum", 14, 9, 3),
    "half square plum 14": Says(1, "plum", 14, 14, 3),
    "plum half-square 14": Says(1, "plum", 14, 14, 3),
    "3 half-square triangles plum 5": Says(3, "plum", 5, 5, 3),
    # what else is said
    "navy about 11 x 7": Says(1, "navy", 11, 7),
    "about 11 x 7 navy": Says(1, "navy", 11, 7),
    "navy roughly 11 x 7": Says(1, "navy", 11, 7),
    "navy 18 x 30 about, raw": Says(1, "navy", 18, 30),
    "navy raw 18 x 30": Says(1, "navy", 18, 30),
    "oat 20 x 14 less 7 x 4": Says(1, "oat", 20, 14, 6),
    "oat 12 x 9 less 3 x 2 top left": Says(1, "oat", 12, 9, 6),
    "pear 12 x 15, stain 3 x 2 at 4 5": Says(1, "pear", 12, 15),
    "oat 9 x 9, grain unknown": Says(1, "oat", 9, 9),
    "bark 6 x 17, use first": Says(1, "bark", 6, 17),
    "bark 6 x 17 do not touch": Says(1, "bark", 6, 17),
    "bark 6 x 17 unwashed": Says(1, "bark", 6, 17),
    "bark 6 x 17, not washed": Says(1, "bark", 6, 17),
    "oat 5 x 5, note bought for 3,50": Says(1, "oat", 5, 5),
    "oat-3: oat 9 x 9": Says(1, "oat", 9, 9),
    # as it is bought
    "3 fat quarters plum": Says(3, "plum", 21, 18),
    "plum fat quarter": Says(1, "plum", 21, 18),
    "3 FQs plum": Says(3, "plum", 21, 18),
    "fat quarter plum 22 x 18": Says(1, "plum", 22, 18),
    "1 fat eighth mist": Says(1, "mist", 21, 9),
    "20 charm squares greens": Says(20, "greens", 5, 5),
    "20 charm squares greens 4 1/2": Says(20, "greens", 4.5, 4.5),
    "8 layer squares greens": Says(8, "greens", 10, 10),
    "strip bundle of 40 greens": Says(40, "greens", 42, 2.5),
    "2 strip bundles of 20 from greens": Says(40, "greens", 42, 2.5),
    "bundle of 40 strips greens": Says(40, "greens", 42, 2.5),
    "bundle of 12 fat quarters greens": Says(12, "greens", 21, 18),
    "pack of 42 charm squares greens": Says(42, "greens", 5, 5),
    "1/2 yd oat": Says(1, "oat", 42, 18),
    "oat 1 1/2 yd": Says(1, "oat", 42, 54),
    "half a yard of oat": Says(1, "oat", 42, 18),
    "2 half yards oat": Says(2, "oat", 42, 18),
    "quarter yard oat": Says(1, "oat", 42, 9),
    "long quarter oat": Says(1, "oat", 42, 9),
    "three quarters of a yard of oat": Says(1, "oat", 42, 27),
    "a yard of oat": Says(1, "oat", 42, 36),
    "1/2 yd oat 40 wide": Says(1, "oat", 40, 18),
    "91.44 cm oat": Says(1, "oat", 42, 36),
}

# words that change nothing, wherever they stand: a piece and a strip are cloth of the size told, cut edges are true
FILLERS: Final = {
    "a",
    "cut",
    "each",
    "from",
    "leftover",
    "of",
    "piece",
    "pieces",
    "rectangle",
    "remnant",
    "scrap",
    "strip",
    "strips",
}
# a line and the place of a word that says what is so without it too
SAID_TWICE: Final = {
    ("1 fat eighth mist", 0),
    ("2 x rose 5 x 5", 1),
    ("20 charm squares greens", 2),
    ("pack of 42 charm squares greens", 0),
    ("pack of 42 charm squares greens", 4),
    ("20 charm squares greens 4 1/2", 2),
    ("20 squares of 5 in mist", 4),
    ("3 half-square triangles plum 5", 2),
    ("bark 2 and 1/2 x 38", 2),
    ('4 strips bark 2 1/2" x WOF', 5),
    ("4 strips bark 2 1/2 x width of fabric", 5),
    ("bark 2 1/2 wide x 38 long", 3),
    ("bark 2 1/2 wide x 38 long", 4),
    ("bark 2 1/2 wide x 38 long", 6),
    ("bark 38 long x 2 1/2 wide", 2),
    ("bark 38 long x 2 1/2 wide", 3),
    ("bark 38 long x 2 1/2 wide", 6),
    ("bundle of 12 fat quarters greens", 0),
    ("rose 6.5 by 9 in", 4),
    ("rose 6.5 in by 9 in", 2),
    ("rose 6.5 in by 9 in", 5),
}

# what is asked back, with the mends that must themselves read
ASKED: Final = {
    "two rose 5 x 5": ("2 rose 5 x 5", '"two rose" 5 x 5'),
    "two tone blue 5 x 5": ("2 tone blue 5 x 5", '"two tone blue" 5 x 5'),
    "raw silk 18 x 20": ("silk 18 x 20 raw", '"raw silk" 18 x 20'),
    "star square blue 5 x 5": (
        "square star blue 5 x 5",
        '"star square blue" 5 x 5',
    ),
    "dawn raw blue 5 x 7, use first": (
        "dawn blue 5 x 7 raw, use first",
        '"dawn raw blue" 5 x 7, use first',
    ),
    "4 stirps bark 2 1/2 x 38": (
        "4 strips bark 2 1/2 x 38",
        '4 "stirps bark" 2 1/2 x 38',
    ),
    "cream, red 5 x 5": ('"cream, red" 5 x 5',),
    'mist 5" squares': ('2 mist 5" squares',),
    "strips bark 2 1/2 x 38": ("2 strips bark 2 1/2 x 38",),
    "fat quarters plum": ("2 fat quarters plum",),
    "strip bundle greens": ("strip bundle of 40 greens",),
    "1 strip bundle of greens": ("1 strip bundle of 40 of greens",),
    '2 triangles navy 6"': ('2 triangles navy 6" x 6"',),
    "1/4 yard cuts of rose": ("1/4 yard 2 cuts of rose",),
    '6 strips navy 2 1/2"': ('6 strips navy 2 1/2" x WOF',),
    "navy 12 x 12 stained": (),
    "bundle of oat": ("strip bundle of 40 oat",),
    "fat quarter plum 12 x 18": ("fat quarter plum 18 x 12",),
    "linen 50 cm": ("50 cm linen", "linen 50 cm x 50 cm"),
    "2 1/2 x 1 yd oat": ("2 1/2 in x 1 yd oat",),
    "pear 5 x 5 x 2": ("2 pear 5 x 5",),
    "some rose 5 x 5": ("2 rose 5 x 5",),
    "hexagon pear 5 x 5": ('"hexagon pear" 5 x 5',),
    "oat 2,5 x 3": ("oat 2.5 x 3",),
    "oat 2 x 3,5": ("oat 2 x 3.5",),
}
