"""What every axis has to hold at worst, whether its brake does, and what happens until it bites."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import xarray as xr

from armwright import _core
from armwright.results import make_dataset
from armwright.studies import run
from armwright.studies.stop import followed, options_of, words_of

gap = 0.005
most_boxes = 400_000
_nothing = 1e-9  # N m; less is rounding


def holding(
    model: _core.model.Model,
    load: _core.model.Inertia,
    *,
    time_limit: float,
    threads: int | None = None,
    progress: run.Progress = None,
    inputs_digest: str,
    arm_name: str,
    labels: dict[str, Any],
) -> xr.Dataset:
    """See Cell.holding."""
    n = model.joint_count
    with run.reported(progress, "worst holding torques", 0, 1) as report:
        complete, worst = _core.stops.worst_holding(model, load, gap, most_boxes, run.threads_of(threads), report)
    run.finished(complete)
    bound, found = (np.array([getattr(axis, name) for axis in worst]) for name in ("bound", "found"))
    postures = np.array([axis.q[:n] for axis in worst])
    brakes = [_core.stops.brake_hold(model, axis) for axis in range(n)]
    by_ratio, driven_back = np.array([(math.nan, math.nan) if hold is None else hold for hold in brakes]).T
    with np.errstate(divide="ignore", invalid="ignore"):
        factor = np.where(np.isnan(by_ratio), np.nan, np.where(bound > _nothing, by_ratio / bound, np.inf))
        over = np.where(found > _nothing, bound / found - 1, np.where(bound > _nothing, np.inf, 0.0))
    variables: dict[str, Any] = {
        "torque_bound": bound,
        "torque_found": found,
        "gap": np.maximum(over, 0.0),
        "worst_posture": postures,
        "springs_counted": np.array([axis.springs_counted for axis in worst]),
        "brake_torque": by_ratio,
        "brake_torque_driven_back": driven_back,
        "factor": factor,
        "holds": np.where(np.isnan(by_ratio), bound <= _nothing, by_ratio >= bound),
    }
    options = options_of(model, 0, deceleration=np.zeros(n), reaction=0.0, time_limit=time_limit)
    batch = followed(model, [load] * n, postures, np.zeros((n, n)), options, threads, None, "drops")
    own = np.arange(n)
    variables |= {
        "drop": batch.tool_drop,
        "drop_time": batch.time,
        "drop_end": words_of(batch),
        "fall_speed": batch.top_speed[own, own],
        "fall_impact_speed": batch.impact_speed[own, own],
    }
    names = np.array(model.joint_names)
    coords = {"joint": names, "joint_unit": run.joint_units(model), "posture_joint": names}
    return make_dataset(
        "holding", variables, coords, {"asked_gap": gap, "load_mass": load.mass} | labels, inputs_digest, arm_name
    )
