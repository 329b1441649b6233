"""All cloth washed before it is cut: what is bought, and leftovers that are not washed yet, shrink first.

Shares of shrinkage are common practice, no source (quilting cotton 2 to 5 in 100, flannel and linen up to 10); how
dimensional change is measured is standardised (AATCC TM135, ISO 5077): length and width apart, after minus before.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.affinity import scale
from shapely.geometry import Polygon

from cutopt.check import check
from cutopt.check.sources import cloth_of as checked_cloth
from cutopt.cloth import cloth_of, cloth_of_piece
from cutopt.errors import JobError
from cutopt.fabric import Fabric, Piece
from cutopt.geometry import contains_point, edges
from cutopt.job import Job
from cutopt.lengths import INCH, YARD
from cutopt.plan import Source
from cutopt.settings import Settings
from cutopt.solve.control.stop import Work
from cutopt.solve.solver import solve
from cutopt.tables import read_job, save_job
from cutopt.wanted import Cut
from tests.places import ROOT

ALL = Settings(prewash="all")


def job_of(folder: Path, prewash: str = 'prewash = "all"', **files: str) -> Job:
    usual = {
        "job_toml": f'unit = "in"\nsquare_up_end = "0"\n{prewash}\n',
        "pile_txt": "",
        "cuts_csv": "cut,count,width,length,fabrics,grain\nside,1,10,36,oat,along\n",
        "shop_csv": "fabric,usable_width,sold_by\noat,42,1/8 yd\n",
    }
    for name, text in (usual | files).items():
        (folder / name.replace("_", ".")).write_text(text, encoding="utf-8")
    return read_job(folder)


def bought(job: Job) -> Fraction:
    """Yards of a plan, which the checker passes."""
    result = solve(job, stop=Work(500), seed=0)
    assert check(job, result.plan) == []
    assert result.complete
    return Fraction(sum(source.length for source in result.plan.sources), YARD)


def test_more_is_bought(tmp_path: Path) -> None:
    """36 in are left of 36 / 0.95 = 37.9 in, in eighths of a yard 1 1/8 (40.5 in); unwashed a yard will do."""
    job = job_of(tmp_path)
    assert bought(job) == Fraction(9, 8)
    told = " ".join(job.notices)
    assert "oat: 5% is counted as lost in the wash" in told
    assert bought(job_of(tmp_path, "")) == 1


def test_both_ways(tmp_path: Path) -> None:
    """Of 42 usable inches 39.9 are left at 5 in 100: 40 do not fit across, 39 3/4 do (multiplied out)."""
    cuts = "cut,count,width,length,fabrics,grain\nside,1,{},9,oat,along\n"
    wide = solve(job_of(tmp_path, cuts_csv=cuts.format("40")), stop=Work(300))
    assert not wide.complete
    assert bought(job_of(tmp_path, cuts_csv=cuts.format("39 3/4")))


@pytest.mark.parametrize(
    ("row", "shares"),
    [
        ("oat,,yes,,", (5, 5)),
        ("oat,cotton flannel,yes,,", (10, 10)),
        ("oat,linen,yes,,", (10, 10)),
        ("oat,,yes,2%,4%", (2, 4)),
        ("oat,,yes,0%,", (0, 0)),
    ],
)
def test_what_is_told_and_what_is_usual(
    tmp_path: Path, row: str, shares: tuple[int, int]
) -> None:
    head = "fabric,kind,washed,shrink_across,shrink_along\n"
    job = job_of(tmp_path, fabrics_csv=f"{head}{row}\n")
    (oat,) = job.fabrics
    found = oat.shrink_across * 100, oat.shrink_along * 100
    assert found == shares
    save_job(job, tmp_path / "again")
    assert read_job(tmp_path / "again") == job


def test_the_usual_share_is_a_setting(tmp_path: Path) -> None:
    (oat,) = job_of(tmp_path, 'prewash = true\nshrinkage = "3%"').fabrics
    assert oat.shrink_along == Fraction(3, 100)


@pytest.mark.parametrize("word", ['"none"', "false", '"no"'])
def test_none_is_washed(tmp_path: Path, word: str) -> None:
    head = "fabric,washed,shrink_along\n"
    assert bought(job_of(tmp_path, f"prewash = {word}")) == 1
    with pytest.raises(JobError, match="says that none is washed") as caught:
        job_of(tmp_path, f"prewash = {word}", fabrics_csv=f"{head}oat,no,3%\n")
    (problem,) = caught.value.problems
    assert (problem.file, problem.row, problem.field) == (
        "fabrics.csv",
        2,
        "shrink_along",
    )


def test_a_word_that_is_none(tmp_path: Path) -> None:
    with pytest.raises(JobError, match='"sometimes" is not understood'):
        job_of(tmp_path, 'prewash = "sometimes"')


OAT = Fabric(
    name="oat",
    washed=False,
    shrink_across=Fraction(2, 100),
    shrink_along=Fraction(4, 100),
)


def leftover(fabric: Fabric, settings: Settings, **more: object) -> tuple[float, float]:
    piece = Piece.of_size("x", "oat", 42 * INCH, 36 * INCH, **more)
    _, _, (width, length), _ = cloth_of_piece(piece, settings, fabric).outline
    return round(width / INCH, 3), round(length / INCH, 3)


def test_leftovers_that_are_not_washed_shrink() -> None:
    """42 x 36 at 2 and 4 in 100: 41.16 x 34.56 (multiplied out); washed ones stay, unknown grain takes the greater."""
    washed = Fabric(
        name="oat", shrink_across=OAT.shrink_across, shrink_along=OAT.shrink_along
    )
    assert leftover(OAT, ALL) == (41.16, 34.56)
    assert leftover(OAT, ALL, grain_known=False) == (40.32, 34.56)
    assert leftover(washed, ALL) == (42, 36)
    assert leftover(OAT, Settings()) == (42, 36)
    assert leftover(OAT, ALL, washed="washed") == (42, 36)
    assert leftover(washed, ALL, washed="unwashed") == (41.16, 34.56)


@pytest.mark.parametrize(("side", "fits"), [(41, True), (41.25, False)])
def test_a_plan_counts_on_what_the_wash_leaves(side: float, fits: bool) -> None:
    row = Cut(name="a", width=int(side * INCH), length=34 * INCH, grain="along")
    piece = Piece.of_size("x", "oat", 42 * INCH, 36 * INCH)
    job = Job(settings=ALL, fabrics=(OAT,), pieces=(piece,), cuts=(row,))
    result = solve(job, stop=Work(300), seed=0)
    assert check(job, result.plan) == []
    assert result.complete == fits
    if fits:
        assert (
            "Wash what is cut of the pile and not washed yet (oat)" in result.washing[0]
        )
        assert result.room


def test_a_piece_says_for_itself_whether_it_is_washed(tmp_path: Path) -> None:
    job = job_of(tmp_path, pile_txt="oat 42 x 36\noat 42 x 36 unwashed\n")
    sizes = []
    for piece in job.pieces:
        source = Source(id="S1", piece=piece.name, copy=1)
        cloth, checked = cloth_of(job, source), checked_cloth(job, source)
        assert checked is not None
        assert dict(checked.lost).keys() == set(edges(cloth.outline))
        sizes.append(cloth.outline[2])
    assert sizes == [
        (42 * INCH, 36 * INCH),
        (42 * INCH * 95 // 100, 36 * INCH * 95 // 100),
    ]
    save_job(job, tmp_path / "again")
    assert read_job(tmp_path / "again") == job


@st.composite
def outlines(draw: st.DrawFn) -> tuple[tuple[int, int], ...]:
    """An L with any of its four corners missing, or a slanted shape."""
    width, length = draw(st.integers(5000, 90000)), draw(st.integers(5000, 90000))
    across, along = (
        draw(st.integers(1, width - 1500)),
        draw(st.integers(1, length - 1500)),
    )
    across, along = max(across, 1200), max(along, 1200)
    ring = draw(
        st.sampled_from(
            [
                [
                    (0, 0),
                    (width, 0),
                    (width, along),
                    (across, along),
                    (across, length),
                    (0, length),
                ],
                [
                    (0, 0),
                    (width, 0),
                    (width, length),
                    (across, length),
                    (across, along),
                    (0, along),
                ],
                [
                    (0, 0),
                    (across, 0),
                    (across, along),
                    (width, along),
                    (width, length),
                    (0, length),
                ],
                [
                    (across, 0),
                    (width, 0),
                    (width, length),
                    (0, length),
                    (0, along),
                    (across, along),
                ],
                [(0, 0), (width, along), (across, length)],
            ]
        )
    )
    return tuple(ring)


@given(
    outlines(),
    st.fractions(0, Fraction(1, 5), max_denominator=300),
    st.fractions(Fraction(1, 300), Fraction(1, 5), max_denominator=300),
)
def test_solver_and_checker_cut_the_same_washed_cloth_inside_the_true_one(
    ring: tuple[tuple[int, int], ...], across: Fraction, along: Fraction
) -> None:
    """Shapely scales the outline as the oracle: what is counted on lies in it, up to its own rounding."""
    fabric = Fabric(name="oat", washed=False, shrink_across=across, shrink_along=along)
    piece = Piece(name="x", fabric="oat", outline=ring)
    if contains_point(piece.outline, (0, 0)):
        flaw = ((0, 0), (2000, 0), (0, 3000))
        if all(contains_point(piece.outline, corner) for corner in flaw):
            piece = replace(piece, flaws=(flaw,))
    row = Cut(name="a", width=INCH, length=INCH)
    job = Job(settings=ALL, fabrics=(fabric,), pieces=(piece,), cuts=(row,))
    source = Source(id="S1", piece="x", copy=1)
    cloth, checked = cloth_of(job, source), checked_cloth(job, source)
    assert checked is not None
    lost = dict(checked.lost)
    around = zip(cloth.outline, (*cloth.outline[1:], cloth.outline[0]), strict=True)
    assert [lost[side] for side in around] == list(cloth.margins)
    assert len(checked.flaws) == len(cloth.flaws)
    true = scale(
        Polygon(piece.outline),
        1 - float(across),
        1 - float(along),
        origin=(0, 0),
    )
    kept = Polygon(cloth.outline)
    if any(cloth.margins):
        kept = kept.buffer(-max(cloth.margins))
    assert kept.difference(true.buffer(1e-6)).area < 1


def test_the_orchard_all_washed_first() -> None:
    """Leftovers of all outlines, with flaws: the checker, which shrinks them by itself, passes the plan."""
    job = read_job(ROOT / "data" / "orchard")
    share = {"shrink_across": Fraction(2, 100), "shrink_along": Fraction(3, 100)}
    fabrics = tuple(replace(fabric, washed=False, **share) for fabric in job.fabrics)
    settings = replace(job.settings, prewash="all")
    job = replace(job, fabrics=fabrics, settings=settings, quilt="", worked_out=None)
    result = solve(job, stop=Work(100), seed=0)
    assert check(job, result.plan) == []
    assert len(result.plan.uses) > 100
    assert result.room
