"""From where on the track each work point is served."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import xarray as xr

from armwright.errors import InputError
from armwright.pictures.canvas import FAINT, INK, NOT_SERVED, SERVED, dress, start
from armwright.pictures.units import UnitSystem, shown
from armwright.results import check_dataset

if TYPE_CHECKING:
    from matplotlib.axes import Axes


def track_intervals(
    dataset: xr.Dataset, *, stroke: tuple[float, float] | None = None, units: UnitSystem = "si", ax: Axes | None = None
) -> Axes:
    """One bar a work point: the track positions from which it is served. Shaded is ``stroke`` (lower, upper), m, by
    default the shortest one that serves all that can be; where parking is enough its positions are marked. Points that
    no position serves are named in another colour, with a cross."""
    what = check_dataset(dataset)
    if what.name != "track_intervals":
        raise InputError.of("dataset", f"a result of {what.name}", "a result of track_intervals")
    length = shown("m", units)
    factor = length.factor
    names = [str(name) for name in dataset["target"].values]
    ax = start(ax, 7.6, 1.3 + 0.27 * len(names))
    first, last = dataset.attrs["track_lower"] * factor, dataset.attrs["track_upper"] * factor
    if stroke is None:
        stroke = _shortest(dataset)
    if stroke is not None:
        ax.axvspan(stroke[0] * factor, stroke[1] * factor, color=FAINT, linewidth=0, zorder=0, gid="stroke")
    served_from_stroke = np.zeros(len(names), dtype=bool)
    for i in range(len(names)):
        for lower, upper in zip(dataset["lower"].values[i], dataset["upper"].values[i], strict=True):
            if np.isnan(lower):
                continue
            hit = stroke is not None and upper >= stroke[0] - 1e-9 and lower <= stroke[1] + 1e-9
            served_from_stroke[i] |= hit
            # A bar too short to be seen is still drawn as a tick.
            wide = max(float(upper - lower) * factor, 0.004 * (last - first))
            middle = 0.5 * float(lower + upper) * factor
            ax.barh(i, wide, left=middle - 0.5 * wide, height=0.62, color=SERVED, alpha=1.0 if hit else 0.45,
                    gid="interval")
        if not dataset["served"].values[i]:
            ax.plot(0.5 * (first + last), i, marker="x", color=NOT_SERVED, markersize=7, gid="not served")
    parked = dataset["parking_position"].values * factor if dataset.sizes["parking"] > 1 else []
    for at in parked:
        ax.axvline(at, color=INK, linewidth=1.1, linestyle=(0, (2, 2)), gid="parking")
    ax.set_yticks(range(len(names)), names)
    for tick, served in zip(ax.get_yticklabels(), dataset["served"].values, strict=True):
        tick.set_color(INK if served else NOT_SERVED)
    ax.set_ylim(len(names) - 0.4, -0.6)
    pad = 0.02 * (last - first)
    ax.set_xlim(first - pad, last + pad)
    ax.set_xlabel(length.label("position along the track"))
    note = f"{int(dataset['served'].values.sum())} of {len(names)} points are served from somewhere"
    if stroke is not None:
        note += f"; shaded: {length.number(stroke[1] - stroke[0])} of stroke, serving {int(served_from_stroke.sum())}"
    if len(parked):
        note += f"; dashed: the fewest places to park at, {len(parked)}"
    dress(ax, "From where on the track each point is served", note)
    ax.grid(False, axis="y")
    ax.tick_params(axis="y", length=0)
    return ax


def _shortest(dataset: xr.Dataset) -> tuple[float, float] | None:
    """The shortest stroke that serves all points that can be served."""
    count = int(dataset["served"].values.sum())
    if not count:
        return None
    lower, length = float(dataset["stroke_lower"][count - 1]), float(dataset["stroke_length"][count - 1])
    return lower, lower + length
