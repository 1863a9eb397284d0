"""What people pass to the objects, turned into SI numbers: the desk's edge, as the files have theirs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from difflib import get_close_matches
from typing import Any

import numpy as np
from numpy.typing import NDArray

from armwright import _core
from armwright.describe.drive_units import ANGULAR_ACCELERATION, LINEAR_ACCELERATION
from armwright.describe.machine_units import SAFETY
from armwright.describe.pose import RIGID, nearest_rotations, take_direction, take_position
from armwright.describe.units import LARGEST, LENGTH, SHARE
from armwright.describe.wrong import shown
from armwright.errors import InputError

Floats = NDArray[np.float64]
_ACCELERATION = replace(LINEAR_ACCELERATION, above=None, least=0.0)
_RELIABILITIES = (0.90, 0.9995)
_PART = replace(SHARE, above=None, least=0.0)
_TURNING = replace(ANGULAR_ACCELERATION, above=None, least=0.0)


def numbers(key: str, values: Any) -> Floats:
    """Plain numbers in SI. Units have no place here: a row may hold m beside rad, and an array would lose them."""
    expected = "numbers, SI: rad and m, without units"
    if hasattr(values, "magnitude") or np.ma.is_masked(values):
        raise InputError.of(key, shown(values), expected)
    try:
        array = np.asarray(values)
    except (TypeError, ValueError):
        raise InputError.of(key, shown(values), expected) from None
    if array.dtype.kind not in "fiu":
        raise InputError.of(key, shown(values), expected)
    return np.asarray(array, dtype=np.float64)


def finite(key: str, array: Floats) -> None:
    """Refuses what is not finite, or so large that squares of it would not be."""
    if _core.all_within(array, LARGEST):
        return
    at = tuple(int(i) for i in np.argwhere(~(np.abs(array) <= LARGEST))[0])
    expected = f"numbers up to {LARGEST:g}" if np.isfinite(array[at]) else "finite numbers"
    raise InputError.of(key, f"{array[at]} at {list(at)}", expected)


def length(key: str, value: Any, *, zero: bool = False) -> float:
    """A length above 0 (or from 0), m."""
    metres = float(LENGTH.si_value(key, value))
    if metres < 0 or (metres == 0 and not zero):
        raise InputError.of(key, f"{metres:g} m", "0 m or more" if zero else "more than 0 m")
    return metres


def length_or_none(key: str, value: Any) -> float | None:
    """A length above 0, m, or None."""
    return None if value is None else length(key, value)


def acceleration_or_none(key: str, value: Any, *, turning: bool = False) -> float | None:
    """An acceleration of 0 or more, m/s², or rad/s² of what turns; or None."""
    return None if value is None else float((_TURNING if turning else _ACCELERATION).si_value(key, value))


def share_or_none(key: str, value: Any) -> float | None:
    """A share from 0 to 1, or None."""
    if value is None:
        return None
    if isinstance(value, bool) or not isinstance(value, int | float | np.integer | np.floating) or not 0 <= value <= 1:
        raise InputError.of(key, shown(value), "a share, 0 to 1, of each joint's own limit")
    return float(value)


def reliability(key: str, value: Any) -> float:
    """The share of bearings or blocks that reach a life: 0.9 to 0.9995, or "95 %"."""
    share = float(SHARE.si_value(key, value))
    if not _RELIABILITIES[0] <= share <= _RELIABILITIES[1]:
        expected = "90 % to 99.95 %, for which ISO 281:2007, 9.2 (from memory), has a factor a1"
        raise InputError.of(key, f"{100 * share:.6g} %", expected)
    return share


def part(key: str, value: Any) -> float:
    """A share from 0 to 1, or as "20 %"."""
    return float(_PART.si_value(key, value))


def safety(key: str, value: Any) -> float:
    """A safety that is wanted, 1 or more."""
    return float(SAFETY.si_value(key, value))


def gyration(key: str, value: Any) -> tuple[float, float, float]:
    """Radii of gyration along three axes, m; one for all."""
    if isinstance(value, str) or np.ndim(getattr(value, "magnitude", value)) == 0:
        radius = length(key, value, zero=True)
        return radius, radius, radius
    radii = position(key, value)
    if (radii < 0).any():
        raise InputError.of(key, f"{radii.tolist()} m", "0 m or more")
    return float(radii[0]), float(radii[1]), float(radii[2])


def position(key: str, value: Any) -> Floats:
    """Three lengths, m."""
    return take_position(key, value)


def directions(key: str, value: Any) -> int | Floats:
    """A number of directions, to be spread; or the directions themselves, as unit vectors (n, 3): words ("down", "-x")
    or vectors of any length."""
    if isinstance(value, int | np.integer) and not isinstance(value, bool):
        return int(value)
    if isinstance(value, str):
        value = [value]
    if not hasattr(value, "__iter__") or len(value) == 0:
        raise InputError.of(key, repr(value), "a whole number, or a list of directions")
    return np.array([take_direction(f"{key}[{i}]", item) for i, item in enumerate(value)])


def corners(key: str, value: Any) -> tuple[Floats, Floats] | None:
    """Two corners of a box, the lower first, m, or None."""
    if value is None:
        return None
    try:
        low, high = value
    except (TypeError, ValueError):
        raise InputError.of(key, repr(value), "two corners: ((x, y, z), (x, y, z))") from None
    lower, upper = position(f"{key}[0]", low), position(f"{key}[1]", high)
    if not (lower <= upper).all():
        raise InputError.of(key, f"{lower.tolist()} to {upper.tolist()}", "a lower corner, then an upper one")
    return lower, upper


def choice(key: str, value: object, choices: dict[str, Any]) -> Any:
    """What stands for a word; another word is refused, with the nearest."""
    if not isinstance(value, str) or value not in choices:
        near = get_close_matches(str(value), choices, 1)
        raise InputError.of(key, repr(value), "one of " + ", ".join(choices), near[0] if near else "")
    return choices[value]


def named_once(key: str, names: Sequence[str]) -> None:
    """Refuses two of one name, by the first that is told again."""
    for i, name in enumerate(names):
        if name in names[:i]:
            raise InputError.of(key, f'two named "{name}"', "a different name for each")


def nearest_poses(poses: Floats) -> Floats:
    """Poses with rotations that are exactly so; refused if they are further off than 1e-6."""
    rotations = poses[:, :3, :3]
    nearest, errors = nearest_rotations(rotations)
    wrong = (errors > RIGID) | (np.linalg.det(rotations) < 0) | (poses[:, 3] != (0, 0, 0, 1)).any(axis=1)
    if wrong.any():
        first = int(np.flatnonzero(wrong)[0])
        raise InputError.of(
            f"poses[{first}]",
            np.array2string(poses[first], precision=4).replace("\n", ""),
            "a rotation (right-handed, axes of length 1 at right angles, within 1e-6), a position, and the row 0 0 0 1",
        )
    if nearest is not rotations:
        poses = poses.copy()
        poses[:, :3, :3] = nearest
    return poses
