"""Stop tables: shares, postures, and rows against single stops."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

import armwright as aw
from armwright.results import summary
from cases.described import positioner
from cases.stopping import braked_arm, braked_cell, drive

CELL = braked_cell()
TABLE = CELL.stop_table()


def test_each_row_is_a_stop() -> None:
    for axis, category, speed, load, extension in [(0, 0, 2, 2, 2), (1, 1, 0, 1, 2), (2, 0, 1, 0, 0)]:
        share = TABLE.load_share.values[load]
        carried = aw.Load(4.0 * share, CELL.load.centre, share * CELL.load.inertia)
        qd = np.zeros(6)
        qd[axis] = TABLE.axis_speed.values[axis] * TABLE.speed_share.values[speed]
        alone = CELL.stop(TABLE.posture.values[extension], qd, category, load=carried)
        row = TABLE.isel(axis=axis, category=category, speed_share=speed, load_share=load, extension_share=extension)
        assert row.stop_time.item() == pytest.approx(alone.stop_time.item(), rel=1e-9)
        assert row.travel.item() == pytest.approx(alone.travel.values[axis], rel=1e-9)
        assert row.tool_path.item() == pytest.approx(alone.tool_path.item(), rel=1e-9)


def test_a_controlled_stop_that_is_held_ends_where_it_stands() -> None:
    held = CELL.stop_table(hold_after="0.1 s")
    assert held.attrs["hold_after"] == 0.1 and "until the brakes have closed" in summary(held)
    one = held.sel(category=1)
    slowed = np.abs(held.axis_speed) * held.speed_share / 6.0
    np.testing.assert_allclose(one.stop_time, slowed.broadcast_like(one.stop_time), rtol=1e-6)
    np.testing.assert_array_equal(held.stop_time.sel(category=0), TABLE.stop_time.sel(category=0))
    assert (one.tool_drop <= TABLE.tool_drop.sel(category=1) + 1e-12).all()
    assert "the arm sags" in summary(TABLE)


def test_postures_have_the_extension_that_they_say() -> None:
    """Distance of the load's centre from the upright axis 1; the rest of the rule by hand on a plain arm."""
    place = CELL.tool_pose(TABLE.posture.values)
    centre = place[:, :3, 3] + place[:, :3, :3] @ CELL.load.centre
    np.testing.assert_allclose(np.hypot(centre[:, 0], centre[:, 1]), TABLE.extension.values, atol=1e-9)
    np.testing.assert_allclose(TABLE.extension.values / TABLE.extension.values[-1], [0.33, 0.66, 1], atol=1e-9)
    arm = positioner(0.1, 0.6, 0.5)
    driven = replace(arm, joints=tuple(replace(j, drive=drive((1, 50, 1, 1e-4, 1)), speed=1.0) for j in arm.joints))
    table = aw.Cell(driven).stop_table()
    assert table.extension.values[-1] == pytest.approx(1.2, abs=1e-6)  # stretched out level
    assert table.posture.values[-1, 1:3] == pytest.approx([0, 0], abs=1e-3)


def test_axes_two_and_three_come_down() -> None:
    for axis in (1, 2):
        q = TABLE.posture.values[-1]
        step = np.zeros(6)
        step[axis] = 1e-3 * np.sign(TABLE.axis_speed.values[axis])
        assert CELL.tool_pose(q + step)[2, 3] < CELL.tool_pose(q)[2, 3]


def test_faster_and_heavier_takes_longer() -> None:
    time = TABLE.stop_time.values
    assert (np.diff(time, axis=2) > 0).all()  # speed
    # Heavier: axes 2 and 3, which have to catch the load coming down, by the brakes.
    assert (np.diff(time[1:, 0], axis=2) > 0).all()
    assert (TABLE.end.values == "rest").all()


def test_what_the_standard_asks_for() -> None:
    asked = TABLE.required
    assert asked.sum().item() == 27 + 27 + 9 + 3
    assert asked.isel(axis=2, category=1, extension_share=0).sum() == 0
    assert "joint 3, category 0" in summary(TABLE)


def test_a_table_wants_speeds() -> None:
    bare = replace(braked_arm(), joints=tuple(replace(j, drive=None, speed=np.inf) for j in braked_arm().joints))
    with pytest.raises(aw.InputError, match=r"^speeds: got none for joint 1"):
        aw.Cell(bare).stop_table()
