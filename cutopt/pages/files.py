"""Writing everything that a maker takes along: pages, lists, the plan itself, and a picture."""

from __future__ import annotations

from collections.abc import Sequence
from io import BytesIO
from pathlib import Path

import matplotlib as mpl
from matplotlib.figure import Figure

from cutopt.answers.choosing import chosen_for
from cutopt.draw.letters import names_of
from cutopt.draw.overview import plan_sheets
from cutopt.pages import FILES
from cutopt.pages.lists import my_pile, shopping_slip, slip_size, slips, tick_list
from cutopt.pages.page_flow import by_piece, flat, front_page, overview, piece_figures
from cutopt.pages.paper import Slot, merged, register_fonts, set_words
from cutopt.pages.quilt import label_story, quilt_pages, quilt_story
from cutopt.pages.steps import sections
from cutopt.pages.written import Written
from cutopt.result import Result
from cutopt.solve.control.progress import Progress
from cutopt.tables import write_cut_list, write_plan, write_shopping_list
from cutopt.tables.files.atomic import staged
from cutopt.tables.recipe.quilt import quilt_of


def write_pages(
    result: Result, folder: str | Path, progress: Progress | None = None
) -> Written:
    """Write all pages of a result, as :func:`cutopt.pages.write_pages` says."""
    home = Path(folder)
    progress = progress or Progress()
    with staged(home) as beside:
        progress.say("Writing the plan and the lists.")
        write_plan(result.plan, beside / "plan.json")
        write_cut_list(result.plan, beside / "cut-list.csv")
        to_choose = chosen_for(result.job, quilt_of(result.job), result.plan)
        write_shopping_list(result.plan, beside / "shopping.csv", to_choose)
        progress.say("Drawing every piece of cloth.")
        sheets = plan_sheets(result.plan)
        (beside / "plan.pdf").write_bytes(pages_pdf(result, sheets, progress))
        (beside / "overview.png").write_bytes(picture(sheets[0]))
    progress.done()
    return Written(home / name for name in FILES)


def pages_pdf(
    result: Result,
    sheets: Sequence[Figure] | None = None,
    progress: Progress | None = None,
) -> bytes:
    """The printable pages, then the shopping slip."""
    register_fonts()
    with names_of(result.job):
        return _pages_pdf(
            result, sheets or plan_sheets(result.plan), progress or Progress()
        )


def _pages_pdf(result: Result, sheets: Sequence[Figure], progress: Progress) -> bytes:
    title = f"{result.job.name}: cutting plan"
    told = sections(result.plan)
    figures = piece_figures(result, told)
    quilt = quilt_pages(result)
    to_choose = quilt.to_choose if quilt is not None else ()

    progress.say("Setting the pages.")
    pieces = by_piece(told, figures)
    after = flat(part(result) for part in (tick_list, slips, my_pile))
    before = [*front_page(result, to_choose), *quilt_story(quilt), *overview(sheets)]
    story = [*before, *pieces, *after, *label_story(quilt)]
    slots = [item for item in _unpacked(story) if isinstance(item, Slot)]
    text, total = set_words(story, title)
    progress.say(f"Putting {total} pages together.")
    to_buy = shopping_slip(result, to_choose)
    slip, _ = set_words(to_buy, f"{result.job.name}: to buy", slip_size(to_buy))
    return merged(text, slots, [slip])


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
