from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from armwright.report.document import Column, Entry, Quantity, Verdict
from armwright.report.figures import heading, number, told

REACH, NEAR = Column("reach", "m"), Column("clearance", "m", small=True)


@pytest.mark.parametrize(("value", "words"), [
    (1.25, "1.25"), (0.0, "0"), (-0.0, "0"), (1234.4, "1234"), (12345.6, "12\u202f346"), (0.00123456, "0.00123"),
    (-2.5, "−2.5"), (math.nan, ""), (math.inf, "no limit"), (-math.inf, "none"), (99.96, "100"), (1e-12, "0"),
])  # fmt: skip
def test_numbers(value: float, words: str) -> None:
    assert number(value) == words


@given(st.floats(1e-6, 1e7), st.integers(1, 6))
def test_down_is_never_more(value: float, digits: int) -> None:
    text = number(value, digits, down=True).replace("\u202f", "")
    assert float(text) <= value * (1 + 1e-9) + 1e-9


def test_units_stand_in_the_head_once() -> None:
    assert heading(REACH, "si") == "reach (m)" and heading(REACH, "us") == "reach (in)"
    assert heading(NEAR, "si") == "clearance (mm)" and heading(Column("part"), "us") == "part"
    assert heading(Column("share", "1", percent=True), "us") == "share (%)"
    assert heading(Column("share", percent=True), "si") == "share (%)"
    assert told(0.0254, NEAR, "si") == "25.4" and told(0.0254, NEAR, "us") == "1"  # 1 in = 25.4 mm, exact
    assert told(0.125, Column("share", percent=True), "si") == "12.5"


@pytest.mark.parametrize(("entry", "words"), [
    (None, ""), (math.nan, ""), ("as told", "as told"), (Verdict("good", True), "good"),
    (Quantity(4.4482216152605, "N"), "1 lbf"), (Quantity(0.0508, "m", small=True), "2 in"),
    (Quantity(math.inf, "N"), "no limit"), (Quantity(math.nan, "N"), ""), (Quantity(0.5), "0.5"),
    (math.inf, "no limit"),
])  # fmt: skip
def test_entries(entry: Entry, words: str) -> None:
    assert told(entry, REACH, "us") == words
