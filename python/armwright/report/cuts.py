"""Where maps are cut for their pictures."""

from __future__ import annotations

import numpy as np
import xarray as xr


def upright_cut(result: xr.Dataset) -> tuple[float | None, float | None]:
    """Where to cut for an upright section, (x, None) or (None, y): through the base; with a track, square to it
    at the middle of its way, and along it only where the map is too thin for that."""
    base, span = result.attrs.get("base_position"), result.attrs.get("track_span")
    axis, value = "y", 0.0 if base is None else float(np.ravel(base)[1])
    if span is not None:
        ends = np.ravel(span).reshape(2, 3)
        along = int(np.argmax(np.abs(ends[1] - ends[0])[:2]))
        axis, value = "xy"[along], float(ends[:, along].mean())
    if min(result.sizes["y" if axis == "x" else "x"], result.sizes["z"]) < 2:
        axis, value = ("y", 0.0) if axis == "x" else ("x", 0.0)
    coordinate = result[axis].values
    nearest = float(coordinate[np.argmin(np.abs(coordinate - value))])
    return (nearest, None) if axis == "x" else (None, nearest)


def richest(values: xr.DataArray, axis: str) -> float:
    """The plane in which the reach index adds up to most."""
    others = [dim for dim in values.dims if dim != axis]
    return float(values[axis].values[int(np.argmax(values.sum(others).values))])
