"""Ways of the tool, sampled: straight, or on a circle, the attitude turning evenly about one axis."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from armwright.describe.pose import turn_about

Floats = NDArray[np.float64]
_STEP, _TURN = 0.02, math.radians(4)  # between samples


def turned(start: Floats, end: Floats) -> tuple[Floats, float]:
    """The axis (world) and angle (0 to pi) of the one turn between two poses' attitudes."""
    relative = end[:3, :3] @ start[:3, :3].T
    axis = np.array([relative[2, 1] - relative[1, 2], relative[0, 2] - relative[2, 0], relative[1, 0] - relative[0, 1]])
    sine, cosine = float(np.linalg.norm(axis)) / 2, (float(np.trace(relative)) - 1) / 2
    angle = math.atan2(sine, cosine)
    if sine > 1e-9:
        return axis / (2 * sine), angle
    if cosine > 0:
        return np.array((0.0, 0.0, 1.0)), 0.0
    square = (relative + np.eye(3)) / 2  # a half turn: axis axisᵀ
    column = square[:, int(np.argmax(np.diag(square)))]
    return np.asarray(column / np.linalg.norm(column)), math.pi


def samples(length: float, angle: float) -> int:
    """How many steps a way is followed in."""
    return int(min(max(math.ceil(length / _STEP), math.ceil(angle / _TURN), 6), 400))


def line(start: Floats, end: Floats) -> Floats:
    """Poses along a straight way, (steps, 4, 4), without the start."""
    axis, angle = turned(start, end)
    step = end[:3, 3] - start[:3, 3]
    return _poses(start, axis, angle, float(np.linalg.norm(step)), lambda share: start[:3, 3] + share * step)


def arc(start: Floats, via: Floats, end: Floats) -> Floats | None:
    """Poses along the circle from ``start`` through ``via`` to ``end``; None where the points tell no circle."""
    a, b = via - start[:3, 3], end[:3, 3] - start[:3, 3]
    normal = np.cross(a, b)
    size = float(normal @ normal)
    if size < 1e-16 * float(a @ a) * float(b @ b) or size < 1e-24:
        return None
    centre = start[:3, 3] + (float(a @ a) * np.cross(b, normal) - float(b @ b) * np.cross(a, normal)) / (2 * size)
    out = start[:3, 3] - centre
    radius = float(np.linalg.norm(out))
    out, up = out / radius, normal / math.sqrt(size)
    ahead = np.cross(up, out)
    reach = end[:3, 3] - centre
    sweep = math.atan2(float(reach @ ahead), float(reach @ out)) % (2 * math.pi)
    axis, angle = turned(start, end)

    def point(share: float) -> Floats:
        turn = share * sweep
        return np.asarray(centre + radius * (math.cos(turn) * out + math.sin(turn) * ahead))

    return _poses(start, axis, angle, radius * sweep, point)


def _poses(start: Floats, axis: Floats, angle: float, length: float, point: Callable[[float], Floats]) -> Floats:
    steps = samples(length, angle)
    poses = np.tile(np.eye(4), (steps, 1, 1))
    for i in range(steps):
        share = (i + 1) / steps
        poses[i, :3, :3] = turn_about(axis, share * angle) @ start[:3, :3]
        poses[i, :3, 3] = point(share)
    return poses


def nearest_spin(pose: Floats, attitude: Floats) -> Floats:
    """The pose turned about its own z axis so that it is as near as can be to an attitude, (3, 3)."""
    relative = pose[:3, :3].T @ attitude
    spin = math.atan2(relative[1, 0] - relative[0, 1], relative[0, 0] + relative[1, 1])
    found = pose.copy()
    found[:3, :3] = pose[:3, :3] @ turn_about((0, 0, 1), spin)
    return found
