"""Recipes in sentences. Invented; sizes in inches unless the name says otherwise."""

from cutopt.quilt.pieced.library import TRADITIONAL

POCKET = """
[how]
binding_from = "finished"
overage_from = "finished"
back_overage = "4"
square_up_end = "0"
"""

# The six worked quilts of the strip method, told in sentences (invented; sums are arithmetic identities).
SIX = {
    "E1": 'blocks = ["square: 99 squares of 5 cut from scrap top"]\nsetting = "9 across, 11 down"\n',
    "E2": (
        'blocks = ["ninth: 20 nine patches of 12 from dark and light"]\n'
        'setting = "4 across, 5 down, inner sashing 2 with cornerstones, from sashing and cornerstones"\n'
        'borders = ["3 from border"]\n'
    ),
    "E3": (
        'blocks = ["leaf: 140 half-square triangles of 6, two at a time, from dark and light"]\n'
        'setting = "10 across, 14 down"\nborders = ["4 from border"]\n'
    ),
    "E4": (
        'blocks = ["quarter: 32 four patches of 12 from A and B", "plain: 31 squares of 12 from plain"]\n'
        'setting = "7 across, 9 down"\nborders = ["3 from border"]\n'
    ),
    "E5": (
        'blocks = ["square: 80 squares of 4 1/2 cut from scrap top"]\nsetting = "8 across, 10 down"\n'
        'borders = ["2 from border"]\n'
    ),
    "E6": (
        'blocks = ["block: 18 squares of 12 from blocks"]\nsetting = "3 across, 4 down, on point, from setting"\n'
        'borders = ["5 from border"]\n'
    ),
}

# One of each kind of block and setting, to be drawn.
DRAWN = {
    "squares": 'blocks = ["12 squares of 6"]\nsetting = "3 across, 4 down"\n',
    "oblongs": 'blocks = ["12 rectangles of 4 x 6"]\nsetting = "4 across, 3 down"\n',
    "two sizes": 'blocks = ["8 squares of 6", "2 rectangles of 6 x 12"]\nsetting = "3 across, 4 down"\n',
    "four patches": 'blocks = ["6 four patches of 8"]\nsetting = "2 across, 3 down"\n',
    "nine patches": 'blocks = ["6 nine patches of 9"]\nsetting = "2 across, 3 down"\n',
    "half squares": 'blocks = ["12 half-square triangles of 4, eight at a time"]\nsetting = "3 across, 4 down"\n',
    "hourglasses": 'blocks = ["6 hourglasses of 6"]\nsetting = "2 across, 3 down"\n',
    "geese": 'blocks = ["8 flying geese of 6 x 3, stitch and flip"]\nsetting = "2 across, 4 down"\n',
    "diamonds": 'blocks = ["4 squares in a square of 6"]\nsetting = "2 across, 2 down"\n',
    "disappearing": 'blocks = ["16 disappearing nine patches of 5 cut, pinwheel"]\nsetting = "4 across, 4 down"\n',
    "log cabins": 'blocks = ["4 log cabins, centre 2, logs 1, rounds 3"]\nsetting = "2 across, 2 down"\n',
    "economy blocks": 'blocks = ["6 economy blocks of 8"]\nsetting = "2 across, 3 down"\n',
    "framed squares": 'blocks = ["6 framed squares of 12, strips 2"]\nsetting = "2 across, 3 down"\n',
    "bricks": (
        'blocks = ["6 bricks of 2 x 6", "3 coins of 2 x 6", "3 panels of 2 x 6"]\nsetting = "4 across, 3 down"\n'
    ),
    "strip sets": 'blocks = ["6 strip sets of 2 + 1 + 3, segments 4"]\nsetting = "2 across, 3 down"\n',
    "bars": (
        'blocks = ["6 blocks of 6 made of 1 window of 4 from oat, upright; 2 bar of 1"]\nsetting = "2 across, 3 down"\n'
    ),
    "rows": (
        'blocks = ["6 blocks of 6 made of rows: 1 roof of 6 x 2; 1 wall of 2 x 4 + 1 door of 2 + 1 wall of 2 x 4"]\n'
        'setting = "2 across, 3 down"\n'
    ),
    "triangles in rows": (
        'blocks = ["6 blocks of 4 x 5 made of rows: 1 hst of 2 + 1 hst of 2, top right; 1 goose of 4, point down; '
        '1 snowball of 4 x 1, corner 1/2, top left"]\nsetting = "2 across, 3 down"\n'
    ),
    "inner sashing": (
        'blocks = ["12 squares of 6"]\nsetting = "3 across, 4 down, inner sashing 1 1/2 with cornerstones"\n'
    ),
    "framed sashing": 'blocks = ["12 squares of 6"]\nsetting = "3 across, 4 down, framed sashing 2"\n',
    "no cornerstones": (
        'blocks = ["12 rectangles of 5 x 7"]\nsetting = "3 across, 4 down, inner sashing 2 without cornerstones"\n'
    ),
    "framed, no cornerstones": (
        'blocks = ["12 squares of 6"]\nsetting = "3 across, 4 down, framed sashing 2 without cornerstones"\n'
    ),
    "between columns": (
        'blocks = ["12 flying geese of 6 x 3"]\nsetting = "3 columns of 4, sashing 2 between the columns"\n'
    ),
    "between rows": (
        'blocks = ["12 squares of 6"]\nsetting = "3 across, 4 down, sashing 1 + 1/2 + 1 between the rows"\n'
    ),
    "on point": 'blocks = ["18 squares of 12"]\nsetting = "3 across, 4 down, on point"\n',
    "on point, floating": (
        'blocks = ["8 nine patches of 9"]\nsetting = "2 across, 3 down, on point"\n[how]\nfloat_by = "1"\n'
    ),
    "half rectangles": (
        'blocks = ["4 half-rectangle triangles of 3 x 6", "left: 4 half-rectangle triangles of 3 x 6, leaning left"]\n'
        'setting = "4 across, 2 down"\n'
    ),
    "motifs": 'blocks = ["6 squares of 6, fussy, repeat 12", "60 60-degree triangles of 4"]\nsetting = "2 across, 3 down"\n',
    "stripes": (
        'blocks = ["6 squares of 6"]\nsetting = "2 across, 3 down"\nborders = ["6 from navy, stripe 10"]\n'
    ),
    "shirts": 'blocks = ["6 t-shirt blocks of 12 x 14 from shirts and interfacing"]\nsetting = "2 across, 3 down"\n',
    "three fabrics of sashing": (
        'blocks = ["12 squares of 6"]\nsetting = "3 across, 4 down, framed sashing 2 from oat and plum and pear"\n'
    ),
    "pieced sashing": (
        'blocks = ["12 rectangles of 5 x 7"]\n'
        'setting = "3 across, 4 down, framed sashing 1 + 1/2 + 1 from oat and plum and pear"\n'
    ),
    "pieced sashing, no cornerstones": (
        'blocks = ["12 squares of 6"]\n'
        'setting = "3 across, 4 down, framed sashing 1 + 1/2 + 1 without cornerstones, from oat and plum and pear"\n'
    ),
    "sashing on point": 'blocks = ["18 squares of 12"]\nsetting = "3 across, 4 down, on point, sashing 2"\n',
    "pieced sashing on point": (
        'blocks = ["8 nine patches of 9"]\n'
        'setting = "2 across, 3 down, on point, sashing 1 + 1/2 + 1 from oat and plum and pear and oat and pear"\n'
    ),
    "borders on two sides": (
        'blocks = ["6 squares of 6"]\nsetting = "2 across, 3 down"\n'
        'borders = ["1 at the sides, 2 at top and bottom", "2, sides only", "1, top and bottom only"]\n'
    ),
    "borders of squares": (
        'blocks = ["6 squares of 6"]\nsetting = "2 across, 3 down"\n'
        'borders = ["coping", "squares of 2 from oat and pear and plum", "coping at least 1", "keys of 1 1/2 x 3 from oat"]\n'
    ),
    "borders round a top": 'top = "20 1/2 x 30"\nborders = ["2 from oat", "1, corner squares from pear"]\n',
    "borders": (
        'blocks = ["6 squares of 6"]\nsetting = "2 across, 3 down"\n'
        'borders = ["1 from oat", "3 from pear, mitred", "2 from oat, corner squares from pear", "1, ends first"]\n'
    ),
}

# The traditional blocks, of two inches to a part, and a pair of them on point.
DRAWN |= {
    f"{pattern.many}": f'blocks = ["6 {pattern.many} of {2 * pattern.parts}"]\nsetting = "2 across, 3 down"\n'
    for pattern in TRADITIONAL.values()
}
DRAWN["rail fences on point"] = (
    'blocks = ["8 rail fences of 6"]\nsetting = "2 across, 3 down, on point"\n'
)
