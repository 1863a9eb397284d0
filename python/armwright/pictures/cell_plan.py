"""The cell seen from above: fixtures, track, arm, and the work points by result."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from armwright.pictures.canvas import HALO, INK, NOT_SERVED, QUIET, SERVED, dress, fit, start
from armwright.pictures.labels import Label, place_labels
from armwright.pictures.silhouette import footprint, top
from armwright.pictures.stacks import stacks, told_together
from armwright.results import Scene, SceneTarget, Solid
from armwright.results.frames import base_pose, link_pose, link_poses
from armwright.results.unit_words import in_units
from armwright.results.units import UnitSystem, shown

if TYPE_CHECKING:
    from matplotlib.axes import Axes

_LOOK: dict[str, dict[str, Any]] = {  # role: face, edge, hatch; roles differ by hatch and tone, not by hue alone
    "fixture": {"facecolor": "#e6e3dd", "edgecolor": "#5c5850", "hatch": "////", "linewidth": 1.1},
    "track": {"facecolor": "#eef0f2", "edgecolor": "#8b9197", "hatch": "", "linewidth": 0.9},
    "link": {"facecolor": "#b9c4ce", "edgecolor": "#3c4853", "hatch": "", "linewidth": 0.9},
    "tool": {"facecolor": "#8596a5", "edgecolor": "#27313a", "hatch": "", "linewidth": 0.9},
    "load": {"facecolor": "#f3e3b4", "edgecolor": "#6d5a17", "hatch": "....", "linewidth": 0.9},
}
_REASON_WIDTH = 26  # characters a line


def plan(scene: Scene, *, names: bool = True, units: UnitSystem = "si", ax: Axes | None = None) -> Axes:
    """The cell in plan, the arm at the scene's posture. Work points: filled circle when served, cross and reason when
    not, open circle before a check. Without ``names`` nothing is written beside things, and it is drawn three times as
    quickly.

    >>> ax = pictures.plan(cell.scene(q, cell.check_targets()))
    >>> ax.get_xlabel(), ax.get_ylabel()
    ('x (m)', 'y (m)')
    """
    given, ax = ax, start(ax, 8.0, 5.5)
    length = shown("m", units)
    frames = link_poses(scene)
    for solid in sorted(scene.solids, key=lambda s: (s.role not in ("fixture", "track"), top(s, _frame(s, frames)))):
        _draw_solid(ax, solid, _frame(solid, frames), length.factor)
    if scene.has_track:
        _draw_track(ax, scene, length.factor)
    _draw_base(ax, scene, length.factor)
    _draw_targets(ax, scene.targets, length.factor)
    _frame_view(ax, scene, frames, length.factor)
    ax.set_xlabel(length.label("x"))
    ax.set_ylabel(length.label("y"))
    dress(ax, scene.name[:1].upper() + scene.name[1:], _count(scene))
    fit(ax, given, 4.6)
    _draw_walls(ax, scene, length.factor)
    if names:
        _write_labels(ax, scene, frames, units)
    return ax


def _frame(solid: Solid, frames: NDArray[np.float64]) -> NDArray[np.float64]:
    return link_pose(frames, solid.link)


def _draw_solid(ax: Axes, solid: Solid, frame: NDArray[np.float64], scale: float) -> None:
    """The outline of all its polygons together: edges first, faces over them."""
    from matplotlib.collections import PolyCollection

    polygons = [polygon * scale for polygon in footprint(solid, frame)]
    if not polygons:
        return
    look = _LOOK[solid.role]
    order = 2.0 if solid.role in ("fixture", "track") else 3.0
    ax.add_collection(PolyCollection(polygons, facecolors="none", edgecolors=look["edgecolor"],
                                     linewidths=2 * look["linewidth"], zorder=order, gid=f"{solid.role} outline"))
    ax.add_collection(PolyCollection(polygons, facecolors=look["facecolor"], edgecolors=look["facecolor"],
                                     linewidths=0.2, zorder=order, gid=solid.role))
    if look["hatch"] and len(polygons) == 1:
        ax.add_collection(PolyCollection(polygons, facecolors="none", edgecolors=look["edgecolor"], alpha=0.35,
                                         hatch=look["hatch"], linewidths=0, zorder=order))


def _draw_track(ax: Axes, scene: Scene, scale: float) -> None:
    """Two rails with sleepers along the way of the base, a bar at each end of the stroke."""
    ends = _track_ends(scene)
    if ends is None:
        return
    first, last = ends[0] * scale, ends[1] * scale
    way = last - first
    span = float(np.hypot(*way))
    if span == 0:
        return
    across = np.array([-way[1], way[0]]) / span * 0.07 * scale
    for side in (-1, 1):
        rail = np.array([first, last]) + side * across
        ax.plot(*rail.T, color=INK, linewidth=1.2, zorder=2.5, gid="rail")
    for at in np.linspace(0, 1, max(2, round(span / (0.1 * scale)) + 1)):
        sleeper = np.array([first + at * way - 1.3 * across, first + at * way + 1.3 * across])
        ax.plot(*sleeper.T, color=QUIET, linewidth=2.6 if at in (0, 1) else 0.7, zorder=2.4, gid="sleeper")


def _track_ends(scene: Scene) -> NDArray[np.float64] | None:
    """Plan places (2, 2) of the base at both ends of the track; None if the track has no end."""
    track = scene.joints[0]
    if not np.isfinite([track.lower, track.upper]).all():
        return None
    return np.array([base_pose(scene, (end, *scene.q[1:]))[:2, 3] for end in (track.lower, track.upper)])


def _draw_base(ax: Axes, scene: Scene, scale: float) -> None:
    x, y = base_pose(scene)[:2, 3] * scale
    ax.plot([x], [y], marker="o", markersize=11, markerfacecolor="white", markeredgecolor=INK, markeredgewidth=1.6,
            linestyle="none", zorder=5, gid="base")
    ax.plot([x], [y], marker="+", markersize=11, color=INK, linestyle="none", zorder=5)


def _draw_targets(ax: Axes, targets: Sequence[SceneTarget], scale: float) -> None:
    from matplotlib import patheffects

    halo = [patheffects.withStroke(linewidth=HALO + 1.2, foreground="white")]
    looks: tuple[tuple[bool | None, str, dict[str, Any]], ...] = (
        (True, "served", {"marker": "o", "markersize": 8, "color": SERVED}),
        (False, "not served", {"marker": "x", "markersize": 9, "color": NOT_SERVED, "markeredgewidth": 2.6}),
        (None, "not checked", {"marker": "o", "markersize": 8, "color": INK, "markerfacecolor": "white"}),
    )
    for served, words, look in looks:
        chosen = [target for target in targets if target.served is served]
        if not chosen:
            continue
        at = np.array([target.pose[:2, 3] for target in chosen]) * scale
        ax.plot(*at.T, linestyle="none", path_effects=halo, zorder=7, gid=words, label=f"{words} ({len(chosen)})",
                **look)
        for target, point in zip(chosen, at, strict=True):
            way = target.pose[:2, 2] * 0.14 * scale  # the tool axis, seen from above
            if np.hypot(*target.pose[:2, 2]) > 0.1:
                ax.plot(*np.array([point, point - way]).T, color=look["color"], linewidth=1.2, zorder=6.5,
                        gid="approach")
    if targets:
        ax.legend(loc="upper left", bbox_to_anchor=(1.01, 1), frameon=False, fontsize=8.5, borderaxespad=0)


def _frame_view(ax: Axes, scene: Scene, frames: NDArray[np.float64], scale: float) -> None:
    """The view holds everything that is drawn, with room for words; half-spaces have no end and do not count."""
    points = [base_pose(scene)[:2, 3][None]]
    points += [target.pose[:2, 3][None] for target in scene.targets]
    points += [polygon for solid in scene.solids for polygon in footprint(solid, _frame(solid, frames))]
    ends = _track_ends(scene) if scene.has_track else None
    points += [ends] if ends is not None else []
    places = np.concatenate(points) * scale
    low, high = places.min(axis=0), places.max(axis=0)
    room = max(0.06 * float((high - low).max()), 0.1 * scale)
    ax.set_aspect("equal")
    ax.set_xlim(low[0] - room, high[0] + room)
    ax.set_ylim(low[1] - room, high[1] + room)


def _draw_walls(ax: Axes, scene: Scene, scale: float) -> None:
    """Upright half-spaces: the border where it meets the ground, hatched on the solid side."""
    box_x, box_y = ax.get_xlim(), ax.get_ylim()
    reach = 2 * float(np.hypot(box_x[1] - box_x[0], box_y[1] - box_y[0]))
    for solid in (s for s in scene.solids if s.kind == "half_space" and s.link < 0):
        normal, origin = solid.pose[:3, 2], solid.pose[:3, 3]
        level = normal[:2]
        if np.hypot(*level) < 0.5:
            continue
        out = level / np.hypot(*level)
        foot = (origin[:2] + out * (normal[2] * origin[2] / np.hypot(*level))) * scale
        along = np.array([-out[1], out[0]]) * reach
        deep = out * reach
        corners = np.array([foot - along, foot + along, foot + along - deep, foot - along - deep])
        ax.fill(*corners.T, facecolor="#f0eee9", edgecolor="#5c5850", hatch="////", linewidth=1.4, zorder=1.5,
                gid="wall")
    ax.set_xlim(box_x)
    ax.set_ylim(box_y)


def _write_labels(ax: Axes, scene: Scene, frames: NDArray[np.float64], units: UnitSystem) -> None:
    scale = shown("m", units).factor
    labels: list[Label | list[Label]] = [*_target_labels(ax, scene.targets, units)]
    labels.append(Label("base", _point(base_pose(scene)[:2, 3] * scale), INK, 8.0, True))
    if scene.has_track and (ends := _track_ends(scene)) is not None:
        stroke = scene.joints[0].upper - scene.joints[0].lower
        words = f"{scene.joints[0].name}, {shown('m', units).number(stroke)}"
        labels.append(Label(words, _point(ends[1] * scale), INK, 8.0))
    labels += _fixture_labels(scene, frames, scale)
    clear = [_point(target.pose[:2, 3] * scale) for target in scene.targets]
    place_labels(ax, labels, [*clear, _point(base_pose(scene)[:2, 3] * scale)])


def _target_labels(ax: Axes, targets: Sequence[SceneTarget], units: UnitSystem) -> list[list[Label]]:
    """Those that stand over each other in one block, the highest first."""
    if not targets:
        return []
    length = shown("m", units)
    names = [target.name for target in targets]
    places = np.array([target.pose[:3, 3] for target in targets]) * length.factor
    pixels = np.asarray(ax.transData.transform(places[:, :2]))
    mark = 6 * ax.figure.dpi / 72
    blocks = []
    for stack in stacks(pixels - mark, pixels + mark):
        block = []
        for number in sorted(stack, key=lambda number: -places[number, 2]):
            target = targets[number]
            words = f"{target.name}, z {length.number(target.pose[2, 3])}"
            if target.served is False and target.reason:
                words += "\n" + textwrap.fill(in_units(target.reason, units, names), _REASON_WIDTH)
            colour = NOT_SERVED if target.served is False else INK
            block.append(Label(words, _point(places[number]), colour, 8.0, target.served is False))
        blocks.append(block)
    return blocks


def _fixture_labels(scene: Scene, frames: NDArray[np.float64], scale: float) -> list[Label]:
    fixtures = [(solid, footprint(solid, _frame(solid, frames))) for solid in scene.solids if solid.role == "fixture"]
    corners = [(solid.name, np.concatenate(polygons) * scale) for solid, polygons in fixtures if polygons]
    if not corners:
        return []
    low, high = (np.array([end(points, axis=0) for _, points in corners]) for end in (np.min, np.max))
    labels = []
    for stack in stacks(low, high):
        words = textwrap.fill(told_together([corners[number][0] for number in stack]), _REASON_WIDTH)
        middle = (low[stack].min(axis=0) + high[stack].max(axis=0)) / 2
        labels.append(Label(words, _point(middle), "#4a463f", 7.5, centred=True))
    return labels


def _point(at: NDArray[np.float64]) -> tuple[float, float]:
    return float(at[0]), float(at[1])


def _count(scene: Scene) -> str:
    checked = [target for target in scene.targets if target.served is not None]
    served = sum(bool(target.served) for target in checked)
    words = f", serves {served} of {len(checked)} work points" if checked else ""
    return f"plan view, {scene.arm_name}{words}"
