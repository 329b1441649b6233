"""The widget that shows the tables of a job, and saves what the maker changed."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import anywidget
import traitlets

from cutopt.app.editor.texts import save, shown
from cutopt.errors import JobError, Problem
from cutopt.lengths import so_many
from cutopt.tables import read_job
from cutopt.tables.files.workbook import is_workbook

_HERE = Path(__file__).parent


def edit_tables(folder: str | Path = ".") -> TablesView:
    """Show the tables of a job in a notebook, to be changed and saved.

    Parameters
    ----------
    folder : str or Path
        A job folder.

    Returns
    -------
    TablesView
        A widget. *Save* writes the files that were changed, each whole or not at all, and reads the job again:
        every mistake is told below the tables.

    Raises
    ------
    Problem
        For a workbook, which is changed in a spreadsheet, and where there is no folder.
    """
    home = Path(folder)
    if is_workbook(home):
        raise Problem(
            "",
            f"{home.name} is a workbook",
            "change it in a spreadsheet, save it there, then read it again",
        )
    if not home.is_dir():
        raise Problem(
            "",
            f'there is no folder "{home}"',
            "check the path, or start with: cutopt new FOLDER",
        )
    return TablesView(home.resolve())


class TablesView(anywidget.AnyWidget):
    """Tables of one folder. The page asks by messages (``save``, ``read``) and is answered by traits."""

    _esm = _HERE / "tables.js"
    _css = _HERE / "tables.css"
    files: traitlets.List[dict[str, object]] = traitlets.List().tag(sync=True)
    mistakes = traitlets.List(traitlets.Unicode()).tag(sync=True)
    said = traitlets.Unicode().tag(sync=True)
    # whether the last request to save was met
    saved = traitlets.Bool(True).tag(sync=True)
    # counts up when a request is done
    answer = traitlets.Int(0).tag(sync=True)

    def __init__(self, folder: Path) -> None:
        super().__init__()
        self._folder = folder
        self._known: dict[str, bytes] = {}
        self.on_msg(self._asked)
        self._read()

    def _asked(
        self, _widget: object, content: dict[str, Any], _buffers: object
    ) -> None:
        self.saved = False
        try:
            if "save" in content:
                self._save(content["save"])
            else:
                self._read()
        except (OSError, ValueError) as error:
            # a sentence is seen, an error behind a button is not
            self.said = f"This did not work: {error}"
        self.answer += 1

    def _read(self) -> None:
        """Show the files as they are on the disk."""
        self._known = {
            path.name: path.read_bytes()
            for path in self._folder.iterdir()
            if path.is_file()
        }
        self.files = [one.as_message() for one in shown(self._folder)]
        self._judge("")

    def _save(self, changed: dict[str, Any]) -> None:
        """Write what was changed, unless somebody else has written there since it was read."""
        others = [file for file in changed if self._changed_elsewhere(file)]
        if others:
            names = " and ".join(others)
            self.said = f"Nothing was saved: {names} was changed by another program. Press Read again to see it."
            return
        for file, content in changed.items():
            save(self._folder, file, content)
            self._known[file] = (self._folder / file).read_bytes()
        self.saved = True
        self._judge(
            f"Saved {' and '.join(changed)}. "
            if changed
            else "Nothing had been changed. "
        )

    def _changed_elsewhere(self, file: str) -> bool:
        path = self._folder / file
        if path.is_file():
            now = path.read_bytes()
        else:
            now = b""
        return now != self._known.get(file, b"")

    def _judge(self, before: str) -> None:
        """Read the job as it is on the disk, and say what is wrong with it."""
        try:
            job = read_job(self._folder)
        except JobError as error:
            self.mistakes = [problem.sentence for problem in error.problems]
            self.said = f"{before}{so_many(len(self.mistakes), 'thing')} to mend:"
            return
        leftovers = sum(piece.count for piece in job.pieces)
        wanted = so_many(len(job.wanted) + len(job.backs), "row")
        self.mistakes = []
        self.said = f"{before}The job reads well: {so_many(leftovers, 'leftover')}, {wanted} of what is wanted."
