"""From a description to the plain scene that pictures and the 3-D page draw."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
import xarray as xr
from numpy.typing import NDArray

from armwright.describe import Box, Capsule, CellDescription, ConvexHull, Cylinder, Link, Load, Mesh, Shape, Sphere
from armwright.describe.shape_names import is_unnamed, kind_of
from armwright.results.scene import Scene
from armwright.results.scene_parts import JointKind, Role, SceneJoint, ScenePicture, SceneTarget, Solid


def scene_of(
    cell: CellDescription,
    q: NDArray[np.float64],
    checked: xr.Dataset | None = None,
    *,
    loads: Iterable[Load] = (),
    touching: Iterable[tuple[str, str]] = (),
) -> Scene:
    """The scene of a cell at one posture; work points with what ``checked``, a result of check_targets, says of
    them. ``loads``: what else is carried at times, besides the cell's own load; ``touching``: bodies that are not held
    against each other."""
    arm, track = cell.arm, cell.track
    first = 1 if track is not None else 0
    last = first + len(arm.joints) - 1
    joints = []
    solids: list[Solid] = []
    pictures: list[ScenePicture] = []
    if track is not None:
        joints.append(SceneJoint("track", "prismatic", track.pose, tuple(track.axis), track.lower, track.upper))
        solids += _solids(track.rails, "track rails", "track", -1, track.pose)
        solids += _solids(track.carriage.shapes, track.carriage.name, "track", 0)
    for i, joint in enumerate(arm.joints):
        placement = cell.mount @ joint.placement if i == 0 else joint.placement
        kind: JointKind = "prismatic" if joint.kind == "prismatic" else "revolute"
        joints.append(SceneJoint(joint.name, kind, placement, tuple(joint.axis), joint.lower, joint.upper))
        solids += _solids(arm.links[i].shapes, arm.links[i].name, "link", first + i)
        pictures += _pictures(arm.links[i], first + i, np.eye(4))
    solids += _solids(arm.base_link.shapes, arm.base_link.name, "link", first - 1, cell.mount)
    pictures += _pictures(arm.base_link, first - 1, cell.mount)
    tool_frame = arm.flange
    if cell.tool is not None:
        solids += _solids(cell.tool.shapes, cell.tool.name, "tool", last, arm.flange)
        tool_frame = arm.flange @ cell.tool.tool_point
    bodies = _load_bodies(cell, loads)
    for load, body in bodies.items():
        solids += _solids(load.shapes, body, "load", last, tool_frame)
    for i, shape in enumerate(cell.fixtures):
        solids += _solids([shape], f"fixture {i + 1}" if is_unnamed(shape) else shape.name, "fixture", -1)
    return Scene(
        name=cell.name,
        arm_name=arm.name,
        joints=tuple(joints),
        q=tuple(q.tolist()),
        solids=tuple(solids),
        targets=_targets(cell, checked, bodies),
        base=cell.mount,
        tool=tool_frame,
        has_track=track is not None,
        pictures=tuple(pictures),
        load=_carried(cell.load, cell, bodies),
        left_out=_left_out(solids, {frozenset(pair) for pair in touching}, cell.ignored_pairs),
    )


def _pictures(link: Link, place: int, frame: NDArray[np.float64]) -> list[ScenePicture]:
    return [ScenePicture(link.name, p.points, np.asarray(p.triangles, np.int64), frame, place) for p in link.pictures]


def _load_bodies(cell: CellDescription, loads: Iterable[Load]) -> dict[Load, str]:
    """Loads with shapes, the cell's own first, each with a name of its own."""
    bodies: dict[Load, str] = {}
    for load in (cell.load, *loads):
        if load is None or not load.shapes or load in bodies:
            continue
        name, count = load.name, 1
        while name in bodies.values():
            count += 1
            name = f"{load.name} ({count})"
        bodies[load] = name
    return bodies


def _carried(load: Load | None, cell: CellDescription, bodies: dict[Load, str]) -> str:
    """The body that is carried with that load: its own, or that of the cell's load where it has no shapes."""
    known = [bodies[one] for one in (load, cell.load) if one is not None and one in bodies]
    return known[0] if load is not None and known else ""


def _left_out(solids: list[Solid], touching: set[frozenset[str]], ignored: Iterable[tuple[str, str]]
              ) -> tuple[tuple[int, int], ...]:
    """Places of solids that could come near each other and are not held against each other."""
    told = {frozenset(pair) for pair in ignored}

    def together(a: Solid, b: Solid) -> bool:
        if a.body == b.body or frozenset((a.body, b.body)) in touching:
            return True
        return any(frozenset((x, y)) in told for x in (a.body, a.name) for y in (b.body, b.name))

    return tuple((i, j) for i, a in enumerate(solids) for j, b in enumerate(solids[:i])
                 if (a.link >= 0 or b.link >= 0) and together(a, b))  # fmt: skip


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
        kind=kind_of(shape), name=owner if is_unnamed(shape) else shape.name, role=role, link=link,
        pose=frame @ shape.pose,
        size=tuple(shape.size) if isinstance(shape, Box) else (0.0, 0.0, 0.0),
        radius=float(shape.radius) if isinstance(shape, Cylinder | Capsule | Sphere) else 0.0,
        length=float(shape.length) if isinstance(shape, Cylinder | Capsule) else 0.0,
        vertices=points, triangles=triangles, clearance=float(shape.clearance), body=owner,
    )  # fmt: skip


def _targets(
    cell: CellDescription, checked: xr.Dataset | None, bodies: dict[Load, str]
) -> tuple[SceneTarget, ...]:
    found = []
    for target in cell.targets:
        load = _carried(target.load or cell.load, cell, bodies)
        if checked is None or target.name not in checked["target"].values:
            found.append(SceneTarget(target.name, target.pose, load=load))
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
                load,
                _found(row),
            )
        )
    return tuple(found)


_TOLD = {"clearance": "clearance", "clearance_name_a": "nearest_a", "clearance_name_b": "nearest_b",
         "payload": "payload", "payload_wanted": "payload_wanted", "payload_joint": "payload_joint",
         "payload_part": "payload_part", "limit_margin": "limit_margin"}  # fmt: skip


def _found(row: xr.Dataset) -> dict[str, float | str]:
    """What a row of check_targets tells, without what it does not know."""
    values = {told: row[name].item() for name, told in _TOLD.items() if name in row}
    return {name: value for name, value in values.items() if value != "" and (isinstance(value, str)
                                                                              or np.isfinite(value))}
