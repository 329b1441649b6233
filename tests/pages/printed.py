"""What stands on printed pages and in pictures, as words; and a plan that needs many pages. Invented data."""

from __future__ import annotations

from io import BytesIO

import pymupdf
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.text import Text

from cutopt.fabric import Fabric, Piece
from cutopt.job import Job
from cutopt.result import Offer, Result
from cutopt.wanted import Cut
from tests.draw.sample import Maker, inches


def words_of(pdf: bytes) -> str:
    with pymupdf.open(stream=BytesIO(pdf), filetype="pdf") as document:
        return " ".join(" ".join(page.get_text() for page in document).split())


def words_in(figure: Figure) -> str:
    canvas = FigureCanvasAgg(figure)
    canvas.draw()
    return " ".join(text.get_text() for text in figure.findobj(Text)).replace("\n", " ")


def many_cuts(rows: int, wide: int = 42) -> Result:
    """One cloth, drawn low, whose rows are cut in different ways: more steps than a page holds."""
    i = inches
    sizes = ("1", "1.5", "2", "2.5", "3", "3.5")
    cuts = tuple(
        Cut(name=f"w{size}", width=i(size), length=i("1"), count=500) for size in sizes
    )
    mist = Piece.of_size("wide", "mist", i(wide), i(rows))
    job = Job(fabrics=(Fabric(name="mist"),), pieces=(mist,), cuts=cuts)
    maker = Maker(job)
    rest = maker.take("wide")
    for k in range(rows):
        row, rest = (rest, "") if k == rows - 1 else maker.cut(rest, y=i(k + 1))
        for size in (sizes[k % 6], sizes[(k + 1) % 6]):
            *_, row = maker.run(row, "x", i(size), 2, f"cuts/w{size}")
    plan = maker.plan()
    offer = Offer(name="thriftiest", plan=plan, minutes=1, spare=0, biggest_spare=0)
    return Result(job=job, offers=(offer,), complete=True)
