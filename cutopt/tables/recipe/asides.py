"""What is said around a sentence: that there is to be no such part, why, and sashing on a line of its own.

Nothing is passed over: a reason that nothing is planned by is told among the notes of the quilt.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from typing import Final

from cutopt.errors import Problem
from cutopt.tables.log import Line, Log
from cutopt.tables.recipe.words_of_setting import says_sashing

_NOUNS: Final = {
    "borders": r"(?:\w+\s+)?borders?",
    "binding": r"binding",
    "backing": r"back(?:ing)?",
    "batting": r"(?:batting|wadding|filling)",
    "sleeve": r"(?:hanging\s+)?sleeve",
    "sashing": r"(?:sashing|sashes|lattice|strips)",
}
_NO: Final = (
    r"(?:no|none|without|not|nothing|skip|leave (?:off|out)"
    r"|(?:i |we )?(?:don't|do not|won't|will not) (?:need|want|have|add|put on|make|do))"
)
_BETWEEN: Final = r"(?:\s+(?:a|an|any|the|more|extra|separate|for))*"
_TAIL: Final = (
    r"(?:[\s,]+(?:at all|please|thanks|thank you|needed|wanted|required|this time|here|today"
    r"|(?:on|for|in|to) (?:this|it|that)(?: one| quilt| top)?))*"
)
_SUPPLIED: Final = re.compile(
    r"\b(?:(?:don't|do not|no need to|needn't|nothing to)\s+(?:cut|plan|buy|make|include|count)"
    r"|already (?:have|got|made|bought|cut|there)|(?:have|got) (?:it|one|that|some) already)\b",
    re.IGNORECASE,
)
_SAME_AS: Final = re.compile(
    r"\b(?:the\s+)?same\s+(?P<of>[^,;.]+?)\s+as\s+(?:for\s+|in\s+)?(?:the\s+|my\s+)?"
    r"(?:(?:inner|outer|middle|first|last)\s+)?(?:borders?|back(?:ing)?|sashing|binding|blocks?|top|stars?|centres?)\b",
    re.IGNORECASE,
)
_REASON: Final = re.compile(
    r"[,;.–—]?\s*\b(?:because|as it(?:'s| is)|since it(?:'s| is)|(?<=\S )it(?:'s| is) (?:only|just|an?)\b)[^,;.]*",
    re.IGNORECASE,
)


def settled(
    said: Mapping[str, list[Line]], known: Collection[str], file: str, log: Log
) -> tuple[dict[str, list[Line]], list[str]]:
    """The sentences as they are read, and what was said beside them.

    Parameters
    ----------
    said : mapping
        The sentences of each part.
    known : collection of str
        Names, tags and values of fabrics in lower case.
    file : str
        Where they are said.
    log : Log
        Where sashing is noted that stands between nothing.
    """
    out: dict[str, list[Line]] = {}
    notes: list[str] = []
    for part, lines in said.items():
        if part in _NOUNS or part == "setting":
            lines = [_plain(part, line, known, notes) for line in lines]
        out[part] = lines
    sashing = out.pop("sashing", [])
    if sashing:
        _join(out, sashing[0], file, log)
    return out, notes


def _plain(part: str, line: Line, known: Collection[str], notes: list[str]) -> Line:
    """A sentence without what is said beside it; ``no`` where there is to be no such part."""
    if line.text.lower() in ("no", "none", "no border", "no borders"):
        return line
    if part in _NOUNS and _is_refusal(part, line.text, known):
        if not re.fullmatch(rf"{_NO}[\w\s]*{_TAIL}[.!]?", line.text, re.IGNORECASE):
            notes.append(f'{part}: none is planned, as you say: "{line.text}"')
        return Line("no", line.row)
    text = _same_fabric(line.text, known)
    for reason in _REASON.finditer(text):
        if reason.start() and not _says_something(reason[0], known):
            text = text.replace(reason[0], "")
            told = reason[0].strip(" ,;.–—")
            notes.append(f'{part}: nothing is planned by "{told}"')
    return Line(text.strip(" ,;"), line.row)


def _same_fabric(text: str, known: Collection[str]) -> str:
    """``same navy as the border`` as ``navy``, where a fabric is called so."""

    def plain(said: re.Match[str]) -> str:
        of = said["of"].strip()
        return of if of.lower() in known else said[0]

    return _SAME_AS.sub(plain, text)


def _is_refusal(part: str, text: str, known: Collection[str]) -> bool:
    if _SUPPLIED.search(text) and not _says_something(text, ()):
        return True
    head = re.split(r"[,;.–—]", text, maxsplit=1)[0]
    rest = text[len(head) :]
    asked = rf"{_NO}\b{_BETWEEN}(?:\s*{_NOUNS[part]})?{_TAIL}"
    if not re.fullmatch(asked, head.strip(), re.IGNORECASE):
        return False
    # no binding, the backing comes round to the front
    round_ = part == "binding" and "back" in rest.lower()
    return not round_ and not _says_something(rest, known)


def _says_something(text: str, known: Collection[str]) -> bool:
    """Whether a number or a fabric stands in it."""
    if re.search(r"\bfrom\b", text):
        return True
    words = set(re.findall(r"[\w']+", text.lower()))
    return bool(re.search(r"\d", text)) or bool(words & set(known))


def _join(out: dict[str, list[Line]], sashing: Line, file: str, log: Log) -> None:
    """Sashing on a line of its own is said of the setting."""
    if not out.get("setting"):
        what = "sashing stands between blocks that are set, and no setting is said"
        mend = 'write one, such as setting = "4 across, 5 down"'
        log.add(Problem("sashing", what, mend), file, sashing.row)
        return
    first, *others = out["setting"]
    text = sashing.text
    if text == "no":
        text = "no sashing"
    elif not says_sashing(text):
        text = f"sashing {text}"
    out["setting"] = [Line(f"{first.text}, {text}", first.row), *others]
