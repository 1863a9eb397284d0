"""Bearings of a whole arm, through its cycle, at rest and in its stops."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from functools import cache
from typing import Any

import numpy as np
import pytest

import armwright as aw
from cases.borne_cells import TAPERED, pair, rows_by_hand, slewing
from cases.in_pieces import assert_same_bits
from cases.moving_cells import moving_arm, moving_cell

CYCLE = aw.Cycle((aw.JointMove("rack"), aw.PickUp(), aw.JointMove("kiln"), aw.SetDown()), name="to the kiln")


@cache
def cell() -> aw.Cell:
    """A slewing bearing at the foot, a tapered pair at the shoulder, nothing told of the others."""
    whole, arm = moving_cell()._description, moving_arm()
    told = (slewing(pitch_diameter=0.2, static_rating=60e3), pair(TAPERED))
    joints = [replace(joint, bearing=bearing) for joint, bearing in zip(arm.joints[:2], told, strict=True)]
    return aw.Cell.from_description(replace(whole, arm=replace(arm, joints=(*joints, *arm.joints[2:]))))


@cache
def found() -> Any:
    return cell().bearings(CYCLE)


def test_a_cycle_with_its_stops() -> None:
    names = [joint.name for joint in cell().arm.description.joints]
    assert found().bearing.values.tolist() == [
        f"{names[0]}: bearing", f"{names[1]}: bearing pair, near", f"{names[1]}: bearing pair, far",
    ]  # fmt: skip
    missing = found().attrs["missing"]
    assert all(f"{name}: no bearing is described" in missing for name in names[2:])
    assert np.isfinite(found().safety).all()
    enough = found().swing.values >= found().critical_swing.values
    assert enough[0] and not enough[1:].any(), "the shoulder hardly swings in this cycle"
    assert np.array_equal(np.isfinite(found().life.values), enough)
    assert found().attrs["flags"].count("do not overlap") == 2
    assert found().attrs["duty_time"] == pytest.approx(cell().motion(CYCLE).attrs["duration"])


def test_the_worst_row_is_one_of_the_rows_and_its_loads_are_those_of_its_wrench() -> None:
    rows = cell().load_rows(CYCLE)
    one = found().isel(bearing=0)
    row = int(np.flatnonzero((rows.q == one.worst_posture.values).all(axis=1))[0])
    same = [i for i in range(len(rows.q)) if np.array_equal(rows.q[i], rows.q[row])]
    loads = [None if rows.load[i] < 0 else rows.loads[rows.load[i]] for i in same]
    axials = [
        abs(cell().joint_wrench(rows.q[i], rows.qd[i], rows.qdd[i], load)[0, 2])
        for i, load in zip(same, loads, strict=True)
        if load is not None
    ]
    assert any(axial == pytest.approx(one.worst_axial.item()) for axial in axials)
    assert one.worst_case.item() in rows.case_names


def test_rows_instead_of_a_cycle_and_an_executor_give_the_same() -> None:
    rows = cell().load_rows(CYCLE)
    assert_same_bits(cell().bearings(rows=rows), found())
    with ThreadPoolExecutor(1) as executor:
        assert_same_bits(cell().bearings(rows=rows, executor=executor), found())
    with pytest.raises(aw.InputError, match="rows"):
        cell().bearings(CYCLE, rows=rows)


def test_a_joint_behind_a_track_is_found() -> None:
    tracked = aw.Cell.from_description(replace(cell()._description, track=aw.Track("x", (0, 1))))
    told = tracked.bearings(rows=rows_by_hand(0.0, joints=7))
    assert told.joint.values[told.bearing_joint.values[0]] == cell().joint_names[0]
    assert told.greatest_axial.values[0] > 0
