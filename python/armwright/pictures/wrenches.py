"""What one part bears: tilting moment against axial force in every row, the extremes, and the bearing's limit."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import xarray as xr

from armwright.errors import InputError
from armwright.pictures.canvas import INK, NOT_SERVED, QUIET, SERVED, dress, start
from armwright.results import check_dataset
from armwright.results.units import UnitSystem, shown, shown_small

if TYPE_CHECKING:
    from matplotlib.axes import Axes

_KINDS = {
    "rest": ("at rest", "o", 34.0, INK), "cycle": ("cycle", "x", 14.0, SERVED), "stop": ("stops", ".", 16.0, QUIET),
}  # fmt: skip
_ROOM = 3.0  # times the greatest axial force
_ORDER = ("stop", "cycle", "rest")  # what is drawn first lies below


def wrenches(
    dataset: xr.Dataset, part: str | None = None, *, bearings: xr.Dataset | None = None, units: UnitSystem = "si",
    ax: Axes | None = None,
) -> Axes:  # fmt: skip
    """Of one joint (or "mount", "carriage"; by default the joint with the greatest tilting moment): a mark for every
    row of loading, by kind; the greatest tilting moment and both ends of the axial force marked with their cases. With
    a result of ``bearings``, the line of what the joint's bearing bears.

    >>> wrenches = cell.joint_wrenches(rows=cell.load_rows(stops=False))
    >>> ax = pictures.wrenches(wrenches, "axis 2")
    >>> ax.get_xlabel(), ax.get_ylabel()
    ('axial force (N)', 'tilting moment (N·m)')
    """
    if check_dataset(dataset).name != "joint_wrenches":
        raise InputError.of("dataset", f"a result of {dataset.attrs['study']}", "a result of joint_wrenches")
    names = [str(name) for name in dataset["part"].values]
    if part is None:
        joints = [name for name in names if name in dataset["joint"].values]
        part = max(joints, key=lambda name: float(dataset["tilting_moment"].sel(part=name).max()))
    if part not in names:
        raise InputError.of("part", repr(part), "one of " + ", ".join(names))
    ax = start(ax, 7.4, 6.4)
    mine = dataset.sel(part=part)
    force, turning = shown("N", units), shown("N*m", units)
    mine = mine.assign(
        axial_force=mine["axial_force"] * force.factor, tilting_moment=mine["tilting_moment"] * turning.factor
    )
    axial, moment = mine["axial_force"].values, mine["tilting_moment"].values
    words = dataset["case_kind"].attrs["flag_meanings"].split(" ")
    kinds = np.array(words)[dataset["case_kind"].values[dataset["row_case"].values]]
    for kind in _ORDER:
        here = kinds == kind
        if not here.any():
            continue
        label, marker, size, colour = _KINDS[kind]
        ax.scatter(axial[here], moment[here], s=size, marker=marker, color=colour, label=label, gid=kind,
                   linewidths=0.8 if marker == "x" else 0)  # fmt: skip
    told = _limit(ax, bearings, part, units)
    _mark_extremes(ax, mine, dataset)
    ax.set_xlabel(force.label("axial force"))
    ax.set_ylabel(turning.label("tilting moment"))
    ax.margins(x=0.12, y=0.12)
    ax.set_ylim(bottom=0)
    if told and axial.size:  # the limit's far ends would press all marks into a line
        most = _ROOM * max(float(np.abs(axial).max()), 1.0)
        ax.set_xlim(max(ax.get_xlim()[0], -most), min(ax.get_xlim()[1], most))
    cases = f"{dataset.sizes['row_point']} rows in {dataset.sizes['case']} cases"
    missing = len(dataset.attrs["missing"].splitlines())
    note = f"{dataset.attrs['arm_name']}: {cases}" + (f"; {missing} not looked at: see missing" if missing else "")
    dress(ax, f"What {part} bears", note + (f"\n{told}" if told else ""))
    ax.legend(fontsize=8, frameon=False, loc="upper left", bbox_to_anchor=(0, -0.12), borderaxespad=0)
    return ax


def _mark_extremes(ax: Axes, mine: xr.Dataset, dataset: xr.Dataset) -> None:
    marked: dict[int, list[str]] = {}
    for quantity, end in (("tilting moment", "greatest"), ("axial force", "least"), ("axial force", "greatest")):
        row = int(mine["extreme_row"].sel(quantity=quantity, end=end))
        marked.setdefault(row, []).append(f"{end} {quantity}")
    for count, (row, meant) in enumerate(marked.items(), 1):
        place = float(mine["axial_force"].values[row]), float(mine["tilting_moment"].values[row])
        case = str(dataset["case"].values[int(dataset["row_case"].values[row])])
        ax.plot(*place, marker="o", markersize=11, color=NOT_SERVED, markeredgecolor="white", linestyle="", zorder=6,
                label=f"{count}: {' and '.join(meant)}, {case}", gid=f"extreme {meant[0]}")
        ax.annotate(str(count), place, ha="center", va="center_baseline", fontsize=7.5, color="white", zorder=7,
                    fontweight="bold")


def _limit(ax: Axes, bearings: xr.Dataset | None, part: str, units: UnitSystem) -> str:
    """Draws the line of a result of bearings; in words, what it stands for, or that there is none."""
    if bearings is None:
        return ""
    if check_dataset(bearings).name != "bearings":
        raise InputError.of("bearings", f"a result of {bearings.attrs['study']}", "a result of bearings")
    if part not in bearings["joint"].values:
        return f"{part} has no bearing of its own"
    line = bearings.sel(joint=part)
    force, length = shown("N", units), shown_small(units)
    axial = line["limit_axial"].values * force.factor
    moment = line["limit_moment"].values * shown("N*m", units).factor
    known = np.isfinite(axial) & np.isfinite(moment)
    if not known.any():
        return "no limit of its bearing is known: see the missing of bearings"
    ax.plot(axial[known], moment[known], color=NOT_SERVED, linewidth=1.6, linestyle=(0, (5, 2)), gid="limit",
            label="bearing's limit")
    told = f"limit: static safety as wanted, beside a radial force of {force.number(float(line['limit_radial']))}"
    offset = float(line["offset"])
    away = f",\nabout the bearing's middle, {length.number(offset)} along the axis (marks: about the joint's origin)"
    return told + (away if offset else "")
