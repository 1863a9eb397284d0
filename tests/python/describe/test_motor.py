from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest

from armwright.describe import Motor
from armwright.describe.motor import torque_at
from armwright.errors import InputError

RPM = math.pi / 30


def test_the_curve_that_torques_stand_for() -> None:
    """As the class says: flat to the rated speed, then straight to the torque of the same power at the greatest."""
    motor = Motor(2.4, 7.2, max_speed="6000 rpm", rated_speed="3000 rpm")
    assert motor.continuous_curve == ((0, 2.4), (pytest.approx(3000 * RPM), 2.4), (pytest.approx(6000 * RPM), 1.2))
    assert motor.peak_curve == ((0, 7.2), (pytest.approx(3000 * RPM), 7.2), (pytest.approx(6000 * RPM), 3.6))
    assert torque_at(motor.peak_curve, 4500 * RPM) == pytest.approx(5.4)
    assert torque_at(motor.peak_curve, 6001 * RPM) == 0
    assert Motor(2.4, max_speed=300).peak_curve == ((0, 2.4), (300, 2.4))
    assert Motor(2.4, rated_speed=300).continuous_curve == ((0, 2.4), (300, 2.4))
    ends = Motor([(0, 2), (100, 1.5)], peak=5)
    assert ends.peak_curve == ((0, 5), (100, 5)) and ends.greatest_speed == 100


def test_copper_loss_in_three_ways() -> None:
    """1.5 R I² for a resistance between two leads: three phases of R / 2 each in star, textbook."""
    assert Motor(2, max_speed=300, winding_loss=5).loss_factor == 5
    assert Motor(2, max_speed=300, loss_at_rated="20 W").loss_factor == pytest.approx(5)
    curve = [(0, 2), (200, 1), (300, 0.5)]
    assert Motor(curve, rated_speed=200, loss_at_rated="20 W").loss_factor == pytest.approx(20)
    told = Motor(2, max_speed=300, resistance="1.2 ohm", torque_constant="0.6 N*m/A")
    current = 2 / 0.6
    assert told.loss_factor * 2**2 == pytest.approx(3 * (1.2 / 2) * current**2)


def test_encoder() -> None:
    assert Motor(2, max_speed=300, encoder_counts=4096).counts == 4096
    assert Motor(2, max_speed=300, encoder_counts=1).counts == 1
    assert Motor(2, max_speed=300, encoder_resolution="0.1 deg").counts == pytest.approx(3600)


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ({"continuous": 2}, "Motor.max_speed: got nothing"),
        (
            {"continuous": 2, "peak": 1, "max_speed": 9},
            "Motor.peak: got 1 N m, expected at least the continuous one, 2 N m",
        ),
        ({"continuous": 2, "peak": [(0, 3), (9, 1)]}, r"Motor.peak: got 1 N m at .* rpm, expected at least the cont"),
        ({"continuous": [(0, 2), (9, 1)], "peak": [(0, 3), (5, 3)]}, "Motor.peak: got a curve that ends at"),
        ({"continuous": [(0, 2), (0, 1)]}, r"Motor.continuous\[1\]\[0\]: got 0 rpm after 0 rpm, .* rise"),
        ({"continuous": [(0, 2), (9, 1), (8, 1)]}, r"continuous\[2\]\[0\]: got .* speeds that rise"),
        ({"continuous": [(1, 2), (9, 1)]}, r"continuous\[0\]\[0\]: got .* a first point at rest"),
        ({"continuous": [(0, 0), (9, 1)]}, r"continuous\[0\]\[1\]: got 0 N m"),
        ({"continuous": [(0, 2)]}, "Motor.continuous: got .* 2 to 12 points"),
        ({"continuous": [(0, 2), 3]}, "Motor.continuous: got"),
        ({"continuous": [(0, 2), "ab"]}, "Motor.continuous: got"),
        ({"continuous": -2, "max_speed": 9}, "Motor.continuous: got -2"),
        ({"continuous": {"a": 1}, "max_speed": 9}, "Motor.continuous: got"),
        ({"continuous": 2, "max_speed": 9, "rated_speed": 10}, "Motor.rated_speed: got .* at most the greatest speed"),
        (
            {"continuous": [(0, 2), (9, 1)], "max_speed": 10},
            "Motor.max_speed: got .* the speed at which the curve ends",
        ),
        ({"continuous": 2, "max_speed": "50 Hz"}, "did you mean turn/s"),
        (
            {"continuous": 2, "max_speed": 9, "winding_loss": 1, "loss_at_rated": 3},
            "loss_at_rated besides winding_loss",
        ),
        ({"continuous": 2, "max_speed": 9, "resistance": 1}, "Motor.torque_constant: got nothing"),
        ({"continuous": 2, "max_speed": 9, "encoder_counts": 9, "encoder_resolution": 1}, "besides encoder_counts"),
        ({"continuous": 2, "max_speed": 9, "rotor_inertia": -1}, "Motor.rotor_inertia: got -1"),
        (
            {"continuous": 2, "max_speed": 9, "encoder_counts": 1.5},
            'Motor.encoder_counts: got 1.5, expected a whole number of counts a turn, as "8388608", at least 1',
        ),
        ({"continuous": 2, "max_speed": 9, "encoder_counts": 0}, "Motor.encoder_counts: got 0, .* at least 1"),
    ],
)
def test_refusals(arguments: dict[str, Any], said: str) -> None:
    with pytest.raises(InputError, match=said):
        Motor(**arguments)


def test_everything_wrong_is_told_at_once() -> None:
    with pytest.raises(InputError) as caught:
        Motor(-1, peak="3 J", max_speed="9 Hz", rotor_inertia=-1, resistance=0)
    keys = {problem.key for problem in caught.value.problems}
    assert keys >= {f"Motor.{key}" for key in ("continuous", "peak", "max_speed", "rotor_inertia", "resistance")}


def test_what_is_assumed_is_said_and_survives_a_change() -> None:
    bare = Motor(2, max_speed="3000 rpm", name="m")
    assert [text.split(":")[1].strip() for text in bare.assumptions] == [
        "no rated speed, so its torque is the same up to the greatest speed, 3000 rpm",
        "no peak torque", "no rotor inertia", "no winding loss",
    ]  # fmt: skip
    assert replace(bare, continuous=3).assumptions == bare.assumptions
    whole = Motor([(0, 2), (300, 1)], [(0, 5), (300, 2)], rotor_inertia=1e-4, winding_loss=3)
    assert whole.assumptions == ()
    assert repr(bare) == "Motor 'm': 2 N m, peak 2 N m, up to 3000 rpm"
    assert bare == Motor(2.0, max_speed="3000 rpm", name="m") and bare != Motor(2.1, max_speed="3000 rpm", name="m")
