"""A stop over time: angles, speeds and the height of the tool from the signal to rest; and what the brakes hold."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np
import xarray as xr
from numpy.typing import NDArray

from armwright.errors import InputError
from armwright.pictures.canvas import DPI, INK, NOT_SERVED, QUIET, SERVED, dress, start
from armwright.results import check_dataset
from armwright.results.units import Shown, UnitSystem, shown, shown_small

if TYPE_CHECKING:
    from matplotlib.axes import Axes

_NOTHING = 1e-6  # N m; less than that is rounding
_STYLES = ("-", (0, (5, 1.5)), (0, (1, 1.2)), (0, (6, 1.5, 1, 1.5)))


def stop(dataset: xr.Dataset, *, units: UnitSystem = "si", axes: Sequence[Axes] | None = None) -> list[Axes]:
    """Of one stop: how far every joint still moves, how fast it moves, and how high the tool point is, over time.

    >>> stop = cell.stop(q, np.zeros(7))
    >>> [ax.get_ylabel() for ax in pictures.stop(stop)]
    ['way since the signal (°)', 'speed (°/s)', 'height of the tool point (mm)']
    """
    what = check_dataset(dataset)
    if what.name != "stop" or "time" not in dataset:
        raise InputError.of("dataset", f"a result of {what.name}", "a result of stop of one posture, with its course")
    own = axes is None
    if axes is None:
        import matplotlib.pyplot as plt

        figure = plt.figure(figsize=(8.6, 7.4), dpi=DPI, layout="constrained")
        axes = list(figure.subplots(3, 1, sharex=True))
    if len(axes) != 3:
        raise InputError.of("axes", f"{len(axes)} axes", "three axes: for angles, speeds and the tool's height")
    time = dataset["time"].values
    degrees, length = shown("rad", units), shown("m", units)
    position = dataset["position"].values
    _courses(axes[0], dataset, position - position[0], degrees, length)
    axes[0].set_ylabel(f"way since the signal ({degrees.unit})", fontsize=8.5)
    _courses(axes[1], dataset, dataset["speed"].values, degrees, length, "/s")
    axes[1].set_ylabel(f"speed ({degrees.unit}/s)", fontsize=8.5)
    _mark_impacts(axes[0], dataset, degrees, length)
    height = dataset["tool_position"].values[:, 2]
    small = shown_small(units)
    axes[2].plot(time, height * small.factor, color=INK, linewidth=1.8, gid="height")
    axes[2].axhline(height[0] * small.factor, color=QUIET, linewidth=0.8)
    axes[2].set_ylabel(small.label("height of the tool point"), fontsize=8.5)
    axes[2].set_xlabel("time from the stop signal (s)")
    off = float(dataset["power_off"])
    for ax in axes:
        ax.set_xlim(time[0], time[-1])
        if np.isfinite(off) and off > time[0]:
            ax.axvline(off, color=NOT_SERVED, linewidth=1.0, linestyle=(0, (4, 2)), gid="power off")
            if ax is axes[2]:
                ax.annotate("power off", (off, 1), xycoords=("data", "axes fraction"), xytext=(4, -2), fontsize=8,
                            textcoords="offset points", va="top", color=NOT_SERVED)
    took, drop = float(dataset["stop_time"]), float(dataset["tool_drop"])
    dress(axes[0], f"Stop of category {int(dataset.attrs['category'])}",
          f"{dataset.attrs['arm_name']}: {took:.2f} s, tool drops {small.number(drop)}, ends: {dataset['end'].item()}")
    for ax in axes[1:]:
        dress(ax, "")
    if own:
        axes[0].figure.legend(*axes[0].get_legend_handles_labels(), loc="outside lower center", ncols=7, fontsize=8.5,
                              frameon=False)
    else:
        axes[0].legend(fontsize=8, frameon=False)
    return list(axes)


def holding(dataset: xr.Dataset, *, units: UnitSystem = "si", ax: Axes | None = None) -> Axes:
    """The worst torque by weight of every axis against what its brake holds, as a share of it.

    >>> pictures.holding(aw.Cell(arm).holding()).get_xlabel()
    "worst torque by weight, share of the brake's (%)"
    """
    what = check_dataset(dataset)
    if what.name != "holding":
        raise InputError.of("dataset", f"a result of {what.name}", "a result of holding")
    joints = [str(name) for name in dataset["joint"].values]
    ax = start(ax, 7.4, 0.45 * len(joints) + 1.5)
    bound, brake = dataset["torque_bound"].values, dataset["brake_torque"].values
    rows = np.arange(len(joints))[::-1]
    with np.errstate(divide="ignore", invalid="ignore"):
        share = np.where(np.isfinite(brake) & (brake > 0), bound / brake, np.nan)
    loaded = bound > _NOTHING
    for row, joint, s, most, holds, heavy in zip(rows, joints, share, bound, brake, loaded, strict=True):
        slides = str(dataset["joint_unit"].values[joints.index(joint)]) == "m"
        how = shown("N" if slides else "N*m", units)
        worst, held, unit = most * how.factor, holds * how.factor, how.unit
        if not heavy:
            ax.annotate("nothing to hold", (0, row), xytext=(5, 0), textcoords="offset points", va="center", fontsize=8,
                        color=QUIET)
        elif np.isfinite(s):
            good = s <= 1
            ax.barh(row, 100 * s, height=0.6, color=SERVED if good else NOT_SERVED, hatch="" if good else "////",
                    edgecolor="white", gid=joint)
            words = f"{worst:.3g} of {held:.3g} {unit}" + ("" if good else ": does not hold")
            ax.annotate(words, (100 * s, row), xytext=(5, 0), textcoords="offset points", va="center", fontsize=8)
        else:
            fall = shown("m" if slides else "rad", units)
            falls = float(dataset["fall_speed"].sel(joint=joint)) * fall.factor
            words = f"no brake: {worst:.3g} {unit} by weight; without power it moves at up to {falls:.3g} {fall.unit}/s"
            ax.annotate(words, (0, row), xytext=(5, 0), textcoords="offset points", va="center", fontsize=8,
                        color=NOT_SERVED)
    ax.axvline(100, color=NOT_SERVED, linewidth=1.3, linestyle=(0, (4, 2)), gid="all")
    ax.annotate("all that the brake holds", (100, 1), xycoords=("data", "axes fraction"), xytext=(-4, 0), fontsize=8,
                textcoords="offset points", ha="right", va="top", color=NOT_SERVED)
    ax.set_yticks(rows, joints)
    ax.set_ylim(-0.7, len(joints) - 0.1)
    ax.set_xlim(0, 1.3 * max(100.0, float(np.nanmax(100 * share, initial=0.0))))
    ax.set_xlabel("worst torque by weight, share of the brake's (%)")
    dress(ax, "What the brakes hold",
          f"{dataset.attrs['arm_name']}: proven bound over all postures; friction does not count")
    return ax


def _courses(
    ax: Axes, dataset: xr.Dataset, values: NDArray[np.float64], degrees: Shown, length: Shown, rate: str = ""
) -> None:
    """A line a joint; those that slide on a scale of their own at the right, with the same zero."""
    import matplotlib as mpl

    time = dataset["time"].values
    names = [str(name) for name in dataset["joint"].values]
    slides = _slides(dataset)
    colours = mpl.colormaps["viridis"](np.linspace(0.0, 0.75, len(names)))
    ax.axhline(0, color=QUIET, linewidth=0.8)
    scale = _same_zero(ax, values, slides, degrees, length)
    for k, name in enumerate(names):
        factor = length.factor * scale if slides[k] else degrees.factor
        ax.plot(time, values[:, k] * factor, color=colours[k], linewidth=1.5, linestyle=_STYLES[k % len(_STYLES)],
                label=name, gid=name)
    if slides.any():
        there, back = (lambda y: np.asarray(y) / scale), (lambda y: np.asarray(y) * scale)
        right = ax.secondary_yaxis("right", functions=(there, back))
        right.set_ylabel(f"{', '.join(np.array(names)[slides])} ({length.unit}{rate})", fontsize=8.5)
        right.tick_params(labelsize=8.5, colors=INK, length=3)
        right.spines["right"].set_color(QUIET)


def _same_zero(
    ax: Axes, values: NDArray[np.float64], slides: NDArray[np.bool_], degrees: Shown, length: Shown
) -> float:
    """How many degrees are drawn as long as one unit of length, so that neither kind of joint is lost beside the other:
    1, 2 or 5 times a power of ten."""
    turned = float(np.abs(values[:, ~slides]).max(initial=0.0)) * degrees.factor
    slid = float(np.abs(values[:, slides]).max(initial=0.0)) * length.factor
    if not (turned > _NOTHING and slid > _NOTHING):
        return 1.0
    exact = turned / slid
    power = 10.0 ** np.floor(np.log10(exact))
    return float(power * max(step for step in (1, 2, 5) if step * power <= exact * (1 + 1e-9)))


def _mark_impacts(ax: Axes, dataset: xr.Dataset, degrees: Shown, length: Shown) -> None:
    """A cross where a joint meets the end of its range, with its name."""
    time, slides = dataset["time"].values, _slides(dataset)
    for k, (name, at) in enumerate(zip(dataset["joint"].values, dataset["impact_time"].values, strict=True)):
        if not np.isfinite(at):
            continue
        line = next(line for line in ax.lines if line.get_gid() == str(name))
        place = (at, float(np.interp(at, time, np.asarray(line.get_ydata(), np.float64))))
        unit = length if slides[k] else degrees
        speed = float(dataset["impact_speed"][k]) * unit.factor
        ax.plot(*place, marker="X", markersize=9, color=NOT_SERVED, markeredgecolor="white", linestyle="", zorder=5,
                gid=f"impact {name}")
        low, late = place[1] < float(np.mean(ax.get_ylim())), at > float(np.mean(ax.get_xlim()))
        ax.annotate(f"{name} meets the end of its range at {speed:.3g} {unit.unit}/s", place, fontsize=8,
                    xytext=(0, -8 if low else 8), textcoords="offset points", color=INK, va="top" if low else "bottom",
                    ha="right" if late else "left")  # fmt: skip
        ax.margins(y=0.18)


def _slides(dataset: xr.Dataset) -> NDArray[np.bool_]:
    return np.array([str(unit) == "m" for unit in dataset["joint_unit"].values])
