"""Jobs that are sound: both units, every column, the ways in which tables reach us."""

from __future__ import annotations

import html
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest

from cutopt.fabric import ByLength, ByPiece, Fabric, Piece
from cutopt.lengths import CM, INCH, MM, YARD
from cutopt.settings import Settings
from cutopt.solve.control.stop import Work
from cutopt.solve.solver import solve
from cutopt.tables import read_job
from cutopt.wanted import Cut, Strip


def test_the_least_job(tmp_path: Path) -> None:
    (tmp_path / "job.toml").write_text("")
    (tmp_path / "pile.txt").write_text("pear 11 x 7\nPear 5 x 5\nplum 3 x 3\n")
    (tmp_path / "cuts.csv").write_text("cut,width,length\nsquare,2 1/2,2 1/2\n")
    job = read_job(tmp_path)
    assert job.settings == Settings()
    assert [fabric.name for fabric in job.fabrics] == ["pear", "plum"]
    assert [(piece.name, piece.fabric) for piece in job.pieces] == [
        ("pear-1", "pear"),
        ("pear-2", "pear"),
        ("plum-1", "plum"),
    ]
    assert job.cuts == (Cut(name="square", width=5 * INCH // 2, length=5 * INCH // 2),)


def test_every_column(write) -> None:  # type: ignore[no-untyped-def]
    job = read_job(
        write(
            job_toml='name="lap"\nunit="in"\ngrid="1/16"\nseam=0.25\nsquare_up="3/8"\nsquare_up_end="1"\nabout="1/4"\n'
            'keep="6 x 4"\nlongest_cut="18"\nturns=3\npreference="2.5%"\ncurrency="$"\n',
            fabrics_csv="fabric,colour,value,kind,washed,one_way,shrink_across,shrink_along,tags,note\n"
            "pear,#aabb44,Medium,flannel,no,Along,0.01,3%,greens|any,soft\noat,,,,,,,,,\n",
            pieces_csv="piece,fabric,count,width,length,outline,flaws,edges,grain,measured,wish,note\n"
            'bib,PEAR,2,,,"0 0; 18 0; 18 7 1/2; 6, 11; 0 11",'
            '"1 1; 2 1; 2 2 | 2 x 1 at 5, 5",Raw,unknown,about,use_first,old\n',
            shop_csv="fabric,usable_width,sold_by,smallest,most,price,each_width,each_length,note\n"
            "pear,54,1/4 yd,1/2 yd,3 yd,$9.60,,,wide\noat,,,,,,,,\noat,,,,4,3.20,21,18,bin\n",
            cuts_csv="cut,count,width,length,fabrics,grain,upright,importance,together,most_each,why,note\n"
            'a,4,2½,"2-1/2""",greens|oat,along,yes,If Left,sky,2,2 x 2,n\n',
            strips_csv="strip,count,width,total_length,shortest,join,fabrics,grain,importance,together,why,note\n"
            "b,2,2 1/2,190,10,straight,oat,across,nice,sky,w,n\n",
        )
    )
    assert job.name == "lap"
    assert job.settings == Settings(
        grid=INCH // 16,
        square_up=3 * INCH // 8,
        square_up_end=INCH,
        about=INCH // 4,
        keep_width=6 * INCH,
        keep_length=4 * INCH,
        longest_cut=18 * INCH,
        turns=3,
        preference=Fraction(1, 40),
        currency="$",
    )
    assert job.fabrics[0] == Fabric(
        name="pear",
        colour="#aabb44",
        value="medium",
        kind="flannel",
        washed=False,
        one_way="along",
        shrink_across=Fraction(1, 100),
        shrink_along=Fraction(3, 100),
        tags=("greens", "any"),
        note="soft",
    )
    corners = ((0, 0), (18, 0), (18, Fraction(15, 2)), (6, 11), (0, 11))
    assert job.pieces == (
        Piece(
            name="bib",
            fabric="pear",
            count=2,
            outline=tuple((int(x * INCH), int(y * INCH)) for x, y in corners),
            flaws=(
                ((INCH, INCH), (2 * INCH, INCH), (2 * INCH, 2 * INCH)),
                (
                    (5 * INCH, 5 * INCH),
                    (7 * INCH, 5 * INCH),
                    (7 * INCH, 6 * INCH),
                    (5 * INCH, 6 * INCH),
                ),
            ),
            edges="raw",
            grain_known=False,
            about=True,
            wish="use first",
            note="old",
        ),
    )
    assert job.shop == (
        ByLength(
            fabric="pear",
            usable_width=54 * INCH,
            sold_by=YARD // 4,
            smallest=YARD // 2,
            most=3 * YARD,
            price=Decimal("9.60"),
            note="wide",
        ),
        ByLength(fabric="oat", usable_width=42 * INCH, sold_by=YARD // 8),
        ByPiece(
            fabric="oat",
            each_width=21 * INCH,
            each_length=18 * INCH,
            most=4,
            price=Decimal("3.20"),
            note="bin",
        ),
    )
    size = 5 * INCH // 2
    assert job.cuts == (
        Cut(
            name="a",
            count=4,
            width=size,
            length=size,
            fabrics=("greens", "oat"),
            grain="along",
            upright=True,
            importance="if left",
            together="sky",
            most_each=2,
            why="2 x 2",
            note="n",
        ),
    )
    assert job.strips == (
        Strip(
            name="b",
            count=2,
            width=size,
            total_length=190 * INCH,
            shortest=10 * INCH,
            join="straight",
            fabrics=("oat",),
            grain="across",
            importance="nice",
            together="sky",
            why="w",
            note="n",
        ),
    )


def test_a_metric_job_has_metric_defaults(tmp_path: Path) -> None:
    (tmp_path / "job.toml").write_text('unit = "cm"\ngrid = "1 mm"\nkeep = "10"\n')
    (tmp_path / "pile.txt").write_text("linen 32 x 24.5\n")
    (tmp_path / "shop.csv").write_text("fabric\nlinen\n")
    (tmp_path / "strips.csv").write_text(
        "strip,width,total_length\nbinding,6.5,480\nborder,25,480\n"
    )
    job = read_job(tmp_path)
    assert job.settings.grid == MM
    assert (job.settings.keep_width, job.settings.keep_length) == (10 * CM, 10 * CM)
    assert job.settings.seam == Settings.metric().seam
    assert job.pieces[0].size == (32 * CM, 245 * MM)
    assert job.shop == (
        ByLength(fabric="linen", usable_width=106 * CM, sold_by=10 * CM),
    )
    assert [strip.shortest for strip in job.strips] == [20 * CM, 50 * CM]


def test_cloth_rounds_down_and_needed_sizes_round_up(write) -> None:  # type: ignore[no-untyped-def]
    """1/3 in is 2709 1/3 ticks, 1 in being 25.4 mm exactly (NIST Handbook 44, Appendix C)."""
    job = read_job(
        write(
            job_toml='seam = "1/3"\n',
            pieces_csv="piece,fabric,width,length,outline\na,pear,1/3,1/3,\nb,pear,,,0 0; 1/3 0; 0 1/3\n",
            shop_csv="fabric,usable_width\noat,1/3\n",
            cuts_csv="cut,width,length\na,1/3,1/3\n",
            strips_csv="strip,width,total_length,shortest\na,1/3,2/3,1 1/3\n",
        )
    )
    assert job.pieces[0].size == job.pieces[1].size == (2709, 2709)
    assert job.shop[0].usable_width == 2709  # type: ignore[union-attr]
    assert (job.cuts[0].width, job.cuts[0].length) == (2710, 2710)
    assert (
        job.strips[0].width,
        job.strips[0].total_length,
        job.strips[0].shortest,
    ) == (2710, 5419, 10838)
    assert job.settings.seam == 2710


def test_units_in_cells(write) -> None:  # type: ignore[no-untyped-def]
    """1 in = 25.4 mm and 1 yd = 0.9144 m exactly (NIST Handbook 44, Appendix C)."""
    job = read_job(
        write(
            cuts_csv='cut,width,length\na,25.4 mm,1 in\nb,2.54 cm,0.9144 m\nc,"1""",1 yd\n'
        )
    )
    assert [(cut.width, cut.length) for cut in job.cuts] == [
        (INCH, INCH),
        (INCH, YARD),
        (INCH, 36 * INCH),
    ]


@pytest.mark.parametrize(
    "heading", ["Total Length", "total_length", " TOTAL-LENGTH ", "totallength"]
)
def test_headings_without_case_and_spaces(write, heading) -> None:  # type: ignore[no-untyped-def]
    job = read_job(write(strips_csv=f"Strip , WIDTH,{heading}\nb,2 1/2,190\n"))
    assert job.strips[0].total_length == 190 * INCH


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("mark", ["", "\ufeff"])
def test_line_ends_and_byte_order_marks(write, end, mark) -> None:  # type: ignore[no-untyped-def]
    """RFC 4180 ends lines with CR LF; spreadsheets write all three, and a UTF-8 byte order mark."""
    text = mark + end.join(["cut,width,length", 'a,2½,"5"', ""])
    assert read_job(write(cuts_csv=text)).cuts[0].width == 5 * INCH // 2


def test_quoted_cells_as_in_rfc_4180(write) -> None:  # type: ignore[no-untyped-def]
    """RFC 4180 section 2: commas, doubled quotes and line breaks inside quotes (rules 5-7)."""
    job = read_job(
        write(
            cuts_csv='cut,width,length,note\n"a",5,5,"one, two ""three""\nfour"\nb,6,6,\n'
        )
    )
    assert job.cuts[0].note == 'one, two "three"\nfour'
    assert job.cuts[1].width == 6 * INCH


def test_rows_count_as_in_a_spreadsheet(write) -> None:  # type: ignore[no-untyped-def]
    """Blank rows, comments and line breaks inside a cell do not shift the row that a problem names."""
    from cutopt.errors import JobError

    folder = write(
        cuts_csv='cut,width,length,note\n# sizes, as cut\n\na,5,5,"x\ny"\n,,,\nb,x,5,\n'
    )
    with pytest.raises(JobError) as caught:
        read_job(folder)
    assert [(p.file, p.row) for p in caught.value.problems] == [("cuts.csv", 6)]


def test_the_path_of_job_toml_will_do(write) -> None:  # type: ignore[no-untyped-def]
    folder = write()
    assert read_job(folder / "job.toml") == read_job(str(folder)) == read_job(folder)


def test_other_files_are_let_be(write) -> None:  # type: ignore[no-untyped-def]
    folder = write()
    for name in (
        "README.md",
        "photo.png",
        "shopping.csv.pdf",
        "plan.json",
        "what to buy.csv",
        ".hidden.csv",
    ):
        (folder / name).write_bytes(b"\xff")
    assert read_job(folder).cuts


@pytest.mark.parametrize(
    ("unit", "width", "told"),
    [
        (
            "cm",
            "42",
            "42 cm is very narrow for cloth from the bolt; write 42 in if inches are meant.",
        ),
        (
            "cm",
            "44 1/2",
            "44 1/2 cm is very narrow for cloth from the bolt; write 44 1/2 in if inches are meant.",
        ),
        (
            "in",
            "150",
            "150 in is very wide for cloth from the bolt; write 150 cm if centimetres are meant.",
        ),
        ("cm", "42 in", ""),  # said to be inches
        ("cm", "60", ""),
        ("cm", "110", ""),
        ("cm", "", ""),
        ("in", "42", ""),
        (
            "in",
            "108",
            "",
        ),  # cloth for backs is sold up to about 120 in wide (common practice, no source)
        ("in", "150 cm", ""),
    ],
)
def test_a_width_in_the_other_unit_is_noticed(
    write, unit: str, width: str, told: str
) -> None:  # type: ignore[no-untyped-def]
    """It is planned, and told with its place in every view of the plan; it changes neither job nor digest."""
    folder = write(
        job_toml=f'unit = "{unit}"\n',
        pile_txt="pear 90 x 90\n",
        fabrics_csv=None,
        pieces_csv=None,
        strips_csv=None,
        shop_csv=f"fabric,usable_width\npear,\n\npear,{width}\n",
        cuts_csv="cut,count,width,length\nleaf,1,10,10\n",
    )
    job = read_job(folder)
    said = (f"shop.csv row 4, usable_width: {told}",) if told else ()
    assert job.notices == said
    assert replace(job, notices=()) == job
    assert replace(job, notices=()).digest == job.digest
    assert solve(job, Work(20)).notices[: len(said)] == said
    assert all(html.escape(text) in job._repr_html_() for text in said)


def test_rows_with_the_same_notice_are_told_in_one_sentence(write) -> None:  # type: ignore[no-untyped-def]
    rows = "".join(
        f"{name},{width}\n"
        for name, width in (("pear", 42), ("oat", 42), ("mist", 106), ("fig", 42))
    )
    job = read_job(
        write(
            job_toml='unit = "cm"\n',
            pile_txt="pear 90 x 90\n",
            fabrics_csv=None,
            pieces_csv=None,
            strips_csv=None,
            shop_csv=f"fabric,usable_width\n{rows}",
            cuts_csv="cut,count,width,length\nleaf,1,10,10\n",
        )
    )
    (said,) = job.notices
    assert said.startswith(
        "shop.csv rows 2, 3 and 5, usable_width: 42 cm is very narrow for cloth from the bolt; "
    )
