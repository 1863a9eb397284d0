"""Tool poses of a 7-joint arm against pinocchio (forwardKinematics and the tool's frame placement)."""

from __future__ import annotations

import numpy as np
from measure import Row, Size, compare
from shared import batch, seven

from cases.arms import track_arm


def rows(size: Size) -> list[Row]:
    arm, peers = seven()
    q = batch(track_arm(), size.batch)
    for pin in peers.values():
        np.testing.assert_allclose(arm.tool_pose(q), pin.tool_pose(q)[1], atol=1e-12)
    timed = {name: (lambda pin=pin: pin.tool_pose(q)[0]) for name, pin in peers.items()}
    return [compare("tool pose, 7 joints", len(q), lambda: arm.tool_pose(q), timed, size.repeats, 10)]
