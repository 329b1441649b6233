"""What is wrong in a quilt.toml is told with its line and its mend, all at once; tables and recipe are mixed."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from cutopt.errors import JobError
from cutopt.job import Job
from cutopt.lengths import INCH
from cutopt.tables import read_job, save_job
from cutopt.tables.recipe.quilt import quilt, quilt_of
from tests.places import ROOT

FILES = {
    "job.toml": 'unit = "in"\n',
    "fabrics.csv": "fabric,value\npear,medium\noat,light\n",
    "pile.txt": "pear 40 x 40\n",
    "shop.csv": "fabric,usable_width,sold_by,price\noat,42,1/8 yd,9.60\n",
}


def write(folder: Path, **changed: str) -> Path:
    for name, text in (
        FILES | {name.replace("_", "."): text for name, text in changed.items()}
    ).items():
        (folder / name).write_text(text, encoding="utf-8")
    return folder


@pytest.mark.parametrize(
    ("text", "row", "what", "mend"),
    [
        ('blocs = ["3 squares of 6"]\n', 1, 'no "blocs"', '"blocks"'),
        ('\nblocks = ["3 squars of 6"]\n', 2, '"squars"', '"squares"'),
        (
            'blocks = [\n  "3 squares of 6",\n  "3 large squares",\n]\n',
            3,
            '"3 large squares" does not say of what size',
            "20 squares of 6",
        ),
        ('blocks = ["3 squares"]\n', 1, "of what size", "of 6"),
        ('blocks = ["3 squares of 6, upside down"]\n', 1, "upside down", "upright"),
        (
            'blocks = ["3 squares of 6, at most some each"]\n',
            1,
            "at most some",
            "at most 10 each",
        ),
        ('blocks = ["3 squares of 1/2 cut"]\n', 1, "leaves nothing", "larger"),
        ('blocks = ["a and b: 3 squares of 6"]\n', 1, "2 names", "one name"),
        ('blocks = ["3 blocks of 6 made of 2 bar of 2"]\n', 1, "2 x 2 = 4", "add up"),
        ('blocks = ["2 log cabins, centre 2, logs 1"]\n', 1, "rounds", "rounds 3"),
        (
            'blocks = ["2 log cabins of 9, centre 2, logs 1, rounds 3"]\n',
            1,
            "block of 8",
            "of 8",
        ),
        (
            'blocks = ["9 disappearing nine patches of 5"]\n',
            1,
            "not a cut size",
            "5 cut",
        ),
        ('blocks = ["4 flying geese of 6 x 4"]\n', 1, "twice as wide", "6 x 3"),
        (
            'blocks = ["4 squares of 6"]\nsetting = "3 across, 2 down"\n',
            2,
            "6 places",
            "2 more",
        ),
        (
            'blocks = ["4 squares of 6"]\nsetting = "3 across"\n',
            2,
            "how many across and down",
            "7 across, 8 down",
        ),
        (
            'blocks = ["4 squares of 6", "2 squares of 9"]\nsetting = "3 across, 2 down"\n',
            2,
            "9 x 9",
            "one size",
        ),
        ('setting = "3 across, 2 down"\n', 1, "no blocks", "blocks"),
        (
            'blocks = ["6 rectangles of 6 x 9"]\nsetting = "2 across, 2 down, on point"\n',
            2,
            "not square",
            "square",
        ),
        ('borders = ["3 from oat"]\n', 1, "nothing to put a border round", "setting"),
        ('top = "58 by 66 by 3"\n', 1, "not a size", "58 x 66"),
        ('top = "58 x 66"\nmeasured = "roughly"\n', 1, '"roughly"', "raw top"),
        (
            'top = "58 x 66"\nbinding = "from oat, bias tape"\n',
            2,
            "bias tape",
            "options",
        ),
        (
            'top = "58 x 66"\nbinding = "1 from oat"\n',
            2,
            "does not reach round the edge",
            "or more",
        ),
        ('top = "58 x 66"\nuse = "lapp"\n', 2, '"lapp"', "lap"),
        (
            'blocks = ["4 squares of 6"]\nmeasured = "finished"\n',
            2,
            "there is none",
            "write a top",
        ),
        ('top = "58 x 66"\n[how]\nseam = "3/8"\n', 3, '"seam"', "a setting of the job"),
        (
            'blocks = [\n"4 squares of 6",\n"1 square of 6",\n]\nsetting = "3 across, 2 down"\n',
            5,
            "rows 2 to 3",
            "1 more",
        ),
        ('top = "58 x 66"\n[how]\nmachin = "longarm"\n', 3, '"machin"', '"machine"'),
        ('top = "58 x 66"\n[how]\nmachine = "treadle"\n', 3, '"treadle"', "longarm"),
        ('top = "58 x 66"\n[how]\nback_overage = "a hand"\n', 3, '"a hand"', "2 1/2"),
        ('articles = ["3 lampshades of 6"]\n', 1, '"lampshades"', "cushions"),
        ("top = 58 x 66\n", 1, "cannot be read", 'top = "58 x 66"'),
        ("top = [1, 2]\n", 1, "not a sentence", "58 x 66"),
        ('binding = "from oat"\n', 1, "no size to bind", "top"),
    ],
)
def test_one_mistake(text: str, row: int, what: str, mend: str) -> None:
    """Sizes and words are invented."""
    with pytest.raises(JobError) as caught:
        quilt(text)
    problem = caught.value.problems[0]
    assert problem.row == row
    assert what in problem.what
    assert mend in problem.mend


def test_every_mistake_in_one_pass(tmp_path: Path) -> None:
    """Sizes and words are invented."""
    text = 'blocks = ["3 squars of 6", "4 squares of x"]\nuse = "bedd"\nlable = "x"\n'
    folder = write(
        tmp_path, quilt_toml=text, cuts_csv="cut,width,length\nsquare,five,5\n"
    )
    with pytest.raises(JobError) as caught:
        read_job(folder)
    places = [(problem.file, problem.row) for problem in caught.value.problems]
    assert sorted(places) == [
        ("cuts.csv", 2),
        ("quilt.toml", 1),
        ("quilt.toml", 1),
        ("quilt.toml", 2),
        ("quilt.toml", 3),
    ]


@pytest.mark.parametrize(
    ("sentence", "what"),
    [
        ('binding = "from oat"', "there is no size to bind"),
        ('sleeve = "from oat"', "there is no quilt to hang"),
        ('backing = "oat"', "there is no quilt to put it under"),
    ],
)
def test_a_mistake_in_another_file_hides_none_here(
    tmp_path: Path, sentence: str, what: str
) -> None:
    """Sizes and words are invented."""
    text = f'blocks = ["4 squares of 6"]\n{sentence}\n'
    folder = write(
        tmp_path, quilt_toml=text, cuts_csv="cut,width,length\nsquare,five,5\n"
    )
    with pytest.raises(JobError) as caught:
        read_job(folder)
    found = [
        (problem.file, problem.row, problem.what) for problem in caught.value.problems
    ]
    assert [place[:2] for place in found] == [("cuts.csv", 2), ("quilt.toml", 2)]
    assert what in found[1][2]
    # where the setting itself is wrong, that is the one thing to mend
    write(tmp_path, quilt_toml=f'{text}setting = "2 acros, 2 down"\n')
    with pytest.raises(JobError) as caught:
        read_job(tmp_path)
    assert [(problem.file, problem.row) for problem in caught.value.problems] == [
        ("cuts.csv", 2),
        ("quilt.toml", 3),
    ]


def test_fabrics_of_a_sentence_are_those_of_the_job(tmp_path: Path) -> None:
    """Sizes and words are invented."""
    folder = write(
        tmp_path, quilt_toml='\nblocks = ["4 squares of 6 from paer|any light"]\n'
    )
    with pytest.raises(JobError) as caught:
        read_job(folder)
    (problem,) = caught.value.problems
    assert (problem.file, problem.row) == ("quilt.toml", 2)
    assert '"pear"' in problem.mend


def test_recipe_and_tables_are_mixed(tmp_path: Path) -> None:
    """Sizes and words are invented."""
    folder = write(
        tmp_path,
        quilt_toml='blocks = ["ink: 4 squares of 6 from pear"]\nsetting = "2 across, 2 down"\n',
        cuts_csv="cut,count,width,length,why\npocket,1,8,10,mine\n",
    )
    job = read_job(folder)
    assert [(row.key, row.count) for row in job.wanted] == [
        ("cuts/ink", 4),
        ("cuts/pocket", 1),
        ("strips/binding", 1),
    ]
    assert job.cuts[1].why == "mine"
    assert job.cuts[0].why == "finished 6 + 2 x 1/4 = 6 1/2"
    assert "finished 6 + 2 x 1/4" in job._repr_html_()


def test_a_name_in_both_with_the_same_numbers_stands_once(tmp_path: Path) -> None:
    """What only one of them says holds (sums are an arithmetic identity; sizes and words are invented)."""
    folder = write(
        tmp_path,
        quilt_toml='blocks = ["ink: 4 squares of 6 from pear, upright"]\n',
        cuts_csv="cut,count,width,length,grain,together\nInk,4,6 1/2,6 1/2,along,blue\n",
    )
    (row,) = read_job(folder).cuts
    assert (row.fabrics, row.upright) == (("pear",), True)
    assert (row.grain, row.together) == ("along", "blue")
    assert row.why == "finished 6 + 2 x 1/4 = 6 1/2"


@pytest.mark.parametrize(
    ("said", "column", "cell", "here", "there"),
    [
        ("from pear", "fabrics", "oat", "oat", "pear"),
        ("from pear|oat", "fabrics", "oat|pear", "oat|pear", "pear|oat"),
        ("from pear, grain along", "grain", "across", "across", "along"),
        ("from pear, nice", "importance", "if left", "if left", "nice"),
        ("from pear, nice", "importance", "", "must", "nice"),
        ("from pear, together blue", "together", "red", "red", "blue"),
        ("from pear, at most 2 each", "most_each", "3", "3", "2"),
    ],
)
def test_rules_that_contradict_each_other_are_told(
    tmp_path: Path, said: str, column: str, cell: str, here: str, there: str
) -> None:
    """Sizes and words are invented."""
    folder = write(
        tmp_path,
        quilt_toml=f'blocks = ["ink: 4 squares of 6 {said}"]\n',
        cuts_csv=f"cut,count,width,length,{column}\nink,4,6 1/2,6 1/2,{cell}\n",
    )
    with pytest.raises(JobError) as caught:
        read_job(folder)
    (problem,) = caught.value.problems
    assert (problem.file, problem.row, problem.field) == ("cuts.csv", 2, column)
    assert f"has {here} here, and {there} by quilt.toml row 1" in problem.what
    mended = folder / "cuts.csv"
    mended.write_text(
        f"cut,count,width,length,{column}\nink,4,6 1/2,6 1/2,{there}\n",
        encoding="utf-8",
    )
    assert len(read_job(folder).cuts) == 1


def test_a_contradiction_names_both_lines(tmp_path: Path) -> None:
    """Sizes and words are invented."""
    folder = write(
        tmp_path,
        quilt_toml='# mine\nblocks = [\n  "ink: 4 squares of 6",\n]\n',
        cuts_csv="cut,count,width,length\npocket,1,8,10\nink,5,6 1/2,6 1/2\n",
    )
    with pytest.raises(JobError) as caught:
        read_job(folder)
    (problem,) = caught.value.problems
    assert (problem.file, problem.row) == ("cuts.csv", 3)
    assert "5 of 6 1/2 x 6 1/2 in" in problem.what
    assert "4 of 6 1/2 x 6 1/2 in" in problem.what
    assert "quilt.toml row 3" in problem.what


def test_two_sentences_without_a_name_are_told_apart() -> None:
    """By their fabrics, or by a number where these are alike; sizes and words are invented."""
    said = [
        "4 squares of 6 from oat",
        "4 squares of 6 from plum",
        "4 squares of 5 from oat",
        "2 four patches of 6 from oat and plum|bark",
    ]
    made = quilt(f"blocks = {said}\n")
    assert [row.name for row in made.wanted] == [
        "square of oat",
        "square of plum",
        "square of oat 2",
        "four patch first",
        "four patch second",
    ]


def test_two_sentences_with_one_name(tmp_path: Path) -> None:
    """Sizes and words are invented."""
    folder = write(
        tmp_path,
        quilt_toml='blocks = [\n  "sky: 4 squares of 6",\n  "sky: 4 squares of 5",\n]\n',
    )
    with pytest.raises(JobError, match=r"quilt\.toml row 3"):
        read_job(folder)


def test_a_quilt_alone_is_a_job(tmp_path: Path) -> None:
    """Sizes and words are invented."""
    job = read_job(write(tmp_path, quilt_toml='top = "38 x 38"\n'))
    assert [row.key for row in job.wanted] == ["strips/binding"]


def test_unit_seam_and_grid_are_those_of_the_job(tmp_path: Path) -> None:
    """Seam 0.6 cm: 10 + 1.2 = 11.2 (arithmetic identity)."""
    folder = write(
        tmp_path,
        job_toml='unit = "cm"\nseam = "0.6"\n',
        quilt_toml='blocks = ["4 squares of 10"]\n',
        pile_txt="pear 90 x 90\n",
        shop_csv="fabric\noat\n",
    )
    (row,) = read_job(folder).cuts
    assert row.width == 112 * 320


def test_a_saved_job_keeps_its_quilt(tmp_path: Path) -> None:
    job = read_job(ROOT / "data" / "orchard")
    save_job(job, tmp_path / "again")
    again = read_job(tmp_path / "again")
    assert again == job
    assert again.quilt == job.quilt
    with pytest.raises(ValueError, match="would be read too"):
        save_job(replace(job, quilt=""), tmp_path / "again")


@pytest.mark.parametrize("name", ["fewer", "fewer.xlsx"])
def test_a_changed_job_is_saved_without_a_quilt_that_says_otherwise(
    tmp_path: Path, name: str
) -> None:
    job = read_job(ROOT / "data" / "orchard")
    fewer = replace(job, cuts=job.cuts[2:])
    save_job(fewer, tmp_path / name)
    again = read_job(tmp_path / name)
    assert again.cuts == fewer.cuts
    assert again.quilt == ""
    assert not list(tmp_path.rglob("quilt.toml"))


def test_the_words_of_a_quilt_are_no_part_of_the_digest() -> None:
    """A plan depends on the rows alone."""
    job = read_job(ROOT / "data" / "orchard")
    assert replace(job, quilt="").digest == job.digest


def test_the_orchard_recipe_gives_the_orchard_rows() -> None:
    """10 four patches, 8 nine patches, 8 crates, 10 trees, 8 halved, 8 plain, 2 gates: 56 places (identity)."""
    job = read_job(ROOT / "data" / "orchard")
    made = quilt_of(job)
    assert made is not None
    got = {
        row.name: (row.count, row.width / INCH, row.length / INCH)
        for row in made.wanted
        if row.key[:4] == "cuts"
    }  # type: ignore[union-attr]
    assert got == {
        "light quarter": (20, 3.5, 3.5),
        "dark quarter": (20, 3.5, 3.5),
        "light ninth": (40, 2.5, 2.5),
        "dark ninth": (32, 2.5, 2.5),
        "slat": (24, 2.5, 6.5),
        "tree window": (10, 4.5, 6.5),
        "trunk": (10, 2.5, 6.5),
        "half": (16, 3.5, 6.5),
        "sky": (8, 6.5, 6.5),
        "gate": (2, 6.5, 12.5),
    }
    assert made.finished == (42 * INCH, 48 * INCH)
    assert job.row("cuts/tree window").upright  # type: ignore[union-attr]
    assert job.row("cuts/slat").most_each == 10  # type: ignore[union-attr]
    assert all(row.why for row in made.wanted)


def test_a_job_put_together_by_hand_has_no_quilt() -> None:
    assert quilt_of(Job(cuts=read_job(ROOT / "data" / "orchard").cuts[-1:])) is None


def test_a_sleeve_that_is_not_understood_names_its_row() -> None:
    """Sizes and words are invented."""
    with pytest.raises(JobError) as raised:
        quilt('top = "40 x 50"\nsleeve = "from oat, bias tape"')
    assert [
        (problem.row, "bias tape" in str(problem)) for problem in raised.value.problems
    ] == [(2, True)]


def test_a_side_in_one_piece_by_hand(tmp_path: Path) -> None:
    """20 + 2 x 2 + 1/2 = 24 1/2: a strip by the recipe; the same in cuts.csv stands alone, another size does not.

    Arithmetic identity.
    """
    recipe = 'blocks = ["4 squares of 10 from pear"]\nsetting = "2 across, 2 down"\nborders = ["2 from oat"]\n'
    sides = (
        "cut,count,width,length\nborder side,2,2 1/2,20 1/2\nborder end,2,2 1/2,{}\n"
    )
    job = read_job(write(tmp_path, quilt_toml=recipe, cuts_csv=sides.format("24 1/2")))
    assert [row.key for row in job.wanted] == [
        "cuts/square",
        "cuts/border side",
        "cuts/border end",
        "strips/binding",
    ]
    assert "20 1/2 + 2 x 2 = 24 1/2" in job.cuts[2].why
    with pytest.raises(
        JobError,
        match=r'"border end" is 2 of 2 1/2 x 25 in here, and 2 of 2 1/2 x 24 1/2 in by',
    ):
        read_job(write(tmp_path, quilt_toml=recipe, cuts_csv=sides.format("25")))
