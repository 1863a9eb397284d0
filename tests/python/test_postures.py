from __future__ import annotations

import math
import re
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

import armwright as aw
from armwright import _core, ways
from armwright.errors import InputError
from armwright.postures import Chooser, Goal
from cases.described import at, track_cell
from cases.moving_cells import DOWN, moving_arm, moving_cell


def chooser(cell: aw.Cell, *loads: aw.Load) -> Chooser:
    return Chooser(cell, cell._model, cell._inverse, list(loads))


def test_postures_bring_the_tool_there() -> None:
    cell = moving_cell()
    pose = cell.targets[0].pose
    q = chooser(cell).at(Goal("rack", pose=pose), (-1,), "to")
    assert len(q) >= 2
    assert cell.tool_pose(q) == pytest.approx(np.broadcast_to(pose, (len(q), 4, 4)), abs=1e-9)
    assert (cell.limit_margin(q) >= -1e-12).all()


def test_a_free_spin_is_tried_all_round() -> None:
    cell = moving_cell()
    target = cell.targets[2]
    q = chooser(cell).at(Goal("kiln", pose=target.pose, free_spin=True), (-1,), "to")
    poses = cell.tool_pose(q)
    assert poses[:, :3, 3] == pytest.approx(np.broadcast_to(target.pose[:3, 3], (len(q), 3)), abs=1e-9)
    assert poses[:, :3, 2] == pytest.approx(np.broadcast_to(target.pose[:3, 2], (len(q), 3)), abs=1e-9)
    spins = np.round(np.degrees(np.arctan2(poses[:, 1, 0], poses[:, 0, 0]))).astype(int) % 360
    assert len(set(spins)) >= 6 and all(spin % 30 == 0 for spin in spins)


def test_whole_turns_within_the_range_are_tried() -> None:
    wide = aw.Cell(moving_arm(axis_6=(-1.9 * math.pi, 1.9 * math.pi)))
    q = chooser(wide).at(Goal("p", pose=at((0.7, 0.1, 0.2), DOWN)), (-1,), "to")
    turns = {tuple(np.round(row[:5], 6)): [] for row in q}  # type: ignore[var-annotated]
    for row in q:
        turns[tuple(np.round(row[:5], 6))].append(row[5])
    assert any(len(values) == 2 and abs(abs(values[0] - values[1]) - 2 * math.pi) < 1e-9 for values in turns.values())


def test_a_track_is_tried_along_its_stroke() -> None:
    cell = track_cell(load=None)
    pose = cell.tool_pose(np.array([0.5, 0.2, 0.7, -0.9, 0.4, 0.6, 0.1]))
    q = chooser(cell).at(Goal("p", pose=pose), (-1,), "to")
    assert len(set(np.round(q[:, 0], 6))) >= 5
    assert cell.is_clear(q).all()


def refusal(cell: aw.Cell, goal: Goal, *loads: aw.Load, carried: tuple[int, ...] = (-1,)) -> str:
    with pytest.raises(InputError) as refused:
        chooser(cell, *loads).at(goal, carried, "to")
    return str(refused.value)


def test_what_is_in_the_way_is_named_as_the_check_of_the_work_points_does() -> None:
    cell = moving_cell(fixtures=(aw.Sphere(0.2, (0.7, 0.1, 0.2), "pot stand"),))
    told = str(cell.check_targets()["reason"].values[0])
    assert "pot stand overlapped by" in told
    words = refusal(cell, Goal("rack", pose=cell.targets[0].pose))
    assert words.startswith(f"to: got rack: {told}, expected a posture")


def test_what_is_too_near_is_named_not_what_is_nearest() -> None:
    """By hand: the hand, a ball of 50 mm 100 mm above the rack, is 100 mm from the post, of which it may be 20 mm, and
    300 mm from the stand, of which it has to be 400 mm."""
    post, stand = aw.Sphere(0.05, (0.7, 0.3, 0.3), "post"), aw.Sphere(0.05, (0.7, 0.1, -0.1), "stand", clearance=0.4)
    cell = moving_cell(fixtures=(post, stand))
    q = moving_cell().check_targets()["q"].values[0]
    assert str(cell.clearance(q)["name_b"].item()) == "post"
    for goal in (Goal("rack", pose=cell.targets[0].pose), Goal("rack", posture=q)):
        assert refusal(cell, goal).startswith("to: got rack: hand 300 mm from stand, 400 mm wanted")


def test_what_is_out_of_reach_is_refused_with_by_how_much() -> None:
    """Told as the check of the work points does."""
    goal = Goal("far", pose=at((5, 0, 0), DOWN))
    told = str(moving_cell(targets=(aw.Target(goal.pose, "far"),)).check_targets()["reason"].item())
    assert re.match(r"out of reach by \d+ mm", told)
    assert refusal(moving_cell(), goal) == (
        f"to: got far: {told}, expected a point that the tool reaches within the joint limits"
    )


def test_a_load_counts_by_its_own_shape() -> None:
    """By hand: the tool points down at 0.2 m, the ball reaches 0.6 m further, so 0.2 m into the floor at -0.2 m."""
    big = aw.Load(1.0, shapes=(aw.Sphere(0.3, (0, 0, 0.3)),), name="ball")
    cell = moving_cell(fixtures=(aw.HalfSpace((0, 0, -0.2), name="floor"),))
    goal = Goal("rack", pose=cell.targets[0].pose)
    assert len(chooser(cell, big).at(goal, (-1,), "to")) > 0
    for carried in ((0,), (-1, 0)):  # also where it is picked up
        told = refusal(cell, goal, big, carried=carried)
        assert told.startswith('to: got rack, carrying "ball": floor overlapped by 200 mm (ball), expected a posture')


@pytest.mark.parametrize("kind", ["line", "arc"])
def test_the_core_follows_a_way_to_the_same_posture(kind: str) -> None:
    """Two ways of our own to the same end: sampled here, with derivatives and halved steps in the core."""
    cell = moving_cell()
    here = chooser(cell)
    start = here.at(Goal("rack", pose=cell.targets[0].pose), (-1,), "to")
    end, via = at((0.6, 0.35, 0.25), DOWN), np.array((0.75, 0.25, 0.3))
    move = _core.motion.MoveSpec()
    move.kind, move.to, move.via = getattr(_core.motion.MoveKind, kind), end, via
    compared = 0
    for q in start:
        pose = cell.tool_pose(q)
        way = ways.line(pose, end) if kind == "line" else ways.arc(pose, via, end)
        assert way is not None
        found = here.follow(q, way, None)
        spec = _core.motion.CycleSpec()
        spec.start, spec.moves = q.tolist(), [move]
        planned = _core.motion.plan_cycle(cell._model, spec, cell._inverse)
        if isinstance(found, str):
            assert planned.refusal.problem != _core.motion.PlanProblem.none
            continue
        assert planned.refusal.problem == _core.motion.PlanProblem.none
        assert planned.motion.q[-1] == pytest.approx(found[0], abs=1e-6)
        compared += 1
    assert compared >= 2


def test_the_track_goes_along_with_a_line() -> None:
    cell = track_cell(load=None, tool=None, fixtures=())
    q = np.array([0.5, 0.2, 0.7, -0.9, 0.4, 0.6, 0.1])
    pose = cell.tool_pose(q)
    end = pose.copy()
    end[0, 3] += 0.2
    found: Any = chooser(cell).follow(q, ways.line(pose, end), 0.7)
    assert found[0] == pytest.approx([0.7, *q[1:]], abs=1e-9)  # the track alone makes the way
    end = pose.copy()
    end[2, 3] -= 0.03
    stays: Any = chooser(cell).follow(q, ways.line(pose, end), None)
    assert stays[0][0] == 0.5 and cell.tool_pose(stays[0]) == pytest.approx(end, abs=1e-9)


def test_travel_time() -> None:
    """By hand: the slowest joint's way over its speed of 2 rad/s, and a hundredth of all."""
    times = chooser(moving_cell()).travel(np.zeros((1, 6)), np.array([[1.0, -2, 0, 0, 0, 0.5]]), False)
    assert times == pytest.approx(np.array([[1.0 + 0.01 * 1.75]]))


def test_where_no_speed_is_stated_the_motor_s_counts() -> None:
    arm = moving_arm()
    free = aw.Cell(replace(arm, joints=tuple(replace(joint, speed=math.inf) for joint in arm.joints)))
    assert chooser(free).speed == pytest.approx(100 * math.pi / 100)  # 3000 rpm through 100:1
    bare = aw.Cell(replace(arm, joints=tuple(replace(joint, speed=math.inf, drive=None) for joint in arm.joints)))
    assert chooser(bare).speed == pytest.approx(math.pi)
