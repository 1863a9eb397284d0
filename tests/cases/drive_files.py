"""Descriptions with drives, of our own numbers, that tests share."""

from __future__ import annotations

from pathlib import Path

PARTS = """\
# Parts of our own invention.
[[motor]]
name = "750 W"
continuous = "2.4 N*m"
peak = "7.2 N*m"
rated_speed = "3000 rpm"
max_speed = "6000 rpm"
rotor_inertia = "0.9 kg*cm^2"
resistance = "1.2 ohm"
torque_constant = "0.6 N*m/A"
encoder_counts = 131072

[[stage]]
name = "size 25"
kind = "strain wave"
ratio = 101
efficiency = "75 %"
efficiency_back = "70 %"
rated_torque = "67 N*m"
repeated_peak_torque = "157 N*m"
momentary_peak_torque = "284 N*m"
inertia = "0.4 kg*cm^2"
max_input_speed = "5600 rpm"
mean_input_speed = "3500 rpm"
stiffness = "31 Nm/arcmin"
backlash = "1 arcmin"
rated_life = "7000 h"
rated_input_speed = "2000 rpm"

[[brake]]
name = "2.5 N*m"
torque = "2.5 N*m"
delay = "30 ms"
energy = "60 J"
"""

DRIVEN = """\
name = "driven arm"
parts = "parts.toml"
coupling = [[1, 0], [-0.5, 1]]

[base]
mass = "12 kg"

[[joint]]
axis = "z"
range = ["-170 deg", "170 deg"]
speed = "180 deg/s"
acceleration = "400 deg/s^2"
jerk = "4000 deg/s^3"
link = { name = "turret", mass = "12 kg", centre = "0, 0, 60 mm" }
[joint.drive]
motor = "750 W"
stage = ["size 25"]
brake = "2.5 N*m"
friction = { coulomb = ["2 N*m", "3 N*m"], viscous = "0.1 N*m*s" }
motor_friction = { coulomb = "0.02 N*m" }

[[joint]]
kind = "prismatic"
axis = "z"
range = ["0 mm", "300 mm"]
speed = "0.4 m/s"
link = { name = "ram", mass = "2 kg" }
[joint.drive]
motor = { continuous = [["0 rpm", "1.3 N*m"], ["3000 rpm", "1.25 N*m"]], peak = "3.8 N*m", loss_at_rated = "26 W" }
friction = { coulomb = "20 N", viscous = "40 N*s/m" }
[[joint.drive.stage]]
kind = "belt"
ratio = 2
efficiency = 0.96
[[joint.drive.stage]]
kind = "screw"
lead = "10 mm"
efficiency = 0.9
rated_torque = "2 kN"

[[counterbalance]]
kind = "coil"
name = "spring"
link_a = "base"
link_b = "ram"
point_a = "0, 100, 0 mm"
point_b = "0, 50, 20 mm"
rate = "2 N/mm"
free_length = "200 mm"
preload = "30 N"

[[counterbalance]]
kind = "mass"
name = "weight"
link_a = "turret"
point_a = "-300, 0, 60 mm"
mass = "4 kg"
"""


def write_driven(folder: Path, arm: str = DRIVEN, parts: str = PARTS) -> Path:
    """The arm's path."""
    (folder / "parts.toml").write_text(parts, encoding="utf-8")
    (folder / "arm.toml").write_text(arm, encoding="utf-8")
    return folder / "arm.toml"
