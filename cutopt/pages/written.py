"""The files that were written, as a notebook shows them: links, and the first page as a picture."""

from __future__ import annotations

import base64
import os
from io import BytesIO
from pathlib import Path
from typing import Final
from urllib.parse import quote

from cutopt.svg import escape

FILES: Final = ("plan.pdf", "cut-list.csv", "shopping.csv", "plan.json", "overview.png")
_DOTS_AN_INCH = 80


class Written(tuple[Path, ...]):
    """Paths of the files of one plan."""

    __slots__ = ()

    def _repr_html_(self) -> str:
        """A link to each file, and page 1."""
        links = "<br>".join(_link(path) for path in self)
        pages = [path for path in self if path.suffix == ".pdf"]
        first = "".join(_first_page(path) for path in pages[:1])
        return f"<div>Written for the table:<br>{links}</div>{first}"


def _link(path: Path) -> str:
    """A link that holds from the notebook's own folder."""
    near = Path(os.path.relpath(path)).as_posix()
    return f'<a href="{escape(quote(near))}" target="_blank">{escape(near)}</a>'


def _first_page(path: Path) -> str:
    """Page 1 as a picture, as wide as the notebook allows; nothing where the file has gone."""
    import pypdfium2

    if not path.is_file():
        return ""
    out = BytesIO()
    document = pypdfium2.PdfDocument(path)
    try:
        document[0].render(scale=_DOTS_AN_INCH / 72).to_pil().save(
            out, format="png", optimize=True
        )
    finally:
        document.close()
    data = base64.b64encode(out.getvalue()).decode("ascii")
    style = "max-width:100%;border:1px solid #888;margin-top:8px"
    return f'<div><img alt="page 1 of {escape(path.name)}" style="{style}" src="data:image/png;base64,{data}"></div>'
