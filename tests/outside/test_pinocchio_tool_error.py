"""Source: pinocchio (package ``pin``): joint Jacobians, and forward kinematics of models whose placements were moved,
for errors of the tool; the pull of weight on a free arm (a free-flyer root) for how it hangs, and centres of gravity.

Tolerances: rounding; against moved placements the third order of the amounts (half of each taken each way)."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

pin = pytest.importorskip("pinocchio", reason="needs the peers: pip install 'armwright[peers]'")

import armwright as aw  # noqa: E402
from cases.arms import puma560  # noqa: E402
from cases.described import described  # noqa: E402
from cases.driven_cells import motor  # noqa: E402
from cases.peer_arms import built, robots_folder  # noqa: E402

SIX = ("x", "y", "z", "roll", "pitch", "yaw")
AMOUNTS = (3e-4, 2e-4, 5e-4, 4e-4, 6e-4, 3e-4)
URDF = {"ur5": "ur_description/urdf/ur5_robot.urdf", "xarm7": "xarm_description/urdf/xarm7.urdf"}


def with_errors(arm: aw.ArmDescription) -> aw.Cell:
    """The arm with play on every axis and tolerances of every place."""
    drive = aw.Drive(motor(encoder_counts=2000), (aw.Stage("cycloidal", 80.0, backlash="2 arcmin"),))
    cell = aw.Cell(replace(arm, joints=tuple(replace(joint, drive=drive) for joint in arm.joints)))
    told = {}
    for joint in arm.joints:
        for word, amount in zip(SIX, AMOUNTS, strict=True):
            path = f"arm.joints[{joint.name}].placement.{word}"
            unit = "m" if word in "xyz" else "rad"
            told[path] = f"{cell.design_number(path).value!r} {unit} ± {amount!r} {unit}"
    return cell.with_numbers(told)


def moved_tool(model: Any, q: Any, joint: int, by: Any) -> Any:
    """The tool in pinocchio with one joint's placement replaced."""
    other = model.copy()
    other.jointPlacements[joint] = by
    data = other.createData()
    pin.framesForwardKinematics(other, data, q)
    return data.oMf[other.getFrameId("tool")].copy()


def test_errors_of_joints_and_places() -> None:
    chain = puma560(0.67)
    model, cell = built(chain), with_errors(described(chain))
    for q in np.random.default_rng(8).uniform(-2, 2, (5, 6)):
        found = cell.tool_error(q)
        data = model.createData()
        frame = model.getFrameId("tool")
        jacobian = pin.computeFrameJacobian(model, data, q, frame, pin.LOCAL_WORLD_ALIGNED)
        for i, joint in enumerate(cell.description.arm.joints):
            effects = found.sel(cause=f"{joint.name}, cycloidal: backlash")
            theirs = jacobian[:, i] * np.radians(2 / 60) / 2
            np.testing.assert_allclose(effects.position_effect, theirs[:3], atol=1e-15)
            np.testing.assert_allclose(effects.attitude_effect, theirs[3:], atol=1e-15)
            place = model.jointPlacements[i + 1]
            angles = pin.rpy.matrixToRpy(place.rotation)
            for k, (word, amount) in enumerate(zip(SIX, AMOUNTS, strict=True)):
                ends = []
                for side in (0.5, -0.5):
                    shift, turn = place.translation.copy(), angles.copy()
                    (shift if k < 3 else turn)[k % 3] += side * amount
                    ends.append(moved_tool(model, q, i + 1, pin.SE3(pin.rpy.rpyToMatrix(turn), shift)))
                row = found.sel(cause=f"{joint.name}: place, {word}")
                turned = pin.log3(ends[0].rotation @ ends[1].rotation.T)
                np.testing.assert_allclose(row.position_effect, ends[0].translation - ends[1].translation, atol=1e-10)
                np.testing.assert_allclose(row.attitude_effect, turned, atol=1e-10)


@pytest.mark.parametrize("name", URDF)
def test_an_arm_hung_from_an_eye_is_at_rest(name: str) -> None:
    """pinocchio's arm floats freely, its base turned as ours says that it hangs: the pull in the eye that carries all
    weight leaves nothing on the root's six freedoms, and our torques on the joints."""
    path = robots_folder() / URDF[name]
    theirs = pin.buildModelFromUrdf(str(path), pin.JointModelFreeFlyer())
    arm = aw.load_arm(path).description
    links = tuple(replace(link, shapes=(), pictures=()) for link in arm.links)  # what stands in the way is not asked
    arm = replace(arm, links=links, base_link=replace(arm.base_link, shapes=(), pictures=()))
    n = len(arm.joints)
    assert theirs.nv == n + 6
    theirs.gravity.linear = np.array([0, 0, -9.80665])
    data = theirs.createData()
    rng = np.random.default_rng(4)
    for link in (0, 2, 4):
        eye = rng.uniform(-0.2, 0.2, 3)
        cell = aw.Cell.from_description(
            aw.CellDescription(arm, lifting=(aw.LiftingEye(arm.link_names[link], eye),))
        )
        q = rng.uniform(-1.5, 1.5, n)
        found = cell.lifting(q)
        centre, point = found.centre.values, found.eye_point.values[0]
        below = (centre - point) / np.linalg.norm(centre - point)
        root = pin.SE3(pin.Quaternion.FromTwoVectors(below, np.array([0, 0, -1.0])).matrix(), np.zeros(3))
        full = np.concatenate([pin.SE3ToXYZQUAT(root), q])
        pulls = pin.computeGeneralizedGravity(theirs, data, full).copy()
        mass = found.attrs["mass"]
        assert mass == pytest.approx(pin.computeTotalMass(theirs), rel=1e-12)
        np.testing.assert_allclose(root.act(centre), pin.centerOfMass(theirs, data, full), atol=1e-12)
        place = pin.SE3(np.eye(3), eye)
        pin.framesForwardKinematics(theirs, data, full)
        holder = theirs.getFrameId(arm.link_names[link])
        frame = theirs.addFrame(pin.Frame(f"eye {link}", theirs.frames[holder].parentJoint,
                                          theirs.frames[holder].placement * place, pin.FrameType.OP_FRAME))  # fmt: skip
        data = theirs.createData()
        jacobian = pin.computeFrameJacobian(theirs, data, full, frame, pin.LOCAL_WORLD_ALIGNED)
        left = pulls - jacobian[:3].T @ np.array([0, 0, mass * 9.80665])
        np.testing.assert_allclose(left[:6], 0, atol=1e-9 * mass * 9.80665)
        np.testing.assert_allclose(found.hung_torque.values[0], left[6:], atol=1e-9 * mass * 9.80665)
        assert float(found.tilt.item()) == pytest.approx(float(np.arccos(-below[2])), rel=1e-9)

