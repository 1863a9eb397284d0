"""Source: toppra (time-optimal path parameterisation by reachability analysis, H. Pham and Q.-C. Pham 2018), for a way
of a seven-axis arm (track and six joints) through ten points.

What is compared: the duration, and the speed along the way, on the same grid, with limits of joint speed and
acceleration, and with limits of joint torque (toppra is given our inverse dynamics, which test_pinocchio.py checks
against pinocchio). Both hold the limits at both ends of every interval ("interpolation"); toppra's linear programs
keep them to about 1e-6. Tolerance: 1e-5 of the duration on one grid, and 1 % of the duration on a grid ten times
finer. Beyond that our rows never pass a limit, which is checked here from the rows alone."""

from __future__ import annotations

import logging
from typing import Any

import numpy as np
import pytest

ta = pytest.importorskip("toppra", reason="needs the peers: pip install 'armwright[peers]'")

from armwright import _core  # noqa: E402
from cases.arms import track_arm  # noqa: E402
from cases.chain import Array  # noqa: E402
from cases.timed import limited_model, motion, spline_rows  # noqa: E402

logging.getLogger("toppra").setLevel(logging.ERROR)

SPEED = np.array([1.5, 2.0, 2.0, 2.5, 3.0, 3.0, 4.0])
ACCELERATION = np.array([3.0, 6.0, 6.0, 8.0, 12.0, 12.0, 20.0])
TORQUE = np.array([900.0, 260.0, 420.0, 220.0, 70.0, 50.0, 25.0])


def points(seed: int) -> Array:
    lower, upper = track_arm().limits()
    return np.random.default_rng(seed).uniform(0.4 * lower, 0.4 * upper, (10, 7))


def times(s: Array, x: Array) -> float:
    rate = np.sqrt(x)
    return float(np.sum(2 * np.diff(s) / (rate[1:] + rate[:-1])))


def theirs(seed: int, intervals: int, constraints: list[Any]) -> tuple[Array, float]:
    path = ta.SplineInterpolator(np.linspace(0, 1, 10), points(seed))
    s = np.linspace(0, 1, intervals + 1)
    solver = ta.algorithm.TOPPRA(constraints, path, gridpoints=s, solver_wrapper="seidel")
    _, rate, _ = solver.compute_parameterization(0, 0)
    return rate**2, times(s, rate**2)


def interpolated(kind: Any, *arguments: Any) -> Any:
    return kind(*arguments, discretization_scheme=ta.constraint.DiscretizationType.Interpolation)


def ours(model: Any, seed: int, intervals: int) -> tuple[tuple[Array, Array, Array, Array], Array, Array, float]:
    rows = spline_rows(points(seed), intervals)
    x, u, duration = motion.time_path(model, *rows, motion.MoveSpec())
    assert duration == pytest.approx(times(rows[0], x), rel=1e-12)
    return rows, x, u, duration


def accelerations(rows: tuple[Array, Array, Array, Array], x: Array, u: Array) -> tuple[Array, Array]:
    """At the start and at the end of every interval."""
    _, _, first, second = rows
    start = first[:-1] * u[:, None] + second[:-1] * x[:-1, None]
    return start, first[1:] * u[:, None] + second[1:] * x[1:, None]


@pytest.mark.parametrize("seed", range(6))
def test_speed_and_acceleration(seed: int) -> None:
    model = limited_model(track_arm(), SPEED, ACCELERATION)
    limits = [
        ta.constraint.JointVelocityConstraint(np.c_[-SPEED, SPEED]),
        interpolated(ta.constraint.JointAccelerationConstraint, np.c_[-ACCELERATION, ACCELERATION]),
    ]
    for intervals in (100, 400):
        rows, x, u, duration = ours(model, seed, intervals)
        their_x, their_duration = theirs(seed, intervals, limits)
        assert duration == pytest.approx(their_duration, rel=1e-5)
        np.testing.assert_allclose(np.sqrt(x), np.sqrt(their_x), atol=2e-4)
        assert np.all(np.abs(rows[2]) * np.sqrt(x)[:, None] <= SPEED * (1 + 1e-9))
        for a in accelerations(rows, x, u):
            assert np.all(np.abs(a) <= ACCELERATION * (1 + 1e-8))
    _, finest = theirs(seed, 4000, limits)
    assert finest * (1 - 1e-4) <= duration <= 1.01 * finest


@pytest.mark.parametrize("seed", range(3))
def test_torque(seed: int) -> None:
    model = limited_model(track_arm(), SPEED, torque=TORQUE)
    none = _core.model.Inertia()

    def torque_of(q: Array, qd: Array, qdd: Array) -> Array:
        return np.asarray(_core.dynamics.inverse_dynamics(model, none, q[None], qd[None], qdd[None])[0])

    limits = [
        ta.constraint.JointVelocityConstraint(np.c_[-SPEED, SPEED]),
        interpolated(ta.constraint.JointTorqueConstraint, torque_of, np.c_[-TORQUE, TORQUE], np.zeros(7)),
    ]
    for intervals in (100, 400):
        rows, x, u, duration = ours(model, seed, intervals)
        _, their_duration = theirs(seed, intervals, limits)
        assert duration == pytest.approx(their_duration, rel=1e-5)
        for end, a in zip((slice(None, -1), slice(1, None)), accelerations(rows, x, u), strict=True):
            q, qd = rows[1][end], rows[2][end] * np.sqrt(x[end])[:, None]
            tau = _core.dynamics.inverse_dynamics(model, none, np.ascontiguousarray(q), qd, a)
            assert np.all(np.abs(tau) <= TORQUE * (1 + 1e-8))
    _, _, _, finer = ours(model, seed, 4000)
    assert finer * (1 - 1e-4) <= duration <= 1.01 * finer
