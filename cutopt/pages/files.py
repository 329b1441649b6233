"""Writing everything that a maker takes along: pages, lists, the plan itself, and a picture."""

from __future__ import annotations

from collections.abc import Sequence
from io import BytesIO
from pathlib import Path
from typing import Final

import matplotlib as mpl
from matplotlib.figure import Figure

from cutopt.draw.letters import names_of
from cutopt.draw.overview import plan_sheets
from cutopt.pages.lists import my_pile, shopping_slip, slip_size, slips, tick_list
from cutopt.pages.page_flow import by_piece, flat, front_page, overview, piece_figures
from cutopt.pages.paper import Slot, merged, register_fonts, set_words
from cutopt.pages.quilt import QuiltPages, label_story, quilt_pages, quilt_story
from cutopt.pages.steps import sections
from cutopt.pages.time_left import TimeLeft
from cutopt.result import Result
from cutopt.solve.control.progress import Progress
from cutopt.tables import write_cut_list, write_plan, write_shopping_list
from cutopt.tables.files.atomic import staged

# shares of the work, as the orchard quilt takes them, that are done when the lists are
# written, the pieces laid out, the words set, and all is drawn
_LISTS: Final = 0.15
_LAID_OUT: Final = 0.3
_SET: Final = 0.4
_DRAWN: Final = 0.85


def write_each(
    results: Sequence[tuple[Result, Path]], progress: Progress | None = None
) -> None:
    """Write all pages of some results, each into its folder, which is made where it is missing.

    Raises
    ------
    Problem
        Where a plan does not carry its job.
    OSError
        Where a folder cannot be written.
    """
    progress = progress or Progress()
    left = TimeLeft(progress, len(results))
    for result, home in results:
        with staged(home) as beside:
            _write(result, beside, left)
        left.next_plan()
    progress.done()


def _write(result: Result, home: Path, left: TimeLeft) -> None:
    plan = result.plan
    register_fonts()
    with names_of(result.job):
        quilt = quilt_pages(result)
        if quilt is not None:
            to_choose = quilt.to_choose
        else:
            to_choose = ()
        write_plan(plan, home / "plan.json")
        write_cut_list(plan, home / "cut-list.csv")
        write_shopping_list(plan, home / "shopping.csv", to_choose)
        sheets = plan_sheets(plan)
        left.at(_LISTS)
        (home / "plan.pdf").write_bytes(_pages_pdf(result, sheets, quilt, left))
        (home / "overview.png").write_bytes(picture(sheets[0]))


def pages_pdf(result: Result) -> bytes:
    """The printable pages, then the shopping slip."""
    register_fonts()
    with names_of(result.job):
        sheets = plan_sheets(result.plan)
        return _pages_pdf(result, sheets, quilt_pages(result), TimeLeft(Progress()))


def _pages_pdf(
    result: Result, sheets: Sequence[Figure], quilt: QuiltPages | None, left: TimeLeft
) -> bytes:
    title = f"{result.job.name}: cutting plan"
    if quilt is not None:
        to_choose = quilt.to_choose
    else:
        to_choose = ()
    told = sections(result.plan)
    pieces = list(by_piece(told, piece_figures(result, told)))
    left.at(_LAID_OUT)
    after = flat(part(result) for part in (tick_list, slips, my_pile))
    before = [*front_page(result, to_choose), *quilt_story(quilt), *overview(sheets)]
    story = [*before, *pieces, *after, *label_story(quilt)]
    slots = [item for item in _unpacked(story) if isinstance(item, Slot)]
    text, _ = set_words(story, title)
    to_buy = shopping_slip(result, to_choose)
    slip, _ = set_words(to_buy, f"{result.job.name}: to buy", slip_size(to_buy))

    def drawn(share: float) -> None:
        left.at(_SET + (_DRAWN - _SET) * share)

    return merged(text, slots, [slip], drawn)


def _unpacked(story: list[object]) -> list[object]:
    """Flowables, those inside of others too."""
    out: list[object] = []
    for item in story:
        out.append(item)
        out += _unpacked(list(getattr(item, "_content", ())))
    return out


def picture(figure: Figure) -> bytes:
    """A drawing as a PNG file."""
    out = BytesIO()
    with mpl.rc_context({"hatch.linewidth": 0.6}):
        figure.savefig(out, format="png", dpi=120, metadata={"Software": None})
    return out.getvalue()
