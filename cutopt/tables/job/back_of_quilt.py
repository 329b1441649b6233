"""The back that a sentence of quilt.toml asks for, beside those of backs.csv."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from cutopt.errors import Problem
from cutopt.piecing import RULES, Back, BackRules
from cutopt.settings import Settings
from cutopt.tables.job.back_rules import setting_name, usual_rules
from cutopt.tables.job.backs import BacksRead, note_problem
from cutopt.tables.log import Log, Placed
from cutopt.tables.recipe.sentences_of_backs import NAME, BackOfQuilt
from cutopt.tables.rows.backs import wishes


def add_back_of_quilt(
    asked: Placed[BackOfQuilt], found: BacksRead, settings: Settings, log: Log
) -> None:
    """Add the back of a quilt to those of the tables.

    One of that name in backs.csv stands for it where they agree; what only one of them says holds.

    Parameters
    ----------
    asked : Placed
    found : BacksRead
    settings : Settings
        Of the job.
    log : Log
        Where they contradict each other, or the back cannot be.
    """
    in_table = any(name.lower() == NAME for name in found.names)
    found.names.append(NAME)
    usual = replace(usual_rules(settings), seam=asked.value.seam)
    before = len(log.problems)
    said = _said(asked, found, log)
    if len(log.problems) > before:
        return
    try:
        back = _back(asked.value, replace(usual, **said), found)
    except Problem as problem:
        here = Placed(NAME, asked.file, asked.row)
        note_problem(problem, found.rules, here, log)
        return
    made = Placed(back, asked.file, asked.row)
    if not in_table:
        found.backs.append(made)
    for i, hand in enumerate(found.backs):
        if hand is not made and hand.value.name.lower() == NAME:
            agreed = _agreed(hand, made, usual_rules(settings), said, log)
            found.backs[i] = Placed(agreed, hand.file, hand.row)


def _said(asked: Placed[BackOfQuilt], found: BacksRead, log: Log) -> dict[str, Any]:
    """The rules that are told in job.toml or the sentence, or follow from the quilt; told twice, they have to agree."""
    said = dict(asked.value.rules)
    told = found.rules.get(NAME)
    if told is None:
        return said
    for rule, entry in told.options.items():
        value = getattr(told.rules, rule)
        if not entry.value.strip() or said.get(rule, value) == value:
            said.setdefault(rule, value)
            continue
        what = f'it is "{entry.value}" here, and something else by {asked.file} row {asked.row}'
        problem = Problem(setting_name(NAME, rule), what, "say it in one place")
        log.add(problem, entry.file, entry.row)
    return said


def _back(asked: BackOfQuilt, rules: BackRules, found: BacksRead) -> Back:
    said = asked.said
    return Back(
        name=NAME,
        width=asked.width,
        length=asked.length,
        fabrics=said.fabrics,
        blocks=wishes(said.blocks, found.counts),
        importance=said.importance,
        note=asked.why,
        rules=rules,
    )


def _agreed(
    hand: Placed[Back],
    made: Placed[Back],
    usual: BackRules,
    said: dict[str, Any],
    log: Log,
) -> Back:
    """The row of the table, with what only the sentence says; a problem where they differ."""
    here, there = hand.value, made.value
    for field in _differing(here, there):
        what = f'the {field} of "{here.name}" is another by {made.file} row {made.row}'
        mend = "take it out here or there, or make them agree"
        log.add(Problem(field, what, mend), hand.file, hand.row)
    rules: dict[str, Any] = {}
    for rule in RULES:
        by_hand, made_of = getattr(here.rules, rule), getattr(there.rules, rule)
        if by_hand in (getattr(usual, rule), made_of):
            rules[rule] = made_of
        elif rule in said:
            what = f"its {rule} is another by {made.file} row {made.row}"
            log.add(Problem(rule, what, "say it in one place"), hand.file, hand.row)
        else:
            rules[rule] = by_hand
    return replace(
        here,
        fabrics=here.fabrics or there.fabrics,
        blocks=here.blocks or there.blocks,
        note=here.note or there.note,
        rules=replace(here.rules, **rules),
    )


def _differing(here: Back, there: Back) -> Iterator[str]:
    """The columns in which both say something, and not the same."""
    for field in ("width", "length", "importance"):
        if getattr(here, field) != getattr(there, field):
            yield field
    for field in ("fabrics", "blocks"):
        one, other = getattr(here, field), getattr(there, field)
        if one and other and one != other:
            yield field
