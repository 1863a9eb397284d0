"""What the arm's swing does to a track that stands: by hand on an arm of one upright axis."""

from __future__ import annotations

import numpy as np
import pytest

import armwright as aw
from cases.railed_cells import CARRIAGE, REACH, SWUNG, both, driven, guide, rows, swinging


def test_swinging_pulls_along_a_track_that_stands() -> None:
    speed = 3.0
    q = [[1.0, angle] for angle in np.linspace(0, np.pi, 41)]
    pull = SWUNG * REACH * speed**2
    cell = swinging(guide(), force_continuous=50.0, force_peak=100.0)
    out = cell.track_loads(rows=rows(q, [0, speed], kind="cycle", duty=0.1))
    held = out.sel(held="cycle")
    assert held.held_force.item() == pytest.approx(pull)
    assert held.held_bears.item() == 100.0
    assert held.held_factor.item() == pytest.approx(100 / pull)
    words = f"{pull:.4g} N along it while it stands in the cycle; the motor holds 100 N at its peak"
    assert words in out.attrs["warnings"]
    assert np.isnan(out.held_force.sel(held="stop").item())
    braked = cell.track_loads(rows=rows(q, [0, speed], kind="stop"))
    assert "no brake told to hold that" in braked.attrs["missing"]
    assert np.isnan(braked.held_factor.sel(held="stop").item())
    # standing for the whole duty wears nothing, and that is said
    assert np.isinf(out.life.values).all() and "false brinelling" in out.attrs["warnings"]


def test_where_a_move_begins_the_track_does_not_stand() -> None:
    begun = rows([[1.0, 0.0], [1.0, 0.5]], 0.0, [[3.0, 0], [0, 2.0]], kind="cycle", duty=0.1)
    out = swinging(guide(), force_continuous=50.0, force_peak=100.0).track_loads(rows=begun)
    assert out.held_force.sel(held="cycle").item() == pytest.approx(SWUNG * REACH * 2.0 * np.sin(0.5))
    slipping = swinging(guide()).track_loads(rows=rows([[1.0, 0.0]], 0.0, [[3.0, 0]], kind="stop"))
    assert slipping.held_force.sel(held="stop").item() == pytest.approx(3.0 * (CARRIAGE + SWUNG))
    alone = swinging(guide()).track_loads(rows=rows([[1.0, 0.0]], 0.0, [[3.0, 0]], kind="cycle", duty=0.1))
    assert np.isnan(alone.held_force.sel(held="cycle").item())


def test_a_motor_that_is_not_told_holds_nothing_for_certain() -> None:
    out = swinging(guide()).track_loads(rows=rows([[1.0, 0.0]], [0, 3.0], kind="cycle", duty=0.1))
    assert "and no motor told to hold that" in out.attrs["missing"]
    assert np.isnan(out.held_bears.sel(held="cycle").item()) and np.isnan(out.held_factor.sel(held="cycle").item())


def test_a_track_pushed_in_a_stop_is_told() -> None:
    moved = rows([[1.0, 0.0], [1.003, 0.1], [1.004, 0.2]], [[0, 3], [0.1, 2], [0, 0]], kind="stop")
    started = rows([[1.0, 0.0], [1.2, 0.0]], [[1.0, 0], [0.5, 0]], kind="stop")  # it travelled before: not pushed
    out = swinging(guide()).track_loads(rows=both(started, moved))
    assert out.attrs["track_pushed"] == pytest.approx(0.004)
    assert out.attrs["track_pushed_case"] == 1
    assert "is pushed by 4 mm" in out.attrs["warnings"]


def test_a_brake_holds_what_the_swing_pulls_or_does_not() -> None:
    pull = rows([[0.5, 0.0]], [0, 4.0], kind="stop")
    force = SWUNG * 0.8 * 16.0
    for torque, holds in ((7.0, True), (4.0, False)):
        cell = driven(aw.Stage("rack", radius=0.02), aw.RackFeed(0.002), brake=aw.Brake(torque))
        out = cell.track_loads(rows=pull)
        held = out.sel(held="stop")
        assert held.held_force.item() == pytest.approx(force)
        assert held.held_bears.item() == pytest.approx(torque / 0.02)
        assert held.held_factor.item() == pytest.approx(torque / 0.02 / force)
        assert ("while it stands in stops; the brake holds" in out.attrs["warnings"]) is not holds
