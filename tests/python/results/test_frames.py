"""Link frames of a scene against matrix exponentials of the joints' twists (scipy.linalg.expm)."""

import numpy as np
import pytest
from scipy.linalg import expm

from armwright.results.frames import base_pose, link_pose, link_poses, tool_pose
from cases import sample_results as sample


def _twist(joint):
    x, y, z = joint.axis
    twist = np.zeros((4, 4))
    if joint.kind == "prismatic":
        twist[:3, 3] = joint.axis
    else:
        twist[:3, :3] = [[0, -z, y], [z, 0, -x], [-y, x, 0]]
    return twist


@pytest.mark.parametrize("seed", range(5))
def test_every_link(seed):
    scene = sample.scene()
    q = np.random.default_rng(seed).uniform(-3, 3, 7)
    pose, poses = np.eye(4), link_poses(scene, q)
    for i, joint in enumerate(scene.joints):
        pose = pose @ joint.placement @ expm(q[i] * _twist(joint))
        assert np.allclose(poses[i], pose, atol=1e-12)
    assert np.allclose(tool_pose(scene, q), pose @ scene.tool, atol=1e-12)
    assert np.allclose(base_pose(scene, q), poses[0] @ scene.base)


def test_the_scenes_own_posture_and_the_world():
    scene = sample.scene()
    assert np.array_equal(link_poses(scene), link_poses(scene, scene.q))
    assert np.array_equal(link_pose(link_poses(scene), -1), np.eye(4))
