"""A machine of fewer than six freedoms with a wrist that turns freely: the same solids, asked for positions alone."""

import numpy as np
import pytest

import armwright as aw
from armwright import _core
from armwright.studies import run
from cases.described import at


def palletiser() -> aw.Cell:
    """Four axes: upright, two level ones, upright; a tool with a shape, a load, a post beside."""
    places = [(0, 0, 0.3), (0, 0, 0.1), (0.5, 0, 0), (0.4, 0, 0)]
    axes = ["z", "y", "y", "z"]
    joints = tuple(aw.Joint(f"axis {i}", placement=p, axis=a, range=(-2.5, 2.5), torque_continuous=200.0)
                   for i, (p, a) in enumerate(zip(places, axes, strict=True), 1))  # fmt: skip
    links = tuple(aw.Link(f"link {i}", 2.0, shapes=(aw.Sphere(0.04),)) for i in range(1, 5))
    arm = aw.ArmDescription(joints, links, flange=at((0, 0, -0.05)))
    tool = aw.Tool(tool_point=at((0, 0, -0.1)), mass=1.0, shapes=(aw.Box((0.1, 0.1, 0.1), name="gripper"),))
    load = aw.Load(2.0, shapes=(aw.Box((0.2, 0.2, 0.2)),), name="crate")
    return aw.Cell(arm, tool=tool, load=load, fixtures=aw.Sphere(0.1, (0.3, 0.6, 0.4), "post"))


def test_tool_points_distances_and_payloads_stay_the_same() -> None:
    cell = palletiser()
    loose = _core.kinematics.with_free_wrist(cell._model)
    q = np.random.default_rng(3).uniform(-2.4, 2.4, (50, 4))
    turned = np.concatenate([q, np.random.default_rng(4).uniform(-3, 3, (50, 3))], axis=1)
    poses = _core.kinematics.tool_poses(loose, turned)
    np.testing.assert_allclose(poses[:, :3, 3], cell.tool_pose(q)[:, :3, 3], atol=1e-12)
    distance = _core.clearance.least_distances(cell._solids, loose, turned)[0]
    assert (distance == cell.clearance(q).distance.values).all()
    mass = _core.limits.static_payloads(loose, np.zeros(3), _core.limits.Limit.continuous, turned)[0]
    np.testing.assert_allclose(mass, cell.payload(q).mass, rtol=1e-9)
    assert _core.kinematics.prepare_inverse(loose).freedoms == 6


def test_every_tool_point_of_the_arm_is_reached_and_none_beyond() -> None:
    cell = palletiser()
    loose = _core.kinematics.with_free_wrist(cell._model)
    search = _core.studies.make_search(_core.kinematics.prepare_inverse(loose), None, 0.0, 0.1, run.turn_step)
    points = cell.tool_pose(np.random.default_rng(5).uniform(-2.0, 2.0, (200, 4)))[:, :3, 3]
    beyond = (0, 0, 0.4) + 1.2 * (points - (0, 0, 0.4)) / np.linalg.norm(points - (0, 0, 0.4), axis=1, keepdims=True)
    limit = _core.limits.Limit.continuous
    for positions, reached in ((points, True), (beyond, False)):
        found = _core.studies.payload_map(search, positions, run.some_attitude(), np.zeros(3), limit, 1, None)
        assert (np.isfinite(found.mass_greatest) == reached).all()


def test_a_load_centre_off_the_tool_point_needs_an_attitude() -> None:
    with pytest.raises(aw.InputError, match='attitude "down" or "level"'):
        palletiser().payload_map(0.2, centre=(0, 0, 0.1))
