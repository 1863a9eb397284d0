"""The Stanford arm, whose third joint slides. Denavit-Hartenberg figures of R. P. Paul, "Robot Manipulators", 1981, as
seen in mdl_stanford.m of robotics-toolbox-matlab. Kinematics only: the centres of gravity printed there cannot be
metres. The count of answers follows from the geometry: the slide either way and the shoulder either side, two wrists
each."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

import armwright as aw
from cases.described import at

TURN = (-math.pi, math.pi)
SLIDE = 2  # its place among the joints


def apart(a: Any, b: Any) -> Any:
    """The largest difference of any joint, turns less whole turns."""
    gap = a - b
    turned = gap - 2 * math.pi * np.round(gap / (2 * math.pi))
    turned[..., SLIDE] = gap[..., SLIDE]
    return np.abs(turned).max(axis=-1)


def test_eight_answers_and_the_posture_among_them() -> None:
    quarter = math.pi / 2
    rx = lambda angle: [[1, 0, 0], [0, math.cos(angle), -math.sin(angle)], [0, math.sin(angle), math.cos(angle)]]  # noqa: E731
    ry = [[0, 1, 0], [-1, 0, 0], [0, 0, 1]]  # Rz(-90 deg), of row 3
    joints = [
        aw.Joint("axis 1", range=TURN),
        aw.Joint("axis 2", placement=at((0, 0, 0.412), rx(-quarter)), range=TURN),
        aw.Joint("axis 3", "prismatic", at((0, 0, 0.154), rx(quarter)), range=("0.3048 m", "1.27 m")),
        aw.Joint("axis 4", placement=at((0, 0, 0), ry), range=TURN),
        aw.Joint("axis 5", placement=at((0, 0, 0), rx(-quarter)), range=TURN),
        aw.Joint("axis 6", placement=at((0, 0, 0), rx(quarter)), range=TURN),
    ]
    links = tuple(aw.Link(f"link {i}") for i in range(1, 7))
    stanford = aw.Arm(aw.ArmDescription(tuple(joints), links, "Stanford arm", flange=(0, 0, 0.263)))
    limits = stanford.limits
    q = np.random.default_rng(12).uniform(limits.lower, limits.upper, (2000, 6))
    # Row by row, by hand.
    pose = np.eye(4)
    for theta, d, alpha in (
        (0.4, 0.412, -90),
        (-0.7, 0.154, 90),
        (-quarter, 0.6, 0),
        (0.5, 0, -90),
        (1.1, 0, 90),
        (-0.3, 0.263, 0),
    ):
        turn = [[math.cos(theta), -math.sin(theta), 0], [math.sin(theta), math.cos(theta), 0], [0, 0, 1]]
        pose = pose @ at((0, 0, d), turn) @ at((0, 0, 0), rx(math.radians(alpha)))
    np.testing.assert_allclose(stanford.tool_pose((0.4, -0.7, 0.6, 0.5, 1.1, -0.3)), pose, atol=1e-12)
    found = stanford.solve(stanford.tool_pose(q), within_limits=False)
    assert (found.count == 8).all()
    assert np.where(found.valid, apart(found.q, q[:, None]), np.inf).min(axis=1).max() < 1e-6
    reached = stanford.tool_pose(found.q[found.valid]).reshape(-1, 8, 4, 4)
    np.testing.assert_allclose(reached, np.broadcast_to(stanford.tool_pose(q)[:, None], reached.shape), atol=1e-9)
    # The slide comes out as far one way as the other: four answers within the stroke.
    assert (stanford.solve(stanford.tool_pose(q)).count == 4).all()
