"""Paper: page size, letters, a place for a drawing among the words, page numbers, and putting it all together.

Pages are 210 x 279 mm, which A4 (210 x 297, ISO 216) and US letter (215.9 x 279.4) both hold unscaled. Words are
set with reportlab, drawings with matplotlib, and each drawing is laid upon its place with pypdf.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from io import BytesIO
from itertools import groupby
from typing import Any, Final

import matplotlib as mpl
from matplotlib.backends.backend_pdf import PdfPages
from matplotlib.figure import Figure
from pypdf import PdfReader, PdfWriter
from pypdf.generic import ArrayObject, DictionaryObject, FloatObject, NameObject, StreamObject
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.platypus import BaseDocTemplate, Flowable, Frame, PageTemplate, Paragraph

from cutopt.draw.letters import fitted, other_fonts, others_for, own_font, shown

PAGE: Final = (210 * mm, 279 * mm)
SIDE, HEAD, FOOT = 10 * mm, 9 * mm, 12 * mm
SMALL: Final = 4 * mm  # round the words of a slip
INSIDE: Final = PAGE[0] - 2 * SIDE
ROOM: Final = PAGE[1] - HEAD - FOOT - 1  # the height of a page's words, less a point for rounding
FONT, BOLD = "Maker", "Maker-Bold"
_LEADING: Final = 1.32  # from line to line, of the size of the letters


def register_fonts() -> None:
    """The letters of the drawings (DejaVu Sans, which matplotlib brings along), for the words as well."""
    if FONT not in pdfmetrics.getRegisteredFontNames():
        pdfmetrics.registerFont(TTFont(FONT, str(own_font())))
        pdfmetrics.registerFont(TTFont(BOLD, str(own_font("Bold"))))
        pdfmetrics.registerFontFamily(FONT, normal=FONT, bold=BOLD, italic=FONT, boldItalic=BOLD)


def style(size: float, *, bold: bool = False, before: float = 0, after: float = 0, left: float = 0) -> ParagraphStyle:
    """A paragraph style; sizes in points."""
    return ParagraphStyle(
        name=f"{size}", fontName=BOLD if bold else FONT, fontSize=size, leading=size * _LEADING,
        spaceBefore=before, spaceAfter=after, leftIndent=left,
    )  # fmt: skip


def escaped(text: str) -> str:
    """Text that a paragraph shows as it is, letters that our own font lacks in one that has them."""
    said = shown(text)
    if said.isascii():
        return _plain(said)
    runs = groupby(said, key=others_for)
    return "".join(_plain("".join(signs)) if font is None else _lettered(font, "".join(signs)) for font, signs in runs)


def _plain(text: str) -> str:
    return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


def _lettered(font: int, text: str) -> str:
    """A text in a font of the machine, by its number."""
    name = f"{FONT}-other-{font}"
    if name not in pdfmetrics.getRegisteredFontNames():
        pdfmetrics.registerFont(TTFont(name, str(other_fonts()[font])))
    return f'<font name="{name}">{_plain(text)}</font>'


def words(text: str, size: float = 10, **more: Any) -> Paragraph:
    """A paragraph of plain text."""
    return Paragraph(escaped(text), style(size, **more))


def heading(text: str, size: float = 15, before: float = 8) -> Paragraph:
    """A heading that stays with what follows."""
    made = style(size, bold=True, before=before, after=3)
    made.keepWithNext = 1
    return Paragraph(escaped(text), made)


class Slot(Flowable):  # type: ignore[misc]
    """A place among the words that a drawing is laid upon later; it notes where it came to stand."""

    def __init__(self, width: float, height: float, drawing: Callable[[], Figure]) -> None:
        super().__init__()
        self.width, self.height, self.drawing = width, height, drawing
        self.place: tuple[int, float, float] | None = None

    def wrap(self, *_: float) -> tuple[float, float]:
        """Its size, points."""
        return self.width, self.height

    def draw(self) -> None:
        """Note page (from 0) and lower left corner, points."""
        x, y = self.canv.absolutePosition(0, 0)
        self.place = (self.canv.getPageNumber() - 1, x, y)


def set_words(story: Sequence[Any], title: str, total: int, size: tuple[float, float] = PAGE) -> tuple[bytes, int]:
    """Set flowables on pages of one size; gives the PDF and how many pages it has. No footer where total is 0."""
    out = BytesIO()
    small = size[0] < 100 * mm
    side, head, foot = (SMALL, SMALL, SMALL) if small else (SIDE, HEAD, FOOT)
    pages = 0

    def footer(canvas: Any, document: Any) -> None:
        nonlocal pages
        pages = document.page
        if not small:
            of_all = f" of {total}" if total else ""
            _below(canvas, title)
            canvas.setFont(FONT, 8.5)
            canvas.drawRightString(size[0] - SIDE, 7 * mm, f"page {document.page}{of_all}")

    frame = Frame(side, foot, size[0] - 2 * side, size[1] - head - foot, 0, 0, 0, 0)
    document = BaseDocTemplate(
        out, pagesize=size, pageTemplates=[PageTemplate(frames=[frame], onPage=footer, pagesize=size)],
        title=shown(title), author="", subject="Cutting plan", creator="cutopt", invariant=1,
    )  # fmt: skip
    document.build(list(story))
    return out.getvalue(), pages


def _below(canvas: Any, title: str) -> None:
    """The title at the foot of a page, as far as it fits in one line beside the page number."""
    line = in_lines(title, 1, INSIDE - 35 * mm, 8.5)
    line.wrapOn(canvas, INSIDE, FOOT)
    line.drawOn(canvas, SIDE, 7 * mm - 2.5)


def in_lines(text: str, most: int, room: float, size: float, **more: Any) -> Paragraph:
    """A paragraph of so many lines at most, its end cut off."""
    return words(fitted(shown(text), lambda said: _lines(words(said, size, **more), room) <= most), size, **more)


def _lines(paragraph: Paragraph, room: float) -> int:
    return int(paragraph.wrap(room, PAGE[1])[1] / paragraph.style.leading + 0.5)


def drawings_pdf(figures: Sequence[Callable[[], Figure]]) -> bytes:
    """One page a drawing, each of its own size, its letters TrueType (type 42), so that they can be searched."""
    out = BytesIO()
    plain = {"Creator": None, "Producer": None, "CreationDate": None}
    with mpl.rc_context({"pdf.fonttype": 42, "hatch.linewidth": 0.6}), PdfPages(out, metadata=plain) as pdf:
        for make in figures:
            pdf.savefig(make())
    return out.getvalue()


def merged(text: bytes, slots: Sequence[Slot], more: Sequence[bytes] = ()) -> bytes:
    """The pages of words with every drawing on its place, then the pages of other PDFs."""
    writer = PdfWriter(clone_from=BytesIO(text))
    placed = [slot for slot in slots if slot.place is not None]
    if placed:
        drawn = PdfReader(BytesIO(drawings_pdf([slot.drawing for slot in placed])))
        for i, (slot, page) in enumerate(zip(placed, drawn.pages, strict=True)):
            number, x, y = slot.place or (0, 0.0, 0.0)
            _lay(writer, writer.pages[number], page, f"/Drawing{i}", x, y)
    for other in more:
        writer.append(BytesIO(other))
    out = BytesIO()
    writer.write(out)
    return out.getvalue()


def _lay(writer: PdfWriter, page: Any, drawn: Any, name: str, x: float, y: float) -> None:
    """Lay one page upon another as a form (ISO 32000-1, 8.10): its content is copied, not read through."""
    form = StreamObject()
    form.set_data(drawn.get_contents().get_data())
    form[NameObject("/Type")] = NameObject("/XObject")
    form[NameObject("/Subtype")] = NameObject("/Form")
    form[NameObject("/BBox")] = ArrayObject(FloatObject(v) for v in drawn.mediabox)
    form[NameObject("/Resources")] = drawn["/Resources"].clone(writer)
    stamp = StreamObject()
    stamp.set_data(f"\nq 1 0 0 1 {x:.3f} {y:.3f} cm {name} Do Q\n".encode())
    resources = page[NameObject("/Resources")]
    forms = resources.setdefault(NameObject("/XObject"), DictionaryObject())
    forms[NameObject(name)] = writer._add_object(form.flate_encode())
    there = page.raw_get("/Contents")
    page[NameObject("/Contents")] = ArrayObject(
        [*(there if isinstance(there, list) else [there]), writer._add_object(stamp)]
    )
