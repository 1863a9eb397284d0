"""Source: mujoco (package ``mujoco``), stepping the same arm with a small time step: armature for rotors, frictionloss
for brakes and Coulomb friction, damping for viscous friction, all in numbers of our own. Stages without losses:
mujoco knows none that depend on the direction of power.

Tolerances: 3e-6 rad at rest, with its friction as hard as it goes at 2e-5 s (at 1e-5 s it comes to 3e-8 rad); 1e-7 rad
for a fall without friction, Runge-Kutta at 1e-3 s."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

mujoco = pytest.importorskip("mujoco", reason="needs the peers: pip install 'armwright[peers]'")

import armwright as aw  # noqa: E402
from cases.arms import spherical_arm  # noqa: E402
from cases.chain import Array  # noqa: E402
from cases.described import described  # noqa: E402
from cases.mujoco_arm import model_of  # noqa: E402
from cases.stopping import SIZES, drive  # noqa: E402

RATIO, BRAKE, INERTIA, COULOMB = (np.array([size[i] for size in SIZES]) for i in (1, 2, 3, 4))
DELAY = 0.048


def cell(**parts: object) -> aw.Cell:
    bodies = described(spherical_arm())
    joints = [
        replace(joint, range=(-20, 20), drive=drive(size, 1.0, 1.0, **{key: of(i) for key, of in parts.items()}))  # type: ignore[operator]
        for i, (joint, size) in enumerate(zip(bodies.joints, SIZES, strict=True))
    ]
    return aw.Cell(replace(bodies, joints=tuple(joints)))


def stepped(model: object, q: Array, qd: Array, steps: list[tuple[int, Array]]) -> Array:
    data = mujoco.MjData(model)
    data.qpos[:], data.qvel[:] = q, qd
    for count, friction in steps:
        model.dof_frictionloss[:] = friction  # type: ignore[attr-defined]
        mujoco.mj_step(model, data, count)
    return np.array(data.qpos)


def test_a_braked_stop() -> None:
    def friction(i: int) -> aw.Friction:
        return aw.Friction(COULOMB[i], viscous=0.5)

    ours = cell(brake=lambda i: aw.Brake(BRAKE[i], delay=DELAY), friction=friction)
    rng = np.random.default_rng(8)
    model = model_of(spherical_arm(), INERTIA * RATIO**2, COULOMB, np.full(6, 0.5),
                     'timestep="2e-5" integrator="RK4" tolerance="1e-12" iterations="50"')  # fmt: skip
    for q, qd in rng.uniform(-1, 1, (3, 2, 6)):
        found = ours.stop(q, 2 * qd)
        assert found.end.item() == "rest"
        caught = int(1.02 * (found.stop_time.item() - DELAY) / 2e-5) + 2
        rest = stepped(model, q, 2 * qd, [(2400, COULOMB), (caught, COULOMB + BRAKE * RATIO)])
        np.testing.assert_allclose(found.stopped_at.values, rest, rtol=0, atol=3e-6)


def test_a_fall_without_friction() -> None:
    ours = cell(brake=lambda i: None, friction=lambda i: None)
    model = model_of(spherical_arm(), INERTIA * RATIO**2, np.zeros(6), np.zeros(6),
                     'timestep="1e-3" integrator="RK4"')  # fmt: skip
    for q, qd in np.random.default_rng(9).uniform(-1, 1, (3, 2, 6)):
        found = ours.stop(q, qd, time_limit=0.5)
        assert found.end.item() == "still moving"
        there = stepped(model, q, qd, [(500, np.zeros(6))])
        np.testing.assert_allclose(found.stopped_at.values, there, rtol=0, atol=1e-7)
