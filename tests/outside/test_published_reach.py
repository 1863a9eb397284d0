"""Source: published reach and rated payload of open arms (files: package example-robot-data).

Reach: "published reach" has no single definition (some makers count to the flange, some to the last wrist joint),
so each line says to which point it is compared, and the tolerance is 10 %. What is computed: the greatest distance
of that point from axis 1, over all postures within the limits, found by search over our link poses.
Payload: the joint efforts in the URDF files hold the rated payload at the tool frame with the arm stretched out
level. That is all that can be asked: makers rate for motion and life, so that the effort must hold more than the
rating, here up to six times. The ur3's file carries the efforts of the largest of its family, a known error of the
data, and is left out."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

pytest.importorskip("pinocchio", reason="needs the peers: pip install 'armwright[peers]'")
import armwright as aw
from cases.peer_arms import postures, read, robots_folder

REACH = {
    # file, joints, tool link, link whose origin is meant (-1: the tool frame), published reach in m, where it was
    # seen
    "panda": ("panda_description/urdf/panda.urdf", 7, "panda_link8", -1, 0.855),  # seen: two public pages
    "ur10": ("ur_description/urdf/ur10_robot.urdf", 6, "ee_link", 5, 1.300),  # seen: the maker's page of the same class
    "ur5": ("ur_description/urdf/ur5_robot.urdf", 6, "ee_link", 4, 0.850),  # from memory; to the second wrist joint
    "ur3": ("ur_description/urdf/ur3_robot.urdf", 6, "ee_link", 4, 0.500),  # from memory; to the second wrist joint
    "xarm7": ("xarm_description/urdf/xarm7.urdf", 7, "link7", 5, 0.700),  # from memory; to joint 6
}
RATED = {
    # file, joints, tool link, rated payload in kg
    "panda": ("panda_description/urdf/panda.urdf", 7, "panda_link8", 3.0),
    "ur10": ("ur_description/urdf/ur10_robot.urdf", 6, "ee_link", 10.0),
    "ur5": ("ur_description/urdf/ur5_robot.urdf", 6, "ee_link", 5.0),
}


def arm_of(file: str, tool: str) -> Any:
    return aw.load_arm(robots_folder() / file, tool=tool)


def point(arm: Any, q: np.ndarray, link: int) -> np.ndarray:
    return arm.tool_pose(q)[..., :3, 3] if link < 0 else arm.link_poses(q)[..., link, :3, 3]


def farthest(arm: Any, model: Any, link: int) -> tuple[float, np.ndarray]:
    """Greatest distance from axis 1, and where: many random postures, the best ones improved by shrinking random
    steps."""
    rng = np.random.default_rng(0)
    lower, upper = postures_range(model)
    q = postures(model, 40_000, seed=1)
    radius = np.hypot(*np.moveaxis(point(arm, q, link)[:, :2], -1, 0))
    best = q[np.argsort(radius)[-20:]]
    step = 0.4
    for _ in range(60):
        tries = np.clip(best[:, None] + rng.normal(0, step, (len(best), 100, best.shape[1])), lower, upper)
        tries = np.concatenate([best[:, None], tries], axis=1).reshape(-1, best.shape[1])
        radius = np.hypot(*np.moveaxis(point(arm, tries, link)[:, :2], -1, 0))
        best = tries[np.argsort(radius)[-20:]]
        step *= 0.85
    return float(radius.max()), best[-1]


def postures_range(model: Any) -> tuple[np.ndarray, np.ndarray]:
    return model.lowerPositionLimit, model.upperPositionLimit


@pytest.mark.parametrize("name", REACH)
def test_reach(name: str) -> None:
    file, count, tool, link, published = REACH[name]
    found, _ = farthest(arm_of(file, tool), read(robots_folder() / file, count), link)
    assert found == pytest.approx(published, rel=0.1)


@pytest.mark.parametrize(
    ("name", "expected"), [("panda", 0.8579), ("ur10", 1.3103), ("ur5", 0.8245), ("ur3", 0.4705), ("xarm7", 0.6488)]
)
def test_reach_to_the_millimetre(name: str, expected: float) -> None:
    """The same points' reach, searched with pinocchio's kinematics before this project's (own reading, 1 mm)."""
    file, count, tool, link, _ = REACH[name]
    found, _ = farthest(arm_of(file, tool), read(robots_folder() / file, count), link)
    assert found == pytest.approx(expected, abs=1e-3)


@pytest.mark.parametrize("name", RATED)
def test_rated_payload_at_full_stretch(name: str) -> None:
    file, count, tool, rated = RATED[name]
    arm = arm_of(file, tool)
    _, q = farthest(arm, read(robots_folder() / file, count), -1)
    answer = arm.payload(q)
    assert rated <= float(answer.mass) <= 6 * rated
    assert int(answer.joint) in (1, 3), "the shoulder or the elbow gives out first, with the arm level"


def test_torques_with_the_rated_load() -> None:
    """Joints 2 and 3 at zero, without and with the rated load at ee_link (pinocchio 4.1, g = 9.81, own reading):
    ur5 -59.1708, -15.68383; 5 kg: -99.25691, -34.92369. ur10 -120.80137, -34.00559; 10 kg: -236.9812, -90.14822."""
    for name, load, bare, loaded in [
        ("ur5", 5.0, (-59.1708, -15.68383), (-99.25691, -34.92369)),
        ("ur10", 10.0, (-120.80137, -34.00559), (-236.9812, -90.14822)),
    ]:
        file, _, tool, _, _ = REACH[name]
        arm = arm_of(file, tool)
        scale = 9.81 / 9.80665
        np.testing.assert_allclose(arm.gravity_torque(np.zeros(6))[1:3] * scale, bare, atol=6e-6)
        np.testing.assert_allclose(arm.gravity_torque(np.zeros(6), load=aw.Load(load))[1:3] * scale, loaded, atol=6e-6)
