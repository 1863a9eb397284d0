"""A posture kept while the design changes."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

import armwright as aw
from armwright.designs.held import hold, posture_in
from cases.described import at, facing, positioner, track_cell

POSES = [
    at((0.5, 0.3, 0.2), facing((0.3, 1, 0.2), (0, 0.1, -1))), at((0.7, -0.2, -0.1), facing((1, 0.2, 0), (1, 0, 0.4))),
]  # fmt: skip


def cell_at(pose: object, **more: object) -> aw.Cell:
    return aw.Cell(positioner(), targets=[aw.Target(pose, "here")], **more)  # type: ignore[arg-type]


@pytest.mark.parametrize("pose", POSES)
def test_the_tool_stays_where_it_was_in_the_same_branch(pose: object) -> None:
    """Of every branch, with a longer upper arm: the pose is kept, and no joint goes far."""
    cell = cell_at(pose)
    longer = cell.with_numbers({"arm.links[upper arm].length": 0.61})
    solutions = cell.solve(pose)  # type: ignore[arg-type]
    tried = 0
    for q, valid in zip(solutions.q, solutions.valid, strict=True):
        if not valid:
            continue
        found = posture_in(longer, hold(cell, "here", q))
        assert found is not None
        assert longer.tool_pose(found) == pytest.approx(cell.tool_pose(q), abs=1e-9)
        assert 0 < np.abs(found - q).max() < 0.3
        tried += 1
    assert tried >= 4


def test_nothing_changed_is_the_same_posture() -> None:
    cell = cell_at(POSES[0])
    q = cell.solve(POSES[0]).q[0]
    found = posture_in(cell.with_numbers({"arm.links[upper arm].mass": 3}), hold(cell, "here", q))
    assert found == pytest.approx(q, abs=1e-12)


def test_the_track_stays_and_a_moved_work_point_is_followed() -> None:
    q = np.array([0.4, 0.2, 0.5, -0.8, 0.3, 0.6, 0.1])
    cell = track_cell(targets=[aw.Target(track_cell().tool_pose(q), "here")])
    held = hold(cell, "here", q)
    moved = cell.with_numbers({"targets[here].pose.y": cell.targets[0].pose[1, 3] + 0.02, "track.stroke": "2 m"})
    found = posture_in(moved, held)
    assert found is not None and found[0] == q[0]
    assert moved.tool_pose(found) == pytest.approx(moved.targets[0].pose, abs=1e-9)


def test_where_it_cannot_be_there_is_none() -> None:
    cell = cell_at(POSES[1])
    held = hold(cell, "here", cell.solve(POSES[1]).q[0])
    assert posture_in(cell.with_numbers({"arm.links[upper arm].length": 0.1}), held) is None
    renamed = aw.Cell(positioner(), targets=[replace(cell.targets[0], name="there")])
    assert posture_in(renamed, held) is None


def test_five_axes_keep_the_direction_and_give_up_the_spin() -> None:
    arm = positioner()
    five = replace(arm, joints=arm.joints[:5], links=arm.links[:5], flange=arm.joints[5].placement @ arm.flange)
    bare = aw.Cell(five)
    q = np.array([0.2, 0.7, -1.1, 0.3, 0.5])
    pose = bare.tool_pose(q)
    for free in (True, False):
        cell = aw.Cell(five, targets=[aw.Target(pose, "here", free)])
        shifted = cell.with_numbers({"targets[here].pose.z": pose[2, 3] + 0.01})
        found = posture_in(shifted, hold(cell, "here", q))
        assert (found is not None) == free
    assert found is None
    cell = aw.Cell(five, targets=[aw.Target(pose, "here", True)])
    shifted = cell.with_numbers({"targets[here].pose.z": pose[2, 3] + 0.01})
    found = posture_in(shifted, hold(cell, "here", q))
    assert found is not None
    told = shifted.tool_pose(found)
    assert told[:3, 3] == pytest.approx(shifted.targets[0].pose[:3, 3], abs=1e-9)
    assert told[:3, 2] == pytest.approx(pose[:3, 2], abs=1e-9)
