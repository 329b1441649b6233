"""The files that a maker prints: nothing outside the paper, true sizes, words that can be read."""

from __future__ import annotations

import csv
import json
import re
from io import BytesIO
from pathlib import Path

import pymupdf
import pytest
from pypdf import PdfReader

from cutopt.pages import write_pages
from cutopt.pages.files import pages_pdf
from cutopt.pages.lists import shopping_slip, slip_size
from cutopt.pages.paper import register_fonts, set_words, words
from cutopt.pages.steps import sections
from cutopt.quilt.to_choose import Choosing, Option
from cutopt.result import Result
from tests.draw.sample import metric_result, orchard_result
from tests.pages.printed import many_cuts

PT_PER_MM = (
    72 / 25.4
)  # a point is 1/72 in; 1 in = 25.4 mm exactly (NIST Handbook 44, Appendix C)


@pytest.fixture(scope="module")
def orchard(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("orchard")
    write_pages(orchard_result(), folder)
    return folder


@pytest.fixture(scope="module")
def metric(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("metric")
    write_pages(metric_result(), folder / "new" / "deep")
    return folder / "new" / "deep"


def text_of(folder: Path) -> str:
    with pymupdf.open(folder / "plan.pdf") as document:
        return "\n".join(page.get_text() for page in document)


def test_five_files_are_written(orchard: Path) -> None:
    assert sorted(path.name for path in orchard.iterdir()) == [
        "cut-list.csv",
        "overview.png",
        "plan.json",
        "plan.pdf",
        "shopping.csv",
    ]
    assert json.loads((orchard / "plan.json").read_text())["format"] == "cutopt-plan/1"
    assert (orchard / "overview.png").read_bytes().startswith(b"\x89PNG")
    with (orchard / "cut-list.csv").open(encoding="utf-8-sig") as file:
        assert next(csv.reader(file))[0] == "wanted"


def test_words_stay_on_the_paper_and_pages_fit_a4_and_letter(orchard: Path) -> None:
    with pymupdf.open(orchard / "plan.pdf") as document:
        *pages, slip = list(document)
        for page in pages:
            # ISO 216 A4: 210 x 297 mm; US letter: 8 1/2 x 11 in (sizes from memory)
            assert page.rect.width <= 210 * PT_PER_MM + 0.1
            assert page.rect.height <= 11 * 72
        assert slip.rect.width == pytest.approx(70 * PT_PER_MM, abs=0.1)
        for page in (*pages, slip):
            margin = 2 * PT_PER_MM if page is slip else 5 * PT_PER_MM
            inside = pymupdf.Rect(
                margin, margin, page.rect.width - margin, page.rect.height - margin
            )
            for word in page.get_text("words"):
                assert inside.contains(pymupdf.Rect(word[:4])), (page.number, word[4])


def test_letters_are_truetype_and_embedded(orchard: Path) -> None:
    with pymupdf.open(orchard / "plan.pdf") as document:
        fonts = {font for page in document for font in page.get_fonts(full=True)}
    used = [
        font for font in fonts if font[3] != "Helvetica"
    ]  # reportlab names one font that it does not use
    assert used
    for _, kind, subtype, name, *_ in used:
        assert "Type3" not in subtype, (
            name
        )  # matplotlib's other kind: letters as drawings
        assert kind == "ttf", name
        assert "DejaVu" in name


def test_no_letter_is_smaller_than_eight_points(orchard: Path) -> None:
    with pymupdf.open(orchard / "plan.pdf") as document:
        for page in document:
            for block in page.get_text("dict")["blocks"]:
                for span in (
                    span for line in block.get("lines", ()) for span in line["spans"]
                ):
                    assert span["size"] >= 7.9, span["text"]


def test_the_first_page_tells_it_in_sentences(orchard: Path) -> None:
    with pymupdf.open(orchard / "plan.pdf") as document:
        first = " ".join(document[0].get_text().split())
        second = " ".join(document[1].get_text().split())
        steps = " ".join(" ".join(page.get_text() for page in document).split())
    assert "5/8 yd of oat (22 1/2 in), usable width 42 in: $6.00." in first
    assert "No plan can pay less than $9.20" in first
    assert "This plan takes just that: it is the cheapest there is." in first
    assert "nothing to spare along (1/8 in across): pear L." in first
    assert "Close the guard every time" in first + second
    assert "never for sleep under 12 months" in first + second
    assert "1 minute a cut, 3 minutes a piece of cloth touched" in first
    assert steps.count("Close the guard") == 1  # the cautions stand once
    assert "Cut 3 strips 2 1/2 wide across the width from the bottom edge." in steps
    assert "Wash the oat before you cut it." in steps
    assert not re.search(r"\b(utilisation|goods|panel|feasible|objective)\b", steps)


def test_every_cut_number_stands_beside_a_step(orchard: Path) -> None:
    said = text_of(orchard)
    told = set()
    for first, last in re.findall(r"cuts?\s(\d+)(?:-(\d+))?", said):
        told.update(range(int(first), int(last or first) + 1))
    assert told >= set(range(1, 100))


def test_drawings_are_on_their_pages(orchard: Path) -> None:
    with pymupdf.open(orchard / "plan.pdf") as document:
        page = next(
            page
            for page in document
            if "bark raw" in page.get_text() and "cuts 31-38" in page.get_text()
        )
        words = [word[4] for word in page.get_text("words")]
        lines = page.get_drawings()
    assert {"27", "28", "29", "30", "31"} <= set(words)
    assert len(lines) > 30


@pytest.mark.parametrize(
    ("rows", "wide"), [(3, 42), (14, 42), pytest.param(36, 14, marks=pytest.mark.slow)]
)
def test_steps_stand_on_a_page_with_their_drawing(rows: int, wide: int) -> None:
    result = many_cuts(rows, wide)
    pages = PdfReader(BytesIO(pages_pdf(result))).pages
    begun = re.compile(
        r"^(wide, continued|Lay it as drawn|From the pile: mist)", re.MULTILINE
    )
    found = [page for page in pages if begun.search(page.extract_text())]
    last = max(
        number for step in sections(result.plan)[0].steps for number in step.numbers
    )
    assert (len(found) > 1) == (rows > 3)
    assert any(str(last) in page.extract_text() for page in found)
    for page in found:
        assert any(
            name.startswith("/Drawing") for name in page["/Resources"]["/XObject"]
        )


@pytest.mark.parametrize(("folder", "side"), [("orchard", 25.4), ("metric", 20.0)])
def test_the_check_square_prints_true(
    folder: str, side: float, request: pytest.FixtureRequest
) -> None:
    with pymupdf.open(request.getfixturevalue(folder) / "plan.pdf") as document:
        found = [
            drawing["rect"]
            for page in document
            if "Take care"
            in page.get_text()  # elsewhere the tiles of a hatch are as large
            for drawing in page.get_drawings()
            if abs(drawing["rect"].width - side * PT_PER_MM) < 0.02
            and abs(drawing["rect"].height - side * PT_PER_MM) < 0.02
        ]
    assert len(found) == 1


def test_a_metric_job_shows_no_inch_anywhere(metric: Path) -> None:
    said = " ".join(text_of(metric).split())
    assert not re.search(
        r"\d\s*(in|inch|inches|yd|yard|yards)\b|[\d½¼¾]\s*[\"″”]|\d/\d", said
    )
    assert "Square up the left edge: cut 0.5 cm from it." in said
    for name in ("cut-list.csv", "shopping.csv"):
        assert not re.search(
            r"\d (in|yd)\b", (metric / name).read_text(encoding="utf-8-sig")
        )


def test_pages_are_numbered_and_the_slip_is_last(orchard: Path) -> None:
    with pymupdf.open(orchard / "plan.pdf") as document:
        count = len(document) - 1
        for number in range(count):
            assert f"page {number + 1} of {count}" in document[number].get_text()
        slip = document[count].get_text()
    assert "To buy" in slip
    assert "40 in: 5/8 yd of oat, $9.20 (not enough)" in " ".join(slip.split())


@pytest.mark.parametrize(("lines", "pages"), [(3, 1), (8, 1), (12, 1), (25, 2)])
def test_a_slip_is_one_page_as_long_as_paper_holds_it(lines: int, pages: int) -> None:
    register_fonts()
    story = [
        words("1/4 yd of blossom (9 in), usable width 42 in: 3.10.", 13, after=4)
        for _ in range(lines)
    ]
    size = slip_size(story)
    assert set_words(story, "to buy", size)[1] == pages
    assert size[0] == pytest.approx(70 * PT_PER_MM)
    assert (
        130 * PT_PER_MM - 0.1 <= size[1] <= 279 * PT_PER_MM
    )  # of US letter, 11 in = 279.4 mm


@pytest.mark.parametrize(
    ("rows", "smaller", "pages"), [(13, False, 1), (15, True, 1), (36, False, 2)]
)
def test_a_slip_of_a_few_lines_too_many_has_smaller_letters(
    rows: int, smaller: bool, pages: int
) -> None:
    """One line stood on a second page."""
    register_fonts()
    options = tuple(
        Option(
            what=f"cloth number {n}",
            width=0,
            length=0,
            pieces=1,
            money=None,
            how="whole",
            note="",
        )
        for n in range(rows)
    )
    slip = shopping_slip(metric_result(), [Choosing(what="back", options=options)])
    found = set_words(slip, "to buy", slip_size(slip))[1]
    sizes = {round(item.style.fontSize, 2) for item in slip}
    assert found >= pages if pages > 1 else found == 1
    assert (13 not in sizes) == smaller
    assert min(sizes) >= 8


def test_lists_slips_and_the_blank_page(orchard: Path) -> None:
    said = " ".join(text_of(orchard).split())
    assert "square: 32 of 4 1/2 x 4 1/2 in" in said
    assert "24 from mist & dew squares, 6 pieces, 4 from each" in said
    assert "sew 3 end to end, diagonal joins: 121 in" in said
    assert "4 short not in this plan" in said
    assert "A · square 18 of 4 1/2 x 4 1/2 in oat orchard lap quilt" in said
    assert "My pile" in said
    assert "shape (sketch)" in said


def test_the_same_result_gives_the_same_bytes() -> None:
    first = pages_pdf(metric_result())
    second = pages_pdf(metric_result())
    strip = re.compile(rb"/ID \[.*?\]", re.DOTALL)
    assert strip.sub(b"", first) == strip.sub(b"", second)
    assert PdfReader(BytesIO(first)).metadata.title == "pear runner: cutting plan"  # type: ignore[union-attr]


def test_names_with_signs_and_other_letters_are_set(tmp_path: Path) -> None:
    from dataclasses import replace

    result: Result = metric_result()
    job = replace(result.job, name="Äpfel <&> грушa")
    plan = replace(result.plan, origin=job, job=job.digest)
    named = replace(
        result,
        job=job,
        offers=(replace(result.offers[0], plan=plan),),
        notices=("1 < 2 & <b>so</b>",),
    )
    write_pages(named, tmp_path)
    said = text_of(tmp_path)
    assert "Äpfel <&> грушa: cutting plan" in said
    assert "1 < 2 & <b>so</b>" in said
