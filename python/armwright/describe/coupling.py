"""The matrix of an arm whose drives run through one another."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np

from armwright.describe.pose import Array
from armwright.describe.units import LARGEST
from armwright.describe.wrong import shown
from armwright.errors import InputError


def take_coupling(names: tuple[str, ...]) -> Callable[[str, Any], Array | None]:
    """A reader of the square matrix of an arm with joints of these names ("?": not known yet, nor how many); None
    stays None."""

    def take(key: str, value: Any) -> Array | None:
        if value is None:
            return None
        n = len(names)
        known = f"{n} rows of {n} numbers" if "?" not in names else "a row for each joint with a number for each drive"
        expected = f"{known}: the joints' positions by the drives'"
        try:
            matrix = np.asarray(value)
        except ValueError:
            raise InputError.of(key, shown(value), expected) from None
        if matrix.shape != (n, n) or matrix.dtype.kind not in "fiu" or not (np.abs(matrix) <= LARGEST).all():
            raise InputError.of(key, shown(value), expected)
        matrix = matrix.astype(np.float64)
        sizes = np.linalg.norm(matrix, axis=1)
        if (sizes == 0).any():
            raise InputError.of(f"{key}[{int(np.argmin(sizes))}]", "a row of zeros", "a drive that moves the joint")
        determinant = float(np.linalg.det(matrix))
        if not abs(determinant) > 1e-9 * float(np.prod(sizes)):
            raise InputError.of(key, f"a singular matrix (its determinant is {determinant:.3g})",
                                "one that can be inverted: every drive moves something of its own")  # fmt: skip
        return matrix

    return take
