"""What stands on a link of the arm and is told by the link's name."""

from __future__ import annotations

import difflib
from typing import Any

import numpy as np

from armwright.describe.pose import Array, make_pose
from armwright.describe.toleranced import tolerance_of, toleranced, turned
from armwright.describe.wrong import shown
from armwright.errors import InputError


def check_link(key: str, name: str, names: tuple[str, ...], what: str = "a link of the arm") -> None:
    """Refuses a name that is none of ``names``, with the nearest."""
    if name not in names:
        near = difflib.get_close_matches(name, names, 1, 0.5)
        raise InputError.of(key, shown(name), f"{what}: " + ", ".join(names), f'"{near[0]}"' if near else "")


def moved_point(pose: Array, point: Any) -> Array:
    """A point told in a frame at ``pose``."""
    if np.array_equal(pose, np.eye(4)):
        return np.asarray(point) if tolerance_of(point) is None else point
    tolerance = turned(pose[:3, :3], tolerance_of(point))
    return toleranced((pose @ make_pose(None, point))[:3, 3], tolerance)
