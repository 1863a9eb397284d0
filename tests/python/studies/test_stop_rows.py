"""Rows of stops: the accelerations by which the arm is stopped, and what is left out."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

import numpy as np
import pytest

import armwright as aw
from armwright.studies.load_rows import row_wrenches
from armwright.studies.stop_rows import _peaks
from armwright.studies.stop_table import shares
from armwright.wrenched import LoadRows
from cases.momentum import bodies, momentum, weight
from cases.moving_cells import moving_cell
from cases.stopping import braked_arm, braked_cell

CELL = braked_cell()
CYCLE = aw.Cycle((aw.JointMove("rack"), aw.PickUp(), aw.JointMove("kiln"), aw.SetDown()), name="glaze")
FULL = "100 % of speed, 100 % of the load, 100 % of extension"


@lru_cache
def rows() -> LoadRows:
    return CELL.load_rows(at_rest=False)


def test_every_stop_of_the_table_is_a_case() -> None:
    table, found = CELL.stop_table(), rows()
    assert len(found.case_names) == table.stop_time.size
    assert {float(load.mass) for load in found.loads} == {4 * share for share in shares}
    for case, name in enumerate(found.case_names):
        share = float(name.split(" % of the load")[0].split(" ")[-1]) / 100
        carried = {float(found.loads[place].mass) for place in found.load[found.case == case].tolist()}
        assert sorted(carried) == pytest.approx([4 * share]), name
    for axis in table.axis.values:
        for category in (0, 1):
            name = f"category {category} stop of {axis}, {FULL}"
            mine = found.case == found.case_names.index(name)
            at = table.sel(axis=axis, category=category).isel(speed_share=-1, load_share=-1, extension_share=-1)
            assert found.time[mine][0] == 0
            assert found.time[mine][-1] == pytest.approx(float(at.stop_time), abs=1e-9)
            k = CELL.joint_names.index(str(axis))
            way = np.abs(np.diff(found.q[mine][:, k])).sum()
            assert way == pytest.approx(float(at.travel), rel=1e-3)
            np.testing.assert_allclose(found.qd[mine][0], np.where(np.arange(6) == k, float(at.axis_speed), 0))
            assert not found.qd[mine][-1].any() and not found.qdd[mine][-1].any()


@pytest.mark.parametrize("stop", ["0 stop of joint 1", "0 stop of joint 2", "0 stop of joint 3", "1 stop of joint 2"])
def test_a_stops_wrench_is_that_of_its_trajectory(stop: str) -> None:
    """Newton and Euler by differences of momentum along the stop as the study ``stop`` tells it in rows of its own,
    positions and speeds alone; the accelerations told have no part in it."""
    found = rows()
    mine = np.flatnonzero(found.case == found.case_names.index(f"category {stop}, {FULL}"))
    course = CELL.stop(found.q[mine[0]], found.qd[mine[0]], int(stop[0]), row_step=2e-4)
    time, q, qd = course.time.values, course.position.values, course.speed.values
    told, parts, checked = row_wrenches(CELL._model, found).mount, bodies(CELL, CELL.load), 0
    events = found.time[mine][:-1][np.diff(found.time[mine]) == 0]  # two rows at one time: accelerations jump there
    for row in mine:
        at = int(np.searchsorted(time, found.time[row]))
        ends = time[[at - 3, at + 3]] if 3 <= at < len(time) - 3 else None
        if ends is None or np.any((events > ends[0]) & (events < ends[1])):
            continue
        push = [momentum(CELL, parts, q[k], qd[k], np.zeros(3)) for k in (at - 3, at + 3)]
        needed = (push[1] - push[0]) / (ends[1] - ends[0]) - weight(CELL, parts, q[at], np.zeros(3))
        np.testing.assert_allclose(told[row], -needed, rtol=0, atol=5e-3 * np.abs(needed).max())
        checked += 1
    assert checked > 2


def test_peaks_of_a_speed() -> None:
    """A ripple makes none; a level top makes two, its ends; the last one may be at the end."""
    assert _peaks(np.array([0, 0.5, 0.495, 0.6, 0.2, 0.21, 0.1, 0.8, 0.8, 0.8, 0.3, 0.3, 1.0])) == [3, 7, 9, 12]
    assert _peaks(np.array([0.0, 0.01, 0.0])) == []
    assert _peaks(np.array([0.9, 0.1, 0.1])) == [0]


def test_stops_in_a_cycle_begin_as_it_moves_with_what_it_carries() -> None:
    cell = moving_cell()
    found = cell.load_rows(CYCLE, at_rest=False, instants=4)
    moving = found.kind_of() == "cycle"
    mine = [i for i, name in enumerate(found.case_names) if 's of cycle "glaze"' in name]
    assert len(mine) >= 8, "evenly spread ones, and the extremes of joint speed"
    for case in mine:
        first = int(np.flatnonzero(found.case == case)[0])
        time = float(found.case_names[case].split(" at ")[1].split(" s ")[0])
        near = np.flatnonzero(moving & (np.abs(found.time - time) < 6e-4))
        same = [
            i for i in near
            if np.allclose(found.q[i], found.q[first], atol=1e-12) and np.allclose(found.qd[i], found.qd[first])
            and found.load[i] == found.load[first]
        ]  # fmt: skip
        assert same, found.case_names[case]
    fastest = np.abs(found.qd[moving]).max(axis=0)
    starts = np.array([found.qd[int(np.flatnonzero(found.case == case)[0])] for case in mine])
    np.testing.assert_allclose(np.abs(starts).max(axis=0), fastest, rtol=1e-6)


def test_nothing_carried_and_motors_that_are_not_told() -> None:
    arm = braked_arm()
    found = braked_cell(load=None).load_rows(at_rest=False)
    assert (found.load == -1).all() and len(found.case_names) == 2 * 3 * 3 * 3
    assert all("no load" in name for name in found.case_names)
    joints = list(arm.joints)
    joints[4] = replace(joints[4], drive=None, torque_continuous=np.inf, torque_peak=None, acceleration=np.inf)
    open_one = braked_cell(replace(arm, joints=tuple(joints))).load_rows(at_rest=False)
    assert {name.split(" of ")[0] for name in open_one.case_names} == {"category 0 stop"}
    assert any("stops of category 1 of the stop table are left out" in line for line in open_one.missing)


def test_what_meets_its_end_or_goes_on_is_told() -> None:
    falling = replace(braked_arm().joints[1], drive=replace(braked_arm().joints[1].drive, brake=None))
    arm = braked_arm()
    found = braked_cell(replace(arm, joints=(arm.joints[0], falling, *arm.joints[2:]))).load_rows(at_rest=False)
    assert any("meets the end of its range" in line or "still moves" in line for line in found.missing)
