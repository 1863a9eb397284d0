"""Source: pinocchio (package ``pin``), whose rnea counts reflected rotor inertia (``rotorInertia`` times
``rotorGearRatio`` squared): motor torques of drives without losses, times their ratios. 1e-11 of the largest torque."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

pin = pytest.importorskip("pinocchio", reason="needs the peers: pip install 'armwright[peers]'")

from armwright import _core  # noqa: E402
from cases.arms import puma560, spherical_arm, three_parallel_arm, track_arm  # noqa: E402
from cases.chain import Chain  # noqa: E402
from cases.peer_arms import built  # noqa: E402
from cases.timed import limited_model  # noqa: E402


@pytest.mark.parametrize("arm", [track_arm, spherical_arm, three_parallel_arm, puma560], ids=lambda arm: arm.__name__)
def test_motor_torques_are_those_of_rnea_with_rotors(arm: Callable[[], Chain]) -> None:
    chain = arm()
    rng = np.random.default_rng(7)
    ratios = rng.uniform(20, 150, chain.count) * rng.choice([-1, 1], chain.count)
    rotors = rng.uniform(1e-5, 5e-4, chain.count)
    drives = []
    for ratio, rotor in zip(ratios, rotors, strict=True):
        drive, motor, stage = _core.model.DriveSpec(), _core.model.MotorSpec(), _core.model.StageSpec()
        motor.continuous = motor.peak = [(0.0, 1e3), (1e5, 1e3)]
        motor.rotor_inertia, stage.ratio = float(rotor), float(ratio)
        drive.motor, drive.stages = motor, [stage]
        drives.append(drive)
    model = limited_model(chain, drives=drives)
    peer = built(chain)
    peer.rotorInertia, peer.rotorGearRatio = rotors, ratios
    peer.armature = peer.rotorInertia * peer.rotorGearRatio**2  # rnea counts these alone (pinocchio 4.1)
    data = peer.createData()
    q, qd, qdd = (rng.uniform(-1, 1, (50, chain.count)) for _ in range(3))
    ours = _core.motion.motor_torques(model, _core.model.Inertia(), q, qd, qdd) * ratios
    theirs = np.array([pin.rnea(peer, data, *row) for row in zip(q, qd, qdd, strict=True)])
    np.testing.assert_allclose(ours, theirs, rtol=0, atol=1e-11 * np.abs(theirs).max())
