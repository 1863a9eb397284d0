"""A cycle, timed: joints and tool over time, what holds the motion back, and the clearance all along."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

import numpy as np
import xarray as xr

from armwright import _core
from armwright.errors import InputError
from armwright.results import make_dataset
from armwright.studies import run

LIMITS = tuple(_core.motion.MotionLimit.__members__)


def plan(
    model: _core.model.Model,
    inverse: _core.kinematics.ArmInverse,
    spec: _core.motion.CycleSpec,
    source: Sequence[int],
) -> _core.motion.CyclePlan:
    """The core's plan; a cycle that a limit forbids ends in InputError with move, axis, limit and by how much."""
    planned = _core.motion.plan_cycle(model, spec, inverse)
    refusal = planned.refusal
    if refusal.problem != _core.motion.PlanProblem.none:
        place = f"moves[{source[refusal.move]}]" if 0 <= refusal.move < len(source) else "period"
        name = spec.moves[refusal.move].name if refusal.move >= 0 else "the cycle"
        value, expected = why(model, refusal)
        raise InputError.of(place, f"{name}: {value}", expected)
    return planned


def why(model: _core.model.Model, refusal: _core.motion.PlanRefusal) -> tuple[str, str]:
    """In words, what is wrong with a move and by how much, and what would do."""
    names = model.joint_names
    axis = names[refusal.axis] if 0 <= refusal.axis < len(names) else "the tool"
    slides = 0 <= refusal.axis < len(names) and model.joint_kinds[refusal.axis] == _core.model.JointKind.prismatic
    by = f"{1000 * refusal.value:.4g} mm" if slides else f"{math.degrees(refusal.value):.4g}°"
    at, limit = f"at {100 * refusal.share:.0f} % of the way", refusal.limit.name.replace("_", " ")
    over = f"{limit} of {axis} {100 * (refusal.value - 1):.3g} % over its limit {at}"
    told = {
        "joint_range": (f"{axis} past its limit by {by} {at}", "a way within the joints' ranges"),
        "out_of_reach": (f"the tool cannot come further {at}", "a way that the tool can follow"),
        "singular": (f"too near a singular posture {at}", "a way clear of singular postures, or a joint move"),
        "branch_lost": (f"the posture would have to jump {at}", "a way that one posture follows, or a joint move"),
        "no_circle": ("its three points tell no circle", "three points apart and not in line"),
        "cannot_stand": (f"the arm cannot hold itself {at}: {over}", "a lighter load, or a drive that holds it"),
        "cannot_move": (f"the arm cannot move on {at}: {over}", "a lighter load, or a stronger drive"),
        "too_much": (over, "lower speed and acceleration, or timing time-optimal"),
        "no_limit": (unlimited(model), "one for each joint, or timing time-optimal"),
        "mixed_timing": ("timed otherwise than the move it goes over into", "one timing for moves that blend"),
        "duration": (f"{refusal.allowed:.4g} s asked, takes {refusal.value:.4g} s, held back by {limit} of {axis}",
                     f"at least {refusal.value:.4g} s"),
        "period": (f"takes {refusal.value:.4g} s, {refusal.value - refusal.allowed:.3g} s more than its period",
                   f"a period of at least {refusal.value:.4g} s"),
        "not_closed": (f"{axis} ends {by} off where the cycle begins", "a cycle that ends where it begins"),
    }  # fmt: skip
    return told[refusal.problem.name]


def unlimited(model: _core.model.Model) -> str:
    """In words, which joints have no acceleration limit, or else no jerk limit."""
    for what, values in (("acceleration", model.acceleration), ("jerk", model.jerk)):
        names = [name for name, value in zip(model.joint_names, values, strict=True) if not math.isfinite(value)]
        if names:
            return f"no {what} limit of {', '.join(names)} is given"
    return "no limit of its motion is given"


def motion(
    planned: _core.motion.CyclePlan,
    model: _core.model.Model,
    scenes: Sequence[_core.clearance.Scene] | None,
    tolerance: float,
    *,
    move_names: Sequence[str],
    load_names: Sequence[str],
    tilts: Sequence[float],
    inputs_digest: str,
    arm_name: str,
    labels: dict[str, Any],
) -> xr.Dataset:
    """See Cell.motion. ``scenes``: the solids with each load, the last one with none. ``tolerance``: of the
    proven clearance, m."""
    timed = planned.motion
    q = np.ascontiguousarray(timed.q)
    jacobian = _core.kinematics.jacobians(model, q)
    poses = _core.kinematics.tool_poses(model, q)
    twist = np.einsum("rij,rj->ri", jacobian, timed.speed)
    variables: dict[str, Any] = {
        "time": timed.time, "q": q, "speed": timed.speed, "acceleration": timed.acceleration,
        "tool_position": poses[:, :3, 3], "tool_axis": poses[:, :3, 2],
        "tool_speed": np.linalg.norm(twist[:, :3], axis=1), "tool_turn_speed": np.linalg.norm(twist[:, 3:], axis=1),
        "move_index": timed.move, "load_index": timed.load, "limit": timed.limit, "limit_axis": timed.limit_axis,
        "move_start": np.array(planned.move_start), "move_end": np.array(planned.move_end),
        "move_tilt": np.array(tilts),
    }  # fmt: skip
    if scenes is not None:
        variables |= clearances(model, scenes, timed, len(move_names), tolerance)
    return make_dataset(
        "motion",
        variables,
        {
            "joint": np.array(model.joint_names),
            "joint_unit": run.joint_units(model),
            "move": np.array(move_names),
            "load_name": np.array(load_names, dtype=np.str_),
        },
        {"duration": float(timed.time[-1]) if len(timed.time) else 0.0} | labels,
        inputs_digest,
        arm_name,
    )


def clearances(
    model: _core.model.Model,
    scenes: Sequence[_core.clearance.Scene],
    timed: _core.motion.TimedMotion,
    moves: int,
    tolerance: float,
) -> dict[str, Any]:
    """The least clearance of each move, proven between the rows as well, and whether each keeps what its fixtures ask
    for."""
    distance, least, proven, when, between, kept = _core.studies.motion_clearance(
        model, list(scenes), timed, moves, tolerance, 0, None
    )
    names = np.array(between, dtype=np.str_).reshape(moves, 2)
    return {
        "clearance": distance, "move_clearance": least, "move_clearance_proven": proven, "move_clearance_time": when,
        "move_clearance_kept": kept.astype(bool),
        "move_clearance_name_a": names[:, 0], "move_clearance_name_b": names[:, 1],
    }  # fmt: skip
