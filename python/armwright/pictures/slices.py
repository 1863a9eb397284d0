"""Picks a plane out of a grid: values, the true edges of its cells, borders between regions."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import xarray as xr
from numpy.typing import NDArray

from armwright.errors import InputError
from armwright.results import check_dataset

Array = NDArray[np.float64]
_PLANES = {"x": ("y", "z"), "y": ("x", "z"), "z": ("x", "y")}


@dataclass(frozen=True)
class Plane:
    """The grid plane ``normal`` = ``at`` (m). ``across`` and ``up`` name the picture's axes; the edges are in m."""

    normal: str
    at: float
    across: str
    up: str
    across_edges: Array
    up_edges: Array
    index: int

    def cut(self, values: xr.DataArray) -> NDArray[Any]:
        """The values in the plane, (up, across)."""
        array: NDArray[Any] = values.isel({self.normal: self.index}).transpose(self.up, self.across).values
        return array

    def centres(self) -> tuple[Array, Array]:
        """The cells' centres, across and up."""
        return _middles(self.across_edges), _middles(self.up_edges)

    def place(self, point: Any) -> tuple[float, float, float]:
        """A world point (x, y, z) as (across, up, distance from the plane)."""
        at = dict(zip("xyz", map(float, point), strict=True))
        return at[self.across], at[self.up], at[self.normal] - self.at


def pick_plane(
    dataset: xr.Dataset, studies: tuple[str, ...], x: float | None, y: float | None, z: float | None
) -> Plane:
    """The grid plane nearest to the one asked for; y = 0 if none is. Refused outside the grid."""
    what = check_dataset(dataset)
    if what.name not in studies:
        raise InputError.of("dataset", f"a result of {what.name}", "a result of " + " or ".join(studies))
    asked = {name: value for name, value in (("x", x), ("y", y), ("z", z)) if value is not None}
    if len(asked) > 1:
        raise InputError.of("section", " and ".join(asked), "one of x, y and z")
    normal, value = next(iter(asked.items())) if asked else ("y", 0.0)
    line = dataset[normal].values
    edges = cell_edges(dataset, normal)
    if not edges[0] <= value <= edges[-1]:
        raise InputError.of(normal, f"{value:g} m", f"a place on the grid, {edges[0]:g} to {edges[-1]:g} m")
    index = int(np.argmin(np.abs(line - value)))
    across, up = _PLANES[normal]
    return Plane(normal, float(line[index]), across, up, cell_edges(dataset, across), cell_edges(dataset, up), index)


def pick_variable(dataset: xr.Dataset, name: str, dims: tuple[str, ...] = ("x", "y", "z")) -> xr.DataArray:
    """The variable of that name, if it is there and has those dims."""
    fit = [str(n) for n, v in dataset.data_vars.items() if v.dims == dims]
    if name not in fit:
        raise InputError.of("variable", repr(name), "one of " + ", ".join(fit))
    return dataset[name]


def cell_edges(dataset: xr.Dataset, name: str) -> Array:
    """The cells' edges along a grid axis: half-way between positions, and as far beyond the ends."""
    line = np.asarray(dataset[name].values, dtype=np.float64)
    if line.size == 0:
        raise InputError.of(name, "no positions", "at least one grid position")
    if line.size == 1:
        half = float(dataset.attrs.get("spacing", 0.1)) / 2
        return np.array([line[0] - half, line[0] + half])
    inner = _middles(line)
    return np.concatenate([[2 * line[0] - inner[0]], inner, [2 * line[-1] - inner[-1]]])


def border_lines(codes: NDArray[Any], across_edges: Array, up_edges: Array) -> list[Array]:
    """Every cell side with different codes on its two sides, as (2, 2) segments. None at the rim of the grid, where
    nothing is known of the other side."""
    padded = np.pad(codes, 1, mode="edge")
    lines = []
    for row, column in np.argwhere(padded[1:-1, :-1] != padded[1:-1, 1:]):
        lines.append(np.array([[across_edges[column], up_edges[row]], [across_edges[column], up_edges[row + 1]]]))
    for row, column in np.argwhere(padded[:-1, 1:-1] != padded[1:, 1:-1]):
        lines.append(np.array([[across_edges[column], up_edges[row]], [across_edges[column + 1], up_edges[row]]]))
    return lines


def connected(mask: NDArray[np.bool_]) -> list[NDArray[np.bool_]]:
    """The parts of a mask that hang together by cell sides, largest first."""
    left, parts = mask.copy(), []
    while left.any():
        part = np.zeros_like(mask)
        part[tuple(np.argwhere(left)[0])] = True
        while True:
            p = np.pad(part, 1)
            grown = left & (part | p[:-2, 1:-1] | p[2:, 1:-1] | p[1:-1, :-2] | p[1:-1, 2:])
            if (grown == part).all():
                break
            part = grown
        parts.append(part)
        left &= ~part
    return sorted(parts, key=lambda part: -int(part.sum()))


def without_islands(codes: NDArray[Any], least: int) -> NDArray[Any]:
    """The codes; parts of fewer than ``least`` cells take the code that most of their neighbours have. Negative codes
    mark cells without one: they neither change nor spread."""
    result = codes.copy()
    for code in np.unique(codes[codes >= 0]):
        for part in connected(codes == code):
            if part.sum() >= least:
                continue
            p = np.pad(part, 1)
            rim = (p[:-2, 1:-1] | p[2:, 1:-1] | p[1:-1, :-2] | p[1:-1, 2:]) & ~part
            around = result[rim & (result >= 0)]
            if around.size:
                kinds, counts = np.unique(around, return_counts=True)
                result[part] = kinds[counts.argmax()]
    return result


def deepest_cell(mask: NDArray[np.bool_]) -> tuple[int, int, int]:
    """Row and column of a cell deepest inside the mask, and how many cells deep: where a word fits best."""
    depth = np.zeros(mask.shape, dtype=np.int64)
    left = mask.copy()
    while left.any():
        depth += left
        p = np.pad(left, 1)
        left = left & p[:-2, 1:-1] & p[2:, 1:-1] & p[1:-1, :-2] & p[1:-1, 2:]
    best = np.argwhere(depth == depth.max())
    row, column = best[len(best) // 2]
    return int(row), int(column), int(depth.max())


def _middles(line: Array) -> Array:
    middles: Array = (line[:-1] + line[1:]) / 2
    return middles
