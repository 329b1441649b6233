"""What nobody writes on purpose, or somebody does: files, signs and numbers that a job may be spoilt with."""

from __future__ import annotations

import io
import os
import zipfile
from collections.abc import Callable
from pathlib import Path

import openpyxl

# Numbers that are none. Digits of other scripts are digits (test_digits_of_other_scripts), everything else is told.
NUMBERS = {
    "5000 figures": "9" * 5000,
    "101 figures": "9" * 101,
    "90 figures": "9" * 90,
    "1e400": "1e400",
    "1E+300000000": "1E+300000000",
    "nan": "NaN",
    "inf": "inf",
    "minus inf": "-inf",
    "minus": "-1",
    "true minus": "−1",
    "hexadecimal": "0x10",
    "underscore": "1_0",
    "by zero": "1/0",
    "nothing by zero": "0/0",
    "mixed by zero": "1 1/0",
    "halves": "½½",
    "exponent": "1e3",
    "plus": "+3",
    "superscript": "2²",
    "roman": "Ⅷ",
    "chinese": "一",
    "wide point": "1．5",
    "arabic point": "٣٫٥",
    "blank inside": "1 000",
    "thousand blanks": "1" + " " * 1000 + "?",
    "hash": "#REF!",
    "two slashes": "1//2",
    "two minus": "--1",
    "two points": "1..5",
    "a point": ".",
    "a slash": "/",
    "open fraction of 5000 figures": "9" * 5000 + " 1/",
    "open fraction of 98 figures": "9" * 95 + " 1/",
    "markup": "<b>1</b>",
    "a formula": "=cmd|'/c calc'!A0",
}
NAMES = {
    "escape": "\x1b[31mred",
    "bell": "bell\x07",
    "delete": "a\x7fb",
    "right to left": "a\u202eb",
    "zero width": "ze\u200bro",
    "mark in the middle": "a\ufeffb",
    "soft hyphen": "quil\u00adt",
    "line separator": "a\u2028b",
    "next line": "a\x85b",
    "5000 signs": "n" * 5000,
    "81 signs": "n" * 81,
}
SIGNS = {name: text for name, text in NAMES.items() if "signs" not in name}
FILES = (
    "job.toml",
    "pile.txt",
    "pieces.csv",
    "fabrics.csv",
    "shop.csv",
    "cuts.csv",
    "quilt.toml",
)


def dead_link(path: Path) -> None:
    """A link to nothing."""
    path.symlink_to(path.parent / "nowhere")


def looped_link(path: Path) -> None:
    """A link to itself."""
    path.symlink_to(path)


def pipe(path: Path) -> None:
    """A pipe that nobody writes into: reading it would wait for ever."""
    os.mkfifo(path)


def folder(path: Path) -> None:
    """A folder named like a table."""
    path.mkdir()


def nulls(path: Path) -> None:
    """What a disk leaves after a power cut."""
    path.write_bytes(b"\0" * 3000)


def one_null(path: Path) -> None:
    """A NUL in the middle of sound words."""
    path.write_bytes(b"# a\0b\n")


def wide(path: Path) -> None:
    """UTF-16 with a mark."""
    path.write_bytes("a,b\n1,2\n".encode("utf-16"))


def windows(path: Path) -> None:
    """Windows-1252."""
    path.write_bytes("# 2½ Äpfel\n".encode("cp1252"))


def junk(path: Path) -> None:
    """A picture under a wrong name."""
    path.write_bytes(b"\x89PNG\r\n\x1a\n" + bytes(range(256)) * 4)


def huge(path: Path) -> None:
    """20 MiB that take no room on the disk."""
    with path.open("wb") as file:
        file.truncate(20 * 2**20)


KINDS: dict[str, Callable[[Path], None]] = {
    kind.__name__: kind
    for kind in (
        dead_link,
        looped_link,
        pipe,
        folder,
        nulls,
        one_null,
        wide,
        windows,
        junk,
        huge,
    )
}


def sound_book() -> bytes:
    """A workbook with a whole job."""
    book = openpyxl.Workbook()
    book.remove(book.active)
    for name, rows in {
        "job": [["setting", "value"], ["unit", "in"]],
        "pile": [["pile"], ["pear 11 x 7"]],
        "cuts": [["cut", "count", "width", "length"], ["square", 1, 5, 5]],
    }.items():
        sheet = book.create_sheet(name)
        for row in rows:
            sheet.append(row)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def rezipped(
    change: Callable[[str, str], str], more: dict[str, bytes] | None = None
) -> bytes:
    """The sound workbook with the XML of its parts changed."""
    out = io.BytesIO()
    with (
        zipfile.ZipFile(io.BytesIO(sound_book())) as old,
        zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as new,
    ):
        for entry in old.namelist():
            new.writestr(entry, change(entry, old.read(entry).decode()))
        for name, data in (more or {}).items():
            new.writestr(name, data)
    return out.getvalue()


def _in_cuts(old: str, new: str) -> bytes:
    return rezipped(
        lambda name, text: (
            text.replace(old, new) if name.endswith("sheet3.xml") else text
        )
    )


def _entities(name: str, text: str) -> str:
    """Ten entities, each ten of the one before: a word that unfolds into gigabytes."""
    if not name.endswith("sheet3.xml"):
        return text
    told = "".join(f'<!ENTITY e{i} "{f"&e{i - 1};" * 10}">' for i in range(1, 10))
    return f'<!DOCTYPE worksheet [<!ENTITY e0 "bomb">{told}]>' + text.replace(
        "<v>5</v>", "<v>&e9;</v>"
    )


def _flagged(data: bytes) -> bytes:
    """The same archive, said to be locked with a password."""
    at = 0
    changed = bytearray(data)
    while (at := data.find(b"PK\x01\x02", at + 1)) > 0:
        changed[at + 8] |= 1
    return bytes(changed)


BOOKS: dict[str, Callable[[], bytes]] = {
    "empty": lambda: b"",
    "no archive": lambda: b"not a workbook",
    "cut off": lambda: sound_book()[:2000],
    "password": lambda: b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 600,
    "locked archive": lambda: _flagged(sound_book()),
    "an archive of something else": lambda: _zip({"word.txt": b"hello"}),
    "an empty archive": lambda: _zip({}),
    "unfolds into gigabytes": lambda: rezipped(_entities),
    "unpacked 100 MiB": lambda: rezipped(
        lambda _, text: text, {"xl/more.xml": b"0" * 100 * 2**20}
    ),
    "2000 parts": lambda: rezipped(
        lambda _, text: text, {f"xl/p{i}.xml": b"" for i in range(2000)}
    ),
    "broken XML": lambda: _in_cuts("</row>", "</rrow>"),
    "no sheet in it": lambda: rezipped(
        lambda name, text: "<a/>" if name.endswith("workbook.xml") else text
    ),
    "a number of 5000 figures": lambda: _in_cuts("<v>5</v>", f"<v>{'9' * 5000}</v>"),
    "a number that is none": lambda: _in_cuts("<v>5</v>", "<v>five</v>"),
    "a string that is not there": lambda: _in_cuts(
        't="n"><v>5</v>', 't="s"><v>99999</v>'
    ),
    "too many rows": lambda: _in_cuts("</sheetData>", _rows(10_001) + "</sheetData>"),
    "infinite": lambda: _in_cuts("<v>5</v>", "<v>1e400</v>"),
    "not a number": lambda: _in_cuts("<v>5</v>", "<v>nan</v>"),
    "a cell beyond the last column": lambda: _in_cuts('r="C2"', 'r="ZZZZ2"'),
}


def _rows(count: int) -> str:
    cell = '<c r="A{0}" t="inlineStr"><is><t>a{0}</t></is></c>'
    return "".join(f'<row r="{i}">{cell.format(i)}</row>' for i in range(3, 3 + count))


def _zip(entries: dict[str, bytes]) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        for name, data in entries.items():
            archive.writestr(name, data)
    return out.getvalue()


TOMLS = {
    "key twice": 'unit = "in"\nunit = "cm"\n',
    "table twice": 'unit = "in"\n[a]\n[a]\n',
    "brackets without end": 'unit = "in"\nseam = ' + "[" * 50_000 + "\n",
    "nested": 'unit = "in"\nseam = ' + "[" * 5_000 + "]" * 5_000 + "\n",
    "300 settings": 'unit = "in"\n' + "".join(f"k{i} = 1\n" for i in range(300)),
    "hexadecimal of 5000 figures": 'unit = "in"\nseam = 0x' + "f" * 5000 + "\n",
    "5000 figures": 'unit = "in"\nseam = ' + "9" * 5000 + "\n",
    "in a list": 'unit = "in"\nseam = [0x' + "f" * 5000 + "]\n",
    "1E+300000000": 'unit = "in"\nseam = 1E+300000000\n',
    "infinite": 'unit = "in"\nseam = inf\n',
    "not a number": 'unit = "in"\nseam = nan\n',
    "minus": 'unit = "in"\nseam = -1\n',
    "a date": 'unit = "in"\nseam = 2026-01-02\n',
    "yes": 'unit = "in"\nseam = true\n',
    "a table": 'unit = "in"\n[seam]\na = 1\n',
    "a path of keys": 'unit = "in"\n' + ".".join("a" * 20_000) + " = 1\n",
    "unit a number": "unit = 3\n",
    "unit of 5000 signs": f'unit = "{"i" * 5000}"\n',
    "name of 5000 signs": f'unit = "in"\nname = "{"n" * 5000}"\n',
    "name with an escape": 'unit = "in"\nname = "\\u001b[31mred"\n',
    "name with a mark": 'unit = "in"\nname = "a\\u202eb"\n',
    "currency of 100 signs": f'unit = "in"\ncurrency = "{"$" * 100}"\n',
    "keep of many sides": f'unit = "in"\nkeep = "{"5 x " * 5000}5"\n',
    "turns of 5000 figures": f'unit = "in"\nturns = "{"9" * 5000}"\n',
    "turns infinite": 'unit = "in"\nturns = inf\n',
    "grid of thousand blanks": f'unit = "in"\ngrid = "1{" " * 5000}/8?"\n',
    "no TOML": "once upon a time\n",
}
QUILTS = {
    "label of 5000 signs": f'top = "58 x 66"\nlabel = "{"l" * 5000}"\n',
    "label with an escape": 'top = "58 x 66"\nlabel = "\\u001b[31m"\n',
    "sentence of 5000 signs": f'blocks = ["4 squares of 6 from {"oat|" * 2000}oat"]\n',
    "1000 blocks": "blocks = [\n" + '"1 square of 6",\n' * 1000 + "]\n",
    "1000 habits": 'top = "58 x 66"\n[how]\n'
    + "".join(f"h{i} = 1\n" for i in range(1000)),
    "top of 5000 figures": f'top = "{"9" * 5000} x 66"\n',
    "top infinite": 'top = "inf x nan"\n',
    "top 1E+300000000": "top = 1E+300000000\n",
    "hexadecimal": "top = 0x" + "f" * 5000 + "\n",
    "a list of lists": "blocks = [[1]]\n",
    "a date": "top = 2026-01-02\n",
    "nested": "top = " + "[" * 5_000 + "]" * 5_000 + "\n",
    "count of 5000 figures": f'blocks = ["{"9" * 5000} squares of 6 from oat"]\n',
    "habit of 5000 figures": f'top = "58 x 66"\n[how]\nback_overage = "{"9" * 5000}"\n',
    "habit 1E+300000000": 'top = "58 x 66"\n[how]\nback_overage = 1E+300000000\n',
    "habit hexadecimal": 'top = "58 x 66"\n[how]\nback_overage = 0x'
    + "f" * 5000
    + "\n",
    "blanks": f'top = "58{" " * 900}x 6?"\n',
    "setting of 90 figures": f'blocks = ["4 squares of 6"]\nsetting = "{"9" * 90} across, 1 down"\n',
}
HEAD = '"format": "cutopt-plan/1", "ticks_per_mm": 320, "job": "x", "sources": [], "cuts": [], "uses": []'
TOTALS = '"totals": {"money": "0", "bought": {}, "cuts": 0}'
PLANS = {
    "empty": "",
    "blank": " \n\n",
    "a number": "1",
    "null": "null",
    "a list": "[]",
    "cut off": "{" + HEAD[:40],
    "nested": "[" * 100_000,
    "nested and closed": "[" * 100_000 + "]" * 100_000,
    "not a number": "{" + HEAD + ', "totals": NaN}',
    "infinite": "{" + HEAD + ', "totals": Infinity}',
    "1e400": "{" + HEAD + ', "totals": 1e400}',
    "key twice": "{" + HEAD + ', "job": "y", ' + TOTALS + "}",
    "1000 unknown keys": "{"
    + HEAD
    + ","
    + TOTALS
    + "".join(f', "k{i}": 1' for i in range(1000))
    + "}",
    "5000 figures": "{" + HEAD.replace("320", "9" * 5000) + "," + TOTALS + "}",
    "minus 5000 figures": "{"
    + HEAD.replace("320", "-" + "9" * 5000)
    + ","
    + TOTALS
    + "}",
    "ticks a text": "{" + HEAD.replace("320", '"320"') + "," + TOTALS + "}",
    "ticks 320.0": "{" + HEAD.replace("320", "320.0") + "," + TOTALS + "}",
    "money 1E+300000000": "{"
    + HEAD
    + ', "totals": {"money": "1E+300000000", "cuts": 0}}',
    "money of 5000 figures": "{"
    + HEAD
    + f', "totals": {{"money": "{"9" * 5000}", "cuts": 0}}}}',
    "money infinite": "{" + HEAD + ', "totals": {"money": "inf", "cuts": 0}}',
    "money below 0": "{" + HEAD + ', "totals": {"money": "-1", "cuts": 0}}',
    "money minus nothing of tiny": "{"
    + HEAD
    + ', "totals": {"money": "1E-999999999", "cuts": 0}}',
    "escape": "{" + HEAD.replace('"x"', '"\\u001b[31m"') + "," + TOTALS + "}",
    "lone half of a pair": "{" + HEAD.replace('"x"', '"\\ud800"') + "," + TOTALS + "}",
    "job of 5000 signs": "{"
    + HEAD.replace('"x"', f'"{"j" * 5000}"')
    + ","
    + TOTALS
    + "}",
    "format of 5000 signs": "{"
    + HEAD.replace("cutopt-plan/1", "f" * 5000)
    + ","
    + TOTALS
    + "}",
    "sources an object": "{"
    + HEAD.replace('"sources": []', '"sources": {}')
    + ","
    + TOTALS
    + "}",
    "a source null": "{"
    + HEAD.replace('"sources": []', '"sources": [null]')
    + ","
    + TOTALS
    + "}",
    "other format": "{" + HEAD.replace("plan/1", "plan/2") + "," + TOTALS + "}",
}
