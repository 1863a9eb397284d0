"""What people pass to the objects, turned into SI numbers: the desk's edge, as the files have theirs."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from armwright.describe.pose import take_position
from armwright.describe.units import LENGTH
from armwright.errors import InputError

Floats = NDArray[np.float64]


def length(key: str, value: Any, *, zero: bool = False) -> float:
    """A length above 0 (or from 0), m."""
    metres = float(LENGTH.si_value(key, value))
    if metres < 0 or (metres == 0 and not zero):
        raise InputError.of(key, f"{metres:g} m", "0 m or more" if zero else "more than 0 m")
    return metres


def length_or_none(key: str, value: Any) -> float | None:
    """A length above 0, m, or None."""
    return None if value is None else length(key, value)


def position(key: str, value: Any) -> Floats:
    """Three lengths, m."""
    return take_position(key, value)


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
