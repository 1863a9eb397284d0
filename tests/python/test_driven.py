from __future__ import annotations

import numpy as np
import pytest

import armwright as aw
from cases.driven_cells import driven_arm, supply, thirds, turntable
from cases.moving_cells import moving_cell


def test_motor_torque_of_the_turntable() -> None:
    up, even = turntable().motor_torque([[0], [0]], [[2], [2]], [[19.6349541], [0]])[:, 0]
    assert up == pytest.approx(3.0106930, rel=1e-7)
    assert even == 0


def test_a_motion_of_another_arm_is_refused() -> None:
    with pytest.raises(aw.InputError, match="6 joints"):
        driven_arm().drive_check(thirds(1, 1, 0.1))
    with pytest.raises(aw.InputError, match="a TimedMotion"):
        driven_arm().drive_check([1, 2])


def test_a_described_cycle_goes_through_every_study() -> None:
    cell = moving_cell()
    cycle = aw.Cycle((
        aw.JointMove("rack", via_approach=True), aw.PickUp(), aw.Dwell(0.2),
        aw.LineMove("rack", at="approach", tool_speed=0.25), aw.JointMove("kiln"), aw.SetDown(), aw.Dwell(0.1),
    ), period=5.0)  # fmt: skip
    checked = cell.drive_check(cycle)
    # timed as fast as 6 rad/s² and 2 rad/s of each joint allow, within what the drives can do
    assert checked["share"].max().item() == pytest.approx(1, rel=1e-6)
    assert checked.attrs["weakest"].endswith(("joint acceleration", "joint speed"))
    assert checked.attrs["speed_factor"] == pytest.approx(1, rel=1e-6)
    assert checked.attrs["duration"] == pytest.approx(5)
    assert checked.attrs["load_mass"] == 2
    assert set(np.unique(checked["load"])) == {-1, 0}
    assert cell.power(cycle, supply()).attrs["mains_peak"] > 0
    curve = cell.payload_against_time(cycle, slowing=[0.9, 1.001, 2])
    assert curve["mass"].values[0] == 0 and curve["limiting_part"].values[0] == "joint"  # faster than the joints may
    assert curve["mass_peak"].values[2] > curve["mass_peak"].values[1] > 2
    # the pauses without the load stay as long, so that more of the time goes with it: the mean allows less
    assert curve["mass_continuous"].values[2] < curve["mass_continuous"].values[1]
    points = cell.setpoints(cycle, 250)
    np.testing.assert_allclose(points["q"].values[0], points["q"].values[-1], atol=1e-6)
