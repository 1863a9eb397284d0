from __future__ import annotations

import math

import numpy as np
import pytest

import armwright as aw
from cases.chain import pose
from cases.described import positioner, track_cell

Q = np.array([0.5, 0.3, 0.4, -0.6, 0.3, 0.5, 0.2])


def test_the_scene_puts_the_tool_where_the_core_does() -> None:
    cell = track_cell(mount=pose((0.1, 0, 0.2), (0, 0, 0.4)))
    scene = cell.scene(Q)
    X = np.eye(4)
    for joint, value in zip(scene.joints, scene.q, strict=True):
        X = X @ np.asarray(joint.placement) @ moved(joint.kind, np.asarray(joint.axis), value)
    np.testing.assert_allclose(X @ scene.tool, cell.tool_pose(Q), atol=1e-14)
    assert scene.has_track and [joint.name for joint in scene.joints] == list(cell.joint_names)
    assert scene.q == tuple(Q)


def moved(kind: str, axis: np.ndarray, value: float) -> np.ndarray:
    X = np.eye(4)
    if kind == "prismatic":
        X[:3, 3] = value * axis
        return X
    K = np.cross(np.eye(3), axis)
    X[:3, :3] += math.sin(value) * K + (1 - math.cos(value)) * K @ K
    return X


def test_everything_that_is_solid_is_in_the_scene_once() -> None:
    cell = track_cell(load=aw.Load(4, shapes=(aw.Sphere(0.03),)), tool=aw.Tool(shapes=(aw.Box((0.1, 0.1, 0.1)),)),
                      track=aw.Track("x", 1, carriage=aw.Link("sledge", 1, shapes=(aw.Box((1, 1, 0.1)),)),
                                     rails=(aw.Box((2, 0.1, 0.1)),)))  # fmt: skip
    roles = [(solid.role, solid.link) for solid in cell.scene().solids]
    assert roles.count(("track", -1)) == 1 and roles.count(("track", 0)) == 1
    assert roles.count(("tool", 6)) == 1 and roles.count(("load", 6)) == 1
    assert sum(role == "fixture" and link == -1 for role, link in roles) == 2
    assert sum(role == "link" for role, _ in roles) == sum(len(link.shapes) for link in cell.description.arm.links)


def test_rest_is_zero_or_mid_range() -> None:
    cell = aw.Cell(positioner(axis_2=(0.5, 1.5), axis_3=(-2.0, -1.0)))
    assert cell.scene().q == (0, 1.0, -1.5, 0, 0, 0)
    with pytest.raises(aw.InputError, match=r"^q: got an array of shape \(2, 6\), expected one posture, shape \(6,\)$"):
        cell.scene(np.zeros((2, 6)))


def test_work_points_as_they_were_checked() -> None:
    near, far = aw.Target((0.8, 0, 0.1), "near"), aw.Target((3, 0, 0.1), "far")
    cell = aw.Cell(positioner(), targets=(near, far))
    plain = cell.scene().targets
    assert [(target.name, target.served) for target in plain] == [("near", None), ("far", None)]
    checked = cell.scene(checked=cell.check_targets()).targets
    assert [(target.name, target.served) for target in checked] == [("near", True), ("far", False)]
    assert checked[0].q is not None and checked[1].q is None and "out of reach" in checked[1].reason
    part = cell.scene(checked=cell.check_targets(far)).targets
    assert part[0].served is None and part[1].served is False


def test_how_links_look_stands_where_the_links_do() -> None:
    corners, faces = np.array([[0, 0, 0], [1, 0, 0], [0, 1, 0.0]]), np.array([[0, 1, 2]])
    seen = aw.describe.Picture(corners, faces)
    links = (aw.Link("pedestal", 1, pictures=(seen,)), aw.Link("turret", 1, pictures=(seen,)))
    arm = aw.ArmDescription((aw.Joint("axis 1", range=(-1, 1)),), links[1:], "turner", base_link=links[0])
    scene = aw.Cell(arm, track=aw.Track("x", 1), mount=(0, 0, 0.5)).scene()
    assert [(picture.name, picture.link) for picture in scene.pictures] == [("turret", 1), ("pedestal", 0)]
    assert scene.pictures[1].pose[2, 3] == 0.5 and scene.pictures[0].triangles.tolist() == seen.triangles.tolist()
