"""What a solid looks like from above: polygons in plan."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from armwright.results import Solid

Array = NDArray[np.float64]
_STEPS = 48


def footprint(solid: Solid, frame: Array) -> list[Array]:
    """Polygons (n, 2), in world x and y, that together are the solid seen from above; none for a half-space.

    ``frame`` is the pose of what the solid is fixed to. Exact but for circles, which have 48 sides.
    """
    pose = frame @ solid.pose
    if solid.kind == "half_space":
        return []
    if solid.kind == "mesh":
        corners = _plan(pose, solid.vertices)
        return [corners[face] for face in solid.triangles]
    if solid.kind == "sphere":
        return [_circle(pose, solid.radius)]
    if solid.kind == "capsule":  # a ball is round from everywhere: two circles tell all
        ends = np.array([[0, 0, -0.5], [0, 0, 0.5]]) * solid.length
        return [_hull(np.concatenate([_circle(pose, solid.radius) + pose[:2, :3] @ end for end in ends]))]
    return [_hull(_plan(pose, _points(solid)))]


def top(solid: Solid, frame: Array) -> float:
    """Height of the highest point, m: what is higher is drawn later."""
    pose = frame @ solid.pose
    if solid.kind == "half_space":
        return -np.inf
    if solid.kind == "sphere":
        return float(pose[2, 3] + solid.radius)
    points = solid.vertices if solid.kind == "mesh" else _points(solid)
    heights = points @ pose[2, :3] + pose[2, 3]
    return float(heights.max()) if heights.size else -np.inf


def _points(solid: Solid) -> Array:
    """Points whose hull is the solid."""
    if solid.kind == "box":
        signs = np.array(np.meshgrid((-1, 1), (-1, 1), (-1, 1))).reshape(3, -1).T
        points: Array = signs * np.array(solid.size) / 2
        return points
    if solid.kind == "convex_hull":
        return solid.vertices
    ends = np.array([[0, 0, -0.5], [0, 0, 0.5]]) * solid.length
    shape = _ball(solid.radius) if solid.kind == "capsule" else _ring(solid.radius)
    return np.concatenate([shape + end for end in ends])


def _ring(radius: float) -> Array:
    angle = np.linspace(0, 2 * np.pi, _STEPS, endpoint=False)
    return radius * np.column_stack([np.cos(angle), np.sin(angle), np.zeros(_STEPS)])


def _ball(radius: float) -> Array:
    ring = _ring(radius)
    rise = np.radians(np.arange(-90, 91, 7.5))[:, None, None]
    ball = ring * np.cos(rise)
    ball[..., 2] = radius * np.sin(rise[..., 0])
    points: Array = ball.reshape(-1, 3)
    return points


def _circle(pose: Array, radius: float) -> Array:
    circle: Array = _ring(radius)[:, :2] + pose[:2, 3]
    return circle


def _plan(pose: Array, points: Array) -> Array:
    plan: Array = points @ pose[:2, :3].T + pose[:2, 3]
    return plan


def _hull(points: Array) -> Array:
    """The convex hull, counter-clockwise (Andrew's monotone chain)."""
    ordered = np.unique(points.round(12), axis=0)
    if len(ordered) < 3:
        return ordered
    sides: list[list[Array]] = []
    for line in (ordered, ordered[::-1]):
        side: list[Array] = []
        for point in line:
            while len(side) > 1 and _turn(side[-2], side[-1], point) <= 0:
                side.pop()
            side.append(point)
        sides.append(side[:-1])
    return np.array(sides[0] + sides[1])


def _turn(a: Array, b: Array, c: Array) -> float:
    return float((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]))
