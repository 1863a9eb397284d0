"""What the studies of the track say, in sentences."""

from __future__ import annotations

import numpy as np
import xarray as xr


def track_intervals_lines(dataset: xr.Dataset) -> list[str]:
    """How many points are served, by which stroke, from how many parking positions; and those that are not."""
    served = dataset.served.values
    count, points = int(served.sum()), served.size
    first, last = dataset.attrs["track_lower"], dataset.attrs["track_upper"]
    lines = [f"{count} of {points} work points are served from the track between {_m(first)} m and {_m(last)} m"]
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
    where = ", ".join(f"{_m(position)} m" for position in dataset.parking_position.values)
    parked = dataset.sizes["parking"]
    if parked > 1:
        lines.append(f"parking only: {parked} positions, at {where}")
    return lines


def track_worth_lines(dataset: xr.Dataset) -> list[str]:
    """Whether a track is worth it, in a sentence, and a row for each stroke."""
    return [_verdict(dataset), *(_stroke_line(dataset, k) for k in range(dataset.sizes["stroke"]))]


def _verdict(dataset: xr.Dataset) -> str:
    a, count, stroke = dataset.attrs, dataset.served_count.values, dataset.stroke.values
    points = dataset.sizes["target"]
    time = dataset.cycle_time.values if "cycle_time" in dataset else np.full(len(stroke), np.nan)
    last = int(np.argmax(stroke >= a["last_gain_stroke"] - 1e-9))
    if last == 0:
        told = f"A track gains nothing here: the base fixed at its best serves {count[0]} of {points} points"
        return told + (f"; cycle {time[0]:.1f} s." if np.isfinite(time[0]) else ".")
    told = f"A track of {_short(stroke[last])} m serves {count[last]} of {points} points"
    told += f", against {count[0]} with the base fixed at its best"
    if stroke[-1] > stroke[last]:
        told += f"; beyond {_short(stroke[last])} m nothing is gained"
    if a["enough_stroke"] < stroke[last]:
        told += f"; {_short(a['enough_stroke'])} m would serve as many"
    if np.isfinite(time[last]):
        against = f" against {time[0]:.1f} s" if np.isfinite(time[0]) else ", which the fixed base cannot run"
        told += f"; cycle {time[last]:.1f} s{against}"
    return told + "."


def _stroke_line(dataset: xr.Dataset, k: int) -> str:
    length, begin = dataset.stroke.values[k], _m(dataset.stroke_lower.values[k])
    none = "no track: " if np.isnan(dataset.stroke_lower.values[k]) else f"no track (at {begin} m): "
    row = [f"{dataset.served_count.values[k]} of {dataset.sizes['target']} points"]
    if "cycle_time" in dataset and np.isfinite(dataset.cycle_time.values[k]):
        row.append(f"cycle {dataset.cycle_time.values[k]:.2f} s")
    if dataset.served_count.values[k]:
        row.append(f"spare {dataset.payload_spare.values[k]:.3g} kg, {1000 * dataset.clearance.values[k]:.0f} mm")
    moment = dataset.moment.values[k]
    if "cycle_moment" in dataset:
        moment = np.fmax(moment, dataset.cycle_moment.values[k])
    if np.isfinite(moment):
        row.append(f"at most {moment:.0f} N m on {'the rails' if length else 'its foot'}")
    if "cost" in dataset:
        row.append(f"{dataset.cost.values[k]:,.0f} {dataset.attrs.get('currency', '')}".strip())
    return (f"{_short(length)} m (from {begin} m): " if length else none) + ", ".join(row)


def _short(value: float) -> str:
    return f"{float(value):.3f}".rstrip("0").rstrip(".")


def _m(value: float) -> str:
    return f"{float(value) + 0.0:.3f}"
