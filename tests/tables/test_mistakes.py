"""Each kind of mistake is reported with its file, row, column, the text that was read, and the mend."""

from __future__ import annotations

from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cutopt.errors import JobError, Problem
from cutopt.tables import read_job
from tests.tables.sound_job import SOUND

CUTS = "cut,count,width,length,fabrics,grain,upright,importance,together,most_each\n"
PIECES = "piece,fabric,count,width,length,outline,flaws,edges\n"
SHOP = "fabric,usable_width,sold_by,smallest,most,price,each_width,each_length\n"
FABRICS = "fabric,value,tags,washed,shrink_along,one_way\n"
PAIR = FABRICS + "pear,medium,greens\noat,light\n"


def problems(folder: Path) -> tuple[Problem, ...]:
    """All problems of a folder."""
    with pytest.raises(JobError) as caught:
        read_job(folder)
    return caught.value.problems


# changed file, its text | where: file, row, field | part of what is wrong | part of the mend
ONE_BY_ONE = {
    "no length": (
        "cuts_csv",
        CUTS + "square,1,2 1/2,\n",
        "cuts.csv",
        2,
        "length",
        "missing",
        "such as 2 1/2",
    ),
    "not a length": (
        "cuts_csv",
        CUTS + "square,1,2 1/2,6 11/\n",
        "cuts.csv",
        2,
        "length",
        '"6 11/"',
        "6 11/16",
    ),
    "a word": (
        "cuts_csv",
        CUTS + "square,1,five,5\n",
        "cuts.csv",
        2,
        "width",
        '"five" is not a length',
        "2 1/2",
    ),
    "a word that tells of the cloth or names it": (
        "pile_txt",
        "raw silk 3 x 44\n",
        "pile.txt",
        1,
        "",
        '"raw" may be a part of the name "raw silk" or tell of the cloth',
        'write silk 3 x 44 raw, or "raw silk" 3 x 44',
    ),
    "a scrappy binding": (
        "quilt_toml",
        'top = "58 x 66"\nbinding = "scrappy, 2 1/4 from pear"\n',
        "quilt.toml",
        2,
        "binding",
        "has as much of each fabric that is named, and one is",
        'write "2 1/4 from pear" for whichever there is',
    ),
    "a spreadsheet error": (
        "cuts_csv",
        CUTS + "square,1,#REF!,5\n",
        "cuts.csv",
        2,
        "width",
        "#REF!",
        "write",
    ),
    "negative length": (
        "cuts_csv",
        CUTS + "square,1,-3,5\n",
        "cuts.csv",
        2,
        "width",
        '"-3" is below 0',
        "above 0",
    ),
    "zero": (
        "cuts_csv",
        CUTS + "square,1,0,5\n",
        "cuts.csv",
        2,
        "width",
        '"0" is nothing',
        "above 0",
    ),
    "absurdly long": (
        "cuts_csv",
        CUTS + "square,1,9999,5\n",
        "cuts.csv",
        2,
        "width",
        "100 m",
        "unit",
    ),
    "absurdly small": (
        "cuts_csv",
        CUTS + "square,1,1/16,5\n",
        "cuts.csv",
        2,
        "width",
        '"1/16" is too small',
        "unit",
    ),
    "division by zero": (
        "cuts_csv",
        CUTS + "square,1,1/0,5\n",
        "cuts.csv",
        2,
        "width",
        '"1/0"',
        "write",
    ),
    "decimal comma": (
        "cuts_csv",
        CUTS + 'square,1,"2,5",5\n',
        "cuts.csv",
        2,
        "width",
        "decimal comma",
        "write 2.5",
    ),
    "fraction a day": (
        "cuts_csv",
        CUTS + "square,1,2-Jan,5\n",
        "cuts.csv",
        2,
        "width",
        '"2-Jan" is a date',
        "1/2",
    ),
    "fraction a date": (
        "cuts_csv",
        CUTS + "square,1,2026-03-08,5\n",
        "cuts.csv",
        2,
        "width",
        "probably 3/8",
        "0.375",
    ),
    "no name": (
        "cuts_csv",
        CUTS + ",1,5,5\n",
        "cuts.csv",
        2,
        "cut",
        "a name is missing",
        "give the row a name",
    ),
    "sign in a name": (
        "cuts_csv",
        CUTS + "a|b,1,5,5\n",
        "cuts.csv",
        2,
        "cut",
        '"a|b"',
        "letters",
    ),
    "name twice": (
        "cuts_csv",
        CUTS + "a,1,5,5\nb,1,4,4\nA,1,3,3\n",
        "cuts.csv",
        4,
        "cut",
        '"A" is given in row 2',
        "its own name",
    ),
    "no count": (
        "cuts_csv",
        CUTS + "a,many,5,5\n",
        "cuts.csv",
        2,
        "count",
        '"many" is not a whole number',
        "12",
    ),
    "half a count": (
        "cuts_csv",
        CUTS + "a,2.5,5,5\n",
        "cuts.csv",
        2,
        "count",
        '"2.5" is not a whole number',
        "12",
    ),
    "negative count": (
        "cuts_csv",
        CUTS + "a,-2,5,5\n",
        "cuts.csv",
        2,
        "count",
        '"-2" is below 0',
        "1 or more",
    ),
    "zero count": (
        "cuts_csv",
        CUTS + "a,0,5,5\n",
        "cuts.csv",
        2,
        "count",
        "0 is too few",
        "1 or more",
    ),
    "huge count": (
        "cuts_csv",
        CUTS + "a,1000000,5,5\n",
        "cuts.csv",
        2,
        "count",
        "more than 10000",
        "check",
    ),
    "count of 5000 figures": (
        "cuts_csv",
        CUTS + f"a,{'9' * 5000},5,5\n",
        "cuts.csv",
        2,
        "count",
        "9999",
        "at most 2000",
    ),
    "count a date": (
        "cuts_csv",
        CUTS + "a,02-Jan,5,5\n",
        "cuts.csv",
        2,
        "count",
        "is a date",
        "1/2",
    ),
    "unknown fabric": (
        "cuts_csv",
        CUTS + "a,1,5,5,paer\n",
        "cuts.csv",
        2,
        "fabrics",
        '"paer" is neither',
        '"pear"',
    ),
    "unknown among known": (
        "cuts_csv",
        CUTS + "a,1,5,5,oat|plum\n",
        "cuts.csv",
        2,
        "fabrics",
        '"plum"',
        "pear",
    ),
    "fabrics with a comma": (
        "cuts_csv",
        CUTS + 'a,1,5,5,"pear, oat"\n',
        "cuts.csv",
        2,
        "fabrics",
        '"pear, oat"',
        "write pear|oat",
    ),
    "two fabrics with a comma": (
        "cuts_csv",
        CUTS + "square,1,5,5,pear, oat\n",
        "cuts.csv",
        2,
        "grain",
        '"oat" is not known here',
        "any, along, across; several fabrics stand in one cell, joined with |: pear|oat",
    ),
    "grain": (
        "cuts_csv",
        CUTS + "a,1,5,5,,diagonal\n",
        "cuts.csv",
        2,
        "grain",
        '"diagonal"',
        "any, along, across",
    ),
    "upright": (
        "cuts_csv",
        CUTS + "a,1,5,5,,,perhaps\n",
        "cuts.csv",
        2,
        "upright",
        '"perhaps"',
        "yes",
    ),
    "importance": (
        "cuts_csv",
        CUTS + "a,1,5,5,,,,maybe\n",
        "cuts.csv",
        2,
        "importance",
        '"maybe"',
        "if left",
    ),
    "most each": (
        "cuts_csv",
        CUTS + "a,1,5,5,,,,,,0\n",
        "cuts.csv",
        2,
        "most_each",
        "0 is too few",
        "1 or more",
    ),
    "grain against print": (
        "cuts_csv",
        CUTS + "a,1,5,5,blossom,across,yes\n",
        "cuts.csv",
        2,
        "grain",
        "stands up",
        "leave grain blank",
    ),
    "cells without a heading": (
        "cuts_csv",
        "cut,width,length\na,5,5,oat\n",
        "cuts.csv",
        2,
        "",
        '"oat" stands',
        "double quotes",
    ),
    "unknown column": (
        "cuts_csv",
        "cut,widht,length\na,5,5\n",
        "cuts.csv",
        1,
        "widht",
        'no column "widht"',
        '"width"',
    ),
    "strange column": (
        "cuts_csv",
        "cut,width,length,zzz\na,5,5,7\n",
        "cuts.csv",
        1,
        "zzz",
        'no column "zzz"',
        "most_each",
    ),
    "heading twice": (
        "cuts_csv",
        "cut,width,Width,length\na,5,5,5\n",
        "cuts.csv",
        1,
        "width",
        "stands twice",
        "keep one",
    ),
    "column missing": (
        "cuts_csv",
        "cut,width\na,5\n",
        "cuts.csv",
        1,
        "length",
        '"length" is missing',
        "heading row",
    ),
    "no headings": (
        "cuts_csv",
        "square,5,5\n",
        "cuts.csv",
        1,
        "",
        "square,5,5",
        "begin with: cut,count,width",
    ),
    "empty table": (
        "cuts_csv",
        "",
        "cuts.csv",
        1,
        "",
        "no heading row",
        "begin with: cut,",
    ),
    "open quote": (
        "cuts_csv",
        CUTS + 'a,1,"5,5\n',
        "cuts.csv",
        2,
        "",
        "double quote",
        "close the quote",
    ),
    "semicolons": (
        "cuts_csv",
        "cut;width;length\na;5;5\n",
        "cuts.csv",
        1,
        "",
        "semicolons",
        "with commas",
    ),
    "tabs": (
        "cuts_csv",
        "cut\twidth\tlength\na\t5\t5\n",
        "cuts.csv",
        1,
        "",
        "tabs",
        "with commas",
    ),
    "UTF-16": (
        "cuts_csv",
        (CUTS + "a,1,5,5\n").encode("utf-16"),
        "cuts.csv",
        None,
        "",
        "UTF-16",
        "CSV UTF-8",
    ),
    "UTF-16 unmarked": (
        "cuts_csv",
        (CUTS + "a,1,5,5\n").encode("utf-16-le"),
        "cuts.csv",
        None,
        "",
        "UTF-16",
        "UTF-8",
    ),
    "Windows-1252": (
        "cuts_csv",
        (CUTS + "a,1,2½,5\n").encode("cp1252"),
        "cuts.csv",
        2,
        "",
        "2½",
        "CSV UTF-8",
    ),
    "no size": (
        "pieces_csv",
        PIECES + "bib,pear,1,,\n",
        "pieces.csv",
        2,
        "outline",
        "no size",
        "an outline",
    ),
    "half a size": (
        "pieces_csv",
        PIECES + "bib,pear,1,5,\n",
        "pieces.csv",
        2,
        "length",
        "missing",
        "such as 2 1/2",
    ),
    "piece without fabric": (
        "pieces_csv",
        PIECES + "bib,,1,5,5\n",
        "pieces.csv",
        2,
        "fabric",
        "missing",
        "name of the fabric",
    ),
    "piece of unknown": (
        "pieces_csv",
        PIECES + "bib,paer,1,5,5\n",
        "pieces.csv",
        2,
        "fabric",
        '"paer"',
        '"pear"',
    ),
    "edges": (
        "pieces_csv",
        PIECES + "bib,pear,1,5,5,,,torn\n",
        "pieces.csv",
        2,
        "edges",
        '"torn"',
        "true, raw",
    ),
    "crossing outline": (
        "pieces_csv",
        PIECES + "bib,pear,1,,,0 0; 9 9; 9 0; 0 9\n",
        "pieces.csv",
        2,
        "outline",
        "meets",
        "in order round",
    ),
    "outline on a line": (
        "pieces_csv",
        PIECES + "bib,pear,1,,,0 0; 9 0; 5 0\n",
        "pieces.csv",
        2,
        "outline",
        "meets",
        "in order round",
    ),
    "two corners": (
        "pieces_csv",
        PIECES + "bib,pear,1,,,0 0; 9 9\n",
        "pieces.csv",
        2,
        "outline",
        "2 corners",
        "three",
    ),
    "sliver": (
        "pieces_csv",
        PIECES + "bib,pear,1,,,0 0; 9 0; 9 0.01\n",
        "pieces.csv",
        2,
        "outline",
        "narrower",
        "unit",
    ),
    "corner cut off": (
        "pieces_csv",
        PIECES + "bib,pear,1,,,0 0; 9 0; 6 11/; 0 9\n",
        "pieces.csv",
        2,
        "outline",
        'corner 3 "6 11/"',
        "6 11/16",
    ),
    "corner of one or two": (
        "pieces_csv",
        PIECES + "bib,pear,1,,,0 0; 9 0; 7 1/2\n",
        "pieces.csv",
        2,
        "outline",
        'corner 3 "7 1/2" may be one',
        "7, 1/2",
    ),
    "comma of thousands": (
        "cuts_csv",
        CUTS + 'square,1,"1,000",5\n',
        "cuts.csv",
        2,
        "width",
        'the comma in "1,000" may stand before thousands or before decimals',
        "write 1000 for thousands, or 1.000 for decimals",
    ),
    "commas of millions": (
        "cuts_csv",
        CUTS + 'square,"1,000,000",5,5\n',
        "cuts.csv",
        2,
        "count",
        "commas between its thousands",
        "write 1000000",
    ),
    "count with a comma": (
        "cuts_csv",
        CUTS + 'square,"1,200",5,5\n',
        "cuts.csv",
        2,
        "count",
        "thousands",
        "write 1200 ",
    ),
    "price of thousands": (
        "shop_csv",
        SHOP + 'oat,42,,,,"1,000"\n',
        "shop.csv",
        2,
        "price",
        "thousands",
        "write 1000 ",
    ),
    "price in two ways": (
        "shop_csv",
        SHOP + 'oat,42,,,,"1,000.50"\n',
        "shop.csv",
        2,
        "price",
        "thousands",
        "1000.50",
    ),
    "decimals of a thousandth": (
        "cuts_csv",
        CUTS + 'square,1,"0,125",5\n',
        "cuts.csv",
        2,
        "width",
        "decimal",
        "0.125",
    ),
    "corner comma": (
        "pieces_csv",
        PIECES + 'bib,pear,1,,,"0 0; 9 0; 7,5 6"\n',
        "pieces.csv",
        2,
        "outline",
        "decimal comma",
        "7.5 6",
    ),
    "outline a date": (
        "pieces_csv",
        PIECES + "bib,pear,1,,,2026-01-02\n",
        "pieces.csv",
        2,
        "outline",
        "is a date",
        "text",
    ),
    "size and outline": (
        "pieces_csv",
        PIECES + "bib,pear,1,8,,0 0; 9 0; 0 9\n",
        "pieces.csv",
        2,
        "width",
        '"8"',
        "blank",
    ),
    "flaw outside": (
        "pieces_csv",
        PIECES + "bib,pear,1,9,9,,8 8; 10 8; 10 10\n",
        "pieces.csv",
        2,
        "flaws",
        "outside",
        "frame",
    ),
    "price": (
        "shop_csv",
        SHOP + "oat,42,,,,cheap\n",
        "shop.csv",
        2,
        "price",
        '"cheap" is not a price',
        "9.60",
    ),
    "negative price": (
        "shop_csv",
        SHOP + "oat,42,,,,-1\n",
        "shop.csv",
        2,
        "price",
        '"-1" is below 0',
        "0 or more",
    ),
    "price comma": (
        "shop_csv",
        SHOP + 'oat,42,,,,"9,60"\n',
        "shop.csv",
        2,
        "price",
        "decimal comma",
        "9.60",
    ),
    "step without unit": (
        "shop_csv",
        SHOP + "oat,42,1/8\n",
        "shop.csv",
        2,
        "sold_by",
        "1/8 inches",
        "1/8 yd or 1/8 in",
    ),
    "most without unit": (
        "shop_csv",
        SHOP + "oat,42,,,3\n",
        "shop.csv",
        2,
        "most",
        "3 inches",
        "3 yd or 3 in",
    ),
    "most below smallest": (
        "shop_csv",
        SHOP + "oat,42,,1 yd,1/2 yd\n",
        "shop.csv",
        2,
        "most",
        "smallest",
        "raise",
    ),
    "both ways of selling": (
        "shop_csv",
        SHOP + "oat,42,,,,,21,18\n",
        "shop.csv",
        2,
        "usable_width",
        "not both",
        "two rows",
    ),
    "half a fat quarter": (
        "shop_csv",
        SHOP + "oat,,,,,,21,\n",
        "shop.csv",
        2,
        "each_length",
        "missing",
        "such as",
    ),
    "sold but unknown": (
        "shop_csv",
        SHOP + "oats,42\n",
        "shop.csv",
        2,
        "fabric",
        '"oats"',
        '"oat"',
    ),
    "value": (
        "fabrics_csv",
        PAIR.replace("light", "bright"),
        "fabrics.csv",
        3,
        "value",
        '"bright"',
        "light",
    ),
    "washed": (
        "fabrics_csv",
        PAIR + "x,,,often\n",
        "fabrics.csv",
        4,
        "washed",
        '"often"',
        "yes",
    ),
    "shrinkage": (
        "fabrics_csv",
        PAIR + "x,,,,3\n",
        "fabrics.csv",
        4,
        "shrink_along",
        '"3"',
        "3%",
    ),
    "huge shrinkage": (
        "fabrics_csv",
        PAIR + "x,,,,60%\n",
        "fabrics.csv",
        4,
        "shrink_along",
        '"60%"',
        "below 50%",
    ),
    "shrinkage comma": (
        "fabrics_csv",
        PAIR + 'x,,,,"0,03"\n',
        "fabrics.csv",
        4,
        "shrink_along",
        "comma",
        "0.03",
    ),
    "fabric twice": (
        "fabrics_csv",
        PAIR + "Oat\n",
        "fabrics.csv",
        4,
        "fabric",
        '"Oat" is given in row 3',
        "own name",
    ),
    "pile line": (
        "pile_txt",
        "# mine\npear elven x 7\n",
        "pile.txt",
        2,
        "",
        '"pear elven x 7"',
        "pear 11 x 7",
    ),
    "pile fabric": (
        "pile_txt",
        "paer 11 x 7\n",
        "pile.txt",
        1,
        "fabric",
        '"paer"',
        '"pear"',
    ),
    "unit": (
        "job_toml",
        'unit = "ells"\n',
        "job.toml",
        1,
        "unit",
        '"ells"',
        "in or cm",
    ),
    "setting": (
        "job_toml",
        'unit = "in"\nseem = "1/4"\n',
        "job.toml",
        2,
        "seem",
        'no setting "seem"',
        '"seam"',
    ),
    "bare fraction": (
        "job_toml",
        'unit = "in"\nseam = 1/4\n',
        "job.toml",
        2,
        "",
        "seam = 1/4",
        'seam = "1/4"',
    ),
    "comma": (
        "job_toml",
        'unit = "in"\nseam = 0,25\n',
        "job.toml",
        2,
        "",
        "a point, not a comma",
        "seam = 0.25",
    ),
    "twice": (
        "job_toml",
        'unit = "in"\nseam = 0.25\nseam = 0.5\n',
        "job.toml",
        3,
        "",
        "a second time",
        "keep one",
    ),
    "setting negative": (
        "job_toml",
        'seam = "-1"\n',
        "job.toml",
        1,
        "seam",
        '"-1" is below 0',
        "0 or more",
    ),
    "setting a list": (
        "job_toml",
        "seam = [1]\n",
        "job.toml",
        1,
        "seam",
        "it is a list",
        '"1/4"',
    ),
    "grid": (
        "job_toml",
        'grid = "9"\n',
        "job.toml",
        1,
        "grid",
        "makes no sense",
        "1/8",
    ),
    "turns": (
        "job_toml",
        "turns = 1\n",
        "job.toml",
        1,
        "turns",
        "too few",
        "2 or more",
    ),
    "preference": (
        "job_toml",
        'preference = "a bit"\n',
        "job.toml",
        1,
        "preference",
        '"a bit" is not a share',
        "5%",
    ),
    "preference too much": (
        "job_toml",
        "preference = 5\n",
        "job.toml",
        1,
        "preference",
        "0 and 100 %",
        "such as 5%",
    ),
    "keep": (
        "job_toml",
        'keep = "5 x 5 x 5"\n',
        "job.toml",
        1,
        "keep",
        "not a size",
        "5 x 5",
    ),
    "quilt": ("quilt_toml", "", "quilt.toml", None, "", "says nothing", "58 x 66"),
    "setting twice": (
        "job_toml",
        'seam = 1\n"Seam" = 1\n',
        "job.toml",
        2,
        "seam",
        '"Seam" is set twice',
        "keep one",
    ),
    "options of a back": (
        "job_toml",
        "[back.B1]\nseam = 1\n",
        "job.toml",
        2,
        "back",
        "no back",
        "backs.csv",
    ),
}


@pytest.mark.parametrize("kind", ONE_BY_ONE)
def test_one_mistake_is_one_problem(write, kind):  # type: ignore[no-untyped-def]
    name, text, file, row, field, what, mend = ONE_BY_ONE[kind]
    changed = {name: text}
    if name == "fabrics_csv":
        changed["shop_csv"] = None
    found = problems(write(**changed))
    assert [(p.file, p.row, p.field) for p in found] == [(file, row, field)], [
        str(p) for p in found
    ]
    assert what in found[0].what
    assert mend in found[0].mend
    assert str(found[0]).startswith(file)


def test_every_mistake_in_one_pass(write):  # type: ignore[no-untyped-def]
    folder = write(
        job_toml='unit = "in"\nseem = "1/4"\nturns = 1\n',
        fabrics_csv="fabric,value\npear,bright\noat,light\noat,light\n",
        pieces_csv=PIECES
        + "bib,paer,0,11,0\nbib,oat,1,,,0 0; 9 9; 9 0; 0 9\n,oat,1,2-Jan,3\n",
        pile_txt="pear elven x 7\noat 20 x 14 les 7 x 4\n",
        shop_csv="fabric;price\noat;9,60\n",
        cuts_csv="cut,widht,length,fabrics\na,5,x,oat\na,5,5,oat\na,5,5,pear|lilac\n",
        strips_csv="strip,width,total_length,shortest\nbinding,2 1/2,190,2\n",
        backs_csv="back\n",
    )
    places = [(p.file, p.row, p.field) for p in problems(folder)]
    assert sorted(places, key=str) == sorted(
        [
            ("backs.csv", 1, "width"),
            ("backs.csv", 1, "length"),
            ("job.toml", 2, "seem"),
            ("job.toml", 3, "turns"),
            ("fabrics.csv", 2, "value"),
            ("fabrics.csv", 4, "fabric"),
            ("pieces.csv", 2, "count"),
            ("pieces.csv", 2, "length"),
            ("pieces.csv", 3, "outline"),
            ("pieces.csv", 4, "piece"),
            ("pieces.csv", 4, "width"),
            ("pile.txt", 1, ""),
            ("pile.txt", 2, ""),
            ("shop.csv", 1, ""),
            ("shop.csv", 2, "price"),
            ("cuts.csv", 1, "widht"),
            ("cuts.csv", 2, "length"),
            ("cuts.csv", 4, "cut"),
            ("cuts.csv", 4, "fabrics"),
            ("strips.csv", 2, "shortest"),
        ],
        key=str,
    )


def test_an_unknown_setting_hides_nothing(write):  # type: ignore[no-untyped-def]
    """The README promises every mistake at once: also that nothing is wanted, and each line that is no TOML."""
    folder = write(
        job_toml='unit = "in"\nsean = "1/4"\n', cuts_csv="cut,width,length\n"
    )
    assert {(p.file, p.field or p.what) for p in problems(folder)} == {
        ("job.toml", "sean"),
        ("job", "nothing is wanted"),
    }
    folder = write(
        job_toml='unit = "in"\nseam = 1/4\nsean = 1/4\ngrid = 1/8\nturns = 1\nlonest_cut = 24\n'
    )
    assert sorted((p.row, p.field) for p in problems(folder)) == [
        (2, ""),
        (3, ""),
        (4, ""),
        (5, "turns"),
        (6, "lonest_cut"),
    ]


@pytest.mark.parametrize(
    "name", [name for name in ONE_BY_ONE if ONE_BY_ONE[name][0] != "job_toml"]
)
def test_each_mistake_is_told_beside_an_unknown_setting(write, name):  # type: ignore[no-untyped-def]
    table, text, file, row, field, *_ = ONE_BY_ONE[name]
    found = problems(write(**{"job_toml": 'unit = "in"\nsean = "1/4"\n', table: text}))
    places = {(p.file, p.row, p.field) for p in found}
    assert {("job.toml", 2, "sean"), (file, row, field)} <= places


def test_a_broken_fabric_row_does_not_make_its_fabric_unknown(write):  # type: ignore[no-untyped-def]
    found = problems(write(fabrics_csv=FABRICS + "pear,bright,greens\noat,light\n"))
    assert [(p.file, p.row) for p in found] == [("fabrics.csv", 2)]


def test_a_broken_pile_line_does_not_make_its_fabric_unknown(write):  # type: ignore[no-untyped-def]
    folder = write(
        fabrics_csv=None,
        pieces_csv=None,
        pile_txt="pear elven x 7\n",
        cuts_csv=CUTS + "a,1,5,5,pear|oat\n",
    )
    assert [(p.file, p.row) for p in problems(folder)] == [("pile.txt", 1)]


@pytest.mark.parametrize(
    ("gone", "what"),
    [
        ("job.toml", "job.toml is missing"),
        ("pieces.csv", "there is no pile"),
        ("cuts.csv", "nothing is wanted"),
    ],
)
def test_a_missing_file_is_named(write, gone, what):  # type: ignore[no-untyped-def]
    folder = write()
    (folder / gone).unlink()
    found = problems(folder)
    assert [(p.file, p.what) for p in found] == [("job", what)]


def test_a_header_alone_wants_nothing(write):  # type: ignore[no-untyped-def]
    assert [p.what for p in problems(write(cuts_csv="cut,width,length\n"))] == [
        "nothing is wanted"
    ]


@pytest.mark.parametrize(
    ("name", "meant"),
    [("cut.csv", "cuts.csv"), ("Strip.csv", "strips.csv"), ("pile.csv", "pile.txt")],
)
def test_a_misspelt_file_is_not_passed_over(write, name, meant):  # type: ignore[no-untyped-def]
    folder = write()
    (folder / meant).unlink(missing_ok=True)
    (folder / name).write_text("x\n")
    assert any(p.file == name and meant in p.mend for p in problems(folder))


def test_a_folder_that_is_not_there(tmp_path):  # type: ignore[no-untyped-def]
    assert [p.what for p in problems(tmp_path / "nowhere")] == [
        "there is no such folder"
    ]
    assert [p.what for p in problems(tmp_path / "nowhere.xlsx")] == [
        "there is no such file"
    ]


def test_the_sentence_reads_as_the_design_says(write):  # type: ignore[no-untyped-def]
    folder = write(pieces_csv=PIECES + "bib,pear,1,,,0 0; 9 0; 6 11/; 0 9\n")
    assert str(problems(folder)[0]) == (
        'pieces.csv row 2, outline: corner 3 "6 11/" is not two lengths; write 6 11/16 or 6 11'
    )


TABLES = [
    "job_toml",
    "fabrics_csv",
    "pieces_csv",
    "shop_csv",
    "cuts_csv",
    "strips_csv",
    "backs_csv",
    "blocks_csv",
    "pile_txt",
]
HEADS = {
    "fabrics": FABRICS,
    "pieces": PIECES,
    "shop": SHOP,
    "cuts": CUTS,
    "strips": "strip,width,total_length\n",
    "backs": "back,width,length,seam,fabrics,blocks\n",
    "blocks": "block,width,length,may_trim_to,count\n",
}
cells = st.text(max_size=12) | st.sampled_from(
    ["1/2", "0 0; 5 0; 0 5", "-", "1e9", "∞", "½", "1/0", "=1", "9" * 5000]
)
rows = st.lists(st.lists(cells, max_size=9), max_size=3)


@settings(max_examples=150, deadline=None)
@given(st.sampled_from(TABLES), st.binary(max_size=40) | rows)
def test_anything_at_all_gives_a_job_or_problems(table, spoilt):  # type: ignore[no-untyped-def]
    """Never another error, whatever stands in a file."""
    head = HEADS.get(table.removesuffix("_csv"), "")
    text = (
        spoilt
        if isinstance(spoilt, bytes)
        else (head + "\n".join(",".join(row) for row in spoilt)).encode()
    )
    with TemporaryDirectory() as name:
        folder = Path(name)
        for file, sound in SOUND.items():
            (folder / file).write_text(sound)
        (folder / ".".join(table.rsplit("_", 1))).write_bytes(text)
        try:
            job = read_job(folder)
        except JobError as error:
            job = None
            told = error.problems
        assert job is not None or all(problem.file and problem.what for problem in told)
