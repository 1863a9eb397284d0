"""The closed surface around all positions of a map that have at least some value."""

from __future__ import annotations

import itertools
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
_NEAREST = 1e-3  # of the greatest depth: so near to the surface no position is, so that no triangle shrinks to a line


class Surface(NamedTuple):
    """``vertices`` (n, 3), m; ``faces`` (m, 3), counter-clockwise from outside; ``values`` (n,), of the position just
    inside each vertex; ``normals`` (n, 3), outward."""

    vertices: Array
    faces: NDArray[np.int64]
    values: Array
    normals: Array


def surface(
    axes: tuple[Array, Array, Array], values: Array, threshold: float | None, *, step: float, measure: Any
) -> Surface | None:
    """Around the positions whose value is ``threshold`` or more (None: that have one); None where there are none.

    ``axes``: growing coordinates of the grid, m; ``values`` (x, y, z): NaN where there is none;
    ``step``: m, between positions along an axis that has but one. Between a position inside
    and one outside the value is taken to change evenly; where one of them is not known (NaN, infinite, at the threshold
    itself), the surface runs half way. It is closed: half a step beyond the grid at the latest. ``measure``:
    skimage.measure, whose marching cubes (Lewiner et al. 2003, doi:10.1080/10867651.2003.10487582) it is.
    """
    level = -np.inf if threshold is None else threshold
    known = ~np.isnan(values)
    inside = known & (np.where(known, values, -np.inf) >= level)
    if not inside.any():
        return None
    depth = np.pad(np.where(np.isinf(values) | ~known, 0.0, values - level if threshold is not None else 0.0), 1)
    within = np.pad(inside, 1)
    found = measure.marching_cubes(_signed(depth, within), 0.0, gradient_direction="ascent", allow_degenerate=False)
    at, faces, normals = (np.asarray(each, dtype=np.float64) for each in found[:3])
    vertices = np.column_stack([np.interp(at[:, k], *_steps(axis, step)) for k, axis in enumerate(axes)])
    padded = np.pad(np.where(inside, values, np.nan), 1, constant_values=np.nan)
    just_inside = _inside_of(np.floor(at).astype(np.int64), np.ceil(at).astype(np.int64), padded)
    return Surface(vertices, faces.astype(np.int64), just_inside, normals)


def _inside_of(low: NDArray[np.int64], high: NDArray[np.int64], padded: Array) -> Array:
    """Of each vertex the value of a position inside, among the corners of the edge that it lies on, or of the cube in
    whose middle it stands. ``padded``: NaN outside."""
    found = np.full(len(low), np.nan)
    for corner in itertools.product((False, True), repeat=3):
        near = padded[tuple(np.where(corner, high, low).T)]
        found = np.where(np.isnan(found), near, found)
    return found


def _signed(depth: Array, within: NDArray[np.bool_]) -> Array:
    """Positive inside, negative outside, so that the surface is where it is zero. What is not known (0) is as far from
    it as what is known beyond, in the mean of its neighbours."""
    signed = np.where(within, np.maximum(depth, 0), np.minimum(depth, 0))
    scale = float(np.abs(signed).max()) or 1.0
    unknown, sums, counts = signed == 0, np.zeros_like(signed), np.zeros(signed.shape)
    for axis in range(3):
        for step in (-1, 1):
            near = np.roll(signed, step, axis)  # of the outermost layer, which is outside and unknown, none is asked
            across = (np.roll(within, step, axis) != within) & (near != 0)
            sums += np.where(across, np.abs(near), 0)
            counts += across
    mirrored = np.divide(sums, counts, out=np.full_like(sums, scale), where=counts > 0)
    size = np.where(unknown, mirrored, np.abs(signed)) / scale
    return np.where(within, 1, -1) * np.maximum(size, _NEAREST)


def _steps(axis: Array, step: float) -> tuple[Array, Array]:
    """Places of a padded grid and their coordinates: as far beyond each end as the first and last steps are."""
    first, last = (axis[1] - axis[0], axis[-1] - axis[-2]) if len(axis) > 1 else (step, step)
    return np.arange(len(axis) + 2.0), np.concatenate([[axis[0] - first], axis, [axis[-1] + last]])
