"""What the studies of the track say, in sentences."""

from __future__ import annotations

import numpy as np
import xarray as xr


def track_intervals_lines(dataset: xr.Dataset) -> list[str]:
    """How many points are served, by which stroke, from how many parking positions; and those that are not."""
    served = dataset.served.values
    count, points = int(served.sum()), served.size
    first, last = dataset.attrs["track_lower"], dataset.attrs["track_upper"]
    lines = [f"{count} of {points} work points are served from the track between {_m(first)} and {_m(last)} m"]
    lines += [f"{name}: from nowhere" for name in dataset.target.values[~served]]
    if not count:
        return lines
    length, lower = dataset.stroke_length.values, dataset.stroke_lower.values
    still = int(np.count_nonzero(length == 0))
    if still:
        lines.append(f"{still} of them from one position, {_m(lower[still - 1])} m")
    if still < count:
        begin, end = lower[count - 1], lower[count - 1] + length[count - 1]
        lines.append(f"all {count} with a stroke of {_m(length[count - 1])} m, from {_m(begin)} to {_m(end)} m")
    where = ", ".join(_m(position) for position in dataset.parking_position.values)
    parked = dataset.sizes["parking"]
    if parked > 1:
        lines.append(f"parking only: {parked} positions, at {where} m")
    return lines


def _m(value: float) -> str:
    return f"{float(value) + 0.0:.3f}"
