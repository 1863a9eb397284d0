"""Source: as test_puma560.py: Corke and Armstrong-Hélouvry, ICRA 1994, with the inverse dynamics printed in the tests
of robotics-toolbox-python (tests/test_DHRobot.py), friction and armature included; here through motors, signed gear
ratios and friction at the motor's shaft. g = 9.81 m/s². Half a unit of the last printed digit (six digits)."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

import armwright as aw
from armwright import _core
from cases.arms import puma560
from cases.described import described

G = 9.81
QN = np.array([0, np.pi / 4, np.pi, 0, np.pi / 4, 0])
# Motor inertia (kg m²), gear ratio, viscous (N m s/rad) and Coulomb (N m; joint forward, backward) friction, all on the
# motor's side.
JM = np.array([200e-6] * 3 + [33e-6] * 3)
RATIO = np.array([-62.6111, 107.815, -53.7063, 76.0364, 71.923, 76.686])
VISCOUS = np.array([1.48e-3, 0.817e-3, 1.38e-3, 71.2e-6, 82.6e-6, 36.7e-6])
COULOMB = np.array([
    [0.395, 0.435], [0.126, 0.071], [0.132, 0.105], [11.2e-3, 16.9e-3], [9.26e-3, 14.5e-3], [3.96e-3, 10.5e-3],
])  # fmt: skip


@pytest.fixture(scope="module")
def driven() -> aw.Cell:
    arm = described(puma560())
    joints = []
    for k, joint in enumerate(arm.joints):
        forward, backward = COULOMB[k]
        if RATIO[k] < 0:  # the table tells Coulomb friction by the joint's sense; this motor turns the other way
            forward, backward = backward, forward
        drive = aw.Drive(
            aw.Motor(100.0, rotor_inertia=float(JM[k]), max_speed=1e4),
            (aw.Stage("gear", float(RATIO[k]), 1.0, 1.0),),
            motor_friction=aw.Friction((float(forward), float(backward)), float(VISCOUS[k])),
        )
        joints.append(replace(joint, drive=drive, torque_continuous=np.inf, torque_peak=np.inf))
    return aw.Cell(replace(arm, joints=tuple(joints)), gravity=(0, 0, -G))


def motor_side(cell: aw.Cell, qd: float, qdd: float) -> np.ndarray:
    """Motor torques times the ratios: what the sources print."""
    q = QN[None, :]
    torque = _core.motion.motor_torques(
        cell._model, _core.model.Inertia(), q, np.full_like(q, qd), np.full_like(q, qdd)
    )
    return np.asarray(torque[0] * RATIO)


@pytest.mark.parametrize(
    ("qd", "qdd", "printed"),
    [
        (0, 1, (3.35311, 36.0025, 7.42596, 0.190043, 0.203441, 0.194133)),
        (1, 1, (32.4952, 60.867, 17.7436, 1.45452, 1.29911, 0.713781)),
        (1, 0, (29.1421, 56.5044, 16.3528, 1.26448, 1.12392, 0.519648)),
        (0, 0, (0, 31.6399, 6.0351, 0, 0.0283, 0)),
    ],
)
def test_published_torques(driven: aw.Cell, qd: float, qdd: float, printed: tuple[float, ...]) -> None:
    for found, expected in zip(motor_side(driven, qd, qdd), printed, strict=True):
        digits = 4 if (qd, qdd) == (0, 0) else 5 - max(0, int(np.floor(np.log10(abs(expected)))))
        assert found == pytest.approx(expected, abs=0.51 * 10.0 ** -min(digits, 6))


@pytest.mark.parametrize(
    ("qd", "recomputed"),
    [
        (1, (30.5332, 23.0816, 11.0697, 1.2633, 1.0933, 0.5195)),
        (-1, (-33.0377, -17.1517, -9.6196, -1.6967, -1.4702, -1.0210)),
    ],
)
def test_joint_friction_both_ways(driven: aw.Cell, qd: float, recomputed: tuple[float, ...]) -> None:
    # |G| (B |G| qd + Tc): recomputed from the table
    links = driven.inverse_dynamics(QN, np.full(6, float(qd)), np.zeros(6))
    np.testing.assert_allclose(motor_side(driven, qd, 0) - links, recomputed, rtol=0, atol=0.51e-4)
