"""Pictures of the quilt and of backings: at scale, in the colours of the fabrics, with their measurements."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest
from matplotlib.colors import to_hex
from matplotlib.figure import Figure
from matplotlib.patches import Polygon as Patch
from matplotlib.patches import Rectangle

from cutopt.answers import backing_to_buy
from cutopt.answers.backing import cloth_of_way
from cutopt.check import check
from cutopt.draw.backing import _wrapped, draw_backing, sewn_size
from cutopt.draw.lengths import cut_to_size, cutting_order, draw_length
from cutopt.draw.letters import names_of, shown
from cutopt.draw.looks import look_of
from cutopt.draw.quilt import LACKING, draw_quilt, fabrics_of
from cutopt.draw.sheet import blank_sheet
from cutopt.errors import Problem
from cutopt.fabric import Fabric
from cutopt.job import Job
from cutopt.lengths import INCH
from cutopt.plan import Plan, Short, Source, Use
from cutopt.quilt.backs.cut_order import numbered, slices
from cutopt.quilt.backs.marks import mark_of
from cutopt.quilt.backs.sewn import parts_of
from cutopt.quilt.recipe.layout import patches_of
from cutopt.quilt.surds import exact
from cutopt.solve.control.stop import Work
from cutopt.solve.solver import solve
from cutopt.tables import read_job
from cutopt.tables.recipe.quilt import quilt_of
from cutopt.wanted import Cut
from tests.places import ROOT


@pytest.fixture(scope="module")
def orchard() -> Job:
    return read_job(ROOT / "data" / "orchard")


def words(figure: Figure) -> set[str]:
    return {text.get_text() for text in figure.axes[0].texts}


def test_the_quilt_is_drawn_at_scale(orchard: Job) -> None:
    """20 + 20 + 40 + 32 + 24 + 10 + 10 + 16 + 8 + 2 patches, and the whole is 42 to 48 (arithmetic identities)."""
    figure = draw_quilt(orchard)
    filled = [
        p for p in figure.axes[0].patches if isinstance(p, Patch) and p.get_fill()
    ]
    made = quilt_of(orchard)
    assert made is not None
    assert len(filled) == len(patches_of(made)) == 182
    corners = [corner for p in filled for corner in p.get_xy()]
    xs, ys = zip(*corners, strict=True)
    assert (max(xs) - min(xs)) / (max(ys) - min(ys)) == pytest.approx(42 / 48)
    assert {"42 in", "48 in", "block 6"} <= words(figure)


def test_each_patch_has_the_colour_of_its_fabric(orchard: Job) -> None:
    figure = draw_quilt(orchard)
    drawn = {
        to_hex(p.get_facecolor())
        for p in figure.axes[0].patches
        if isinstance(p, Patch) and p.get_fill()
    }
    assert drawn == {look_of(orchard, fabric.name).colour for fabric in orchard.fabrics}


def test_a_plan_decides_how_many_of_each_fabric(orchard: Job) -> None:
    """Of 8 plain squares, 6 mist and 2 oat in the plan: so in the picture."""
    made = quilt_of(orchard)
    assert made is not None
    mist = next(p for p in orchard.pieces if p.fabric == "mist")
    oat = next(p for p in orchard.pieces if p.fabric == "oat")
    sources = (
        Source(id="S1", piece=mist.name, copy=1),
        Source(id="S2", piece=oat.name, copy=1),
    )
    uses = tuple(Use(part=part, for_="cuts/sky") for part in ["S1"] * 6 + ["S2"] * 2)
    plan = Plan(job=orchard.digest, sources=sources, uses=uses, origin=orchard)
    drawn = patches_of(made)
    named = fabrics_of(orchard, drawn, plan)
    sky = Counter(
        name
        for patch, name in zip(drawn, named, strict=True)
        if patch.row == "cuts/sky"
    )
    assert sky == {"mist": 6, "oat": 2}


def test_what_the_plan_lacks_is_drawn_as_missing(orchard: Job) -> None:
    """Of 8 plain squares the plan cuts 5 and says that 3 are short: 5 in mist, and 3 crossed (counting)."""
    made = quilt_of(orchard)
    assert made is not None
    mist = next(p for p in orchard.pieces if p.fabric == "mist")
    sources = (Source(id="S1", piece=mist.name, copy=1),)
    uses = tuple(Use(part="S1", for_="cuts/sky") for _ in range(5))
    short = (Short(for_="cuts/sky", count=3),)
    plan = Plan(
        job=orchard.digest, sources=sources, uses=uses, short=short, origin=orchard
    )
    drawn = patches_of(made)
    sky = Counter(
        name
        for patch, name in zip(drawn, fabrics_of(orchard, drawn, plan), strict=True)
        if patch.row == "cuts/sky"
    )
    assert sky == {"mist": 5, LACKING: 3}
    told = words(draw_quilt(orchard, plan))
    assert "missing" in told
    assert any("does not cut them" in text for text in told)


def test_a_square_that_is_missing_lacks_both_of_its_triangles(tmp_path: Path) -> None:
    """4 pinwheels of 6: 16 units from 8 squares of 3 7/8 each; 7 of plum are there (27 1/8 of 28): 14 triangles of 16."""
    files = {
        "job.toml": 'name = "pinwheels"\n',
        "pile.txt": "oat 40 x 40\nplum 3 7/8 x 28\n",
        "quilt.toml": 'blocks = ["4 pinwheels of 6 from oat and plum"]\nsetting = "2 across, 2 down"\nbinding = "no"\n',
    }
    for name, text in files.items():
        (tmp_path / name).write_text(text)
    job = read_job(tmp_path)
    plan = solve(job, stop=Work(50)).plan
    assert check(job, plan) == []
    made = quilt_of(job)
    assert made is not None
    drawn = patches_of(made)
    fabrics = Counter(fabrics_of(job, drawn, plan))
    assert fabrics == {"oat": 16, "plum": 14, LACKING: 2}


def test_a_job_without_a_recipe_has_no_picture(orchard: Job) -> None:
    for text in ("", 'top = "58 x 66"\n'):
        with pytest.raises(Problem, match="no blocks and setting"):
            draw_quilt(replace(orchard, quilt=text))


def test_measurements_of_borders_and_sashing(orchard: Job) -> None:
    text = (
        'blocks = ["6 squares of 12 from oat"]\nsetting = "2 across, 3 down, inner sashing 2, from pear"\n'
        'borders = ["4 from bark"]\n'
    )
    assert {"34 in", "48 in", "block 12", "2", "4"} <= words(
        draw_quilt(replace(orchard, quilt=text))
    )


def test_the_backing_is_drawn_at_scale(orchard: Job) -> None:
    """Sewn panels cover the size to reach; each panel drawn is its cut width less its seams (identity)."""
    answer = backing_to_buy("60 x 80", orchard, words=["oat", "bark"])
    for way in answer.ways:
        if way.pieces:
            continue
        wide, high = sewn_size(way)
        assert wide >= float(answer.need.width) - 1
        assert high >= float(answer.need.length) - 1
    up = next(way for way in answer.ways if way.kind == "2 widths" and way.run == "up")
    seen = [
        p
        for p in draw_backing(answer, [up]).axes[0].patches
        if isinstance(p, Rectangle) and p.get_fill()
    ]
    panels = [p for p in seen if p.get_height() > 20]
    assert len(panels) == 2
    ratio = panels[0].get_width() / panels[0].get_height()
    assert ratio == pytest.approx(
        float(up.panels[0].width - exact(INCH // 2)) / float(up.panels[0].length),
        rel=1e-6,
    )


def test_recommended_ways_are_named(orchard: Job) -> None:
    said = " ".join(
        words(
            draw_backing(
                backing_to_buy("42 1/2 x 48 1/2", orchard, words=["oat", "mist"])
            )
        )
    )
    assert "costs least" in said
    assert "fewest seams" in said
    assert "the size to reach" in said


def test_long_names_are_replaced_before_a_text_is_broken_into_lines() -> None:
    """A name in two lines was not found any more, and stood there as it was typed."""
    name = "word " * 60 + "end"
    job = Job(
        fabrics=(Fabric(name=name),), cuts=(Cut(name="slat", width=INCH, length=INCH),)
    )
    with names_of(job):
        printed = shown(name)
        lines = _wrapped(blank_sheet()[1], f"{name}: whole", 60.0)
    assert len(lines) > 1
    assert " ".join(lines) == f"{printed}: whole" != f"{name}: whole"


def test_nothing_to_draw(orchard: Job) -> None:
    with pytest.raises(Problem, match="no way to draw"):
        draw_backing(backing_to_buy("60 x 80", orchard, words=["oat"]), [])


def test_where_the_parts_are_cut(orchard: Job) -> None:
    """Each part in its place on the length: as large together as the parts, none off the cloth, its size beside it."""
    answer = backing_to_buy("42 1/2 x 48 1/2", orchard, words=["oat"])
    first = cut_to_size(answer)[:1]
    figure = draw_length(answer, first[0].way)
    boxes = [patch for patch in figure.axes[0].patches if isinstance(patch, Rectangle)]
    cloth = max(boxes, key=lambda box: box.get_height())
    parts = [
        box for box in boxes if box.get_fill() and box.get_y() >= cloth.get_y() - 1e-6
    ]
    scale = cloth.get_height() / (108 * INCH)  # oat is 108 wide
    drawn = sum(box.get_width() * box.get_height() for box in parts) / scale**2
    assert drawn == pytest.approx(
        float(sum(p.width * p.height for p in parts_of(first[0].way.sewn))), rel=1e-6
    )
    for box in parts:
        assert box.get_x() + box.get_width() <= cloth.get_x() + cloth.get_width() + 1e-6
        assert (
            box.get_y() + box.get_height() <= cloth.get_y() + cloth.get_height() + 1e-6
        )
    for number, part in numbered(first[0].way.sewn).items():
        size = answer.how.size(part.place[2], part.place[3], answer.how.near)  # type: ignore[index]
        assert any(
            text.startswith(str(number)) and text.endswith(size)
            for text in words(figure)
        )
    assert cloth.get_height() > 60  # mm; it was about an inch


@pytest.mark.parametrize(
    "size", ["42 1/2 x 48 1/2", "58 x 66", "76 1/2 x 80", "90 x 104"]
)
def test_the_cuts_in_order_give_the_parts(orchard: Job, size: str) -> None:
    """Each cut done on a rectangle once more, by number: what it is told to be for is all that is left of it."""
    answer = backing_to_buy(size, orchard, words=["oat"])
    for way in answer.ways:
        cloth = cloth_of_way(way, answer)
        parts = numbered(way.sewn)
        held = {tuple(parts): (exact(0), exact(0), *cloth)} if parts else {}
        for cut in slices(way.sewn, cloth, mark_of(answer.how)):
            x, y, wide, long = held.pop(cut.of)
            rest = tuple(number for number in cut.of if number not in cut.off)
            if cut.axis == 1:
                held[cut.off], left = (
                    (x, y, wide, cut.size),
                    (x, y + cut.size, wide, long - cut.size),
                )
            else:
                held[cut.off], left = (
                    (x, y, cut.size, long),
                    (x + cut.size, y, wide - cut.size, long),
                )
            if rest:
                held[rest] = left
        assert held == {(number,): part.place for number, part in parts.items()}


def test_the_cuts_are_told(orchard: Job) -> None:
    """Nothing but a drawing of an inch told how the length is cut."""
    answer = backing_to_buy("42 1/2 x 48 1/2", orchard, words=["oat"])
    told = cutting_order(answer, cut_to_size(answer)[0].way)
    assert told[1].startswith("Trim the whole length to ")
    assert told[-1].startswith("Now you have 1: ")
    way = cut_to_size(answer)[0].way
    cuts = slices(way.sewn, cloth_of_way(way, answer), mark_of(answer.how))
    assert len(told) == len(cuts) + 2


def test_the_caption_of_a_backing_does_not_break_off(orchard: Job) -> None:
    """Under "58 x 66" it said "it costs the least that was found of those that need no"."""
    answer = backing_to_buy("58 x 66", orchard, words=["oat"])
    names = [
        choice.name for choice in answer.best if choice.name and not choice.way.tight
    ]
    drawn = words(draw_backing(answer))
    assert names
    assert all(name in drawn for name in names)


def test_every_part_of_the_cutting_order_has_its_number_on_the_back(
    orchard: Job,
) -> None:
    """Of a small one neither name nor size had room, and then it had no number either."""
    answer = backing_to_buy("58 x 66", orchard, words=["oat", "bark"])
    for choice in answer.best:
        drawn = words(draw_backing(answer, [choice.way]))
        shown = words(draw_backing(answer))
        for n in numbered(choice.way.sewn):
            assert any(text.partition(":")[0] == f"{n}" for text in drawn)
            assert any(text.partition(":")[0] == f"{n}" for text in shown)
