"""A cycle as the drives see it: torque and speed of each motor over time, and where each works on its curve."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

import numpy as np
import xarray as xr

from armwright.errors import InputError
from armwright.pictures.canvas import DPI, INK, NOT_SERVED, QUIET, SERVED, dress, start
from armwright.results import check_dataset
from armwright.results.units import Shown, UnitSystem, shown

if TYPE_CHECKING:
    from matplotlib.axes import Axes

_RPM = 60 / (2 * np.pi)
_LIMIT: dict[str, Any] = {"color": NOT_SERVED, "linewidth": 1.3, "linestyle": (0, (4, 2))}
_LASTING: dict[str, Any] = {"color": NOT_SERVED, "linewidth": 1.3, "linestyle": (0, (1, 1.5))}


def cycle_torques(
    dataset: xr.Dataset, *, units: UnitSystem = "si", axes: Sequence[Axes] | None = None
) -> list[Axes]:  # fmt: skip
    """The motor torque and the motor speed of every axis over the cycle, two columns, with their limits: the peak curve
    at the speed of each instant, the root mean square beside the continuous torque, and the greatest speed.

    >>> len(pictures.cycle_torques(cell.drive_check(cycle)))       # two a joint
    14
    """
    _check(dataset)
    joints = driven(dataset)
    made = _panels(axes, 2 * len(joints), len(joints), 2, "two for each motor: torque and speed", (10.5, 1.55))
    for row, joint in enumerate(joints):
        left, right = made[2 * row], made[2 * row + 1]
        torque_course(dataset, joint, units=units, ax=left)
        speed_course(dataset, joint, ax=right)
        for ax in (left, right):
            ax.set_xlabel("time (s)" if row == len(joints) - 1 else "")
    if axes is None:
        _legend(made[0])
    return made


def torque_course(dataset: xr.Dataset, joint: str, *, units: UnitSystem = "si", ax: Axes | None = None) -> Axes:
    """One motor's torque over the cycle.

    >>> pictures.torque_course(cell.drive_check(cycle), "axis 2").get_ylabel()
    'torque (N·m)'
    """
    k, ax = _place(dataset, joint), start(ax, 7.0, 2.6)
    how = _torque(dataset, k, units)
    time, torque = dataset["time"].values, dataset["motor_torque"].values[:, k] * how.factor
    most = dataset["motor_torque_limit"].values[:, k] * how.factor
    for sign in (1, -1):
        words = "limit: peak curve, greatest speed" if sign > 0 else None
        ax.plot(time, sign * most, **_LIMIT, gid="peak", label=words)
    rms, lasting = (how.factor * float(dataset[f"motor_{name}_torque"][k]) for name in ("rms", "continuous"))
    ax.axhline(lasting, **_LASTING, gid="continuous", label="continuous")
    ax.axhline(rms, color=SERVED, linewidth=1.1, linestyle=(0, (6, 2, 1, 2)), gid="rms", label="root mean square")
    ax.plot(time, torque, color=INK, linewidth=1.3, gid="torque", label="this cycle")
    ax.axhline(0, color=QUIET, linewidth=0.7)
    _mark_moves(ax, dataset)
    ax.set_ylabel(how.label("torque"), fontsize=8.5)
    ax.set_xlabel("time (s)")
    dress(ax, joint, f"root mean square {rms:.2g} of {lasting:.2g} {how.unit}")
    return ax


def speed_course(dataset: xr.Dataset, joint: str, *, ax: Axes | None = None) -> Axes:
    """One motor's speed over the cycle.

    >>> pictures.speed_course(cell.drive_check(cycle), "axis 2").get_ylabel()
    'speed (rpm)'
    """
    k, ax = _place(dataset, joint), start(ax, 7.0, 2.6)
    time, speed = dataset["time"].values, dataset["motor_speed"].values[:, k] * _RPM
    limit = float(np.nanmax(dataset["curve_speed"].values[k])) * _RPM
    for sign in (1, -1):
        ax.axhline(sign * limit, **_LIMIT, gid="greatest")
    ax.axhline(0, color=QUIET, linewidth=0.7)
    ax.plot(time, speed, color=INK, linewidth=1.3, gid="speed")
    _mark_moves(ax, dataset)
    ax.set_ylabel("speed (rpm)", fontsize=8.5)
    ax.set_xlabel("time (s)")
    dress(ax, "", f"greatest {np.abs(speed).max():.0f} of {limit:.0f} rpm")
    return ax


def operating_points(
    dataset: xr.Dataset, *, units: UnitSystem = "si", axes: Sequence[Axes] | None = None
) -> list[Axes]:  # fmt: skip
    """Where each motor works over the cycle, speed against torque, over its continuous and its peak curve.

    >>> len(pictures.operating_points(cell.drive_check(cycle)))    # one a joint
    7
    """
    _check(dataset)
    joints = driven(dataset)
    across = min(4, len(joints))
    down = -(-len(joints) // across)
    made = _panels(axes, len(joints), down, across, "one for each motor", (2.9 * across, 2.7))
    for ax, joint in zip(made, joints, strict=False):
        operating_point(dataset, joint, units=units, ax=ax)
    for ax in made[len(joints) :]:
        ax.set_visible(False)
    if axes is None:
        _legend(made[0])
    return made[: len(joints)]


def operating_point(dataset: xr.Dataset, joint: str, *, units: UnitSystem = "si", ax: Axes | None = None) -> Axes:
    """One motor's working points: magnitudes of speed and torque; the square is the root mean square of both.

    >>> pictures.operating_point(cell.drive_check(cycle), "axis 2").get_xlabel()
    'speed (rpm)'
    """
    k, ax = _place(dataset, joint), start(ax, 4.6, 3.8)
    how = _torque(dataset, k, units)
    speeds = dataset["curve_speed"].values[k] * _RPM
    for name, words, style in (("curve_peak", "peak", _LIMIT), ("curve_continuous", "continuous", _LASTING)):
        curve = dataset[name].values[k] * how.factor
        ax.plot(speeds, curve, **style, label=words, gid=name)
        known = np.flatnonzero(np.isfinite(curve))
        if known.size:
            end = known[-1]
            ax.plot([speeds[end]] * 2, [curve[end], 0], **style)
    lasting = dataset["curve_continuous"].values[k] * how.factor
    ax.fill_between(speeds, lasting, color=NOT_SERVED, alpha=0.07, linewidth=0)
    speed, torque = (np.abs(dataset[name].values[:, k]) for name in ("motor_speed", "motor_torque"))
    speed, torque = speed * _RPM, torque * how.factor
    ax.plot(speed, torque, color=INK, linewidth=0.8, alpha=0.8, gid="points", label="this cycle")
    rms = float(dataset["motor_rms_speed"][k]) * _RPM, float(dataset["motor_rms_torque"][k]) * how.factor
    ax.plot(*rms, marker="s", markersize=7, color=SERVED, markeredgecolor="white", linestyle="", gid="rms",
            label="root mean square")  # fmt: skip
    ax.set_xlim(0, None)
    ax.set_ylim(0, None)
    ax.set_xlabel("speed (rpm)")
    ax.set_ylabel(how.label("torque"))
    dress(ax, joint)
    return ax


def driven(dataset: xr.Dataset) -> list[str]:
    """The joints that have a drive."""
    return [str(name) for name, has in zip(dataset["joint"].values, dataset["has_drive"].values, strict=True) if has]


def _check(dataset: xr.Dataset) -> None:
    what = check_dataset(dataset)
    if what.name != "drive_check":
        raise InputError.of("dataset", f"a result of {what.name}", "a result of drive_check")
    if not driven(dataset):
        raise InputError.of("dataset", "a cycle of an arm without drives", "at least one joint with a drive")


def _place(dataset: xr.Dataset, joint: str) -> int:
    _check(dataset)
    names = driven(dataset)
    if joint not in names:
        raise InputError.of("joint", repr(joint), f"one that has a drive: {', '.join(names)}")
    return [str(name) for name in dataset["joint"].values].index(joint)


def _torque(dataset: xr.Dataset, k: int, units: UnitSystem) -> Shown:
    """How a motor's torque is shown. One that slides itself, without a stage, pushes: N."""
    slides = str(dataset["joint_unit"].values[k]) == "m" and not any(dataset["stage_name"].values[k])
    return shown("N" if slides else "N*m", units)


def _panels(
    axes: Sequence[Axes] | None, count: int, rows: int, columns: int, what: str, size: tuple[float, float]
) -> list[Axes]:
    if axes is not None:
        if len(axes) != count:
            raise InputError.of("axes", f"{len(axes)} axes", f"{count}: {what}")
        return list(axes)
    import matplotlib.pyplot as plt

    figure = plt.figure(figsize=(size[0], size[1] * rows + 0.5), dpi=DPI, layout="constrained")
    return list(np.ravel(figure.subplots(rows, columns, squeeze=False)))


def _legend(ax: Axes) -> None:
    """What the lines of all axes of a figure mean, under them."""
    ax.figure.legend(*ax.get_legend_handles_labels(), loc="outside lower center", ncols=6, fontsize=8.5, frameon=False)


def _mark_moves(ax: Axes, dataset: xr.Dataset) -> None:
    """A faint line where one move ends and the next begins."""
    time, move = dataset["time"].values, dataset["move"].values
    changes = time[1:][np.diff(move) != 0]
    first = changes[0] if changes.size else None
    for at in changes:
        ax.axvline(at, color=QUIET, linewidth=0.5, alpha=0.5, gid="move", label="next move" if at == first else None)
    ax.set_xlim(time[0], time[-1])


