"""Source: mujoco (package ``mujoco``): ``cfrc_int``, the force between each body and its parent, from its own recursion
in world axes (torque, then force, about the centre of mass of the whole arm), for given accelerations.

Tolerance 1e-9 of the largest: the model goes through decimal text."""

from __future__ import annotations

import numpy as np
import pytest

mujoco = pytest.importorskip("mujoco", reason="needs the peers: pip install 'armwright[peers]'")

import armwright as aw  # noqa: E402
from cases.arms import spherical_arm, track_arm  # noqa: E402
from cases.chain import Chain  # noqa: E402
from cases.described import described  # noqa: E402
from cases.mujoco_arm import model_of  # noqa: E402


@pytest.mark.parametrize("chain", [spherical_arm(), track_arm(1.0)], ids=lambda chain: chain.name)
def test_joint_wrenches(chain: Chain) -> None:
    n = chain.count
    arm = aw.Arm(described(chain))
    model = model_of(chain, np.zeros(n), np.zeros(n), np.zeros(n), "")
    data = mujoco.MjData(model)
    q, qd, qdd = np.random.default_rng(3).uniform(-1, 1, (3, 30, n))
    ours, frames = arm.joint_wrench(q, qd, 4 * qdd), arm.link_poses(q)
    size = np.abs(ours).max()
    for row in range(len(q)):
        data.qpos[:], data.qvel[:], data.qacc[:] = q[row], qd[row], 4 * qdd[row]
        mujoco.mj_fwdPosition(model, data)
        mujoco.mj_fwdVelocity(model, data)
        data.qacc[:] = 4 * qdd[row]
        mujoco.mj_rnePostConstraint(model, data)
        for i in range(n):
            moment, force = data.cfrc_int[i + 1, :3], data.cfrc_int[i + 1, 3:]
            R, origin = frames[row, i, :3, :3], frames[row, i, :3, 3]
            about = moment + np.cross(data.subtree_com[1] - origin, force)
            theirs = np.concatenate([R.T @ force, R.T @ about])
            np.testing.assert_allclose(ours[row, i], theirs, rtol=0, atol=1e-9 * size)
