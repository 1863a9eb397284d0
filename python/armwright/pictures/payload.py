"""What the arm holds: a section of the payload map, and payload against reach."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

import numpy as np
import xarray as xr
from numpy.typing import NDArray

from armwright.errors import InputError
from armwright.pictures.canvas import INK, QUIET, colour_bar, dress, fit, outlined, start
from armwright.pictures.labels import Label, drop_overlapping, place_labels
from armwright.pictures.sections import add_colour_bar, draw_cells, mark_base, set_axes, visible, where
from armwright.pictures.slices import (
    Plane,
    border_lines,
    connected,
    deepest_cell,
    pick_plane,
    pick_variable,
    without_islands,
)
from armwright.results import check_dataset
from armwright.results.units import UnitSystem, shown

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.text import Annotation, Text

_ISLAND = 12  # cells; smaller regions of a joint, where two are about equal, are counted to what surrounds them
_MOST_LINES = 8  # heights that are drawn
_DEEP = 3  # cells; parts of a joint's region that are less deep are outlined but not named again


def payload_section(
    dataset: xr.Dataset,
    *,
    x: float | None = None,
    y: float | None = None,
    z: float | None = None,
    variable: str = "mass_greatest",
    base: Sequence[float] | None = None,
    units: UnitSystem = "si",
    ax: Axes | None = None,
) -> Axes:
    """A section of a payload map: the mass in colour and as contour lines, the regions of each limiting joint
    outlined and named.

    >>> ax = pictures.payload_section(cell.payload_map("400 mm", directions=8, spins=1), x=1.0, units="us")
    >>> ax.get_xlabel(), ax.get_ylabel()
    ('y (in)', 'height z (in)')
    """
    plane = pick_plane(dataset, ("payload_map",), x, y, z)
    values = pick_variable(dataset, variable)
    given, ax = ax, start(ax)
    cut = visible(dataset, plane, values)
    mesh = draw_cells(ax, plane, cut, values, units)
    add_colour_bar(ax, mesh, values, units)
    mark_base(ax, plane, dataset, base, units)
    set_axes(ax, plane, cut, units)
    dress(ax, "Mass that can be held, and the joint that gives out first",
          f"{dataset.attrs['arm_name']}, {where(plane, units)}\n{terms(dataset, units)}")
    fit(ax, given)
    which = "limiting_joint_least" if variable == "mass_least" else "limiting_joint"
    codes = np.where(np.isnan(cut), -1, plane.cut(dataset[which]))
    names = {i: str(name) for i, name in enumerate(dataset["joint_names"].values)}
    joints = draw_regions(ax, plane, codes, names, units)
    masses = draw_contours(ax, plane, cut, units)
    drop_overlapping(ax, masses, joints)
    return ax


def payload_curve(dataset: xr.Dataset, *, units: UnitSystem = "si", ax: Axes | None = None) -> Axes:
    """The mass held against the distance from axis 1: at each height, faint; over all heights, bold.

    >>> ax = pictures.payload_curve(cell.payload_map("400 mm", directions=8, spins=1))
    >>> ax.get_xlabel(), ax.get_ylabel()
    ('horizontal distance of the tool point from axis 1 (m)', 'greatest mass held (kg)')
    """
    what = check_dataset(dataset)
    if what.name != "payload_map" or not {"curve_mass", "curve_mass_any_height"} <= set(dataset.data_vars):
        raise InputError.of("dataset", f"a result of {what.name}", "a result of payload_map with its curves")
    import matplotlib as mpl
    from matplotlib.cm import ScalarMappable
    from matplotlib.colors import Normalize

    ax = start(ax, 7.0, 4.2)
    length, mass = shown("m", units), shown("kg", units)
    distance = dataset["distance"].values * length.factor
    heights = dataset["height"].values
    lines = finite(dataset["curve_mass"].values)
    reached = np.flatnonzero(np.isfinite(lines).any(axis=1))
    evenly = np.linspace(0, max(reached.size - 1, 0), _MOST_LINES).round().astype(int)
    drawn = reached[np.unique(evenly)[: reached.size]]
    low, high = (float(end(heights[drawn], initial=0.0)) * length.factor for end in (np.min, np.max))
    span = Normalize(low, max(high, low + 1e-9))
    colours = mpl.colormaps["viridis"]
    for height, line in zip(heights[drawn], lines[drawn], strict=True):
        ax.plot(distance, line * mass.factor, color=colours(span(height * length.factor)), linewidth=1.0, alpha=0.75,
                marker="o", markersize=1.8, gid="height")
    best = finite(dataset["curve_mass_any_height"].values)
    ax.plot(distance, best * mass.factor, color=INK, linewidth=2.4, label="best height", gid="any height")
    ax.set_ylim(min(0.0, np.nanmin(best, initial=0.0) * mass.factor), None)
    ax.set_xlim(0, None)
    _label_end(ax, distance, best * mass.factor)
    colour_bar(ax, ScalarMappable(span, colours), length.label("height of the tool point"))
    ax.set_xlabel(length.label("horizontal distance of the tool point from axis 1"))
    ax.set_ylabel(mass.label("greatest mass held"))
    dress(ax, "Payload against reach", f"{dataset.attrs['arm_name']}, {terms(dataset, units)}")
    return ax


def terms(dataset: xr.Dataset, units: UnitSystem) -> str:
    """What the masses hold for: load centre, attitude and limit."""
    length = shown("m", units)
    centre = ", ".join(f"{value * length.factor:.3g}" for value in dataset.attrs["load_centre"])
    return (f"load centre ({centre}) {length.unit} from the tool frame, tool attitude {dataset.attrs['attitude']}, "
            f"{dataset.attrs['limit']} torque")


def finite(values: NDArray[Any]) -> NDArray[np.float64]:
    """The values; NaN where they are infinite."""
    return np.where(np.isfinite(values), values, np.nan)


def _label_end(ax: Axes, distance: NDArray[Any], best: NDArray[Any]) -> None:
    """Names the bold line where it is widest of the others: two thirds out."""
    reached = np.flatnonzero(np.isfinite(best))
    if reached.size == 0:
        ax.text(0.5, 0.5, "nothing is reached", transform=ax.transAxes, ha="center", color=QUIET)
        return
    at = reached[(2 * reached.size) // 3]
    ax.annotate("at the best height", (distance[at], best[at]), xytext=(8, 8), textcoords="offset points", fontsize=9,
                fontweight="bold", color=INK)


def draw_contours(
    ax: Axes, plane: Plane, cut: NDArray[np.float64], units: UnitSystem, levels: NDArray[np.float64] | None = None
) -> list[Text]:
    """Lines of equal mass with their numbers, at round masses or at those given, as they are shown."""
    from matplotlib import patheffects
    from matplotlib.ticker import MaxNLocator

    mass = shown("kg", units)
    length = shown("m", units).factor
    seen = np.ma.masked_invalid(cut * mass.factor)
    if min(cut.shape) < 2 or seen.count() < 4 or seen.max() <= seen.min():
        return []
    if levels is None:
        levels = np.asarray(MaxNLocator(6, steps=[1, 2, 5, 10]).tick_values(seen.min(), seen.max())[1:-1])
    levels = levels[(levels > float(seen.min())) & (levels < float(seen.max()))]
    if len(levels) == 0:
        return []
    across, up = plane.centres()
    lines = ax.contour(across * length, up * length, seen, levels=levels, colors="white", linewidths=0.9, zorder=2)
    lines.set(path_effects=[patheffects.withStroke(linewidth=1.8, foreground="#00000070")])
    words = list(ax.clabel(lines, fmt=f"%g {mass.unit}", fontsize=7.5, inline=True, inline_spacing=2))
    for text in words:
        text.set(color="white", path_effects=[patheffects.withStroke(linewidth=2, foreground="#222222")], zorder=5)
    return words


def draw_regions(
    ax: Axes, plane: Plane, codes: NDArray[Any], names: dict[int, str], units: UnitSystem
) -> list[Annotation]:
    """Outlines the regions of each code that is not negative, and writes their names in them."""
    length = shown("m", units).factor
    joints = without_islands(codes, _ISLAND)
    lines = border_lines(joints, plane.across_edges * length, plane.up_edges * length)
    outlined(ax, lines, 1.5, "regions", 4)
    across, up = plane.centres()
    labels = []
    for joint in np.unique(joints[joints >= 0]):
        for rank, part in enumerate(connected(joints == joint)):
            row, column, depth = deepest_cell(part)
            if rank == 0 or depth >= _DEEP:
                at = (across[column] * length, up[row] * length)
                labels.append(Label(names[int(joint)], at, size=9.5, bold=True, centred=True))
    return place_labels(ax, labels)
