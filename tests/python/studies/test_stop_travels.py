"""How far a joint still goes: closed form for one joint, and by stopping from where the switches are."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

import armwright as aw
from armwright.results import summary
from cases.stopping import braked_arm, braked_cell, drive


def test_a_turning_weight_brakes_as_in_the_book() -> None:
    """Constant torque on a constant inertia about an upright axis: v t + v² I / (2 T). The rotor turns with it."""
    size = (2.4, 100, 2.5, 1.2e-4, 0.0)
    turning = drive(size, 1.0, 1.0, friction=aw.Friction(), brake=aw.Brake(2.5, delay=0.05, energy=1e6))
    joint = aw.Joint("axis 1", axis="z", range=(-3, 3), speed=2.0, acceleration=6.0, drive=turning)
    arm = aw.ArmDescription((joint,), (aw.Link("wheel", 30.0, (0, 0, 0), np.diag([9.0, 9.0, 8.0])),))
    found = aw.Cell(arm).switches()
    by_brake = 2.0 * 0.05 + 2.0**2 * (8.0 + 100**2 * 1.2e-4) / (2 * 2.5 * 100)
    assert found["brake_travel"].values[0] == pytest.approx([by_brake] * 2, abs=4e-3)
    assert found["controlled_travel"].values[0] == pytest.approx([2.0**2 / (2 * 6.0)] * 2, abs=4e-3)
    assert found["limit_switch"].values[0] == pytest.approx([-3 + by_brake, 3 - by_brake], abs=4e-3)
    assert "greatest speed" in found.attrs["rule"]


def test_from_the_switch_at_full_speed_it_stops_before_the_end() -> None:
    cell = braked_cell()
    placed = cell.switches()
    postures = cell.stop_table()["posture"].values
    for joint in range(cell.joint_count):
        for end, sense in ((0, -1.0), (1, 1.0)):
            q, v = postures.copy(), np.zeros_like(postures)
            q[:, joint], v[:, joint] = placed["limit_switch"].values[joint, end], sense * 2.0
            assert np.isfinite(q).all()
            assert (cell.stop(q, v)["impact_speed"].values[:, joint] == 0).all()


def test_a_joint_without_a_brake_that_falls_has_no_answer() -> None:
    arm = braked_arm()
    bare = replace(arm.joints[1], drive=replace(arm.joints[1].drive, brake=None, friction=aw.Friction()))
    cell = braked_cell(replace(arm, joints=(arm.joints[0], bare, *arm.joints[2:])))
    found = cell.switches()
    assert np.isnan(found["brake_travel"].values[1]).any() and np.isfinite(found["brake_travel"].values[0]).all()
    assert f"{arm.joints[1].name}: DOES NOT STOP" in summary(found)


def test_later_is_farther() -> None:
    cell = braked_cell()
    late = cell.switches(reaction="0.1 s")["controlled_travel"].values - cell.switches()["controlled_travel"].values
    assert late == pytest.approx(np.full((6, 2), 2.0 * 0.1), abs=0.03)


def test_a_controlled_stop_that_is_held_travels_by_its_deceleration_alone() -> None:
    """v²/2a for every joint, sag or not; told in the rule."""
    cell = braked_cell()
    held = cell.switches(hold_after="0.1 s")
    assert held["controlled_travel"].values == pytest.approx(np.full((6, 2), 2.0**2 / (2 * 6.0)), abs=4e-3)
    assert (cell.switches()["controlled_travel"].values > held["controlled_travel"].values - 1e-9).all()
    np.testing.assert_array_equal(held["brake_travel"], cell.switches()["brake_travel"])
    assert "the motors hold the arm for 0.1 s" in held.attrs["rule"] and "sags" in cell.switches().attrs["rule"]


def test_a_reaction_before_the_signal_is_refused() -> None:
    with pytest.raises(aw.InputError, match=r'^reaction: got "-0\.1 s"'):
        braked_cell().switches(reaction="-0.1 s")
