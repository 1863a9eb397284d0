"""What every axis has to hold at worst, whether its brake does, and what happens until it bites."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import xarray as xr
from numpy.typing import NDArray

from armwright import _core
from armwright.results import make_dataset
from armwright.studies import pieces, run
from armwright.studies.stop import words_of
from armwright.studies.stop_pieces import Load, load_of, stops_in_pieces
from armwright.studies.subject import Subject

gap = 0.005
most_boxes = 400_000
_nothing = 1e-9  # N m; less is rounding


def holding(
    subject: Subject,
    load: _core.model.Inertia,
    *,
    time_limit: float,
    how: pieces.How,
    inputs_digest: str,
    arm_name: str,
    labels: dict[str, Any],
) -> xr.Dataset:
    """See Cell.holding."""
    model = subject.model
    n = model.joint_count
    options = {"category": 0, "deceleration": np.zeros(n), "reaction": 0.0, "time_limit": time_limit}
    with how.opened("holding", inputs_digest, {"load": load_of(load), "time_limit": time_limit}) as work:
        with run.reported(how.progress, "worst holding torques", 0, 1) as report:
            worst = work.run("worst", _prepare, (subject, load_of(load)), np.arange(n), report)
        bound, found, postures = worst["bound"], worst["found"], worst["q"]
        batch = stops_in_pieces(work, "drops", subject, load, (postures, np.zeros((n, n)), np.ones(n)), options, None)
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
        "springs_counted": worst["springs_counted"],
        "brake_torque": by_ratio,
        "brake_torque_driven_back": driven_back,
        "factor": factor,
        "holds": np.where(np.isnan(by_ratio), bound <= _nothing, by_ratio >= bound),
    }
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


def _prepare(subject: Subject, load: Load) -> pieces.Compute:
    model, carried = subject.model, _core.model.Inertia(*load)

    def compute(axes: NDArray[np.int64], threads: int, report: run.Report | None) -> run.Arrays:
        complete, worst = _core.stops.worst_holding(model, carried, axes.tolist(), gap, most_boxes, threads, report)
        run.finished(complete)
        found = {name: np.array([getattr(axis, name) for axis in worst]) for name in ("bound", "found")}
        found["springs_counted"] = np.array([axis.springs_counted for axis in worst])
        return found | {"q": np.array([axis.q[: model.joint_count] for axis in worst])}

    return compute
