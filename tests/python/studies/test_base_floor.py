"""Pressure under plate and feet, and tipping over, worked by hand."""

from __future__ import annotations

import numpy as np
import pytest

import armwright as aw
from cases.bases import G, missing, safety, square, studied

STAND = {
    "free_standing": True, "stand_mass": 6000 / G, "stand_centre": (0, 0, -0.3), "stand_height": 0.5,
    "feet": ((-0.4, -0.4), (0.4, 0.4), (0.4, -0.4), (-0.4, 0.4)),
}  # fmt: skip


def test_pressure_under_a_plate_by_the_kern() -> None:
    base = aw.Base(plate=(0.6, 0.4), allowed_pressure="100 kPa")
    result = studied(base, [(0, 0, -1000, 0, 0, 0), (0, 0, -1000, 0, 1000 * 0.2, 0)])  # e = 0.2 > 0.6/6
    pressure = 2 * 1000 / (3 * 0.4 * (0.3 - 0.2))
    assert result.attrs["floor_pressure"] == pytest.approx(pressure)
    assert result.attrs["contact_share"] == pytest.approx(0.5)
    assert safety(result, "floor pressure") == pytest.approx(100e3 / pressure)
    assert "no allowed pressure" in missing(studied(aw.Base(plate=(0.6, 0.4)), (0, 0, -1000, 0, 0, 0)))


def test_preload_presses_the_plate_where_its_bolts_are() -> None:
    base = aw.Base(square(preload=10e3), plate=(0.5, 0.5), allowed_pressure="1 MPa")
    result = studied(base, (0, 0, -4000, 0, 0, 0))
    assert result.attrs["floor_pressure"] == pytest.approx(44e3 / 0.25)
    aside = aw.Base(aw.BoltPattern(positions=((0.1, 0.05),), preload=10e3), plate=(0.6, 0.4))
    # with 10 kN of load at (0, -0.05) m the resultant is at (0.05, 0), within the kern
    assert studied(aside, (0, 0, -10e3, 500, 0, 0)).attrs["floor_pressure"] == pytest.approx(20e3 / 0.24 * 1.5)
    held = studied(aw.Base(square(), plate=(0.5, 0.5), allowed_pressure="1 MPa"), (0, 0, 500, 0, 0, 0))
    assert "in 1 of 1 rows" in missing(held) and "floor_pressure" not in held.attrs
    part = studied(aw.Base(square(), plate=(0.5, 0.5), allowed_pressure="1 MPa"),
                   [(0, 0, 500, 0, 0, 0), (0, 0, -500, 0, 0, 0)])  # fmt: skip
    assert np.isnan(safety(part, "floor pressure")), "what is not known is neither safe nor too much"


def test_a_round_plate_has_an_outline_within_its_edge() -> None:
    result = studied(aw.Base(plate=0.5, plate_centre=(0.1, 0)), (0, 0, -1000, 0, 100, 0))
    radius = np.hypot(*(result["plate"].values - [0.1, 0]).T)
    np.testing.assert_allclose(radius, 0.25)
    assert result.attrs["floor_pressure"] == pytest.approx(1000 / (np.pi * 0.25**2), rel=1e-3)


def test_tipping_over_each_edge() -> None:
    base = aw.Base(**STAND, foot_area=1e-3, allowed_pressure="10 MPa")
    # 600 N at 1.6 m along x, beyond the edge at 0.4 m, and 50 N along x at the face, 0.5 m above the floor
    result = studied(base, (50, 0, -600, 0, 600 * 1.6, 0), ("stop",))
    tips = 600 * 1.2 + 50 * 0.5
    assert safety(result, "tipping over") == pytest.approx(6000 * 0.4 / tips)
    edge = int(result["tip_safety"].values.argmin())
    np.testing.assert_allclose(result["edge_from"][edge, 0], 0.4)
    np.testing.assert_allclose(result["edge_to"][edge, 0], 0.4)
    assert result["tip_distance"][edge].item() == pytest.approx((6000 * 0.4 - tips) / 6600)
    assert result["tip_case"].values[edge] == "case stop"
    assert sorted(np.isinf(result["tip_safety"].values)) == [False, True, True, True]
    # moment 985 N m about y lifts the far feet's share: N/4 ± M/(4·0.4)
    np.testing.assert_allclose(result["foot_force"], np.array([-1, 1, 1, -1]) * 985 / 1.6 + 1650)
    assert result.attrs["floor_pressure"] == pytest.approx((1650 + 985 / 1.6) / 1e-3)
    assert safety(result, "floor pressure") == pytest.approx(10e6 / result.attrs["floor_pressure"])


def test_a_stand_that_tips_by_itself_and_an_arm_that_holds_it() -> None:
    leaning = aw.Base(**(STAND | {"stand_centre": (0.5, 0, -0.3)}))
    held = studied(leaning, (0, 0, -2000, 0, 2000 * -0.2, 0))
    assert safety(held, "tipping over") == pytest.approx(2000 * 0.6 / (6000 * 0.1))
    falls = studied(leaning, (0, 0, -100, 0, 0, 0))
    assert safety(falls, "tipping over") == pytest.approx(100 * 0.4 / (6000 * 0.1))
    assert "in 1 of 1 rows: it tips over" in missing(falls)
    assert falls["tip_distance"].min() < 0
    lifted = studied(aw.Base(**STAND), (0, 0, 7000, 0, 0, 0))
    assert np.isneginf(lifted["tip_distance"]).all() and safety(lifted, "tipping over") == pytest.approx(6 / 7)


@pytest.mark.parametrize("key", ["stand_mass", "stand_centre", "stand_height", "feet"])
def test_without_its_data_a_stand_is_not_called_safe(key: str) -> None:
    result = studied(aw.Base(**(STAND | {key: None})), (0, 0, -600, 0, 0, 0))
    assert f"tipping over of what stands free: not told: {key}" in missing(result)
    assert "tipping over" not in result["check"]


def test_feet_without_an_area() -> None:
    result = studied(aw.Base(**STAND), (0, 0, -600, 0, 0, 0))
    assert "no area of a foot" in missing(result) and "sliding" in missing(result)


def test_under_a_stand_it_is_the_feet_that_press_the_floor() -> None:
    base = aw.Base(square(preload=10e3), plate=(0.5, 0.5), **STAND, foot_area=1e-3, allowed_pressure="10 MPa")
    result = studied(base, (0, 0, -600, 0, 0, 0))
    assert result["check"].values.tolist().count("floor pressure") == 1
    assert result.attrs["floor_pressure"] == pytest.approx(1650 / 1e-3)
    assert "plate" in result
