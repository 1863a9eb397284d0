from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import xarray as xr

import armwright as aw
from cases.cycle_files import CYCLE
from cases.moving_cells import moving_arm, moving_cell

MOVES = (
    aw.JointMove("rack", via_approach=True), aw.PickUp(), aw.Dwell(0.2),
    aw.LineMove("rack", at="approach", tool_speed=0.25), aw.JointMove("kiln"), aw.SetDown(), aw.Dwell(0.1),
)  # fmt: skip


def test_a_cycle_keeps_its_limits_and_closes() -> None:
    cell = moving_cell()
    result = cell.motion(aw.Cycle(MOVES))
    assert (np.abs(result.speed.values) <= 2 * (1 + 1e-6)).all()
    assert (np.abs(result.acceleration.values) <= 6 * (1 + 1e-6)).all()
    assert result.q.values[0] == pytest.approx(result.q.values[-1], abs=1e-6)
    names = list(result.move.values)
    line = names.index("4: to approach of rack")
    on_line = result.move_index.values == line
    assert 0.25 * (1 - 6e-4) < result.tool_speed.values[on_line].max() <= 0.25
    assert result.load_index.values[on_line].max() == 0 and list(result.load_name.values) == ["pot"]
    dwell = names.index("3: dwell")
    assert float(result.move_end[dwell] - result.move_start[dwell]) == pytest.approx(0.2)
    assert result.attrs["duration"] == pytest.approx(float(result.move_end[-1]))
    assert result.attrs["cycle_name"] == "cycle" and "no torque given that it bears" in result.attrs["assumptions"]
    flags = result.limit.attrs["flag_meanings"].split()
    assert flags[int(np.median(result.limit.values[on_line]))] in ("tool_speed", "joint_acceleration")
    # The tool point is where the joints put it.
    assert result.tool_position.values == pytest.approx(cell.tool_pose(result.q.values)[:, :3, 3])


def test_speed_is_what_the_way_over_time_says() -> None:
    """Positions against speeds and accelerations: exact where the acceleration is linear in time between rows."""
    result = moving_cell().motion(aw.Cycle(MOVES))
    steps = np.diff(result.time.values)[:, None]
    made = steps * (result.speed.values[1:] + result.speed.values[:-1]) / 2
    assert np.abs(np.diff(result.q.values, axis=0) - made).max() < 2e-3


def test_clearance_is_proven_between_the_rows() -> None:
    """Against the motion told ten times finer: never below what is proven, and what was found is nearly met."""
    cell = moving_cell()
    result = cell.motion(aw.Cycle(MOVES), clearance_tolerance="2 mm")
    rows = cell.clearance(result.q.values)["distance"].values
    assert result.clearance.values == pytest.approx(rows)
    fine = cell.setpoints(aw.Cycle(MOVES), rate=1000.0)
    distance = cell.clearance(fine.q.values)["distance"].values
    for move in range(result.sizes["move"]):
        found, proven = float(result.move_clearance[move]), float(result.move_clearance_proven[move])
        between = (fine.time >= result.move_start[move]) & (fine.time <= result.move_end[move])
        least = distance[between.values].min()
        assert found <= rows[result.move_index.values == move].min() + 1e-9
        assert proven - 1e-9 <= least and found - 0.002 <= proven <= found <= least + 0.002
    assert "move_clearance" not in cell.motion(aw.Cycle(MOVES), clearance=False)


@pytest.mark.parametrize("value", [0, -1, "1 um", "nan", None, True])
def test_what_is_no_tolerance_of_clearance(value: Any) -> None:
    with pytest.raises(aw.InputError, match=r"^clearance_tolerance: got"):
        moving_cell().motion(aw.Cycle(MOVES), clearance_tolerance=value)


def test_a_clearance_asked_for_counts_on_the_way_too() -> None:
    """A ball near the middle of the way from rack to kiln, clear by itself; asked for a little more, no more."""
    result = moving_cell().motion(aw.Cycle(MOVES))
    way = list(result.move.values).index("5: to kiln")
    rows = np.flatnonzero(result.move_index.values == way)
    below = result.tool_position.values[rows[len(rows) // 2]] - (0, 0, 0.15)

    def passing(asked: float) -> xr.Dataset:
        return moving_cell(fixtures=[aw.Sphere(0.03, below, "ball", clearance=asked)]).motion(aw.Cycle(MOVES))

    least = float(passing(0).move_clearance[way])
    assert least > 0.01 and passing(0).move_clearance_name_b[way].item() == "ball"
    kept, missed = passing(least - 1e-3), passing(least + 1e-3)
    assert np.array_equal(kept.q.values, missed.q.values)  # the stops are clear of it either way
    assert kept.move_clearance_kept.values.all()
    assert not missed.move_clearance_kept.values[way] and missed.move_clearance_kept.values[1]


def test_the_first_run_is_slow_everywhere() -> None:
    cycle = aw.Cycle(MOVES, period="60 s")
    fast, slow = (moving_cell().motion(c) for c in (cycle, cycle.first_run()))
    assert fast.tool_speed.values.max() > 0.3 and 0.24 < slow.tool_speed.values.max() <= 0.25 * (1 + 1e-9)
    assert cycle.first_run().period is None and "first run" in slow.attrs["cycle_name"]


def refused(cycle: aw.Cycle, cell: aw.Cell | None = None) -> str:
    with pytest.raises(aw.InputError) as caught:
        (cell or moving_cell()).motion(cycle)
    return str(caught.value)


def unlimited(**changes: Any) -> aw.Cell:
    arm = moving_arm()
    return moving_cell().__class__(replace(arm, joints=tuple(replace(joint, **changes) for joint in arm.joints)),
                                   targets=moving_cell().targets)  # fmt: skip


def test_what_a_limit_forbids_is_refused_by_name() -> None:
    takes = moving_cell().motion(aw.Cycle(MOVES)).attrs["duration"]
    said = refused(aw.Cycle(MOVES, period=takes / 2))
    assert said.startswith("period: got the cycle: takes") and f"{takes / 2:.3g} s more than its period" in said
    line = aw.LineMove("rack", at="approach", duration=0.01)
    said = refused(aw.Cycle((aw.JointMove("rack"), line, aw.LineMove("rack"))))
    assert said.startswith("moves[1]: got 2: to approach of rack: 0.01 s asked, takes") and "of axis" in said
    slow = aw.Cycle((aw.JointMove("rack"), aw.JointMove("tub")), timing="trapezoidal")
    assert "no acceleration limit of axis 1, axis 2, " in refused(slow, unlimited(acceleration=float("inf")))


def test_a_load_too_heavy_is_refused_with_its_axis() -> None:
    weak = unlimited()
    cycle = aw.Cycle((aw.JointMove("rack"), aw.PickUp(aw.Load(500.0)), aw.Dwell(1), aw.SetDown()))
    said = refused(cycle, weak)
    assert said.startswith("moves[2]: got 3: dwell: the arm cannot hold itself") and "motor torque of axis 2" in said


def test_drive_studies_take_cycles(tmp_path: Path) -> None:
    cell = moving_cell()
    cycle = aw.Cycle(MOVES, period=10)
    assert cell.timed(cycle).duration == pytest.approx(10)
    assert cell.drive_check(cycle).attrs["duration"] == pytest.approx(10)
    assert cell.power(cycle, aw.Supply(230)).attrs["mains_mean"] > 0
    own = moving_cell(supply=aw.Supply(230))
    assert own.power(cycle).attrs["mains_mean"] == cell.power(cycle, aw.Supply(230)).attrs["mains_mean"]
    with pytest.raises(aw.InputError, match="a Supply, or a cell with one"):
        cell.power(cycle)
    with pytest.raises(aw.InputError, match="a Cycle, as load_cycle reads one"):
        cell.drive_check("cycle.toml")
    (tmp_path / "cycle.toml").write_text(CYCLE, encoding="utf-8")
    with pytest.raises(aw.InputError, match=r'cycle\.toml:2: start: got "rack 1"'):
        aw.load_cycle(tmp_path / "cycle.toml", cell)
    with pytest.raises(aw.InputError, match="cell: got str"):
        aw.load_cycle(tmp_path / "cycle.toml", "cell.toml")  # type: ignore[arg-type]
    assert aw.load_cycle(tmp_path / "cycle.toml").period == 20


def test_a_machine_of_one_joint_moves() -> None:
    # Its rows have one column. A trapezoid of 0.4 m at 0.4 m/s and 3 m/s²: d/v + v/a seconds.
    motor = aw.Motor(2.0, 6.0, max_speed=600.0, rotor_inertia=1e-4, winding_loss=3.0)
    drive = aw.Drive(motor, aw.Stage("screw", lead=0.01, efficiency=0.9))
    ram = aw.Joint("ram", kind="prismatic", axis="z", range=(0, 1), speed=0.4, acceleration=3.0, drive=drive)
    cell = aw.Cell(aw.ArmDescription((ram,), (aw.Link("ram", 50.0),), "lift"))
    result = cell.motion(aw.Cycle([aw.JointMove([0.5]), aw.JointMove([0.1])], start=[0.1], timing="trapezoidal"))
    assert result.q.shape == (result.sizes["time_point"], 1)
    assert result.attrs["duration"] == pytest.approx(2 * (0.4 / 0.4 + 0.4 / 3.0))


def test_limits_hold_between_the_rows_too() -> None:
    # Near a singular posture the path bends hard between two places of the grid.
    cell = moving_cell()
    arc = aw.ArcMove("tub", via=(0.55677, 0.26629, 0.14997))
    cycle = aw.Cycle([aw.JointMove("rack"), aw.PickUp(), aw.LineMove("kiln", blend=0.1), arc, aw.JointMove("kiln"),
                      aw.SetDown()])  # fmt: skip
    dense = cell.setpoints(cycle, 5000.0)
    assert np.abs(dense.qd.values).max() <= 2 * (1 + 1e-3)


def test_the_tools_jerk_is_kept_where_its_way_bends() -> None:
    # On an arc, and while joints turn, jerk is more than that along the way. The change of velocity is taken twice.
    cell = moving_cell()
    for move in (aw.ArcMove("tub", via=(0.68, 0.3, 0.2), tool_jerk=5.0), aw.JointMove("tub", tool_jerk=5.0)):
        cycle = aw.Cycle([aw.JointMove("rack"), move], timing="jerk-limited")
        begin, end = (float(cell.motion(cycle, clearance=False)[f"move_{which}"][1]) for which in ("start", "end"))
        dense = cell.setpoints(cycle, 2000.0)
        twist = np.einsum("rij,rj->ri", cell.jacobian(dense.q.values), dense.qd.values)
        jerk = np.linalg.norm(np.diff(twist[:, :3], 2, axis=0) * 2000.0**2, axis=1)
        inside = (dense.time.values[1:-1] > begin + 2e-3) & (dense.time.values[1:-1] < end - 2e-3)
        assert jerk[inside].max() == pytest.approx(5.0, rel=0.02)


def test_jerk_that_a_timing_leaves_out_is_told() -> None:
    cell = moving_cell()
    cycle = aw.Cycle([aw.JointMove("rack"), aw.JointMove("tub", tool_jerk=5.0)])
    assert "what the cycle tells of it does not in moves 2" in cell.motion(cycle).attrs["assumptions"]
    kept = cell.motion(replace(cycle, timing="jerk-limited"))
    assert "jerk counts" not in kept.attrs["assumptions"]


def test_a_long_pause_is_not_cut_into_steps() -> None:
    """Ten days at rest: the root mean square is what holding takes."""
    cell = moving_cell()
    checked = cell.drive_check(aw.Cycle([aw.JointMove("rack"), aw.JointMove("tub"), aw.Dwell("240 h")]), factors=False)
    assert checked.sizes["time_point"] < 20_000
    held = checked.motor_torque.values[-1]
    assert checked.motor_rms_torque.values == pytest.approx(np.abs(held), rel=1e-3, abs=1e-3)


def test_a_cycle_that_takes_no_time_has_no_duty() -> None:
    cell = moving_cell()
    nothing = aw.Cycle([aw.JointMove("rack")])
    for study in (cell.drive_check, cell.payload_against_time):
        with pytest.raises(aw.InputError, match=r"^cycle: got moves that take 0 s in all"):
            study(nothing)
