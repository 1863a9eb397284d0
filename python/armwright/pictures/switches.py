"""Where the ends of each axis are: soft limit, limit switch and hard stop."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import xarray as xr

from armwright.errors import InputError
from armwright.pictures.canvas import FAINT, INK, NOT_SERVED, QUIET, SERVED, dress, start
from armwright.results import check_dataset
from armwright.results.units import UnitSystem, shown

if TYPE_CHECKING:
    from matplotlib.axes import Axes

_MARKS = (
    ("hard_stop", "hard stop", "|", INK),
    ("limit_switch", "limit switch", "s", NOT_SERVED),
    ("soft_limit", "soft limit", "o", SERVED),
)


def switches(dataset: xr.Dataset, *, units: UnitSystem = "si", ax: Axes | None = None) -> Axes:
    """A bar for each axis from hard stop to hard stop, with its switches and soft limits, each bar as long as any; what
    is between the soft limits is left to work in. Axes without ends are told so.

    >>> pictures.switches(cell.switches()).get_title(loc="left")
    'Soft limits and limit switches'
    """
    what = check_dataset(dataset)
    if what.name != "switches":
        raise InputError.of("dataset", f"a result of {what.name}", "a result of switches")
    joints = [str(name) for name in dataset["joint"].values]
    ax = start(ax, 7.4, 0.5 * len(joints) + 1.5)
    for row, joint in zip(np.arange(len(joints))[::-1], joints, strict=True):
        one = dataset.sel(joint=joint)
        _axis(ax, int(row), one, units)
    handles = {
        name: ax.plot([], [], mark, color=colour, linestyle="", markersize=9 if mark == "|" else 6, label=words)[0]
        for name, words, mark, colour in _MARKS
    }
    ax.legend(
        handles=list(handles.values()),
        loc="upper center",
        bbox_to_anchor=(0.5, -0.1),
        ncols=3,
        fontsize=8.5,
        frameon=False,
    )
    ax.set_yticks(np.arange(len(joints))[::-1], joints)
    ax.set_ylim(-0.6, len(joints) - 0.4)
    ax.set_xlim(-0.16, 1.16)
    ax.set_xlabel("share of the way from one hard stop to the other (%)")
    ax.set_xticks([0, 0.25, 0.5, 0.75, 1], ["0", "25", "50", "75", "100"])
    dress(
        ax, "Soft limits and limit switches", f"{dataset.attrs['arm_name']}: between the soft limits is left to work in"
    )
    return ax


def _axis(ax: Axes, row: int, one: xr.Dataset, units: UnitSystem) -> None:
    lower, upper = (float(value) for value in one["hard_stop"].values)
    if not np.isfinite([lower, upper]).all() or upper <= lower:
        ax.annotate(
            "no ends", (0, row), xytext=(5, 0), textcoords="offset points", va="center", fontsize=8, color=QUIET
        )
        return
    how = shown(str(one["joint_unit"].item()), units)
    ax.plot([0, 1], [row, row], color=FAINT, linewidth=7, solid_capstyle="butt", zorder=1)
    for name, _, mark, colour in _MARKS:
        values = (one[name].values - lower) / (upper - lower)
        ax.plot(
            values,
            [row] * 2,
            mark,
            color=colour,
            markersize=14 if mark == "|" else 6,
            linestyle="",
            zorder=3,
            gid=f"{name} {one['joint'].item()}",
        )
    soft = (one["soft_limit"].values - lower) / (upper - lower)
    if np.isfinite(soft).all():
        ax.plot(soft, [row] * 2, color=SERVED, linewidth=3, solid_capstyle="butt", zorder=2)
    else:
        ax.annotate(
            "does not stop within its range",
            (0.5, row),
            xytext=(0, 6),
            textcoords="offset points",
            ha="center",
            fontsize=8,
            color=NOT_SERVED,
        )
    for value, place, side in ((lower, 0.0, "right"), (upper, 1.0, "left")):
        ax.annotate(
            how.number(value),
            (place, row),
            xytext=(-6 if side == "right" else 6, 0),
            textcoords="offset points",
            ha=side,
            va="center",
            fontsize=8,
            color=INK,
        )
