"""A timed cycle at a fixed rate, as a controller takes it."""

from __future__ import annotations

from typing import Any

import numpy as np
import xarray as xr

from armwright import _core
from armwright.errors import InputError
from armwright.results import make_dataset
from armwright.studies import run
from armwright.studies.drive_check import course

most_setpoints = 20_000_000


def setpoints(
    model: _core.model.Model,
    motion: _core.motion.TimedMotion,
    loads: list[_core.model.Inertia],
    *,
    rate: float,
    inputs_digest: str,
    arm_name: str,
    labels: dict[str, Any],
) -> xr.Dataset:
    """See Cell.setpoints."""
    duration = float(motion.time[-1] - motion.time[0])
    if duration * rate > most_setpoints:
        made = f"{rate:g} 1/s, which makes {duration * rate:,.0f} rows"
        raise InputError.of("rate", made, f"at most {most_setpoints:,}")
    driven, position, fastest = _core.limits.setpoints(model, loads, motion, rate)
    counts = np.array([part.get("encoder_counts", 0.0) or np.nan for part in _core.motion.drive_parts(model)])
    values = course(driven)
    values["time"] = values["time"] - values["time"][0]
    return make_dataset(
        "setpoints",
        values
        | {
            "qdd": driven.of_joints("acceleration"),
            "motor_position": position,
            "motor_counts": np.round(position * counts / (2 * np.pi)),
            "greatest_pulse_rate": fastest * counts / (2 * np.pi),
        },
        {"joint": np.array(model.joint_names), "joint_unit": run.joint_units(model)},
        {"duration": duration, "rate": rate} | labels,
        inputs_digest,
        arm_name,
    )
