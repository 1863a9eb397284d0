"""Loads in motion: what must hold for any posture, any demand and any load."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

import armwright as aw
from cases.moving_arms import MOTOR_PEAK, driven, motor_uses

QUICK = settings(deadline=None, max_examples=40)
angles = st.floats(-math.pi, math.pi)
shares = st.floats(0, 1)
demands = st.fixed_dictionaries({
    "tool_acceleration": st.floats(0, 4), "turn_acceleration": st.floats(0, 4),
    "joint_acceleration": shares, "speed_share": shares,
})  # fmt: skip
ARM = aw.Arm(driven())
LOWER, UPPER = ARM.limits[:2]


@st.composite
def postures(draw: st.DrawFn) -> Any:
    return LOWER + np.array([draw(shares) for _ in LOWER]) * (UPPER - LOWER)


@given(postures(), demands, shares, st.floats(0, 0.3))
@QUICK
def test_more_asked_never_carries_more(q: Any, asked: dict[str, float], share: float, gyration: float) -> None:
    most = float(ARM.payload(q, limit="peak").mass)
    hard = ARM.payload_in_motion(q, gyration=gyration, **asked)
    # Less speed may be worse by itself, where speed's own torque relieves a joint: only accelerations are scaled.
    easier = {key: value if key == "speed_share" else share * value for key, value in asked.items()}
    easy = ARM.payload_in_motion(q, gyration=gyration, **easier)
    assert 0 <= hard.mass <= easy.mass * (1 + 1e-9) + 1e-12
    assert easy.mass <= most * (1 + 1e-9) + 1e-12
    assert hard.moves_itself or hard.mass == 0


@given(postures(), demands)
@QUICK
def test_each_demand_alone_carries_at_least_as_much(q: Any, asked: dict[str, float]) -> None:
    together = float(ARM.payload_in_motion(q, **asked).mass)
    for key, value in asked.items():
        assert float(ARM.payload_in_motion(q, **{key: value}).mass) >= together * (1 - 1e-9)


@given(postures(), st.floats(0.1, 2), st.floats(0.1, 2), st.integers(0, 1000))
@QUICK
def test_no_direction_passes_a_limit(q: Any, along: float, about: float, seed: int) -> None:
    answer = ARM.payload_in_motion(q, tool_acceleration=along, turn_acceleration=about, gyration=0.1)
    if not 1e-6 < answer.mass < math.inf:
        return
    rng = np.random.default_rng(seed)
    tool = rng.normal(size=(50, 2, 3))
    tool *= np.array([along, about])[:, None] / np.linalg.norm(tool, axis=2, keepdims=True)
    acceleration = tool.reshape(50, 6) @ np.linalg.inv(ARM.jacobian(q)).T
    load = aw.Load(float(answer.mass), (0, 0, 0), float(answer.mass) * 0.01 * np.eye(3))
    still = np.zeros((50, 6))
    used = motor_uses(ARM.inverse_dynamics(q, still, acceleration, load), still, acceleration)
    assert np.abs(used).max() < 1 + 1e-6


@given(postures(), demands, st.floats(0.2, 5))
@QUICK
def test_everything_twice_as_strong_and_heavy_carries_twice(q: Any, asked: dict[str, float], k: float) -> None:
    def scaled(joint: aw.Joint) -> aw.Joint:
        motor = joint.drive.motor  # type: ignore[union-attr]
        peak = k * MOTOR_PEAK[int(motor.name[-1]) - 1]
        strong = replace(motor, continuous=peak / 3, peak=[[0, peak], [400, peak / 2]],
                         rotor_inertia=k * motor.rotor_inertia)  # fmt: skip
        return replace(joint, drive=replace(joint.drive, motor=strong))

    arm = ARM.description
    links = tuple(replace(link, mass=k * link.mass, inertia=None if link.inertia is None else k * link.inertia)
                  for link in arm.links)  # fmt: skip
    big = aw.Arm(replace(arm, joints=tuple(scaled(joint) for joint in arm.joints), links=links))
    small, large = ARM.payload_in_motion(q, **asked), big.payload_in_motion(q, **asked)
    assert large.mass == np.inf or np.isclose(large.mass, k * small.mass, rtol=1e-6, atol=1e-9)
