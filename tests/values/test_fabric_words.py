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
