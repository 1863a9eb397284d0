"""What the blocks of a track bear: over the cycle, and in which kind of case most."""

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

_KINDS = {
    "rest": ("at rest", SERVED, ""), "cycle": ("in the cycle", QUIET, "//"), "stop": ("in stops", NOT_SERVED, "xx"),
}  # fmt: skip


def block_loads(dataset: xr.Dataset, *, units: UnitSystem = "si", ax: Axes | None = None) -> Axes:
    """Bars of each block's greatest equivalent load at rest, in the cycle and in stops, with the static rating over
    the wanted safety as a line where it is told; where a block is lifted off, by how much.

    >>> track = cell.track_loads(rows=cell.load_rows(stops=False))
    >>> pictures.block_loads(track).get_xlabel()
    'equivalent load (N)'
    """
    _of_track(dataset)
    names, kinds = dataset.block.values, dataset.case_kind.values
    known = ~np.isnan(dataset.case_load.values).any()
    if not dataset.sizes["block"] or not known:
        raise InputError.of("dataset", "no loads of blocks", "a track whose guide is told: see the attribute missing")
    ax = start(ax, 7.0, 0.8 + 0.62 * len(names))
    place, here = np.arange(len(names)), [kind for kind in _KINDS if (kinds == kind).any()]
    force = shown("N", units)
    loads = dataset.case_load.values * force.factor
    thick = 0.8 / max(len(here), 1)
    for i, kind in enumerate(here):
        words, colour, hatch = _KINDS[kind]
        most = loads[kinds == kind].max(axis=0)
        ax.barh(place + (i - (len(here) - 1) / 2) * thick, most, thick * 0.92, color=colour, hatch=hatch,
                edgecolor="white", linewidth=0.4, label=words, gid=kind)
    a = dataset.attrs
    if "static_rating" in a:
        allowed = a["static_rating"] / a["wanted_static"] * force.factor
        ax.axvline(allowed, color=INK, linewidth=1.2, linestyle=(0, (5, 2)), gid="allowed",
                   label=f"static rating / {a['wanted_static']:g}")
    for b, least in enumerate(dataset.radial_least.values):
        if least < -1e-6:
            ax.annotate(f"lifted off with up to {force.number(-least)}", (float(loads[:, b].max()), place[b]),
                        xytext=(6, 0), textcoords="offset points", fontsize=8, color=INK, va="center")
    ax.set_yticks(place, names)
    ax.invert_yaxis()
    ax.set_xlim(0, None)
    ax.set_xlabel(force.label("equivalent load"))
    ax.legend(fontsize=8.5, frameon=False, loc="upper left", bbox_to_anchor=(0, -0.2), ncols=4)
    dress(ax, "What each block bears", f"{a['arm_name']}, greatest of every kind of case")
    return ax


def block_course(dataset: xr.Dataset, *, units: UnitSystem = "si", ax: Axes | None = None) -> Axes:
    """Load of every block onto its rail over the cycle; below zero it is lifted off.

    >>> track = cell.track_loads(rows=cell.load_rows(cycle, at_rest=False, stops=False))
    >>> pictures.block_course(track).get_xlabel()
    'time (s)'
    """
    _of_track(dataset)
    if "radial" not in dataset:
        raise InputError.of("dataset", "no course of a cycle", "a result of track_loads with a cycle")
    ax = start(ax, 7.6, 3.8)
    force = shown("N", units)
    time, radial = dataset["time"].values, dataset.radial.values * force.factor
    styles = ("-", (0, (5, 2)), (0, (1, 1.4)), (0, (6, 2, 1, 2)))
    for b, name in enumerate(dataset.block.values):
        rail = str(name).split(",")[0]
        colour = (SERVED, NOT_SERVED, INK, QUIET)[(int(rail.split(" ")[1]) - 1) % 4]
        ax.plot(time, radial[:, b], color=colour, linestyle=styles[b % len(styles)], linewidth=1.2, label=str(name),
                gid=str(name))
    ax.axhline(0, color=QUIET, linewidth=0.8)
    if (radial < 0).any():
        low, high = ax.get_ylim()
        ax.axhspan(low, 0, color=FAINT, alpha=0.5, zorder=0)
        ax.set_ylim(low, high)
        ax.annotate("lifted off", (0.99, 0), xycoords=("axes fraction", "data"), xytext=(0, -3), ha="right", va="top",
                    textcoords="offset points", fontsize=8, color=QUIET)
    ax.set_xlabel("time (s)")
    ax.set_ylabel(force.label("load onto the rail"))
    ax.legend(fontsize=8.5, frameon=False, loc="upper left", bbox_to_anchor=(0, -0.16), ncols=4)
    dress(ax, "Loads of the blocks over the cycle", str(dataset.attrs["arm_name"]))
    return ax


def _of_track(dataset: xr.Dataset) -> None:
    what = check_dataset(dataset)
    if what.name != "track_loads":
        raise InputError.of("dataset", f"a result of {what.name}", "a result of track_loads")
