"""An arm with drives and brakes, of our own numbers, for tests and bench of stops."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import armwright as aw
from cases.arms import spherical_arm
from cases.described import described

# rated torque N m, ratio, brake N m, rotor inertia kg m², Coulomb friction at the joint N m
SIZES = [
    (2.4, 100, 2.5, 1.2e-4, 6.0),
    (2.4, 120, 3.2, 1.2e-4, 8.0),
    (1.3, 100, 1.5, 6e-5, 5.0),
    (0.6, 80, 0.5, 3e-5, 2.0),
    (0.6, 80, 0.5, 3e-5, 2.0),
    (0.3, 50, 0.3, 1e-5, 1.0),
]


def drive(size: tuple[float, ...], efficiency: float = 0.75, back: float = 0.65, **changes: Any) -> aw.Drive:
    rated, ratio, brake, inertia, coulomb = size
    values: dict[str, Any] = {
        "brake": aw.Brake(brake, delay=0.05, energy=100.0),
        "friction": aw.Friction(coulomb=coulomb, viscous=0.5),
    }
    motor = aw.Motor(continuous=rated, peak=3 * rated, rotor_inertia=inertia, max_speed=600.0)
    stage = aw.Stage("strain wave", ratio, efficiency=efficiency, efficiency_back=back)
    return aw.Drive(motor, [stage], **(values | changes))


def braked_arm(efficiency: float = 0.75, back: float = 0.65, **changes: Any) -> aw.ArmDescription:
    """The spherical arm with a motor, a reducer and a brake on every axis."""
    arm = described(spherical_arm())
    joints = [
        replace(joint, drive=drive(size, efficiency, back, **changes), speed=2.0, acceleration=6.0)
        for joint, size in zip(arm.joints, SIZES, strict=True)
    ]
    return replace(arm, joints=tuple(joints))


def braked_cell(arm: aw.ArmDescription | None = None, **more: Any) -> aw.Cell:
    values: dict[str, Any] = {
        "tool": aw.Tool((0, 0, "120 mm"), "1.5 kg", (0, 0, 0.05)),
        "load": aw.Load("4 kg", (0, 0, "50 mm")),
    }
    return aw.Cell(braked_arm() if arm is None else arm, **(values | more))
