"""How much the arm moves as asked at each position, and which part gives out first, beside what it holds at rest."""

from __future__ import annotations

from typing import Any

import numpy as np
import xarray as xr
from numpy.typing import NDArray

from armwright import _core
from armwright.results import make_dataset
from armwright.studies import defaults, moving, pieces, run
from armwright.studies.payload_map import (
    Among,
    asks_positions_alone,
    best_azimuth,
    curve_directions,
    curve_positions,
    inverse_of,
    limit_of,
    middle_of_track,
)
from armwright.studies.subject import Subject

_answers = ("mass", "joint", "part", "limit", "demand")


def payload_at_speed(
    subject: Subject,
    spacing: float,
    motion: moving.Motion,
    *,
    fixtures: bool,
    attitude: run.Attitude = "any",
    centre: run.Floats,
    limit: str = "peak",
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
    """See Cell.payload_at_speed. A tool of fewer than six freedoms is asked as for ``payload_map``; what is loaded is
    the model as it is in any case."""
    model = subject.model
    free = asks_positions_alone(subject, attitude, directions, centre)
    inverse = inverse_of(subject, free)
    asked = inverse.model
    if directions is None:
        directions = defaults.directions if attitude == "any" else defaults.level_directions
    spins = run.whole("spins", spins, 1, 10_000)
    limit_of(model, limit)
    setup = moving.prepare(model, centre, motion)
    along = run.track_step_of(inverse, spacing if track_step is None else track_step)
    attitudes = run.some_attitude() if free else run.attitudes_for(attitude, directions, spins)
    finer = attitudes if free else curve_directions(attitude, directions, spins)
    among, still = Among(free, bool(fixtures), margin, along), Among(free, False, 0.0, spacing, True)
    axes = run.axes_of(*run.box_of(bounds, spacing, asked), spacing)
    distance, height, at = curve_positions(asked, spacing)
    terms = {"load_centre": centre.tolist(), "gyration": list(motion.gyration), "attitude": attitude, "limit": limit}
    terms |= motion.terms | {"spacing": spacing, "margin": margin}
    request = run.grid_terms(axes, spacing) | terms | {"among": among, "attitudes": attitudes, "finer": finer}
    with how.opened("payload_at_speed", inputs_digest, request) as work:
        with run.reported(how.progress, "payload at speed", 0, 2) as report:
            given = (subject, among, attitudes, centre, motion, limit)
            swept = work.run("map", _prepare, given, run.positions_of(axes), report)
        with run.reported(how.progress, "payload against reach", 1, 2) as report:
            given = (subject, still, finer, centre, motion, limit)
            curves = work.run("curve", _prepare, given, at.reshape(-1, 3), report)
    names, grid = _grid(model, setup, swept, limit)
    shape = tuple(len(axis) for axis in axes)
    tried = {"directions": max(len(attitudes) // spins, 1), "spins": spins, "track_step": along}
    coords = {"joint_names": np.array(model.joint_names), "part_names": names}
    coords |= {"distance": distance, "height": height}
    return make_dataset(
        "payload_at_speed",
        {name: values.reshape(shape) for name, values in grid.items()} | _curves(curves, at),
        coords | dict(zip("xyz", axes, strict=True)),
        terms | tried | labels,
        inputs_digest,
        arm_name,
    )


def _prepare(
    subject: Subject, among: Among, attitudes: run.Floats, centre: run.Floats, motion: moving.Motion, limit: str
) -> pieces.Compute:
    search, which, model = among.search(subject), run.core_limit(limit), subject.model
    loaded = _core.model.held_on_track(model, middle_of_track(model)) if among.held else model
    setup = moving.prepare(loaded, centre, motion)

    def compute(positions: run.Floats, threads: int, report: run.Report | None) -> run.Arrays:
        swept = _core.studies.speed_payload_map(search, setup, positions, attitudes, which, threads, report)
        run.finished(swept.complete)
        found: run.Arrays = {
            name: getattr(swept, name) for name in ("rest_greatest", "rest_least", "rest_joint", "rest_joint_least")
        }
        for end in ("greatest", "least"):
            answers: tuple[Any, ...] = getattr(swept, end)
            found |= {f"{end}_{name}": values for name, values in zip(_answers, answers, strict=False)}
        return found

    return compute


def _curves(swept: run.Arrays, at: run.Floats) -> dict[str, run.Floats]:
    """The curves over height and distance."""
    curves = {
        "rest_curve_mass": best_azimuth(swept["rest_greatest"], at),
        "curve_mass": best_azimuth(swept["greatest_mass"], at),
    }
    with np.errstate(all="ignore"):
        return curves | {f"{name}_any_height": np.fmax.reduce(mass, axis=0) for name, mass in curves.items()}


def _grid(
    model: _core.model.Model, setup: _core.limits.MovingSetup, swept: run.Arrays, limit: str
) -> tuple[NDArray[np.str_], dict[str, NDArray[Any]]]:
    """Names of the parts, and the variables over the grid, flat."""
    names, place_of = moving.name_parts(setup)
    own, own_place = run.parts_of(model, limit)
    rest_place = np.array([names.index(own[place]) if place >= 0 else -1 for place in own_place])
    grid: dict[str, NDArray[Any]] = {
        "rest_mass_greatest": swept["rest_greatest"],
        "rest_mass_least": swept["rest_least"],
        "rest_joint": swept["rest_joint"],
        "rest_joint_least": swept["rest_joint_least"],
        "rest_part": rest_place[swept["rest_joint"]],
    }
    for ending, end in (("", "greatest"), ("_least", "least")):
        mass, joint, part, limited, demand = (swept[f"{end}_{name}"] for name in _answers)
        none = np.isnan(mass) | np.isposinf(mass)
        grid["mass_greatest" if not ending else "mass_least"] = mass
        grid[f"limiting_joint{ending}"] = joint
        grid[f"limiting_part{ending}"] = place_of(joint, part)
        grid[f"limiting_limit{ending}"] = np.where(none, -1, limited)
        grid[f"limiting_demand{ending}"] = np.where(none, -1, demand)
    return np.array(names, dtype=np.str_), grid
