"""How far the tool sinks over the reach, and which causes share in it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
import xarray as xr

from armwright.errors import InputError
from armwright.pictures.canvas import INK, NOT_SERVED, QUIET, SERVED, colour_bar, dress, start
from armwright.pictures.slices import cell_edges
from armwright.results import check_dataset
from armwright.results.units import UnitSystem, shown, shown_small

if TYPE_CHECKING:
    from matplotlib.axes import Axes

_BAR = 0.62
_SEEN = 1e-4  # share; less shows in no bar
_KINDS = {"stage": (SERVED, ""), "bearing": ("#e0a100", "////"), "link": ("#5b8a3c", "....")}


def sag_over_reach(
    dataset: xr.Dataset, *, variable: str = "sag_greatest", units: UnitSystem = "si", ax: Axes | None = None
) -> Axes:
    """The sag over the upright half-plane of axis 1, in colour; the worst place is marked and told.

    >>> ax = pictures.sag_over_reach(cell.sag_over_reach("300 mm", directions=8))
    >>> ax.get_xlabel(), ax.get_ylabel()
    ('horizontal distance of the tool point from axis 1 (m)', 'height of the tool point (m)')
    """
    _only(dataset, "sag_over_reach")
    names = ("sag_greatest", "sag_least", "sag_down")
    if variable not in names:
        raise InputError.of("variable", repr(variable), "one of " + ", ".join(names))
    length, small = shown("m", units), shown_small(units)
    ax = start(ax, 7.0, 5.6)
    values = dataset[variable].values * small.factor
    across, up = (cell_edges(dataset, name) * length.factor for name in ("distance", "height"))
    lowest = min(0.0, float(np.nanmin(values, initial=0.0)))
    mesh = ax.pcolormesh(across, up, np.ma.masked_invalid(values), cmap="cividis", vmin=lowest, gid="sag")
    colour_bar(ax, mesh, small.label(str(dataset[variable].attrs["long_name"]).split(",")[0]))
    note = f"{dataset.attrs['arm_name']} with {shown('kg', units).number(dataset.attrs['load_mass'])}, tool attitude " \
           f"{dataset.attrs['attitude']}"
    if np.isfinite(values).any():
        row, column = np.unravel_index(int(np.nanargmax(values)), values.shape)
        cause = int(dataset["main_cause"].values[row, column])
        at = (float(dataset["distance"][column]) * length.factor, float(dataset["height"][row]) * length.factor)
        ax.plot(*at, "o", color="white", markeredgecolor=INK, markersize=7, gid="worst")
        told = small.number(values[row, column] / small.factor)
        share = f", mostly {dataset['cause'].values[cause]}" if cause >= 0 else ""
        note += f"\nmost {told}{share}\nwhat is not described counts as rigid"
    else:
        ax.text(0.5, 0.5, "nothing is reached", transform=ax.transAxes, ha="center", color=QUIET)
    ax.set_aspect("equal")
    ax.set_xlabel(length.label("horizontal distance of the tool point from axis 1"))
    ax.set_ylabel(length.label("height of the tool point"))
    dress(ax, "Sag of the tool over the reach", note)
    ax.grid(False)
    return ax


def sag_causes(
    dataset: xr.Dataset, *, posture: int | None = None, most: int = 14, units: UnitSystem = "si", ax: Axes | None = None
) -> Axes:
    """What shares in the sag of one posture (by default the one that sinks most): by each cause its part along the
    sag, greatest first.

    >>> pictures.sag_causes(cell.sag(q), units="us").get_xlabel()
    'shift of the tool point, along the sag (in)'
    """
    _only(dataset, "sag")
    size = dataset["sag_size"].values.ravel()
    if posture is None:
        posture = int(np.argmax(np.nan_to_num(size, nan=-1.0))) if size.size else 0
    if not 0 <= posture < size.size:
        raise InputError.of("posture", str(posture), f"a row of the result, 0 to {size.size - 1}")
    small = shown_small(units)
    share = dataset["cause_share"].values.reshape(size.size, -1)[posture]
    kinds, names = dataset["cause_kind"].values, dataset["cause"].values
    known = np.nan_to_num(share)
    order = [k for k in np.argsort(-np.abs(known), kind="stable") if abs(known[k]) > _SEEN][:most]
    ax = start(ax, 8.0, 1.7 + 0.3 * max(len(order), 2))
    ends = [_bar(ax, row, float(known[k] * size[posture] * small.factor), str(kinds[k]), str(names[k]))
            for row, k in enumerate(order)]  # fmt: skip
    for row, k in enumerate(order):
        ax.annotate(_percent(float(known[k])), (max(ends[row], 0.0), row), xytext=(6, 0), textcoords="offset points",
                    va="center", fontsize=8, color=INK)
    if not order:
        ax.annotate("nothing sinks", (0.5, 0.5), xycoords="axes fraction", ha="center", va="center", color=QUIET)
    ax.set_yticks(range(len(order)), [str(names[k]) for k in order])
    ax.set_ylim(max(len(order), 1) - 0.4, -0.6)
    ax.set_xlim(min(0.0, *ends) if ends else 0.0, 1.15 * max((0.0, *ends)) or 1.0)
    ax.axvline(0, color=QUIET, linewidth=0.8)
    _legend(ax, {str(kinds[k]) for k in order})
    ax.set_xlabel(small.label("shift of the tool point, along the sag"))
    where = f" at {dataset['at'].values.ravel()[posture]}" if "at" in dataset else ""
    total = small.number(float(size[posture])) if np.isfinite(size[posture]) else "no posture"
    dress(ax, "What the tool's sag comes from",
          f"{dataset.attrs['arm_name']}{where}: {total} in all; what is not described counts as rigid")
    return ax


def _percent(share: float) -> str:
    return f"{100 * share:.0f} %" if abs(share) >= 0.005 else "under 1 %"


def _bar(ax: Axes, row: int, value: float, kind: str, name: str) -> float:
    colour, hatch = _KINDS.get(kind, (NOT_SERVED, ""))
    ax.barh(row, value, height=_BAR, color=colour, hatch=hatch, edgecolor="white", linewidth=0, gid=name)
    return value


def _legend(ax: Axes, kinds: set[str]) -> None:
    from matplotlib.patches import Patch

    words = {"stage": "stages of the drives", "bearing": "bearings", "link": "links"}
    marks: list[Any] = [
        Patch(facecolor=colour, hatch=hatch, edgecolor="white", label=words[kind])
        for kind, (colour, hatch) in _KINDS.items() if kind in kinds
    ]  # fmt: skip
    if marks:
        ax.legend(handles=marks, fontsize=8, loc="lower right", frameon=False)


def _only(dataset: xr.Dataset, study: str) -> None:
    what = check_dataset(dataset)
    if what.name != study:
        raise InputError.of("dataset", f"a result of {what.name}", f"a result of {study}")
