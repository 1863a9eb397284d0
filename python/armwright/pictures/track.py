"""From where on the track each work point is served, and what a longer track brings."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
import xarray as xr
from numpy.typing import NDArray

from armwright.errors import InputError
from armwright.pictures.canvas import DPI, FAINT, INK, NOT_SERVED, QUIET, SERVED, dress, start
from armwright.results import check_dataset
from armwright.results.units import UnitSystem, shown

if TYPE_CHECKING:
    from matplotlib.axes import Axes


def track_intervals(
    dataset: xr.Dataset, *, stroke: tuple[float, float] | None = None, units: UnitSystem = "si", ax: Axes | None = None
) -> Axes:
    """One bar a work point: the track positions from which it is served. Shaded is ``stroke`` (lower, upper), m, by
    default the shortest one that serves all that can be; where parking is enough its positions are marked. Points that
    no position serves are named in another colour, with a cross.

    >>> pictures.track_intervals(cell.track_intervals()).get_xlabel()
    'position along the track (m)'
    """
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
    parked = dataset["parking_position"].values * factor
    parked = parked if len(parked) > 1 else parked[:0]
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
        note += f"\ndashed: the fewest places to park at, {len(parked)}"
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


def track_worth(dataset: xr.Dataset, *, units: UnitSystem = "si") -> NDArray[Any]:
    """What is gained by a longer stroke, one small picture a measure: points served, cycle time, the least mass and
    clearance to spare, the moment on the rails, volume and cost where they were asked for. Hollow is the arm without
    track; the dotted line stands at the knee, the dashed one at the stroke beyond which nothing is gained. Gives the
    axes, one a measure.

    >>> len(pictures.track_worth(cell.track_worth((0.5, 2.1))).ravel())
    4
    """
    import matplotlib.pyplot as plt

    what = check_dataset(dataset)
    if what.name != "track_worth":
        raise InputError.of("dataset", f"a result of {what.name}", "a result of track_worth")
    panels = [(name, words, unit) for name, words, unit in _MEASURES
              if name in dataset and np.isfinite(dataset[name].values).any()]  # fmt: skip
    rows = -(-len(panels) // 2)
    figure, grid = plt.subplots(rows, 2, figsize=(7.6, 0.6 + 2.0 * rows), dpi=DPI, layout="constrained", sharex=True)
    length = shown("m", units)
    stroke = dataset["stroke"].values * length.factor
    knee, last = (dataset.attrs[name] * length.factor for name in ("knee_stroke", "last_gain_stroke"))
    axes = grid.ravel()
    for ax, (name, words, unit) in zip(axes, panels, strict=False):
        scale = shown(unit, units) if unit else None
        values = dataset[name].values * (scale.factor if scale else 1.0)
        values = np.where(np.isfinite(values), values, np.nan)
        with_track = stroke > 0
        ax.plot(stroke[with_track], values[with_track], color=SERVED, linewidth=1.4, marker="o", markersize=4, gid=name)
        ax.plot(stroke[~with_track], values[~with_track], marker="o", markersize=6, color="white",
                markeredgecolor=SERVED, markeredgewidth=1.4, linestyle="", zorder=3, clip_on=False, gid="no track")
        ax.axvline(knee, color=QUIET, linewidth=1.0, linestyle=(0, (1, 1.5)), gid="knee")
        ax.axvline(last, color=INK, linewidth=1.0, linestyle=(0, (5, 2)), gid="last gain")
        dress(ax, "")
        ax.set_ylabel(scale.label(words) if scale else words)
        if name == "cost" and dataset.attrs.get("currency"):
            ax.set_ylabel(f"{words} ({dataset.attrs['currency']})")
        if name == "served_count":
            ax.axhline(dataset.sizes["target"], color=QUIET, linewidth=0.8, gid="all points")
        if np.nanmin(values) >= 0:
            ax.set_ylim(0, 1.08 * max(np.nanmax(values), dataset.sizes["target"] if name == "served_count" else 0) or 1)
    for ax in axes[len(panels):]:
        ax.remove()
    for ax in axes[max(0, len(panels) - 2): len(panels)]:
        ax.set_xlabel(length.label("stroke"))
        ax.tick_params(labelbottom=True)
    figure.suptitle("What a longer track brings", x=0.01, ha="left", fontsize=11, fontweight="bold", color=INK)
    note = f"hollow: no track; dotted: the knee, {length.number(dataset.attrs['knee_stroke'])}; dashed: beyond "
    figure.supxlabel(note + f"{length.number(dataset.attrs['last_gain_stroke'])} nothing is gained", x=0.01, ha="left",
                     fontsize=8.5, color=QUIET)
    drawn: NDArray[Any] = axes[: len(panels)]
    return drawn


_MEASURES = (
    ("served_count", "points served", ""),
    ("cycle_time", "cycle", "s"),
    ("payload_spare", "mass to spare", "kg"),
    ("clearance", "clearance", "m"),
    ("moment", "moment, at rest", "N*m"),
    ("cycle_moment", "moment, in the cycle", "N*m"),
    ("dexterous_volume", "dexterous volume", "m3"),
    ("cost", "cost", ""),
)
