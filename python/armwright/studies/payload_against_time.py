"""What a cycle could carry if it were run slower or faster."""

from __future__ import annotations

from typing import Any

import numpy as np
import xarray as xr

from armwright import _core
from armwright.errors import InputError
from armwright.results import make_dataset
from armwright.studies import run
from armwright.studies.drive_check import limit_words, most_factor, stage_names

_faster, _slower = np.geomspace(0.5, 1.0, 21), np.geomspace(1.0, 4.0, 25)[1:]
usual = (*np.round(np.concatenate([_faster, _slower]), 6).tolist(), np.inf)


def slowing_of(values: Any) -> run.Floats:
    """Factors of time in rising order; infinite is allowed."""
    try:
        array = np.asarray(values, dtype=np.float64)
    except (TypeError, ValueError):
        raise InputError.of("slowing", repr(values), "factors above 0 in rising order") from None
    with np.errstate(invalid="ignore"):
        rising = array.ndim == 1 and array.size > 0 and bool(np.all(array > 0)) and bool(np.all(np.diff(array) > 0))
    if not rising or array[0] < 1e-3 or array.size > 10_000:
        raise InputError.of("slowing", repr(values), "factors from 0.001 in rising order, 10,000 at most")
    return array


def payload_against_time(
    model: _core.model.Model,
    motion: _core.motion.TimedMotion,
    loads: list[_core.model.Inertia],
    *,
    slowing: Any,
    step: float,
    load_mass: float,
    load_centre: list[float],
    threads: int | None,
    progress: run.Progress,
    inputs_digest: str,
    arm_name: str,
    labels: dict[str, Any],
) -> xr.Dataset:
    """See Cell.payload_against_time. ``load_mass`` and ``load_centre`` are the heaviest load's."""
    factors = slowing_of(slowing)
    scaled = _core.limits.scaled_torques(model, loads, motion, step)
    with run.reported(progress, "payload against time") as report:
        complete, points = _core.limits.payload_against_slowing(
            model, scaled, factors.tolist(), most_factor, run.threads_of(threads), report
        )
    run.finished(complete)
    names, stages = tuple(model.joint_names), stage_names(model)
    least = [point[3] for point in points]
    parts = [limit_words(names, stages, *v[1:4])[0] if v[1] >= 0 else "" for v in least]
    return make_dataset(
        "payload_against_time",
        {
            "duration": np.array([point[0] for point in points]),
            "mass": load_mass * np.array([v[0] for v in least]),
            "mass_peak": load_mass * np.array([point[1] for point in points]),
            "mass_continuous": load_mass * np.array([point[2] for point in points]),
            "limiting_joint": np.array([v[1] for v in least], np.int64),
            "limiting_part": np.array(parts, np.str_),
            "limiting_limit": np.array([v[3] if v[1] >= 0 else -1 for v in least], np.int64),
            "limiting_time": np.array([v[4] for v in least]),
        },
        {"slowing": factors, "joint_names": np.array(names)},
        {"step": step, "load_mass": load_mass, "load_centre": load_centre} | labels,
        inputs_digest,
        arm_name,
    )
