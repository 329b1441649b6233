"""A job that is saved reads back equal, and nothing is written over or left half-written."""

from __future__ import annotations

import tomllib
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cutopt.errors import Problem
from cutopt.fabric import ByLength, ByPiece, Fabric, Offered, Piece
from cutopt.job import Job
from cutopt.lengths import INCH, METRE, MM
from cutopt.settings import Settings
from cutopt.tables import read_job, save_job
from cutopt.tables.job import saving as save_module
from cutopt.wanted import Cut, Strip
from tests.places import ROOT

text = st.text(
    st.characters(exclude_categories=["C", "Z"]) | st.just(" "), max_size=12
).map(str.strip)
names = text.filter(
    lambda t: t and not t.startswith("#") and not set(t) & set("|/;")
).map(lambda t: t + "q")
lengths = st.integers(INCH, 40 * INCH) | st.integers(8, 320).map(
    lambda n: n * INCH // 8
)
small = st.integers(0, INCH)
prices = st.none() | st.decimals(0, 1000, places=2)


@st.composite
def jobs(draw: st.DrawFn) -> Job:
    """Any job whose texts a table can hold."""
    fabrics = draw(
        st.lists(names, min_size=1, max_size=3, unique_by=lambda t: t.lower())
    )
    one = st.sampled_from(fabrics)
    share = st.fractions(0, Fraction(49, 100), max_denominator=200)
    unit = draw(st.sampled_from(["in", "cm"]))
    return Job(
        name=draw(text),
        settings=Settings(
            unit=unit,
            grid=draw(st.integers(MM, INCH)),
            seam=draw(small),
            square_up=draw(small),
            square_up_end=draw(small),
            extra=draw(small),
            about=draw(small),
            keep_width=draw(lengths),
            keep_length=draw(lengths),
            longest_cut=draw(lengths),
            turns=draw(st.none() | st.integers(2, 9)),
            preference=draw(st.fractions(0, 1)),
            currency=draw(st.sampled_from(["", "$", "€"])),
        ),
        fabrics=tuple(
            Fabric(
                name=name,
                colour=draw(text),
                value=draw(st.sampled_from(["", "light", "dark"])),
                kind=draw(st.sampled_from(["", "flannel", "quilting cotton"])),
                washed=draw(st.booleans()),
                one_way=draw(st.sampled_from(["", "along", "across"])),
                shrink_across=draw(share),
                shrink_along=draw(share),
                tags=tuple(draw(st.lists(names, max_size=2))),
                note=draw(text),
            )
            for name in fabrics
        ),
        pieces=tuple(draw(piece(f"p{i}", one)) for i in range(draw(st.integers(0, 3)))),
        shop=tuple(draw(st.lists(by_length(one) | by_piece(one), max_size=3))),
        cuts=tuple(
            Cut(
                name=f"c{i}",
                width=draw(lengths),
                length=draw(lengths),
                count=draw(st.integers(1, 99)),
                upright=draw(st.booleans()),
                most_each=draw(st.none() | st.integers(1, 9)),
                **draw(wanted(fabrics)),
            )
            for i in range(draw(st.integers(1, 2)))
        ),
        strips=tuple(
            Strip(
                name=f"s{i}",
                width=2 * INCH,
                total_length=2 * INCH + draw(lengths),
                shortest=draw(st.integers(3, 9)) * INCH,
                join=draw(st.sampled_from(["diagonal", "straight", "none"])),
                **(draw(wanted(fabrics))),
            )
            for i in range(draw(st.integers(0, 2)))
        ),
    )


@st.composite
def wanted(draw: st.DrawFn, fabrics: list[str]) -> dict[str, object]:
    """What cuts and strips share."""
    return {
        "fabrics": tuple(draw(st.lists(st.sampled_from(fabrics), max_size=2))),
        "grain": "any",
        "importance": draw(st.sampled_from(["must", "nice", "if left"])),
        "together": draw(text),
        "why": draw(text),
        "note": draw(text),
    }


@st.composite
def piece(draw: st.DrawFn, name: str, fabric: st.SearchStrategy[str]) -> Piece:
    """A rectangle, a triangle anywhere, or an L with a flaw."""
    w = draw(lengths)
    h = draw(lengths)
    x = draw(st.integers(-INCH, INCH))
    y = draw(st.integers(0, INCH))
    outline, flaws = draw(
        st.sampled_from(
            [
                (((0, 0), (w, 0), (w, h), (0, h)), ()),
                (((x, y), (x + w, y), (x + w // 3, y + h)), ()),
                (
                    (
                        (0, 0),
                        (w, 0),
                        (w, h // 2),
                        (w // 2, h // 2),
                        (w // 2, h),
                        (0, h),
                    ),
                    (
                        ((0, 0), (w // 2, 0), (w // 2, h // 2), (0, h // 2)),
                        ((0, 0), (w // 3, 0), (0, h // 3)),
                    ),
                ),
            ]
        )
    )
    return Piece(
        name=name,
        fabric=draw(fabric),
        outline=outline,
        flaws=flaws,
        count=draw(st.integers(1, 99)),
        edges=draw(st.sampled_from(["true", "raw"])),
        grain_known=draw(st.booleans()),
        about=draw(st.booleans()),
        wish=draw(st.sampled_from(["", "use first", "keep whole", "do not touch"])),
        note=draw(text),
    )


def by_length(fabric: st.SearchStrategy[str]) -> st.SearchStrategy[Offered]:
    """Cloth from the bolt."""
    return st.builds(
        ByLength,
        fabric=fabric,
        usable_width=lengths,
        sold_by=lengths,
        smallest=st.just(0) | lengths,
        most=st.none() | st.integers(2 * METRE, 9 * METRE),
        price=prices,
        note=text,
    )


def by_piece(fabric: st.SearchStrategy[str]) -> st.SearchStrategy[Offered]:
    """Cloth by the piece."""
    return st.builds(
        ByPiece,
        fabric=fabric,
        each_width=lengths,
        each_length=lengths,
        most=st.none() | st.integers(1, 99),
        price=prices,
        note=text,
    )


@settings(max_examples=60, deadline=None)
@given(jobs())
def test_a_saved_job_reads_back_equal(job: Job) -> None:
    with TemporaryDirectory() as folder:
        save_job(job, Path(folder) / "new")
        again = read_job(Path(folder) / "new")
        assert again == job
        assert again.digest == job.digest
        assert [path.name for path in Path(folder).iterdir()] == ["new"]


@pytest.mark.parametrize("name", ["orchard", "metric-cushion"])
def test_the_demo_jobs_read_back_equal(tmp_path: Path, name: str) -> None:
    job = read_job(ROOT / "data" / name)
    save_job(job, tmp_path / "again")
    assert read_job(tmp_path / "again") == job


def small_job(**more: object) -> Job:
    """One fabric, one cut."""
    return Job(
        fabrics=(Fabric(name="pear"),),
        cuts=(Cut(name="a", width=INCH, length=INCH),),
        **more,
    )  # type: ignore[arg-type]


def test_a_name_with_quotes_is_toml(tmp_path: Path) -> None:
    """TOML 1.0 escapes, read by Python's tomllib."""
    name = 'Ann\'s "lap" quilt \\ 2'
    save_job(small_job(name=name), tmp_path / "j")
    assert (
        tomllib.loads((tmp_path / "j" / "job.toml").read_text(encoding="utf-8"))["name"]
        == name
    )


def test_prices_are_exact(tmp_path: Path) -> None:
    shop = (
        ByPiece(
            fabric="pear", each_width=INCH, each_length=INCH, price=Decimal("0.10")
        ),
    )
    save_job(small_job(shop=shop), tmp_path / "j")
    assert read_job(tmp_path / "j").shop == shop


def test_nothing_is_written_over_unasked(tmp_path: Path) -> None:
    save_job(small_job(), tmp_path)
    before = {path.name: path.read_bytes() for path in tmp_path.iterdir()}
    with pytest.raises(
        Problem,
        match=r"job\.toml is there already; save into another folder, or say replace=True",
    ):
        save_job(small_job(name="other"), tmp_path)
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == before
    save_job(small_job(name="other"), tmp_path, replace=True)
    assert read_job(tmp_path).name == "other"


@pytest.mark.parametrize("name", ["pile.txt", "quilt.xlsx"])
def test_a_pile_that_would_be_read_too(tmp_path: Path, name: str) -> None:
    (tmp_path / name).write_text("pear 11 x 7\n")
    with pytest.raises(Problem, match=f"{name} is there and would be read too"):
        save_job(small_job(), tmp_path, replace=True)
    assert [path.name for path in tmp_path.iterdir()] == [name]


def test_a_text_that_tables_cannot_hold(tmp_path: Path) -> None:
    job = Job(
        fabrics=(Fabric(name="pear", note=" blank at an end "),), cuts=small_job().cuts
    )
    with pytest.raises(Problem, match="blanks at an end"):
        save_job(job, tmp_path / "j")
    assert list(tmp_path.iterdir()) == []


def test_a_failure_leaves_no_trace(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The disk fills up at the third file."""
    written = []

    def failing(path: Path, text: str) -> None:
        written.append(path.name)
        if len(written) == 3:
            raise OSError("no space left on device")
        path.write_text(text, encoding="utf-8")

    monkeypatch.setattr(save_module, "write_whole", failing)
    with pytest.raises(OSError, match="no space"):
        save_job(small_job(), tmp_path / "j")
    assert list(tmp_path.iterdir()) == []


def test_a_file_in_the_way(tmp_path: Path) -> None:
    (tmp_path / "j").write_text("x")
    with pytest.raises(Problem, match="is not a folder"):
        save_job(small_job(), tmp_path / "j")
