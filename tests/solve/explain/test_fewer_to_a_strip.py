"""Strips of shapes are never sewn from two nor cut shorter: fewer shapes to a strip is what helps. Invented jobs."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from cutopt.check import check
from cutopt.job import Job
from cutopt.result import Result
from cutopt.solve.control.stop import Work
from cutopt.solve.explain.fewer_to_a_strip import fewer_to_a_strip, is_held
from cutopt.solve.solver import solve
from cutopt.tables import read_job

Folder = Callable[[str, str], Job]


@pytest.fixture
def job(tmp_path: Path) -> Folder:
    def read(quilt: str, pile: str) -> Job:
        for name, text in {
            "job.toml": 'name = "leaves"\nunit = "in"\n',
            "pile.txt": pile,
            "quilt.toml": f'blocks = ["{quilt}"]\n',
        }.items():
            (tmp_path / name).write_text(text, encoding="utf-8")
        return read_job(tmp_path)

    return read


def told(result: Result) -> list[str]:
    (short,) = result.plan.short
    return list(short.mends)


def test_what_is_told_is_so(job: Folder) -> None:
    """12 triangles in one strip take 35 3/4, six of them 19 1/4 (identities): two strips come of two pieces 5 x 20."""
    pile = "oat 5 x 20\noat 20 x 5\n"
    result = solve(job("leaf: 12 60-degree triangles of 4 from oat", pile), Work(40))
    mends = told(result)
    assert any("write 6 to a strip" in mend for mend in mends)
    assert not any("sew" in mend or "the most that fits" in mend for mend in mends)
    again = job("leaf: 12 60-degree triangles of 4 from oat, 6 to a strip", pile)
    mended = solve(again, Work(40))
    assert mended.complete
    assert check(again, mended.plan) == []


def test_all_shapes_are_still_there(job: Folder) -> None:
    """20 in strips of 14 and 6: with 7, 4, 3, 2 or 1 to a strip they are still 20 (counting)."""
    asked = job(
        "leaf: 20 60-degree triangles of 4 from oat, 14 to a strip", "oat 5 x 20\n"
    )
    row = asked.cuts[0]
    for mend in fewer_to_a_strip(asked, row):
        (count,) = {int(word) for word in mend.said.split() if word.isdigit()}
        held = {each.length: each.count for each in mend.job.cuts}
        strips, rest = divmod(20, count)
        assert sorted(held.values()) == sorted([strips, *([1] if rest else [])])
        assert len(mend.job.cuts) == 1 + bool(rest)
        assert mend.whole == {each.key for each in mend.job.cuts}


def test_an_upright_strip_lies_across(job: Folder) -> None:
    asked = job("leaf: 12 60-degree triangles of 4 from oat, upright", "oat 5 x 20\n")
    row = asked.cuts[0]
    mend = next(iter(fewer_to_a_strip(asked, row)))
    assert {each.length for each in mend.job.cuts} == {row.length}
    assert all(each.width < row.width for each in mend.job.cuts)


def test_motifs_are_not_sewn_together(job: Folder) -> None:
    """A rectangle that holds motifs wherever the print begins does so in one piece only."""
    asked = job(
        "bird: 6 squares of 4 from oat, fussy, repeat 12", "oat 30 x 20\noat 30 x 20\n"
    )
    assert is_held(asked, asked.cuts[0])
    assert not any(
        "sew" in mend or "make it" in mend for mend in told(solve(asked, Work(40)))
    )
    plain = job("20 squares of 6 from oat", "oat 30 x 20\n")
    assert not is_held(plain, plain.cuts[0])
    assert not list(fewer_to_a_strip(plain, plain.cuts[0]))
