"""Writing everything that a maker takes along: pages, lists, the plan itself, and a picture."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from io import BytesIO
from pathlib import Path
from typing import Any, Final

import matplotlib as mpl
from matplotlib.figure import Figure

from cutopt.draw.letters import names_of
from cutopt.draw.overview import plan_sheets
from cutopt.pages.backs import (
    PageMark,
    back_lines,
    back_pages,
    back_slips,
    back_story,
    back_ticks,
)
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
# the pages are set once more where a page number stands on them
_MOST_SETTINGS: Final = 4
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
    figures = piece_figures(result, told)
    backs = back_pages(result)

    def story(pages: Mapping[str, int]) -> list[Any]:
        of_backs = back_lines(backs, pages)
        pieces = list(by_piece(told, figures))
        left.at(_LAID_OUT)
        return [
            *front_page(result, to_choose, of_backs),
            *quilt_story(quilt),
            *overview(sheets),
            *pieces,
            *flat(map(back_story, backs)),
            *tick_list(result),
            *back_ticks(result, backs, pages),
            *slips(result),
            *back_slips(backs),
            *my_pile(result),
            *label_story(quilt),
        ]

    marks = [mark for each in backs for mark in each.marks]
    text, slots = _set_twice(story, marks, title)
    left.at(_SET)
    to_buy = shopping_slip(result, to_choose)
    slip, _ = set_words(to_buy, f"{result.job.name}: to buy", slip_size(to_buy))

    def drawn(share: float) -> None:
        left.at(_SET + (_DRAWN - _SET) * share)

    return merged(text, slots, [slip], drawn)


def _set_twice(
    story: Callable[[Mapping[str, int]], list[Any]], marks: Sequence[str], title: str
) -> tuple[bytes, list[Slot]]:
    """The pages set, and the places of drawings on them; again with the pages of the backs, where there are any.

    Parameters
    ----------
    story : callable
        Gives the flowables, by the numbers of the pages on which the marks stand.
    marks : sequence of str
    title : str
    """
    # as wide as any
    pages = dict.fromkeys(marks, 99)
    for _ in range(_MOST_SETTINGS):
        told = story(pages)
        text, _ = set_words(told, title)
        inside = _unpacked(told)
        stood = [item for item in inside if isinstance(item, PageMark)]
        found = {mark.name: mark.page for mark in stood}
        if found == pages:
            break
        pages = found
    return text, [item for item in inside if isinstance(item, Slot)]


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
