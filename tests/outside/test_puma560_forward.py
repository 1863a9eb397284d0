"""Source: the PUMA 560 model of P. I. Corke and B. Armstrong-Helouvry (Proc. IEEE ICRA 1994), with motor inertia, gear
ratios and friction of the same table, and the figures printed for it in tests/test_DHRobot.py of
petercorke/robotics-toolbox-python. Tolerance: half a unit of the last printed digit. Published with g = 9.81 m/s².

Here the motors are described as motors and stages (gear ratios are signed), so that the rotors come in through the
drives; test_puma560.py adds them by hand. Friction is no part of forward_dynamics: it is taken off the torques, by
the table. And Craig's two links (Introduction to Robotics, eq. 6.58, from memory), solved for the accelerations."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

import armwright as aw
from cases.arms import puma560
from cases.chain import Chain, Link, pose
from cases.described import described

PI = np.pi
QN = np.array([0, PI / 4, PI, 0, PI / 4, 0])
G = 9.81
JM = np.array([200e-6] * 3 + [33e-6] * 3)
RATIO = np.array([-62.6111, 107.815, -53.7063, 76.0364, 71.923, 76.686])
VISCOUS = np.array([1.48e-3, 0.817e-3, 1.38e-3, 71.2e-6, 82.6e-6, 36.7e-6])
COULOMB = np.array([0.395, 0.126, 0.132, 11.2e-3, 9.26e-3, 3.96e-3])  # in the sense of the joint's positive motion


@pytest.fixture(scope="module")
def arm() -> Any:
    bodies = described(puma560())
    joints = [
        replace(joint, range=(-PI, PI), drive=aw.Drive(
            aw.Motor(continuous=1.0, peak=3.0, rotor_inertia=JM[i], max_speed=600.0),
            [aw.Stage("gear", float(RATIO[i]), efficiency=0.9)],
        ))
        for i, joint in enumerate(bodies.joints)
    ]  # fmt: skip
    return aw.Cell(replace(bodies, joints=tuple(joints)), gravity=(0, 0, -G))


def printed(values: np.ndarray, digits: int, expected: Any) -> None:
    np.testing.assert_allclose(values, expected, rtol=0, atol=0.5001 * 10.0**-digits)


def test_mass_matrix(arm: Any) -> None:
    M = arm.mass_matrix(QN, drives=True)
    printed(np.diag(M), 4, (3.6594, 4.4137, 0.9378, 0.1925, 0.1713, 0.1941))
    printed(M @ np.array([1.0, 2, 3, 1, 2, 3]), 4, (3.1500, 9.4805, 3.6189, 0.1901, 0.3519, 0.5823))
    assert np.abs(np.diag(arm.mass_matrix(QN)) - np.diag(M)).min() > 0.1, "the rotors' part"


def test_inverse_dynamics_with_motor_inertia(arm: Any) -> None:
    """At rest, all joints accelerating by 1 rad/s²: no friction in it."""
    torques = arm.inverse_dynamics(QN, 0, np.ones(6), drives=True)
    digits = np.array((5, 4, 5, 6, 6, 6))
    expected = np.array((3.35311, 36.0025, 7.42596, 0.190043, 0.203441, 0.194133))
    np.testing.assert_array_less(np.abs(torques - expected), 0.51 * 10.0**-digits)


def test_forward_dynamics(arm: Any) -> None:
    """At qn; with the friction of the table, as published; without it, as recomputed by the sources' own model."""
    qd = np.array([0.1, 0.2, 0.8, 0.2, 0.5, 1])
    tau = np.array([1, 3.2, 1.8, 0.1, 0.7, 4.6])
    friction = np.abs(RATIO) * (VISCOUS * np.abs(RATIO) * qd + COULOMB)
    published = (-7.4102, -9.8432, -10.9694, -4.4314, -0.9881, 21.0228)
    printed(arm.forward_dynamics(QN, qd, tau - friction), 4, published)
    printed(arm.forward_dynamics(QN, qd, tau), 4, (-0.3540, -6.3989, -2.0685, 0.5112, 4.0212, 23.6985))


def test_two_links_of_craig() -> None:
    """m = (2, 1) kg, l = (0.5, 0.4) m, q = (30, 45) deg, w = (1, 2) rad/s: tau = 15.754195, 1.82129136 N m go with
    accelerations of 3 and -1.5 rad/s²."""
    links = (
        Link(np.eye(4), (0, -1, 0), mass=2.0, centre=np.array([0.5, 0, 0])),
        Link(pose((0.5, 0, 0)), (0, -1, 0), mass=1.0, centre=np.array([0.4, 0, 0])),
    )
    two = aw.Cell(described(Chain("two links", links)), gravity=(0, 0, -G))
    q = np.deg2rad([30, 45])
    np.testing.assert_allclose(two.forward_dynamics(q, [1, 2], [15.754195, 1.82129136]), [3, -1.5], atol=3e-6)
