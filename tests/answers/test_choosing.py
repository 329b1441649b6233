"""What is bought beside the plan, wherever purchases are told; a finished top that wants no more (counting)."""

from __future__ import annotations

import csv
from decimal import Decimal
from pathlib import Path

import pymupdf
import pytest

from cutopt.answers import backing_to_buy
from cutopt.answers.choosing import backing_of, chosen_for, in_all
from cutopt.check import check
from cutopt.cli import main
from cutopt.errors import JobError
from cutopt.job import Job
from cutopt.lengths import YARD
from cutopt.pages import write_pages
from cutopt.pages.label import kinds_of_top
from cutopt.pages.lists import shopping_slip
from cutopt.pages.paper import register_fonts
from cutopt.quilt.to_choose import Choosing, Option
from cutopt.solve.control.stop import Work
from cutopt.solve.solver import solve
from cutopt.tables import read_job
from cutopt.tables.recipe.quilt import quilt_of
from tests.draw.sample import orchard_result
from tests.places import ROOT

TOP = {
    "job.toml": 'name = "finished top"\nunit = "in"\n',
    "pile.txt": "",
    "shop.csv": "fabric,usable_width,sold_by,price\noat,42,1/8 yd,10\nmist,108,1/8 yd,30\n",
    "quilt.toml": 'top = "58 x 66"\nbinding = "no"\nbacking = "oat"\n',
}


def folder(at: Path, **files: str) -> Path:
    told = TOP | {name.replace("_", "."): text for name, text in files.items()}
    for name, text in told.items():
        (at / name).write_text(text, encoding="utf-8")
    return at


@pytest.fixture(scope="module")
def top(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return folder(tmp_path_factory.mktemp("top"))


def test_a_finished_top_that_wants_only_a_back(
    top: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["plan", str(top), "--work", "10", "--out", str(tmp_path)]) == 0
    said = capsys.readouterr().out
    assert "Nothing has to be cut for the top" in said
    assert "For the back, one of these" in said
    assert "pile is enough" not in said
    job = read_job(top)
    assert check(job, solve(job, Work(10)).plan) == []


def test_the_choice_stands_on_page_1_on_the_slip_and_in_the_list(
    top: Path, tmp_path: Path
) -> None:
    """Two widths of 42 reach 83; 2 x 62 + 1 is 125 in, 3 1/2 yd, 35.00 (identity): the one with the fewest seams."""
    write_pages(solve(read_job(top), Work(10)), tmp_path)
    with pymupdf.open(tmp_path / "plan.pdf") as pdf:
        pages = [" ".join(page.get_text().split()) for page in pdf]
    for page in (pages[0], pages[-1]):
        assert "For the back, one of these" in page
        assert (
            "3 1/2 yd of oat (126 in), usable width 42 in: 35.00; 2 widths, 1 seam"
            in page
        )
        assert "Batting as well" in page
    with (tmp_path / "shopping.csv").open(encoding="utf-8-sig", newline="") as file:
        rows = list(csv.DictReader(file))
    backs = [row for row in rows if row["fabric"] == "oat"]
    assert [row["price"] for row in backs] == sorted(row["price"] for row in backs)
    assert (backs[-1]["length"], backs[-1]["price"]) == ("3 1/2 yd", "35.00")
    assert all("not in the total" in row["fabric"] for row in rows if not row["pieces"])


def test_the_plan_buys_and_the_back_is_a_choice_beside_it(tmp_path: Path) -> None:
    job = read_job(ROOT / "data" / "orchard")
    choices = chosen_for(job, quilt_of(job))
    assert [each.what for each in choices] == ["back", "batting"]
    back = choices[0].options
    assert len(back) >= 2
    prices = [option.money for option in back if option.money is not None]
    assert prices == sorted(prices)


def test_the_words_of_the_quilt_are_heeded(tmp_path: Path) -> None:
    """Only oat, seams up, no insert, none in the middle: as the quilt says, not as the shop has it."""
    said = 'top = "58 x 66"\nbinding = "no"\nbacking = "oat, seams up, no seam in the middle, no insert"\n'
    job = read_job(folder(tmp_path, quilt_toml=said))
    made = quilt_of(job)
    assert made is not None
    answer = backing_to_buy(made, job)
    assert {way.fabric for way in answer.ways} == {"oat"}
    assert {way.run for way in answer.ways} == {"up"}
    assert all(
        way.insert is None and way.lies != "in the middle" for way in answer.ways
    )
    assert answer.ways == backing_of(job, made).ways  # type: ignore[union-attr]
    assert {way.fabric for way in backing_to_buy(made, job, words=["mist"]).ways} == {
        "mist"
    }


@pytest.mark.parametrize(
    ("key", "word"),
    [("backing", "navy"), ("backing", "oat|navi"), ("batting", "fluff")],
)
def test_a_fabric_that_nobody_has_is_a_mistake(
    tmp_path: Path, key: str, word: str
) -> None:
    lines = {"backing": "oat"} | {key: word}
    said = "".join(f'{name} = "{text}"\n' for name, text in lines.items())
    with pytest.raises(JobError) as caught:
        read_job(
            folder(tmp_path, quilt_toml=f'top = "58 x 66"\nbinding = "no"\n{said}')
        )
    (problem,) = caught.value.problems
    assert (problem.file, problem.row, problem.field) == (
        "quilt.toml",
        3 + (key == "batting"),
        key,
    )
    assert f'"{word.rpartition("|")[2]}" is neither a fabric nor a tag' in problem.what
    assert problem.mend


def test_nothing_at_all_is_still_a_mistake(tmp_path: Path) -> None:
    with pytest.raises(JobError, match="nothing is wanted"):
        read_job(folder(tmp_path, quilt_toml='top = "58 x 66"\nbinding = "no"\n'))


def test_the_card_names_the_cloth_of_the_top_alone(tmp_path: Path) -> None:
    """Flannel backs it and fluff lies in it: the top is cotton."""
    files = {
        "fabrics_csv": "fabric,kind\noat,quilting cotton\nmist,flannel\nfluff,cotton batting\n",
        "pile_txt": "oat 30 x 30\n",
        "quilt_toml": 'blocks = ["4 squares of 6 from oat"]\nsetting = "2 across, 2 down"\nbinding = "no"\n'
        'backing = "mist"\n',
    }
    job: Job = read_job(folder(tmp_path, **files))
    assert kinds_of_top(job) == ("quilting cotton",)
    assert kinds_of_top(job, solve(job, Work(10)).plan) == ("quilting cotton",)


@pytest.mark.parametrize("most", ["8 yd", "1 yd"])
def test_what_the_plan_took_from_the_back_is_told(tmp_path: Path, most: str) -> None:
    """58 x 66 + 2 a side is 62 x 70: a piece of 64 x 84 backs it for nothing, if the sleeve is not cut from it.

    Of the shop's oat, 42 wide, two widths of 62 are needed: 8 yd are enough for that, 1 yd is not (identity).
    """
    shop = f"fabric,usable_width,sold_by,most,price\noat,42,1/8 yd,{most},10\n"
    said = 'top = "58 x 66"\nbinding = "no"\nbacking = "oat"\nsleeve = "from oat"\n'
    job = read_job(
        folder(tmp_path, shop_csv=shop, quilt_toml=said, pile_txt="oat 64 x 84\n")
    )
    plan = solve(job, Work(10)).plan
    assert [source.piece for source in plan.sources] == ["oat-1"]
    back = chosen_for(job, quilt_of(job), plan)[0]
    own = back.options[-1]
    assert own.name == "with oat-1 left for it"
    assert (own.money, own.bought) == (0, False)
    assert "the plan cuts sleeve from it" in own.told("in", "").lower()
    from_shop = backing_of(job, quilt_of(job), plan)  # type: ignore[arg-type]
    assert from_shop is not None
    assert len(back.options) == 1 + len(from_shop.best)
    assert bool(back.missing) == (most == "1 yd")
    assert "choose other fabrics" not in back.missing
    assert len(chosen_for(job, quilt_of(job))[0].options) == 1


def test_one_sum_of_quilt_back_and_batting() -> None:
    """4.28 + 36.00 = 40.28 and 12.50 for batting is 52.78 (sums); what has no price stands beside it."""

    def option(what: str, price: str | None, length: int = YARD) -> Option:
        return Option(
            what=what,
            width=0,
            length=length,
            pieces=0,
            money=None if price is None else Decimal(price),
            how="",
        )

    back = Choosing(
        what="back", options=(option("oat", "36.00"), option("oat", "40.00"))
    )
    wool = Choosing(what="batting", options=(option("wool", "12.50"),))
    twin = Choosing(what="batting", options=(option("twin", None),))
    own = Choosing(what="back", options=(option("mine", "0", 0),))
    plan = Decimal("4.28")
    assert in_all(plan, [back, wool], "$") == ["With the first of each: $52.78."]
    assert in_all(plan, [back, twin], "") == [
        "With the first of each: 40.28, and twin besides."
    ]
    assert in_all(None, [wool], "") == [
        "With the first of each: 12.50, and what the plan buys without a price besides."
    ]
    assert in_all(None, [twin], "") == []
    assert in_all(plan, [own], "$") == []
    assert in_all(plan, [Choosing(what="back", options=(), missing="none")], "") == []


def test_a_pile_is_enough_for_what_it_is_enough_for(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The sleeve comes from the pile, and the back is bought: both stand on the slip, with one sum."""
    said = 'top = "58 x 66"\nbinding = "no"\nbacking = "oat"\nsleeve = "from mist"\n'
    job = read_job(folder(tmp_path, quilt_toml=said, pile_txt="mist 60 x 10\n"))
    write_pages(solve(job, Work(10)), tmp_path / "out")
    with pymupdf.open(tmp_path / "out" / "plan.pdf") as pdf:
        pages = [" ".join(page.get_text().split()) for page in pdf]
    for page in (pages[0], pages[-1]):
        assert "Nothing for what is cut here: the pile is enough for that." in page
        assert "With the first of each:" in page


def test_one_piece_of_batting_is_joined_to_nothing(tmp_path: Path) -> None:
    """60 x 70 + 2 a side fits on 80 x 90: it is named as a sentence begins, and no joining is drawn of it."""
    files = {
        "fabrics_csv": "fabric,kind\noat,\nmist,\nfluff,batting\n",
        "pile_txt": "fluff 80 x 90\n",
    }
    job = read_job(folder(tmp_path, **files))
    batting = chosen_for(job, quilt_of(job))[1]
    told = batting.options[0].told("in", "")
    assert told.startswith("Your own fluff-1, nothing to buy")
    write_pages(solve(job, Work(10)), tmp_path / "out")
    with pymupdf.open(tmp_path / "out" / "plan.pdf") as pdf:
        text = " ".join(page.get_text() for page in pdf)
    assert "joined so" not in text


def test_only_what_can_be_bought_is_ticked_off() -> None:
    """On the slip a box stands before the batting, and none before what falls short of it."""
    register_fonts()
    option = Option(
        what="twin", width=0, length=0, pieces=1, money=None, how="one package"
    )
    batting = Choosing(what="batting", options=(option,), missing="yours falls short")
    slip = [item.getPlainText() for item in shopping_slip(orchard_result(), [batting])]
    assert "Yours falls short." in slip
    assert any(text.startswith("☐ 1 of twin") for text in slip)
