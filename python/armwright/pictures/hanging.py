"""The arm as it hangs from a lifting eye, seen square to the way in which it leans."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import xarray as xr
from numpy.typing import NDArray

from armwright.errors import InputError
from armwright.pictures.canvas import INK, NOT_SERVED, QUIET, SERVED, dress, fit, start
from armwright.pictures.silhouette import footprint
from armwright.results import Scene, check_dataset
from armwright.results.frames import base_pose, link_pose, link_poses
from armwright.results.units import UnitSystem, shown

if TYPE_CHECKING:
    from matplotlib.axes import Axes

Array = NDArray[np.float64]


def hanging(
    dataset: xr.Dataset,
    scene: Scene,
    *,
    eye: str | None = None,
    level: bool = False,
    units: UnitSystem = "si",
    ax: Axes | None = None,
) -> Axes:
    """A result of ``lifting`` with the cell's ``scene``: the arm upright as an outline and as it hangs from ``eye``
    (the first by default) in full, in the posture asked about or in the one found ``level``; eye, centre of gravity and
    the plumb line through both.

    >>> ax = pictures.hanging(cell.lifting(), cell.scene())
    >>> ax.get_title(loc="left")
    'Hanging from turret eye'
    """
    what = check_dataset(dataset)
    if what.name != "lifting":
        raise InputError.of("dataset", f"a result of {what.name}", "a result of lifting")
    eyes = [str(name) for name in dataset["eye"].values]
    if not eyes or (eye is not None and eye not in eyes):
        raise InputError.of("eye", repr(eye), "one of " + ", ".join(eyes) if eyes else "a cell with a lifting eye")
    row, prefix = dataset.sel(eye=eyes[0] if eye is None else eye), "level_" if level else ""
    view = _View(row, scene, prefix)
    given, ax = ax, start(ax, 5.6, 5.6)
    length = shown("m", units)
    _draw(ax, view.polygons(0.0), length.factor, full=False)
    _draw(ax, view.polygons(view.tilt), length.factor, full=True)
    at, centre = view.eye * length.factor, view.turned(view.centre[None], view.tilt)[0] * length.factor
    ax.axvline(at[0], color=NOT_SERVED, linewidth=1.2, linestyle=(0, (8, 2, 1.5, 2)), zorder=6, gid="plumb line")
    marks = (("eye", at, "o", "white"), ("centre of gravity", centre, "X", SERVED))
    for name, place, marker, face in marks:
        ax.plot([place[0]], [place[1]], marker=marker, markersize=10, markerfacecolor=face, markeredgecolor=INK,
                markeredgewidth=1.4, linestyle="none", zorder=7, label=name, gid=name)  # fmt: skip
    ax.set_aspect("equal")
    ax.autoscale_view()
    ax.margins(0.06)
    ax.set_xlabel(length.label("towards the side that goes down"), loc="left")
    ax.set_ylabel(length.label("height over the base as it stands"))
    ax.legend(loc="upper left", bbox_to_anchor=(1.01, 1.0), fontsize=8.5, frameon=False)
    posture = "in the posture found to hang level" if level and bool(row.level_found) else (
        "in the least tilted posture found" if level else "in the posture asked about")  # fmt: skip
    mass = shown("kg", units).number(float(dataset.attrs["mass"]), 4)
    held = "" if bool(row[f"{prefix}holds"]) else ", NOT held by brakes"
    told = f"leans by {shown('rad', units).number(view.tilt)}{held}"
    dress(ax, f"Hanging from {row.eye.item()}", f"{dataset.attrs['arm_name']}, {mass}, {posture}: {told}")
    fit(ax, given, 4.6)
    return ax


class _View:
    """The arm in the plane in which it leans: across towards the side that goes down, up along what is upright."""

    def __init__(self, row: xr.Dataset, scene: Scene, prefix: str):
        q = row[f"{prefix}q"].values
        if scene.arm_name != row.attrs["arm_name"] or len(q) != len(scene.joints) - scene.has_track:
            raise InputError.of("scene", repr(scene), "the scene of the cell that the result is of")
        if np.isnan(float(row[f"{prefix}tilt"])):
            raise InputError.of("eye", f"{row.eye.item()}: the centre of gravity is in it", "an eye that it hangs from")
        self.tilt = float(row[f"{prefix}tilt"])
        up = np.array(row.attrs["up"])
        across = row[f"{prefix}sinks_towards"].values
        if np.isnan(across).any():  # it does not lean: any side will do
            across = np.linalg.svd(up[None])[2][1]
        turn = np.eye(4)
        turn[:3, :3] = (across, up, np.cross(across, up))
        values = (*scene.q[:1], *q) if scene.has_track else tuple(q)
        self.into = turn @ np.linalg.inv(base_pose(scene, values))
        self.frames = link_poses(scene, values)
        tool_off = "tool: taken off" in str(row.attrs["missing"])
        roles = ("link",) if tool_off else ("link", "tool")
        self.solids = [solid for solid in scene.solids if solid.role in roles]
        self.eye = (turn[:3, :3] @ row[f"{prefix}eye_point"].values)[:2]
        self.centre = (turn[:3, :3] @ row[f"{prefix}centre"].values)[:2]

    def turned(self, points: Array, tilt: float) -> Array:
        """Points of the plane, turned about the eye so that the side that goes down does."""
        c, s = np.cos(tilt), np.sin(tilt)
        return np.asarray((points - self.eye) @ np.array([[c, -s], [s, c]]) + self.eye)

    def polygons(self, tilt: float) -> list[Array]:
        """All that is lifted, turned about the eye."""
        return [self.turned(polygon, tilt) for solid in self.solids
                for polygon in footprint(solid, self.into @ link_pose(self.frames, solid.link))]  # fmt: skip


def _draw(ax: Axes, polygons: list[Array], scale: float, full: bool) -> None:
    from matplotlib.collections import PolyCollection

    face, edge = ("#b9c4ce", "#3c4853") if full else ("none", QUIET)
    ax.add_collection(PolyCollection([polygon * scale for polygon in polygons], facecolors=face, edgecolors=edge,
                                     linewidths=0.9 if full else 0.6, linestyles="-" if full else (0, (3, 2)),
                                     zorder=3 if full else 2, alpha=0.95 if full else 0.8,
                                     gid="hanging" if full else "upright"))  # fmt: skip
