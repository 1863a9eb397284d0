"""What a cycle asks of every motor and stage, which gives out first, and how much faster or heavier it could go."""

from __future__ import annotations

from typing import Any

import numpy as np
import xarray as xr
from numpy.typing import NDArray

from armwright import _core
from armwright.results import make_dataset
from armwright.results.drive_variables import CHECK_LIMITS
from armwright.studies import run

Words = NDArray[np.str_]

most_factor = 1e6  # beyond, nothing limits it
_stages = 4


def limit_words(names: tuple[str, ...], stages: Words, joint: int, part: int, limit: int) -> tuple[str, str]:
    """The part's name, and a name of the limit as a person says it."""
    kind = CHECK_LIMITS[limit]
    if kind.startswith("joint_"):
        return "joint", f"{names[joint]}: {kind.replace('_', ' ')}"
    named = "motor" if part == -1 else "stated" if part < 0 else str(stages[joint, part])
    what = kind.removeprefix("motor_").removeprefix("stage_").removeprefix("stated_").replace("_", " ")
    return named, f"{names[joint]}: {named}: {what}"


def stage_names(model: _core.model.Model) -> Words:
    """Names of all stages, (joints, stages); "" where there is none."""
    names = np.full((model.joint_count, _stages), "", dtype=object)
    for k, part in enumerate(_core.motion.drive_parts(model)):
        names[k, : len(part["stages"])] = part["stages"]
    return names.astype(np.str_)


def course(driven: _core.limits.DrivenMotion) -> dict[str, Any]:
    """Time, move and what each joint and motor does."""
    joints = {"q": "q", "qd": "speed", "joint_torque": "joint_torque", "motor_torque": "motor_torque",
              "motor_speed": "motor_speed"}  # fmt: skip
    return {"time": driven.time, "move": driven.move, "load": driven.load} | {
        name: driven.of_joints(what) for name, what in joints.items()
    }


def drive_check(
    model: _core.model.Model,
    motion: _core.motion.TimedMotion,
    loads: list[_core.model.Inertia],
    *,
    step: float,
    repeated: bool,
    factors: bool = True,
    inputs_digest: str,
    arm_name: str,
    labels: dict[str, Any],
) -> xr.Dataset:
    """See Cell.drive_check."""
    driven = _core.limits.driven_motion(model, loads, motion, step)
    motors, stages, shares, weakest = _core.limits.drive_check(model, loads, driven, repeated)
    names, stage_name = tuple(model.joint_names), stage_names(model)
    parts = _core.motion.drive_parts(model)
    known = [limit_words(names, stage_name, int(s[1]), int(s[2]), int(s[3])) for s in shares]
    words = [word for _, word in known]
    figures = {
        "share": np.array([s[0] for s in shares]),
        "share_joint": np.array([s[1] for s in shares], np.int64),
        "share_part": np.array([part for part, _ in known], np.str_),
        "share_limit": np.array([s[3] for s in shares], np.int64),
        "share_time": np.array([s[4] for s in shares]),
        "has_drive": np.array([part["present"] for part in parts]),
        "duty_type": motors.pop("duty_type").astype(np.int64) - 1,
        **{f"motor_{k}": v for k, v in motors.items() if not k.startswith(("inertia", "duration"))},
        **{k: v for k, v in motors.items() if k.startswith(("inertia", "duration"))},
        **{f"stage_{k}": v for k, v in stages.items()},
        **course(driven),
        "motor_torque_limit": driven.motor_peak_torque,
        "stage_torque": np.where(stage_name == "", np.nan, driven.of_stages("torque")),
        **_curves(parts),
    }
    attrs: dict[str, Any] = {
        "duration": float(driven.time[-1] - driven.time[0]), "step": step, "repeated": int(repeated),
        "weakest": words[weakest] if weakest >= 0 else "nothing is limited",
    }  # fmt: skip
    if weakest >= 0 and np.isfinite(shares[weakest][0]):
        attrs["weakest_share"] = float(shares[weakest][0])
    attrs |= _factors(model, motion, loads, step, names, stage_name) if factors else _no_factors()
    return make_dataset(
        "drive_check",
        figures,
        {"joint": np.array(names), "joint_unit": run.joint_units(model), "stage_name": stage_name,
         "stage": np.arange(_stages), "check": np.array(words, np.str_)},
        attrs | labels,
        inputs_digest,
        arm_name,
    )  # fmt: skip


def _no_factors() -> dict[str, Any]:
    return {"speed_limit": "not asked for", "load_limit": "not asked for"}


def _factors(model: Any, motion: Any, loads: Any, step: float, names: Any, stages: Any) -> dict[str, Any]:
    """How much faster, and how much heavier."""
    scaled = _core.limits.scaled_torques(model, loads, motion, step)
    faster = _core.limits.greatest_speed_factor(model, scaled, most_factor)
    out: dict[str, Any] = {"speed_limit": "nothing limits it"}
    if faster[1] >= 0:
        out = {"speed_factor": float(faster[0]), "speed_limit": limit_words(names, stages, *faster[1:4])[1]}
    masses = [load.mass for i, load in enumerate(loads) if np.any(np.asarray(motion.load) == i)]
    if not masses or max(masses) <= 0:
        return out | {"load_limit": "nothing is carried"}
    heavier = _core.limits.greatest_load(scaled, 1.0, most_factor)
    out["load_mass"] = float(max(masses))
    if heavier[1] < 0:
        return out | {"load_limit": "nothing limits it"}
    return out | {
        "load_factor": float(heavier[0]),
        "greatest_load_mass": float(heavier[0]) * out["load_mass"],
        "load_limit": limit_words(names, stages, *heavier[1:4])[1],
    }


def _curves(parts: list[Any]) -> dict[str, run.Floats]:
    """Motor curves at the speeds of both, (joints, points), NaN after the end."""
    speeds = [
        np.union1d(part["continuous"][0], part["peak"][0]) if part["present"] else np.zeros(0) for part in parts
    ]
    count = max((len(s) for s in speeds), default=0)
    out = {name: np.full((len(parts), count), np.nan) for name in ("speed", "continuous", "peak")}
    for k, (part, speed) in enumerate(zip(parts, speeds, strict=True)):
        if not part["present"]:
            continue
        out["speed"][k, : len(speed)] = speed
        for name in ("continuous", "peak"):
            speeds_of, torques = part[name]
            out[name][k, : len(speed)] = [_core.elements.curve_value(speeds_of, torques, at) for at in speed]
    return {f"curve_{name}": values for name, values in out.items()}
