"""The tick list shows how shapes lie in the strips that are to be cut. An invented quilt."""

from __future__ import annotations

from io import BytesIO
from pathlib import Path

import pymupdf
import pytest

from cutopt.check import check
from cutopt.pages.files import pages_pdf
from cutopt.solve.control.stop import Work
from cutopt.solve.solver import solve
from cutopt.tables import read_job

QUILT = """
blocks = [
  "leaf: 20 60-degree triangles of 4 from oat, 6 to a strip",
  "shirt: 2 t-shirt blocks of 6 from shirts and inside",
]
"""
FABRICS = "fabric,kind\noat,\nshirts,knit\ninside,fusible interfacing\n"
SHOP = "fabric,usable_width,sold_by,price\noat,42,1/8 yd,10\nshirts,42,1/8 yd,10\ninside,20,1/8 yd,3\n"


@pytest.fixture(scope="module")
def pages(tmp_path_factory: pytest.TempPathFactory) -> pymupdf.Document:
    folder: Path = tmp_path_factory.mktemp("leaves")
    for name, text in {
        "job.toml": 'name = "leaves"\nunit = "in"\n',
        "fabrics.csv": FABRICS,
        "shop.csv": SHOP,
        "pile.txt": "",
        "quilt.toml": QUILT,
    }.items():
        (folder / name).write_text(text, encoding="utf-8")
    job = read_job(folder)
    result = solve(job, Work(20))
    assert check(job, result.plan) == []
    assert result.complete
    cut_from = {use.for_ for use in result.plan.uses}
    assert cut_from == {row.key for row in job.wanted}
    return pymupdf.open(stream=BytesIO(pages_pdf(result)), filetype="pdf")


def test_each_row_of_shapes_has_its_picture(pages: pymupdf.Document) -> None:
    (page,) = (each for each in pages if "to tick off" in each.get_text())
    said = " ".join(page.get_text().split())
    assert "leaf strip of 6: 3 of 4 3/4 x 19 1/4 in" in said
    assert "6 from a strip 19 1/4 in long; the lower edge of the first: 5.48" in said
    assert "2 from a strip 8 1/4 in long" in said
    assert "60-degree line of the ruler" in said
    # slanted lines: the sides of 6 + 2 triangles
    ends = [
        item[1:]
        for drawing in page.get_drawings()
        for item in drawing["items"]
        if item[0] == "l"
    ]
    # what is hatched has lines of 45 degrees
    leaning = [(a, b) for a, b in ends if abs(a.x - b.x) > 3 and abs(a.y - b.y) > 20]
    slopes = [abs(b.y - a.y) / abs(b.x - a.x) for a, b in leaning]
    of_sixty = [slope for slope in slopes if slope == pytest.approx(3**0.5, rel=1e-2)]
    assert len(of_sixty) >= 2 * (6 + 2)


def test_cautions_stand_on_the_first_pages(pages: pymupdf.Document) -> None:
    said = " ".join(page.get_text() for page in pages)
    told = " ".join(said.split())
    assert "sharp points" in told
    assert "fuse before you trim" in told
