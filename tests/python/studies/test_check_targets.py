from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest

import armwright as aw
from cases.described import at, facing, positioner, track_cell

G = 9.80665
ALONG = facing((1, 0, 0), (0, 0, 1))


def checked(cell: aw.Cell, target: aw.Target, **more: Any) -> Any:
    return cell.check_targets(target, **more).sel(target=target.name)


def test_served() -> None:
    cell = aw.Cell(positioner(0.1))
    target = aw.Target(at((0.6, 0.4, 0.3), facing((1, 1, 0.2), (0, 0, 1))), "shelf")
    row = checked(cell, target)
    assert bool(row["served"]) and str(row["reason"].item()) == ""
    np.testing.assert_allclose(cell.tool_pose(row["q"].values), target.pose, atol=1e-9)
    assert float(row["position_error"]) < 1e-9
    assert float(row["limit_margin"]) == pytest.approx(float(cell.limit_margin(row["q"].values)))
    assert float(row["manipulability"]) == pytest.approx(float(cell.manipulability(row["q"].values)))
    assert float(row["payload"]) == pytest.approx(float(cell.payload(row["q"].values).mass))
    every = cell.solve(target.pose)
    assert int(row["solutions"]) == int(every.count)
    assert float(row["limit_margin"]) >= cell.limit_margin(every.q[every.valid]).max() - 0.02


@pytest.mark.parametrize(
    ("position", "reason"),
    [
        ((1.138, 0, 0), "out of reach by 38 mm"),
        ((0, 0, 1.4), "out of reach by 300 mm"),
        ((0.06, 0, 0), "too near by 40 mm"),
        ((1.1023, 0, 0), "out of reach by 2.3 mm"),
    ],
)
def test_out_of_reach_by_so_much(position: Any, reason: str) -> None:
    """The positioner reaches from 100 to 1100 mm."""
    row = checked(aw.Cell(positioner()), aw.Target(position, "point", free_spin=True))
    assert str(row["reason"].item()) == reason
    assert not bool(row["served"]) and np.isnan(row["q"]).all() and np.isnan(row["payload"])
    assert str(row["clearance_name_a"].item()) == "" and int(row["solutions"]) == 0


def test_past_its_limit_by_so_much() -> None:
    cell = aw.Cell(positioner(axis_1=(-1, 1), axis_2=(-0.2, 1.3), axis_3=(-2.8, 2.8)))
    turn = 1 + math.radians(4.0)
    row = checked(cell, aw.Target((0.9 * math.cos(turn), 0.9 * math.sin(turn), 0.1), "point", free_spin=True))
    assert str(row["reason"].item()) == "axis 1 past its limit by 4°"
    assert float(row["q"].values[0]) == pytest.approx(turn) and float(row["limit_margin"]) < 0


def test_a_sliding_joint_past_its_limit() -> None:
    """Axis 3 slides along the arm, so that the wrist stands 1100 to 1400 mm from the shoulder."""
    arm = positioner()
    slide = aw.Joint("slide", "prismatic", (0.6, 0, 0), "x", ("0 mm", "300 mm"))
    cell = aw.Cell(replace(arm, joints=(*arm.joints[:2], slide, *arm.joints[3:]), name="slide arm"))
    tilted = facing((1, 0.2, 0.3), (0.1, 0, 1))
    served = checked(cell, aw.Target(at((0.9, 0.5, 0.8), tilted), "served"))
    assert bool(served["served"])
    assert float(served["q"].values[2]) == pytest.approx(math.sqrt(1.7) - 1.1, abs=1e-9)
    near = checked(cell, aw.Target(at((0.6, 0.0, 0.8), tilted), "near"))
    assert str(near["reason"].item()) == "slide past its limit by 100 mm"


def test_overlapped_by_so_much() -> None:
    """The hand is a ball of 50 mm about the tool point."""
    cell = aw.Cell(positioner(), fixtures=aw.Sphere(0.2, (0.7, 0, 0.3), "kettle", clearance="30 mm"))
    row = checked(cell, aw.Target((0.7, 0.238, 0.3), "inside", free_spin=True))
    assert str(row["reason"].item()) == "kettle overlapped by 12 mm (hand)"
    assert float(row["clearance"]) == pytest.approx(-0.012)
    assert {str(row[f"clearance_name_{end}"].item()) for end in "ab"} == {"hand", "kettle"}
    row = checked(cell, aw.Target((0.7, 0.27, 0.3), "near", free_spin=True))
    assert str(row["reason"].item()) == "hand 20 mm from kettle, 30 mm wanted"
    assert float(row["clearance_wanted"]) == pytest.approx(0.03)
    assert bool(checked(cell, aw.Target((0.7, 0.29, 0.3), "off", free_spin=True))["served"])
    far = checked(cell, aw.Target((0.7, 0.29, 0.3), "off", free_spin=True), margin="50 mm")
    assert str(far["reason"].item()) == "hand 40 mm from kettle, 50 mm wanted"


def test_the_reason_names_what_falls_short_and_not_what_is_nearest() -> None:
    """A ball on a slide between two boxes: 10 mm from one that asks for nothing, 30 mm from one that asks for 50 mm."""
    ball = aw.Link("hand", 1.0, shapes=(aw.Sphere(0.05, name="ball"),))
    arm = aw.ArmDescription((aw.Joint("lift", "prismatic", axis="z", range=(0, 1)),), (ball,), "lift")
    near, far = aw.Box((0.1, 0.1, 0.1), (0.11, 0, 0.5), "near"), aw.Box((0.1, 0.1, 0.1), (-0.13, 0, 0.5), "far", 0.05)
    row = checked(aw.Cell(arm, fixtures=(near, far)), aw.Target((0, 0, 0.5), "between"))
    assert str(row["reason"].item()) == "ball 30 mm from far, 50 mm wanted"
    assert float(row["clearance"]) == pytest.approx(0.01) and str(row["clearance_name_b"].item()) == "near"


def test_so_much_wanted_and_held() -> None:
    """Stretched level to 1.0 m, both elbows: what axes 2 and 3 hold, by hand."""
    cell = aw.Cell(positioner(axis_1=(-1, 1), axis_2=(-1.5, 1.5)))
    reach = (1.0 - 0.36 - 0.25) / (2 * 0.6 * 0.5)  # cosine of axis 3
    q3 = math.acos(reach)
    q2 = math.atan2(0.5 * math.sin(q3), 0.6 + 0.5 * reach)
    first, second = math.cos(q2), math.cos(q2 - q3)
    shoulder = (160 - G * (8 * 0.3 * first + 3 * (0.6 * first + 0.25 * second))) / G
    elbow = (55 - G * 3 * 0.25 * second) / (G * 0.5 * second)
    held, joint = min((shoulder, "axis 2"), (elbow, "axis 3"))
    row = checked(cell, aw.Target((1.0, 0, 0), "heavy", free_spin=True, load=aw.Load("25 kg")))
    assert float(row["payload"]) == pytest.approx(held)
    assert str(row["payload_joint"].item()) == joint
    shown = math.floor(held * 100) / 100
    assert str(row["reason"].item()) == f"25 kg wanted and {shown:.3g} kg held ({joint}, continuous)"
    assert bool(checked(cell, aw.Target((1.0, 0, 0), "light", free_spin=True, load=aw.Load(held - 0.01)))["served"])
    peak = checked(cell, aw.Target((1.0, 0, 0), "peak", free_spin=True, load=aw.Load(held + 0.5)), limit="peak")
    assert bool(peak["served"])


def test_an_arm_that_cannot_hold_itself() -> None:
    joints = list(positioner(axis_2=(-1.2, 1.2), axis_1=(-1, 1)).joints)
    joints[1] = replace(joints[1], torque_continuous=5.0)
    cell = aw.Cell(replace(positioner(), joints=tuple(joints)))
    row = checked(cell, aw.Target((0.9, 0, 0), "point", free_spin=True))
    assert str(row["reason"].item()) == "axis 2 cannot hold the arm itself (continuous)"


def test_loads_of_the_cell_and_of_the_point() -> None:
    cell = aw.Cell(positioner(), load=aw.Load("2 kg", (0, 0, "50 mm")))
    own = aw.Load("3 kg", (0, 0.3, 0))
    targets = [aw.Target((0.8, 0, 0.1), "cell's", True), aw.Target((0.8, 0, 0.1), "own", True, load=own)]
    result = cell.check_targets(targets)
    assert result["payload_wanted"].values.tolist() == [2, 3]
    assert result["load_centre"].values.tolist() == [[0, 0, 0.05], [0, 0.3, 0]]
    for q, held, centre in zip(result["q"].values, result["payload"].values, result["load_centre"].values, strict=True):
        assert held == pytest.approx(float(cell.payload(q, centre).mass))
    elsewhere = cell.check_targets(targets, centre="0, 0, 200 mm")
    assert elsewhere["load_centre"].values.tolist() == [[0, 0, 0.2]] * 2


def test_free_spin_and_tilt_are_used_and_kept_to() -> None:
    cell = aw.Cell(positioner(axis_5=(-0.5, 0.5)))
    turned = at((1.0, 0, 0), facing((0, 1, 0), (0, 0, 1)))
    assert "axis 5 past its limit" in str(checked(cell, aw.Target(turned, "fixed"))["reason"].item())
    row = checked(cell, aw.Target(turned, "free", free_spin=True))
    assert bool(row["served"])
    np.testing.assert_allclose(cell.tool_pose(row["q"].values)[:3, 2], (0, 0, 1), atol=1e-9)
    upright = at((1.0, 0, 0), facing((0, 0, 1), (-1, 0, 0)))
    assert not bool(checked(cell, aw.Target(upright, "little", tilt="30 deg"))["served"])
    row = checked(cell, aw.Target(upright, "much", tilt="85 deg"))
    assert bool(row["served"])
    lean = math.degrees(math.acos(cell.tool_pose(row["q"].values)[:3, 2] @ upright[:3, 2]))
    assert 30 < lean <= 85 + 1e-6


def test_the_order_changes_the_best() -> None:
    cell = track_cell()
    target = aw.Target.pointing((0.6, 0.55, 0.5), "down", "rack")
    orders = ("limit_margin", "clearance", "payload", "manipulability")
    rows = {order: checked(cell, target, order=[order]) for order in orders}
    steps = {"limit_margin": 0.02, "clearance": 0.002, "payload": 0.1, "manipulability": 0.001}
    better = 0
    for order in orders:
        assert bool(rows[order]["served"])
        for other in orders:
            assert float(rows[order][order]) >= float(rows[other][order]) - steps[order]
            better += float(rows[order][order]) > float(rows[other][order]) + 2 * steps[order]
    assert better >= 3
    assert rows["payload"].attrs["order"] == "payload"
    assert checked(cell, target, order="payload").identical(rows["payload"])
    for wrong in ([], ["payload", "payload"], ["speed"], "speed", None, [3]):
        with pytest.raises(
            aw.InputError, match=r"^order: got .*, expected some of limit_margin, clearance, payload, man"
        ):
            checked(cell, target, order=wrong)


def test_threads_units_and_file(tmp_path: Path) -> None:
    rng = np.random.default_rng(4)
    targets = [aw.Target.pointing(rng.uniform((-0.5, -1, 0), (1.5, 1, 1.5)), "down", f"point {i}") for i in range(15)]
    cell = track_cell(targets=targets)
    result = cell.check_targets()
    assert 0 < int(result["served"].sum()) < 15
    for threads in (1, 2, 3):
        assert cell.check_targets(threads=threads).identical(result)
    for i in (0, 7):  # a point alone is the same as in a list
        alone = cell.check_targets(targets[i])
        for name in ("q", "served", "reason", "payload", "clearance"):
            np.testing.assert_array_equal(alone[name][0], result[name][i])
    assert (result["reason"] == "").equals(result["served"].astype(bool) | False)
    assert result["q"].dims == ("target", "joint")
    assert result["joint_unit"].values.tolist() == ["m"] + ["rad"] * 6
    assert result["position"].attrs["units"] == "m" and result["payload"].attrs["units"] == "kg"
    assert result.attrs["inputs_digest"] == cell.digest()
    result.armwright.to_netcdf(tmp_path / "targets.nc")
    assert aw.open_result(tmp_path / "targets.nc").identical(result)


def test_refusals() -> None:
    cell = aw.Cell(positioner())
    with pytest.raises(aw.InputError, match=r"^targets: got none, expected at least one work point, as a \[\[target"):
        cell.check_targets()
    point = aw.Target((0.8, 0, 0), "point")
    with pytest.raises(aw.InputError, match=r"targets: got 2 named"):
        cell.check_targets([point, point])
    for bad in ({"limit": "peek"}, {"margin": -0.1}, {"centre": (1, 2)}, {"track_step": 0}):
        with pytest.raises(aw.InputError, match=f"^{next(iter(bad))}"):
            cell.check_targets(point, **bad)  # type: ignore[arg-type]
    joints = [replace(joint, torque_continuous=math.inf, torque_peak=math.inf) for joint in positioner().joints]
    bare = aw.Cell(replace(positioner(), joints=tuple(joints)))
    with pytest.raises(aw.InputError, match=r"^limit"):
        bare.check_targets(point, limit="peek")  # type: ignore[arg-type]
    assert math.isinf(float(bare.check_targets(point)["payload"][0]))
    with pytest.raises(aw.InputError, match=r"^limit: got continuous, but no joint states a torque"):
        bare.check_targets(replace(point, load=aw.Load(1)))


def test_a_short_stretch_of_the_track_is_not_missed():
    """Reached only within some millimetres of the nearest track position, which lies between two that are tried."""
    cell = aw.Cell(positioner(), aw.Track("x", 2.0))
    checked = cell.check_targets(aw.Target((1.025, 1.0998, 0), "far", free_spin=True))
    assert bool(checked.served.item()), checked.reason.item()
    assert abs(float(checked.q[0, 0]) - 1.025) < 0.03


def test_a_work_points_own_load_is_carried_there():
    """A post near the work point: the cell's small load passes, the work point's bulky one does not."""
    arm = aw.Arm(positioner(0.1))
    pose = arm.tool_pose(np.zeros(6))
    beside = pose[:3, 3] + (0.0, 0.2, 0.0)
    small = aw.Load(1.0, shapes=(aw.Box((0.02, 0.02, 0.02)),), name="small")
    bulky = aw.Load(1.0, shapes=(aw.Box((0.5, 0.5, 0.5)),), name="bulky")
    targets = [aw.Target(pose, "with the small load"), aw.Target(pose, "with the bulky one", load=bulky)]
    cell = aw.Cell(arm, fixtures=aw.Sphere(0.05, beside, "post"), load=small, targets=targets)
    checked = cell.check_targets()
    assert checked.served.values.tolist() == [True, False]
    assert "post" in checked.reason.values[1] and "bulky" in checked.reason.values[1]


@pytest.mark.parametrize("share", [0.5, 0.99, 1.01])
def test_the_whole_position_tolerance_counts_straight_towards_the_arm(share: float) -> None:
    """Stretched out, the arm of 1.1 m ends short of the point by a share of the 10 mm that it may be off."""
    short = 0.01 * share
    along = np.array([0.6, 0.48, 0.64])
    point = aw.Target.pointing((1.1 + short) * along, along, position_tolerance="10 mm")
    (served,) = aw.Cell(positioner()).check_targets(point)["served"].values
    assert served == (share < 1)


def test_a_mass_just_too_large_is_told_apart_from_what_is_held() -> None:
    """Level at 1.1 m, axis 3 holds (55 - 3·0.25 g) / (0.5 g) = 9.7168 kg; 9.72 kg are too much."""
    point = aw.Target.pointing((1.1, 0, 0), "x", load=aw.Load(9.72))
    (reason,) = aw.Cell(positioner()).check_targets(point)["reason"].values
    assert reason == "9.72 kg wanted and 9.71 kg held (axis 3, continuous)"


def test_a_clearance_just_too_small_is_told_apart_from_what_is_wanted() -> None:
    wall = aw.HalfSpace(at((1.1 + 0.05 + 0.01995, 0, 0), facing((0, 0, 1), (-1, 0, 0))), "wall", clearance="20 mm")
    point = aw.Target.pointing((1.1, 0, 0), "x")
    (reason,) = aw.Cell(positioner(), fixtures=wall).check_targets(point)["reason"].values
    assert reason == "hand 19.950 mm from wall, 20.000 mm wanted"
