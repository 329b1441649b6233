"""plan.json: reading what was written, the schema, and broken files in plain words."""

from __future__ import annotations

import json
from copy import deepcopy
from decimal import Decimal
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cutopt.check import check
from cutopt.errors import JobError, Problem
from cutopt.lengths import INCH
from cutopt.plan import (
    Bought,
    CutStep,
    Join,
    Level,
    Plan,
    Seam,
    Short,
    Source,
    Spare,
    Totals,
    Use,
    bought_in,
    bought_of,
)
from cutopt.tables import (
    plan_from_json,
    plan_schema,
    plan_to_json,
    read_plan,
    write_plan,
)
from cutopt.tables.files import atomic as atomic_module
from tests.check.backs_by_hand import GOOD_BACKS
from tests.tables.plan.orchard_corner import orchard_corner

# JSON Schema draft 2020-12 as the package jsonschema reads it is the outside judge of the format.
VALID = jsonschema.Draft202012Validator(plan_schema())
GOOD: dict[str, Any] = json.loads(plan_to_json(orchard_corner()))


def test_the_schema_is_one() -> None:
    jsonschema.Draft202012Validator.check_schema(plan_schema())
    assert plan_schema()["$id"] == "cutopt-plan/1"


def test_a_plan_is_written_as_the_contract_says() -> None:
    VALID.validate(GOOD)
    assert GOOD["format"] == "cutopt-plan/1"
    assert GOOD["ticks_per_mm"] == 320
    size = {"width": 12 * INCH, "length": 8 * INCH}
    assert GOOD["sources"][0] == {"id": "S1", "piece": "bit", "copy": 2, **size}
    oat = {
        "id": "S2",
        "bought": "oat",
        "by_piece": False,
        "copy": 1,
        "width": 341376,
        "length": 36576,
        "price": "1.20",
    }
    assert GOOD["sources"][1] == oat
    assert GOOD["cuts"][0] == {"n": 1, "part": "S1", "x": 40640, "gives": ["a", "b"]}
    assert GOOD["uses"][0] == {"part": "i", "for": "strips/binding", "turned": True}
    assert GOOD["spare"] == [{"part": part, "keep": part == "b"} for part in "bdeh"]
    assert GOOD["totals"]["money"] == "2.00"
    assert GOOD["totals"]["bought"] == {"oat": 36576}
    assert GOOD["totals"]["pieces"] == {"pear": 2}


@pytest.mark.parametrize("name", GOOD_BACKS)
def test_plans_of_backs_are_valid_and_read_back(name: str) -> None:
    """And hold for the checker, as they did before they were written."""
    job, plan = GOOD_BACKS[name]()
    text = plan_to_json(plan)
    told = json.loads(text)
    VALID.validate(told)
    assert told["totals"]["seams"] == len(told["seams"])
    again = plan_from_json(text, job)
    assert again == plan
    assert check(job, again) == []


def test_a_trim_is_written_as_the_contract_says() -> None:
    told = json.loads(plan_to_json(GOOD_BACKS["band"]()[1]))
    side = 19 * INCH // 2
    size = {"width": side, "length": side, "turned": False}
    assert told["trims"][2] == {"block": "blocks/ship/3", **size}


def test_a_file_without_trims_is_an_older_one() -> None:
    older = deepcopy(GOOD)
    del older["trims"]
    VALID.validate(older)
    assert plan_from_json(json.dumps(older)) == plan_from_json(json.dumps(GOOD))


@pytest.mark.parametrize(
    ("changed", "what"),
    [
        ({"width": 0}, "width"),
        ({"width": "9"}, "width"),
        ({"block": 3}, "block"),
        ({"turned": "no"}, "turned"),
        ({"colour": "red"}, "colour"),
    ],
)
def test_a_broken_trim(changed: dict[str, object], what: str) -> None:
    broken = json.loads(plan_to_json(GOOD_BACKS["band"]()[1]))
    broken["trims"][1] |= changed
    assert not VALID.is_valid(broken)
    with pytest.raises(JobError) as caught:
        plan_from_json(json.dumps(broken))
    (problem,) = caught.value.problems
    assert "trims" in str(problem)
    assert what in str(problem)


def test_the_plan_of_these_tests_is_a_good_one() -> None:
    plan = orchard_corner()
    assert plan.origin is not None
    assert check(plan.origin, plan) == []


def test_a_file_reads_back(tmp_path: Path) -> None:
    plan = orchard_corner()
    write_plan(plan, tmp_path / "new" / "plan.json")
    assert read_plan(tmp_path / "new" / "plan.json") == plan
    assert read_plan(tmp_path / "new" / "plan.json").origin is None
    assert (
        read_plan(str(tmp_path / "new" / "plan.json"), plan.origin).origin
        == plan.origin
    )


def test_a_byte_order_mark_is_passed_over(tmp_path: Path) -> None:
    (tmp_path / "plan.json").write_text(
        "\ufeff" + plan_to_json(orchard_corner()), encoding="utf-8"
    )
    assert read_plan(tmp_path / "plan.json") == orchard_corner()


words = st.text(st.characters(exclude_categories=["C", "Zl", "Zp"]), max_size=8)
whole = st.integers(-(10**7), 10**7)
above = st.integers(1, 10**7)
names = st.lists(words, max_size=3).map(tuple)
money = st.decimals(0, 10**6, places=2)


def some(strategy: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    return st.lists(strategy, max_size=3).map(tuple)


points = st.tuples(whole, whole)
cuts = (
    st.builds(CutStep, n=above, part=words, gives=names, x=whole)
    | st.builds(CutStep, n=above, part=words, gives=names, y=whole)
    | st.builds(
        CutStep,
        n=above,
        part=words,
        gives=names,
        line=st.tuples(points, points).filter(lambda p: p[0] != p[1]),
    )
)
pile_source = st.builds(Source, id=words, piece=words.filter(bool), copy=above)
shop_source = st.builds(
    Source,
    id=words,
    bought=words.filter(bool),
    by_piece=st.booleans(),
    copy=above,
    width=above,
    length=above,
    price=st.none() | money,
)
amounts = st.dictionaries(
    st.tuples(words | words.map("{} each".format), st.booleans()),
    st.integers(0, 10**6),
    max_size=6,
)
plans = st.builds(
    Plan,
    job=words,
    sources=st.lists(
        pile_source | shop_source, max_size=3, unique_by=lambda s: s.id
    ).map(tuple),
    cuts=some(cuts),
    uses=some(st.builds(Use, part=words, for_=words, turned=st.booleans())),
    spare=some(st.builds(Spare, part=words, keep=st.booleans())),
    joins=some(
        st.builds(
            Join,
            for_=words,
            segments=names,
            join=st.sampled_from(["diagonal", "straight", "none"]),
            length=above,
        )
    ),
    seams=some(
        st.builds(
            Seam,
            n=above,
            back=words,
            a=words,
            b=words,
            gives=words,
            seam=st.integers(0, 9999),
            side=st.sampled_from(["left", "right", "below", "above"]),
        )
    ),
    short=some(st.builds(Short, for_=words, count=above, why=words, mends=names)),
    levels=some(
        st.builds(Level, name=words, value=words, bound=words, proved=st.booleans())
    ),
    totals=st.builds(
        Totals,
        money=st.none() | money,
        bought=amounts.map(bought_of),
        cuts=st.integers(0, 999),
        ruler_widths=st.integers(0, 99),
        seams=st.integers(0, 99),
        joins=st.integers(0, 99),
    ),
)


@settings(deadline=None, max_examples=40)
@given(plans)
def test_any_plan_is_valid_and_reads_back(plan: Plan) -> None:
    text = plan_to_json(plan)
    VALID.validate(json.loads(text))
    assert plan_from_json(text) == plan
    assert plan_to_json(plan_from_json(text)) == text


def places(value: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """The path of everything inside a JSON value."""
    inside = (
        value.items()
        if isinstance(value, dict)
        else enumerate(value)
        if isinstance(value, list)
        else ()
    )
    return [(*path, key) for key, _ in inside] + [
        p for key, item in inside for p in places(item, (*path, key))
    ]


def spoilt(path: tuple[Any, ...], change: Any) -> dict[str, Any]:
    """The good plan with the value at `path` changed, or taken away."""
    plan = deepcopy(GOOD)
    holder: Any = plan
    for key in path[:-1]:
        holder = holder[key]
    if change == "gone":
        del holder[path[-1]]
    elif change == "renamed":
        holder[path[-1] if isinstance(holder, list) else f"{path[-1]}x"] = 7.5
    else:
        holder[path[-1]] = change
    return plan


def told(text: str) -> tuple[Problem, ...]:
    """The problems of a plan's text, none for a sound one."""
    try:
        plan_from_json(text)
    except JobError as error:
        return error.problems
    return ()


CHANGES = [
    "gone",
    "renamed",
    None,
    -1,
    0,
    1.5,
    10**15,
    True,
    "word",
    "",
    "7.20",
    "-7.20",
    "7,20",
    [],
    {},
    [1],
    [[0, 0], [0, 0]],
]


@pytest.mark.parametrize(
    "path", places(GOOD), ids=lambda path: ".".join(map(str, path))
)
def test_the_reader_refuses_what_the_schema_refuses(path: tuple[Any, ...]) -> None:
    """Every place of a good plan, changed in every way: the reader and the schema, written apart, agree."""
    for change in CHANGES:
        plan = spoilt(path, change)
        problems = told(json.dumps(plan))
        assert (not problems) == VALID.is_valid(plan), (path, change)
        assert all(
            problem.what and problem.mend and problem.file == "plan.json"
            for problem in problems
        )


@pytest.mark.parametrize(
    ("path", "change", "sentence"),
    [
        (
            ("cuts", 2, "part"),
            "gone",
            "plan.json, cuts entry 3, part: it is missing; write the plan again",
        ),
        (
            ("cuts", 0, "x"),
            1.5,
            "plan.json, cuts entry 1, x: 1.5 is not a whole number; write the plan again",
        ),
        (
            ("cuts", 0, "x"),
            "gone",
            (
                "plan.json, cuts entry 1: a cut is at one x, at one y or along one line; "
                "give exactly one of x, y and line"
            ),
        ),
        (
            ("totals", "money"),
            "7,20",
            (
                'plan.json, totals, money: "7,20" is not an amount written as a text, such as "7.20"; '
                "write the plan again"
            ),
        ),
        (
            ("uses", 0, "turned"),
            "yes",
            'plan.json, uses entry 1, turned: "yes" is not true or false; write the plan again',
        ),
        (
            ("format",),
            "cutopt-plan/9",
            'plan.json, format: "cutopt-plan/9" is not a format known here; this version reads "cutopt-plan/1"',
        ),
        (
            ("ticks_per_mm",),
            80,
            "plan.json, ticks_per_mm: 80 is not the measure of this format; it must be 320",
        ),
        (
            ("sources", 1, "id"),
            "S1",
            'plan.json, sources: "S1" is given twice; give each source its own id',
        ),
        (
            ("sources",),
            {},
            "plan.json, sources: {} is not a list; write the plan again",
        ),
        (
            ("joins", 0, "join"),
            "glue",
            (
                'plan.json, joins entry 1, join: "glue" is not one of diagonal, straight, pre-cut, none; '
                "write the plan again"
            ),
        ),
    ],
)
def test_what_is_wrong_is_said_in_plain_words(
    path: tuple[Any, ...], change: Any, sentence: str
) -> None:
    with pytest.raises(JobError) as caught:
        plan_from_json(json.dumps(spoilt(path, change)))
    assert [str(problem) for problem in caught.value.problems] == [sentence]


def test_a_misspelt_key_is_named() -> None:
    plan = deepcopy(GOOD)
    plan["usess"] = plan.pop("uses")
    with pytest.raises(JobError) as caught:
        plan_from_json(json.dumps(plan))
    assert [str(problem) for problem in caught.value.problems] == [
        'plan.json, usess: the format has no such entry; did you mean "uses"?',
        "plan.json, uses: it is missing; write the plan again",
    ]


def test_everything_wrong_is_told_in_one_pass() -> None:
    plan = spoilt(("cuts", 0, "n"), 0)
    plan["uses"][1]["part"] = 5
    del plan["totals"]["cuts"]
    with pytest.raises(JobError) as caught:
        plan_from_json(json.dumps(plan))
    assert [problem.field for problem in caught.value.problems] == [
        "cuts entry 1, n",
        "uses entry 2, part",
        "totals, cuts",
    ]


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("", "it is empty or cut off"),
        ("{", "it is not JSON from here on"),
        (plan_to_json(orchard_corner())[:300], "it is not JSON from here on"),
        ("[1, 2]", "stands where an entry in braces belongs"),
        ('{"format": NaN}', "NaN is not a number of a plan"),
        ('{"job": "a", "job": "b"}', '"job" stands twice'),
        ("[" * 100_000, "cannot be read"),
        (f'{{"ticks_per_mm": {"9" * 5000}}}', "cannot be read"),
    ],
)
def test_a_file_that_is_no_plan(tmp_path: Path, text: str, what: str) -> None:
    (tmp_path / "plan.json").write_text(text)
    with pytest.raises(JobError) as caught:
        read_plan(tmp_path / "plan.json")
    assert what in caught.value.problems[0].what
    assert caught.value.problems[0].file == "plan.json"


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(JobError, match=r"plan\.json: there is no such file"):
        read_plan(tmp_path / "plan.json")


def test_a_failed_write_leaves_the_old_plan(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "plan.json"
    write_plan(orchard_corner(), path)

    def failing(descriptor: int) -> None:
        raise OSError("no space left on device")

    monkeypatch.setattr(atomic_module.os, "fsync", failing)
    with pytest.raises(OSError, match="no space"):
        write_plan(Plan(job="other"), path)
    assert read_plan(path) == orchard_corner()
    assert [p.name for p in tmp_path.iterdir()] == ["plan.json"]


def test_money_keeps_its_figures() -> None:
    plan = Plan(job="x", totals=Totals(money=Decimal("28.80")))
    assert json.loads(plan_to_json(plan))["totals"]["money"] == "28.80"


def test_an_older_file_that_counts_pieces_among_the_lengths_reads_alike() -> None:
    """Before `pieces` was written, cloth by the piece stood as ``pear each`` in `bought`; joins were not counted."""
    old = deepcopy(GOOD)
    old["totals"]["bought"] = {"oat": 36576, "pear each": 2}
    del old["totals"]["pieces"], old["totals"]["joins"]
    for source in old["sources"]:
        if "bought" in source:
            del source["copy"], source["by_piece"]
    VALID.validate(old)
    assert plan_from_json(json.dumps(old)) == orchard_corner()


def test_an_older_file_does_not_say_what_is_a_piece() -> None:
    """Of a fabric one length is bought: what is as long as the totals say is that one, all else are pieces."""
    source = {"bought": "oat", "width": 10, "price": "1.00"}
    old = deepcopy(GOOD)
    old["sources"] = [
        {"id": "S1", "length": 20, **source},
        {"id": "S2", "length": 30, **source},
    ]
    old["totals"] = {"cuts": 0, "bought": {"oat": 30}, "pieces": {"oat": 1}}
    VALID.validate(old)
    plan = plan_from_json(json.dumps(old))
    assert [each.by_piece for each in plan.sources] == [True, False]
    assert bought_in(plan.sources) == plan.totals.bought
    assert plan.totals.length_of("oat") == 30


def test_a_fabric_of_an_older_file_may_be_called_each() -> None:
    old = deepcopy(GOOD)
    old["sources"] = [{"id": "S1", "bought": "oat each", "width": 10, "length": 20}]
    old["totals"] = {"cuts": 0, "bought": {"oat each": 20}}
    assert plan_from_json(json.dumps(old)).totals == Totals(
        bought=(Bought(fabric="oat each", amount=20),), joins=1
    )
