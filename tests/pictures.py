"""The pictures of the README, of the pages of the orchard quilt and its back, and of the guide: ``python -m tests.pictures``.

Look at them afterwards, in grey too.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import numpy as np
import pymupdf
from matplotlib.backends.backend_agg import FigureCanvasAgg

from cutopt import Work, read_job, solve, write_pages
from cutopt.draw import draw_pieced_back
from cutopt.draw.blocks import draw_blocks
from cutopt.piecing import BlockWish
from cutopt.quilt.pieced.library import TRADITIONAL
from tests.places import ORCHARD, ROOT
from tests.written import GUIDE

PICTURES = ROOT / "data" / "pictures"
# a piece with slanted edges and parts of several sizes
PIECE = "bark wedge"
MARGIN = 8
DOTS = 80


def inked(page: Any) -> Any:
    """Which rows and columns of a page have something on them, its foot left out."""
    shot = page.get_pixmap(dpi=DOTS, colorspace=pymupdf.csGRAY)
    grey = np.frombuffer(shot.samples, dtype=np.uint8).reshape(shot.h, shot.w)
    ink = grey[: shot.h * 19 // 20] < 255
    return np.flatnonzero(ink.any(axis=1)), np.flatnonzero(ink.any(axis=0))


def cropped(page: Any) -> pymupdf.Pixmap:
    """A page without the white round it."""
    rows, columns = inked(page)
    points = 72 / DOTS
    box = (
        (columns[0] - MARGIN) * points,
        (rows[0] - MARGIN) * points,
        (columns[-1] + MARGIN) * points,
        (rows[-1] + MARGIN) * points,
    )
    return page.get_pixmap(dpi=DOTS, clip=pymupdf.Rect(*box))


def pixels(shot: pymupdf.Pixmap) -> Any:
    """A picture as an array (rows, columns, colours)."""
    return np.frombuffer(shot.samples, dtype=np.uint8).reshape(shot.h, shot.w, shot.n)


def without_gap(shot: pymupdf.Pixmap) -> Any:
    """The rows of a picture, the longest white band among them left out."""
    rows = pixels(shot)
    full = np.flatnonzero((rows < 255).any(axis=(1, 2)))
    widest = int(np.argmax(np.diff(full)))
    return np.concatenate(
        [rows[: full[widest] + MARGIN], rows[full[widest + 1] - MARGIN :]]
    )


def drawn(figure: Any) -> Any:
    """A drawing as an array (rows, columns, colours)."""
    canvas = FigureCanvasAgg(figure)
    canvas.draw()
    return np.asarray(canvas.buffer_rgba())


def pieced() -> Any:
    """The back of the orchard quilt with all spare blocks and few seams."""
    job = read_job(ORCHARD.with_name("orchard-back"))
    (back,) = job.backs
    every = tuple(
        BlockWish(name=block.name, least=block.count) for block in job.spare_blocks
    )
    back = replace(back, blocks=every, rules=replace(back.rules, most_seams=14))
    plan = solve(replace(job, backs=(back,)), stop=Work(20_000)).plan
    return drawn(draw_pieced_back(plan, back.name).figure)


def main() -> None:
    """Plan, write the pages into a folder that is thrown away, and keep pictures of them and of a back."""
    from PIL import Image

    grey = Image.fromarray(drawn(draw_blocks(TRADITIONAL.values()))[:, :, 0]).quantize(
        8
    )
    grey.save(GUIDE / "blocks.png", optimize=True)
    result = solve(read_job(ORCHARD), stop=Work(20_000))
    with TemporaryDirectory() as folder:
        write_pages(result, folder)
        with pymupdf.open(Path(folder) / "plan.pdf") as pages:
            told = [page.get_text() for page in pages]
            number = next(n for n, t in enumerate(told) if t.startswith(PIECE))
            piece = cropped(pages[number])
            whole = without_gap(pymupdf.Pixmap(str(Path(folder) / "overview.png")))
    kept = {
        "orchard-piece": pixels(piece),
        "orchard-plan": whole,
        "orchard-back": pieced(),
    }
    for name, picture in kept.items():
        small = Image.fromarray(picture[:, :, :3]).quantize(64)
        small.save(PICTURES / f"{name}.png", optimize=True)


if __name__ == "__main__":
    main()
