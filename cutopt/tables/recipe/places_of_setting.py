"""How many blocks a setting has across and down, in whatever words that is said."""

from __future__ import annotations

from cutopt.errors import Problem
from cutopt.tables.recipe.words_of_setting import FIELD, PLAIN, PLAIN_OF, ROWS_EACH
from cutopt.tables.sentences.said import Said


def places_said(said: Said) -> tuple[int, int]:
    """How many blocks lie across and down: ``7 across, 8 down``, ``7 x 8``, ``8 rows of 7``, ``7 columns of 8``.

    One of the two follows from the other where it is said how many blocks there are.

    Parameters
    ----------
    said : Said
        What is said of places is struck off.

    Raises
    ------
    Problem
        Where one of the two is missing, or is said twice.
    """
    told = said.text
    each = said.after(ROWS_EACH)
    across = {said.after("across"), each} - {""}
    down = {said.after("down")} - {""}
    for key, turned in (("across by down", 0), ("rows of", 1), ("columns of", 0)):
        both = said.after(key).split()
        if both:
            across.add(both[turned])
            down.add(both[1 - turned])
    if each and not down and said.size.isdigit():
        # rows of 4, 5 of them
        down.add(said.size)
        said.size = ""
    many = said.after("blocks")
    if many:
        _fill_in(across, down, int(many[:9]))
    if len(across) > 1 or len(down) > 1:
        what = f'"{told}" says twice how many lie across or down, and not the same'
        raise Problem(FIELD, what, "write it once, like 7 across, 8 down")
    if not across or not down or "0" in (*across, *down):
        what = f'"{told}" does not say how many across and down'
        mend = "write it like 7 across, 8 down"
        if not {PLAIN, PLAIN_OF} & {*said.options, *said.cloth_of}:
            mend += ", or as large as it goes"
        raise Problem(FIELD, what, mend)
    places = int(across.pop()[:9]), int(down.pop()[:9])
    if many and places[0] * places[1] != int(many[:9]):
        what = f'"{told}" says {many} blocks, and {places[0]} x {places[1]} are {places[0] * places[1]}'
        raise Problem(FIELD, what, "leave out how many there are, or change the others")
    return places


def _fill_in(across: set[str], down: set[str], many: int) -> None:
    """The one of two that is missing: 20 blocks, 4 to a row are 5 rows."""
    for known, open_ in ((across, down), (down, across)):
        if len(known) == 1 and not open_:
            one = int(next(iter(known))[:9])
            if one and many % one == 0:
                open_.add(str(many // one))
