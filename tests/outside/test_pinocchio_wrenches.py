"""Source: pinocchio (package ``pin``): the forces of its recursive Newton-Euler, ``data.f``, which are what each joint
gives to its link in the joint's moved frame: the very wrench told here. On open arms (package example-robot-data), and
on random chains of our own with joints that slide, given to both in numbers.

Tolerance 1e-11 of the largest: both hold the same numbers, so that nothing coarser is called for."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

pin = pytest.importorskip("pinocchio", reason="needs the peers: pip install 'armwright[peers]'")

import armwright as aw  # noqa: E402
from cases.chain import Array, Chain, Link  # noqa: E402
from cases.described import described  # noqa: E402
from cases.peer_arms import built, configuration, postures, read, robots_folder  # noqa: E402


def turn(axis: Array, angle: float) -> Array:
    return np.asarray(Rotation.from_rotvec(angle * axis / np.linalg.norm(axis)).as_matrix())


OPEN = {
    "ur5": ("ur_description/urdf/ur5_robot.urdf", 6, "ee_link"),
    "panda": ("panda_description/urdf/panda.urdf", 7, "panda_hand"),
    "z1": ("z1_description/urdf/z1.urdf", 6, "link06"),
}


def close(ours: Array, theirs: Any, share: float = 1e-11) -> None:
    theirs = np.asarray(theirs)
    np.testing.assert_allclose(ours, theirs, rtol=0, atol=share * np.abs(theirs).max())


def joint_forces(model: Any, q: list[Array], qd: Array, qdd: Array) -> Array:
    data, out = model.createData(), []
    for row in zip(q, qd, qdd, strict=True):
        pin.rnea(model, data, *row)
        out.append([data.f[i].vector.copy() for i in range(1, model.njoints)])
    return np.array(out)


def random_chain(rng: np.random.Generator, joints: int) -> Chain:
    def pose(size: float) -> Array:
        X = np.eye(4)
        X[:3, :3], X[:3, 3] = turn(rng.normal(size=3), rng.uniform(-3, 3)), rng.uniform(-size, size, 3)
        return X

    def link(slides: bool) -> Link:
        axis = rng.normal(size=3)
        R, sides = pose(0)[:3, :3], rng.uniform(0.02, 0.3, 3)
        mass = rng.uniform(0.5, 6)
        inertia = R @ np.diag(mass / 12 * (np.sum(sides**2) - sides**2)) @ R.T
        return Link(pose(0.4), tuple(axis / np.linalg.norm(axis)), "prismatic" if slides else "revolute", -3, 3, 1e3,
                    mass, rng.uniform(-0.2, 0.2, 3), inertia)  # fmt: skip

    return Chain("any", tuple(link(i % 3 == 1) for i in range(joints)), pose(0.2))


@pytest.mark.parametrize("name", OPEN)
def test_joint_wrenches_of_open_arms(name: str) -> None:
    file, count, tool = OPEN[name]
    path = robots_folder() / file
    model, arm = read(path, count), aw.load_arm(path, tool=tool)
    q = postures(model, 100, seed=5)
    qd, qdd = np.random.default_rng(6).normal(0, 2, size=(2, *q.shape))
    theirs = joint_forces(model, [configuration(model, row) for row in q], qd, qdd)
    close(arm.joint_wrench(q, qd, qdd), theirs)


@pytest.mark.parametrize("joints", [1, 3, 5, 8, 12])
def test_joint_wrenches_of_random_chains(joints: int) -> None:
    rng = np.random.default_rng(joints)
    chain = random_chain(rng, joints)
    q, qd, qdd = rng.normal(0, 1, size=(3, 40, joints))
    close(aw.Arm(described(chain)).joint_wrench(q, qd, qdd), joint_forces(built(chain), list(q), qd, qdd))


def test_mount_and_carriage_of_an_arm_on_a_track() -> None:
    """As pinocchio has it with the track as a joint that slides and the base link as part of the carriage: the carriage
    bears its first force; the mount the force of axis 1 and that of the base link as a body that slides along."""
    rng = np.random.default_rng(4)
    chain = random_chain(rng, 5)
    foot = aw.Link("foot", 9.0, (0.02, 0.01, 0.1), np.diag([0.2, 0.3, 0.1]))
    arm = described(chain)
    mount = np.eye(4)
    mount[:3, :3], mount[:3, 3] = turn(np.array([0.3, 1.0, 0.2]), 0.7), (0.1, 0.2, 0.3)
    carriage = aw.Link("carriage", 24.0, (0.0, 0.05, -0.03), np.diag([0.5, 0.6, 0.7]))
    pose = np.eye(4)
    pose[:3, :3] = turn(np.array([0.0, 1.0, 0.0]), 0.2)
    track = aw.Track("x", ("0 m", "2 m"), pose, carriage)
    cell = aw.Cell(aw.ArmDescription(arm.joints, arm.links, "any", foot, flange=arm.flange), track, mount=mount)
    model, parent = pin.Model(), 0
    parent = model.addJoint(0, pin.JointModelPX(), pin.SE3(pose), "track")
    on_mount = pin.SE3(mount)
    model.appendBodyToJoint(parent, pin.Inertia(24.0, carriage.centre, carriage.inertia), pin.SE3.Identity())
    model.appendBodyToJoint(parent, pin.Inertia(9.0, foot.centre, foot.inertia), on_mount)
    kinds = {"revolute": pin.JointModelRevoluteUnaligned, "prismatic": pin.JointModelPrismaticUnaligned}
    for i, link in enumerate(chain.links):
        place = pin.SE3(link.placement)
        parent = model.addJoint(parent, kinds[link.kind](np.asarray(link.axis)), on_mount * place if i == 0 else place,
                                f"joint {i}")  # fmt: skip
        model.appendBodyToJoint(parent, pin.Inertia(link.mass, link.centre, link.inertia), pin.SE3.Identity())
    model.gravity.linear = np.array([0.0, 0.0, -9.80665])
    q, qd, qdd = rng.normal(0, 1, size=(3, 30, 6))
    carriages, mounts = [], []
    data = model.createData()
    for row in zip(q, qd, qdd, strict=True):
        pin.rnea(model, data, *row)
        carriages.append(-data.f[1].vector)
        # The body on the mount, sped up with the carriage (data.a_gf counts gravity), in the carriage's frame.
        own = on_mount.act(pin.Inertia(9.0, foot.centre, foot.inertia))
        borne = own * data.a_gf[1] + data.v[1].cross(own * data.v[1]) + data.liMi[2].act(data.f[2])
        mounts.append(-on_mount.actInv(borne).vector)
    close(cell.joint_wrench(q, qd, qdd), joint_forces(model, list(q), qd, qdd))
    close(cell.carriage_wrench(q, qd, qdd), carriages)
    close(cell.mount_wrench(q, qd, qdd), mounts)
