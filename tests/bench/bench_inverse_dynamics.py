"""Inverse dynamics and mass matrices of a 7-joint arm against pinocchio (rnea, crba)."""

from __future__ import annotations

import numpy as np
from measure import Row, Size, compare
from shared import batch, motions, seven

from cases.arms import track_arm


def rows(size: Size) -> list[Row]:
    arm, peers = seven()
    q = batch(track_arm(), size.batch)
    qd, qdd = motions(q)
    for pin in peers.values():
        np.testing.assert_allclose(arm.inverse_dynamics(q, qd, qdd), pin.inverse_dynamics(q, qd, qdd)[1], atol=1e-9)
        np.testing.assert_allclose(arm.mass_matrix(q), pin.mass_matrix(q)[1], atol=1e-9)
    torques = {name: (lambda pin=pin: pin.inverse_dynamics(q, qd, qdd)[0]) for name, pin in peers.items()}
    matrices = {name: (lambda pin=pin: pin.mass_matrix(q)[0]) for name, pin in peers.items()}
    return [
        compare(
            "inverse dynamics, 7 joints", len(q), lambda: arm.inverse_dynamics(q, qd, qdd), torques, size.repeats, 13
        ),
        compare("mass matrix, 7 joints", len(q), lambda: arm.mass_matrix(q), matrices, size.repeats),
    ]
