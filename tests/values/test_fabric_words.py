"""What words of a row mean. Batting and interfacing lie between layers of a quilt (common practice, no source)."""

from __future__ import annotations

import pytest

from cutopt.fabric import Fabric
from cutopt.fabric_words import Meanings, answers_to


@pytest.mark.parametrize("kind", ["cotton batting", "Wadding", "fusible interfacing"])
def test_what_lies_between_layers_is_meant_by_its_name_alone(kind: str) -> None:
    fluff = Fabric(name="fluff", kind=kind, value="light", tags=("soft",))
    assert answers_to(fluff, "Fluff")
    for word in ("any", "light", "any light", "soft"):
        assert not answers_to(fluff, word)
        assert Meanings([fluff]).ways(word) == set()


def test_cotton_is_meant_by_value_and_tag() -> None:
    cream = Fabric(name="cream", value="light", tags=("soft",))
    for word in ("any", "light", "any light", "soft", "cream"):
        assert answers_to(cream, word)


FABRICS = (
    Fabric(name="oat", value="light", tags=("plain",)),
    Fabric(name="cream", value="light"),
    Fabric(name="mist", value="light", one_way="along"),
    Fabric(name="gold"),
    Fabric(name="black", value="dark"),
    Fabric(name="black and white", value="dark"),
    Fabric(name="fluff", kind="cotton batting", value="light"),
)
KNOWN = [fabric.name for fabric in FABRICS]


def meant(word: str) -> list[str]:
    return [fabric.name for fabric in FABRICS if answers_to(fabric, word)]


@pytest.mark.parametrize(
    ("word", "base", "kept_out"),
    [
        ("any but cream", "any", ("cream",)),
        ("Any  but Cream", "any", ("cream",)),
        ("all except cream", "any", ("cream",)),
        ("anything other than cream", "any", ("cream",)),
        ("any but cream or gold", "any", ("cream", "gold")),
        ("any but cream and gold", "any", ("cream", "gold")),
        ("any but cream, gold and oat", "any", ("cream", "gold", "oat")),
        ("any light but mist", "any light", ("mist",)),
        ("any but light", "any", ("light",)),
        ("any but plain", "any", ("plain",)),
        ("any light but fluff", "any light", ("fluff",)),
    ],
)
def test_any_but(word: str, base: str, kept_out: tuple[str, ...]) -> None:
    """A set less others: what the base means without all that the others mean."""
    out = {name for each in kept_out for name in meant(each)}
    assert meant(word) == [name for name in meant(base) if name not in out]
    assert Meanings(FABRICS).ways(word) == {
        fabric.one_way for fabric in FABRICS if answers_to(fabric, word)
    }


@pytest.mark.parametrize(
    ("word", "what", "mend"),
    [
        ("any but creme", '"creme" is neither', '"cream"'),
        ("any pale but oat", '"any pale" is neither', "use one of"),
        ("any light but oat, cream and mist", "leaves no fabric", "keep fewer out"),
        ("any light but gold", 'none of "any light"', "leave gold out"),
        ("any light but fluff", "keeps out fluff", "leave fluff out"),
        ("any but black and white", "may keep out black and white", "with |"),
        ("not cream", '"not cream" is neither', "write any but cream"),
    ],
)
def test_what_any_but_cannot_mean(word: str, what: str, mend: str) -> None:
    problem = Meanings(FABRICS).problem(word, KNOWN)
    assert problem is not None
    assert what in problem.what
    assert mend in problem.mend


def test_any_but_that_means_something_is_no_problem() -> None:
    for word in ("any but cream", "any light but mist or oat", "any dark but black"):
        assert Meanings(FABRICS).problem(word, KNOWN) is None


def test_a_fabric_of_that_name_comes_first() -> None:
    odd = Fabric(name="nothing but blue")
    assert answers_to(odd, "nothing but blue")
    assert Meanings([odd]).problem("nothing but blue", []) is None
    assert not answers_to(FABRICS[0], "nothing but blue")
