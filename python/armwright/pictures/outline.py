"""The reachable region's boundary in section and in plan, with its greatest dimensions and the range of each axis."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

import numpy as np
import xarray as xr
from numpy.typing import NDArray

from armwright.errors import InputError
from armwright.pictures.canvas import HALO, INK, QUIET, SERVED, dress, start
from armwright.results import check_dataset
from armwright.results.units import Shown, UnitSystem, shown

if TYPE_CHECKING:
    from matplotlib.axes import Axes

_WIDEST = 400.0  # degrees; a bar goes no further
_TOOL: dict[str, Any] = {"color": INK, "linewidth": 1.8, "linestyle": "-"}
_WRIST: dict[str, Any] = {"color": SERVED, "linewidth": 1.3, "linestyle": (0, (5, 2))}


def outlines(dataset: xr.Dataset, *, units: UnitSystem = "si", axes: Sequence[Axes] | None = None
             ) -> tuple[Axes, Axes, Axes]:
    """Section, plan and ranges side by side, in the three axes given or in a new figure.

    >>> shape = cell.outlines(spacing="250 mm", directions=8)
    >>> len(pictures.outlines(shape))
    3
    """
    _check(dataset)
    if axes is None:
        import matplotlib.pyplot as plt

        from armwright.pictures.canvas import DPI

        figure = plt.figure(figsize=(12.5, 5.4), dpi=DPI, layout="constrained")
        axes = figure.subplots(1, 3, width_ratios=[1.0, 1.25, 0.8])
    if len(axes) != 3:
        raise InputError.of("axes", f"{len(axes)} axes", "three axes: for the section, the plan and the ranges")
    for ax in axes:
        ax.set_anchor("N")
    return (outline_section(dataset, units=units, ax=axes[0]), outline_plan(dataset, units=units, ax=axes[1]),
            axis_ranges(dataset, units=units, ax=axes[2]))


def outline_section(dataset: xr.Dataset, *, units: UnitSystem = "si", ax: Axes | None = None) -> Axes:
    """The boundary in the vertical section through axis 1: distance from axis 1 against height.

    >>> shape = cell.outlines(spacing="250 mm", directions=8)
    >>> pictures.outline_section(shape).get_xlabel()
    'distance from axis 1 (m)'
    """
    _check(dataset)
    ax = start(ax, 5.2, 5.6)
    length = shown("m", units)
    points = _draw_curves(ax, dataset, ("section", "wrist_section"), length)
    ax.axvline(0, color=QUIET, linewidth=1.0, linestyle=(0, (8, 2, 1.5, 2)), zorder=1, gid="axis 1")
    ax.axhline(0, color=QUIET, linewidth=1.0, zorder=1, gid="height 0")
    ax.set_aspect("equal")
    if points.size:
        (near, low), (far, high) = points.min(axis=0), points.max(axis=0)
        tall, wide = high - low, far - min(near, 0.0)
        ax.set_xlim(min(near, 0.0) - 0.10 * wide, far + 0.40 * wide)
        ax.set_ylim(min(low, 0.0) - 0.20 * tall, max(high, 0.0) + 0.06 * tall)
        _dimension(ax, (0, low - 0.10 * tall), (far, low - 0.10 * tall), length)
        place = far + 0.16 * wide
        if high > 0:
            _dimension(ax, (place, 0), (place, high), length)
        if low < 0:
            _dimension(ax, (place, low), (place, 0), length)
        ax.annotate("axis 1", (0, ax.get_ylim()[1]), xytext=(4, -3), textcoords="offset points", va="top", fontsize=8,
                    color=QUIET)
    ax.set_xlabel(length.label("distance from axis 1"))
    ax.set_ylabel(length.label("height z"))
    dress(ax, "Reach in vertical section", str(dataset.attrs["arm_name"]))
    return ax


def outline_plan(dataset: xr.Dataset, *, units: UnitSystem = "si", ax: Axes | None = None) -> Axes:
    """The boundary seen from above.

    >>> shape = cell.outlines(spacing="250 mm", directions=8)
    >>> pictures.outline_plan(shape, units="us").get_xlabel()
    'x (in)'
    """
    _check(dataset)
    ax = start(ax, 6.0, 5.6)
    length = shown("m", units)
    points = _draw_curves(ax, dataset, ("plan", "wrist_plan"), length)
    base = dataset.attrs.get("base_position")
    if base is not None:
        ax.plot([base[0] * length.factor], [base[1] * length.factor], marker="+", markersize=12, color=INK,
                linestyle="none", gid="base")
    ax.set_aspect("equal")
    if points.size:
        low, high = points.min(axis=0), points.max(axis=0)
        wide, tall = high - low
        ax.set_xlim(low[0] - 0.06 * wide, high[0] + 0.24 * wide)
        ax.set_ylim(low[1] - 0.20 * tall, high[1] + 0.06 * tall)
        _dimension(ax, (low[0], low[1] - 0.10 * tall), (high[0], low[1] - 0.10 * tall), length)
        _dimension(ax, (high[0] + 0.10 * wide, low[1]), (high[0] + 0.10 * wide, high[1]), length)
    ax.set_xlabel(length.label("x"))
    ax.set_ylabel(length.label("y"))
    dress(ax, "Reach in plan", "over all heights")
    return ax


def axis_ranges(dataset: xr.Dataset, *, units: UnitSystem = "si", ax: Axes | None = None) -> Axes:
    """The range of each axis as a bar with its ends written; sliding axes, in their own unit, as words.

    >>> shape = cell.outlines(spacing="250 mm", directions=8)
    >>> pictures.axis_ranges(shape).get_xlabel()
    'joint angle (°)'
    """
    _check(dataset)
    ax = start(ax, 4.2, 0.45 * dataset.sizes["joint"] + 1.4)
    names = [str(name) for name in dataset["joint"].values]
    kinds = [str(unit) for unit in dataset["joint_unit"].values] if "joint_unit" in dataset else ["rad"] * len(names)
    widest = 10.0
    for row, (name, unit) in enumerate(zip(names, kinds, strict=True)):
        look = shown(unit, units)
        low, high = (float(dataset[key].sel(joint=name)) for key in ("joint_lower", "joint_upper"))
        if unit == "m":
            ax.text(0.5, row, f"{_end(look, low)} to {_end(look, high)}, slides", ha="center", va="center", fontsize=8,
                    color=INK, transform=ax.get_yaxis_transform())
            continue
        left, right = np.clip(np.degrees([low, high]), -_WIDEST, _WIDEST)
        widest = max(widest, -left, right)
        ax.barh(row, right - left, left=left, height=0.34, color="#c9d3dc", edgecolor=INK, linewidth=0.9, zorder=2)
        ax.plot([0, 0], [row - 0.24, row + 0.24], color=INK, linewidth=1.0, zorder=3)
        for at, value, side, gap in ((left, low, "right", -4), (right, high, "left", 4)):
            ax.annotate(_end(look, value), (at, row), xytext=(gap, 0), textcoords="offset points", ha=side,
                        va="center", fontsize=8, color=INK)
    ax.set_yticks(range(len(names)), names)
    ax.set_ylim(len(names) - 0.4, -0.7)
    ax.set_xlabel("joint angle (°)")
    ax.set_xlim(-1.55 * widest, 1.55 * widest)
    dress(ax, "Range of each axis")
    ax.grid(False, axis="y")
    return ax


def _check(dataset: xr.Dataset) -> None:
    what = check_dataset(dataset)
    if what.name != "outlines":
        raise InputError.of("dataset", f"a result of {what.name}", "a result of outlines")


def _draw_curves(ax: Axes, dataset: xr.Dataset, names: tuple[str, str], length: Shown) -> NDArray[np.float64]:
    """Draws the tool point's and the wrist centre's curves; gives all their points, as shown."""
    seen = [np.empty((0, 2))]
    for name, look, words in ((names[0], _TOOL, "tool point"), (names[1], _WRIST, "wrist centre")):
        if name not in dataset:
            continue
        line = dataset[name].values * length.factor
        ax.plot(*line.T, label=words, gid=name, zorder=3, **look)
        seen.append(line[~np.isnan(line).any(axis=1)])
    if len(seen) > 2:
        ax.legend(loc="upper left", bbox_to_anchor=(0, -0.13), ncols=2, frameon=False, fontsize=8.5, borderaxespad=0)
    return np.concatenate(seen)


def _dimension(ax: Axes, start_at: tuple[float, float], end_at: tuple[float, float], length: Shown) -> None:
    """A dimension line with arrows at both ends and its length; the ends are as shown, not in m."""
    from matplotlib import patheffects

    ax.annotate("", start_at, end_at, arrowprops={"arrowstyle": "<|-|>", "color": QUIET, "linewidth": 0.9,
                                                  "mutation_scale": 9, "shrinkA": 0, "shrinkB": 0}, gid="dimension")
    size = float(np.hypot(end_at[0] - start_at[0], end_at[1] - start_at[1]))
    middle = ((start_at[0] + end_at[0]) / 2, (start_at[1] + end_at[1]) / 2)
    ax.annotate(length.number(size / length.factor), middle, ha="center", va="center", fontsize=8.5, color=INK,
                rotation=90 if start_at[0] == end_at[0] else 0, zorder=4,
                path_effects=[patheffects.withStroke(linewidth=2 * HALO, foreground="white")])


def _end(look: Shown, value: float) -> str:
    return look.number(value, 4) if np.isfinite(value) else "no limit"
