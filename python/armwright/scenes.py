"""From a description to the plain scene that pictures and the 3-D page draw."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
import xarray as xr
from numpy.typing import NDArray

from armwright.describe import Box, Capsule, CellDescription, ConvexHull, Cylinder, Link, Mesh, Shape, Sphere
from armwright.describe.shape_names import kind_of
from armwright.results.scene import Role, Scene, SceneJoint, ScenePicture, SceneTarget, Solid


def scene_of(cell: CellDescription, q: NDArray[np.float64], checked: xr.Dataset | None = None) -> Scene:
    """The scene of a cell at one posture; work points with what ``checked``, a result of check_targets, says of
    them."""
    arm, track = cell.arm, cell.track
    first = 1 if track is not None else 0
    last = first + len(arm.joints) - 1
    joints = []
    solids: list[Solid] = []
    pictures: list[ScenePicture] = []
    if track is not None:
        joints.append(SceneJoint("track", "prismatic", track.pose, tuple(track.axis), track.lower, track.upper))
        solids += _solids(track.rails, "track", "track", -1, track.pose)
        solids += _solids(track.carriage.shapes, track.carriage.name, "track", 0)
    for i, joint in enumerate(arm.joints):
        placement = cell.mount @ joint.placement if i == 0 else joint.placement
        joints.append(
            SceneJoint(
                joint.name,
                "prismatic" if joint.kind == "prismatic" else "revolute",
                placement,
                tuple(joint.axis),
                joint.lower,
                joint.upper,
            )
        )
        solids += _solids(arm.links[i].shapes, arm.links[i].name, "link", first + i)
        pictures += _pictures(arm.links[i], first + i, np.eye(4))
    solids += _solids(arm.base_link.shapes, arm.base_link.name, "link", first - 1, cell.mount)
    pictures += _pictures(arm.base_link, first - 1, cell.mount)
    tool_frame = arm.flange
    if cell.tool is not None:
        solids += _solids(cell.tool.shapes, cell.tool.name, "tool", last, arm.flange)
        tool_frame = arm.flange @ cell.tool.tool_point
    if cell.load is not None:
        solids += _solids(cell.load.shapes, cell.load.name, "load", last, tool_frame)
    solids += _solids(cell.fixtures, "fixture", "fixture", -1)
    return Scene(
        name=cell.name,
        arm_name=arm.name,
        joints=tuple(joints),
        q=tuple(q.tolist()),
        solids=tuple(solids),
        targets=_targets(cell, checked),
        base=cell.mount,
        tool=tool_frame,
        has_track=track is not None,
        pictures=tuple(pictures),
    )


def _pictures(link: Link, place: int, frame: NDArray[np.float64]) -> list[ScenePicture]:
    return [ScenePicture(link.name, p.points, np.asarray(p.triangles, np.int64), frame, place) for p in link.pictures]


def _solids(
    shapes: Iterable[Shape], owner: str, role: Role, link: int, frame: NDArray[np.float64] | None = None
) -> list[Solid]:
    return [_solid(shape, owner, role, link, np.eye(4) if frame is None else frame) for shape in shapes]


def _solid(shape: Shape, owner: str, role: Role, link: int, frame: NDArray[np.float64]) -> Solid:
    points = shape.points if isinstance(shape, ConvexHull | Mesh) else np.zeros((0, 3))
    triangles = np.asarray(
        shape.triangles if isinstance(shape, ConvexHull | Mesh) else np.zeros((0, 3)), dtype=np.int64
    )
    return Solid(
        kind=kind_of(shape), name=shape.name or owner, role=role, link=link, pose=frame @ shape.pose,
        size=tuple(shape.size) if isinstance(shape, Box) else (0.0, 0.0, 0.0),
        radius=float(shape.radius) if isinstance(shape, Cylinder | Capsule | Sphere) else 0.0,
        length=float(shape.length) if isinstance(shape, Cylinder | Capsule) else 0.0,
        vertices=points, triangles=triangles, clearance=float(shape.clearance),
    )  # fmt: skip


def _targets(cell: CellDescription, checked: xr.Dataset | None) -> tuple[SceneTarget, ...]:
    if checked is None:
        return tuple(SceneTarget(target.name, target.pose) for target in cell.targets)
    found = []
    for target in cell.targets:
        if target.name not in checked["target"].values:
            found.append(SceneTarget(target.name, target.pose))
            continue
        row = checked.sel(target=target.name)
        q = row["q"].values
        found.append(
            SceneTarget(
                target.name,
                target.pose,
                bool(row["served"]),
                str(row["reason"].item()),
                None if np.isnan(q).any() else tuple(q.tolist()),
            )
        )
    return tuple(found)
