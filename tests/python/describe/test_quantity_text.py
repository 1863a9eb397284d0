"""What is printed of a number can be typed into a file, and means the same."""

from __future__ import annotations

import math

import pytest

import armwright as aw
from armwright.describe.quantity_text import counted, quantity
from cases.described import track_cell
from cases.driven_cells import turntable


@pytest.mark.parametrize(
    ("value", "unit", "told"),
    [
        (math.radians(3), "rad", "3 deg"),  # and not 0.0523599 rad
        (math.radians(1 / 60), "rad", "1 arcmin"),
        (0.0, "rad", "0 deg"),
        (-2.1, "m", "-2.1 m"),
        (0.585, "m", "585 mm"),
        (0.0, "m", "0 mm"),
        (math.radians(140), "rad/s", "140 deg/s"),
        (100 * math.pi, "rad/s", "3000 rpm"),
        (31 * 10800 / math.pi, "N*m/rad", "31 N*m/arcmin"),
        (4.2e-5, "kg*m^2", "0.42 kg*cm^2"),
        (235e6, "Pa", "235 MPa"),
        (25200000.0, "s", "7000 h"),
        (0.8, "1", "0.8"),
        (131072.0, "1", "131072"),
        (12.5, "W", "12.5 W"),
    ],
)
def test_units_that_suit_the_size(value: float, unit: str, told: str) -> None:
    assert quantity(value, unit) == told


def test_tolerances_are_in_the_same_unit() -> None:
    assert quantity(0.585, "m", 0.0003) == "585 mm ± 0.3 mm"
    assert quantity(0.0, "rad", math.radians(0.02)) == "0 arcmin ± 1.2 arcmin"


@pytest.mark.parametrize("cell", [track_cell(), turntable()], ids=["track cell", "turntable"])
def test_every_number_of_a_design_can_be_typed_back(cell: aw.Cell) -> None:
    numbers = cell.design_numbers()
    assert len(numbers) > 5
    for number in numbers:
        told = repr(number).partition(" = ")[2]
        again = cell.with_numbers({number.path: told if number.unit != "1" else float(told)}).design_number(number.path)
        assert again.value == pytest.approx(number.value, rel=1e-5, abs=1e-12), repr(number)


def test_counts() -> None:
    assert [counted(n, "shape") for n in range(3)] == ["0 shapes", "1 shape", "2 shapes"]


def test_limits_of_a_cycle_print_what_was_told() -> None:
    assert repr(aw.CycleLimits()) == "CycleLimits: none besides those of arm and moves"
    told = repr(aw.CycleLimits(speed=0.5, tool_speed="250 mm/s", joint_speed={"axis 1": "90 deg/s"}))
    assert told == "CycleLimits: 50 % of the joints' speeds; tool speed 0.25 m/s; joint speed of axis 1"
