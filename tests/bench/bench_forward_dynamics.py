"""Forward dynamics of a 7-joint arm against pinocchio (aba)."""

from __future__ import annotations

import numpy as np
from measure import Row, Size, compare
from shared import batch, motions, seven

from cases.arms import track_arm


def rows(size: Size) -> list[Row]:
    arm, peers = seven()
    q = batch(track_arm(), size.batch)
    qd, tau = motions(q)
    tau = 50 * tau
    for pin in peers.values():
        theirs = pin.forward_dynamics(q, qd, tau)[1]
        np.testing.assert_allclose(arm.forward_dynamics(q, qd, tau), theirs, rtol=1e-8, atol=1e-7)
    runs = {name: (lambda pin=pin: pin.forward_dynamics(q, qd, tau)[0]) for name, pin in peers.items()}
    ours = compare(
        "forward dynamics, 7 joints", len(q), lambda: arm.forward_dynamics(q, qd, tau), runs, size.repeats
    )
    return [ours]
