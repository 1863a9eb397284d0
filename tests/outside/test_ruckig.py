"""Source: ruckig (jerk-limited trajectories, community version), from rest to rest.

What is compared: the duration of a single axis, and of several joints that move in step (ruckig's phase
synchronisation). Tolerance: 1e-6 of the duration for jerk-limited motions; 1e-9 for trapezoids, which ruckig gives
without a jerk limit. Phase synchronisation is compared where one joint is the slowest by each of its limits: elsewhere
ruckig gives up the straight line."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

ruckig = pytest.importorskip("ruckig", reason="needs the peers: pip install 'armwright[peers]'")

from armwright import _core  # noqa: E402

motion = _core.motion


def trajectory(start: Any, end: Any, speed: Any, acceleration: Any, jerk: Any) -> Any:
    count = len(start)
    asked = ruckig.InputParameter(count)
    asked.current_position, asked.target_position = list(start), list(end)
    asked.max_velocity, asked.max_acceleration, asked.max_jerk = list(speed), list(acceleration), list(jerk)
    asked.synchronization = ruckig.Synchronization.Phase
    found = ruckig.Trajectory(count)
    assert ruckig.Ruckig(count).calculate(asked, found) in {ruckig.Result.Working, ruckig.Result.Finished}
    return found


sizes = st.floats(0.01, 20)


@settings(max_examples=300, deadline=None)
@given(distance=st.floats(1e-3, 50), speed=sizes, acceleration=sizes, jerk=st.floats(0.05, 500))
def test_one_axis_limited_in_jerk(distance: float, speed: float, acceleration: float, jerk: float) -> None:
    theirs = trajectory([0.0], [distance], [speed], [acceleration], [jerk])
    ours = motion.double_s(distance, speed, acceleration, jerk)
    assert ours.duration == pytest.approx(theirs.duration, rel=1e-6)
    for share in (0.1, 0.37, 0.5, 0.9):
        position, velocity, _ = theirs.at_time(share * theirs.duration)
        at = ours.at(share * ours.duration)
        assert at[0] == pytest.approx(position[0], abs=1e-6 * distance)
        assert at[1] == pytest.approx(velocity[0], abs=1e-5 * speed)


@settings(max_examples=300, deadline=None)
@given(distance=st.floats(1e-3, 50), speed=sizes, acceleration=sizes)
def test_one_axis_trapezoid(distance: float, speed: float, acceleration: float) -> None:
    theirs = trajectory([0.0], [distance], [speed], [acceleration], [math.inf])
    assert motion.trapezoid(distance, speed, acceleration).duration == pytest.approx(theirs.duration, rel=1e-9)


@settings(max_examples=200, deadline=None)
@given(
    way=st.lists(st.floats(1e-3, 3), min_size=6, max_size=6),
    back=st.lists(st.booleans(), min_size=6, max_size=6),
    speed=sizes,
    acceleration=sizes,
    jerk=st.floats(0.1, 500),
    slowest=st.integers(0, 5),
)
def test_joints_in_step(
    way: list[float], back: list[bool], speed: float, acceleration: float, jerk: float, slowest: int
) -> None:
    way = [-w if turned else w for w, turned in zip(way, back, strict=True)]
    share = [1.0 if i == slowest else 1.3 for i in range(6)]  # how much faster than the slowest each could go
    v, a, j = ([s * abs(w) * limit for s, w in zip(share, way, strict=True)] for limit in (speed, acceleration, jerk))
    theirs = trajectory([0.0] * 6, way, v, a, j)
    profile, _, axis = motion.synchronised([0.0] * 6, way, v, a, j)
    assert axis == slowest
    assert profile.duration == pytest.approx(theirs.duration, rel=1e-6)
    position, _, _ = theirs.at_time(0.3 * theirs.duration)
    assert position == pytest.approx([w * profile.at(0.3 * profile.duration)[0] for w in way], abs=1e-6)
