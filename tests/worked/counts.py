"""How many pieces of one size a piece of fabric gives: by counting, and the most that straight cuts can give."""

from __future__ import annotations

from functools import cache

from cutopt.quilt.surds import Number, how_often


def grid_count(
    width: Number, length: Number, piece_width: Number, piece_length: Number
) -> int:
    """Rows and columns of pieces, none turned: floor(W/a) x floor(L/b).

    For squares this is the true maximum for any arrangement parallel to the edges (arithmetic identity): m x k
    points at multiples of W/(m+1) and L/(k+1) lie nearer than a side, so every square covers one.
    """
    return how_often(width, piece_width) * how_often(length, piece_length)


def strip_count(length: Number, strip: Number) -> int:
    """Strips across the fabric from a length of it."""
    return how_often(length, strip)


def most_pieces(width: int, length: int, a: int, b: int) -> int:
    """The most a x b rectangles, turned or not, that edge-to-edge cuts take from width x length.

    Exact: cuts may be taken at sums of a and b alone (normal patterns), the rest follows by recursion.
    """

    @cache
    def best(w: int, h: int) -> int:
        if min(w, h) < min(a, b) or max(w, h) < max(a, b):
            return 0
        most = max(grid_count(w, h, a, b), grid_count(w, h, b, a))
        bound = w * h // (a * b)
        for at in _sums(w, a, b):
            if most == bound or 2 * at > w:
                break
            most = max(most, best(at, h) + best(_normal(w - at, a, b), h))
        for at in _sums(h, a, b):
            if most == bound or 2 * at > h:
                break
            most = max(most, best(w, at) + best(w, _normal(h - at, a, b)))
        return most

    return best(_normal(width, a, b), _normal(length, a, b))


def _sums(room: int, a: int, b: int) -> list[int]:
    """All sums of a and b up to the room, above 0, in order."""
    return sorted(
        {
            i * a + j * b
            for i in range(room // a + 1)
            for j in range((room - i * a) // b + 1)
        }
        - {0}
    )


def _normal(room: int, a: int, b: int) -> int:
    """The largest sum of a and b within the room: what lies beyond it is of no use."""
    return max(
        (i * a + (room - i * a) // b * b for i in range(room // a + 1)), default=0
    )
