"""Arrays that carry tolerances, as Measured carries one for a single number."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


class Toleranced(np.ndarray[Any, np.dtype[np.float64]]):
    """An array with the tolerance of each number that it is told by, SI: of a position x, y, z; of a pose x, y, z,
    roll, pitch, yaw; of an inertia xx, yy, zz, xy, xz, yz. What is computed from it is a plain array."""

    tolerance: Array | None

    def __array_finalize__(self, obj: Any) -> None:
        self.tolerance = None

    def __array_ufunc__(self, ufunc: Any, method: str, *inputs: Any, **more: Any) -> Any:
        plain = [np.asarray(item) if isinstance(item, Toleranced) else item for item in inputs]
        return getattr(ufunc, method)(*plain, **more)

    def __reduce__(self) -> tuple[Any, ...]:
        return toleranced, (np.array(self), self.tolerance)


def toleranced(array: Array, tolerance: Iterable[float] | None) -> Array:
    """The array, with tolerances if there are any."""
    told = None if tolerance is None else np.array(tolerance, dtype=np.float64)
    if told is None or not told.any():
        return np.asarray(array)
    made = np.array(array).view(Toleranced)
    made.tolerance = told
    return made


def tolerance_of(value: Any) -> Array | None:
    """Tolerances of an array, or of a tuple of numbers that were read with their tolerances; None if it has none."""
    if isinstance(value, np.ndarray):
        return getattr(value, "tolerance", None)
    if isinstance(value, tuple | list):
        told = np.array([getattr(item, "tolerance", 0.0) for item in value])
        return told if told.any() else None
    return None


def array_of(values: tuple[float, ...]) -> Array:
    """Numbers that were read, as an array that keeps their tolerances."""
    return toleranced(np.array(values, dtype=np.float64), tolerance_of(values))


def turned(rotation: Array, tolerance: Array | None) -> Array | None:
    """Tolerances of a position (x, y, z) told in a turned frame: exact for quarter turns, otherwise each coordinate's
    greatest."""
    return None if tolerance is None else np.asarray(np.abs(rotation) @ tolerance[:3])
