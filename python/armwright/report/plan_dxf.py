"""The cell seen from above as a DXF drawing."""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from pathlib import Path

import numpy as np
import xarray as xr
from numpy.typing import NDArray

from armwright.pictures.silhouette import footprint
from armwright.report.cautions import cautions
from armwright.report.drawing import MM, Drawing, Layer
from armwright.report.outline_dxf import curves_of
from armwright.report.packages import package
from armwright.results import Scene, SceneTarget, Solid
from armwright.results.dataset import version
from armwright.results.frames import base_pose, link_pose, link_poses
from armwright.results.whole_file import file_path

Array = NDArray[np.float64]
_ROLES = {"fixture": "FIXTURES", "track": "TRACK", "link": "ARM", "tool": "TOOL", "load": "LOAD"}
_POINTS = {True: "WORK POINTS SERVED", False: "WORK POINTS NOT SERVED", None: "WORK POINTS NOT CHECKED"}
_WORDS = {True: "served", False: "NOT SERVED", None: "not checked"}
_LAYERS = {
    "FIXTURES": Layer(7, weight=35), "WALLS": Layer(7, weight=50), "ARM": Layer(150), "TOOL": Layer(150, weight=13),
    "LOAD": Layer(40, "DASHED"), "REACH": Layer(30, "DASHED"), "WORK POINTS SERVED": Layer(150, weight=35),
    "WORK POINTS NOT SERVED": Layer(20, weight=35), "WORK POINTS NOT CHECKED": Layer(8, weight=35),
}  # fmt: skip
_NEAR = 0.05  # m; names and marks nearer than that are told together
_UPRIGHT = 1 - 1e-9


def plan_to_dxf(scene: Scene, path: str | os.PathLike[str], *, outlines: xr.Dataset | None = None) -> Path:
    """Writes the cell in plan as DXF (R2010, mm), in the world's x and y, the arm at the scene's posture.

    Layers: fixtures, walls, track with its stroke, base, arm, tool, load; work points by whether they are served, which
    the mark tells too (a circle with a cross, a cross aslant, a circle before a check), numbered, with a list of names,
    places and reasons; ``outlines``, a result of that study, adds the outline of the reach; dimensions of all that
    stands fast, of each fixture's place and size none. Needs ezdxf and shapely: pip install armwright[export].

    >>> report.plan_to_dxf(cell.scene(q, cell.check_targets()), "plan.dxf").name
    'plan.dxf'
    """
    target = file_path(path, ".dxf")
    frames = link_poses(scene)
    seen = [(solid, *_shape(solid, link_pose(frames, solid.link), path)) for solid in scene.solids]
    fast = [line for solid, lines, _ in seen if solid.role in ("fixture", "track") for line in lines]
    fast += [np.array([centre - radius, centre + radius]) for solid, _, rounds in seen
             if solid.role in ("fixture", "track") for centre, radius in rounds]  # fmt: skip
    fast += [point.pose[None, :2, 3] for point in scene.targets] + [_stroke(scene)]
    every = np.concatenate(fast + [line for _, lines, _ in seen for line in lines])
    low, high = every.min(axis=0), every.max(axis=0)
    drawing = Drawing(target, _LAYERS, low, high)
    for solid, lines, rounds in seen:
        for line in lines:
            drawing.outline(line, _ROLES[solid.role])
        for centre, radius in rounds:
            drawing.circle(centre, radius, _ROLES[solid.role])
    _walls(drawing, scene, frames, low, high)
    _names(drawing, [(solid, lines, rounds) for solid, lines, rounds in seen if solid.role == "fixture"])
    _base(drawing, scene)
    reach = [] if outlines is None else curves_of(outlines, "plan")
    for points, closed in reach:
        drawing.outline(points, "REACH", closed=closed)
    furthest = max(float(high[0]), *(float(points[:, 0].max()) for points, _ in reach), -np.inf)
    _marks(drawing, scene.targets)
    ends = np.concatenate(fast)
    _extents(drawing, ends.min(axis=0), ends.max(axis=0))
    room = 10 * drawing.text
    _list(drawing, scene.targets, np.array([furthest + room, high[1]]))
    drawing.words(f"PLAN of {scene.name}", np.array([low[0], high[1] + room]), size=1.6)
    told = ["All lengths in mm, in the world's x and y.", f"Arm: {scene.arm_name}. armwright {version()}.", *cautions]
    drawing.paragraph(told, np.array([low[0], low[1] - 1.5 * room]))
    return drawing.save(target)


_Rounds = list[tuple[Array, float]]


def _shape(solid: Solid, frame: Array, path: str | os.PathLike[str]) -> tuple[list[Array], _Rounds]:
    """The solid from above: outlines (n, 2), and circles where it is round; those of a mesh's triangles together."""
    pose = frame @ solid.pose
    upright = solid.kind in ("cylinder", "capsule") and abs(pose[2, 2]) > _UPRIGHT
    if solid.kind == "sphere" or upright:
        return [], [(pose[:2, 3], solid.radius)]
    polygons = [line for line in footprint(solid, frame) if len(line) > 2]
    if len(polygons) < 2:
        return polygons, []
    shapely = package("shapely", path)
    whole = shapely.union_all([shapely.Polygon(line).buffer(0) for line in polygons])
    parts = [part for part in getattr(whole, "geoms", [whole]) if part.geom_type == "Polygon" and not part.is_empty]
    rings = [ring for part in parts for ring in (part.exterior, *part.interiors)]
    return [np.asarray(ring.coords, dtype=np.float64)[:-1] for ring in rings], []


def _stroke(scene: Scene) -> Array:
    """Where the base is, (1, 2), or at both ends of the track (2, 2)."""
    track = scene.joints[0] if scene.has_track else None
    if track is None or not np.isfinite([track.lower, track.upper]).all():
        return np.array(base_pose(scene)[None, :2, 3])
    return np.array([base_pose(scene, (end, *scene.q[1:]))[:2, 3] for end in (track.lower, track.upper)])


def _base(drawing: Drawing, scene: Scene) -> None:
    at, stroke = base_pose(scene)[:2, 3], _stroke(scene)
    drawing.circle(at, drawing.text, "BASE")
    drawing.cross(at, 3 * drawing.text, "BASE")
    drawing.words("base", at + drawing.text * np.array([1.2, -2.2]), layer="BASE")
    if len(stroke) == 2 and np.ptp(stroke, axis=0).max() > 0:
        drawing.line(stroke[0], stroke[1], "TRACK")
        for end in stroke:
            drawing.cross(end, 2 * drawing.text, "TRACK", turned=True)
        drawing.dimension(stroke[0], stroke[1], -8 * drawing.text)


def _walls(drawing: Drawing, scene: Scene, frames: Array, low: Array, high: Array) -> None:
    """Upright half-spaces: a line where each meets height 0, as long as the cell, its name on the solid side."""
    for solid in scene.solids:
        pose = link_pose(frames, solid.link) @ solid.pose
        normal, level = pose[:3, 2], float(np.hypot(*pose[:2, 2]))
        if solid.kind != "half_space" or level < 0.5:
            continue
        out = normal[:2] / level
        foot = pose[:2, 3] + out * (normal[2] * pose[2, 3] / level)
        along = np.array([-out[1], out[0]])
        corners = np.array([low, (low[0], high[1]), high, (high[0], low[1])])
        places = (corners - foot) @ along
        start, end = foot + along * places.min(), foot + along * places.max()
        drawing.line(start, end, "WALLS")
        drawing.words(solid.name, (start + end) / 2 - 1.5 * drawing.text * out, layer="WALLS", centred=True)


def _names(drawing: Drawing, fixtures: Sequence[tuple[Solid, list[Array], _Rounds]]) -> None:
    """Each in the lower left corner of what it names, below round things; those over one another together."""
    groups: list[tuple[Array, bool, list[str]]] = []
    for solid, lines, rounds in fixtures:
        corners = [line.min(axis=0) for line in lines]
        corners += [centre + np.array([-radius, -radius - drawing.text]) for centre, radius in rounds]
        if not corners:
            continue
        corner = np.min(corners, axis=0)
        near = next((names for at, _, names in groups if np.hypot(*(at - corner)) < _NEAR), None)
        if near is None:
            groups.append((corner, bool(rounds), [solid.name]))
        elif solid.name not in near:
            near.append(solid.name)
    for at, round_thing, names in groups:
        inside = drawing.text * (0.0 if round_thing else 0.3)
        drawing.paragraph(names, at + inside, size=0.7, above=True)


def _marks(drawing: Drawing, targets: Sequence[SceneTarget]) -> None:
    size = drawing.text
    for target in targets:
        at, layer = target.pose[:2, 3], _POINTS[target.served]
        if target.served is not False:
            drawing.circle(at, size * 0.6, layer)
        if target.served is not None:
            drawing.cross(at, size * (1.2 if target.served else 1.6), layer, turned=not target.served)
    for at, numbers in _together(targets):
        drawing.words(", ".join(map(str, numbers)), at + size * np.array([0.8, 0.6]))


def _together(targets: Sequence[SceneTarget]) -> Iterator[tuple[Array, list[int]]]:
    """Work points over one another, by number."""
    left = [(target.pose[:2, 3], number) for number, target in enumerate(targets, 1)]
    while left:
        at = left[0][0]
        near = [item for item in left if np.hypot(*(item[0] - at)) < _NEAR]
        left = [item for item in left if np.hypot(*(item[0] - at)) >= _NEAR]
        yield at, [number for _, number in near]


def _list(drawing: Drawing, targets: Sequence[SceneTarget], at: Array) -> None:
    """Number, name, x, y, z and whether it is served, or why not."""
    if not targets:
        return
    rows = [("no.", "work point", "x", "y", "z", "")]
    for number, target in enumerate(targets, 1):
        x, y, z = (f"{MM * value:.0f}" for value in target.pose[:3, 3])
        why = f": {target.reason}" if target.served is False and target.reason else ""
        rows.append((str(number), target.name, x, y, z, _WORDS[target.served] + why))
    wide = [max(len(row[k]) for row in rows) * 0.75 + 1.5 for k in range(len(rows[0]))]
    for r, row in enumerate(rows):
        for k, told in enumerate(row):
            drawing.words(told, at + drawing.text * np.array([sum(wide[:k]), -2 * r]))


def _extents(drawing: Drawing, low: Array, high: Array) -> None:
    away = 6 * drawing.text
    if high[0] - low[0] > 0:
        drawing.dimension(low, np.array([high[0], low[1]]), float(low[1]) - away, along="x")
    if high[1] - low[1] > 0:
        drawing.dimension(low, np.array([low[0], high[1]]), float(low[0]) - away, along="y")
