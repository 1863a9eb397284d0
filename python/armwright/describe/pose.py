"""Poses: 4x4 matrices from what people have, and checks that they are rigid."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from armwright.describe.toleranced import array_of, tolerance_of, toleranced
from armwright.describe.units import LARGEST, LENGTH, VectorOf
from armwright.describe.wrong import Wrong, shown
from armwright.errors import InputError

Array = NDArray[np.float64]

LENGTHS = VectorOf(LENGTH)
RIGID = 1e-6  # how far a rotation matrix may be from right angles and unit length
_PLAIN = (int, float)
EXACT = 1e-14  # nearer than this it is left as it is, to the last bit
_EXPECTED = "a 4x4 matrix of a rotation and a position in m, or a position of 3 lengths"
DIRECTIONS = {
    "up": (0, 0, 1), "down": (0, 0, -1), "x": (1, 0, 0), "y": (0, 1, 0), "z": (0, 0, 1), "+x": (1, 0, 0),
    "+y": (0, 1, 0), "+z": (0, 0, 1), "-x": (-1, 0, 0), "-y": (0, -1, 0), "-z": (0, 0, -1),
}  # fmt: skip


def take_pose(key: str, value: Any) -> Array:
    """A 4x4 pose from a 4x4 matrix (numbers in m), a position of three lengths, or None for the identity."""
    if value is None:
        return np.eye(4)
    matrix = None
    three = isinstance(value, list | tuple) and len(value) == 3  # not through numpy, which strips pint's units
    if not (three or isinstance(value, str) or hasattr(value, "magnitude")):
        try:
            matrix = np.asarray(value)
        except ValueError:
            raise InputError.of(key, shown(value), _EXPECTED) from None
    if matrix is None or matrix.shape == (3,):
        return make_pose(None, take_position(key, value))
    if matrix.shape != (4, 4) or matrix.dtype.kind not in "fiu":
        raise InputError.of(key, f"an array of shape {matrix.shape} of {matrix.dtype}", _EXPECTED)
    return toleranced(rigid(key, matrix.astype(np.float64)), tolerance_of(value))


def take_position(key: str, value: Any) -> Array:
    """Three lengths, m."""
    if type(value) is tuple and len(value) == 3 and all(type(x) in _PLAIN and abs(x) <= LARGEST for x in value):
        return np.array(value, dtype=np.float64)  # what is given most often, and needs no words
    told = array_of(LENGTHS.si_value(key, value))
    return told if tolerance_of(value) is None else toleranced(told, tolerance_of(value))


def rigid(key: str, pose: Array) -> Array:
    """The pose, its rotation made exactly orthonormal; refused if it is further off than 1e-6."""
    if not (np.abs(pose) <= LARGEST).all():  # not a number is no less
        raise InputError.of(key, "numbers that are not finite", _EXPECTED)
    if not (pose[3] == (0, 0, 0, 1)).all():
        raise InputError.of(key, f"a last row of {shown(pose[3].tolist())}", "a last row of 0, 0, 0, 1")
    rotation = pose[:3, :3]
    nearest, errors = nearest_rotations(rotation[None])
    error = float(errors[0])
    if error > RIGID:
        raise InputError.of(
            key, f"a rotation that is {error:.2g} off right angles and unit length", "an orthonormal one (within 1e-6)"
        )
    if np.linalg.det(rotation) < 0:
        raise InputError.of(key, "a reflection (a left-handed frame)", "a rotation (a right-handed frame)")
    return make_pose(nearest[0], pose[:3, 3])


def nearest_rotations(matrices: Array) -> tuple[Array, Array]:
    """The orthonormal matrices nearest to those given, (n, 3, 3), and how far each is off, (n,): the largest entry of
    RᵀR - 1. What is orthonormal within rounding comes back to the last bit."""
    errors = np.abs(np.swapaxes(matrices, 1, 2) @ matrices - np.eye(3)).max(axis=(1, 2), initial=0.0)
    loose = errors > EXACT
    if loose.any():
        u, _, v = np.linalg.svd(matrices[loose])
        matrices = matrices.copy()
        matrices[loose] = u @ v
    return matrices, errors


def take_direction(key: str, value: Any) -> Array:
    """A unit vector from "x", "-z", "down" and the like, or from three numbers of any length but 0."""
    expected = f"one of {', '.join(DIRECTIONS)}, or 3 numbers not all 0"
    if isinstance(value, str):
        if value.strip().lower() in DIRECTIONS:
            return np.array(DIRECTIONS[value.strip().lower()], dtype=np.float64)
        raise InputError.of(key, shown(value), expected)
    try:
        vector = np.asarray(value)
    except ValueError:
        raise InputError.of(key, shown(value), expected) from None
    if vector.shape != (3,) or vector.dtype.kind not in "fiu":
        raise InputError.of(key, shown(value), expected)
    vector = vector.astype(np.float64)
    length = float(np.linalg.norm(vector))
    if not math.isfinite(length) or length < 1e-12:
        raise InputError.of(key, shown(value), expected)
    return vector if abs(length - 1) < 4e-16 else np.asarray(vector / length)


def turn_about(axis: Sequence[float] | Array, angle: float) -> Array:
    """Rotation matrix by ``angle`` (rad) about the unit vector ``axis`` (Rodrigues)."""
    x, y, z = axis
    cross = np.array([[0, -z, y], [z, 0, -x], [-y, x, 0]], dtype=np.float64)
    return np.eye(3) + _sin(angle) * cross + (1 - _cos(angle)) * (cross @ cross)


def roll_pitch_yaw(angles: Sequence[float]) -> Array:
    """Rotation by roll about x, then pitch about y, then yaw about z, all axes fixed (as in URDF); rad."""
    roll, pitch, yaw = angles
    return turn_about((0, 0, 1), yaw) @ turn_about((0, 1, 0), pitch) @ turn_about((1, 0, 0), roll)


def quaternion_xyzw(numbers: Sequence[float]) -> Array:
    """Rotation of a quaternion with the real part last; of any length but 0."""
    q = np.array(numbers, dtype=np.float64)
    length = float(np.linalg.norm(q))
    if not length > 1e-12 or not math.isfinite(length):
        raise Wrong("a quaternion x, y, z, w that is not 0")
    x, y, z, w = q / length
    rotation = np.array([
        [1 - 2 * (y * y + z * z), 2 * (x * y - z * w), 2 * (x * z + y * w)],
        [2 * (x * y + z * w), 1 - 2 * (x * x + z * z), 2 * (y * z - x * w)],
        [2 * (x * z - y * w), 2 * (y * z + x * w), 1 - 2 * (x * x + y * y)],
    ])  # fmt: skip
    return rotation


def pointing(direction: Array, spin: float = 0.0) -> Array:
    """Rotation whose z axis points along ``direction``; its x axis as near as possible to the world's x (to the
    world's y, where z is within about 0.5 deg of the world's x), then turned by ``spin`` (rad) about z."""
    reference = np.array((1.0, 0, 0)) if abs(direction[0]) < 0.99996 else np.array((0.0, 1, 0))
    x = reference - direction * float(reference @ direction)
    x /= np.linalg.norm(x)
    rotation = np.column_stack((x, np.cross(direction, x), direction))
    return rotation @ turn_about((0, 0, 1), spin) if spin else rotation


def make_pose(rotation: Array | None = None, position: Any = None) -> Array:
    """A 4x4 pose of its two parts; a position told with tolerances keeps them."""
    pose = np.eye(4)
    if rotation is not None:
        pose[:3, :3] = rotation
    if position is not None:
        pose[:3, 3] = position
    tolerance = tolerance_of(position)
    return pose if tolerance is None else toleranced(pose, (*tolerance, 0.0, 0.0, 0.0))


def angles_of(rotation: Array) -> tuple[float, float, float]:
    """Roll, pitch and yaw (rad) of a rotation, as ``roll_pitch_yaw`` takes them; where pitch is a quarter turn, roll is
    0."""
    pitch = math.atan2(-rotation[2, 0], math.hypot(rotation[0, 0], rotation[1, 0]))
    if math.hypot(rotation[0, 0], rotation[1, 0]) < 1e-12:
        return 0.0, pitch, math.atan2(-rotation[0, 1], rotation[1, 1])
    return math.atan2(rotation[2, 1], rotation[2, 2]), pitch, math.atan2(rotation[1, 0], rotation[0, 0])


def angle_axes(rotation: Array) -> Array:
    """The axes about which roll, pitch and yaw of a rotation turn, as columns, in the frame that it is told in."""
    _, pitch, yaw = angles_of(rotation)
    by_yaw = turn_about((0, 0, 1), yaw)
    return np.stack([by_yaw @ turn_about((0, 1, 0), pitch) @ (1.0, 0, 0), by_yaw @ (0, 1.0, 0), (0, 0, 1.0)], axis=1)


def shown_position(pose: Array) -> str:
    """The position in mm, for a repr."""
    return "at (" + ", ".join(f"{1000 * v:.6g}" for v in pose[:3, 3] + 0.0) + ") mm"


# Quarter turns give exact zeros and ones, so that an arm told in right angles has exactly square axes.
def _sin(angle: float) -> float:
    quarters = angle / (math.pi / 2)
    return float((0, 1, 0, -1)[round(quarters) % 4]) if abs(quarters - round(quarters)) < 1e-15 else math.sin(angle)


def _cos(angle: float) -> float:
    quarters = angle / (math.pi / 2)
    return float((1, 0, -1, 0)[round(quarters) % 4]) if abs(quarters - round(quarters)) < 1e-15 else math.cos(angle)
