"""Loads in motion, posture by posture: arguments, answers, words; parts named at rest too."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

import armwright as aw
from cases.moving_arms import EFFICIENCY, MOTOR_PEAK, RATIO, ROTOR, driven, motor_uses, signs

G = 9.80665
ARM = aw.Arm(driven())
Q = np.random.default_rng(5).uniform(-1.5, 1.5, (40, 6))
SPEEDS, ACCELERATIONS = np.array([2.0] * 3 + [4.0] * 3), np.array([5.0] * 3 + [20.0] * 3)


def moved(q: Any, mass: float, speed: Any, acceleration: Any) -> Any:
    """Shares of the motors' peak torques, through the whole inverse dynamics."""
    return motor_uses(ARM.inverse_dynamics(q, speed, acceleration, aw.Load(mass, (0, 0, 0.1))), np.asarray(speed),
                      np.asarray(acceleration))  # fmt: skip


def test_speeds_and_accelerations_touch_a_motor_and_pass_none() -> None:
    for share, acceleration in ((0.6, None), (0.0, 0.5), (0.5, 0.3)):
        answer = ARM.payload_in_motion(Q, (0, 0, 0.1), speed_share=share, joint_acceleration=acceleration)
        for q, mass in zip(Q, answer.mass, strict=True):
            w = np.repeat(signs(6) * share * SPEEDS, 64, axis=0)
            a = np.tile(signs(6) * (acceleration or 0.0) * ACCELERATIONS, (64, 1))
            if mass > 0:
                still = np.zeros_like(w)
                used = max(np.abs(moved(q, mass, v, b)).max() for v, b in ((w, a), (still, a), (still, still)))
                assert used == pytest.approx(1, rel=1e-9)
        assert (answer.mass > 0).sum() > 10
        assert set(answer.limit) <= {"motor torque"} and set(answer.part) <= {f"motor {i}" for i in range(1, 7)}
        assert (answer.part == np.char.replace(answer.joint_name, "axis", "motor")).all()


def test_tool_accelerations_in_random_directions_pass_none() -> None:
    rng = np.random.default_rng(6)
    free = tuple(replace(joint, acceleration=np.inf) for joint in ARM.description.joints)
    arm = aw.Arm(replace(ARM.description, joints=free))
    answer = arm.payload_in_motion(Q, (0, 0, 0.1), tool_acceleration="1.5 m/s^2")
    tried = rng.normal(size=(4000, 3))
    tried *= 1.5 / np.linalg.norm(tried, axis=1, keepdims=True)
    close = 0
    for q, mass in zip(Q, answer.mass, strict=True):
        ways = np.linalg.inv(arm.jacobian(q))[:, :3]
        if mass > 0:
            used = np.abs(moved(q, mass, np.zeros((4000, 6)), tried @ ways.T)).max()
            assert used < 1 + 1e-9
            close += used > 0.98
    assert close > 15


def test_one_axis_by_hand() -> None:
    """A crane boom of no mass, 1 m, level: N η T = m (g + a) + N² η J a."""
    motor = aw.Motor(continuous=1, peak=2, rotor_inertia=1e-4, max_speed=300, name="hoist")
    joint = aw.Joint("boom", axis="-y", range=(-1, 1), drive=aw.Drive(motor, (aw.Stage("gear", 50, 0.9),)))
    arm = aw.Arm(aw.ArmDescription((joint,), (aw.Link("boom"),), "boom", flange=(1, 0, 0)))
    answer = arm.payload_in_motion([0.0], tool_acceleration=3)
    assert float(answer.mass) == pytest.approx((50 * 0.9 * (2 - 1e-4 * 50 * 3)) / (G + 3))
    assert (str(answer.part), str(answer.limit), str(answer.demand)) == ("hoist", "motor torque", "tool acceleration")
    words = "by boom, hoist, motor torque (for tool acceleration)"
    assert repr(answer) == f"MovingPayload: {float(answer.mass):.4g} kg, {words}"
    held = arm.payload([0.0])
    assert str(held.limit_part) == "hoist" and repr(held) == "Payload: 4.589 kg, limited by boom (hoist, continuous)"
    assert float(arm.payload_in_motion([0.0], tool_acceleration=0).mass) == pytest.approx(90 / G)
    # A joint that states no speed goes as fast as its motor, 300/50 rad/s; the pull of m w² along the boom takes
    # none of the motor's torque.
    assert float(arm.payload_in_motion([0.0], speed_share=1).mass) == pytest.approx(90 / G)
    # A load spread 0.2 m about its centre turns with the boom.
    wide = arm.payload_in_motion([0.0], tool_acceleration=3, gyration="200 mm")
    assert float(wide.mass) == pytest.approx((50 * 0.9 * (2 - 1e-4 * 50 * 3)) / (G + 3 + 0.04 * 3))


def test_the_stage_names_itself_and_work_points_say_so() -> None:
    arm = driven(rated_torque="60 N*m", repeated_peak_torque="130 N*m")
    held = aw.Arm(arm).payload([0, 0, 0, 0, 0, 0], (0, 0, 0.1))
    assert str(held.limit_part) == "gear 2" and str(held.joint_name) == "axis 2"
    cell = aw.Cell(arm, targets=aw.Target(cell_pose(arm), "far", load=aw.Load("30 kg")))
    checked = cell.check_targets()
    assert not bool(checked.served[0])
    assert str(checked.payload_part.values[0]).startswith(("gear", "motor"))
    words = str(checked.reason.values[0])
    assert words.startswith("30 kg wanted and ") and f", {checked.payload_part.values[0]}, continuous)" in words


def cell_pose(arm: aw.ArmDescription) -> Any:
    return aw.Arm(arm).tool_pose([0.3, 0.5, -0.9, 0.2, 0.6, 0.1])


@pytest.mark.parametrize(("motion", "key", "expected"), [
    ({}, "tool_acceleration", "at least one of them"),
    ({"tool_acceleration": -1}, "tool_acceleration", "at least 0"),
    ({"tool_acceleration": "3 kg"}, "tool_acceleration", "a unit of acceleration"),
    ({"joint_acceleration": 1.5}, "joint_acceleration", "a share, 0 to 1"),
    ({"speed_share": True}, "speed_share", "a share, 0 to 1"),
    ({"speed_share": float("nan")}, "speed_share", "a share, 0 to 1"),
    ({"tool_acceleration": 1, "gyration": (0.1, -0.1, 0)}, "gyration", "0 m or more"),
    ({"tool_acceleration": 1, "gyration": -0.1}, "gyration", "0 m or more"),
])  # fmt: skip
def test_what_is_refused(motion: dict[str, Any], key: str, expected: str) -> None:
    with pytest.raises(aw.InputError) as caught:
        ARM.payload_in_motion(Q, **motion)
    assert key in caught.value.problems[0].key and expected in caught.value.problems[0].expected


def test_speeds_and_shares_that_cannot_be() -> None:
    fast = replace(ARM.description, joints=tuple(replace(j, speed=5.0) for j in ARM.description.joints))
    with pytest.raises(aw.InputError, match=r"'motor 1' of axis 1 turns faster than it may, expected at most 0\.8"):
        aw.Arm(fast).payload_in_motion(Q, speed_share=1)
    aw.Arm(fast).payload_in_motion(Q, speed_share=0.8)
    idle = replace(ARM.description, joints=tuple(replace(j, acceleration=np.inf) for j in ARM.description.joints))
    with pytest.raises(aw.InputError, match="axis 1, axis 2"):
        aw.Arm(idle).payload_in_motion(Q, joint_acceleration=0.5)
    few = aw.Arm(replace(ARM.description, joints=ARM.description.joints[:3], links=ARM.description.links[:3]))
    with pytest.raises(aw.InputError, match="cannot turn its tool all ways"):
        few.payload_in_motion(Q[:, :3], turn_acceleration=1)


def test_what_a_motor_gives_is_what_is_written_out_here() -> None:
    assert len(RATIO) == len(MOTOR_PEAK) == 6 and 0 < EFFICIENCY < 1 and ROTOR > 0
    hold = ARM.payload(Q, (0, 0, 0.1), "peak")
    rest = ARM.payload_in_motion(Q, (0, 0, 0.1), tool_acceleration=0)
    np.testing.assert_allclose(rest.mass, hold.mass, rtol=1e-12)
    held = [(q, mass) for q, mass in zip(Q, hold.mass, strict=True) if mass > 0]
    used = np.stack([moved(q, mass, np.zeros(6), np.zeros(6)) for q, mass in held])
    np.testing.assert_allclose(np.abs(used).max(axis=1), 1, rtol=1e-12)
