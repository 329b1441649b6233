"""A file of a job as text; what is no file, too large, in another encoding, or not to be seen is told."""

from __future__ import annotations

import os
import stat
from pathlib import Path
from typing import Final

from cutopt.errors import Problem
from cutopt.signs import unseen_sign
from cutopt.tables.log import Log

MOST_BYTES: Final = 16 * 2**20
MOST_ROWS: Final = 10_000


def read_text(path: Path, log: Log, most: int = MOST_BYTES) -> str:
    """The text of a UTF-8 file, lines ended by \\n; another encoding is a problem, and is read as far as it can be.

    Parameters
    ----------
    path : Path
    log : Log
        Why there is no text, or what is wrong with it.
    most : int
        Bytes.
    """
    data = bytes_of(path, log, most)
    if data is None:
        return ""
    text = decoded(data, path.name, log).replace("\r\n", "\n").replace("\r", "\n")
    return _seen(text, path.name, log)


def bytes_of(path: Path, log: Log, most: int = MOST_BYTES) -> bytes | None:
    """What a file holds; None where it is not there, no file (opening a pipe would never end), or too large.

    Parameters
    ----------
    path : Path
    log : Log
        Why there are none.
    most : int
        Bytes.
    """
    try:
        what, mend = _not_readable(path.stat(), most)
        if not what:
            return path.read_bytes()
    except FileNotFoundError:
        what = "there is no such file"
        mend = "check the path"
        if path.is_symlink():
            what = "it is a link to a file that is not there"
            mend = "put the file itself here, or take the link away"
    except OSError as error:
        what = f"it cannot be read ({error.strerror or error})"
        mend = "check the file, and who may read it"
    log.add(Problem("", what, mend), path.name)
    return None


def _not_readable(found: os.stat_result, most: int) -> tuple[str, str]:
    if stat.S_ISDIR(found.st_mode):
        return "it is a folder, not a file", "give the folder another name"
    if not stat.S_ISREG(found.st_mode):
        return "it is no file but a pipe or a device", "save the table as a file"
    if found.st_size > most:
        return (
            f"it is larger than {most // 1024} KiB",
            "leave out what does not belong to the job",
        )
    return "", ""


def decoded(data: bytes, file: str, log: Log) -> str:
    """Text from bytes: UTF-8 with or without a byte order mark; UTF-16 and Windows-1252 are explained.

    Parameters
    ----------
    data : bytes
    file : str
        Its name.
    log : Log
        That it is not UTF-8.
    """
    if file.endswith(".csv"):
        mend = "save it again as CSV UTF-8"
    else:
        mend = "save it again as UTF-8"
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        wide = "utf-16"
    else:
        wide = _unmarked_utf16(data)
    if wide:
        log.add(Problem("", "it is saved as UTF-16 (Unicode text)", mend), file)
        return data.decode(wide, errors="replace").removeprefix("\ufeff")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        row = data[: error.start].count(b"\n") + 1
        text = data.decode("cp1252", errors="replace")
        if text.splitlines()[row - 1 :]:
            shown = text.splitlines()[row - 1].strip()
        else:
            shown = ""
        log.add(
            Problem(
                "",
                f'it is saved in an old encoding (Windows-1252), seen at "{shown}"',
                mend,
            ),
            file,
            row,
        )
        return text


def _unmarked_utf16(data: bytes) -> str:
    head = data[:200]
    if head.count(0) * 4 < len(head) or len(head) < 4:
        return ""
    odd = head[1::2].count(0)
    even = head[0::2].count(0)
    if odd > even:
        return "utf-16-le"
    return "utf-16-be"


def _seen(text: str, file: str, log: Log) -> str:
    """The text without signs that nobody can see, which are noted; a tab stays."""
    lines = text.split("\n")
    for i, line in enumerate(lines):
        if line.isprintable():
            continue
        sign = unseen_sign(line.replace("\t", " "))
        if sign:
            log.add(unseen(line, sign), file, i + 1)
            lines[i] = "".join(kept for kept in line if not unseen_sign(kept))
    return "\n".join(lines)


def unseen(text: str, sign: str) -> Problem:
    """What is wrong with a text that has a sign nobody can see."""
    at = max(text.find(sign) - 30, 0)
    what = f'"{text[at : at + 60].strip()}" has a sign that nobody can see (U+{ord(sign):04X}, shown as \ufffd)'
    return Problem("", what, "write it again without the sign")
