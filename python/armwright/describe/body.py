"""Masses, centres of gravity and inertias of rigid bodies, checked and combined."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

import numpy as np

from armwright.describe.pose import Array
from armwright.describe.toleranced import tolerance_of, toleranced
from armwright.describe.units import INERTIA
from armwright.describe.wrong import shown
from armwright.errors import InputError

_SLACK = 1e-6  # of the largest moment, as the core's check
Body = tuple[float, Array, Array]  # mass (kg), centre (m), inertia about the centre (3x3, kg m²)


def take_inertia(key: str, value: Any) -> Array:
    """A 3x3 inertia about the centre of gravity, kg m²: from a symmetric 3x3, three principal moments (xx, yy, zz), six
    numbers (xx, yy, zz, xy, xz, yz), or None: a point mass. Texts with units and pint quantities are taken too."""
    expected = "3 (xx, yy, zz), 6 (xx, yy, zz, xy, xz, yz) or 3x3 moments of inertia about the centre of gravity"
    if value is None:
        return np.zeros((3, 3))
    if hasattr(value, "to") and hasattr(value, "magnitude"):
        try:
            value = value.to(INERTIA.si).magnitude
        except Exception:
            raise InputError.of(key, shown(value), f"{expected}, in kg*m^2") from None
    if isinstance(value, str):
        value = value.strip("[]() ").split(",")
    try:
        items = np.asarray(value, dtype=object)
        shape = np.shape(items)
    except (ValueError, TypeError):
        raise InputError.of(key, shown(value), expected) from None
    if shape not in ((3,), (6,), (3, 3)):
        raise InputError.of(key, shown(value), expected)
    told = tuple(INERTIA.si_value(key, item) for item in items.ravel().tolist())
    flat = [float(item) for item in told]
    if shape == (3, 3):
        tensor = np.array(flat).reshape(3, 3)
        if np.abs(tensor - tensor.T).max() > 1e-9 * np.abs(tensor).max():
            raise InputError.of(key, shown(value), "a symmetric matrix")
        tensor = (tensor + tensor.T) / 2
    else:
        tensor = tensor_of(flat)
    check_inertia(key, tensor)
    known = tolerance_of(told)
    if isinstance(value, np.ndarray):
        known = tolerance_of(value)
    elif known is not None and shape != (6,):  # of three moments, or of a matrix, of which the upper half counts
        known = np.concatenate([known, np.zeros(3)]) if shape == (3,) else known[[0, 4, 8, 1, 2, 5]]
    return toleranced(tensor, known)


def tensor_of(numbers: Sequence[float]) -> Array:
    """The symmetric matrix of three or six numbers: xx, yy, zz, xy, xz, yz."""
    xx, yy, zz, xy, xz, yz = numbers if len(numbers) == 6 else (*numbers, 0.0, 0.0, 0.0)
    return np.array([[xx, xy, xz], [xy, yy, yz], [xz, yz, zz]])


def check_inertia(key: str, tensor: Array) -> None:
    """Refuses a tensor that no body can have: a negative principal moment, or one above the sum of the others."""
    low, middle, high = (float(moment) for moment in np.linalg.eigvalsh(tensor))
    slack = _SLACK * abs(high)
    if low < -slack or low + middle < high - slack:
        raise InputError.of(
            key,
            f"principal moments {low:.6g}, {middle:.6g}, {high:.6g} kg m²",
            "moments of 0 or more, none larger than the sum of the other two",
        )


def moved_body(pose: Array, body: Body) -> Body:
    """The body told in A, for the pose of B in A and the body in B."""
    mass, centre, tensor = body
    rotation = pose[:3, :3]
    turned = rotation @ tensor @ rotation.T
    return mass, rotation @ centre + pose[:3, 3], (turned + turned.T) / 2


def joined(bodies: Iterable[Body]) -> Body:
    """Several bodies, all told in one frame, as one."""
    parts = list(bodies)
    if len(parts) == 1:
        return parts[0]
    mass = sum(part[0] for part in parts)
    if mass <= 0:
        return 0.0, np.zeros(3), sum((part[2] for part in parts), np.zeros((3, 3)))
    centre = sum((part[0] * part[1] for part in parts), np.zeros(3)) / mass
    tensor = np.zeros((3, 3))
    for part_mass, part_centre, part_tensor in parts:
        r = part_centre - centre
        tensor += part_tensor + part_mass * (float(r @ r) * np.eye(3) - np.outer(r, r))  # Steiner
    return mass, centre, tensor
