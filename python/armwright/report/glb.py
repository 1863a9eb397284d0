"""The cell at a posture as a GLB file (glTF 2.0): a tree of joints, with every solid by its name."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from armwright.report.cautions import cautions
from armwright.results import Scene, ScenePicture, SceneTarget, Solid
from armwright.results.dataset import version
from armwright.results.frames import link_pose, link_poses
from armwright.results.whole_file import file_path, whole_file

Array = NDArray[np.float64]
Y_UP = np.array([[1.0, 0, 0, 0], [0, 0, 1, 0], [0, -1, 0, 0], [0, 0, 0, 1]])
"""From our axes (z up) to those of glTF (y up)."""
_SECTIONS = 48  # sides of a circle
_ROOM = 0.3  # m; how far half-spaces are drawn beyond the rest
_SLAB = 0.02  # m; how thick half-spaces are drawn
_BASE = "armwright"  # the node above all, which some versions of trimesh write
_MARK = 0.025  # m; half the size of a work point's mark
_COLOURS = {
    "link": "#b9c4ce", "tool": "#8596a5", "load": "#e2b93b", "track": "#8b9197", "fixture": "#cfc8ba",
    "half_space": "#e6e3dd66", "served": "#0b6e99", "not served": "#c4420c", "not checked": "#6b7075",
}  # fmt: skip


def cell_to_glb(scene: Scene, path: str | os.PathLike[str]) -> Path:
    """Writes the cell as GLB, in metres, y up as glTF has it; the root node turns our z-up cell so.

    Below the root, named after the cell: what is fixed to the world; the work points, each a mark by whether it is
    served (a ball, a cross, or a cube before a check) with the reason beside; and the joints, each a node in the frame
    of the one before, with its links' pictures where they have them, else their shapes. Half-spaces are slabs as wide
    as the cell. ``extras`` of the nodes tell role, joint, position and limits in SI.

    >>> report.cell_to_glb(cell.scene(q), "cell.glb").name
    'cell.glb'
    """
    import trimesh

    target = file_path(path, ".glb")
    made = _Tree(trimesh, scene.name)
    root = made.add(scene.name or "cell", None, Y_UP, about={
        "arm": scene.arm_name, "made_by": f"armwright {version()}", "units": "m, rad", "cautions": list(cautions),
    })  # fmt: skip
    nodes = {-1: root}
    frames = link_poses(scene)
    for i, joint in enumerate(scene.joints):
        local = np.linalg.solve(link_pose(frames, i - 1), frames[i])
        ends = {name: end for name, end in (("lower", joint.lower), ("upper", joint.upper)) if np.isfinite(end)}
        about = {"joint": joint.kind, "axis": list(joint.axis), "position": scene.q[i], **ends}
        nodes[i] = made.add(joint.name, nodes[i - 1], local, about=about)
    pictured = {picture.link for picture in scene.pictures}
    for solid in scene.solids:
        if solid.kind != "half_space" and (solid.role != "link" or solid.link not in pictured):
            mesh = _solid(trimesh, solid)
            made.add(solid.name, nodes[solid.link], solid.pose, mesh, solid.role, {"role": solid.role})
    for picture in scene.pictures:
        mesh = _triangles(trimesh, picture)
        made.add(picture.name, nodes[picture.link], picture.pose, mesh, "link", {"role": "link"})
    if scene.targets:
        group = made.add("work points", root, np.eye(4))
        for work_point in scene.targets:
            _mark(made, trimesh, work_point, group)
    bounds = made.bounds()
    for solid in (each for each in scene.solids if each.kind == "half_space"):
        mesh, pose = _slab(trimesh, solid, link_pose(frames, solid.link), bounds)
        made.add(solid.name, nodes[solid.link], pose, mesh, "half_space", {"role": solid.role})
    return write_glb(made.scene, target)


def write_glb(scene: Any, target: Path) -> Path:
    """Writes a scene of trimesh, whole or not at all."""
    def finish(tree: dict[str, Any]) -> None:
        tree["asset"]["generator"] = f"armwright {version()}"

    data = scene.export(file_type="glb", tree_postprocessor=finish)
    with whole_file(target) as part:
        part.write_bytes(data)
    return target


def linear(colour: Array) -> Array:
    """Shares of red, green, blue (and opacity) as screens have them (sRGB, IEC 61966-2-1) as linear light."""
    told = np.array(colour, dtype=np.float64)
    rgb = told[..., :3]
    told[..., :3] = np.where(rgb <= 0.04045, rgb / 12.92, ((rgb + 0.055) / 1.055) ** 2.4)
    return told


class _Tree:
    """A scene of trimesh that is being put together: each node has a name of its own."""

    def __init__(self, trimesh: Any, name: str):
        self.scene = trimesh.Scene(base_frame=_BASE)
        self._material = trimesh.visual.material.PBRMaterial
        self._visuals = trimesh.visual.TextureVisuals
        self._count = {_BASE: 1}

    def add(
        self, name: str, parent: str | None, pose: Array, mesh: Any = None, look: str = "", about: Any = None
    ) -> str:
        """A node below ``parent``, with a mesh if there is one; the name that it got."""
        own = self._own(name)
        if mesh is not None:
            mesh.visual = self._visuals(material=self._material(
                name=look, baseColorFactor=_colour(look), metallicFactor=0.0, roughnessFactor=0.8, doubleSided=True,
                alphaMode="BLEND" if len(_COLOURS[look]) > 7 else "OPAQUE",
            ))  # fmt: skip
            self.scene.geometry[own] = mesh
        given = {"geometry": own} if mesh is not None else {}
        frame = self.scene.graph.base_frame if parent is None else parent
        self.scene.graph.update(frame_to=own, frame_from=frame, matrix=pose, metadata=about or {}, **given)
        return own

    def bounds(self) -> Array:
        """Least and greatest x, y, z (2, 3) of all that is there, z up."""
        found = self.scene.bounds
        corners = np.zeros((2, 3)) if found is None else np.asarray(found) @ Y_UP[:3, :3]
        return np.sort(corners, axis=0)

    def _own(self, name: str) -> str:
        k = self._count.get(name, 0) + 1
        self._count[name] = k
        return name if k == 1 else self._own(f"{name} {k}")


def _colour(look: str) -> list[float]:
    text = _COLOURS[look].removeprefix("#").ljust(8, "f")
    return [float(each) for each in linear(np.array([int(text[i : i + 2], 16) / 255 for i in range(0, 8, 2)]))]


def _solid(trimesh: Any, solid: Solid) -> Any:
    """Its mesh, in its own frame."""
    make = trimesh.creation
    if solid.kind == "box":
        return make.box(extents=solid.size)
    if solid.kind == "cylinder":
        return make.cylinder(radius=solid.radius, height=solid.length, sections=_SECTIONS)
    if solid.kind == "sphere":
        mesh = make.icosphere(subdivisions=3, radius=solid.radius)
    elif solid.kind == "capsule":
        mesh = make.capsule(height=solid.length, radius=solid.radius, count=[_SECTIONS // 2, _SECTIONS])
        mesh.apply_translation(-mesh.bounds.mean(axis=0))
    elif len(solid.triangles):
        return _triangles(trimesh, solid)
    else:
        return trimesh.Trimesh(solid.vertices, process=False).convex_hull
    _ = mesh.vertex_normals  # computed, and so written: round things look round
    return mesh


def _triangles(trimesh: Any, thing: Solid | ScenePicture) -> Any:
    return trimesh.Trimesh(thing.vertices, thing.triangles, process=False)


def _slab(trimesh: Any, solid: Solid, frame: Array, bounds: Array) -> tuple[Any, Array]:
    """The half-space as far as the cell goes and a little further, but not deeper, and its pose."""
    room = np.array([[-_ROOM, -_ROOM, 0], [_ROOM, _ROOM, _ROOM]]) + bounds
    corners = np.array(np.meshgrid(*room.T)).reshape(3, -1).T
    inward = np.linalg.inv(frame @ solid.pose)
    local = corners @ inward[:3, :3].T + inward[:3, 3]
    low, high = local[:, :2].min(axis=0), local[:, :2].max(axis=0)
    pose = solid.pose.copy()
    pose[:3, 3] += solid.pose[:3, :3] @ np.append((low + high) / 2, -_SLAB / 2)
    return trimesh.creation.box(extents=(*(high - low), _SLAB)), pose


def _mark(made: _Tree, trimesh: Any, work_point: SceneTarget, group: str) -> None:
    """A mark that differs by shape as well as by colour."""
    words = {True: "served", False: "not served", None: "not checked"}[work_point.served]
    size = 2 * _MARK
    if work_point.served:
        mesh = trimesh.creation.icosphere(subdivisions=2, radius=_MARK)
    elif work_point.served is None:
        mesh = trimesh.creation.box(extents=(size, size, size))
    else:
        bars = [trimesh.creation.box(extents=np.roll((3 * size, size / 3, size / 3), k)) for k in range(3)]
        mesh = trimesh.util.concatenate(bars)
    about = {"role": "work point", "told": words, **({"reason": work_point.reason} if work_point.reason else {})}
    made.add(work_point.name, group, work_point.pose, mesh, words, about)
