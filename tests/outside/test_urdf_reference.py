"""Source: yourdfpy, another reader of URDF, on the open arms of example-robot-data: link names, joint limits, and
the poses of all links by its own scene graph. Tolerance 1e-12 m (both multiply the file's own numbers)."""

from __future__ import annotations

import math

import numpy as np
import pytest

yourdfpy = pytest.importorskip("yourdfpy", reason="needs the peers: pip install 'armwright[peers]'")
pytest.importorskip("pinocchio", reason="needs the peers: pip install 'armwright[peers]'")
import armwright as aw  # noqa: E402
from cases.peer_arms import robots_folder  # noqa: E402

ARMS = {
    "ur5": ("ur_description/urdf/ur5_robot.urdf", "ee_link"),
    "panda": ("panda_description/urdf/panda.urdf", "panda_hand"),
    "xarm7": ("xarm_description/urdf/xarm7.urdf", "link7"),
    "z1": ("z1_description/urdf/z1.urdf", "link06"),
}


@pytest.mark.parametrize("name", ARMS)
def test_links_and_limits(name: str) -> None:
    file, tool = ARMS[name]
    path = robots_folder() / file
    arm = aw.load_arm(path, tool=tool)
    other = yourdfpy.URDF.load(str(path), load_meshes=False, build_scene_graph=True)
    joints = [other.joint_map[joint] for joint in arm.joint_names]
    assert [j.limit.lower for j in joints] == pytest.approx(list(arm.limits.lower))
    assert [j.limit.upper for j in joints] == pytest.approx(list(arm.limits.upper))
    assert [j.limit.effort for j in joints] == pytest.approx(list(arm.limits.torque_continuous))
    rng = np.random.default_rng(3)
    for _ in range(20):
        q = rng.uniform(np.maximum(arm.limits.lower, -math.pi), np.minimum(arm.limits.upper, math.pi))
        other.update_cfg(dict(zip(arm.joint_names, q, strict=True)))
        theirs = [other.get_transform(joint.child, other.base_link) for joint in joints]
        np.testing.assert_allclose(arm.link_poses(q), theirs, atol=1e-12)
        np.testing.assert_allclose(arm.tool_pose(q), other.get_transform(tool, other.base_link), atol=1e-12)
