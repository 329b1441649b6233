"""The rules of cloth that a sentence has: upright, grain, importance, together, at most so many from one fabric."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

from cutopt.errors import Problem
from cutopt.quilt.wanted_parts import ClothWanted
from cutopt.tables.sentences.said import Said
from cutopt.wanted import Cut, Grain, Importance, Strip, Wanted

_GRAIN: Final[dict[str, Grain]] = {"grain along": "along", "grain across": "across"}
_IMPORTANCE: Final[dict[str, Importance]] = {
    "must": "must",
    "nice": "nice",
    "if left": "if left",
}


def ruled(said: Said) -> ClothWanted:
    """Any fabric with the rules of a sentence, which are struck off it.

    Raises
    ------
    Problem
        Where two of them contradict each other, or none may come from one fabric.
    """
    _refuse_two(said, tuple(_GRAIN))
    _refuse_two(said, tuple(_IMPORTANCE))
    most = said.after("at most")
    if most == "0":
        raise Problem(said.part, f'"{said.text}" says at most 0', "write 1 or more")
    return ClothWanted(
        upright=bool(said.take("upright")),
        grain=said.meant(_GRAIN) or "any",
        importance=said.meant(_IMPORTANCE) or "must",
        together=said.after("together"),
        most_each=int(most) if most else None,
    )


def _refuse_two(said: Said, phrases: tuple[str, ...]) -> None:
    both = [phrase for phrase in phrases if phrase in said.options]
    if len(both) > 1:
        what = f'"{said.text}" says both {" and ".join(both)}'
        raise Problem(said.part, what, "keep one of the two")


def all_cloths(said: Said) -> tuple[ClothWanted, ...]:
    """Every cloth that a sentence names, and its rules."""
    shared = tuple(cloth for share in said.shares for cloth in share.cloths)
    return (*said.cloths, *said.cloth_of.values(), *shared, said.rules)


def refuse_unused(
    text: str, part: str, cloths: Iterable[ClothWanted], wanted: Iterable[Wanted]
) -> None:
    """See to it that every rule and every fabric of a sentence is found again in what is wanted for it.

    Parameters
    ----------
    text, part : str
        The sentence, and the part of the quilt.
    cloths : iterable of ClothWanted
        All that it names.
    wanted : iterable of Cut and Strip
        What comes of it.

    Raises
    ------
    Problem
        For the first that is not.
    """
    rows = tuple(wanted)
    cut_from = {word for row in rows for word in row.fabrics}
    for cloth in cloths:
        for told, used in _rules_in(cloth, rows):
            if not used:
                what = f'"{told}" in "{text}" is of no use: nothing here can keep to it'
                raise Problem(part, what, "leave it out")
        for word in cloth.fabrics:
            if word not in cut_from:
                what = f'nothing is cut from "{word}" in "{text}"'
                raise Problem(part, what, "leave it out")


def _rules_in(
    rules: ClothWanted, rows: tuple[Wanted, ...]
) -> Iterator[tuple[str, bool]]:
    """Each rule that was said, and whether a row has it."""
    if rules.upright:
        yield "upright", any(_stands(row) for row in rows)
    if rules.grain != "any":
        yield f"grain {rules.grain}", any(row.grain != "any" for row in rows)
    if rules.importance != "must":
        kept = any(row.importance == rules.importance for row in rows)
        yield rules.importance, kept
    if rules.together:
        yield (
            f"together {rules.together}",
            any(row.together == rules.together for row in rows),
        )
    if rules.most_each is not None:
        cuts = [row for row in rows if isinstance(row, Cut)]
        yield (
            f"at most {rules.most_each}",
            any(row.most_each is not None for row in cuts),
        )


def _stands(row: Wanted) -> bool:
    if isinstance(row, Strip):
        return row.upright != "no"
    return row.upright
