from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from armwright.describe import Brake, Drive, Friction, Joint, Motor, Stage, Track
from armwright.errors import InputError

MOTOR = Motor([(0, 2), (300, 1)], 6, rotor_inertia=1e-4, winding_loss=3, name="m")
GEAR, SCREW = Stage("gear", ratio=5), Stage("screw", lead=0.01)


def test_a_chain() -> None:
    drive = Drive(MOTOR, (Stage("belt", ratio=-2), GEAR, GEAR), Brake(1.5))
    assert drive.ratio == -50 and not drive.slides
    assert [stage.name for stage in drive.stages] == ["belt", "gear", "gear 2"]
    assert repr(drive) == "Drive: 'm', belt (-2), gear (5), gear 2 (5), brake 1.5 N m"
    pulled = Drive(MOTOR, SCREW, Brake("200 N", "joint", sliding=True))
    assert repr(pulled).endswith(", brake 200 N") and repr(Drive(MOTOR, SCREW, Brake(2))).endswith(", brake 2 N m")
    assert Drive(MOTOR).ratio == 1 and Drive(MOTOR, SCREW).slides
    assert "no brake" in Drive(MOTOR).assumptions
    assert not any("friction" in text for text in Drive(MOTOR, friction=Friction(1)).assumptions)


@pytest.mark.parametrize(
    ("told", "names"),
    [
        ((None, None, None), ["gear", "gear 2", "gear 3"]),
        (("gear 2", None, None), ["gear 2", "gear", "gear 3"]),
        ((None, None, "gear 2"), ["gear", "gear 3", "gear 2"]),
        (("gear 2", "gear 2", "gear", None), ["gear 2", "gear 2 2", "gear", "gear 3"]),
        (("first", None, "first"), ["first", "gear", "first 2"]),
        (("gear box", None), ["gear box", "gear"]),
    ],
)
def test_every_stage_has_a_name_of_its_own(told: tuple[str | None, ...], names: list[str]) -> None:
    drive = Drive(MOTOR, tuple(Stage("gear", ratio=5, name=name) for name in told))
    assert [stage.name for stage in drive.stages] == names
    again = replace(drive, brake=Brake(1.5))
    assert [stage.name for stage in again.stages] == names


def test_brakes() -> None:
    assert Brake(2).closing == 0.1 and Brake(2).assumptions[0] == "brake: no delay: 0.1 s taken"
    assert Brake(2, delay="30 ms", energy=40).assumptions == ()
    assert repr(Brake("2 N*m", "joint", 0.03)) == "Brake 'brake': 2 N m at the joint, closes in 30 ms"


def test_friction() -> None:
    assert Friction(2).coulomb == (2, 2)
    assert Friction(["2 N*m", "3 N*m"], 0.1).coulomb == (2, 3)
    assert Friction("20 N", "40 N*s/m", sliding=True).viscous == 40
    with pytest.raises(InputError) as caught:
        Friction(-2)
    assert [problem.key for problem in caught.value.problems] == ["Friction.coulomb"]


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda: Brake(0), "Brake.torque: got 0, expected .* more than 0"),
        (lambda: Brake(2, side="axis"), 'Brake.side: got "axis"'),
        (lambda: Brake(2, energy=0), "Brake.energy: got 0"),
        (lambda: Brake(2, delay=-1), "Brake.delay: got -1"),
        (lambda: Brake(2, sliding=True), "Brake.sliding"),
        (lambda: Friction((1, 2, 3)), "Friction.coulomb: got"),
        (lambda: Friction((1, -2)), r"Friction.coulomb\[1\]: got -2"),
        (lambda: Friction(1, -1), "Friction.viscous: got -1"),
        (lambda: Drive("m"), 'Drive.motor: got "m", expected a Motor'),  # type: ignore[arg-type]
        (lambda: Drive(MOTOR, (GEAR,) * 5), "Drive.stages: got 5 stages, expected at most 4"),
        (lambda: Drive(MOTOR, (SCREW, GEAR)), r"Drive.stages\[0\].kind: got \"screw\", expected a stage that turns"),
        (lambda: Drive(MOTOR, SCREW, friction=Friction(1)), "Drive.friction: got a friction that turns"),
        (lambda: Drive(MOTOR, GEAR, motor_friction=Friction(1, sliding=True)), "Drive.motor_friction"),
        (lambda: Drive(MOTOR, SCREW, Brake(9, "joint")), "Drive.brake: .* one that slides, .* sliding=True"),
        (lambda: Drive(MOTOR, SCREW, friction=Friction(1)), "Drive.friction: .* one that slides, .* sliding=True"),
        (lambda: Drive(MOTOR, GEAR, Brake(9, "joint", sliding=True)), "Drive.brake: .* that turns, .* without slid"),
        (lambda: Drive(MOTOR, SCREW, Brake(2, "joint")), "Drive.brake: got a brake that turns"),
        (lambda: Drive(MOTOR, GEAR, brake=5), "Drive.brake: got 5, expected a Brake, or None"),  # type: ignore[arg-type]
        (lambda: Joint("a", drive=Drive(MOTOR, SCREW)), r"Joint.drive.stages\[0\].kind: got \"screw\", .* that turns"),
        (lambda: Joint("a", "prismatic", range=(0, 1), drive=Drive(MOTOR)), "Joint.drive.stages: got none, .* slides"),
        (lambda: Track("x", 1, drive=Drive(MOTOR, GEAR)), r"Track.drive.stages\[0\].kind: got \"gear\""),
        (lambda: Joint("a", drive=5), "Joint.drive: got 5"),  # type: ignore[arg-type]
        (lambda: Joint("a", speed=0), "Joint.speed: got 0, expected .* more than 0"),
        (lambda: Joint("a", acceleration="3 m/s^2"), "Joint.acceleration: got"),
        (lambda: Track("x", 1, jerk="3 deg/s^3"), "Track.jerk: got"),
    ],
)
def test_refusals(make: Any, said: str) -> None:
    with pytest.raises(InputError, match=said):
        make()
