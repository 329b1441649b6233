"""Writing files whole or not at all: one of them, or several of a folder in one step.

Several are written into a hidden folder inside the place where they belong. One rename gives that folder the name
of what is ready: from then on the new files count, and whoever comes next, reader or writer, moves those that are
still in it to their places (:func:`settle`). Until then the old files count, and whoever comes next clears the hidden
folder away. So neither a kill nor a power cut leaves a mixture. Other files of the folder are never touched.
"""

from __future__ import annotations

import csv
import io
import os
import shutil
import time
import uuid
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Final

from cutopt.errors import Problem

try:
    import fcntl
except ImportError:
    # not on Windows: there only age tells what nobody works on any more
    fcntl = None  # type: ignore[assignment]

_NEW: Final = ".cutopt-new-"
_READY: Final = ".cutopt-ready"
_DAY: Final = 24 * 60 * 60.0


def write_whole(path: Path, content: str | bytes) -> None:
    """Write a file in one step: a reader sees the old file or the new one, never half of it."""
    path.parent.mkdir(parents=True, exist_ok=True)
    beside, lock = _claimed(path.parent, Path.touch)
    try:
        with beside.open("wb") as file:
            file.write(content.encode() if isinstance(content, str) else content)
            file.flush()
            os.fsync(file.fileno())
        beside.replace(path)
    finally:
        beside.unlink(missing_ok=True)
        _let_go(lock)


@contextmanager
def staged(folder: Path) -> Iterator[Path]:
    """A hidden folder to write files into; when the block ends all of them are in `folder`, or none where it failed.

    Parameters
    ----------
    folder : path
        Made where it is missing, and taken away again where the block fails. Files of the same names are replaced,
        those in subfolders too; all others stay.

    Raises
    ------
    Problem
        Where a file that is to be replaced cannot be: it is told which, and the next :func:`settle` tries again.
    """
    missing = not folder.exists()
    folder.mkdir(parents=True, exist_ok=True)
    settle(folder)
    beside, lock = _claimed(folder, Path.mkdir)
    try:
        yield beside
        _to_disk(beside)
        _make_ready(beside, folder)
        settle(folder)
    finally:
        shutil.rmtree(beside, ignore_errors=True)
        _let_go(lock)
        if missing:
            with suppress(OSError):
                # it holds what was written
                folder.rmdir()


def settle(folder: Path) -> None:
    """Bring to an end what a process that was killed left in a folder: finish its switch, clear its leftovers.

    Raises
    ------
    Problem
        Where files of one set wait for their places and cannot be moved there.
    """
    with suppress(FileNotFoundError):
        # someone else finishes it at the same time
        _move_in(folder)
    for path in folder.glob(f"{_NEW}*"):
        if _forsaken(path):
            shutil.rmtree(path, ignore_errors=True) if path.is_dir() else path.unlink(
                missing_ok=True
            )


def _make_ready(beside: Path, folder: Path) -> None:
    """The switch: before this rename the old files count, after it the new ones."""
    while True:
        try:
            beside.rename(folder / _READY)
        except OSError:
            if not (folder / _READY).exists():
                raise
            # of another process, which was killed
            settle(folder)
        else:
            _sync(folder)
            return


def _move_in(folder: Path) -> None:
    ready = folder / _READY
    for path in sorted(path for path in ready.rglob("*") if path.is_file()):
        place = folder / path.relative_to(ready)
        try:
            place.parent.mkdir(parents=True, exist_ok=True)
            path.replace(place)
        except FileNotFoundError:
            raise
        except OSError as error:
            what = f"a new version waits to take its place and cannot ({error.strerror or error})"
            raise Problem(
                "",
                what,
                "close it in other programs, and let the folder be written",
                file=str(place),
            ) from error
    shutil.rmtree(ready, ignore_errors=True)


def _claimed(folder: Path, make: Callable[[Path], None]) -> tuple[Path, int | None]:
    """A new hidden file or folder, and the lock that keeps others from clearing it away while we live."""
    while True:
        path = folder / f"{_NEW}{uuid.uuid4().hex}"
        make(path)
        lock = _lock(path)
        if path.exists():
            return path, lock
        # someone cleared it away in the moment before it was locked
        _let_go(lock)


def _lock(path: Path) -> int | None:
    """A lock that the system opens when this process ends, however it ends; None where there is none to be had."""
    if fcntl is None:
        return None
    try:
        opened = os.open(path, os.O_RDONLY)
    except OSError:
        return None
    try:
        fcntl.flock(opened, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        os.close(opened)
        return None
    return opened


def _let_go(lock: int | None) -> None:
    if lock is not None:
        os.close(lock)


def _forsaken(path: Path) -> bool:
    """Whether nobody writes this any more."""
    if fcntl is None:
        return time.time() - path.stat().st_mtime > _DAY
    lock = _lock(path)
    _let_go(lock)
    return lock is not None


def _to_disk(folder: Path) -> None:
    """Have the disk hold all files of a folder before anything is renamed."""
    for path in (*folder.rglob("*"), folder):
        _sync(path)


def _sync(path: Path) -> None:
    with suppress(OSError):
        # not every system can do that with a folder
        opened = os.open(path, os.O_RDONLY)
        try:
            os.fsync(opened)
        finally:
            os.close(opened)


def csv_text(columns: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    """A table as CSV text; a byte order mark goes first where a spreadsheet would else misread its signs."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(columns)
    writer.writerows(rows)
    text = out.getvalue()
    if text.isascii():
        return text
    return "\ufeff" + text
