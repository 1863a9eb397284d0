from __future__ import annotations

from pathlib import Path

import pytest

import armwright as aw
from cases.description_files import ARM


def read(folder: Path, old: str, new: str) -> aw.ArmDescription:
    assert old in ARM
    path = folder / "arm.toml"
    path.write_text(ARM.replace(old, new), encoding="utf-8")
    return aw.load_arm(path).description


TORQUE, SHORT = 'torque = { continuous = "180 N*m", peak = "400 N*m" }', 'torque = "20 lbf*ft"'
MOTOR = 'motor = { continuous = "2.4 N*m", peak = "7.2 N*m", ratio = 101, efficiency = "80 %" }'
SLIDES = 'kind = "prismatic"\nrange = ["0 mm", "300 mm"]\ndh = { a = "1 in" }\n'


def test_what_a_joint_holds(tmp_path: Path) -> None:
    """Torque x ratio x efficiency; a text alone is the continuous one (1 lbf ft is 1.3558179483314004 N m)."""
    joints = read(tmp_path, TORQUE, TORQUE).joints
    held = [(joint.torque_continuous, joint.torque_peak) for joint in joints]
    assert held[0] == (180, 400)
    assert held[1] == pytest.approx((2.4 * 101 * 0.8, 7.2 * 101 * 0.8))
    assert held[2] == pytest.approx((20 * 1.3558179483314004,) * 2)
    (first, *_) = read(tmp_path, TORQUE, 'torque = { continuous = "180 N*m" }').joints
    assert (first.torque_continuous, first.torque_peak) == (180, 180)


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        (TORQUE, 'torque = { continuous = "180 N*m", peak = "40 N*m" }',
         "joint[0].torque.peak: got 40 N m, expected at least the continuous one, 180 N m"),
        (MOTOR, MOTOR.replace("7.2", "2.3"),
         "joint[1].motor.peak: got 2.3 N m, expected at least the continuous one, 2.4 N m"),
        (MOTOR, MOTOR.replace("ratio = 101, ", ""), "joint[1].motor.ratio: got nothing"),
        (MOTOR, MOTOR.replace("80 %", "180 %"), 'joint[1].motor.efficiency: got "180 %"'),
        (MOTOR, 'motor = "2 N*m"', "joint[1].motor"),
        (SHORT, 'torque = "20 ft"', 'joint[2].torque: got "20 ft", expected a unit of torque'),
        (SHORT, "torque = 20", "joint[2].torque: got 20, expected a torque with its unit"),
        (TORQUE, TORQUE + '\\nspeed = "2 m/s"', "joint[0].speed: got"),
        (TORQUE, TORQUE + '\\nacceleration = "400 deg/s"', "joint[0].acceleration: got"),
    ],
)  # fmt: skip
def test_refusals(old: str, new: str, told: str, tmp_path: Path) -> None:
    with pytest.raises(aw.InputError) as caught:
        read(tmp_path, old, new.replace("\\n", "\n"))
    assert told in str(caught.value)
