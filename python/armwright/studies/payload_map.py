"""How much the arm holds at each position, and which joint gives out first."""

from __future__ import annotations

from typing import Any

import numpy as np
import xarray as xr
from numpy.typing import NDArray

from armwright import _core
from armwright.errors import InputError
from armwright.results import make_dataset
from armwright.studies import defaults, run

_azimuths, _curve_directions = 8, 72
_most_steps = 100  # of the curve, from axis 1 to the end of the reach


def payload_map(
    model: _core.model.Model,
    scene: _core.clearance.Scene | None,
    spacing: float,
    *,
    attitude: run.Attitude = "any",
    centre: run.Floats,
    limit: str = "continuous",
    bounds: tuple[run.Floats, run.Floats] | None,
    directions: int | run.Floats | None = None,
    spins: int = defaults.spins,
    margin: float,
    track_step: float | None,
    loose: _core.model.Model | None = None,
    threads: int | None = None,
    progress: run.Progress = None,
    inputs_digest: str,
    arm_name: str,
    labels: dict[str, Any],
) -> xr.Dataset:
    """See Cell.payload_map. ``loose``: for a tool of fewer than six freedoms, the model that is asked for
    positions alone, which stands for "any" attitude; the load centre must then be the tool point."""
    if loose is not None and attitude == "any" and not isinstance(directions, np.ndarray):
        refuse_centre(centre)
        model = loose
    if directions is None:
        directions = defaults.directions if attitude == "any" else defaults.level_directions
    spins = run.whole("spins", spins, 1, 10_000)
    which = limit_of(model, limit)
    along = run.track_step_of(model, spacing if track_step is None else track_step)
    free = model is loose
    attitudes = run.some_attitude() if free else run.attitudes_for(attitude, directions, spins)
    search = _core.studies.make_search(model, scene, margin, along, run.turn_step)
    axes = run.axes_of(*run.box_of(bounds, spacing, search, model), spacing)
    shape = tuple(len(axis) for axis in axes)
    positions = np.stack(np.meshgrid(*axes, indexing="ij"), axis=-1).reshape(-1, 3)
    count = run.threads_of(threads)
    with run.reported(progress, "payload map", 0, 2) as report:
        swept = _core.studies.payload_map(search, positions, attitudes, centre, which, count, report)
    run.finished(swept.complete)
    with run.reported(progress, "payload against reach", 1, 2) as report:
        finer = attitudes if free else curve_directions(attitude, directions, spins)
        distance, height, curve = payload_curve(model, spacing, finer, centre, which, count, report)
    parts, grid = _grid(model, swept, limit, shape)
    with np.errstate(all="ignore"):
        any_height = np.fmax.reduce(curve, axis=0)
    tried = {"directions": max(len(attitudes) // spins, 1), "spins": spins, "track_step": along}
    terms = {"load_centre": centre.tolist(), "attitude": attitude, "limit": limit, "spacing": spacing, "margin": margin}
    places = {"distance": distance, "height": height}
    names = {"joint_names": np.array(model.joint_names), "part_names": parts}
    return make_dataset(
        "payload_map",
        grid | {"curve_mass": curve, "curve_mass_any_height": any_height},
        names | places | dict(zip("xyz", axes, strict=True)),
        terms | tried | labels,
        inputs_digest,
        arm_name,
    )


def _grid(
    model: _core.model.Model, swept: _core.studies.PayloadMap, limit: str, shape: tuple[int, ...]
) -> tuple[NDArray[np.str_], dict[str, NDArray[Any]]]:
    """Names of the parts that set limits, and the variables over the grid."""
    names = ("mass_greatest", "mass_least", "limiting_joint", "limiting_joint_least")
    grid: dict[str, NDArray[Any]] = {name: getattr(swept, name).reshape(shape) for name in names}
    parts, place_of = run.parts_of(model, limit)
    grid |= {name.replace("joint", "part"): place_of[grid[name]] for name in names[2:]}
    grid["limiting_limit"] = np.where(grid["limiting_joint"] >= 0, 0 if limit == "continuous" else 1, -1)
    return parts, grid


def refuse_centre(centre: run.Floats) -> None:
    """Where positions alone are asked for, the attitude is open, and with it where a load's centre comes."""
    if np.any(centre):
        raise InputError.of(
            "centre",
            f"{centre.tolist()} m",
            'the tool point, or attitude "down" or "level": this arm cannot turn its tool all ways, so that where the '
            "load's centre comes is not known",
        )


def limit_of(model: _core.model.Model, limit: str) -> _core.limits.Limit:
    """Which torque counts; refused if no joint states one."""
    which = run.core_limit(limit)
    torques = model.torque_continuous if limit == "continuous" else model.torque_peak
    if not np.isfinite(torques).any():
        raise InputError.of(
            "limit", f"{limit}, but no joint states a torque", "at least one joint with the torque that it holds"
        )
    return which


def _heading(model: _core.model.Model, track: float, root: run.Floats) -> float:
    """Azimuth of the tool point with all joints at the middle of their ranges, rad; 0 where it stands over the root."""
    with np.errstate(invalid="ignore"):
        middle = 0.5 * (np.array(model.lower) + np.array(model.upper))
    q = np.where(np.isfinite(middle), middle, 0.0)
    if model.has_track:
        q[0] = track
    away = _core.kinematics.tool_poses(model, q[None, :])[0, :2, 3] - root[:2]
    return float(np.arctan2(away[1], away[0])) if float(np.hypot(*away)) > 1e-6 else 0.0


def payload_curve(
    model: _core.model.Model,
    step: float,
    attitudes: run.Floats,
    centre: run.Floats,
    which: _core.limits.Limit,
    threads: int,
    report: run.Report | None,
) -> tuple[run.Floats, run.Floats, run.Floats]:
    """Greatest mass at each horizontal distance from axis 1 and each height: distance (d,), height (h,), mass (h, d).

    ``step`` apart, or a hundredth of the reach if that is more: a fine map of a corner is not to wait for the curve.
    What the arm's torques allow: fixtures do not count, and a track stands still. Several azimuths are tried, from the
    middle of the range of axis 1 on, since that may leave some out; the best counts.
    """
    still, distance, height, positions = curve_positions(model, step)
    swept = _core.studies.payload_map(still, positions.reshape(-1, 3), attitudes, centre, which, threads, report)
    run.finished(swept.complete)
    return distance, height, best_azimuth(swept.mass_greatest, positions)


def curve_directions(attitude: run.Attitude, directions: int | run.Floats, spins: int) -> run.Floats:
    """Tool attitudes tried for a payload curve: no fewer directions than for the map."""
    finer = directions if isinstance(directions, np.ndarray) else max(directions, _curve_directions)
    return run.attitudes_for(attitude, finer, spins)


def curve_positions(
    model: _core.model.Model, step: float
) -> tuple[_core.studies.PostureSearch, run.Floats, run.Floats, run.Floats]:
    """Where a payload curve is asked for: the search with its track held at mid-stroke, distance (d,), height (h,), and
    positions (h, d, azimuth, 3)."""
    middle = middle_of_track(model)
    still = _core.studies.make_search(_core.model.held_on_track(model, middle), None, 0.0, step, run.turn_step)
    root = still.arm_root(middle)
    step = max(step, still.reach / _most_steps)
    distance = np.float64(step) * np.arange(int(still.reach / step) + 1)
    height = np.float64(step) * np.arange(
        int(np.floor((root[2] - still.reach) / step)), int(np.ceil((root[2] + still.reach) / step)) + 1
    )
    turn = _heading(model, middle, root) + 2 * np.pi * np.arange(_azimuths) / _azimuths
    h, d, t = np.meshgrid(height, distance, turn, indexing="ij")
    return still, distance, height, np.stack([root[0] + d * np.cos(t), root[1] + d * np.sin(t), h], axis=-1)


def middle_of_track(model: _core.model.Model) -> float:
    """Mid-stroke, m; 0 without a track."""
    return 0.5 * (model.lower[0] + model.upper[0]) if model.has_track else 0.0


def best_azimuth(masses: run.Floats, positions: run.Floats) -> run.Floats:
    """The greatest over the azimuths of ``curve_positions``, (h, d)."""
    with np.errstate(all="ignore"):
        best: run.Floats = np.fmax.reduce(masses.reshape(positions.shape[:-1]), axis=-1)
    return best
