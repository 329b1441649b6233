"""Names that last, and a starter that survives what a newcomer does to it first."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from cutopt.cli import BAD_INPUT, DONE, main
from cutopt.errors import JobError
from cutopt.tables import name_pieces, new_job, pile, read_job


def test_a_line_may_name_its_piece() -> None:
    told = pile(
        "pear 5 x 5\npear-1: pear 6 x 6\nbib : 2 strips oat 2 x 9\npear 7 x 7, note see: left\n"
    )
    assert [piece.name for piece in told] == ["pear-2", "pear-1", "bib", "pear-3"]
    assert (told[2].count, told[3].note) == (2, "see: left")


@pytest.mark.parametrize(
    "line", ["a|b: pear 5 x 5", "a/b: pear 5 x 5", "x" * 81 + ": pear 5 x 5"]
)
def test_a_name_that_cannot_be_one(line: str) -> None:
    with pytest.raises(JobError):
        pile(line)


def test_two_lines_of_one_name(tmp_path: Path) -> None:
    new_job(tmp_path)
    (tmp_path / "pile.txt").write_text("a: pear 5 x 5\nA: oat 5 x 5\n")
    with pytest.raises(
        JobError, match='row 2, piece: the name "A" is given in row 1 already'
    ):
        read_job(tmp_path)


@pytest.mark.parametrize("unit", ["in", "cm"])
def test_names_stay_when_a_line_goes(
    tmp_path: Path, unit: str, capsys: pytest.CaptureFixture[str]
) -> None:
    new_job(tmp_path, unit)
    before = read_job(tmp_path)
    text = (tmp_path / "pile.txt").read_text(encoding="utf-8")
    assert main(["name", str(tmp_path)]) == DONE
    assert f"{len(before.pieces)} lines" in capsys.readouterr().out
    assert read_job(tmp_path) == before
    named = (tmp_path / "pile.txt").read_text(encoding="utf-8").splitlines()
    assert [re.sub(r"^[a-z]+-\d+: ", "", line).strip() for line in named] == [
        line.strip() for line in text.splitlines()
    ]
    gone = next(i for i, line in enumerate(named) if line.startswith("oat-1: "))
    (tmp_path / "pile.txt").write_text(
        "\n".join(named[:gone] + named[gone + 1 :]), encoding="utf-8"
    )
    assert {p.name: p for p in read_job(tmp_path).pieces} == {
        p.name: p for p in before.pieces if p.name != "oat-1"
    }
    assert name_pieces(tmp_path) == 0


def test_pieces_of_the_table_keep_their_names(tmp_path: Path) -> None:
    new_job(tmp_path)
    (tmp_path / "pieces.csv").write_text("piece,fabric,width,length\npear-1,pear,5,5\n")
    before = read_job(tmp_path)
    name_pieces(tmp_path / "job.toml")
    assert read_job(tmp_path) == before
    assert "pear-2: pear 11 x 7" in (tmp_path / "pile.txt").read_text(encoding="utf-8")


def test_there_is_nothing_to_name(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    new_job(tmp_path / "mine.xlsx")
    assert main(["name", str(tmp_path / "mine.xlsx")]) == BAD_INPUT
    assert "no pile.txt" in capsys.readouterr().err


MINE = "navy 11 x 7\n4 strips rust 2 1/2 x 38\n20 squares linen 5 cut\n"


@pytest.mark.parametrize("unit", ["in", "cm"])
def test_a_pile_of_her_own_in_the_starter(tmp_path: Path, unit: str) -> None:
    """She replaces the lines of the pile and nothing else; what she did not say of her fabrics is told."""
    new_job(tmp_path, unit)
    (tmp_path / "pile.txt").write_text(MINE)
    job = read_job(tmp_path)
    assert {"navy", "rust", "linen"} <= {fabric.name for fabric in job.fabrics}
    assert job.notices[0] == (
        'pile.txt row 1, fabric: "navy" has no row in fabrics.csv: it is taken as washed cotton without a right way '
        'up, and words such as "any light" do not mean it; give it a row if it is something else.'
    )
    assert len(job.notices) == 3


@pytest.mark.parametrize("unit", ["in", "cm"])
@pytest.mark.parametrize("fabric", ["pear", "plum", "bark", "oat", "mist"])
def test_a_fabric_that_is_renamed_or_gone_from_the_pile(
    tmp_path: Path, unit: str, fabric: str
) -> None:
    new_job(tmp_path, unit)
    text = (tmp_path / "pile.txt").read_text(encoding="utf-8")
    (tmp_path / "pile.txt").write_text(text.replace(fabric, "calico"), encoding="utf-8")
    assert "calico" in {piece.fabric for piece in read_job(tmp_path).pieces}
    kept = [line for line in text.splitlines() if fabric not in line]
    (tmp_path / "pile.txt").write_text("\n".join(kept), encoding="utf-8")
    assert read_job(tmp_path).pieces


def test_a_short_name_that_may_be_a_slip_is_asked_about(tmp_path: Path) -> None:
    """Of four letters one is another: it may be meant, so it is no mistake; but it is asked."""
    new_job(tmp_path)
    (tmp_path / "pile.txt").write_text("paar 5 x 5\n")
    assert 'did you mean "pear"?' in read_job(tmp_path).notices[-1]


@pytest.mark.parametrize("word", ["paer", "bakr", "oats", "mists"])
def test_a_slip_is_no_new_fabric(tmp_path: Path, word: str) -> None:
    new_job(tmp_path)
    (tmp_path / "pile.txt").write_text(f"{word} 5 x 5\n")
    with pytest.raises(JobError, match=f'"{word}" is neither a fabric'):
        read_job(tmp_path)


def test_a_count_that_was_forgotten_is_told(tmp_path: Path) -> None:
    new_job(tmp_path)
    (tmp_path / "cuts.csv").write_text(
        "cut,count,width,length\nwindow,,6 1/2,8 1/2\nsquare,3,4,4\n"
    )
    job = read_job(tmp_path)
    assert job.cuts[0].count == 1
    assert [notice for notice in job.notices if "count" in notice] == [
        "cuts.csv row 2, count: none is given for window: one is planned; write how many."
    ]
