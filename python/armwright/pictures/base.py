"""The bolts of a base seen from above: what each bears, and how the plate is loaded, at the worst instant of all."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
import xarray as xr

from armwright.errors import InputError
from armwright.pictures.canvas import FAINT, HALO, INK, NOT_SERVED, QUIET, SERVED, colour_bar, dress, fit, start
from armwright.results import check_dataset
from armwright.results.units import UnitSystem, shown, shown_small

if TYPE_CHECKING:
    from matplotlib.axes import Axes

_NOTHING = 1e-3  # N; less is rounding


def bolt_pattern(dataset: xr.Dataset, *, units: UnitSystem = "si", ax: Axes | None = None) -> Axes:
    """Plate and bolts; the tension that counts of each bolt, as colour, size and number, at the instant when the
    greatest of all occurs; arrows: the shear of each, if friction bore nothing; where the load tilts the plate to.

    >>> ax = pictures.bolt_pattern(cell.base_loads(rows=cell.load_rows(stops=False)))
    >>> ax.get_xlabel()
    'x in the mounting face (mm)'
    """
    what = check_dataset(dataset)
    if what.name != "base_loads" or "bolt_position" not in dataset:
        raise InputError.of("dataset", f"a result of {what.name}", "a result of base_loads of a base with bolts")
    given, ax = ax, start(ax, 6.4, 6.0)
    small, force = shown_small(units), shown("N", units)
    at = dataset["bolt_position"].values * small.factor
    pull, shear = dataset["worst_pull"].values * force.factor, dataset["worst_shear"].values * force.factor
    around = at
    if "plate" in dataset:
        around = dataset["plate"].values * small.factor
        ax.fill(*around.T, facecolor=FAINT, edgecolor=QUIET, linewidth=1.2, alpha=0.5, gid="plate")
    size = float(np.ptp(around, axis=0).max()) or 100.0
    most_pull = max(float(np.nanmax(pull, initial=0.0)), _NOTHING)
    drawn = ax.scatter(at[:, 0], at[:, 1], c=np.nan_to_num(pull), s=110,
                       cmap="viridis_r", edgecolors=INK, linewidths=0.8,
                       vmin=0, vmax=most_pull, zorder=3, gid="bolts")  # fmt: skip
    most = float(np.nanmax(np.hypot(*shear.T), initial=0.0))
    if most > _NOTHING:
        ax.quiver(*at.T, *np.nan_to_num(shear).T, angles="xy", scale_units="xy", scale=most / (0.14 * size),
                  width=0.005, color=SERVED, zorder=4, gid="shear")  # fmt: skip
    middle = around.mean(axis=0)
    for name, place, value in zip(dataset["bolt"].values, at, dataset["worst_pull"].values, strict=True):
        out = place - middle
        way = out / np.hypot(*out) if np.hypot(*out) > 1e-9 * size else np.array([0.0, 1.0])
        ax.annotate(_words(str(name), value, force), place, xytext=tuple(15 * way), textcoords="offset points",
                    fontsize=8, color=INK, zorder=6, **_beyond(way))  # fmt: skip
    _tilt(ax, dataset, middle, size, shown("N*m", units))
    ax.set_aspect("equal")
    ax.margins(0.22)
    ax.set_xlabel(small.label("x in the mounting face"))
    ax.set_ylabel(small.label("y in the mounting face"))
    colour_bar(ax, drawn, force.label("tension"))
    dress(ax, "Bolts of the base", _note(dataset))
    fit(ax, given)
    return ax


def _beyond(way: Any) -> dict[str, Any]:
    """How words are set that stand off a point that way, clear of arrows."""
    from matplotlib import patheffects

    return {
        "ha": "left" if way[0] > 0.3 else "right" if way[0] < -0.3 else "center",
        "va": "bottom" if way[1] > 0.3 else "top" if way[1] < -0.3 else "center",
        "path_effects": [patheffects.withStroke(linewidth=HALO, foreground="white")],
    }


def _words(name: str, value: float, force: Any) -> str:
    return f"{name}\n" + (force.number(value) if np.isfinite(value) else "not known")


def _tilt(ax: Axes, dataset: xr.Dataset, middle: Any, size: float, moment: Any) -> None:
    """An arrow to where the plate is pressed down."""
    mx, my = dataset["worst_moment"].values[:2]
    tilt = np.array([my, -mx])
    length = float(np.hypot(*tilt))
    if length < _NOTHING:
        return
    tip = middle + 0.28 * size * tilt / length
    ax.annotate("", tip, xytext=tuple(middle), arrowprops={"arrowstyle": "-|>", "color": NOT_SERVED, "linewidth": 1.8},
                zorder=5, gid="tilt")  # fmt: skip
    way = tilt / length  # the words stand beyond the tip, off the arrow
    ax.annotate(f"tilts this way\n{moment.number(length)}", tip, xytext=tuple(5 * way), textcoords="offset points",
                fontsize=8, color=NOT_SERVED, **_beyond(way))  # fmt: skip


def _note(dataset: xr.Dataset) -> str:
    pull = dataset["bolt_pull"].values
    if np.isnan(pull).all():
        return f"{dataset.attrs['arm_name']}: no method can tell the tensions"
    method = dataset["bolt_pull_method"].values[int(np.nanargmax(pull))]
    name, case = dataset.attrs["arm_name"], dataset.attrs["worst_case"]
    return f"{name}: {case}\nthe greater of two methods, at the worst bolt the {method}; arrows: shear without friction"
