"""Paper: page size, letters, a place for a drawing among the words, page numbers, and putting it all together.

Pages are 210 x 279 mm, which A4 (210 x 297, ISO 216) and US letter (215.9 x 279.4) both hold unscaled. Words are
set with reportlab, drawings with matplotlib, and each drawing is laid upon its place with pypdf.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from io import BytesIO
from itertools import groupby
from typing import Any, Final

import matplotlib as mpl
from matplotlib.backends.backend_pdf import PdfPages
from matplotlib.figure import Figure
from pypdf import PdfReader, PdfWriter
from pypdf.generic import (
    ArrayObject,
    DictionaryObject,
    FloatObject,
    NameObject,
    StreamObject,
)
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import (
    BaseDocTemplate,
    Flowable,
    Frame,
    KeepInFrame,
    PageTemplate,
    Paragraph,
    Table,
)

from cutopt.draw.letters import fitted, other_fonts, others_for, own_font, shown
from cutopt.draw.piece import Drawn

PAGE: Final = (210 * mm, 279 * mm)
SIDE = 10 * mm
HEAD = 9 * mm
FOOT = 12 * mm
SMALL: Final = 4 * mm  # round the words of a slip
INSIDE: Final = PAGE[0] - 2 * SIDE
# the height of a page's words, less a point for rounding
ROOM: Final = PAGE[1] - HEAD - FOOT - 1
POINTS: Final = 72  # of an inch
FONT = "Maker"
BOLD = "Maker-Bold"
_LEADING: Final = 1.32  # from line to line, of the size of the letters


def register_fonts() -> None:
    """The letters of the drawings (DejaVu Sans, which matplotlib brings along), for the words as well."""
    if FONT not in pdfmetrics.getRegisteredFontNames():
        pdfmetrics.registerFont(TTFont(FONT, str(own_font())))
        pdfmetrics.registerFont(TTFont(BOLD, str(own_font("Bold"))))
        pdfmetrics.registerFontFamily(
            FONT, normal=FONT, bold=BOLD, italic=FONT, boldItalic=BOLD
        )


def style(
    size: float,
    *,
    bold: bool = False,
    before: float = 0,
    after: float = 0,
    left: float = 0,
) -> ParagraphStyle:
    """A paragraph style.

    Parameters
    ----------
    size : float
        Of the letters, points.
    bold : bool
    before, after, left : float
        Room above, below and at the left, points.
    """
    return ParagraphStyle(
        name=f"{size}",
        fontName=BOLD if bold else FONT,
        fontSize=size,
        leading=size * _LEADING,
        spaceBefore=before,
        spaceAfter=after,
        leftIndent=left,
    )


def escaped(text: str) -> str:
    """Text that a paragraph shows as it is, letters that our own font lacks in one that has them."""
    said = shown(text)
    if said.isascii():
        return _plain(said)
    runs = groupby(said, key=others_for)
    return "".join(
        _plain("".join(signs)) if font is None else _lettered(font, "".join(signs))
        for font, signs in runs
    )


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
    """A heading that stays with what follows.

    Parameters
    ----------
    text : str
    size, before : float
        Of the letters, and the room above, points.
    """
    made = style(size, bold=True, before=before, after=3)
    made.keepWithNext = 1
    return Paragraph(escaped(text), made)


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where a drawing is laid: page (from 0), lower left corner in points, how much smaller it is drawn."""

    page: int
    x: float
    y: float
    scale: float


class Slot(Flowable):  # type: ignore[misc]
    """A place among the words that a drawing is laid upon later; it notes where it came to stand."""

    def __init__(self, drawn: Figure | Drawn) -> None:
        super().__init__()
        self._drawn = drawn
        if isinstance(drawn, Figure):
            wide, high = (float(side) * POINTS for side in drawn.get_size_inches())
        else:
            wide, high = (side * mm for side in drawn.size)
        self.width = wide
        self.height = high
        self.place: Place | None = None

    @property
    def figure(self) -> Figure:
        """The drawing."""
        if isinstance(self._drawn, Figure):
            return self._drawn
        return self._drawn.figure

    def wrap(self, *_: float) -> tuple[float, float]:
        """Its size, points."""
        return self.width, self.height

    def draw(self) -> None:
        """Note where it stands, and whether what is round it was made smaller."""
        x, y = self.canv.absolutePosition(0, 0)
        right, _ = self.canv.absolutePosition(1, 0)
        self.place = Place(
            page=self.canv.getPageNumber() - 1, x=x, y=y, scale=right - x
        )


def set_words(
    story: Sequence[Any], title: str, size: tuple[float, float] = PAGE
) -> tuple[bytes, int]:
    """Set flowables on pages of one size. Slips have no footer.

    Parameters
    ----------
    story : sequence of flowables
    title : str
        In the footer, and in the file itself.
    size : tuple of float
        Width and height of a page, points.

    Returns
    -------
    bytes, int
        The PDF, and how many pages it has.
    """
    out = BytesIO()
    small = size[0] < 100 * mm
    side, head, foot = (SMALL, SMALL, SMALL) if small else (SIDE, HEAD, FOOT)
    frame = Frame(side, foot, size[0] - 2 * side, size[1] - head - foot, 0, 0, 0, 0)
    document = _Document(
        out,
        pagesize=size,
        pageTemplates=[PageTemplate(frames=[frame], pagesize=size)],
        title=shown(title),
        author="",
        subject="Cutting plan",
        creator="cutopt",
        invariant=1,
    )
    if small:
        below = None
    else:
        below = in_lines(title, 1, INSIDE - 35 * mm, 8.5)
    document.build(list(story), canvasmaker=partial(_Counted, below=below))
    return out.getvalue(), document.page


class _Counted(Canvas):  # type: ignore[misc]
    """A canvas that holds its pages back until it is known how many they are, which each of them says at its foot."""

    def __init__(self, *place: Any, below: Paragraph | None, **more: Any) -> None:
        super().__init__(*place, **more)
        self._below = below
        self._held: list[dict[str, Any]] = []

    def showPage(self) -> None:  # noqa: N802 (its name in reportlab)
        """Hold a page back, and begin the next one."""
        self._held.append(dict(self.__dict__))
        self._startPage()

    def save(self) -> None:
        """Let all pages go."""
        held = self._held
        for page in held:
            self.__dict__.update(page)
            self._foot(len(held))
            super().showPage()
        super().save()

    def _foot(self, total: int) -> None:
        """The title, as far as it fits in one line beside the page number, and that."""
        if self._below is None:
            return
        self._below.wrapOn(self, INSIDE, FOOT)
        self._below.drawOn(self, SIDE, 7 * mm - 2.5)
        if total > 1:
            of_all = f" of {total}"
        else:
            of_all = ""
        self.setFont(FONT, 8.5)
        self.drawRightString(
            PAGE[0] - SIDE, 7 * mm, f"page {self.getPageNumber()}{of_all}"
        )


class _Document(BaseDocTemplate):  # type: ignore[misc]
    """A document in which nothing is too high: what no page holds is split, or else made smaller."""

    def handle_flowable(self, flowables: list[Any]) -> None:
        """As ever, but for a flowable that did not fit before and does not now, with a page to itself."""
        if getattr(flowables[0], "_postponed", False):
            flowables[0] = self._fitting(flowables[0])
        super().handle_flowable(flowables)

    def _fitting(self, flowable: Any) -> Any:
        room = self.frame._aW, self.frame._aH
        if flowable.wrapOn(self.canv, *room)[1] <= room[1] or flowable.splitOn(
            self.canv, *room
        ):
            return flowable
        if isinstance(flowable, Table):
            flowable.splitInRow = 1
            if flowable.splitOn(self.canv, *room):
                return flowable
        return KeepInFrame(*room, content=[flowable], mode="shrink")


def in_lines(text: str, most: int, room: float, size: float, **more: Any) -> Paragraph:
    """A paragraph of so many lines at most, its end cut off.

    Parameters
    ----------
    text : str
    most : int
        Lines.
    room, size : float
        How wide it may be, and of the letters, points.
    more
        As of :func:`style`.
    """
    return words(
        fitted(
            shown(text), lambda said: _lines(words(said, size, **more), room) <= most
        ),
        size,
        **more,
    )


def _lines(paragraph: Paragraph, room: float) -> int:
    return int(paragraph.wrap(room, PAGE[1])[1] / paragraph.style.leading + 0.5)


def drawings_pdf(figures: Iterable[Figure]) -> bytes:
    """One page a drawing, each of its own size, its letters TrueType (type 42), so that they can be searched."""
    out = BytesIO()
    plain = {"Creator": None, "Producer": None, "CreationDate": None}
    with (
        mpl.rc_context({"pdf.fonttype": 42, "hatch.linewidth": 0.6}),
        PdfPages(out, metadata=plain) as pdf,
    ):
        for figure in figures:
            pdf.savefig(figure)
    return out.getvalue()


def merged(
    text: bytes,
    slots: Sequence[Slot],
    more: Sequence[bytes] = (),
    told: Callable[[float], None] = lambda _: None,
) -> bytes:
    """The pages of words with every drawing on its places, then the pages of other PDFs.

    Parameters
    ----------
    text : bytes
        The PDF of the words.
    slots : sequence of Slot
        The places in it.
    more : sequence of bytes
        Other PDFs.
    told : callable
        Called with the share of the drawings that are done, after each.
    """
    writer = PdfWriter(clone_from=BytesIO(text))
    places: dict[Figure, list[Place]] = {}
    for slot in slots:
        if slot.place is not None:
            places.setdefault(slot.figure, []).append(slot.place)
    if places:
        drawn = PdfReader(BytesIO(drawings_pdf(_counted(places, told))))
        for i, (page, stand) in enumerate(
            zip(drawn.pages, places.values(), strict=True)
        ):
            form = _form(writer, page)
            for place in stand:
                _lay(writer, form, f"/Drawing{i}", place)
    for other in more:
        writer.append(BytesIO(other))
    out = BytesIO()
    writer.write(out)
    return out.getvalue()


def _counted(
    figures: Collection[Figure], told: Callable[[float], None]
) -> Iterator[Figure]:
    """The drawings one after the other; tells which share of them is done."""
    for i, figure in enumerate(figures):
        yield figure
        told((i + 1) / len(figures))


def _form(writer: PdfWriter, drawn: Any) -> Any:
    """A drawing as a form (ISO 32000-1, 8.10): its content is copied, not read through."""
    form = StreamObject()
    form.set_data(drawn.get_contents().get_data())
    form[NameObject("/Type")] = NameObject("/XObject")
    form[NameObject("/Subtype")] = NameObject("/Form")
    form[NameObject("/BBox")] = ArrayObject(FloatObject(v) for v in drawn.mediabox)
    form[NameObject("/Resources")] = drawn["/Resources"].clone(writer)
    return writer._add_object(form.flate_encode())


def _lay(writer: PdfWriter, form: Any, name: str, place: Place) -> None:
    """Lay a form upon a page."""
    page: Any = writer.pages[place.page]
    stamp = StreamObject()
    by = f"{place.scale:.4f} 0 0 {place.scale:.4f} {place.x:.3f} {place.y:.3f}"
    stamp.set_data(f"\nq {by} cm {name} Do Q\n".encode())
    resources = page[NameObject("/Resources")]
    forms = resources.setdefault(NameObject("/XObject"), DictionaryObject())
    forms[NameObject(name)] = form
    there = page.raw_get("/Contents")
    page[NameObject("/Contents")] = ArrayObject(
        [*(there if isinstance(there, list) else [there]), writer._add_object(stamp)]
    )
