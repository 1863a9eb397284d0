# ruff: noqa: E501  messages and tables stand whole
"""Factors: definitions of the SI brochure (9th ed.) and of the yard and pound agreement of 1959, g_n of CGPM 1901."""

from __future__ import annotations

import math

import pytest

from armwright.describe.unit_text import force_hint, unit_factor

POUND, INCH, G = 0.45359237, 0.0254, 9.80665


@pytest.mark.parametrize(
    ("unit", "si", "factor"),
    [
        ("mm", "m", 0.001), ("in", "m", INCH), ("ft", "m", 12 * INCH), ("lb", "kg", POUND), ("oz", "kg", POUND / 16),
        ("deg", "rad", math.pi / 180), ("°", "rad", math.pi / 180), ("arcmin", "rad", math.pi / 10800),
        ("turn", "rad", 2 * math.pi), ("rev", "rad", 2 * math.pi), ("Nm", "N*m", 1), ("N m", "N*m", 1), ("N·m", "N*m", 1),
        ("mNm", "N*m", 0.001), ("kgf*cm", "N*m", G / 100), ("lbf*ft", "N*m", POUND * G * 12 * INCH),
        ("lbf*in", "N*m", POUND * G * INCH), ("lbf", "N", POUND * G), ("kgf", "N", G), ("kg m2", "kg*m^2", 1),
        ("kg·m²", "kg*m^2", 1), ("g*cm^2", "kg*m^2", 1e-7), ("lb*in^2", "kg*m^2", POUND * INCH**2), ("%", "", 0.01),
        ("m/s²", "m/s^2", 1), ("kW", "W", 1000),
    ],
)  # fmt: skip
def test_factors(unit: str, si: str, factor: float) -> None:
    assert unit_factor(unit, si) == pytest.approx(factor, rel=1e-12)


@pytest.mark.parametrize(
    ("unit", "si"),
    [
        ("kg", "m"), ("m*rad", "m"), ("J", "N*m"), ("W*s", "N*m"), ("kg*cm", "N*m"), ("ft·lb", "N*m"), ("lb-ft", "N*m"),
        ("%", "rad"), ("N*m/rad", "N*m"), ("m**3", "m"), ("degC", "rad"), ("rad", ""),
    ],
)  # fmt: skip
def test_units_of_something_else(unit: str, si: str) -> None:
    assert unit_factor(unit, si) == "other"


@pytest.mark.parametrize("unit", ["milimetre", "m;", "m**99", "__import__('os')", "(" * 30, "m" * 60, "1 m", "!"])
def test_what_is_no_unit(unit: str) -> None:
    assert isinstance(unit_factor(unit, "m"), str)


def test_hints_for_masses_used_as_forces() -> None:
    hints = {"kg*cm": "kgf*cm", "ft·lb": "lbf*ft", "lb-ft": "lbf*ft", "in-lb": "lbf*in", "ftlb": "lbf*ft", "lb": "lbf",
             "oz in": "ozf*in", "kgcm": "kgf*cm", "J": ""}  # fmt: skip
    assert {unit: force_hint(unit) for unit in hints} == hints
