"""Models with speed and acceleration limits, drives and moves, for tests of motion and bench."""

from __future__ import annotations

import math
import tempfile
from pathlib import Path
from typing import Any

import numpy as np

import armwright as aw
from armwright import _core
from cases.chain import Array, Chain

motion = _core.motion


def limited_model(
    chain: Chain,
    speed: Any = math.inf,
    acceleration: Any = math.inf,
    jerk: Any = math.inf,
    torque: Any = math.inf,
    drives: list[Any] | None = None,
    stroke: float = 0.0,
) -> Any:
    """The chain's compiled model with limits of its joints (one number, or one a joint), without the chain's own
    torques. ``stroke``: of a track along x under it, m, with the first joint's limits."""
    with tempfile.TemporaryDirectory() as folder:
        spec = aw.load_arm(chain.write_toml(Path(folder)))._subject.spec
    count = len(spec.arm.joints)
    told = [np.broadcast_to(np.asarray(values, float), count) for values in (speed, acceleration, jerk, torque)]
    arm, joints = spec.arm, spec.arm.joints
    for i, joint in enumerate(joints):
        joint.speed, joint.acceleration, joint.jerk = (float(values[i]) for values in told[:3])
        joint.torque_continuous = joint.torque_peak = float(told[3][i])
        if drives is not None:
            joint.drive = drives[i]
    arm.joints = joints
    spec.arm = arm
    if stroke > 0:
        track = _core.model.TrackSpec()
        track.axis, track.upper = np.array([1.0, 0, 0]), stroke
        track.speed, track.acceleration, track.jerk = (float(values[0]) for values in told[:3])
        spec.track = track
    return _core.model.compile(spec)


def move_to(q: Any, **changes: Any) -> Any:
    """A joint move."""
    move = motion.MoveSpec()
    move.q = [float(x) for x in q]
    for key, value in changes.items():
        setattr(move, key, value)
    return move


def cycle_of(start: Any, moves: list[Any], **changes: Any) -> Any:
    cycle = motion.CycleSpec()
    cycle.start = [float(x) for x in start]
    cycle.moves = moves
    for key, value in changes.items():
        setattr(cycle, key, value)
    return cycle


def planned(model: Any, cycle: Any, inverse: Any = None, **options: int) -> Any:
    """A plan that is not refused."""
    plan = motion.plan_cycle(model, cycle, inverse, **options)
    refusal = plan.refusal
    assert refusal.problem == motion.PlanProblem.none, (
        refusal.problem, refusal.move, refusal.axis, refusal.limit, refusal.value, refusal.allowed, refusal.share,
    )  # fmt: skip
    return plan


def spline_rows(points: Array, intervals: int) -> tuple[Array, Array, Array, Array]:
    """A smooth way through points: s from 0 to 1, q and its two derivatives by s at rows evenly spread (scipy's cubic
    spline, not-a-knot)."""
    from scipy.interpolate import CubicSpline

    spline = CubicSpline(np.linspace(0, 1, len(points)), points)
    s = np.linspace(0, 1, intervals + 1)
    return s, spline(s), spline(s, 1), spline(s, 2)
