"""Gravity torques of a 7-joint arm against pinocchio (computeGeneralizedGravity)."""

from __future__ import annotations

import numpy as np
from measure import Row, Size, compare
from shared import batch, seven

from cases.arms import track_arm


def rows(size: Size) -> list[Row]:
    arm, peers = seven()
    q = batch(track_arm(), size.batch)
    for pin in peers.values():
        np.testing.assert_allclose(arm.gravity_torque(q), pin.gravity(q)[1], atol=1e-9)
    timed = {name: (lambda pin=pin: pin.gravity(q)[0]) for name, pin in peers.items()}
    return [compare("gravity torque, 7 joints", len(q), lambda: arm.gravity_torque(q), timed, size.repeats)]
