from __future__ import annotations

import copy
import pickle
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

import armwright as aw
from cases.described import at
from cases.driven_cells import driven_arm, supply, swing, thirds, turntable
from cases.moving_cells import DOWN, drive, moving_cell

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


def test_motor_torque_of_the_turntable() -> None:
    up, even = turntable().motor_torque([[0], [0]], [[2], [2]], [[19.6349541], [0]])[:, 0]
    assert up == pytest.approx(3.0106930, rel=1e-7)
    assert even == 0


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


def test_payload_against_time_is_the_load_factor_at_one_and_nothing_carried_is_a_point_mass() -> None:
    cell, loaded = driven_arm(), swing(loads=LOAD)
    checked, curve = cell.drive_check(loaded), cell.payload_against_time(loaded, slowing=[0.7, 1, 2, np.inf])
    assert curve["mass"].sel(slowing=1).item() == pytest.approx(checked.attrs["greatest_load_mass"], rel=1e-9)
    assert curve["duration"].values == pytest.approx([2 * 0.7 + 0.4, 2.4, 4.4, np.inf])
    assert curve["mass"].sel(slowing=2).item() > curve["mass"].sel(slowing=0.7).item()
    assert np.all(curve["mass"] == np.fmin(curve["mass_peak"], curve["mass_continuous"]))
    empty = cell.payload_against_time(swing(), centre=LOAD.centre, slowing=[1])
    assert empty.attrs["load_mass"] == 1
    # a point: no inertia of its own
    assert empty["mass"].item() == pytest.approx(curve["mass"].sel(slowing=1).item(), rel=0.05)
    threads = [cell.payload_against_time(loaded, slowing=[0.7, 1, 2], threads=n)["mass"].values for n in (1, 2)]
    assert np.array_equal(*threads)


def test_power_of_the_turntable_and_its_supply() -> None:
    result = turntable().power(thirds(np.pi / 2, 0.6, 0.6), supply())
    up, w = 3.0106930, 3750 * np.pi / 30
    assert result.attrs["electrical_peak"] == pytest.approx(up * w + 4 * up * up, rel=1e-6)
    assert result.attrs["bus_greatest_voltage"] == pytest.approx(390)
    assert result.attrs["resistor_mean"] == pytest.approx(result.attrs["resistor_energy"] / 1.2)
    assert result.attrs["branch_share"] == pytest.approx(result.attrs["current_rms"] / 12.8)
    assert result.attrs["resistor_peak_share"] == pytest.approx(result.attrs["resistor_peak"] * 50 / 390**2)
    assert np.isnan(result["motor_current_rms"].item())  # no torque constant told
    assert "licensed" in result.attrs["caution"]
    summed = (result["mechanical_power"] + result["winding_power"]).sum("joint")
    assert summed.values == pytest.approx(result["electrical_power"].values)
    shorter = turntable().power(thirds(np.pi / 2, 0.6, 0.6), supply(), continuous=False)
    assert shorter.attrs["branch_share"] == pytest.approx(0.8 * result.attrs["branch_share"])


def test_what_a_supply_does_not_tell_is_assumed_aloud() -> None:
    result = turntable().power(thirds(np.pi / 2, 0.6, 0.6), aw.Supply(230.0))
    assert "no braking voltage" in result.attrs["assumptions"]
    assert "no brake resistor" in result.attrs["assumptions"]
    assert "branch_share" not in result.attrs


def test_energy_drawn_is_energy_lost_over_a_closed_cycle() -> None:
    result = driven_arm().power(swing(loads=LOAD), supply(), step=0.001)
    time = result["time"].values
    integral = {name: float(np.trapezoid(result[name].values.reshape(len(time), -1).sum(axis=1), time))
                for name in ("electrical_power", "winding_power", "friction_power")}  # fmt: skip
    lost = integral["winding_power"] + integral["friction_power"]
    assert integral["electrical_power"] == pytest.approx(lost, rel=1e-3)
    stored = result.attrs["mains_energy"] - result.attrs["resistor_energy"]
    assert stored == pytest.approx(integral["electrical_power"], rel=1e-3)


def test_setpoints_and_their_files(tmp_path: Path) -> None:
    points = turntable().setpoints(thirds(np.pi / 2, 0.6, 0.6), 100)
    assert points.sizes["time_point"] == 121
    assert points["q"].values[20, 0] == pytest.approx(np.pi / 8)
    assert points["motor_position"].values[-1, 0] == pytest.approx(50 * np.pi)
    assert points["motor_counts"].values[-1, 0] == 250_000  # 25 turns of 10 000
    assert points["greatest_pulse_rate"].item() == pytest.approx(3750 / 60 * 10000)
    table = aw.report.setpoints_table(points)
    assert list(table)[:5] == ["time [s]", "move", "load", "axis 1 q [rad]", "axis 1 qd [rad/s]"]
    import pandas as pd

    path = aw.report.setpoints_to_csv(points, tmp_path / "points.csv")
    read = pd.read_csv(path, float_precision="round_trip")  # the usual one of older pandas rounds
    pd.testing.assert_frame_equal(read, table, check_dtype=False, rtol=0, atol=0)
    again = aw.open_result(points.armwright.to_netcdf(tmp_path / "points.nc"))
    assert again.identical(points)


def test_parquet_keeps_units_in_names(tmp_path: Path) -> None:
    pytest.importorskip("pyarrow", reason="Parquet needs pyarrow")
    import pandas as pd

    points = turntable().setpoints(thirds(np.pi / 2, 0.6, 0.6), 50)
    path = aw.report.setpoints_to_parquet(points, tmp_path / "points.parquet")
    pd.testing.assert_frame_equal(pd.read_parquet(path), aw.report.setpoints_table(points))


def test_switches_leave_room_for_every_stop() -> None:
    cell = turntable()
    placed = cell.switches([0.1], [[0.2, 0.3]], switch_error=0.01, reserve=0.05)
    assert placed["limit_switch"].values[0] == pytest.approx([-3 + 0.26, 3 - 0.36])
    assert placed["soft_limit"].values[0] == pytest.approx([-3 + 0.36, 3 - 0.46])
    with pytest.raises(aw.InputError, match="leave something of the range"):
        cell.switches(2.0, 1.5)
    with pytest.raises(aw.InputError, match="0 or more"):
        cell.switches(-0.1, 0.1)


def test_separation_tells_every_case() -> None:
    told = turntable().separation("320 ms")
    assert told["distance"].values[0] == pytest.approx(0.512)  # as light-curtain manuals work ISO 13855 out
    assert told["approach_speed"].values[0] == 1.6
    assert turntable().separation(0.165)["distance"].values[0] == pytest.approx(0.330)
    assert turntable().separation(0.5, resolution=0.05)["distance"].values[0] == pytest.approx(1.65)
    with pytest.raises(aw.InputError, match="stop_time"):
        turntable().separation(0)
    with pytest.raises(aw.InputError, match=r"^height: got 2 m, expected at most 1 m"):
        turntable().separation(0.3, height=2.0)  # ISO 13855 (2010), 6.3: fields along the way in, from memory


@pytest.mark.parametrize(
    ("rows", "words"),
    [
        ({"time": [0, -1]}, "never fall"),
        ({"time": [0, 0]}, "two rows at least"),
        ({"qd": [[0], [5]]}, "belong together"),
        ({"q": [[0], [1]]}, "belong together"),
        ({"q": [[0, 0], [0, 0]]}, "the shape of q"),
        ({"q": [[0], [np.nan]]}, "finite"),
        ({"load": [0, 0]}, "-1 to -1"),
        ({"loads": [3]}, "a Load"),
    ],
)
def test_rows_that_make_no_motion_are_refused(rows: dict[str, object], words: str) -> None:
    told = {"time": [0, 1], "q": [[0], [0]], "qd": [[0], [0]], "qdd": [[0], [0]]} | rows
    with pytest.raises(aw.InputError, match=words):
        aw.TimedMotion(**told)  # type: ignore[arg-type]


def test_a_motion_of_another_arm_is_refused() -> None:
    with pytest.raises(aw.InputError, match="6 joints"):
        driven_arm().drive_check(thirds(1, 1, 0.1))
    with pytest.raises(aw.InputError, match="a TimedMotion"):
        driven_arm().drive_check([1, 2])
    for bad in (0, -1, float("nan")):
        with pytest.raises(aw.InputError, match="rate"):
            turntable().setpoints(thirds(1, 1, 0.1), bad)
    with pytest.raises(aw.InputError, match="step"):
        turntable().drive_check(thirds(1, 1, 0.1), step=0)
    for bad in ([2, 1], [0, 1], [], "x"):
        with pytest.raises(aw.InputError, match="slowing"):
            turntable().payload_against_time(thirds(1, 1, 0.1), slowing=bad)


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


def test_a_motion_keeps_through_pickle_and_copies() -> None:
    motion = swing(loads=LOAD)
    for again in (pickle.loads(pickle.dumps(motion)), copy.deepcopy(motion)):
        assert again.digest() == motion.digest()
    assert motion.carrying(aw.Load(1.0)).digest() != motion.digest()
    with pytest.raises(ValueError, match="read-only"):
        motion.q[0] = 1


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


def test_a_cycle_timed_at_its_limits_is_not_too_fast_for_itself() -> None:
    # A tool move at a joint's speed limit keeps it between its rows too, so that it can carry what it carries.
    cell = moving_cell()
    cycle = aw.Cycle((
        aw.JointMove("rack", via_approach=True), aw.PickUp(), aw.LineMove("rack", at="approach"), aw.JointMove("kiln"),
        aw.SetDown(), aw.LineMove(at((0.55, 0.3, 0.3), DOWN)),
    ))  # fmt: skip
    curve = cell.payload_against_time(cycle, slowing=[0.99, 1])
    assert curve["mass_peak"].values[0] == 0
    assert curve["mass_peak"].values[1] > 2 * 0.98
    assert curve["duration"].values[1] == pytest.approx(cell.motion(cycle).attrs["duration"])


def test_standing_still_is_the_end_of_going_slower() -> None:
    curve = driven_arm().payload_against_time(swing(loads=LOAD), slowing=[1e5, np.inf])
    for name in ("mass", "mass_peak", "mass_continuous"):
        assert curve[name].values[0] == pytest.approx(curve[name].values[1], rel=1e-3)
    assert curve["limiting_part"].values[0] == curve["limiting_part"].values[1]


def test_means_are_told_where_peaks_are_less() -> None:
    # By means alone it carries the less the faster it goes, and that is told where peaks allow less still.
    curve = driven_arm(0.6).payload_against_time(swing(loads=LOAD, seconds=1.2), slowing=[0.8, 1, 1.2, 2])
    means, peaks = curve["mass_continuous"].values, curve["mass_peak"].values
    assert (peaks[:1] < means[:1]).all() and np.all(np.diff(means) >= 0)
    assert np.all(curve["mass"] == np.fmin(peaks, means))


def test_power_that_the_branch_circuit_allows() -> None:
    # 80 % of 16 A at 230 V and a power factor of 0.9 are 2649.6 W; 60 W stand by, and 95 % of the rest comes to the bus
    told = supply(power_factor=0.9, efficiency=0.95, standby_power=60.0)
    result = turntable().power(thirds(np.pi / 2, 0.6, 0.6), told)
    assert result.attrs["branch_power"] == pytest.approx((0.8 * 16 * 230 * 0.9 - 60) * 0.95)


def test_power_tells_of_joints_without_a_drive() -> None:
    arm = driven_arm().description.arm
    bare = replace(arm.joints[3], drive=None, torque_continuous=50.0, torque_peak=100.0)
    cell = aw.Cell(replace(arm, joints=(*arm.joints[:3], bare, *arm.joints[4:])))
    told = cell.power(swing(), supply()).attrs["assumptions"]
    assert f"no drive of {bare.name}: its mechanical power alone counts, without losses" in told
    assert "its mechanical power alone" not in driven_arm().power(swing(), supply()).attrs.get("assumptions", "")
