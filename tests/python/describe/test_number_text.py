from __future__ import annotations

import pytest

from armwright.describe.number_text import QUANTITY, number, times


@pytest.mark.parametrize(
    ("text", "value"),
    [("410", 410), ("-.5", -0.5), ("1e3", 1000), ("3/8", 0.375), ("1 1/2", 1.5), ("-1 1/2", -1.5), ("1 / 2", 0.5)],
)
def test_number(text: str, value: float) -> None:
    match = QUANTITY.fullmatch(text)
    assert match
    assert number(match["number"]) == value


@pytest.mark.parametrize("text", ["", "1,5", "1.5.2", "--1", "nan", "inf", "e5", "."])
def test_what_is_no_number(text: str) -> None:
    assert QUANTITY.fullmatch(text) is None


def test_small_factors_divide() -> None:
    assert times(410, 0.001) == 0.41
    assert times(3, 25.4) == 3 * 25.4
