"""What the drives draw from the supply through a cycle: all axes stacked, with what the supply allows."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import xarray as xr

from armwright.errors import InputError
from armwright.pictures.canvas import INK, NOT_SERVED, QUIET, dress, start
from armwright.results import check_dataset

if TYPE_CHECKING:
    from matplotlib.axes import Axes

_HATCHES = ("", "////", "....", "\\\\\\\\", "xxxx", "----", "||||", "oooo")


def power(dataset: xr.Dataset, *, ax: Axes | None = None) -> Axes:
    """The power of every axis over the cycle, stacked: drawn above zero, returned below; the sum as a line; its root
    mean square, and what the branch circuit allows for that.

    >>> pictures.power(cell.power(cycle)).get_ylabel()
    'power from the bus (W)'
    """
    what = check_dataset(dataset)
    if what.name != "power":
        raise InputError.of("dataset", f"a result of {what.name}", "a result of power")
    import matplotlib as mpl

    ax = start(ax, 9.0, 4.4)
    time, each = dataset["time"].values, dataset["axis_power"].values
    names = [str(name) for name in dataset["joint"].values]
    colours = mpl.colormaps["viridis"](np.linspace(0.08, 0.95, len(names)))
    for sign in (1, -1):
        floor = np.zeros_like(time)
        for k, name in enumerate(names):
            part = np.maximum(sign * each[:, k], 0) * sign
            ax.fill_between(time, floor, floor + part, facecolor=colours[k], edgecolor="white", linewidth=0.0,
                            hatch=_HATCHES[k % len(_HATCHES)], label=name if sign > 0 else None,
                            gid=f"{name} {sign:+d}")  # fmt: skip
            floor = floor + part
    total = dataset["electrical_power"].values
    ax.plot(time, total, color=INK, linewidth=1.2, label="sum", gid="sum")
    ax.axhline(0, color=QUIET, linewidth=0.8)
    rms, peak = float(dataset.attrs["electrical_rms"]), float(dataset.attrs["electrical_peak"])
    ax.axhline(rms, color=INK, linewidth=1.0, linestyle=(0, (6, 2, 1, 2)), label="root mean square", gid="rms")
    if "branch_power" in dataset.attrs:
        ax.axhline(float(dataset.attrs["branch_power"]), color=NOT_SERVED, linewidth=1.4, linestyle=(0, (4, 2)),
                   label="branch circuit,\nroot mean square", gid="branch")
    ax.set_xlim(time[0], time[-1])
    ax.set_xlabel("time (s)")
    ax.set_ylabel("power from the bus (W)")
    ax.legend(loc="upper left", bbox_to_anchor=(1.01, 1.0), fontsize=8.5, frameon=False)
    returned = float(dataset.attrs["returned_energy"])
    told = f"peak {peak:.0f} W, root mean square {rms:.0f} W, {returned:.0f} J return in a cycle"
    dress(ax, "Power of all axes", f"{dataset.attrs['arm_name']}: {told}")
    return ax
