# ruff: noqa: E501  messages and tables stand whole
from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest

from armwright.describe import Base, BoltPattern, CellDescription, Track
from armwright.errors import InputError
from cases.borne import BOLTS
from cases.description_files import small_arm

FEET = [(0.3, 0.3), (-0.3, 0.3), (0, -0.4)]


def test_what_is_told() -> None:
    base = Base(BOLTS, ("300 mm", "280 mm"), (0.01, 0), friction="15 %")
    assert base.plate == (0.3, 0.28) and base.centre == (0.01, 0) and base.friction == 0.15
    assert base.assumptions == ("base: bolts: no prying factor: 1",)
    assert Base().centre == (0, 0) and repr(Base()) == "Base 'base': no bolts told"
    cart = Base(free_standing=True, stand_mass="120 kg", stand_centre=(0, 0, -0.3), stand_height=0.6, feet=FEET)
    assert [tuple(map(float, foot)) for foot in cart.feet] == FEET and repr(cart) == "Base 'base': free standing"


def test_bolts_go_through_the_plate() -> None:
    """The circle has 250 mm: its bolts at 0, 45, 90 deg reach 125 mm along both axes."""
    Base(BOLTS, 0.25)
    Base(BOLTS, (0.25, 0.25))
    Base(BoltPattern([(0.09, 0.09)]), (0.2, 0.2))
    outline = [(0.2, 0), (-0.2, 0.3), (-0.2, -0.3)]
    Base(BoltPattern([(0.15, 0), (-0.2, 0.3)]), plate_outline=outline)
    for wrong, key in (
        ({"plate": 0.24}, "plate"), ({"plate": (0.3, 0.24)}, "plate"), ({"plate": 0.25, "plate_centre": (0.01, 0)}, "plate"),
        ({"plate_outline": outline}, "plate_outline"),
    ):  # fmt: skip
        with pytest.raises(InputError, match=rf"^Base.{key}: got bolt \d at .*beside the plate"):
            Base(BOLTS, **wrong)  # type: ignore[arg-type]
    with pytest.raises(InputError, match=r"plate: got bolt 1 at .90, 90. mm"):
        Base(BoltPattern([(0.09, 0.09)]), 0.2)


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ({"bolts": "M12"}, 'bolts: got "M12", expected a BoltPattern'),
        ({"plate": 0}, "plate: got 0"),
        ({"plate": (0.3, 0.28, 0.02)}, "plate: "),
        ({"plate": "0,3 m"}, "plate: .*no comma"),
        ({"plate_centre": (0, 0)}, "plate: got nothing, expected this key beside plate_centre"),
        ({"plate": 0.3, "plate_outline": FEET}, "plate_outline: got plate_outline besides plate"),
        ({"plate_outline": [(0, 0), (1, 1), (1, 0), (0, 1)]}, "plate_outline: got an outline that crosses itself"),
        ({"plate_outline": FEET[:2]}, "plate_outline: "),
        ({"friction": 15}, "friction: got 15, expected a coefficient of friction"),
        ({"friction": math.nan}, "friction: got nan"),
        (
            {"free_standing": True, "stand_centre": (0, 0, -0.61), "stand_height": 0.6},
            "stand_centre: got 10 mm below the floor, .* expected a centre of gravity above the floor",
        ),
        ({"free_standing": "yes"}, 'free_standing: got "yes", expected True or False'),
        ({"feet": FEET}, "feet: got feet of a base that is not free_standing"),
        ({"stand_mass": 120}, "stand_mass: got stand_mass of a base"),
        ({"free_standing": True, "stand_mass": 0}, "stand_mass: got 0"),
        ({"free_standing": True, "stand_height": -0.1}, "stand_height: got -0.1"),
        ({"free_standing": True, "stand_centre": (0, 0)}, "stand_centre: "),
        ({"free_standing": True, "feet": [(0, 0), (1, 1), (2, 2)]}, "feet: got feet in one line"),
        ({"free_standing": True, "foot_area": "50 cm"}, "foot_area: .*a unit of area"),
        ({"allowed_pressure": "3 kg/cm^2"}, r"allowed_pressure: .*did you mean kgf/cm\^2"),
    ],
)
def test_refusals(arguments: dict[str, Any], said: str) -> None:
    with pytest.raises(InputError, match=f"^Base.{said}"):
        Base(**arguments)


def test_in_a_cell() -> None:
    cell = CellDescription(small_arm(), base=Base(BOLTS))
    assert cell.base is not None and cell.digest() != CellDescription(small_arm()).digest()
    assert "base: bolts: no prying factor: 1" in cell.assumptions
    with pytest.raises(InputError, match="base: got 7, expected a Base or None"):
        CellDescription(small_arm(), base=7)  # type: ignore[arg-type]
    with pytest.raises(InputError, match=r"base.free_standing: got True, expected False: the arm stands on the track"):
        replace(cell, base=Base(free_standing=True), track=Track("x", 2))
