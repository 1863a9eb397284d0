from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from armwright import ways
from armwright.describe.pose import make_pose, turn_about

ANGLES = st.floats(-math.pi, math.pi)


def test_a_line() -> None:
    start, end = make_pose(None, (0, 0, 0)), make_pose(turn_about((0, 0, 1), 1.0), (1, 2, 2))
    poses = ways.line(start, end)
    assert len(poses) == math.ceil(3 / 0.02)
    middle = poses[len(poses) // 2 - 1]
    assert middle[:3, 3] == pytest.approx((0.5, 1, 1)) and middle[:3, :3] == pytest.approx(turn_about((0, 0, 1), 0.5))
    assert poses[-1] == pytest.approx(end)


@given(ANGLES, ANGLES, ANGLES)
def test_the_turn_between_two_attitudes_brings_one_into_the_other(a: float, b: float, c: float) -> None:
    start = make_pose(turn_about((1, 0, 0), a) @ turn_about((0, 1, 0), b))
    end = make_pose(turn_about((0, 0, 1), c) @ turn_about((1, 0, 0), b))
    axis, angle = ways.turned(start, end)
    assert 0 <= angle <= math.pi and np.linalg.norm(axis) == pytest.approx(1)
    assert turn_about(axis, angle) @ start[:3, :3] == pytest.approx(end[:3, :3], abs=1e-6)


@pytest.mark.parametrize("axis", [(1, 0, 0), (0, 1, 0), (0, 0, 1), (0.6, 0, 0.8)])
def test_a_half_turn(axis: tuple[float, float, float]) -> None:
    found, angle = ways.turned(np.eye(4), make_pose(turn_about(axis, math.pi)))
    assert angle == pytest.approx(math.pi) and abs(found @ np.array(axis)) == pytest.approx(1)


@given(st.floats(0.1, 6.0), st.floats(0.05, 0.95))
def test_an_arc_keeps_to_its_circle(sweep: float, share: float) -> None:
    """Of a circle of radius 0.4 m about (1, 0, 0) in a tilted plane, from its definition."""
    plane = turn_about((0, 1, 0), 0.7)

    def on_circle(angle: float) -> np.ndarray:
        return np.array((1.0, 0, 0)) + plane @ (0.4 * math.cos(angle), 0.4 * math.sin(angle), 0)

    poses = ways.arc(make_pose(None, on_circle(0)), on_circle(share * sweep), make_pose(None, on_circle(sweep)))
    assert poses is not None
    n = len(poses)
    expected = np.array([on_circle(sweep * (i + 1) / n) for i in range(n)])
    assert poses[:, :3, 3] == pytest.approx(expected, abs=1e-5)


def test_points_in_line_tell_no_circle() -> None:
    start, end = make_pose(None, (0, 0, 0)), make_pose(None, (1, 1, 1))
    assert ways.arc(start, np.array((0.5, 0.5, 0.5)), end) is None
    assert ways.arc(start, np.array((0.0, 0, 0)), end) is None


@given(ANGLES, ANGLES, ANGLES)
def test_no_spin_is_nearer(a: float, b: float, other: float) -> None:
    pose, attitude = make_pose(turn_about((1, 0, 0), a)), turn_about((0, 0, 1), b) @ turn_about((1, 0, 0), a + 0.2)

    def apart(candidate: np.ndarray) -> float:
        return ways.turned(candidate, make_pose(attitude))[1]

    found = ways.nearest_spin(pose, attitude)
    turned = pose.copy()
    turned[:3, :3] = pose[:3, :3] @ turn_about((0, 0, 1), other)
    assert found[:3, 2] == pytest.approx(pose[:3, 2]) and apart(found) <= apart(turned) + 1e-6
