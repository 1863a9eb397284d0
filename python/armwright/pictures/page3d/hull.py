"""Faces of a convex hull, for drawing."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from armwright.errors import InputError


def hull_faces(points: NDArray[np.float64]) -> NDArray[np.int64]:
    """Triangles (m, 3) over ``points`` (n, 3), counter-clockwise seen from outside.

    Grown point by point: the faces that a new point sees give way to a fan from the edge around them.
    """
    scale = float(np.ptp(points, axis=0).max()) if len(points) else 0.0
    start = _tetrahedron(points, 1e-9 * scale)
    if start is None:
        raise InputError.of("scene.solids.vertices", f"{len(points)} points in one plane", "a hull with a volume")
    inside = points[start].mean(axis=0)
    a, b, c, d = start
    faces = [_outward(points, inside, face) for face in ((a, b, c), (a, b, d), (a, c, d), (b, c, d))]
    for new in range(len(points)):
        heights = [_height(points, face, points[new]) for face in faces]
        seen = [face for face, height in zip(faces, heights, strict=True) if height > 1e-9 * scale]
        if not seen:
            continue
        edges = {(face[i], face[(i + 1) % 3]) for face in seen for i in range(3)}
        kept = set(seen)
        faces = [face for face in faces if face not in kept]
        faces += [(i, j, new) for i, j in edges if (j, i) not in edges]
    return np.array(faces, dtype=np.int64)


def _tetrahedron(points: NDArray[np.float64], least: float) -> list[int] | None:
    """Four points that span a volume: each the one furthest from those before."""
    if len(points) < 4:
        return None
    first = int(np.argmin(points[:, 0]))
    away = points - points[first]
    second = int(np.argmax(np.linalg.norm(away, axis=1)))
    length = np.linalg.norm(away[second])
    if length <= least:
        return None
    line = away[second] / length
    off_line = np.linalg.norm(away - np.outer(away @ line, line), axis=1)
    third = int(np.argmax(off_line))
    if off_line[third] <= least:
        return None
    normal = np.cross(line, away[third])
    off_plane = np.abs(away @ normal) / np.linalg.norm(normal)
    fourth = int(np.argmax(off_plane))
    return [first, second, third, fourth] if off_plane[fourth] > least else None


def _height(points: NDArray[np.float64], face: tuple[int, int, int], at: NDArray[np.float64]) -> float:
    a, b, c = points[list(face)]
    normal = np.cross(b - a, c - a)
    return float((at - a) @ normal / max(float(np.linalg.norm(normal)), 1e-300))


def _outward(points: NDArray[np.float64], inside: NDArray[np.float64], face: tuple[int, int, int]
             ) -> tuple[int, int, int]:
    return face if _height(points, face, inside) < 0 else (face[0], face[2], face[1])
