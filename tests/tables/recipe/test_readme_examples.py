"""The examples and lists of the README are true."""

from __future__ import annotations

import re
from dataclasses import fields

from cutopt.quilt.conventions import Conventions
from cutopt.tables.recipe.kinds import ARTICLES, KINDS
from cutopt.tables.recipe.quilt import KEYS, quilt
from tests.places import ROOT

TEXT = (ROOT / "README.md").read_text(encoding="utf-8")
TOML = re.findall(r"```toml\n(.*?)```", TEXT, re.DOTALL)
SECTION = TEXT[
    TEXT.index("### The quilt in sentences") : TEXT.index(
        "### Backing and batting to buy"
    )
]


def test_the_two_quilts_read() -> None:
    top, recipe = (quilt(text) for text in TOML[1:])
    assert [row.key for row in top.wanted] == ["strips/binding"]
    assert len(recipe.wanted) >= 14
    assert recipe.finished is not None
    assert recipe.spare == ()


def test_every_kind_key_and_article_is_named() -> None:
    for word in (*KINDS, *ARTICLES, *KEYS):
        assert word in SECTION, word


def test_every_setting_named_is_one() -> None:
    known = {each.name for each in fields(Conventions)}
    rows = re.findall(r"^\| (`[a-z_]+`(?:, `[a-z_]+`)*) \|", SECTION, re.MULTILINE)
    named = {word for row in rows for word in re.findall(r"`([a-z_]+)`", row)}
    assert len(named) >= 14
    assert named <= known


def test_defaults_are_those_told() -> None:
    how = Conventions()
    assert (
        how.show(how.binding_width),
        how.show(how.binding_allowance),
        how.show(how.binding_shortest),
    ) == (
        "2 1/2",
        "10",
        "8",
    )
    assert (how.show(how.back_seam), how.show(how.tight), how.spares) == (
        "1/2",
        "1/4",
        0,
    )
    assert (how.machine, how.overage_from, how.binding_from) == (
        "domestic",
        "raw top",
        "trimmed",
    )
    assert (
        how.triangles,
        how.border_corner,
        how.border_cut,
        how.show(how.mitre_extra),
    ) == (
        "exact",
        "sides first",
        "joined",
        "2",
    )
