"""The URDF reader against pinocchio on the open arms of the PyPI package example-robot-data (6.0): the same flange
poses, masses, centres and inertias. What pinocchio lumps and what we fold is compared whole: the body that each
joint moves."""

from __future__ import annotations

import sysconfig
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from armwright.describe import load_arm
from cases.chain import motion

pinocchio: Any = pytest.importorskip("pinocchio")
ROBOTS = Path(sysconfig.get_paths()["purelib"]) / "cmeel.prefix/share/example-robot-data/robots"
pytestmark = pytest.mark.skipif(not ROBOTS.is_dir(), reason="example-robot-data is not installed")

ARMS = {
    "ur_description/urdf/ur3_robot.urdf": "tool0",
    "ur_description/urdf/ur5_robot.urdf": "ee_link",
    "ur_description/urdf/ur10_robot.urdf": "tool0",
    "panda_description/urdf/panda.urdf": "panda_hand",
    "xarm_description/urdf/xarm7.urdf": "link_eef",
    "z1_description/urdf/z1.urdf": "gripperStator",
    "kinova_description/robots/kinova.urdf": "j2s6s200_end_effector",
}


@pytest.mark.parametrize(("path", "tool"), ARMS.items())
def test_poses_and_bodies(path: str, tool: str) -> None:
    arm = load_arm(ROBOTS / path, tool=tool)
    whole = pinocchio.buildModelFromUrdf(str(ROBOTS / path))
    still = [joint for joint, name in enumerate(whole.names) if joint and name not in arm.joint_names]
    model = pinocchio.buildReducedModel(whole, still, pinocchio.neutral(whole))
    assert tuple(model.names)[1:] == arm.joint_names
    data = model.createData()
    frame = model.getFrameId(tool, pinocchio.BODY)

    # A gripper's joint whose range leaves out zero stands elsewhere with us than at pinocchio's neutral; none of
    # these does.
    for mine, theirs in zip(arm.links, list(model.inertias)[1:], strict=True):
        assert mine.mass == pytest.approx(theirs.mass, rel=1e-12)
        assert mine.centre == pytest.approx(theirs.lever, abs=1e-9)
        assert mine.inertia == pytest.approx(theirs.inertia, abs=1e-9)
    rng = np.random.default_rng(3)
    for _ in range(20):
        q = rng.uniform(-2, 2, len(arm.joints))
        configuration = pinocchio.integrate(model, pinocchio.neutral(model), q)
        pinocchio.framesForwardKinematics(model, data, configuration)
        pose = np.eye(4)
        for joint, value in zip(arm.joints, q, strict=True):
            pose = pose @ joint.placement @ motion(joint, value)
        assert pose @ arm.flange == pytest.approx(data.oMf[frame].homogeneous, abs=1e-12)


@pytest.mark.parametrize(("path", "tool"), ARMS.items())
def test_limits(path: str, tool: str) -> None:
    arm = load_arm(ROBOTS / path, tool=tool)
    model = pinocchio.buildModelFromUrdf(str(ROBOTS / path))
    for joint in arm.joints:
        theirs = model.joints[model.getJointId(joint.name)]
        assert joint.torque_continuous == joint.torque_peak == model.effortLimit[theirs.idx_v]
        if theirs.nq == 1:
            assert joint.lower == model.lowerPositionLimit[theirs.idx_q]
            assert joint.upper == model.upperPositionLimit[theirs.idx_q]
        else:
            assert joint.lower == -np.inf


@pytest.mark.parametrize("path", ARMS)
def test_all_masses_count(path: str) -> None:
    """The masses of all links, as they stand in the file."""
    etree = pytest.importorskip("lxml.etree")
    masses = etree.parse(str(ROBOTS / path)).xpath("//link/inertial/mass/@value")
    assert load_arm(ROBOTS / path).mass == pytest.approx(sum(map(float, masses)), rel=1e-12)
