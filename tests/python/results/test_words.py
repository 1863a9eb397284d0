"""Numbers and safeties in words, by cases at their borders."""

from __future__ import annotations

import math

import pytest

from armwright.results.words import notes, number, safety_against


@pytest.mark.parametrize(
    ("value", "said"),
    [
        (0.0, "0"), (-9e-7, "0"), (2e-6, "2e-06"), (0.12345, "0.123"), (-107.9, "-108"), (999.4, "999"),
        (12345.6, "12346"), (-4000.0, "-4000"), (2.5e6, "2.5e+06"), (math.inf, "inf"), (math.nan, "nan"),
    ],
)  # fmt: skip
def test_numbers(value: float, said: str) -> None:
    assert number(value) == said


@pytest.mark.parametrize(
    ("safety", "wanted", "said"),
    [
        (0.999, 0.5, "safety 0.999, wanted 0.5: TOO LITTLE"),
        (1.0, 1.5, "safety 1, wanted 1.5: LESS THAN WANTED"),
        (1.5, 1.5, "safety 1.5, wanted 1.5: good"),
        (math.inf, 3, "safety inf, wanted 3: good"),
        (math.nan, 1, "safety nan, wanted 1: NOT SAFE, there is a load that nothing is known to bear"),
    ],
)
def test_a_safety_is_good_from_what_is_wanted_on(safety: float, wanted: float, said: str) -> None:
    assert safety_against(safety, wanted) == said


def test_every_line_is_a_note() -> None:
    assert notes("left out", "a\nb") == ["left out: a", "left out: b"] and notes("left out", "") == []
