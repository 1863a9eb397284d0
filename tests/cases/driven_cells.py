"""Cells with drives and motions over them, of our own numbers, that tests of the drive studies share."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

import armwright as aw
from cases.chain import Array
from cases.described import positioner


def motor(size: float = 1.0, **more: Any) -> aw.Motor:
    told: dict[str, Any] = {
        "continuous": 2.4 * size, "peak": 7.2 * size, "rated_speed": "3000 rpm", "max_speed": "6000 rpm",
        "rotor_inertia": 0.9e-4, "resistance": "1.2 ohm", "torque_constant": "0.6 N*m/A", "encoder_counts": 131072,
    }  # fmt: skip
    return aw.Motor(**(told | more))


def turntable(efficiency: float = 0.9) -> aw.Cell:
    """One upright axis that turns 12 kg m² by 100 : 1; the rotor has 2e-4 kg m²."""
    stage = aw.Stage("gear", 100, efficiency, efficiency, rated_torque=200.0, repeated_peak_torque=400.0)
    drive = aw.Drive(aw.Motor([(0.0, 2.0), (600.0, 2.0)], [(0.0, 6.0), (600.0, 6.0)], rotor_inertia=2e-4,
                              winding_loss=4.0, encoder_counts=10000), (stage,))  # fmt: skip
    joint = aw.Joint("axis 1", axis="z", range=(-3, 3), drive=drive)
    link = aw.Link("table", 20.0, (0, 0, 0), np.diag([12.0, 12.0, 12.0]))
    return aw.Cell(aw.ArmDescription((joint,), (link,), "turntable"))


def thirds(angle: float, time: float, pause: float, **more: Any) -> aw.TimedMotion:
    """Through an angle, a third of the time each speeding up, going on and braking; then standing."""
    v, t = 1.5 * angle / time, time / 3
    a = v / t
    rows = [(0, 0, 0, a), (t, angle / 4, v, a), (t, angle / 4, v, 0), (2 * t, 0.75 * angle, v, 0),
            (2 * t, 0.75 * angle, v, -a), (time, angle, 0, -a), (time, angle, 0, 0),
            (time + pause, angle, 0, 0)]  # fmt: skip
    table = np.array(rows, float)
    return aw.TimedMotion(table[:, 0], table[:, 1:2], table[:, 2:3], table[:, 3:4], **more)


def driven_arm(strength: float = 1.0, **more: Any) -> aw.Cell:
    """The positioner with a drive on every axis."""
    arm = positioner()
    chains = [(101, 1.0), (121, 1.0), (101, 1.0), (50, 0.4), (50, 0.4), (30, 0.3)]
    joints = []
    for joint, (ratio, size) in zip(arm.joints, chains, strict=True):
        stage = aw.Stage("strain wave", ratio, 0.75, 0.7, rated_torque=160 * size * strength,
                         repeated_peak_torque=330 * size * strength, inertia=0.3e-4, max_input_speed="6000 rpm",
                         rated_life="7000 h", rated_input_speed="2000 rpm")  # fmt: skip
        drive = aw.Drive(motor(size * strength), (stage,), friction=aw.Friction((2.0 * size, 3.0 * size), 0.1 * size))
        joints.append(replace(joint, drive=drive, torque_continuous=np.inf, torque_peak=np.inf))
    link = replace(arm.links[5], mass=0.8, centre=(0, 0, 0), inertia=np.diag([1e-3, 1e-3, 1e-3]))
    return aw.Cell(replace(arm, joints=tuple(joints), links=(*arm.links[:5], link)), **more)


def swing(seconds: float = 2.0, size: float = 0.5, rows: int = 401, **more: Any) -> aw.TimedMotion:
    """All six joints swing out and back, each its own way, from and to one posture; then they stand."""
    t = np.linspace(0.0, seconds, rows)[:, None]
    x = t / seconds
    # a bump that starts and ends at rest, 0 to 1 to 0
    bump, b1 = 16 * (x * (1 - x)) ** 2, 32 * x * (1 - x) * (1 - 2 * x) / seconds
    b2 = 32 * (1 - 6 * x + 6 * x * x) / seconds**2
    w = 2 * np.pi / seconds * np.array([[1.0, 1.0, 2.0, 1.0, 2.0, 1.0]])
    middle = np.array([[0.3, 0.6, -0.9, 0.2, 0.4, 0.0]])
    s, c = np.sin(w * t + 0.4), np.cos(w * t + 0.4)
    q = middle + size * bump * s
    qd = size * (b1 * s + bump * w * c)
    qdd = size * (b2 * s + 2 * b1 * w * c - bump * w * w * s)
    still = np.zeros((2, 6))
    times: Array = np.concatenate([t[:, 0], [seconds, 1.2 * seconds]])
    return aw.TimedMotion(
        times, np.vstack([q, q[-1:], q[-1:]]), np.vstack([qd, still]), np.vstack([qdd, still]), **more
    )


def supply(**more: Any) -> aw.Supply:
    told: dict[str, Any] = {
        "voltage": 230.0, "power_factor": 1.0, "efficiency": 1.0, "standby_power": 0.0, "branch_current": 16.0,
        "capacitance": 1e-3, "braking_voltage": 390.0, "resistance": 50.0, "resistor_power": 100.0,
    }  # fmt: skip
    return aw.Supply(**(told | more))
