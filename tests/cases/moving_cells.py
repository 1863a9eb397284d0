"""A cell with limits and drives for tests of cycles, of our own numbers."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import armwright as aw
from cases.described import at, facing, positioner

DOWN = facing((1, 0, 0), (0, 0, -1))


def drive(ratio: float = 100.0, torque: float = 4.0, **more: Any) -> aw.Drive:
    motor = aw.Motor(torque, 3 * torque, max_speed="3000 rpm", rotor_inertia="0.5 kg*cm^2", winding_loss=4.0)
    stage = aw.Stage("gear", ratio=ratio, efficiency=0.8, inertia=0, max_input_speed="6000 rpm")
    return aw.Drive(motor, stage, aw.Brake(2.0, delay=0.05, energy=100), aw.Friction(1.0), **more)


def moving_arm(**ranges: Any) -> aw.ArmDescription:
    """The positioner with drives, 2 rad/s, 6 rad/s² and 60 rad/s³ a joint."""
    arm = positioner(**ranges)
    joints = tuple(
        replace(joint, torque_continuous=float("inf"), torque_peak=None, drive=drive(), speed=2.0, acceleration=6.0,
                jerk=60.0)
        for joint in arm.joints
    )  # fmt: skip
    return replace(arm, joints=joints)


def moving_cell(**more: Any) -> aw.Cell:
    """Two work points with the tool level, one with free spin, a post off to the side, a load of 2 kg."""
    values: dict[str, Any] = {
        "fixtures": (aw.Box((0.1, 0.1, 0.1), (0, -2, 0), "post"),),
        "tool": aw.Tool((0, 0, 0.1), 0.5),
        "load": aw.Load(2.0, (0, 0, 0.05), name="pot"),
        "targets": (
            aw.Target(at((0.7, 0.1, 0.2), DOWN), "rack", approach="100 mm", retract="50 mm"),
            aw.Target(at((0.5, 0.5, 0.1), DOWN), "tub", approach="80 mm"),
            aw.Target(at((0.2, 0.7, 0.3), DOWN), "kiln", free_spin=True),
        ),
    }
    return aw.Cell(moving_arm(), **(values | more))
