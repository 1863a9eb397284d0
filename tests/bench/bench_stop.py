"""Stops of a braked six-axis arm against mujoco stepping the same arm, at equal accuracy.

Both get the same numbers: rotors as armature, brakes that bite after their delay and Coulomb friction as frictionloss,
viscous friction as damping; stages without losses, since mujoco knows none that depend on the direction of power.
Where the joints stand at the end is compared with our own answer at a tolerance of 1e-12, to which mujoco comes too as
its time step falls (checked). Of its time steps, integrators and settings of the friction's solver the fastest that
stays within the accuracy for every stop counts, and so of our tolerances; where mujoco has no brakes (a fall without
friction), its smooth integration alone is measured. mujoco steps in C, many steps a call."""

from __future__ import annotations

import time
from dataclasses import replace
from functools import lru_cache
from typing import Any

import numpy as np
from measure import Row, Size, compare

import armwright as aw
from armwright import _core
from cases.arms import spherical_arm
from cases.described import described
from cases.mujoco_arm import HARD, model_of
from cases.stopping import SIZES, drive

accuracy = 1e-4  # rad, of every joint at the end
DELAY = 0.048  # s, whole in all time steps
FALL = 0.4  # s
STEPS = (1.6e-2, 8e-3, 4e-3, 2e-3, 1e-3, 5e-4, 2e-4, 1e-4, 5e-5, 2e-5)
TOLERANCES = (1e-3, 1e-4, 1e-5, 1e-6, 1e-7, 1e-8)
VISCOUS = 0.5
COULOMB = np.array([size[4] for size in SIZES])
BRAKES = np.array([size[1] * size[2] for size in SIZES])


@lru_cache
def cell(braked: bool) -> aw.Cell:
    bodies, joints = described(spherical_arm()), []
    for joint, size in zip(bodies.joints, SIZES, strict=True):
        parts = {
            "brake": aw.Brake(size[2], delay=DELAY, energy=1e3) if braked else None,
            "friction": aw.Friction(coulomb=size[4], viscous=VISCOUS) if braked else None,
        }
        joints.append(replace(joint, range=(-20, 20), drive=drive(size, 1.0, 1.0, **parts)))
    return aw.Cell(replace(bodies, joints=tuple(joints)))


def ours(q: Any, qd: Any, tolerance: float, braked: bool) -> Any:
    options = _core.stops.StopOptions()
    options.tolerance, options.time_limit = tolerance, 5.0 if braked else FALL
    model = cell(braked)._model
    return _core.stops.stops(model, [model.load] * len(q), q, qd, options, 1)


def mujoco_model(integrator: str, step: float, braked: bool, solver: str = HARD) -> Any:
    armature = np.array([inertia * ratio**2 for _, ratio, _, inertia, _ in SIZES])
    options = f'timestep="{step!r}" integrator="{integrator}" tolerance="1e-12" iterations="50"'
    viscous = np.full(6, VISCOUS if braked else 0.0)
    return model_of(spherical_arm(), armature, COULOMB if braked else np.zeros(6), viscous, options, solver)


def stepped(model: Any, q: Any, qd: Any, times: Any, braked: bool) -> tuple[float, Any]:
    """Processor seconds, and where the joints are at the end (a little after they ought to stand)."""
    import mujoco

    data, out, step = mujoco.MjData(model), np.empty_like(q), model.opt.timestep
    start = time.process_time()
    for i in range(len(q)):
        mujoco.mj_resetData(model, data)
        data.qpos[:], data.qvel[:] = q[i], qd[i]
        if braked:
            free, caught = round(DELAY / step), int(1.02 * (times[i] - DELAY) / step) + 2
            mujoco.mj_step(model, data, free)
            model.dof_frictionloss[:] = COULOMB + BRAKES
            mujoco.mj_step(model, data, caught)
            model.dof_frictionloss[:] = COULOMB
        else:
            mujoco.mj_step(model, data, round(FALL / step))
        out[i] = data.qpos
    return time.process_time() - start, out


def one(kernel: str, braked: bool, count: int, repeats: int, goal: float) -> Row:
    rng = np.random.default_rng(4)
    q, qd = rng.uniform(-1, 1, (count, 6)), rng.uniform(-2, 2, (count, 6))
    reference = ours(q, qd, 1e-12, braked)

    def error(found: Any) -> float:
        return float(np.abs(found - reference.q).max())

    fit = {}
    for integrator in ("Euler", "RK4"):
        for solver in (HARD, "") if braked else (HARD,):
            for step in STEPS:
                model = mujoco_model(integrator, step, braked, solver)
                if error(stepped(model, q, qd, reference.time, braked)[1]) <= accuracy:
                    fit[f"mujoco {integrator} {step:g} s{'' if solver else ' default friction'}"] = model
                    break
    runs = {n: (lambda model=model: stepped(model, q, qd, reference.time, braked)[0]) for n, model in fit.items()}
    chosen = next(t for t in TOLERANCES if error(ours(q, qd, t, braked).q) <= accuracy)
    return compare(kernel, count, lambda: ours(q, qd, chosen, braked), runs, repeats, goal)


def rows(size: Size) -> list[Row]:
    few = size.batch < 1000
    count, repeats = (2, 2) if few else (12, max(2, size.repeats // 3))
    q = np.full((1, 6), 0.3)
    reference = ours(q, -q, 1e-12, True)
    finest = stepped(mujoco_model("RK4", 1e-5, True), q, -q, reference.time, True)[1]
    assert np.abs(finest - reference.q).max() < 2e-6
    return [
        one(f"braked stop within {accuracy:g} rad, 6 axes", True, count, repeats, goal=10.0),
        one(f"fall of {FALL:g} s within {accuracy:g} rad, 6 axes", False, count, repeats, goal=2.0),
    ]
