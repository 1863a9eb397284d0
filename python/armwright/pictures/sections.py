"""A section through a map of reach or payload: cells at their true size, unreachable ones left blank."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

import numpy as np
import xarray as xr
from numpy.typing import NDArray

from armwright.pictures.canvas import HALO, INK, colour_bar, dress, fit, outlined, start
from armwright.pictures.slices import Plane, border_lines, pick_plane, pick_variable
from armwright.results import STUDIES
from armwright.results.units import Shown, UnitSystem, shown

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.collections import QuadMesh

MAPS = {"1": "viridis", "kg": "cividis", "m": "viridis"}  # even in lightness: they read in grey


def section(
    dataset: xr.Dataset,
    *,
    x: float | None = None,
    y: float | None = None,
    z: float | None = None,
    variable: str = "reach_index",
    base: Sequence[float] | None = None,
    units: UnitSystem = "si",
    ax: Axes | None = None,
) -> Axes:
    """A section of a reach map (or another map with that variable) at the grid plane nearest to x, y or z, in m.

    ``base`` (m) is where the arm's base is marked; by default where the result says.

    >>> ax = pictures.section(cell.reach_map("400 mm", directions=8, spins=1), x=1.0)
    >>> ax.get_xlabel(), ax.get_ylabel()
    ('y (m)', 'height z (m)')
    """
    plane = pick_plane(dataset, ("reach_map", "payload_map"), x, y, z)
    values = pick_variable(dataset, variable)
    given, ax = ax, start(ax)
    seen = visible(dataset, plane, values)
    mesh = draw_cells(ax, plane, seen, values, units)
    add_colour_bar(ax, mesh, values, units)
    mark_base(ax, plane, dataset, base, units)
    set_axes(ax, plane, seen, units)
    dress(ax, _title(values), f"{dataset.attrs['arm_name']}, {where(plane, units)}{_setup(dataset, units)}")
    fit(ax, given)
    return ax


def visible(dataset: xr.Dataset, plane: Plane, values: xr.DataArray) -> NDArray[np.float64]:
    """The plane's values, NaN where nothing is reached."""
    cut = plane.cut(values).astype(np.float64)
    if "reachable" in dataset:
        cut = np.where(plane.cut(dataset["reachable"]), cut, np.nan)
    return cut


def draw_cells(ax: Axes, plane: Plane, cut: NDArray[np.float64], values: xr.DataArray, units: UnitSystem,
               span: tuple[float, float] | None = None) -> QuadMesh:
    """Coloured cells of true size, with a line around all that is reached. The line is open where the grid ends.
    ``span``: the values at both ends of the colour scale, by default those of the whole map."""
    length = shown("m", units).factor
    scale = shown(str(values.attrs["units"]), units).factor
    low, high = span or colour_range(values)
    mesh = ax.pcolormesh(
        plane.across_edges * length, plane.up_edges * length, np.ma.masked_invalid(cut * scale),
        cmap=MAPS.get(str(values.attrs["units"]), "viridis"), vmin=low * scale, vmax=high * scale, zorder=1,
    )
    rim = border_lines(np.where(np.isnan(cut), -1, 0), plane.across_edges * length, plane.up_edges * length)
    outlined(ax, rim, 0.9, "rim", 3)
    return mesh


def colour_range(values: xr.DataArray) -> tuple[float, float]:
    """The range of the whole map, so that sections compare; shares always 0 to 1."""
    finite = values.values[np.isfinite(values.values)]
    if values.name in ("reach_index", "limit_margin"):
        return 0.0, 1.0
    if finite.size == 0:
        return 0.0, 1.0
    low, high = float(finite.min()), float(finite.max())
    return low, high if high > low else low + 1.0


def add_colour_bar(ax: Axes, mesh: QuadMesh, values: xr.DataArray, units: UnitSystem) -> None:
    """A bar with the variable's name and unit."""
    name = str(values.attrs["long_name"]).split(":")[0]
    colour_bar(ax, mesh, shown(str(values.attrs["units"]), units).label(name))


def mark_base(ax: Axes, plane: Plane, dataset: xr.Dataset, base: Sequence[float] | None, units: UnitSystem) -> None:
    """The arm's base, and the way it can travel on a track; hollow where it is not in the plane."""
    from matplotlib import patheffects

    at = base if base is not None else dataset.attrs.get("base_position")
    length = shown("m", units).factor
    span = dataset.attrs.get("track_span")
    halo = [patheffects.withStroke(linewidth=HALO + 1, foreground="white")]
    if span is not None:
        ends = [plane.place(span[:3]), plane.place(span[3:])]
        ax.plot([end[0] * length for end in ends], [end[1] * length for end in ends], color=INK, linewidth=2,
                marker="|", markersize=9, path_effects=halo, zorder=5, gid="track", solid_capstyle="butt")
    if at is None:
        return
    across, up, off = plane.place(at)
    inside = abs(off) <= (plane.across_edges[1] - plane.across_edges[0])
    ax.plot([across * length], [up * length], marker="o" if plane.normal == "z" else "^", markersize=9, color=INK,
            markerfacecolor=INK if inside else "white", markeredgewidth=1.4, linestyle="none", zorder=6, gid="base",
            path_effects=halo)
    way = ("below" if off < 0 else "above") if plane.normal == "z" else "off"
    words = "base" if inside else f"base, {shown('m', units).number(abs(off))} {way}"
    ax.annotate(words, (across * length, up * length), xytext=(0, -8), textcoords="offset points", ha="center",
                va="top", fontsize=8.5, fontweight="bold", color=INK, path_effects=halo, zorder=7)


def set_axes(ax: Axes, plane: Plane, cut: NDArray[np.float64], units: UnitSystem) -> None:
    """Equal scales, names and units on both axes; the view is what is reached and the marks, within the grid."""
    length = shown("m", units)
    ax.set_aspect("equal")
    reached = ~np.isnan(cut)
    for edges, axis, seen in (
        (plane.across_edges, 0, reached.any(axis=0)), (plane.up_edges, 1, reached.any(axis=1)),
    ):
        cells = np.flatnonzero(seen)
        low, high = (edges[cells[0]], edges[cells[-1] + 1]) if cells.size else (edges[0], edges[-1])
        for mark in (line for line in ax.lines if line.get_gid() in ("base", "track")):
            places = np.asarray(mark.get_xydata())[:, axis] / length.factor
            low, high = min(low, float(places.min())), max(high, float(places.max()))
        room = max(edges[1] - edges[0], 0.04 * (high - low))
        limits = (low - room) * length.factor, (high + room) * length.factor
        (ax.set_ylim if axis else ax.set_xlim)(*limits)
    ax.set_xlabel(length.label(plane.across))
    ax.set_ylabel(length.label(f"height {plane.up}" if plane.up == "z" else plane.up))


def where(plane: Plane, units: UnitSystem) -> str:
    """ "section at y = 0.1 m" """
    kind = "plan" if plane.normal == "z" else "section"
    return f"{kind} at {plane.normal} = {shown('m', units).number(plane.at)}"


def _title(values: xr.DataArray) -> str:
    words = str(values.attrs["long_name"])
    return words[0].upper() + words[1:]


def _setup(dataset: xr.Dataset, units: UnitSystem) -> str:
    attrs: dict[str, Any] = dict(dataset.attrs)
    length: Shown = shown("m", units)
    parts = []
    if "spacing" in attrs:
        parts.append(f"cells of {length.number(attrs['spacing'])}")
    if STUDIES[attrs["study"]].name == "reach_map":
        parts.append(f"{attrs['directions']} directions, {attrs['spins']} spin{'' if attrs['spins'] == 1 else 's'}")
        parts.append(f"clearance {length.number(attrs['margin'])}")
    return "".join(f", {part}" for part in parts)


