"""A pieced back as it is drawn: at scale, every part and seam named once, in the fabrics and in grey."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace

import pytest
from matplotlib.colors import to_hex
from matplotlib.figure import Figure
from matplotlib.patches import FancyBboxPatch, PathPatch, Rectangle

from cutopt.draw.looks import look_of, tinted
from cutopt.draw.pieced_back import draw_pieced_back, pieced_back
from cutopt.errors import Problem
from cutopt.plan import Plan
from cutopt.sewn_back import SewnBack, sewn_backs
from tests.draw.labels_checked import check_labels, texts, whole
from tests.draw.sample_backs import orchard_back_plan, random_back


def made(plan: Plan) -> SewnBack:
    assert plan.origin is not None
    return sewn_backs(plan.origin, plan)[0]


def drawn(plan: Plan) -> Figure:
    return whole(draw_pieced_back(plan, "B1"))


def circled(figure: Figure) -> list[str]:
    """What stands in a circle."""
    grounds = ((text, text.get_bbox_patch()) for text in texts(figure))
    return [
        text.get_text()
        for text, ground in grounds
        if isinstance(ground, FancyBboxPatch)
        and type(ground.get_boxstyle()).__name__ == "Circle"
    ]


def told_below(said: str, noun: str) -> list[str]:
    """The numbers or letters that have no room in the picture."""
    found = re.search(rf"no room for {noun}s? (\w+(?:, \w+)*)", said)
    if found is None:
        return []
    return found[1].split(", ")


def test_what_has_no_room_is_told_once_in_order() -> None:
    _, plan, _ = random_back(5, parts=18)
    assert plan.origin is not None
    figure = pieced_back(plan.origin, made(plan), 45.0)
    check_labels(figure)
    said = " | ".join(text.get_text() for text in texts(figure))
    numbers = list(map(int, told_below(said, "number")))
    assert len(numbers) > 1
    assert numbers == sorted(set(numbers))
    shown = set(map(int, circled(figure)))
    assert shown | set(numbers) == {step.n for step in made(plan).steps}
    assert said.count("no room for number") == 1


@pytest.mark.parametrize("seed", range(6))
def test_labels_of_backs_do_not_overlap_and_every_seam_has_its_number(
    seed: int,
) -> None:
    _, plan, _ = random_back(seed, parts=3 + 3 * seed)
    figure = drawn(plan)
    check_labels(figure)
    numbers = Counter(map(int, circled(figure)))
    said = " ".join(text.get_text() for text in texts(figure))
    for step in made(plan).steps:
        named = str(step.n) in told_below(said, "number")
        assert numbers[step.n] == int(not named)
    for part in made(plan).parts:
        bold = [t for t in texts(figure) if t.get_text() == part.letter]
        assert len(bold) == int(part.letter not in told_below(said, "letter"))
    assert said.count("no room for number") <= 1


def test_the_orchard_back_is_lettered_and_numbered_in_full() -> None:
    figure = drawn(orchard_back_plan())
    check_labels(figure)
    words = {text.get_text() for text in texts(figure)}
    assert set("ABCDEFGHI") < words
    assert sorted(circled(figure)) == list("12345678")
    # 30 less a raw seam at one side: 29 1/2; 20 less a seam of 1/4: 19 3/4
    assert "19 3/4 x 29 1/2\npear" in words
    assert "12 x 12\nhen" in words
    assert {"44 in", "52 in", "the quilt, once trimmed: 40 x 48 in"} < words
    large = [t for t in texts(figure) if t.get_text() in "ABCDEFGHI"]
    assert min(text.get_fontsize() for text in large) >= 11


def test_parts_are_drawn_at_scale_in_their_fabrics_and_blocks_with_a_pattern() -> None:
    plan = orchard_back_plan()
    back = made(plan)
    ax = draw_pieced_back(plan, "B1")
    filled = (p for p in ax.findobj(Rectangle) if p.get_fill() and p is not ax.patch)
    boxes = [p for p in filled if not p.get_linewidth()]
    assert len(boxes) == 9
    scales = {
        round(box.get_width() / float(part.box[2]), 9)
        for box, part in zip(boxes, back.parts, strict=True)
    }
    assert len(scales) == 1
    assert plan.origin is not None
    for box, part in zip(boxes, back.parts, strict=True):
        if part.block is None:
            look = look_of(plan.origin, part.fabric)
            assert to_hex(box.get_facecolor()) == tinted(look.colour, 0.5)
            assert (box.get_hatch() or "") == look.hatch
        else:
            assert to_hex(box.get_facecolor()) == "#ffffff"
    assert len(ax.findobj(PathPatch)) >= 9  # three squares in each of three blocks


def test_dashes_show_the_quilt_once_it_is_trimmed() -> None:
    plan = orchard_back_plan()
    ax = draw_pieced_back(plan, "B1")
    frames = [p for p in ax.findobj(Rectangle) if not p.get_fill()]
    sizes = sorted((p.get_width(), p.get_height()) for p in frames)[-2:]
    (inner, outer) = sizes
    # 2 in of overage all round: 40 of 44, 48 of 52
    assert inner[0] / outer[0] == pytest.approx(40 / 44)
    assert inner[1] / outer[1] == pytest.approx(48 / 52)
    assert {p.get_linestyle() for p in frames} > {"solid"}


def test_a_back_is_drawn_on_axes_of_ones_own_and_as_high_as_it_may_be() -> None:
    plan = orchard_back_plan()
    figure = drawn(plan)
    ax = figure.axes[0]
    assert draw_pieced_back(plan, "B1", ax=ax) is ax
    check_labels(figure)
    assert plan.origin is not None
    low = pieced_back(plan.origin, made(plan), 100.0)
    assert low.get_figheight() * 25.4 <= 100.01
    check_labels(low)


def test_a_back_that_is_not_there_is_a_problem() -> None:
    with pytest.raises(Problem, match="B2"):
        draw_pieced_back(orchard_back_plan(), "B2")
    with pytest.raises(Problem, match="carry"):
        draw_pieced_back(replace(orchard_back_plan(), origin=None), "B1")
