"""Jacobians of a 7-joint arm's tool point, and Yoshikawa's manipulability, against pinocchio (computeFrameJacobian;
then the root of det J Jᵀ by Cholesky)."""

from __future__ import annotations

import numpy as np
from measure import Row, Size, compare
from shared import batch, seven

from cases.arms import track_arm


def rows(size: Size) -> list[Row]:
    arm, peers = seven()
    q = batch(track_arm(), size.batch)
    for pin in peers.values():
        J, index = pin.jacobian(q, index=True)[1]
        np.testing.assert_allclose(arm.jacobian(q), J, atol=1e-12)
        np.testing.assert_allclose(arm.manipulability(q), index, atol=1e-9)
    plain = {name: (lambda pin=pin: pin.jacobian(q)[0]) for name, pin in peers.items()}
    indexed = {name: (lambda pin=pin: pin.jacobian(q, index=True)[0]) for name, pin in peers.items()}
    return [
        compare("Jacobian, 7 joints", len(q), lambda: arm.jacobian(q), plain, size.repeats),
        compare("manipulability, 7 joints", len(q), lambda: arm.manipulability(q), indexed, size.repeats, 16),
    ]
