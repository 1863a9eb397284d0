"""Source: pinocchio (package ``pin``), on the open arms of the package ``example-robot-data`` (URDF, six and seven
axes).

Both read the same files. Tolerances: a few units of rounding, 1e-12 m and 1e-12 for rotations, 1e-11 of the largest
torque. Both hold the same numbers, so that nothing coarser is called for."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np
import pytest

pin = pytest.importorskip("pinocchio", reason="needs the peers: pip install 'armwright[peers]'")

import armwright as aw  # noqa: E402
from cases.peer_arms import configuration, postures, read, robots_folder  # noqa: E402

ARMS = {
    # file below robots/, joints of the arm (a gripper's are locked at zero), tool link
    "ur3": ("ur_description/urdf/ur3_robot.urdf", 6, "ee_link"),
    "ur5": ("ur_description/urdf/ur5_robot.urdf", 6, "ee_link"),
    "ur10": ("ur_description/urdf/ur10_robot.urdf", 6, "ee_link"),
    "panda": ("panda_description/urdf/panda.urdf", 7, "panda_hand"),
    "xarm7": ("xarm_description/urdf/xarm7.urdf", 7, "link7"),
    "kinova": ("kinova_description/robots/kinova.urdf", 6, "j2s6s200_end_effector"),
    "z1": ("z1_description/urdf/z1.urdf", 6, "link06"),
}
COUNT = 200  # postures an arm


@dataclass(frozen=True)
class Both:
    arm: Any
    model: Any
    data: Any
    tool: int
    q: np.ndarray
    qp: list[np.ndarray]


@lru_cache
def both(name: str) -> Both:
    file, count, tool = ARMS[name]
    path = robots_folder() / file
    model = read(path, count)
    q = postures(model, COUNT, seed=sum(name.encode()))
    return Both(
        aw.load_arm(path, tool=tool),
        model,
        model.createData(),
        model.getFrameId(tool),
        q,
        [configuration(model, row) for row in q],
    )


@pytest.fixture(params=ARMS)
def case(request: pytest.FixtureRequest) -> Both:
    return both(request.param)


def close(ours: np.ndarray, theirs: list[np.ndarray], tolerance: float) -> None:
    expected = np.array(theirs)
    assert ours.shape == expected.shape
    scale = max(1.0, float(np.abs(expected).max()))
    np.testing.assert_allclose(ours, expected, rtol=0, atol=tolerance * scale)


def test_tool_poses(case: Both) -> None:
    theirs = []
    for q in case.qp:
        pin.framesForwardKinematics(case.model, case.data, q)
        theirs.append(case.data.oMf[case.tool].homogeneous.copy())
    close(case.arm.tool_pose(case.q), theirs, 1e-12)


def test_link_poses(case: Both) -> None:
    theirs = []
    for q in case.qp:
        pin.forwardKinematics(case.model, case.data, q)
        theirs.append([X.homogeneous.copy() for X in list(case.data.oMi)[1:]])
    close(case.arm.link_poses(case.q), theirs, 1e-12)


def test_jacobians(case: Both) -> None:
    theirs = [
        pin.computeFrameJacobian(case.model, case.data, q, case.tool, pin.LOCAL_WORLD_ALIGNED).copy() for q in case.qp
    ]
    close(case.arm.jacobian(case.q), theirs, 1e-12)


def test_gravity_torques(case: Both) -> None:
    theirs = [pin.computeGeneralizedGravity(case.model, case.data, q).copy() for q in case.qp]
    close(case.arm.gravity_torque(case.q), theirs, 1e-11)


def test_gravity_torques_with_a_load(case: Both) -> None:
    """The same with 2.3 kg carried off the tool's axis: pinocchio is given it as a body on the tool's joint."""
    load = pin.Inertia(2.3, np.array([0.02, -0.05, 0.11]), np.diag([0.01, 0.02, 0.015]))
    model = case.model.copy()
    frame = model.frames[case.tool]
    model.appendBodyToJoint(frame.parentJoint, load, frame.placement)
    data = model.createData()
    theirs = [pin.computeGeneralizedGravity(model, data, q).copy() for q in case.qp]
    ours = case.arm.gravity_torque(case.q, load=aw.Load(2.3, (0.02, -0.05, 0.11), np.diag([0.01, 0.02, 0.015])))
    close(ours, theirs, 1e-11)
    rng = np.random.default_rng(7)
    qd, qdd = rng.normal(size=(2, *case.q.shape))
    theirs = [pin.rnea(model, data, *row).copy() for row in zip(case.qp, qd, qdd, strict=True)]
    ours = case.arm.inverse_dynamics(
        case.q, qd, qdd, load=aw.Load(2.3, (0.02, -0.05, 0.11), np.diag([0.01, 0.02, 0.015]))
    )
    close(ours, theirs, 1e-11)


def test_mass_matrices(case: Both) -> None:
    theirs = []
    for q in case.qp:
        upper = np.triu(pin.crba(case.model, case.data, q))
        theirs.append(upper + np.triu(upper, 1).T)
    close(case.arm.mass_matrix(case.q), theirs, 1e-11)


def test_inverse_dynamics(case: Both) -> None:
    rng = np.random.default_rng(11)
    qd, qdd = rng.normal(0, 2, size=(2, *case.q.shape))
    theirs = [pin.rnea(case.model, case.data, *row).copy() for row in zip(case.qp, qd, qdd, strict=True)]
    close(case.arm.inverse_dynamics(case.q, qd, qdd), theirs, 1e-11)


def test_base_wrench(case: Both) -> None:
    """pinocchio's force on its first joint, carried into the world, its sign turned: what the arm puts on its foot."""
    rng = np.random.default_rng(12)
    qd, qdd = rng.normal(0, 2, size=(2, *case.q.shape))
    theirs = []
    for row in zip(case.qp, qd, qdd, strict=True):
        pin.rnea(case.model, case.data, *row)
        theirs.append(-case.data.liMi[1].act(case.data.f[1]).vector)
    close(case.arm.base_wrench(case.q, qd, qdd), theirs, 1e-11)


def test_limits_and_efforts_are_the_files() -> None:
    """The range and effort of each joint of the ur5 as the file has them (pinocchio's reading)."""
    case = both("ur5")
    far = np.array([np.r_[case.model.lowerPositionLimit], np.r_[case.model.upperPositionLimit]])
    np.testing.assert_allclose(np.array([case.arm.limits.lower, case.arm.limits.upper]), far, atol=1e-12)
