"""Gravity torques of a 7-joint arm, and the largest mass that each posture holds with what sets it, against pinocchio
(computeGeneralizedGravity: the torques alone, in both rows)."""

from __future__ import annotations

import numpy as np
from measure import Row, Size, compare
from peer import G, Pin
from shared import batch, seven

from cases.arms import track_arm
from cases.chain import Array


def masses(pin: Pin, q: Array) -> Array:
    """What each joint could carry at the tool point, kg, by the peer's torques: linear in the mass."""
    effort = np.array([link.effort for link in track_arm().links])
    held, lever = pin.gravity(q)[1], pin.jacobian(q)[1][0][:, 2] * G
    with np.errstate(divide="ignore", invalid="ignore"):
        most = (effort - np.sign(lever) * held) / np.abs(lever)
    most = np.where(np.abs(lever) > 1e-9, np.maximum(most, 0), np.inf)
    return np.asarray(np.where((np.abs(held) > effort).any(axis=1), 0, most.min(axis=1)))


def rows(size: Size) -> list[Row]:
    arm, peers = seven()
    q = batch(track_arm(), size.batch)
    for pin in peers.values():
        np.testing.assert_allclose(arm.gravity_torque(q), pin.gravity(q)[1], atol=1e-9)
        np.testing.assert_allclose(arm.payload(q).mass, masses(pin, q), rtol=1e-6, atol=1e-6)
    timed = {name: (lambda pin=pin: pin.gravity(q)[0]) for name, pin in peers.items()}
    most = "largest mass held, each joint's and the first, 7 joints"
    return [
        compare("gravity torque, 7 joints", len(q), lambda: arm.gravity_torque(q), timed, size.repeats, 13),
        compare(most, len(q), lambda: arm.payload(q), timed, size.repeats, 13),
    ]
