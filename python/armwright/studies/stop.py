"""The motion after a stop is asked for."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

import numpy as np
import xarray as xr

from armwright import _core
from armwright.errors import InputError
from armwright.results import make_dataset
from armwright.studies import pieces, run
from armwright.studies.subject import Subject

most_rows = 2_000_000  # over time, of one stop
most_stages = 4

end_words = {
    _core.stops.StopEnd.rest: "rest",
    _core.stops.StopEnd.still_moving: "still moving",
    _core.stops.StopEnd.joint_end: "end of range",
    _core.stops.StopEnd.gave_up: "given up",
}


def options_of(
    model: _core.model.Model,
    category: Any,
    *,
    deceleration: run.Floats | None,
    reaction: float,
    time_limit: float,
    row_step: float = 0.0,
    hold_after: float = 0.0,
) -> _core.stops.StopOptions:
    """How a stop goes. ``deceleration``: of each axis under control, or None: the joints' acceleration limits, and all
    that the motor gives where there is none. ``hold_after`` counts in category 1."""
    if isinstance(category, bool) or category not in (0, 1):
        raise InputError.of(
            "category", repr(category), "0 (power off at once) or 1 (controlled, then off); category 2 keeps the power"
        )
    options = _core.stops.StopOptions()
    kinds = _core.stops.StopCategory
    options.category = kinds.controlled if category == 1 else kinds.power_off
    options.reaction, options.time_limit, options.row_step = reaction, time_limit, row_step
    options.hold = hold_after
    greatest = np.array(model.acceleration) if deceleration is None else deceleration
    options.deceleration = [float(value) for value in greatest]
    if category == 1:
        refuse_motors_that_are_not_told(model, greatest)
    return options


def refuse_motors_that_are_not_told(model: _core.model.Model, greatest: run.Floats) -> None:
    """A controlled stop needs to know how each axis brakes."""
    for name, torque, most in zip(model.joint_names, model.torque_peak, greatest, strict=True):
        if math.isinf(torque) and math.isinf(most):
            raise InputError.of(
                "deceleration", f"none for {name}, whose torque is not limited either", "a deceleration, or a motor"
            )


def followed(
    model: _core.model.Model,
    loads: Sequence[_core.model.Inertia],
    q: run.Floats,
    speed: run.Floats,
    options: _core.stops.StopOptions,
    threads: int | None,
    progress: run.Progress,
    words: str,
) -> _core.stops.StopBatch:
    """Many stops, refused where an axis without inertia is let go."""
    with run.reported(progress, words) as report:
        batch = _core.stops.stops(model, list(loads), q, speed, options, run.threads_of(threads), report)
    run.finished(batch.complete)
    for end, joint in zip(batch.end, batch.joint, strict=True):
        if end == _core.stops.StopEnd.no_inertia:
            raise InputError.of(
                model.joint_names[joint], "no mass that it moves", "a link, tool, load or rotor with inertia about it"
            )
    return batch


def words_of(batch: Any) -> run.Floats:
    """How each stop ends, in words."""
    return np.array([end_words[end] for end in batch.end])


def energy_shares(model: _core.model.Model, energy: run.Floats) -> run.Floats:
    """Energy into each brake over what it bears in a stop; NaN without a brake or a rating."""
    ratings = np.array(_core.stops.brake_energy_ratings(model))
    return np.where(np.isfinite(ratings), energy / ratings, np.nan)


def hold_terms(model: _core.model.Model, hold_after: float) -> dict[str, float]:
    """What a result tells of holding at the end of a controlled stop."""
    delays = np.array(_core.stops.closing_delays(model))
    told = {"greatest_closing_delay": float(np.nanmax(delays))} if np.isfinite(delays).any() else {}
    return {"hold_after": hold_after} | told


def shares_of(torque: run.Floats, peaks: run.Floats) -> run.Floats:
    """Torques of stages over their momentary peaks; NaN where none is told."""
    return np.where(np.isfinite(peaks), torque / peaks, np.nan)


def stage_terms(model: _core.model.Model) -> tuple[dict[str, Any], run.Floats]:
    """Coordinates of the stages of every axis, and the momentary peak of each: NaN where there is no such stage."""
    parts = _core.motion.drive_parts(model)
    names = np.full((model.joint_count, most_stages), "", dtype=object)
    peaks = np.full(names.shape, np.nan)
    for k, part in enumerate(parts):
        count = len(part["stages"])
        names[k, :count] = part["stages"]
        peaks[k, :count] = part["momentary_peaks"] if count else []
    return {"stage": np.arange(most_stages), "stage_name": names.astype(np.str_)}, peaks


def check_within(model: _core.model.Model, q: run.Floats) -> None:
    """A stop begins within the joints' ranges."""
    lower, upper = np.array(model.lower), np.array(model.upper)
    outside = (q < lower - 1e-9) | (q > upper + 1e-9)
    if outside.any():
        row, joint = (int(i) for i in np.argwhere(outside)[0])
        raise InputError.of(
            "q", f"{q[row, joint]:g} for {model.joint_names[joint]}", f"{lower[joint]:g} to {upper[joint]:g}, its range"
        )


def stop(
    subject: Subject,
    load: _core.model.Inertia,
    q: run.Floats,
    speed: run.Floats,
    batch_shape: tuple[int, ...],
    *,
    category: Any,
    deceleration: run.Floats | None,
    reaction: float,
    time_limit: float,
    row_step: float,
    hold_after: float,
    how: pieces.How,
    inputs_digest: str,
    arm_name: str,
    labels: dict[str, Any],
) -> xr.Dataset:
    """See Cell.stop. ``q`` and ``speed``: rows of ``batch_shape``; a single one is told over time as well."""
    from armwright.studies.stop_pieces import load_of, stops_in_pieces

    model = subject.model
    check_within(model, q)
    with_rows = row_step > 0 and not batch_shape
    if with_rows and time_limit > row_step * most_rows:
        raise InputError.of(
            "row_step",
            f"{row_step:g} s, up to {time_limit / row_step:,.0f} rows in {time_limit:g} s",
            f"at most {most_rows:,} rows: at least {time_limit / most_rows:.3g} s, or a shorter time_limit",
        )
    options = {"category": category, "deceleration": deceleration, "reaction": reaction, "time_limit": time_limit}
    options["hold_after"] = hold_after
    options_of(model, **options)
    if hold_after > 0 and int(category) == 0:
        raise InputError.of(
            "hold_after", f"{hold_after:g} s in category 0", "none: there the power goes at once; category 1 holds"
        )
    request = options | {"load": load_of(load), "q": q, "speed": speed}
    with (
        how.opened("stop", inputs_digest, request) as work,
        run.reported(how.progress, "stops") as report,
    ):
        batch = stops_in_pieces(work, "map", subject, load, (q, speed, np.ones(len(q))), options, report)
    of_stages, peaks = stage_terms(model)
    variables = _figures(model, batch, peaks, batch_shape)
    variables |= {
        "start": q.reshape(*batch_shape, q.shape[-1]),
        "start_speed": speed.reshape(*batch_shape, q.shape[-1]),
    }
    coords: dict[str, Any] = {"joint": np.array(model.joint_names), "joint_unit": run.joint_units(model)} | of_stages
    if with_rows:
        told = options_of(model, row_step=row_step, **options)
        alone = followed(model, [load], q, speed, told, 1, None, "stop")  # a single stop, quickly done once more
        time, position, moving, tool = alone.rows(0)
        coords["time"] = time[:, 0]
        variables |= {"position": position, "speed": moving, "tool_position": tool}
    terms = {"category": int(category), "reaction": reaction, "time_limit": time_limit, "load_mass": load.mass}
    terms |= hold_terms(model, hold_after)
    return make_dataset("stop", variables, coords, terms | labels, inputs_digest, arm_name)


def _figures(
    model: _core.model.Model, batch: Any, peaks: run.Floats, batch_shape: tuple[int, ...]
) -> dict[str, Any]:
    """What each stop tells, of each joint and of each stage. ``peaks``: see stage_terms."""
    torque = np.where(np.isnan(peaks), np.nan, batch.stage_torque)
    each = {"stopped_at": batch.q} | {
        name: getattr(batch, name) for name in ("travel", "top_speed", "impact_speed", "impact_time", "brake_energy")
    }
    each["brake_energy_share"] = energy_shares(model, batch.brake_energy)
    stages = {
        "stage_torque": torque,
        "stage_torque_time": batch.stage_torque_time,
        "stage_torque_share": shares_of(torque, peaks),
    }
    one = {
        name: getattr(batch, name) for name in ("power_off", "tool_travel", "tool_path", "tool_drop", "tool_top_speed")
    }
    one |= {"stop_time": batch.time, "end": words_of(batch), "saturated": np.array(batch.saturated, dtype=bool)}
    out: dict[str, Any] = {name: values.reshape(*batch_shape, model.joint_count) for name, values in each.items()}
    out |= {name: values.reshape(batch_shape) for name, values in one.items()}
    out |= {name: values.reshape(*batch_shape, *peaks.shape) for name, values in stages.items()}
    return out | {"stage_momentary_peak": peaks}
