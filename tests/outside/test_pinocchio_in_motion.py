"""Source: pinocchio (general-purpose rigid-body library), its recursive Newton-Euler and mass matrix, on the ur5 of the
example-robot-data package. Efforts and speeds as in its URDF; gears of 100, motors that give the effort, rotors of
1e-4 kg m² and no losses are our own: so that the axis gives its torque and 1 kg m² times its acceleration."""

from __future__ import annotations

from dataclasses import replace
from itertools import product
from typing import Any

import numpy as np
import pytest

pin = pytest.importorskip("pinocchio", reason="needs the peers: pip install 'armwright[peers]'")

import armwright as aw  # noqa: E402
from cases.peer_arms import postures, read, robots_folder  # noqa: E402

CENTRE = np.array([0.05, 0.0, 0.1])
EFFORT, SPEED = np.array([150.0, 150, 150, 28, 28, 28]), np.array([3.15, 3.15, 3.15, 3.2, 3.2, 3.2])


def driven() -> tuple[Any, aw.Arm]:
    path = robots_folder() / "ur_description/urdf/ur5_robot.urdf"
    described = aw.load_arm(path, tool="ee_link").description
    joints = []
    for joint, effort, speed in zip(described.joints, EFFORT, SPEED, strict=True):
        assert joint.torque_peak == effort
        motor = aw.Motor(continuous=effort / 100, peak=effort / 100, rotor_inertia=1e-4, max_speed=1000)
        drive = aw.Drive(motor, (aw.Stage("gear", 100, 1.0, 1.0),))
        joints.append(replace(joint, drive=drive, torque_continuous=np.inf, torque_peak=np.inf, speed=speed,
                              acceleration=8.0))  # fmt: skip
    return read(path, 6), aw.Arm(replace(described, joints=tuple(joints)))


MODEL, ARM = driven()
Q = postures(MODEL, 30, 4) / 2


def loaded(mass: float) -> Any:
    """pinocchio's model with a point mass at the load centre."""
    model = MODEL.copy()
    frame = model.frames[model.getFrameId("ee_link")]
    inertia = pin.Inertia(mass, CENTRE, np.zeros((3, 3)))
    model.appendBodyToJoint(frame.parentJoint, inertia, frame.placement)
    return model


def used(model: Any, q: Any, speed: Any, acceleration: Any) -> Any:
    return np.abs(pin.rnea(model, model.createData(), q, speed, acceleration) + 1.0 * acceleration) / EFFORT


def test_tool_acceleration_in_its_worst_direction() -> None:
    """Torque is linear in the acceleration: each axis' worst direction is its gradient's, by pinocchio's mass matrix
    and Jacobian. At the mass answered the most used axis is at 1 to 1e-8; or a joint would need more than 8 rad/s²."""
    answer = ARM.payload_in_motion(Q, CENTRE, tool_acceleration=1.2)
    checked = 0
    for i, q in enumerate(Q):
        model = loaded(float(answer.mass[i]) or 1e-9)
        data = model.createData()
        jacobian = pin.computeFrameJacobian(model, data, q, model.getFrameId("ee_link"), pin.LOCAL_WORLD_ALIGNED)
        ways = np.linalg.inv(jacobian)[:, :3]
        fast = 1.2 * np.linalg.norm(ways, axis=1).max() > 8
        assert fast == (str(answer.limit[i]) == "joint acceleration")
        if fast:
            assert answer.mass[i] == 0
            continue
        inertia = pin.crba(model, data, q)
        inertia = np.triu(inertia) + np.triu(inertia, 1).T + np.eye(6)
        hold = pin.rnea(model, data, q, np.zeros(6), np.zeros(6))
        worst = (np.abs(hold) + 1.2 * np.linalg.norm(inertia @ ways, axis=1)) / EFFORT
        if answer.mass[i] > 0:
            checked += 1
            assert worst.max() == pytest.approx(1, rel=1e-8)
            assert ARM.joint_names[int(worst.argmax())] == str(answer.joint_name[i])
        else:
            assert worst.max() > 1
    assert checked > 6


@pytest.mark.parametrize(("speed", "acceleration"), [(0.6, 0.0), (0.0, 0.4)])
def test_joint_speeds_and_accelerations_of_all_signs(speed: float, acceleration: float) -> None:
    """All 64 combinations by pinocchio's Newton-Euler: the most used axis is at 1 to 1e-8."""
    answer = ARM.payload_in_motion(Q, CENTRE, speed_share=speed, joint_acceleration=acceleration)
    signs = np.array(list(product((-1.0, 1.0), repeat=6)))
    speeds, checked = np.asarray(MODEL.velocityLimit) * speed, 0
    np.testing.assert_array_equal(MODEL.velocityLimit, SPEED)
    for q, mass in zip(Q, answer.mass, strict=True):
        model = loaded(float(mass) or 1e-9)
        still = used(model, q, np.zeros(6), np.zeros(6)).max()
        worst = max(still, *(used(model, q, s * speeds, s * 8.0 * acceleration).max() for s in signs))
        if mass > 0:
            checked += 1
            assert worst == pytest.approx(1, rel=1e-8)
        else:
            assert worst > 1
    assert checked > 5
