"""Payload against cycle time."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import xarray as xr

from armwright.errors import InputError
from armwright.pictures.canvas import INK, NOT_SERVED, QUIET, SERVED, dress, start
from armwright.results import check_dataset
from armwright.results.units import UnitSystem, shown

if TYPE_CHECKING:
    from matplotlib.axes import Axes


def payload_against_time(dataset: xr.Dataset, *, units: UnitSystem = "si", ax: Axes | None = None) -> Axes:
    """The greatest load against the duration of a cycle run slower or faster: by peak limits, by means over the cycle
    (heat of motors, wear of reducers), and the less of both in bold, with what gives out first along it; the cycle as
    timed and its load are marked.

    >>> curve = cell.payload_against_time(cycle, slowing=(1.0, 1.5, 2.0))
    >>> ax = pictures.payload_against_time(curve)
    >>> ax.get_xlabel(), ax.get_ylabel()
    ('duration of the cycle (s)', 'greatest load (kg)')
    """
    what = check_dataset(dataset)
    if what.name != "payload_against_time":
        raise InputError.of("dataset", f"a result of {what.name}", "a result of payload_against_time")
    mass, ax = shown("kg", units), start(ax, 7.6, 4.4)
    known = np.isfinite(dataset["duration"].values)
    time = dataset["duration"].values[known]
    too_fast = (dataset["mass"].values[known] == 0) & (dataset["limiting_joint"].values[known] >= 0)
    courses = {name: np.where(np.isfinite(v := dataset[name].values[known]), v, np.nan) * mass.factor
               for name in ("mass_peak", "mass_continuous", "mass")}  # fmt: skip
    for course in courses.values():
        course[(course == 0) | too_fast] = np.nan
    if too_fast.any():
        last = float(time[too_fast].max())
        ax.axvspan(float(time[0]), last, facecolor="none", edgecolor=QUIET, alpha=0.35, hatch="////", linewidth=0,
                   gid="too fast")
        ax.annotate("too fast", (last, 1), xycoords=("data", "axes fraction"), xytext=(-4, -4),
                    textcoords="offset points", ha="right", va="top", fontsize=8, color=INK)
    ax.plot(time, courses["mass"], color=INK, alpha=0.3, linewidth=6.0, label="what it can carry", gid="mass")
    ax.plot(time, courses["mass_peak"], color=NOT_SERVED, linewidth=1.2, linestyle=(0, (4, 2)),
            label="if only peaks count", gid="peak")
    ax.plot(time, courses["mass_continuous"], color=SERVED, linewidth=1.4, linestyle=(0, (1, 1.5)),
            label="if only heat and wear over the cycle count", gid="continuous")
    _name_limits(ax, dataset, known, courses["mass"])
    load = float(dataset.attrs["load_mass"])
    as_timed = dataset["slowing"].values[known] == 1
    ax.axhline(load * mass.factor, color=QUIET, linewidth=1.0, linestyle=(0, (6, 2, 1, 2)))
    ax.annotate(f"load as described, {mass.number(load)}", (1, load * mass.factor), xycoords=("axes fraction", "data"),
                xytext=(-3, 3), textcoords="offset points", ha="right", fontsize=8, color=QUIET)
    if as_timed.any():
        ax.plot(time[as_timed], courses["mass"][as_timed], marker="o", markersize=8, color=INK,
                markeredgecolor="white", linestyle="", label="the cycle as timed", gid="as timed")
    ax.set_ylim(0, None)
    if time[-1] > time[0]:
        ax.set_xlim(float(time[0]), float(time[-1]))
    ax.set_xlabel("duration of the cycle (s)")
    ax.set_ylabel(mass.label("greatest load"))
    ax.legend(fontsize=8.5, frameon=False, loc="upper left", bbox_to_anchor=(0, -0.13), ncols=2)
    centre = ", ".join(f"{value * shown('m', units).factor:.3g}" for value in dataset.attrs["load_centre"])
    dress(ax, "Payload against cycle time",
          f"{dataset.attrs['arm_name']}, load centre ({centre}) {shown('m', units).unit} from the tool frame")
    return ax


def _name_limits(ax: Axes, dataset: xr.Dataset, known: np.ndarray, course: np.ndarray) -> None:
    """The part that gives out first, once for each stretch of the curve."""
    joints, parts = dataset["limiting_joint"].values[known], dataset["limiting_part"].values[known]
    names, time = dataset["joint_names"].values, dataset["duration"].values[known]
    first = 0
    for i in range(1, len(joints) + 1):
        same = i < len(joints) and joints[i] == joints[first] and parts[i] == parts[first]
        if same:
            continue
        middle = (first + i - 1) // 2
        if joints[first] >= 0 and np.isfinite(course[middle]):
            ax.annotate(f"{names[joints[first]]}, {parts[first]}", (time[middle], course[middle]), xytext=(0, 7),
                        textcoords="offset points", ha="center", fontsize=8, color=INK)
        first = i
