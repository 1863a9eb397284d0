"""How much the arm holds at each position, and which joint gives out first."""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np
import xarray as xr
from numpy.typing import NDArray

from armwright import _core
from armwright.errors import InputError
from armwright.results import make_dataset
from armwright.studies import defaults, pieces, run
from armwright.studies.subject import Subject

_azimuths, _curve_directions = 8, 72
_most_steps = 100  # of the curve, from axis 1 to the end of the reach
_values = ("mass_greatest", "mass_least", "limiting_joint", "limiting_joint_least")


def payload_map(
    subject: Subject,
    spacing: float,
    *,
    fixtures: bool,
    attitude: run.Attitude = "any",
    centre: run.Floats,
    limit: str = "continuous",
    bounds: tuple[run.Floats, run.Floats] | None,
    directions: int | run.Floats | None = None,
    spins: int = defaults.spins,
    margin: float,
    track_step: float | None,
    how: pieces.How,
    inputs_digest: str,
    arm_name: str,
    labels: dict[str, Any],
) -> xr.Dataset:
    """See Cell.payload_map. A tool of fewer than six freedoms is asked for positions alone, which stands for "any"
    attitude; the load centre must then be the tool point."""
    free = asks_positions_alone(subject, attitude, directions, centre)
    inverse = inverse_of(subject, free)
    model = inverse.model
    if directions is None:
        directions = defaults.directions if attitude == "any" else defaults.level_directions
    spins = run.whole("spins", spins, 1, 10_000)
    limit_of(model, limit)
    along = run.track_step_of(inverse, spacing if track_step is None else track_step)
    attitudes = run.some_attitude() if free else run.attitudes_for(attitude, directions, spins)
    finer = attitudes if free else curve_directions(attitude, directions, spins)
    among, still = Among(free, bool(fixtures), margin, along), Among(free, False, 0.0, spacing, True)
    axes = run.axes_of(*run.box_of(bounds, spacing, model), spacing)
    distance, height, at = curve_positions(model, spacing)
    terms = {"load_centre": centre.tolist(), "attitude": attitude, "limit": limit, "spacing": spacing, "margin": margin}
    request = run.grid_terms(axes, spacing) | terms | {"among": among, "attitudes": attitudes, "finer": finer}
    with how.opened("payload_map", inputs_digest, request) as work:
        with run.reported(how.progress, "payload map", 0, 2) as report:
            given = (subject, among, attitudes, centre, limit)
            swept = work.run("map", _prepare, given, run.positions_of(axes), report)
        with run.reported(how.progress, "payload against reach", 1, 2) as report:
            given = (subject, still, finer, centre, limit)
            curves = work.run("curve", _prepare, given, at.reshape(-1, 3), report)
    curve = best_azimuth(curves["mass_greatest"], at)
    parts, grid = _grid(model, swept, limit, tuple(len(axis) for axis in axes))
    with np.errstate(all="ignore"):
        any_height = np.fmax.reduce(curve, axis=0)
    tried = {"directions": max(len(attitudes) // spins, 1), "spins": spins, "track_step": along}
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


def asks_positions_alone(
    subject: Subject, attitude: run.Attitude, directions: int | run.Floats | None, centre: run.Floats
) -> bool:
    """Whether the tool, of fewer than six freedoms, is asked for positions in any attitude."""
    free = subject.loose is not None and attitude == "any" and not isinstance(directions, np.ndarray)
    if free:
        refuse_centre(centre)
    return free


def inverse_of(subject: Subject, free: bool) -> _core.kinematics.ArmInverse:
    """What was prepared for what is asked; ``free``: with a tool that turns freely, if it has one."""
    return subject.loose_inverse if free else subject.inverse


class Among(NamedTuple):
    """What postures are searched among; the model's own joints, or with a track held at mid-stroke."""

    free: bool  # the tool turns freely
    fixtures: bool
    margin: float  # m
    along: float  # m, the step between values of sliding joints
    held: bool = False

    def search(self, subject: Subject) -> _core.studies.PostureSearch:
        inverse = inverse_of(subject, self.free)
        inverse = _core.kinematics.with_track_held(inverse) if self.held else inverse
        solids = subject.solids if self.fixtures else None
        return _core.studies.make_search(inverse, solids, self.margin, self.along, run.turn_step)


def _prepare(
    subject: Subject, among: Among, attitudes: run.Floats, centre: run.Floats, limit: str
) -> pieces.Compute:
    search, which = among.search(subject), run.core_limit(limit)

    def compute(positions: run.Floats, threads: int, report: run.Report | None) -> run.Arrays:
        swept = _core.studies.payload_map(search, positions, attitudes, centre, which, threads, report)
        run.finished(swept.complete)
        return {name: getattr(swept, name) for name in _values}

    return compute


def _grid(
    model: _core.model.Model, swept: run.Arrays, limit: str, shape: tuple[int, ...]
) -> tuple[NDArray[np.str_], dict[str, NDArray[Any]]]:
    """Names of the parts that set limits, and the variables over the grid."""
    grid: dict[str, NDArray[Any]] = {name: swept[name].reshape(shape) for name in _values}
    parts, place_of = run.parts_of(model, limit)
    grid |= {name.replace("joint", "part"): place_of[grid[name]] for name in _values[2:]}
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


def curve_directions(attitude: run.Attitude, directions: int | run.Floats, spins: int) -> run.Floats:
    """Tool attitudes tried for a payload curve: no fewer directions than for the map."""
    finer = directions if isinstance(directions, np.ndarray) else max(directions, _curve_directions)
    return run.attitudes_for(attitude, finer, spins)


def curve_positions(model: _core.model.Model, step: float) -> tuple[run.Floats, run.Floats, run.Floats]:
    """Where a payload curve is asked for: distance (d,), height (h,), and positions (h, d, azimuth, 3).

    ``step`` apart, or a hundredth of the reach if that is more: a fine map of a corner is not to wait for the curve.
    The curve is what the arm's torques allow: fixtures do not count, and a track stands still. Several azimuths are
    tried, from the middle of the range of axis 1 on, since that may leave some out; the best counts.
    """
    middle = middle_of_track(model)
    root, reach = _core.studies.arm_root(model, middle), _core.studies.longest_reach(model)
    step = max(step, reach / _most_steps)
    distance = np.float64(step) * np.arange(int(reach / step) + 1)
    height = np.float64(step) * np.arange(
        int(np.floor((root[2] - reach) / step)), int(np.ceil((root[2] + reach) / step)) + 1
    )
    turn = _heading(model, middle, root) + 2 * np.pi * np.arange(_azimuths) / _azimuths
    h, d, t = np.meshgrid(height, distance, turn, indexing="ij")
    return distance, height, np.stack([root[0] + d * np.cos(t), root[1] + d * np.sin(t), h], axis=-1)


def middle_of_track(model: _core.model.Model) -> float:
    """Mid-stroke, m; 0 without a track."""
    return 0.5 * (model.lower[0] + model.upper[0]) if model.has_track else 0.0


def best_azimuth(masses: run.Floats, positions: run.Floats) -> run.Floats:
    """The greatest over the azimuths of ``curve_positions``, (h, d)."""
    with np.errstate(all="ignore"):
        best: run.Floats = np.fmax.reduce(masses.reshape(positions.shape[:-1]), axis=-1)
    return best
