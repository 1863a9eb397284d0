"""Where the tool can be, in how many of its attitudes, and how well."""

from __future__ import annotations

from typing import Any

import numpy as np
import xarray as xr

from armwright import _core
from armwright.results import make_dataset
from armwright.studies import defaults, run


def reach_map(
    model: _core.model.Model,
    scene: _core.clearance.Scene | None,
    spacing: float,
    *,
    bounds: tuple[run.Floats, run.Floats] | None,
    directions: int | run.Floats = defaults.directions,
    spins: int = defaults.spins,
    margin: float,
    track_step: float | None,
    dexterous_share: float = 1.0,
    loose: _core.model.Model | None = None,
    threads: int | None = None,
    progress: run.Progress = None,
    inputs_digest: str,
    arm_name: str,
    labels: dict[str, Any],
) -> xr.Dataset:
    """See Cell.reach_map. ``loose``: for a tool of fewer than six freedoms, the model that is asked for positions
    alone."""
    spins = run.whole("spins", spins, 1, 10_000)
    share = run.share_of("dexterous_share", dexterous_share)
    along = run.track_step_of(model, spacing if track_step is None else track_step)
    search = _core.studies.make_search(model, scene, margin, along, run.turn_step)
    axes = run.axes_of(*run.box_of(bounds, spacing, search, model), spacing)
    shape = tuple(len(axis) for axis in axes)
    grid = _core.studies.Grid(np.array([axis[0] for axis in axes]), spacing, shape)
    attitudes = run.attitudes_for("any", directions, spins)
    count = run.threads_of(threads)
    with run.reported(progress, "reach map", 0, 1 if loose is None else 2) as report:
        swept = _core.studies.reach_map(search, grid, attitudes, count, report)
    run.finished(swept.complete)
    index = swept.attitudes_reached / len(attitudes)
    where = swept
    if loose is not None:
        search = _core.studies.make_search(loose, scene, margin, along, run.turn_step)
        with run.reported(progress, "reach map, positions alone", 1, 2) as report:
            where = _core.studies.reach_map(search, grid, run.some_attitude(), count, report)
        run.finished(where.complete)
    reachable = (where.attitudes_reached > 0) | (index > 0)
    volume, error = _core.studies.counted_volume(grid, reachable)
    dexterous, dexterous_error = _core.studies.counted_volume(grid, index >= share)
    names = ["limit_margin"] + (["manipulability"] if loose is None else [])
    names += ["clearance"] if scene is not None else []
    names += ["track_lower", "track_upper"] if search.samples_track else []
    variables = {"reach_index": index, "reachable": reachable} | {name: getattr(where, name) for name in names}
    tried = {"directions": len(attitudes) // spins, "spins": spins, "margin": margin, "track_step": along}
    volumes = {"reachable_volume": volume, "reachable_volume_error": error, "dexterous_volume": dexterous}
    volumes |= {"dexterous_volume_error": dexterous_error, "dexterous_share": share}
    return make_dataset(
        "reach_map",
        {name: values.reshape(shape) for name, values in variables.items()},
        dict(zip("xyz", axes, strict=True)),
        {"spacing": spacing} | tried | volumes | labels,
        inputs_digest,
        arm_name,
    )
