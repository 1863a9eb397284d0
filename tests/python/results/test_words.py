"""Numbers and safeties in words, by cases at their borders."""

from __future__ import annotations

import math

import pytest

from armwright.results.words import axis_speed, life, notes, number, quantity, safety_against, way, with_unit


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


@pytest.mark.parametrize(
    ("seconds", "said"),
    [(1800.0, "0.5 h"), (3.6e6, "1000 h"), (3.6e8, "100000 h"), (3.7e8, "more than 100000 h")],
)
def test_a_life_that_nothing_outlasts_is_no_figure(seconds: float, said: str) -> None:
    assert life(seconds) == said


def test_ways_pressures_and_torques_have_units_that_builders_read() -> None:
    assert (way(843513e3), way(2e12)) == ("843513 km", "more than 1000000 km")
    assert (with_unit(4.19e6, "Pa"), with_unit(359e3, "Pa")) == ("4.19 MPa", "359 kPa")
    assert (with_unit(17.1, "N*m"), with_unit(519.2, "N")) == ("17.1 N·m", "519 N")


def test_speeds_of_axes() -> None:
    assert axis_speed(math.pi / 2, "rad") == "90 °/s" and axis_speed(0.25, "m") == "0.25 m/s"


@pytest.mark.parametrize(
    ("value", "unit", "said"),
    [(math.pi / 6, "rad", "30°"), (-math.pi, "rad/s", "-180 °/s"), (0.25, "1", "0.25"), (1.23456, "kg", "1.23 kg")],
)
def test_quantities_of_what_turns_are_told_in_degrees(value: float, unit: str, said: str) -> None:
    assert quantity(value, unit) == said
