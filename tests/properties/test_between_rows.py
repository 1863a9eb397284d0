"""Motions near singular postures, where a way of the tool bends hard in joint space: no limit is passed between the
rows either, found on the resampled motion ten times as dense, apart from the planner (cases/between_rows.py)."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from armwright import _core
from cases.arms import spherical_arm
from cases.between_rows import dense_times, greatest_jerk, greatest_uses
from cases.timed import cycle_of, limited_model, motion, move_to

PASSED = 1e-4
LOWER, UPPER = spherical_arm().limits()
TORQUE = np.array([260.0, 420.0, 220.0, 70.0, 50.0, 25.0])

timings = st.sampled_from([motion.Timing.time_optimal, motion.Timing.trapezoidal, motion.Timing.jerk_limited])
middles = st.lists(st.floats(0.3, 0.7), min_size=6, max_size=6).map(
    lambda share: LOWER + np.array(share) * (UPPER - LOWER)
)
steps = st.lists(st.lists(st.floats(-1, 1), min_size=6, max_size=6).map(np.array), min_size=1, max_size=3)
tools = st.one_of(
    st.just({}),
    st.fixed_dictionaries({"speed": st.floats(0.1, 1), "acceleration": st.floats(0.5, 5),
                           "turn_speed": st.floats(1, 3), "turn_acceleration": st.floats(3, 20)}),
)  # fmt: skip


def ways(start: Any, steps: list[Any], bend: float, model: Any) -> list[Any]:
    """Postures, and the tool's poses in them, with axis 5 near 0 all the way: there axes 4 and 6 are in line."""
    postures = [start.copy()]
    for step in steps:
        postures.append(postures[-1] + 0.25 * step)
    for i, q in enumerate(postures):
        q[4] = bend * (1 + 0.5 * steps[min(i, len(steps) - 1)][4])
    poses = _core.kinematics.tool_poses(model, np.array(postures)).reshape(-1, 4, 4)
    return list(zip(postures, poses, strict=True))


def planned_near(
    start: Any, steps: Any, bend: float, timing: Any, blend: float, tool: Any, share: float, model: Any, by_tool: bool
) -> Any:
    limits = motion.ToolLimits()
    for key, value in tool.items():
        setattr(limits, key, value)
    way = ways(start, steps, bend, model)
    moves = []
    for q, pose in way[1:]:
        line = {"kind": motion.MoveKind.line, "to": pose} if by_tool else {}
        more = {"timing": timing, "blend": blend, "tool": limits, "speed_share": share}
        moves.append(move_to([] if by_tool else q, **line, **more))
    return motion.plan_cycle(model, cycle_of(way[0][0], moves), _core.kinematics.prepare_inverse(model))


@settings(max_examples=150, deadline=None)
@given(
    start=middles, steps=steps, bend=st.floats(-2.7, -0.3).map(lambda power: 10**power), timing=timings,
    blend=st.sampled_from([0.0, 0.02]), tool=tools, share=st.sampled_from([1.0, 0.6]), speed=st.floats(1, 4),
    quick=st.floats(3, 20), strong=st.one_of(st.none(), st.floats(0.15, 0.6)), by_tool=st.booleans(),
)  # fmt: skip
def test_no_limit_is_passed_between_the_rows(
    start: Any, steps: Any, bend: float, timing: Any, blend: float, tool: Any, share: float, speed: float, quick: float,
    strong: float | None, by_tool: bool,
) -> None:  # fmt: skip
    model = limited_model(spherical_arm(), speed, quick, 10 * quick, np.inf if strong is None else strong * TORQUE)
    plan = planned_near(start, steps, bend, timing, blend, tool, share, model, by_tool)
    if plan.refusal.problem != motion.PlanProblem.none:  # some come too near a singular posture, or ask for too much
        assert plan.refusal.problem != motion.PlanProblem.no_limit
        return
    uses = greatest_uses(model, plan.motion, 10, tool, share)
    assert max(uses.values()) <= 1 + PASSED, uses
    assert np.all(plan.motion.speed[[0, -1]] == 0)
    if timing == motion.Timing.jerk_limited:  # by differences of the resampled acceleration
        assert greatest_jerk(model, plan.motion, 10, share) <= 1.01
        assert np.all(plan.motion.acceleration[[0, -1]] == 0)


@pytest.mark.parametrize("timing", [motion.Timing.time_optimal, motion.Timing.trapezoidal, motion.Timing.jerk_limited])
def test_some_limit_is_used_in_full_and_the_way_is_kept(timing: Any) -> None:
    """So that the property above is not kept by slowness: a hard case, known to be planned."""
    model = limited_model(spherical_arm(), 2, 8, 4000)
    start = LOWER + 0.45 * (UPPER - LOWER)
    step = np.array([0.8, -0.5, 0.6, 0.2, 0.0, -0.3])
    plan = planned_near(start, [step], 0.02, timing, 0.0, {}, 1.0, model, True)
    assert plan.refusal.problem == motion.PlanProblem.none
    uses = greatest_uses(model, plan.motion, 10, {})
    assert 1 - 1e-3 < max(uses["speed"], uses["acceleration"]) <= 1 + PASSED, uses
    dense = motion.motion_at(plan.motion, dense_times(np.array(plan.motion.time), 10))
    place = _core.kinematics.tool_poses(model, np.ascontiguousarray(dense.q)).reshape(-1, 4, 4)[:, :3, 3]
    along = (place[-1] - place[0]) / np.linalg.norm(place[-1] - place[0])
    off = np.cross(place - place[0], along)
    assert np.linalg.norm(off, axis=1).max() < 1e-6  # m: between rows too


@pytest.mark.parametrize("bend", [0.02, 0.05, 0.8])
def test_a_jerk_limited_way_is_not_much_slower_than_the_optimum(bend: float) -> None:
    """One double S along such a way would take up to ten times as long as the time-optimal motion, or ask for too
    much torque. The acceleration takes 0.1 s to turn round, so that no way can do without about that."""
    model = limited_model(spherical_arm(), 2, 8, 160, 0.3 * TORQUE)
    start = LOWER + 0.45 * (UPPER - LOWER)
    step = np.array([2.4, -1.5, 1.8, 0.6, 0.0, -0.9])
    optimal, smooth = (
        planned_near(start, [step], bend, timing, 0.0, {}, 1.0, model, True)
        for timing in (motion.Timing.time_optimal, motion.Timing.jerk_limited)
    )
    assert smooth.refusal.problem == optimal.refusal.problem == motion.PlanProblem.none
    best, took = optimal.motion.time[-1], smooth.motion.time[-1]
    assert best * (1 - 1e-6) < took < 1.1 * best + 0.1
    assert greatest_jerk(model, smooth.motion, 10) <= 1.01
    assert max(greatest_uses(model, smooth.motion, 10, {}).values()) <= 1 + PASSED
    np.testing.assert_allclose(smooth.motion.q[[0, -1]], optimal.motion.q[[0, -1]], atol=1e-9)
    assert np.all(smooth.motion.acceleration[[0, -1]] == 0)
