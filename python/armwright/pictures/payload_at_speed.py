"""The price of speed: the mass held at rest and the mass moved as asked, side by side and in one curve."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np
import xarray as xr
from numpy.typing import NDArray

from armwright.errors import InputError
from armwright.pictures.canvas import DPI, INK, NOT_SERVED, QUIET, SERVED, dress, start
from armwright.pictures.labels import drop_overlapping
from armwright.pictures.payload import draw_contours, draw_regions, finite
from armwright.pictures.sections import add_colour_bar, draw_cells, mark_base, set_axes, visible, where
from armwright.pictures.slices import Plane, pick_plane
from armwright.results import check_dataset
from armwright.results.units import UnitSystem, shown

if TYPE_CHECKING:
    from matplotlib.axes import Axes

_STUDY = "payload_at_speed"
_NOTHING = -2  # code of cells where the arm cannot move itself
_CROWDED = 98.0  # per cent of the cells; the few masses beyond, close to an axis, share the last colour
_LIMITS = {
    "joint_acceleration": "joint acceleration", "motor_speed": "motor speed", "stage_speed": "speed",
    "singular_posture": "singular posture",
}


def payload_at_speed(
    dataset: xr.Dataset,
    *,
    x: float | None = None,
    y: float | None = None,
    z: float | None = None,
    base: Sequence[float] | None = None,
    units: UnitSystem = "si",
    axes: Sequence[Axes] | None = None,
) -> tuple[Axes, Axes]:
    """One section of the map at rest and in motion, in the two axes given or in a new figure: one colour scale, the
    same contour lines, the regions of each joint and part that gives out first outlined and named.

    >>> fast = cell.payload_at_speed("500 mm", tool_acceleration="3 m/s^2", directions=6, spins=1)
    >>> [ax.get_title(loc="left") for ax in pictures.payload_at_speed(fast, x=1.0)]
    ['At rest', 'In motion']
    """
    plane = pick_plane(dataset, (_STUDY,), x, y, z)
    if axes is not None and len(axes) != 2:
        raise InputError.of("axes", f"{len(axes)} axes", "two axes: at rest, and in motion")
    rest, moved = dataset["rest_mass_greatest"], dataset["mass_greatest"]
    cuts = [visible(dataset, plane, values) for values in (rest, moved)]
    left, right = axes if axes is not None else _new_axes(plane, cuts[0])
    span = _span(cuts)
    levels = _levels(span, units)
    for ax, values, cut, at_rest in ((left, rest, cuts[0], True), (right, moved, cuts[1], False)):
        mesh = draw_cells(ax, plane, cut, values, units, span)
        mark_base(ax, plane, dataset, base, units)
        set_axes(ax, plane, cut, units)
        codes, names = _regions(dataset, plane, cut, at_rest)
        words = "At rest" if at_rest else "In motion"
        terms = _rest_terms(dataset, units) if at_rest else motion_terms(dataset, units)
        hatched = "\nhatched: the arm cannot move itself so" if (codes == _NOTHING).any() else "\n"
        dress(ax, words, f"{dataset.attrs['arm_name']}, {where(plane, units)}\n{terms}{hatched}")
        _hatch_nothing(ax, plane, codes == _NOTHING, units)
        named = draw_regions(ax, plane, codes, names, units)
        carried = np.where(cut == 0, np.nan, cut)  # or every line would run along the edge of what is hatched
        drop_overlapping(ax, draw_contours(ax, plane, carried, units, levels), named)
    right.set_ylabel("")
    add_colour_bar(right, mesh, xr.DataArray(attrs={"units": "kg", "long_name": "greatest mass"}), units)
    return left, right


def payload_at_speed_curve(dataset: xr.Dataset, *, units: UnitSystem = "si", ax: Axes | None = None) -> Axes:
    """The mass against the distance from axis 1, at the best height: at rest and in motion; the price between them.

    >>> fast = cell.payload_at_speed("500 mm", tool_acceleration="3 m/s^2", directions=6, spins=1)
    >>> pictures.payload_at_speed_curve(fast).get_ylabel()
    'greatest mass, at the best height (kg)'
    """
    if check_dataset(dataset).name != _STUDY:
        raise InputError.of("dataset", f"a result of {dataset.attrs['study']}", f"a result of {_STUDY}")
    ax = start(ax, 7.0, 4.2)
    length, mass = shown("m", units), shown("kg", units)
    distance = dataset["distance"].values * length.factor
    rest = finite(dataset["rest_curve_mass_any_height"].values) * mass.factor
    moved = finite(dataset["curve_mass_any_height"].values) * mass.factor
    both = ~np.isnan(rest) & ~np.isnan(moved)
    ax.fill_between(distance, moved, rest, where=list(both), color=QUIET, alpha=0.15, linewidth=0, gid="price")
    for line, words, colour, style in ((rest, "at rest", SERVED, "-"), (moved, "in motion", NOT_SERVED, (0, (6, 2)))):
        ax.plot(distance, line, color=colour, linewidth=2.4, linestyle=style, label=words, gid=words)
    reached = np.flatnonzero(both)
    if reached.size == 0:
        ax.text(0.5, 0.5, "nothing is reached", transform=ax.transAxes, ha="center", color=QUIET)
    ax.set_ylim(0, _top(rest[both]))
    ax.set_xlim(0, None)
    ax.set_xlabel(length.label("horizontal distance of the tool point from axis 1"))
    ax.set_ylabel(mass.label("greatest mass, at the best height"))
    if reached.size:
        ax.legend(loc="upper right", frameon=False, fontsize=9.5, labelcolor=INK, handlelength=3.2)
    dress(ax, "Payload against reach, at rest and in motion",
          f"{dataset.attrs['arm_name']}, {_rest_terms(dataset, units)}\n{motion_terms(dataset, units)}")
    return ax


def motion_terms(dataset: xr.Dataset, units: UnitSystem) -> str:
    """What was asked of the arm, in words."""
    length, a = shown("m", units), dataset.attrs
    asked = []
    if a["tool_acceleration"]:
        asked.append(f"tool {a['tool_acceleration'] * length.factor:.3g} {length.unit}/s² any way")
    if a["turn_acceleration"]:
        asked.append(f"turning {a['turn_acceleration']:.3g} rad/s²")
    if a["joint_acceleration_share"]:
        asked.append(f"{100 * a['joint_acceleration_share']:.3g} % of joint accelerations")
    if a["speed_share"]:
        asked.append(f"{100 * a['speed_share']:.3g} % of joint speeds")
    return (", ".join(asked) or "nothing asked") + "; peak torque"


def _rest_terms(dataset: xr.Dataset, units: UnitSystem) -> str:
    length = shown("m", units)
    centre = ", ".join(f"{value * length.factor:.3g}" for value in dataset.attrs["load_centre"])
    a = dataset.attrs
    return f"load centre ({centre}) {length.unit}, attitude {a['attitude']}, {a['limit']} torque"


def _new_axes(plane: Plane, cut: NDArray[np.float64]) -> tuple[Axes, Axes]:
    import matplotlib.pyplot as plt

    rows, columns = (np.flatnonzero((~np.isnan(cut)).any(axis=k)) for k in (1, 0))
    tall, wide = (np.ptp(cells) + 3.0 if cells.size else 3.0 for cells in (rows, columns))
    width = 5.6
    height = float(np.clip(width * tall / wide, 2.2, 6.0))
    figure = plt.figure(figsize=(2 * width + 1.3, height + 1.35), dpi=DPI, layout="constrained")
    left, right = figure.subplots(1, 2)
    return left, right


def _span(cuts: Sequence[NDArray[np.float64]]) -> tuple[float, float]:
    """One colour scale for both: from nothing to nearly the most that is held in either."""
    seen = np.concatenate([cut[np.isfinite(cut)] for cut in cuts])
    return (0.0, max(float(np.percentile(seen, _CROWDED)), 1e-9)) if seen.size else (0.0, 1.0)


def _levels(span: tuple[float, float], units: UnitSystem) -> NDArray[np.float64]:
    from matplotlib.ticker import MaxNLocator

    factor = shown("kg", units).factor
    levels = np.asarray(MaxNLocator(8, steps=[1, 2, 5, 10]).tick_values(span[0] * factor, span[1] * factor))
    return levels[levels > 0]


def _top(masses: NDArray[np.float64]) -> float:
    return 1.08 * float(np.max(masses, initial=0.0)) or 1.0


def _regions(dataset: xr.Dataset, plane: Plane, cut: NDArray[np.float64], at_rest: bool
             ) -> tuple[NDArray[np.int64], dict[int, str]]:
    """A code for each joint and part, and their names; -1 where nothing is reached or nothing limits."""
    joints, parts = dataset["joint_names"].values, dataset["part_names"].values
    of_joint, of_part = ("rest_joint", "rest_part") if at_rest else ("limiting_joint", "limiting_part")
    joint, part = (plane.cut(dataset[name]).astype(np.int64) for name in (of_joint, of_part))
    limit = np.zeros_like(joint) if at_rest else plane.cut(dataset["limiting_limit"]).astype(np.int64)
    limits = [] if at_rest else str(dataset["limiting_limit"].attrs["flag_meanings"]).split(" ")
    count = len(parts) + 1
    codes = (joint * count + part + 1) * 16 + np.maximum(limit, 0)
    codes = np.where(np.isnan(cut) | (joint < 0), -1, codes)
    codes = np.where(cut == 0, _NOTHING, codes)
    names = {}
    for code in np.unique(codes[codes >= 0]):
        place, which = divmod(int(code), 16)
        at, of = divmod(place, count)
        part_name = str(parts[of - 1]) if of else ""
        words = [str(joints[at])]
        if part_name not in ("", "stated"):
            words.append(part_name)
        if limits and limits[which] in _LIMITS:
            words.append(_LIMITS[limits[which]])
        names[int(code)] = ", ".join(words)
    return codes, names


def _hatch_nothing(ax: Axes, plane: Plane, cells: NDArray[np.bool_], units: UnitSystem) -> None:
    """Where the arm cannot move itself as asked."""
    if not cells.any():
        return
    from matplotlib.collections import PolyCollection

    length = shown("m", units).factor
    across, up = plane.across_edges * length, plane.up_edges * length
    corners = ((0, 0), (0, 1), (1, 1), (1, 0))
    squares = [[(across[column + i], up[row + j]) for i, j in corners] for row, column in np.argwhere(cells)]
    ax.add_collection(PolyCollection(squares, facecolors="none", edgecolors="#ffffff90", linewidths=0, hatch="////",
                                     zorder=1.5, gid="nothing"))
