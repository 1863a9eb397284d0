"""Time-optimal timing of a seven-axis way through ten points against toppra, on one grid with the same limits: joint
speed and acceleration, and joint speed and torque. The spline through the points stands; both evaluate it at the
grid. toppra runs as it is used, from Python over its own compiled solver (seidel); for torque limits it is
given our inverse dynamics, row by row as it asks."""

from __future__ import annotations

import logging
from collections.abc import Callable
from typing import Any

import numpy as np
import toppra as ta
from measure import Row, Size, compare, processor_time
from scipy.interpolate import CubicSpline

from armwright import _core
from cases.arms import track_arm
from cases.timed import limited_model, motion

INTERVALS = 200
SPEED = np.array([1.5, 2.0, 2.0, 2.5, 3.0, 3.0, 4.0])
ACCELERATION = np.array([3.0, 6.0, 6.0, 8.0, 12.0, 12.0, 20.0])
TORQUE = np.array([900.0, 260.0, 420.0, 220.0, 70.0, 50.0, 25.0])


def one(kernel: str, model: Any, limit: Any, count: int, repeats: int) -> Row:
    """A row of the table: our timing against toppra's of the same ways, answers compared."""
    logging.getLogger("toppra").setLevel(logging.ERROR)
    lower, upper = track_arm().limits()
    ways = [np.random.default_rng(seed).uniform(0.4 * lower, 0.4 * upper, (10, 7)) for seed in range(count)]
    knots, s = np.linspace(0, 1, 10), np.linspace(0, 1, INTERVALS + 1)
    splines = [CubicSpline(knots, way) for way in ways]
    paths = [ta.SplineInterpolator(knots, way) for way in ways]
    limits = [ta.constraint.JointVelocityConstraint(np.c_[-SPEED, SPEED]), limit]
    move = motion.MoveSpec()

    def ours() -> list[Any]:
        return [motion.time_path(model, s, f(s), f(s, 1), f(s, 2), move)[0] for f in splines]

    def theirs() -> list[Any]:
        solvers = (ta.algorithm.TOPPRA(limits, path, gridpoints=s, solver_wrapper="seidel") for path in paths)
        return [solver.compute_parameterization(0, 0)[1] for solver in solvers]

    for x, rate in zip(ours(), theirs(), strict=True):
        np.testing.assert_allclose(np.sqrt(x), rate, atol=1e-3 * rate.max())
    run: Callable[[], float] = lambda: processor_time(theirs)  # noqa: E731
    return compare(kernel, count, ours, {"toppra": run}, repeats, goal=50.0)


def rows(size: Size) -> list[Row]:
    scheme = ta.constraint.DiscretizationType.Interpolation
    accelerated = ta.constraint.JointAccelerationConstraint(np.c_[-ACCELERATION, ACCELERATION], scheme)
    heavy, none = limited_model(track_arm(), SPEED, torque=TORQUE), _core.model.Inertia()

    def torque_of(q: Any, qd: Any, qdd: Any) -> Any:
        return _core.dynamics.inverse_dynamics(heavy, none, q[None], qd[None], qdd[None])[0]

    twisted = ta.constraint.JointTorqueConstraint(torque_of, np.c_[-TORQUE, TORQUE], np.zeros(7), scheme)
    count = min(20, size.cut(1e-3))
    light = limited_model(track_arm(), SPEED, ACCELERATION)
    return [
        one("timing a way, 7 axes, 10 points: acceleration", light, accelerated, count, size.repeats),
        one("timing a way, 7 axes, 10 points: torque", heavy, twisted, max(2, count // 4), size.repeats),
    ]
