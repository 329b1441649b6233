"""Whether the labels of a picture can be read: large enough, on the paper, and none on another."""

from __future__ import annotations

from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.text import Text

from cutopt.draw.looks import SMALLEST_TEXT


def whole(ax: Axes) -> Figure:
    figure = ax.figure
    assert isinstance(figure, Figure)
    return figure


def texts(figure: Figure) -> list[Text]:
    return [
        text
        for text in figure.findobj(Text)
        if text.get_text().strip() and text.get_visible()
    ]


def check_labels(figure: Figure) -> None:
    """All texts at least 8 points, within the figure, and none on another."""
    renderer = FigureCanvasAgg(figure).get_renderer()
    found = texts(figure)
    assert found
    boxes = [text.get_window_extent(renderer) for text in found]
    for text, box in zip(found, boxes, strict=True):
        assert text.get_fontsize() >= SMALLEST_TEXT, text.get_text()
        assert box.x0 >= -0.5, text.get_text()
        assert box.y0 >= -0.5, text.get_text()
        assert box.x1 <= figure.bbox.width + 0.5, text.get_text()
        assert box.y1 <= figure.bbox.height + 0.5, text.get_text()
    for i, a in enumerate(boxes):
        for j in range(i):
            assert not a.overlaps(boxes[j]), (found[i].get_text(), found[j].get_text())
