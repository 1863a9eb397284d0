# ruff: noqa: E501  messages and tables stand whole
from __future__ import annotations

import math
from pathlib import Path

import pytest

from armwright.errors import InputError
from cases.borne import BASE, CART, cell_with


def test_bolted(tmp_path: Path) -> None:
    base = cell_with(tmp_path, BASE).base
    assert base is not None and base.bolts is not None
    assert base.plate == (0.3, 0.28) and base.allowed_pressure == 2e6 and base.name == "base"
    assert (base.bolts.preload, base.bolts.preload.tolerance) == (35e3, pytest.approx(3500))
    assert base.bolts.points[0] == pytest.approx([0.125 * math.cos(math.pi / 8), 0.125 * math.sin(math.pi / 8)])


def test_a_cart(tmp_path: Path) -> None:
    base = cell_with(tmp_path, CART, base=False).base
    assert base is not None and base.free_standing and len(base.feet) == 3
    assert (base.stand_height, base.foot_area, base.allowed_pressure) == (0.6, pytest.approx(0.005), 1e6)
    with pytest.raises(InputError, match=r"base.free_standing: got True"):
        cell_with(tmp_path, CART)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("plate =", "plat =", "base.plat: got an unknown key .*did you mean plate"),
        ('["300 mm", "280 mm"]', '["300 mm", 280]', "base.plate: .*expected a length with its unit"),
        ('["300 mm", "280 mm"]', '["300 mm"]', "base.plate: "),
        ('["300 mm", "280 mm"]', '["300 mm", "200 mm"]', "base.plate: got bolt 2 at .* beside the plate"),
        ("0.15", '"0.15 N"', "base.friction: "),
        ('"2 MPa"', '"2"', 'base.allowed_pressure: .*did you mean "2 kPa"'),
        ('allowed_pressure = "2 MPa"', 'ground = "concrete"', "base.ground: got an unknown key"),
        ('allowed_pressure = "2 MPa"', 'free_standing = "true"', "base.free_standing: got .true., expected true or false"),
        ('allowed_pressure = "2 MPa"', 'stand_mass = "120 kg"', "base.stand_mass: got stand_mass of a base that is not free_standing"),
        ('"250 mm"', '"250"', 'base.bolts.circle_diameter: .*did you mean "250 mm"'),
        ("count = 8", "count = 8.5", "base.bolts.count: got 8.5, expected a whole number of bolts"),
        ("count = 8\n", "", "base.bolts.count: got nothing, expected positions, or circle_diameter and count"),
        ("count = 8", 'positions = [["1 mm", "2 mm"]]', "base.bolts.circle_diameter: got circle_diameter besides positions"),
        ('"M12"', '"M13"', 'base.bolts.size: got "M13", expected a metric thread'),
        ('"M12"', "12", "base.bolts.size: got 12, expected a text in quotes"),
        ('"8.8"', "8.8", 'base.bolts.property_class: got 8.8, expected one of "4.6"'),
        ('"8.8"', '"8,8"', 'base.bolts.property_class: .*did you mean "8.8"'),
        ('"35 kN ± 10 %"', '"nan kN"', "base.bolts.preload: "),
        ("property_class", "class", "base.bolts.class: got an unknown key"),
    ],
)
def test_refusals(tmp_path: Path, old: str, new: str, said: str) -> None:
    assert old in BASE
    with pytest.raises(InputError, match=said):
        cell_with(tmp_path, BASE.replace(old, new))


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('["0 mm", "-400 mm"]', '["0 mm", -400]', r'base.feet: .*expected a length .*did you mean "-400 mm"'),
        ('["0 mm", "-400 mm"]', '["0 mm", "-400 s"]', r"base.feet\[2\]: .*a unit of length"),
        (', ["0 mm", "-400 mm"]', "", "base.feet: .*3 or more points"),
        ('["0 mm", "-400 mm"]', '["0 mm", "300 mm"]', "base.feet: got feet in one line"),
        ('"50 cm^2"', '"50 cm"', "base.foot_area: .*a unit of area"),
    ],
)
def test_a_cart_is_refused(tmp_path: Path, old: str, new: str, said: str) -> None:
    assert old in CART
    with pytest.raises(InputError, match=said):
        cell_with(tmp_path, CART.replace(old, new), base=False)
