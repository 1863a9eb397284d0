"""Source: pinocchio (general-purpose rigid-body library): computeRNEADerivatives and computeJointTorqueRegressor, on
arms of the example-robot-data package. Against them: differences of the program's own kernel by positions, speeds and
accelerations, and derivatives by design numbers through the whole way from a name to a compiled cell."""

from __future__ import annotations

from functools import partial
from typing import Any

import numpy as np
import pytest

pin = pytest.importorskip("pinocchio", reason="needs the peers: pip install 'armwright[peers]'")

import armwright as aw  # noqa: E402
from armwright.describe.pose import angles_of  # noqa: E402
from armwright.designs.derivatives import derivatives_of  # noqa: E402
from cases.peer_arms import postures, read, robots_folder  # noqa: E402

ARMS = {
    "ur5": ("ur_description/urdf/ur5_robot.urdf", "ee_link", 6),
    "panda": ("panda_description/urdf/panda.urdf", "panda_link8", 7),
    "z1": ("z1_description/urdf/z1.urdf", "link06", 6),
}


@pytest.fixture(scope="module", params=ARMS)
def arm(request: pytest.FixtureRequest) -> tuple[Any, aw.Cell]:
    path, tool, count = ARMS[request.param]
    file = robots_folder() / path
    return read(file, count), aw.Cell(aw.load_arm(file, tool=tool))


def moving(model: Any, seed: int) -> tuple[Any, Any, Any]:
    rng = np.random.default_rng(seed)
    return postures(model, 1, seed)[0], rng.uniform(-2, 2, model.nv), rng.uniform(-5, 5, model.nv)


def rnea_derivatives(model: Any, told: Any) -> list[Any]:
    """By position, speed and acceleration, whole: pinocchio gives views of its data, of the last one the upper half."""
    data = model.createData()
    by_q, by_qd, inertia = (np.array(each) for each in pin.computeRNEADerivatives(model, data, *told))
    return [by_q, by_qd, np.triu(inertia) + np.triu(inertia, 1).T]


@pytest.mark.parametrize("seed", range(4))
def test_torques_by_position_speed_and_acceleration(arm: tuple[Any, aw.Cell], seed: int) -> None:
    """Central differences at two steps, extrapolated; their error is of the fourth order."""
    model, cell = arm
    told = moving(model, seed)
    for place, full in enumerate(rnea_derivatives(model, told)):
        found = np.empty_like(full)
        for k in range(model.nv):
            slopes = []
            for step in (2e-3, 1e-3):
                either = []
                for sign in (1, -1):
                    values = [each.copy() for each in told]
                    values[place][k] += sign * step
                    either.append(cell.inverse_dynamics(*values))
                slopes.append((either[0] - either[1]) / (2 * step))
            found[:, k] = slopes[1] + (slopes[1] - slopes[0]) / 3
        assert np.abs(found - full).max() <= 2e-9 * np.abs(full).max()


def torque(told: Any, joint: int, cell: aw.Cell) -> float:
    return float(cell.inverse_dynamics(*told)[joint])


def test_torques_by_masses_and_first_moments(arm: tuple[Any, aw.Cell]) -> None:
    """pinocchio's regressor by mass m, first moment m c and inertia about the joint's frame, folded to mass and centre
    at constant inertia about the centre: dI = m ((2 c·e) 1 - (e cT + c eT)) dc, dI = (c·c 1 - c cT) dm."""
    model, cell = arm
    told = moving(model, 11)
    data = model.createData()
    regressor = np.array(pin.computeJointTorqueRegressor(model, data, *told))
    n = model.nv
    for link in (1, n - 2):
        columns = regressor[:, 10 * link : 10 * link + 10]
        inertia = model.inertias[link + 1]
        mass, centre = inertia.mass, inertia.lever
        own = cell.description.arm.links[link]
        assert (own.mass, own.centre) == (pytest.approx(mass), pytest.approx(centre))
        paths = [f"arm.links[{own.name}].{key}" for key in ("mass", "centre.x", "centre.y", "centre.z")]
        answers = [aw.Answer(f"torque {j}", "N*m", partial(torque, told, j)) for j in range(n)]
        asked = [answer.ask(cell) for answer in answers]
        rows = [derivatives_of(cell.description, cell.design_number(path), answers, asked) for path in paths]
        found = np.array([[each.value for each in row] for row in rows]).T
        wanted = np.empty((n, 4))
        about_frame = (centre @ centre) * np.eye(3) - np.outer(centre, centre)
        wanted[:, 0] = columns @ np.concatenate([[1], centre, six(about_frame)])
        for axis in range(3):
            e = np.eye(3)[axis]
            change = mass * (2 * centre[axis] * np.eye(3) - np.outer(e, centre) - np.outer(centre, e))
            wanted[:, axis + 1] = columns @ np.concatenate([[0], mass * e, six(change)])
        assert np.abs(found - wanted).max() <= 1e-8 * np.abs(wanted).max()


def six(tensor: Any) -> Any:
    """As pinocchio orders an inertia: xx, xy, yy, xz, yz, zz."""
    return tensor[[0, 0, 1, 0, 1, 2], [0, 1, 1, 2, 2, 2]]


def test_a_joint_s_placement_turned_about_its_axis_is_its_position(arm: tuple[Any, aw.Cell]) -> None:
    """Rz(yaw) Ry(pitch) Rx(roll) turns about the joint's own axis by roll where that is x, by pitch where it is y and
    roll is 0, by yaw where it is z and both are 0: there the derivative by the placement is that by the position."""
    model, cell = arm
    told = moving(model, 7)
    by_position = rnea_derivatives(model, told)[0]
    answers = [aw.Answer(f"torque {j}", "N*m", partial(torque, told, j)) for j in range(model.nv)]
    asked = [answer.ask(cell) for answer in answers]
    checked = 0
    for k, joint in enumerate(cell.description.arm.joints):
        roll, pitch, _ = angles_of(joint.placement[:3, :3])
        axis = int(np.argmax(np.abs(joint.axis)))
        plain = (True, roll == 0, roll == pitch == 0)[axis]
        if not plain or abs(joint.axis[axis]) != 1 or abs(abs(pitch) - np.pi / 2) < 1e-6:
            continue
        word = ("roll", "pitch", "yaw")[axis]
        number = cell.design_number(f"arm.joints[{joint.name}].placement.{word}")
        row = derivatives_of(cell.description, number, answers, asked)
        found = np.array([each.value for each in row]) * joint.axis[axis]
        assert np.abs(found - by_position[:, k]).max() <= 1e-7 * np.abs(by_position).max()
        checked += 1
    assert checked >= 1
