"""An arm with drives, of our own numbers, for tests of loads in motion; and its motors' torques written out apart from
the package's own, by the formulas of the textbooks."""

from __future__ import annotations

from dataclasses import replace
from itertools import product
from typing import Any

import numpy as np

import armwright as aw
from cases.chain import Array
from cases.described import positioner

RATIO, EFFICIENCY, ROTOR = (100.0, 100.0, 80.0, 50.0, 50.0, 30.0), 0.8, 6e-5
MOTOR_PEAK = (3.2, 4.5, 2.6, 1.0, 1.0, 0.8)


def driven(*, masses: bool = True, **more: Any) -> aw.ArmDescription:
    """The positioner with a motor and one gear stage on each axis. A peak torque falls to half at 400 rad/s."""
    arm = positioner(0.1, axis_5=(-1.9, 1.9))
    joints = []
    for i, joint in enumerate(arm.joints):
        peak = MOTOR_PEAK[i]
        curve = [[0, peak], [400, peak / 2]]
        motor = aw.Motor(
            continuous=peak / 3, peak=curve, rotor_inertia=ROTOR, max_speed=400, name=f"motor {i + 1}"
        )  # fmt: skip
        stage = aw.Stage("gear", RATIO[i], EFFICIENCY, EFFICIENCY, name=f"gear {i + 1}", **more)
        joints.append(replace(joint, torque_continuous=np.inf, torque_peak=np.inf, drive=aw.Drive(motor, (stage,)),
                              speed=2.0 if i < 3 else 4.0, acceleration=5.0 if i < 3 else 20.0))  # fmt: skip
    links = list(arm.links)
    if masses:
        links[3:5] = [aw.Link(f"link {i}", 0.8, (0.0, 0.01, 0.02), np.diag([0.002, 0.003, 0.002])) for i in (4, 5)]
    return replace(arm, joints=tuple(joints), links=tuple(links), flange=np.array(
        [[0.0, 0, 1, 0.1], [0, 1, 0, 0], [-1, 0, 0, 0], [0, 0, 0, 1]]))  # fmt: skip


def motor_uses(torque: Array, speed: Array, acceleration: Array) -> Array:
    """Share of its peak torque that each motor gives, for joint torques of the driven arm, (..., 6)."""
    ratio, peak = np.array(RATIO), np.array(MOTOR_PEAK)
    driving = torque * speed >= 0
    through = np.where(driving, torque / (ratio * EFFICIENCY), torque * EFFICIENCY / ratio)
    at_motor = through + ROTOR * ratio * acceleration
    return np.asarray(at_motor / (peak * (1 - 0.5 * np.abs(speed) * ratio / 400)))


def signs(count: int) -> Array:
    return np.array(list(product((-1.0, 1.0), repeat=count)))
