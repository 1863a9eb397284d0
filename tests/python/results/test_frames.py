"""Link frames of a scene against matrix exponentials of the joints' twists (scipy.linalg.expm)."""

import numpy as np
import pytest

from armwright.results.frames import base_pose, link_pose, link_poses, tool_pose
from cases import sample_results as sample
from cases.exponentials import links_by_exponentials


@pytest.mark.parametrize("seed", range(5))
def test_every_link(seed):
    scene = sample.scene()
    q = np.random.default_rng(seed).uniform(-3, 3, 7)
    poses, expected = link_poses(scene, q), links_by_exponentials(scene, q)
    assert np.allclose(poses, expected, atol=1e-12)
    assert np.allclose(tool_pose(scene, q), expected[-1] @ scene.tool, atol=1e-12)
    assert np.allclose(base_pose(scene, q), poses[0] @ scene.base)


def test_the_scenes_own_posture_and_the_world():
    scene = sample.scene()
    assert np.array_equal(link_poses(scene), link_poses(scene, scene.q))
    assert np.array_equal(link_pose(link_poses(scene), -1), np.eye(4))
