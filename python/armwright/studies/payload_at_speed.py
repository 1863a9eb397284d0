"""How much the arm moves as asked at each position, and which part gives out first, beside what it holds at rest."""

from __future__ import annotations

from typing import Any

import numpy as np
import xarray as xr
from numpy.typing import NDArray

from armwright import _core
from armwright.results import make_dataset
from armwright.studies import defaults, moving, run
from armwright.studies.payload_map import (
    best_azimuth,
    curve_directions,
    curve_positions,
    limit_of,
    middle_of_track,
    refuse_centre,
)


def payload_at_speed(
    model: _core.model.Model,
    scene: _core.clearance.Scene | None,
    spacing: float,
    motion: moving.Motion,
    *,
    attitude: run.Attitude = "any",
    centre: run.Floats,
    limit: str = "peak",
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
    """See Cell.payload_at_speed. ``loose``: as for ``payload_map``; what is loaded is ``model`` in any case."""
    asked = model
    if loose is not None and attitude == "any" and not isinstance(directions, np.ndarray):
        refuse_centre(centre)
        asked = loose
    if directions is None:
        directions = defaults.directions if attitude == "any" else defaults.level_directions
    spins = run.whole("spins", spins, 1, 10_000)
    which = limit_of(model, limit)
    setup = moving.prepare(model, centre, motion)
    along = run.track_step_of(asked, spacing if track_step is None else track_step)
    attitudes = run.some_attitude() if asked is loose else run.attitudes_for(attitude, directions, spins)
    search = _core.studies.make_search(asked, scene, margin, along, run.turn_step)
    axes = run.axes_of(*run.box_of(bounds, spacing, search, asked), spacing)
    positions = np.stack(np.meshgrid(*axes, indexing="ij"), axis=-1).reshape(-1, 3)
    count = run.threads_of(threads)
    with run.reported(progress, "payload at speed", 0, 2) as report:
        swept = _core.studies.speed_payload_map(search, setup, positions, attitudes, which, count, report)
    run.finished(swept.complete)
    finer = attitudes if asked is loose else curve_directions(attitude, directions, spins)
    held = moving.prepare(_core.model.held_on_track(model, middle_of_track(model)), centre, motion)
    with run.reported(progress, "payload against reach", 1, 2) as report:
        places, curves = _curves(asked, held, spacing, finer, which, count, report)
    names, grid = _grid(model, setup, swept, limit)
    shape = tuple(len(axis) for axis in axes)
    terms = {"load_centre": centre.tolist(), "gyration": list(motion.gyration), "attitude": attitude, "limit": limit}
    tried = {"directions": max(len(attitudes) // spins, 1), "spins": spins, "track_step": along}
    coords = {"joint_names": np.array(model.joint_names), "part_names": names} | places
    return make_dataset(
        "payload_at_speed",
        {name: values.reshape(shape) for name, values in grid.items()} | curves,
        coords | dict(zip("xyz", axes, strict=True)),
        terms | motion.terms | {"spacing": spacing, "margin": margin} | tried | labels,
        inputs_digest,
        arm_name,
    )


def _curves(
    asked: _core.model.Model,
    held: _core.limits.MovingSetup,
    spacing: float,
    attitudes: run.Floats,
    which: _core.limits.Limit,
    threads: int,
    report: run.Report | None,
) -> tuple[dict[str, run.Floats], dict[str, run.Floats]]:
    """Distances and heights, and the curves over them; ``held``: with the track at mid-stroke."""
    still, distance, height, at = curve_positions(asked, spacing)
    swept = _core.studies.speed_payload_map(still, held, at.reshape(-1, 3), attitudes, which, threads, report)
    run.finished(swept.complete)
    curves = {
        "rest_curve_mass": best_azimuth(swept.rest_greatest, at),
        "curve_mass": best_azimuth(swept.greatest[0], at),
    }
    with np.errstate(all="ignore"):
        curves |= {f"{name}_any_height": np.fmax.reduce(mass, axis=0) for name, mass in curves.items()}
    return {"distance": distance, "height": height}, curves


def _grid(
    model: _core.model.Model, setup: _core.limits.MovingSetup, swept: _core.studies.SpeedPayloadMap, limit: str
) -> tuple[NDArray[np.str_], dict[str, NDArray[Any]]]:
    """Names of the parts, and the variables over the grid, flat."""
    names, place_of = moving.name_parts(setup)
    own, own_place = run.parts_of(model, limit)
    rest_place = np.array([names.index(own[place]) if place >= 0 else -1 for place in own_place])
    grid: dict[str, NDArray[Any]] = {
        "rest_mass_greatest": swept.rest_greatest,
        "rest_mass_least": swept.rest_least,
        "rest_joint": swept.rest_joint,
        "rest_joint_least": swept.rest_joint_least,
        "rest_part": rest_place[swept.rest_joint],
    }
    for ending, answers in (("", swept.greatest), ("_least", swept.least)):
        mass, joint, part, limited, demand, _ = answers
        none = np.isnan(mass) | np.isposinf(mass)
        grid["mass_greatest" if not ending else "mass_least"] = mass
        grid[f"limiting_joint{ending}"] = joint
        grid[f"limiting_part{ending}"] = place_of(joint, part)
        grid[f"limiting_limit{ending}"] = np.where(none, -1, limited)
        grid[f"limiting_demand{ending}"] = np.where(none, -1, demand)
    return np.array(names, dtype=np.str_), grid
