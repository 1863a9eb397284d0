"""Where the stand may be: the plan of a placement, the places along one number, and the set of several aims."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Literal

import numpy as np
import xarray as xr
from numpy.typing import NDArray

from armwright.errors import InputError
from armwright.pictures.canvas import HALO, INK, NOT_SERVED, QUIET, SERVED, colour_bar, dress, fit, outlined, start
from armwright.pictures.labels import Label, place_labels
from armwright.pictures.slices import border_lines, cell_edges
from armwright.results import check_dataset
from armwright.results.units import UnitSystem, shown

if TYPE_CHECKING:
    from matplotlib.axes import Axes

_NUMBERS = ("x", "y", "z", "yaw", "turn", "track")
_WORDS = {"yaw": "yaw", "turn": "turn on the wall", "track": "track position"}


def placement_plan(
    dataset: xr.Dataset,
    *,
    show: Literal["served", "worst"] = "served",
    units: UnitSystem = "si",
    ax: Axes | None = None,
) -> Axes:
    """The plan of a placement: at each place of the first sampling how many points are served at most, or with "worst"
    the worst of the first aim where most are served; forbidden zones and places where it cannot stand hatched; the best
    place, where it stands now, and the work points.

    >>> bolted = aw.Cell.from_description(replace(cell.description, track=None, mount=(1, 0, 0.12)))
    >>> placed = bolted.placement(x=(0.5, 1.5), y=(-0.3, 0.3), samples=16)
    >>> ax = pictures.placement_plan(placed)
    >>> ax.get_xlabel(), ax.get_ylabel()
    ('x (m)', 'y (m)')
    """
    _check(dataset)
    if "plan_count" not in dataset:
        raise InputError.of("dataset", "a placement without a plan", "one with x and y free")
    if show not in ("served", "worst"):
        raise InputError.of("show", repr(show), '"served" or "worst"')
    given, ax = ax, start(ax)
    scale = shown("m", units).factor
    edges = [cell_edges(dataset, axis) * scale for axis in ("x", "y")]
    count = dataset["plan_count"].values
    most = int(count.max(initial=0))
    _draw_values(ax, dataset, show, edges, count, units)
    if (count < 0).any():
        _hatch_cells(ax, edges, count < 0)
    lines = border_lines(np.where(count == most, 1, 0), edges[0], edges[1])
    if lines and show == "served":
        outlined(ax, lines, 1.4, "most served", 3)
    _draw_zones(ax, dataset, scale)
    points = dataset["position"].values[:, :2] * scale
    ax.plot(*points.T, linestyle="none", marker=".", markersize=7, color=INK, markeredgecolor="white",
            markeredgewidth=0.8, zorder=6, gid="work points", label="work points")
    best = int(dataset.attrs["best"])
    _mark_places(ax, dataset, best, scale)
    _set_view(ax, edges, points, np.array(dataset.attrs["now_place"][:2]) * scale)
    ax.set_xlabel(shown("m", units).label("x"))
    ax.set_ylabel(shown("m", units).label("y"))
    served = f"Points served, by where the {dataset.attrs['stand']} stands"
    words = served if show == "served" else f"Worst {dataset.aim.values[0]} where {most} points are served"
    dress(ax, words, _note(dataset, best))
    ax.grid(False)
    ax.legend(loc="upper left", bbox_to_anchor=(0, -0.12), ncols=3, frameon=False, fontsize=8.5, borderaxespad=0)
    fit(ax, given)
    return ax


def placement_along(dataset: xr.Dataset, *, number: str = "", units: UnitSystem = "si", ax: Axes | None = None) -> Axes:
    """Every place that was tried against one of its numbers: the worst of the first aim, in the colour of how many
    points are served. ``number``: x, y, z, yaw, turn or track; by default the first that was free.

    >>> bolted = aw.Cell.from_description(replace(cell.description, track=None, mount=(1, 0, 0.12)))
    >>> placed = bolted.placement(x=(0.5, 1.5), samples=16)
    >>> pictures.placement_along(placed).get_xlabel()
    'x (m)'
    """
    _check(dataset)
    free = [name for name in _NUMBERS if float(np.ptp(dataset[f"candidate_{name}"].values)) > 0]  # false for NaN
    if number and number not in _NUMBERS:
        raise InputError.of("number", repr(number), "one of " + ", ".join(_NUMBERS))
    which = number or (free[0] if free else "x")
    ax = start(ax, 7.0, 4.2)
    along, aim = shown("rad" if which in ("yaw", "turn") else "m", units), _aim_shown(dataset, 0, units)
    count, worst = dataset["candidate_count"].values, dataset["candidate_worst"].values[:, 0]
    at = dataset[f"candidate_{which}"].values * along.factor
    known = np.isfinite(worst) & (count > 0)
    order = np.flatnonzero(known)[np.argsort(count[known], kind="stable")]
    colours = _steps(dataset.sizes["target"])
    drawn = ax.scatter(at[order], worst[order] * aim.factor, c=count[order], s=9, linewidths=0, gid="places", **colours)
    if known.any():
        _count_bar(ax, drawn, dataset.sizes["target"])
    else:
        ax.text(0.5, 0.5, "no point is served from anywhere", transform=ax.transAxes, ha="center", color=QUIET)
    best = int(dataset.attrs["best"])
    if np.isfinite(dataset["worst"].values[best, 0]):
        place, value = float(dataset[f"place_{which}"][best]), float(dataset["worst"][best, 0])
        ax.plot([place * along.factor], [value * aim.factor], gid="best", linestyle="none", **_BEST)
    ax.set_xlabel(along.label(_WORDS.get(which, which)))
    ax.set_ylabel(aim.label(f"worst {dataset.aim.values[0]}"))
    dress(ax, f"Worst {dataset.aim.values[0]}, by where the {dataset.attrs['stand']} stands", _note(dataset, best))
    return ax


def placement_set(
    dataset: xr.Dataset, *, x: int = 0, y: int = 1, units: UnitSystem = "si", ax: Axes | None = None
) -> Axes:
    """The places that no other beats, in two of the aims (by their place); a third aim in colour. Small dots: all
    places tried that serve as many points, where the search knows both aims.

    >>> one = replace(cell.description, track=None, mount=(1, 0, 0.12), targets=few[2:])
    >>> placed = aw.Cell.from_description(one).placement(x=(0.8, 1.2), samples=4, aims=["limit_margin", "clearance"])
    >>> ax = pictures.placement_set(placed)
    >>> ax.get_xlabel(), ax.get_ylabel()
    ('limit margin, the more the better', 'clearance spare, the more the better (m)')
    """
    _check(dataset)
    aims = dataset.sizes["aim"]
    if aims < 2:
        raise InputError.of("dataset", "a placement of one aim", "one of several aims")
    for key, value in (("x", x), ("y", y)):
        if not isinstance(value, int) or not 0 <= value < aims:
            raise InputError.of(key, repr(value), f"the place of an aim, 0 to {aims - 1}")
    ax = start(ax, 6.6, 4.8)
    across, up = _aim_shown(dataset, x, units), _aim_shown(dataset, y, units)
    worst, best = dataset["worst"].values, int(dataset.attrs["best"])
    count = dataset["candidate_count"].values
    tried = dataset["candidate_worst"].values[count == count.max(initial=0)]
    ax.plot(tried[:, x] * across.factor, tried[:, y] * up.factor, linestyle="none", marker=".", markersize=3,
            color="#b4b9be", zorder=2, gid="places", label="tried, each aim in its own postures")
    varied = [k for k in range(aims) if k not in (x, y) and _varies(worst[:, k])]
    third = varied[0] if varied else None
    points = worst[:, x] * across.factor, worst[:, y] * up.factor
    if third is None:
        ax.plot(*points, linestyle="none", marker="o", markersize=8, color=SERVED, markeredgecolor="white", zorder=4,
                gid="set", label="not beaten, checked")
    else:
        other = _aim_shown(dataset, third, units)
        drawn = ax.scatter(*points, c=worst[:, third] * other.factor, cmap="viridis", s=72, edgecolors="white",
                           zorder=4, gid="set", label="not beaten, checked")
        colour_bar(ax, drawn, other.label(str(dataset.aim.values[third])))
    ax.plot(points[0][best], points[1][best], linestyle="none", gid="best", label="balanced", **_BEST)
    now = dataset["now_worst"].values
    if int(dataset.now_served.values.sum()) and np.isfinite(now[[x, y]]).all():
        ax.plot(now[x] * across.factor, now[y] * up.factor, linestyle="none", marker="X", markersize=9,
                color=NOT_SERVED, markeredgecolor="white", zorder=5, gid="now",
                label=f"now, {int(dataset.now_served.values.sum())} of {dataset.sizes['target']} points")
    ax.set_xlabel(across.label(_better(dataset, x)))
    ax.set_ylabel(up.label(_better(dataset, y)))
    dress(ax, "Places that no other beats", _note(dataset, best))
    _name_places(ax, dataset, points, units)
    ax.legend(loc="upper left", bbox_to_anchor=(0, -0.14), ncols=2, frameon=False, fontsize=8.5, borderaxespad=0)
    return ax


_BEST: dict[str, Any] = {"marker": "*", "markersize": 17, "color": NOT_SERVED, "markeredgecolor": "white",
                         "markeredgewidth": 1.4, "zorder": 7}  # fmt: skip


def _check(dataset: xr.Dataset) -> None:
    what = check_dataset(dataset)
    if what.name != "placement":
        raise InputError.of("dataset", f"a result of {what.name}", "a result of placement")


def _steps(points: int) -> dict[str, Any]:
    """Colours of 0 to all points, a step each."""
    import matplotlib as mpl
    from matplotlib.colors import BoundaryNorm

    return {"cmap": mpl.colormaps["viridis"].resampled(points + 1),
            "norm": BoundaryNorm(np.arange(-0.5, points + 1), points + 1)}  # fmt: skip


def _count_bar(ax: Axes, drawn: Any, points: int) -> None:
    colour_bar(ax, drawn, f"points served, of {points}")
    drawn.colorbar.set_ticks(np.arange(0, points + 1, max(1, -(-points // 12))))
    drawn.colorbar.ax.minorticks_off()


def _draw_values(
    ax: Axes, dataset: xr.Dataset, show: str, edges: list[NDArray[Any]], count: NDArray[Any], units: UnitSystem
) -> None:
    if show == "served":
        points = dataset.sizes["target"]
        mesh = ax.pcolormesh(*edges, np.ma.masked_less(count, 0), zorder=1, gid="plan", **_steps(points))
        _count_bar(ax, mesh, points)
        return
    aim = _aim_shown(dataset, 0, units)
    worst = np.where(count == count.max(initial=0), dataset["plan_worst"].values, np.nan) * aim.factor
    if not np.isfinite(worst).any():
        ax.text(0.5, 0.5, "not known: the aim is an answer, or no point is served", transform=ax.transAxes, ha="center",
                color=QUIET)
        return
    mesh = ax.pcolormesh(*edges, np.ma.masked_invalid(worst), cmap="viridis", zorder=1, gid="plan")
    colour_bar(ax, mesh, aim.label(f"worst {dataset.aim.values[0]}"))


def _hatch_cells(ax: Axes, edges: list[NDArray[Any]], mask: NDArray[np.bool_]) -> None:
    from matplotlib.patches import PathPatch
    from matplotlib.path import Path

    corners = []
    for row, column in np.argwhere(mask):
        (x0, x1), (y0, y1) = edges[0][column : column + 2], edges[1][row : row + 2]
        corners.append(Path([(x0, y0), (x1, y0), (x1, y1), (x0, y1), (x0, y0)], closed=True))
    ax.add_patch(PathPatch(Path.make_compound_path(*corners), facecolor="#f3f2ef", edgecolor="#a9a59d", linewidth=0,
                           hatch="...", zorder=1.5, gid="cannot stand", label="cannot stand"))


def _draw_zones(ax: Axes, dataset: xr.Dataset, scale: float) -> None:
    if "zone_x" not in dataset:
        return
    corners = np.stack([dataset["zone_x"].values, dataset["zone_y"].values], axis=1) * scale
    breaks = np.flatnonzero(np.isnan(corners[:, 0]))
    for i, part in enumerate(np.split(corners, breaks)):
        ax.fill(*part[~np.isnan(part[:, 0])].T, facecolor=(1, 1, 1, 0.35), edgecolor=INK, hatch="////", linewidth=1.3,
                zorder=4, gid="zone", label="" if i else "forbidden")


def _mark_places(ax: Axes, dataset: xr.Dataset, best: int, scale: float) -> None:
    now = np.array(dataset.attrs["now_place"][:2]) * scale
    ax.plot([now[0]], [now[1]], linestyle="none", marker="o", markersize=10, markerfacecolor="white",
            markeredgecolor=INK, markeredgewidth=1.6, zorder=6.5, gid="now", label="now")
    at = float(dataset["place_x"][best]) * scale, float(dataset["place_y"][best]) * scale
    ax.plot([at[0]], [at[1]], linestyle="none", gid="best", label="best", **_BEST)
    yaw = float(dataset["place_yaw"][best])
    if np.ptp(dataset["candidate_yaw"].values) > 0:
        span = 0.09 * max(np.ptp(dataset["x"].values), np.ptp(dataset["y"].values)) * scale
        from matplotlib import patheffects

        halo = [patheffects.withStroke(linewidth=HALO + 1.6, foreground="white")]
        ax.plot([at[0], at[0] + span * np.cos(yaw)], [at[1], at[1] + span * np.sin(yaw)], color=NOT_SERVED, linewidth=2,
                zorder=6.8, gid="way of the best", path_effects=halo, solid_capstyle="round")


def _set_view(ax: Axes, edges: list[NDArray[Any]], points: NDArray[Any], now: NDArray[Any]) -> None:
    """The plan, the work points and the present place, a little room about them."""
    corners = np.array([[edges[0][0], edges[1][0]], [edges[0][-1], edges[1][-1]]])
    every = np.concatenate([corners, points, now[None]])
    low, high = every.min(axis=0), every.max(axis=0)
    room = 0.04 * float((high - low).max())
    ax.set_aspect("equal")
    ax.set_xlim(low[0] - room, high[0] + room)
    ax.set_ylim(low[1] - room, high[1] + room)


def _aim_shown(dataset: xr.Dataset, aim: int, units: UnitSystem) -> Any:
    return shown(str(dataset.aim_unit.values[aim]), units)


def _varies(values: NDArray[Any]) -> bool:
    known = values[np.isfinite(values)]
    return known.size > 1 and float(np.ptp(known)) > 1e-6 * float(np.abs(known).max())


def _better(dataset: xr.Dataset, aim: int) -> str:
    return f"{dataset.aim.values[aim]}, the {dataset.aim_better.values[aim]} the better"


def _note(dataset: xr.Dataset, best: int) -> str:
    served = f"{int(dataset.served_count[best])} of {dataset.sizes['target']} points"
    return (f"{dataset.attrs['arm_name']}; {'balanced' if dataset.sizes['aim'] > 1 else 'best'}: {served}; "
            f"{dataset.attrs['places_tried']} places tried")


def _name_places(ax: Axes, dataset: xr.Dataset, points: tuple[Any, Any], units: UnitSystem) -> None:
    length = shown("m", units)
    labels = []
    for k, at in enumerate(zip(*points, strict=True)):
        if not np.isfinite(at).all():
            continue
        if dataset.attrs["stand"] == "parked arm":
            words = length.number(float(dataset.place_track[k]))
        else:
            words = f"{float(dataset.place_x[k]) * length.factor:.2f}, {float(dataset.place_y[k]) * length.factor:.2f}"
        labels.append(Label(words, (float(at[0]), float(at[1])), QUIET, 7.0))
    place_labels(ax, labels, [label.at for label in labels])
