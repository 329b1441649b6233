"""What goes round blocks and tops, said as makers say it. Invented quilts; sums are counting and identities."""

from __future__ import annotations

import re
from collections import Counter

import pytest
from shapely.geometry import Polygon

from cutopt.errors import JobError
from cutopt.lengths import INCH
from cutopt.quilt.backs.seams import TopSeams
from cutopt.quilt.recipe.layout import MEASURED, patches_of
from cutopt.quilt.recipe.long_seams import long_seams
from cutopt.quilt.recipe.quilt import Quilt
from cutopt.quilt.surds import ROOT2
from cutopt.tables.recipe.quilt import quilt
from tests.quilt.sums import inch

TWENTY = 'blocks = ["20 squares of 12 from sky"]\n'
EIGHTEEN = 'blocks = ["18 squares of 12 from sky"]\n'
TOP = 'top = "58 x 66"\nbinding = "no"\n'


def of(made: Quilt) -> dict[str, tuple[str, ...]]:
    return {row.name: row.fabrics for row in made.wanted}


def counts(made: Quilt) -> dict[str, int]:
    return {row.name: row.count for row in made.wanted}


def set_so(words: str, blocks: str = TWENTY) -> Quilt:
    return quilt(f'{blocks}setting = "{words}"\nbinding = "no"\n')


def bordered(*borders: str, top: str = TOP) -> Quilt:
    lines = ", ".join(f'"{border}"' for border in borders)
    return quilt(f"{top}borders = [{lines}]\n")


def told(text: str) -> str:
    with pytest.raises(JobError) as problem:
        quilt(text)
    return str(problem.value)


SETTINGS = {
    "4 across, 5 down, inner sashing 2 from cream and gold": {
        "sash": ("cream",),
        "cornerstone": ("gold",),
    },
    "4 across, 5 down, inner sashing 2 with cornerstones from cream and gold": {
        "sash": ("cream",),
        "cornerstone": ("gold",),
    },
    "4 across, 5 down, framed sashing 2 from cream and gold and red": {
        "sash": ("cream",),
        "frame sash": ("red",),
        "cornerstone": ("gold",),
    },
    "4 x 5, framed sashing 2 without cornerstones, from cream and red": {
        "short sash": ("cream",),
        "long sash": ("cream",),
        "end sash": ("red",),
        "side sash": ("red",),
    },
    "4 across, 5 down, 2 inch inner sashing, upright sashing from gold, level sashing from red, posts from cream": {
        "upright sash": ("gold",),
        "level sash": ("red",),
        "cornerstone": ("cream",),
    },
    "4 across, 5 down, inner sashing 2 from oat, no cornerstones, upright sashes from gold": {
        "short sash": ("gold",),
        "long sash": ("oat",),
    },
    "4 across, 5 down, inner sashing 1 + 1/2 + 1 from navy and cream and red": {
        "sash outer": ("navy",),
        "sash middle": ("cream",),
        "cornerstone": ("red",),
    },
    "4 across, 5 down, inner sashing 1 + 1 + 1 from navy, middle strips from cream, cornerstones from gold|red": {
        "sash outer": ("navy",),
        "sash middle": ("cream",),
        "cornerstone": ("gold", "red"),
    },
}
ON_POINT = {
    "3 across, 4 down, on point, from mist": {
        "side triangles": ("mist",),
        "corner triangles": ("mist",),
    },
    "3 across, 4 down, on point, from mist and night": {
        "side triangles": ("mist",),
        "corner triangles": ("night",),
    },
    "3 across, 4 down, on point, corner triangles from night, setting triangles from mist": {
        "side triangles": ("mist",),
        "corner triangles": ("night",),
    },
    "3 across, 4 down, on point, sashing 2 with posts, from oat and plum and mist": {
        "sash": ("oat",),
        "cornerstone": ("plum",),
        "edge cornerstones": ("plum",),
        "side triangles": ("mist",),
        "corner triangles": ("mist",),
    },
}


@pytest.mark.parametrize(("words", "cloths"), SETTINGS.items(), ids=SETTINGS)
def test_every_fabric_of_a_sashing_is_used(
    words: str, cloths: dict[str, tuple[str, ...]]
) -> None:
    assert of(set_so(words)) == {"square": ("sky",)} | cloths


@pytest.mark.parametrize(("words", "cloths"), ON_POINT.items(), ids=ON_POINT)
def test_every_fabric_on_point_is_used(
    words: str, cloths: dict[str, tuple[str, ...]]
) -> None:
    assert of(set_so(words, EIGHTEEN)) == {"square": ("sky",)} | cloths


@pytest.mark.parametrize(
    ("words", "what"),
    [
        ("inner sashing 2 from cream and gold and red", "names 3: cream, gold, red"),
        ("from cream", "nothing is sewn between the blocks"),
        ("inner sashing 1 + 1 + 2 from navy and cream", "three strips"),
        ("with cornerstones from cream", "no sashing"),
        ("inner sashing 2, framed sashing 2", "two kinds of sashing"),
        ("inner sashing 2 without cornerstones, posts from red", "cornerstones"),
        ("frame from red, inner sashing 2", "frame"),
    ],
)
def test_what_a_setting_cannot_use_is_told(words: str, what: str) -> None:
    assert what in told(f'{TWENTY}setting = "4 across, 5 down, {words}"\n')


@pytest.mark.parametrize(
    ("words", "what"),
    [
        ("inner sashing 2", "goes?|lies round every block"),
        ("sashing 2 from oat and plum", "of what the triangles"),
        ("sashing 2, level sashing from oat", "no sashing is upright or level"),
        ("sashing 2 between the columns", "lies round every block"),
        ("sashing 2 without cornerstones", "meets in cornerstones"),
        ("from mist, upright", "look four ways"),
        ("from mist and night and oat", "names 3"),
    ],
)
def test_what_a_setting_on_point_cannot_use_is_told(words: str, what: str) -> None:
    text = f'{EIGHTEEN}setting = "3 across, 4 down, on point, {words}"\n'
    assert re.search(what, told(text))


def test_a_mend_of_sashing_on_point_reads() -> None:
    text = f'{EIGHTEEN}setting = "3 across, 4 down, on point, inner sashing 2"\n'
    (words,) = re.findall(r'write "(.*)"', told(text))
    made = set_so(words, EIGHTEEN)
    assert counts(made)["sash"] == 48


BORDERS = {
    "3 at the sides, 4 at top and bottom, from oat": ("6", "8"),
    "sides 3, top and bottom 4": ("6", "8"),
    "3 from oat, top and bottom only": ("0", "6"),
    "4 at top and bottom from oat": ("0", "8"),
    "only at the sides, 2 1/2 from oat": ("5", "0"),
    "3 inch border from oat": ("6", "6"),
    "border of squares of 1/2 from oat and plum": ("1", "1"),
    "squares of 1/2, alternating from oat and plum": ("1", "1"),
    "piano keys of 1/2 x 4 from oat and plum, corner squares from navy": ("8", "8"),
    "flange 1/4 from oat": ("0", "0"),
    "flange of 3/8 from oat": ("0", "0"),
}


@pytest.mark.parametrize(("words", "more"), BORDERS.items(), ids=BORDERS)
def test_borders_round_a_measured_top(words: str, more: tuple[str, str]) -> None:
    """A raw top of 58 x 66 is 57 1/2 x 65 1/2 finished; each border adds twice its width (identity)."""
    made = bordered(words)
    assert made.finished == (
        inch("57 1/2") + inch(more[0]),
        inch("65 1/2") + inch(more[1]),
    )
    assert any("through the middle" in note for note in made.notes)


def test_binding_backing_and_batting_go_by_the_top_with_its_borders() -> None:
    """58 x 66 and two borders of 3 and 2 is 68 x 76 raw; 2 more of backing on every side 72 x 80 (identity)."""
    made = bordered("3 from oat", "2", top='top = "58 x 66"\nbacking = "any"\n')
    need = made.backing_size
    assert need is not None
    assert (need.width, need.length) == (inch("72"), inch("80"))
    (binding,) = [row for row in made.wanted if row.name == "binding"]
    assert "2 x (68 + 76) + 10 = 298" in binding.why


def test_the_mend_of_an_uneven_border_reads() -> None:
    text = f'{TOP}borders = ["squares of 2 from navy and cream"]\n'
    said = told(text)
    assert "1 1/4 wide at the sides and 1 1/4 at top and bottom" in said
    (words,) = re.findall(r'write "(coping)"', said)
    made = bordered(f"{words} from oat", "squares of 2 from navy and cream")
    assert counts(made)["border 2 square 1"] == 66
    assert made.finished == (inch("64"), inch("72"))
    wider = bordered("coping at least 2 from oat", "squares of 2 from navy")
    assert wider.borders[0].sides == inch("2 1/4")


@pytest.mark.parametrize(
    ("borders", "what"),
    [
        (("3 from oat and plum",), "names 2 fabrics for a border of one"),
        (("scrappy from oat and plum, 3",), "names 2 fabrics for a border of one"),
        (("coping from oat",), "none of squares or rectangles"),
        (("coping from oat", "3"), "none of squares or rectangles"),
        (("2 coping from oat", "squares of 2"), "which is worked out"),
        (("3, mitred, sides only",), "has no corners"),
        (("3 at the sides, 4 at top and bottom, mitred",), "not mitred at 45"),
        (("3, 4 at the sides",), "says a width twice"),
        (("3 at the sides, top and bottom only",), "a width for the others"),
        (("flange from oat",), "how wide the flange shows"),
        (("3, at most 2 each",), "at most 2 each"),
        (("border from oat",), "does not say how wide"),
    ],
)
def test_what_a_border_cannot_use_is_told(borders: tuple[str, ...], what: str) -> None:
    lines = ", ".join(f'"{border}"' for border in borders)
    assert what in told(f"{TOP}borders = [{lines}]\n")


def test_a_trimmed_quilt_gets_no_border() -> None:
    text = 'top = "58 x 66"\nmeasured = "trimmed"\nborders = ["3"]\n'
    assert "gets no borders" in told(text)


def test_a_top_or_a_setting() -> None:
    text = f'{TWENTY}top = "58 x 66"\nsetting = "4 across, 5 down"\n'
    assert "keep the top or the setting" in told(text)


def test_the_picture_of_a_measured_top_is_one_field_with_its_borders() -> None:
    """2 + 2 strips, 2 x 30 + 2 x 34 + 4 squares (counting), and they fill the whole (union by shapely)."""
    made = bordered("coping from oat", "squares of 2 from navy and cream")
    drawn = patches_of(made)
    assert Counter(patch.row == MEASURED for patch in drawn) == {True: 1, False: 136}
    assert made.finished is not None
    width, length = (float(side) for side in made.finished)
    shapes = [Polygon(patch.corners) for patch in drawn]
    assert sum(shape.area for shape in shapes) == pytest.approx(width * length)
    squares = [patch for patch in drawn if "square" in patch.row]
    beside = [
        (one, other)
        for n, one in enumerate(squares)
        for other in (squares[(n + 1) % len(squares)],)
    ]
    assert all(one.row != other.row for one, other in beside)
    touching = [Polygon(a.corners).touches(Polygon(b.corners)) for a, b in beside]
    assert all(touching)


def test_seams_of_a_back_keep_off_the_borders() -> None:
    """Borders of 3 and 4 round 57 1/2 x 65 1/2: seams 3 from the sides, 4 from top and bottom (identity)."""
    made = bordered("3 at the sides, 4 at top and bottom")
    assert long_seams(made) == TopSeams(
        upright=(inch("3"), inch("60 1/2")),
        level=(inch("4"), inch("69 1/2")),
        whole=False,
    )
    assert long_seams(quilt(TOP)) is None


EDGES = {
    # as much of each, which is told beside it
    "from plum and bark": 2,
    "scrappy from plum and bark and navy": 3,
    "2 1/4 inch strips, scrappy from plum and bark, by machine, mitred corners": 2,
    "plum, bias strips": 1,
    "bias cut singly from plum": 1,
    "scrappy from plum and bark, bias strips": 2,
    "continuous bias from plum": 1,
    "backing brought to the front, 3/4": 0,
    "self-binding": 0,
}


@pytest.mark.parametrize(("words", "rows"), EDGES.items(), ids=EDGES)
def test_edges(words: str, rows: int) -> None:
    made = quilt(f'top = "58 x 66"\nbinding = "{words}"\nbacking = "any"\n')
    assert len(made.wanted) == rows


def test_a_backing_brought_round_is_larger_where_it_has_to_be() -> None:
    """2 x 1 and 1 to trim by make 3 on every side: 64 x 72; the batting stays at 62 x 70 (identity)."""
    made = quilt(
        'top = "58 x 66"\nbinding = "backing brought to the front, 1"\nbacking = "any"\n'
    )
    back, batting = made.backing_size, made.batting_size
    assert back is not None
    assert batting is not None
    assert (back.width, batting.width) == (inch("64"), inch("62"))
    assert any("2 x 1 = 2 beyond the trimmed edge" in note for note in made.notes)


@pytest.mark.parametrize(
    ("words", "what"),
    [
        ("no binding, from plum", "says no binding, and one"),
        ("scrappy from bark", "name several"),
        ("bias from plum, upright", "cut on the bias"),
        ("from plum, at most 2 each", "at most 2 each"),
        ("backing brought to the front from plum", "the edge is of the backing"),
        ("scrappy from plum and bark, bias", "of one fabric"),
        ("bias from plum, bias strips", "says both"),
    ],
)
def test_what_an_edge_cannot_use_is_told(words: str, what: str) -> None:
    assert what in told(f'top = "58 x 66"\nbinding = "{words}"\n')


SLEEVES = {
    "4 inch sleeve from oat": ("8 1/2", ("oat",)),
    "from oat": ("8 1/2", ("oat",)),
    "oat, 3 deep": ("6 1/2", ("oat",)),
    "4 from oat": ("8 1/2", ("oat",)),
    "pieced from oat and plum": ("8 1/2", ("oat", "plum")),
    "hanging sleeve, mixed from oat and plum": ("8 1/2", ("oat", "plum")),
}


@pytest.mark.parametrize(("words", "row"), SLEEVES.items(), ids=SLEEVES)
def test_sleeves_in_words(words: str, row: tuple[str, tuple[str, ...]]) -> None:
    """2 x 4 + 2 x 1/4 = 8 1/2 (identity); 58 - 2 + 2 x 1/2 = 57 long (common practice, no source)."""
    (sleeve,) = quilt(f'{TOP}sleeve = "{words}"\n').wanted
    assert (sleeve.width, sleeve.fabrics) == (inch(row[0]), row[1])


def test_two_fabrics_of_a_sleeve_are_asked_back() -> None:
    assert "pieced, from oat and plum" in told(f'{TOP}sleeve = "from oat and plum"\n')


def test_a_size_found_with_sashing_on_point_and_borders_of_two_widths() -> None:
    """13 blocks of 6, sashing 1: 3 x 3 and 4 between; 3 x 7√2 = 29.70 and 4 more, 6 more (identity)."""
    text = (
        'blocks = ["13 squares of 6 from sky"]\n'
        'setting = "as large as it goes, on point, sashing 1"\n'
        'borders = ["2 at the sides, 3 at top and bottom"]\nbinding = "no"\n'
    )
    made = quilt(text)
    assert made.setting is not None
    assert (made.setting.across, made.setting.down) == (3, 3)
    assert made.finished is not None
    assert made.finished[0] == 21 * ROOT2 * INCH + inch("4")
    assert made.finished[1] == 21 * ROOT2 * INCH + inch("6")
    assert any("2 at the sides and 3 at top and bottom" in note for note in made.notes)


def test_coping_round_a_size_that_is_found_is_asked_back() -> None:
    text = (
        f'{TWENTY}setting = "as large as it goes"\n'
        'borders = ["coping", "squares of 2"]\n'
    )
    assert "that is to be found" in told(text)
