"""Writing a file whole or not at all."""

from __future__ import annotations

import csv
import io
import os
import uuid
from collections.abc import Iterable, Sequence
from pathlib import Path


def write_whole(path: Path, content: str | bytes) -> None:
    """Write a file in one step: a reader sees the old file or the new one, never half of it."""
    path.parent.mkdir(parents=True, exist_ok=True)
    beside = path.with_name(f".{path.name}.{uuid.uuid4().hex}.tmp")
    try:
        with beside.open("xb") as file:
            file.write(content.encode() if isinstance(content, str) else content)
            file.flush()
            os.fsync(file.fileno())
        beside.replace(path)
    finally:
        beside.unlink(missing_ok=True)


def csv_text(columns: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    """A table as CSV text; a byte order mark goes first where a spreadsheet would else misread its signs."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(columns)
    writer.writerows(rows)
    text = out.getvalue()
    return text if text.isascii() else "\ufeff" + text
