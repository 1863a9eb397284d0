from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

import armwright as aw
from armwright.results.drive_variables import CHECK_LIMITS
from armwright.studies.drive_check import limit_words, stage_names
from cases.driven_cells import driven_arm, swing, thirds, turntable
from cases.moving_cells import drive, moving_cell

LOAD = aw.Load(2.0, (0.05, 0, 0.02))


def test_a_turntable_by_hand() -> None:
    # J 12 kg m², ratio 100, rotor 2e-4 kg m², efficiency 0.9, 90° in 0.6 s in thirds, 0.6 s of rest: worked by hand
    checked = turntable().drive_check(thirds(np.pi / 2, 0.6, 0.6))
    assert checked["motor_peak_torque"].item() == pytest.approx(3.0106930, rel=1e-7)
    assert checked["motor_rms_torque"].item() == pytest.approx(1.6010840, rel=1e-7)
    assert checked["motor_greatest_speed"].item() == pytest.approx(3750 * np.pi / 30, rel=1e-7)
    assert checked["inertia_ratio_greatest"].item() == pytest.approx(6.0)
    assert checked["duty_type"].item() == 4  # S5
    assert checked.attrs["weakest"] == "axis 1: gear: mean torque"
    assert checked.attrs["load_limit"] == "nothing is carried"
    # faster by u, all torques go with u²: the motor's peak allows sqrt(6 / 3.0107), the stage's repeated peak
    # sqrt(400 / 235.6), the mean torque sqrt(200 / 187.0)
    load = 12 * 19.6349541
    assert checked.attrs["speed_factor"] == pytest.approx(np.sqrt(200 / (load * 0.5 ** (1 / 3))), rel=1e-6)
    assert checked.attrs["speed_limit"] == "axis 1: gear: mean torque"


def test_shares_name_what_is_loaded_most_and_factors_reach_it() -> None:
    cell = driven_arm()
    motion = swing(loads=LOAD)
    checked = cell.drive_check(motion)
    assert checked["share"].max().item() == pytest.approx(checked.attrs["weakest_share"])
    assert str(checked["check"].values[int(checked["share"].values.argmax())]) == checked.attrs["weakest"]
    heavier = aw.Load(LOAD.mass * checked.attrs["load_factor"], LOAD.centre)
    at_limit = cell.drive_check(swing(loads=heavier), factors=False)
    assert at_limit.attrs["weakest_share"] == pytest.approx(1, rel=1e-6)
    assert at_limit.attrs["weakest"] == checked.attrs["load_limit"]
    assert checked.attrs["greatest_load_mass"] == pytest.approx(float(heavier.mass))


def test_a_cycle_timed_by_its_motors_is_at_their_limit_and_not_past_it() -> None:
    """Timing and drive check come to the motors' torques by different ways."""
    cell = moving_cell()
    arm = cell.description.arm
    weak = replace(drive(torque=1.0), friction=aw.Friction((0.5, 1.0), 0.2))
    joints = tuple(replace(joint, drive=weak, speed=10.0, acceleration=200.0, jerk=np.inf) for joint in arm.joints)
    weaker = aw.Cell(replace(arm, joints=joints), tool=cell.description.tool, load=cell.description.load,
                     targets=cell.targets)  # fmt: skip
    cycle = aw.Cycle((aw.JointMove("rack"), aw.PickUp(), aw.JointMove("kiln"), aw.SetDown()))
    checked = weaker.drive_check(cycle, step=0.001)
    by_name = dict(zip(checked["check"].values.tolist(), checked["share"].values.tolist(), strict=True))
    assert by_name["axis 1: motor: peak torque"] == pytest.approx(1, abs=2e-3)
    # the means, and what the joints themselves are allowed, are not what it was timed by
    timed_by = [share for name, share in by_name.items() if name.endswith((": peak torque", ": speed"))]
    assert max(timed_by) < 1 + 2e-3


@pytest.mark.parametrize(
    ("part", "limit", "named", "said"),
    [
        (-1, "motor_peak_torque", "motor", "axis 2: motor: peak torque"),
        (-1, "motor_speed", "motor", "axis 2: motor: speed"),
        (0, "stage_mean_torque", "belt", "axis 2: belt: mean torque"),
        (1, "stage_speed", "gear", "axis 2: gear: speed"),
        (-2, "stated_continuous_torque", "stated", "axis 2: stated: continuous torque"),
        (-2, "joint_acceleration", "joint", "axis 2: joint acceleration"),
    ],
)
def test_limits_as_a_person_says_them(part: int, limit: str, named: str, said: str) -> None:
    stages = np.array([["", "", "", ""], ["belt", "gear", "", ""]])
    assert limit_words(("axis 1", "axis 2"), stages, 1, part, CHECK_LIMITS.index(limit)) == (named, said)


def test_every_stage_is_named_in_its_place() -> None:
    arm = driven_arm().description.arm
    two = replace(arm.joints[1].drive, stages=(aw.Stage("belt", 2), aw.Stage("gear", 50), aw.Stage("gear", 1.5)))
    joints = (arm.joints[0], replace(arm.joints[1], drive=two), replace(arm.joints[2], drive=None), *arm.joints[3:])
    cell = aw.Cell(replace(arm, joints=joints))
    names = cell.drive_check(swing(), factors=False)["stage_name"].values
    assert names[1].tolist() == ["belt", "gear", "gear 2", ""]
    assert names[0].tolist() == ["strain wave", "", "", ""] and names[2].tolist() == ["", "", "", ""]
    assert np.array_equal(stage_names(cell._model), names)
    checked = cell.drive_check(swing(), factors=False)
    assert checked["has_drive"].values.tolist() == [True, True, False, True, True, True]
    assert np.isnan(checked["stage_torque"].values[:, 2]).all() and np.isfinite(checked["stage_torque"][:, 1, :3]).all()
    assert np.isnan(checked["curve_peak"].values[2]).all()


def test_curves_are_told_at_the_points_of_both() -> None:
    """The motor's own points: 2.4 N m and 7.2 N m to 3000 rpm, from there straight to half of it at 6000 rpm."""
    checked = driven_arm().drive_check(swing(), factors=False)
    rpm = np.pi / 30
    assert checked["curve_speed"].values[0] == pytest.approx([0, 3000 * rpm, 6000 * rpm])
    assert checked["curve_continuous"].values[0] == pytest.approx([2.4, 2.4, 1.2])
    assert checked["curve_peak"].values[0] == pytest.approx([7.2, 7.2, 3.6])


def test_factors_are_left_out_where_not_asked_for() -> None:
    checked = turntable().drive_check(thirds(np.pi / 2, 0.6, 0.6), factors=False)
    assert checked.attrs["speed_limit"] == checked.attrs["load_limit"] == "not asked for"
    assert "speed_factor" not in checked.attrs and "load_factor" not in checked.attrs


def test_what_is_no_step() -> None:
    for step in (0, -1, "1 m", float("nan")):
        with pytest.raises(aw.InputError, match=r"^step: got"):
            turntable().drive_check(thirds(1, 1, 0.1), step=step)
