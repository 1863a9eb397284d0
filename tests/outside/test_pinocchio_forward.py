"""Source: pinocchio (package ``pin``): aba, crba, rnea and the Coriolis matrix with rotors, on the open arms of the
package ``example-robot-data``.

pinocchio is given the rotors as ``rotorInertia`` and ``rotorGearRatio``; what its algorithms add to the joints is its
``armature``, set here from the two by their meaning, ratio² times inertia. We are given them as motors and stages.
Tolerances: rounding, 1e-11 of the largest; accelerations 1e-8, since small joints divide by little."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from typing import Any

import numpy as np
import pytest

pin = pytest.importorskip("pinocchio", reason="needs the peers: pip install 'armwright[peers]'")

import armwright as aw  # noqa: E402
from cases.peer_arms import configuration, postures, read, robots_folder  # noqa: E402

ARMS = {
    "ur5": ("ur_description/urdf/ur5_robot.urdf", 6, "ee_link"),
    "ur10": ("ur_description/urdf/ur10_robot.urdf", 6, "ee_link"),
    "panda": ("panda_description/urdf/panda.urdf", 7, "panda_hand"),
    "xarm7": ("xarm_description/urdf/xarm7.urdf", 7, "link7"),
    "kinova": ("kinova_description/robots/kinova.urdf", 6, "j2s6s200_end_effector"),
    "z1": ("z1_description/urdf/z1.urdf", 6, "link06"),
}
COUNT = 50


@lru_cache
def both(name: str) -> tuple[Any, Any, Any, list[Any]]:
    """Our arm and pinocchio's model, with the same rotors; postures ours and theirs."""
    file, count, tool = ARMS[name]
    path = robots_folder() / file
    model = read(path, count)
    rng = np.random.default_rng(sum(name.encode()))
    inertia, ratio = rng.uniform(1e-5, 4e-4, count), rng.uniform(30, 160, count)
    model.rotorInertia, model.rotorGearRatio = inertia, ratio
    model.armature = ratio**2 * inertia
    arm = aw.load_arm(path, tool=tool).description
    joints = [
        replace(joint, drive=aw.Drive(
            aw.Motor(continuous=1.0, peak=3.0, rotor_inertia=inertia[i], max_speed=600.0),
            [aw.Stage("strain wave", ratio[i], efficiency=0.8)],
        ))
        for i, joint in enumerate(arm.joints)
    ]  # fmt: skip
    q = postures(model, COUNT, seed=sum(name.encode()) + 1)
    return aw.Arm(replace(arm, joints=tuple(joints))), model, q, [configuration(model, row) for row in q]


@pytest.fixture(params=ARMS)
def case(request: pytest.FixtureRequest) -> tuple[Any, Any, Any, list[Any]]:
    return both(request.param)


def close(ours: Any, theirs: list[Any], tolerance: float) -> None:
    expected = np.array(theirs)
    np.testing.assert_allclose(ours, expected, rtol=0, atol=tolerance * max(1.0, float(np.abs(expected).max())))


def test_forward_dynamics(case: tuple[Any, Any, Any, list[Any]]) -> None:
    arm, model, q, qp = case
    qd, tau = np.random.default_rng(3).normal(0, (1, 20), size=(*q.shape, 2)).transpose(2, 0, 1)
    data = model.createData()
    theirs = [pin.aba(model, data, *row).copy() for row in zip(qp, qd, tau, strict=True)]
    close(arm.forward_dynamics(q, qd, tau), theirs, 1e-8)
    still = model.copy()
    still.armature = np.zeros(model.nv)
    data = still.createData()
    theirs = [pin.aba(still, data, *row).copy() for row in zip(qp, qd, tau, strict=True)]
    close(arm.forward_dynamics(q, qd, tau, drives=False), theirs, 1e-8)


def test_inverse_dynamics_and_mass_matrices_with_rotors(case: tuple[Any, Any, Any, list[Any]]) -> None:
    arm, model, q, qp = case
    qd, qdd = np.random.default_rng(4).normal(0, 2, size=(2, *q.shape))
    data = model.createData()
    theirs = [pin.rnea(model, data, *row).copy() for row in zip(qp, qd, qdd, strict=True)]
    close(arm.inverse_dynamics(q, qd, qdd, drives=True), theirs, 1e-11)
    matrices = []
    for row in qp:
        upper = np.triu(pin.crba(model, data, row))
        matrices.append(upper + np.triu(upper, 1).T)
    close(arm.mass_matrix(q, drives=True), matrices, 1e-11)


def test_coriolis(case: tuple[Any, Any, Any, list[Any]]) -> None:
    """Torque of speed alone: rotors that are carried round add nothing, in both."""
    arm, model, q, qp = case
    qd = np.random.default_rng(5).normal(0, 2, size=q.shape)
    data = model.createData()
    theirs = [pin.computeCoriolisMatrix(model, data, a, b).copy() @ b for a, b in zip(qp, qd, strict=True)]
    close(arm.inverse_dynamics(q, qd, 0, drives=True) - arm.gravity_torque(q), theirs, 1e-11)
