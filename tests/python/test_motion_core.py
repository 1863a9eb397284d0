"""The bindings of profiles, planning and resampling: what comes back, and what a wrong call meets."""

from __future__ import annotations

import numpy as np
import pytest

from armwright import _core
from cases.arms import spherical_arm
from cases.timed import cycle_of, limited_model, motion, move_to, planned

START = [0.1, 0.4, 0.7, 0.2, 0.8, -0.1]


def test_profile() -> None:
    profile = motion.double_s(10, 5, 10, 30)  # Biagiotti and Melchiorri 2008, section 3.4
    assert profile.duration == pytest.approx(17 / 6)
    assert profile.at(profile.duration)[0] == 10
    assert profile.stretched(4).duration == pytest.approx(4)
    assert motion.trapezoid(1, 1, 2).duration == pytest.approx(1.5)


def test_joints_in_step_name_what_decides() -> None:
    profile, limit, axis = motion.synchronised([0, 0], [1, 2], [1, 4], [8, 4])
    assert (limit, axis) == (motion.MotionLimit.joint_acceleration, 1)
    assert profile.distance == 1
    with pytest.raises(ValueError, match="one value a joint"):
        motion.synchronised([0, 0], [1], [1, 1], [1, 1])


def test_arrays_are_views_that_outlive_the_plan_and_are_not_to_be_written() -> None:
    model = limited_model(spherical_arm(), 2, 8)
    plan = planned(model, cycle_of(START, [move_to(np.zeros(6))]))
    told = plan.motion
    assert told.q.shape == (len(told.time), 6) and told.limit.dtype == np.int32
    np.testing.assert_array_equal(told.q[0], START)
    np.testing.assert_array_equal(told.q[-1], 0)
    with pytest.raises(ValueError, match="read-only"):
        told.q[0, 0] = 1
    q, copy = told.q, told.q.copy()
    del plan, told
    np.testing.assert_array_equal(q, copy)


def test_resampled() -> None:
    model = limited_model(spherical_arm(), 2, 8, 50)
    move = move_to(np.zeros(6), timing=motion.Timing.jerk_limited)
    told = planned(model, cycle_of(START, [move])).motion
    even = motion.sample_motion(told, 1000)
    assert np.all(np.diff(even.time)[:-1] == pytest.approx(1e-3)) and even.time[-1] == told.time[-1]
    slope = np.gradient(even.q, even.time, axis=0)
    np.testing.assert_allclose(slope[5:-5], even.speed[5:-5], atol=1e-4)
    with pytest.raises(ValueError, match="positive"):
        motion.sample_motion(told, 0)


def test_tool_line_with_the_track() -> None:
    model = limited_model(spherical_arm(), 1, 4, stroke=2)
    inverse = _core.kinematics.prepare_inverse(model)
    start = np.array([0.5, 0.1, 0.3, 0.3, 0.2, 0.6, -0.1])
    pose = _core.kinematics.tool_poses(model, start[None])[0].reshape(4, 4)
    to = pose.copy()
    to[:3, 3] += [0.6, 0.1, -0.1]
    move = move_to([], kind=motion.MoveKind.line, to=to, track_to=1.1)
    told = planned(model, cycle_of(start, [move]), inverse).motion
    places = _core.kinematics.tool_poses(model, np.ascontiguousarray(told.q)).reshape(-1, 4, 4)[:, :3, 3]
    along = (places - pose[:3, 3]) @ (to[:3, 3] - pose[:3, 3]) / np.sum((to[:3, 3] - pose[:3, 3]) ** 2)
    np.testing.assert_allclose(places, pose[:3, 3] + along[:, None] * (to - pose)[:3, 3], atol=1e-8)
    np.testing.assert_allclose(told.q[:, 0], 0.5 + 0.6 * along, atol=1e-8)


def test_wrong_calls_are_caught() -> None:
    model = limited_model(spherical_arm(), 2, 8)
    with pytest.raises(ValueError, match="start posture"):
        motion.plan_cycle(model, cycle_of([0.0], [move_to(START)]))
    with pytest.raises(ValueError, match="has a move"):
        motion.plan_cycle(model, cycle_of(START, []))
    with pytest.raises(ValueError, match="needs the inverse"):
        motion.plan_cycle(model, cycle_of(START, [move_to([], kind=motion.MoveKind.line)]))
    line = move_to([], kind=motion.MoveKind.line, track_to=1.0)
    with pytest.raises(ValueError, match="there is a track"):
        motion.plan_cycle(model, cycle_of(START, [line]), _core.kinematics.prepare_inverse(model))
    with pytest.raises(ValueError, match="load exists"):
        motion.plan_cycle(model, cycle_of(START, [move_to(START, load=0)]))


def test_refusal() -> None:
    model = limited_model(spherical_arm(), 2, 8)
    plan = motion.plan_cycle(model, cycle_of(START, [move_to(START), move_to([0, 0, 0, 0, 3.0, 0])]))
    refusal = plan.refusal
    assert (refusal.problem, refusal.move, refusal.axis) == (motion.PlanProblem.joint_range, 1, 4)
    assert refusal.value == pytest.approx(3 - np.radians(115))
