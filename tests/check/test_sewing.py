"""How backs are sewn: good plans, one broken plan for every kind of fault, and limits that are just met."""

from __future__ import annotations

import pytest

from cutopt.check import check
from tests.check.backs_by_hand import GOOD_BACKS


@pytest.mark.parametrize("name", GOOD_BACKS)
def test_a_good_back_has_no_fault(name: str) -> None:
    assert check(*GOOD_BACKS[name]()) == []
