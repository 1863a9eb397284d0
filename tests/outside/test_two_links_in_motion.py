"""Source: J. Craig, "Introduction to Robotics", the two-link example (equation 6.58: from memory).

The arm swings in a vertical plane, a point mass at the end of each link; the load hangs at the end of the second, so
that it adds to the second mass. The largest mass is where the worst sign combination meets a limit: found here by
bisection on the closed form, not by solving."""

from __future__ import annotations

import math
from itertools import product
from typing import Any

import numpy as np
import pytest

import armwright as aw

G = 9.80665
M1, M2, L1, L2 = 2.0, 1.0, 0.5, 0.4
LIMITS = (90.0, 38.0)


def craig(m2: float, q: Any, w: Any, a: Any) -> tuple[float, float]:
    c1, c2, s2, c12 = math.cos(q[0]), math.cos(q[1]), math.sin(q[1]), math.cos(q[0] + q[1])
    first = (m2 * L2**2 * (a[0] + a[1]) + m2 * L1 * L2 * c2 * (2 * a[0] + a[1]) + (M1 + m2) * L1**2 * a[0]
             - m2 * L1 * L2 * s2 * w[1] ** 2 - 2 * m2 * L1 * L2 * s2 * w[0] * w[1]
             + m2 * L2 * G * c12 + (M1 + m2) * L1 * G * c1)  # fmt: skip
    second = (m2 * L1 * L2 * c2 * a[0] + m2 * L1 * L2 * s2 * w[0] ** 2 + m2 * L2 * G * c12
              + m2 * L2**2 * (a[0] + a[1]))  # fmt: skip
    return first, second


def arm(acceleration: float = 12.0) -> aw.Arm:
    joints = tuple(aw.Joint(f"axis {i + 1}", axis="-y", placement=(0 if i == 0 else L1, 0, 0), range=(-3, 3),
                            torque_continuous=LIMITS[i], torque_peak=LIMITS[i], speed=6.0, acceleration=acceleration)
                   for i in range(2))  # fmt: skip
    links = (aw.Link("upper", M1, (L1, 0, 0)), aw.Link("fore", M2, (L2, 0, 0)))
    return aw.Arm(aw.ArmDescription(joints, links, "two links", flange=(L2, 0, 0)))


def bisected(fits: Any) -> float:
    low, high = 0.0, 1000.0
    if not fits(low):
        return 0.0
    for _ in range(100):
        middle = (low + high) / 2
        low, high = (middle, high) if fits(middle) else (low, middle)
    return low


@pytest.mark.parametrize("q", [(0.5236, 0.7854), (0.1, 1.5), (-0.9, -0.7), (1.2, 0.4)])
@pytest.mark.parametrize(("speed", "acceleration"), [(0.5, 0.0), (0.0, 0.6), (0.4, 0.4), (1.0, 1.0)])
def test_joint_speeds_and_accelerations(q: Any, speed: float, acceleration: float) -> None:
    def fits(mass: float) -> bool:
        for w, a in product(((0.0, 0.0), *product((-6 * speed, 6 * speed), repeat=2)),
                            ((0.0, 0.0), *product((-12 * acceleration, 12 * acceleration), repeat=2))):  # fmt: skip
            torques = craig(M2 + mass, q, w, a)
            if any(abs(t) > limit for t, limit in zip(torques, LIMITS, strict=True)):
                return False
        return True

    # Speeds alone at rest's acceleration, accelerations from rest, and both together count.
    answer = arm().payload_in_motion(q, speed_share=speed, joint_acceleration=acceleration)
    assert float(answer.mass) == pytest.approx(bisected(fits), rel=1e-9, abs=1e-9)


@pytest.mark.parametrize("q", [(0.5236, 0.7854), (0.1, 1.5), (-0.9, -0.7)])
def test_tool_acceleration_in_the_plane(q: Any) -> None:
    """Both joints through the inverse of the 2x2 Jacobian; 20 000 directions, so 1e-7 of the mass."""
    s1, s12, c1, c12 = math.sin(q[0]), math.sin(q[0] + q[1]), math.cos(q[0]), math.cos(q[0] + q[1])
    J = np.array([[-L1 * s1 - L2 * s12, -L2 * s12], [L1 * c1 + L2 * c12, L2 * c12]])
    turn = np.linspace(0, 2 * math.pi, 20_000, endpoint=False)
    a = np.linalg.solve(J, 2.0 * np.stack([np.cos(turn), np.sin(turn)]))

    def fits(mass: float) -> bool:
        torques = craig(M2 + mass, q, (0, 0), a)
        return all(np.abs(t).max() <= limit for t, limit in zip(torques, LIMITS, strict=True))

    answer = float(arm(math.inf).payload_in_motion(q, tool_acceleration=2).mass)
    assert answer == pytest.approx(bisected(fits), rel=1e-6) and answer > 1
