"""Boundary curves of the reachable region, in vertical section and in plan, as ISO 9946 shows the working space."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import xarray as xr

from armwright import _core
from armwright.results import make_dataset
from armwright.studies import run


def outlines(
    model: _core.model.Model,
    drawn_by: _core.model.Model,
    *,
    spacing: float | None,
    directions: int = 60,
    threads: int | None = None,
    progress: run.Progress = None,
    inputs_digest: str,
    arm_name: str,
    labels: dict[str, Any],
) -> xr.Dataset:
    """See Cell.outlines. ``drawn_by``: the model, or for a tool of fewer than six freedoms one that turns it freely."""
    directions = run.whole("directions", directions, 1, 10_000)
    run.check_combinations(model, math.inf)
    count = run.threads_of(threads)
    arm_joints = model.joint_count - model.has_track
    drawn: dict[str, run.Floats] = {}
    points = [("", drawn_by)]
    if arm_joints == 6 and drawn_by is model:
        points.append(("wrist_", _core.studies.at_wrist_centre(model)))
    for part, (prefix, drawn_model) in enumerate(points):
        search = _core.studies.make_search(drawn_model, None, 0.0, 0.1, run.turn_step)
        step = search.reach / 40 if spacing is None else spacing
        stroke = model.upper[0] - model.lower[0] if model.has_track else 0.0
        run.check_coarse(step, search.reach)
        along = (2 * search.reach + stroke) / step + 1
        run.check_positions(step, along * along)
        run.track_step_of(model, step)
        turn = run.turn_step if drawn_by is model else 2 * run.turn_step
        search = _core.studies.make_search(drawn_model, None, 0.0, step, turn)
        with run.reported(progress, "outlines", part, len(points)) as report:
            tried = directions if drawn_by is model else 0
            section, plan, complete = _core.studies.outlines(search, step, tried, 1, count, report)
        run.finished(complete)
        drawn |= {prefix + "section": section, prefix + "plan": plan}
        if prefix == "":
            used = step
    return make_dataset(
        "outlines",
        drawn | {"joint_lower": np.array(model.lower), "joint_upper": np.array(model.upper)},
        {"joint": np.array(model.joint_names), "joint_unit": run.joint_units(model)},
        {"spacing": used} | labels,
        inputs_digest,
        arm_name,
    )
