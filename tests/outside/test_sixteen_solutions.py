"""Source: R. Manseur, K. L. Doty, "A robot manipulator with 16 real inverse kinematic solution sets", Int. J.
Robotics Research 8(5), 1989: the arm (no spherical wrist, no three parallel axes) and the pose, from memory; that
there are 16 was recomputed here by Newton's method from 800 random starts with scipy. No arm of six revolute joints
has more.

Tolerance: the pose to 1e-9; the first joint's eight values, recomputed, 2e-5 rad (the pose is printed to 6
digits)."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np

import armwright as aw
from cases.chain import from_dh

DEG = math.pi / 180
POSE = np.array([
    [-0.760117, -0.641689, 0.102262, -1.140175],
    [0.133333, 0.0, 0.991071, 0.0],
    [-0.635959, 0.766965, 0.085558, 0.0],
    [0.0, 0.0, 0.0, 1.0],
])  # fmt: skip
FIRST_JOINT = [-3.10889, -2.10815, -1.68048, -0.22590, 0.04393, 1.54773, 1.98695, 2.93777]  # rad, each twice


def test_all_sixteen(tmp_path: Path) -> None:
    rows = [
        {"a": a, "d": d, "alpha": alpha * DEG, "mass": 1.0}
        for a, d, alpha in [(0.3, 0, 90), (1, 0, 1), (0, 0.2, 90), (1.5, 0, 1), (0, 0, 90), (0, 0, 1)]
    ]
    chain = from_dh("sixteen", rows)
    arm = aw.load_arm(chain.write_urdf(tmp_path), tool="tool")
    u, _, v = np.linalg.svd(POSE[:3, :3])  # six printed digits are not quite a rotation
    pose = POSE.copy()
    pose[:3, :3] = u @ v
    answer = arm.solve(pose)
    found = answer.q[answer.valid]
    assert len(found) == 16
    np.testing.assert_allclose(arm.tool_pose(found), np.broadcast_to(pose, (16, 4, 4)), atol=1e-9)
    gaps = np.abs((found[:, None] - found[None] + math.pi) % (2 * math.pi) - math.pi).max(axis=2)
    assert (gaps[~np.eye(16, dtype=bool)] > 1e-2).all()
    np.testing.assert_allclose(np.sort(found[:, 0]), np.repeat(FIRST_JOINT, 2), atol=2e-5)
