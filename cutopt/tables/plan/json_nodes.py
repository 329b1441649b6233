"""One object of a JSON file, read key by key; what is not as it should be is noted in plain words."""

from __future__ import annotations

import json
import re
from decimal import Decimal
from typing import Any, TypeGuard, TypeVar

from cutopt.errors import Problem
from cutopt.signs import unseen_sign
from cutopt.tables.columns import nearest
from cutopt.tables.log import Log

Word = TypeVar("Word", bound=str)
_NEEDED: Any = object()
_HUGE = 10**12
# signs of a text
_LONGEST = 2_000
_AMOUNT = re.compile(r"\d{1,12}(\.\d{1,12})?")


def parsed(text: str, file: str, log: Log) -> Any:
    """The value of a JSON text; where it is none, or names a key twice, the file cannot be read on.

    Parameters
    ----------
    text : str
    file : str
        Its name.
    log : Log

    Raises
    ------
    JobError
        Where it is no JSON.
    """
    try:
        return json.loads(
            text, object_pairs_hook=_once, parse_int=_whole, parse_constant=_no_constant
        )
    except json.JSONDecodeError as error:
        if text.strip():
            line = text.splitlines()[error.lineno - 1].strip()[:60]
        else:
            line = ""
        if line:
            what = f'it is not JSON from here on: "{line}" ({error.msg})'
        else:
            what = "it is empty or cut off"
        log.add(Problem("", what, "write the plan again"), file, error.lineno)
    except (ValueError, RecursionError) as error:
        log.add(
            Problem("", f"it cannot be read ({error})", "write the plan again"), file
        )
    log.finish()
    # finish has raised
    raise AssertionError


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    told: dict[str, Any] = {}
    for key, value in pairs:
        if key in told:
            raise ValueError(f'"{key}" stands twice in one entry')
        told[key] = value
    return told


def _whole(text: str) -> int:
    if len(text) > len(str(_HUGE)) + 1:
        raise ValueError(f"{text[:20]}... is a number of {len(text)} figures")
    return int(text)


def _is_text(value: object) -> TypeGuard[str]:
    return isinstance(value, str) and len(value) <= _LONGEST and not unseen_sign(value)


def _no_constant(text: str) -> float:
    raise ValueError(f"{text} is not a number of a plan")


def _shown(value: object) -> str:
    text = json.dumps(value, ensure_ascii=False)
    if len(text) <= 40:
        return text
    return text[:37] + "..."


class Node:
    """An object of the file and where it stands ("cuts entry 3")."""

    def __init__(self, value: Any, where: str, file: str, log: Log) -> None:
        self.where = where
        self.file = file
        self.log = log
        if not isinstance(value, dict):
            self.note(
                "",
                f"{_shown(value)} stands where an entry in braces belongs",
                "write the plan again",
            )
            self.value: dict[str, Any] = {}
            self.broken = True
        else:
            self.value = value
            self.broken = False

    def note(self, key: str, what: str, mend: str) -> None:
        """Note a problem of this entry.

        Parameters
        ----------
        key : str
            Of this entry; "" for all of it.
        what : str
        mend : str
        """
        field = ", ".join(part for part in (self.where, key) if part)
        self.log.add(Problem(field, what, mend), self.file)

    def has(self, key: str) -> bool:
        """Whether the key is there."""
        return key in self.value

    def only(self, *known: str) -> None:
        """Note every key that is not known."""
        for key in self.value:
            if key not in known:
                guess = nearest(key, known)
                if guess:
                    mend = f'did you mean "{guess}"?'
                else:
                    mend = "known are: " + ", ".join(known)
                self.note(key, "the format has no such entry", mend)

    def _get(self, key: str, default: Any) -> Any:
        if key in self.value:
            return self.value[key]
        if default is _NEEDED and not self.broken:
            self.note(key, "it is missing", "write the plan again")
        return default

    def _wrong(self, key: str, value: object, kind: str) -> None:
        self.note(key, f"{_shown(value)} is not {kind}", "write the plan again")

    def text(self, key: str, default: str = _NEEDED) -> str:
        """A text."""
        value = self._get(key, default)
        if _is_text(value):
            return value
        if value is not _NEEDED:
            self._wrong(
                key,
                value,
                "a short text of signs that can be seen"
                if isinstance(value, str)
                else "a text",
            )
        return ""

    def choice(self, key: str, words: tuple[Word, ...]) -> Word:
        """One of some words; the first where it is none of them, which is noted."""
        text = self.text(key)
        for word in words:
            if text == word:
                return word
        if text:
            self._wrong(key, text, "one of " + ", ".join(words))
        return words[0]

    def whole(
        self, key: str, default: int | None = _NEEDED, *, least: int = -_HUGE
    ) -> int | None:
        """A whole number; None where it is missing or wrong.

        Parameters
        ----------
        key : str
        default : int or None
            Where the key is missing; without one that is a problem.
        least : int, optional
        """
        value = self._get(key, default)
        if value is _NEEDED or (value is default and key not in self.value):
            if value is _NEEDED:
                return None
            return default
        if isinstance(value, bool) or not isinstance(value, int):
            self._wrong(key, value, "a whole number")
        elif not least <= value <= _HUGE:
            self._wrong(
                key,
                value,
                f"a number of {least} or more"
                if value < least
                else "a sensible number",
            )
        else:
            return value
        return None

    def flag(self, key: str, default: bool = _NEEDED) -> bool:
        """True or false."""
        value = self._get(key, default)
        if not isinstance(value, bool) and value is not _NEEDED:
            self._wrong(key, value, "true or false")
        return value is True

    def texts(self, key: str, default: tuple[str, ...] = _NEEDED) -> tuple[str, ...]:
        """A list of texts."""
        value = self._get(key, default)
        if value is _NEEDED:
            return ()
        if not isinstance(value, list | tuple) or not all(
            _is_text(item) for item in value
        ):
            self._wrong(key, value, "a list of texts")
            return ()
        return tuple(value)

    def money(self, key: str) -> Decimal | None:
        """An amount of money, written as a text; None where there is none."""
        value = self._get(key, None)
        if value is None:
            return None
        if isinstance(value, str) and _AMOUNT.fullmatch(value):
            return Decimal(value)
        self._wrong(key, value, 'an amount written as a text, such as "7.20"')
        return None

    def line(self, key: str) -> tuple[tuple[int, int], tuple[int, int]] | None:
        """Two points of whole numbers."""
        value = self.value[key]
        if isinstance(value, list):
            ends = [tuple(end) for end in value if isinstance(end, list)]
        else:
            ends = []
        whole = all(
            len(end) == 2 and all(type(c) is int and abs(c) <= _HUGE for c in end)
            for end in ends
        )
        if len(ends) == 2 == len(value) and whole and ends[0] != ends[1]:
            return ends[0], ends[1]
        self._wrong(key, value, "two different points such as [[0, 0], [8128, 0]]")
        return None

    def entries(self, key: str, default: list[Any] = _NEEDED) -> list[Node]:
        """The objects of a list."""
        value = self._get(key, default)
        if value is _NEEDED:
            return []
        if not isinstance(value, list):
            self._wrong(key, value, "a list")
            return []
        return [
            Node(item, f"{key} entry {i}", self.file, self.log)
            for i, item in enumerate(value, 1)
        ]

    def inner(self, key: str, default: dict[str, Any] = _NEEDED) -> Node:
        """An object inside this one."""
        value = self._get(key, default)
        node = Node({} if value is _NEEDED else value, key, self.file, self.log)
        node.broken = node.broken or value is _NEEDED
        return node
