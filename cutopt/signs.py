"""Signs that print: what a maker typed, without those that would steer a terminal or be a formula to a spreadsheet."""

from __future__ import annotations

import unicodedata

# Unicode general categories (Unicode Standard, chapter 4.5)
_STEERING = ("Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp")
# of these, what nobody can see on any system
_UNSEEN = ("Cc", "Cf", "Cs", "Zl", "Zp")
# hold together letters of some scripts, and pictures
_JOINERS = "\u200c\u200d"
_FORMULA = ("=", "+", "-", "@", "\t", "\r")


def is_plain(sign: str) -> bool:
    """Whether a sign is a letter, figure, mark or blank: nothing that acts on what stands around it."""
    return unicodedata.category(sign) not in _STEERING


def unseen_sign(text: str) -> str:
    """The first sign of a text that nobody can see (a control sign, a mark of direction), "" where there is none."""
    if text.isascii() and text.isprintable():
        return ""
    return next(
        (
            sign
            for sign in text
            if unicodedata.category(sign) in _UNSEEN and sign not in _JOINERS
        ),
        "",
    )


def visible(text: str) -> str:
    """A text on one line without control signs: line ends and tabs become a blank, what cannot be seen goes."""
    if text.isprintable():
        return text
    spaced = (" " if sign.isspace() else sign for sign in text)
    return "".join(sign for sign in spaced if is_plain(sign))


def not_a_formula(cell: object) -> object:
    """A cell that a spreadsheet shows as text: an apostrophe goes before what it would else work out.

    The signs are those of OWASP, "CSV Injection" (owasp.org, community page, read from memory).
    """
    if isinstance(cell, str) and cell.startswith(_FORMULA):
        return f"'{cell}"
    return cell


def letter(place: int) -> str:
    """A, B, ... Z, AA, AB, ... by its place from 0 on."""
    if place < 26:
        return chr(65 + place)
    return letter(place // 26 - 1) + chr(65 + place % 26)


__all__ = ["is_plain", "letter", "not_a_formula", "unseen_sign", "visible"]
