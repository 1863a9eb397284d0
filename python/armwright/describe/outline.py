"""Outlines in a plane: their corners, whether they cross themselves, whether a point is inside."""

from __future__ import annotations

from typing import Any

import numpy as np

from armwright.describe.pose import Array


def points_of(told: Any) -> Array:
    """Points that were read, as an array (n, 2), m."""
    return np.array([[float(x), float(y)] for x, y in told])


def _turn(a: Array, b: Array, c: Array) -> float:
    """Above 0 where the way from a over b to c turns left."""
    return float((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]))


def crosses_itself(corners: Array) -> bool:
    """Whether two edges that are not neighbours meet, or all corners are in one line."""
    n = len(corners)
    edges = [(corners[i], corners[(i + 1) % n]) for i in range(n)]
    for i in range(n):
        for k in range(i + 2, n - (i == 0)):
            (a, b), (c, d) = edges[i], edges[k]
            if _turn(a, b, c) * _turn(a, b, d) <= 0 and _turn(c, d, a) * _turn(c, d, b) <= 0:
                return True
    return all(abs(_turn(corners[0], corners[1], corner)) < 1e-12 for corner in corners)


def holds(corners: Array, point: Array) -> bool:
    """Whether a point is inside an outline or on it (within 1e-9 m): a ray to the right meets its edges an odd number
    of times."""
    inside = False
    for i in range(len(corners)):
        a, b = corners[i - 1], corners[i]
        along = float(np.clip(np.dot(point - a, b - a) / max(float(np.dot(b - a, b - a)), 1e-300), 0, 1))
        if np.linalg.norm(point - (a + along * (b - a))) <= 1e-9:
            return True
        if (a[1] > point[1]) != (b[1] > point[1]):
            across = a[0] + (point[1] - a[1]) / (b[1] - a[1]) * (b[0] - a[0])
            inside ^= bool(across > point[0])
    return inside
