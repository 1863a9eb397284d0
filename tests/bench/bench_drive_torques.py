"""Motor torques of a 7-joint arm (rigid body, stages by the direction of power, friction, rotors) against pinocchio's
rnea with armature, which has neither stages nor friction; and a cycle of 20 moves with drive check and power, timed."""

from __future__ import annotations

import time
from typing import Any

import numpy as np
import peer
from measure import Row, Size, compare, note
from shared import batch, builds, motions

from armwright import _core
from cases.arms import track_arm
from cases.timed import limited_model

RATIO, ROTOR = 80.0, 1.2e-4
SLIDING = 400.0  # rad/m


def drive(ratio: float, efficiency: float = 1.0, friction: float = 0.0) -> Any:
    spec, stage = _core.model.DriveSpec(), _core.model.StageSpec()
    motor, shaft = spec.motor, spec.motor_friction
    motor.continuous, motor.peak = [(0.0, 4.0), (500.0, 4.0)], [(0.0, 12.0), (600.0, 9.0)]
    motor.rotor_inertia, motor.winding_loss = ROTOR, 3.0
    shaft.coulomb_forward = shaft.coulomb_backward = friction
    shaft.viscous = 0.01 * friction
    stage.ratio, stage.efficiency, stage.efficiency_back = ratio, efficiency, efficiency
    stage.rated_torque, stage.repeated_peak_torque = 1000.0, 2000.0
    spec.motor, spec.motor_friction, spec.stages = motor, shaft, [stage]
    return spec


def driven_model(efficiency: float = 1.0, friction: float = 0.0) -> tuple[Any, np.ndarray]:
    chain = track_arm()
    ratios = np.array([SLIDING if link.kind == "prismatic" else RATIO for link in chain.links])
    drives = [drive(float(ratio), efficiency, friction) for ratio in ratios]
    return limited_model(chain, speed=3.0, acceleration=12.0, drives=drives), ratios


def rows(size: Size) -> list[Row]:
    ideal, ratios = driven_model()
    model, _ = driven_model(0.85, 0.05)
    q = batch(track_arm(), size.batch)
    qd, qdd = motions(q)
    peers = {name: peer.Pin(track_arm(), name) for name in builds("pin")}
    nothing = _core.model.Inertia()
    for pin in peers.values():
        pin.set_armature(ratios**2 * ROTOR)
        ours = _core.motion.motor_torques(ideal, nothing, q, qd, qdd) * ratios
        np.testing.assert_allclose(ours, pin.inverse_dynamics(q, qd, qdd)[1], atol=1e-9)
    cycle_time(size)
    return [
        compare(
            "motor torques with drives, 7 joints", len(q),
            lambda: _core.motion.motor_torques(model, nothing, q, qd, qdd),
            {name: (lambda pin=pin: pin.inverse_dynamics(q, qd, qdd)[0]) for name, pin in peers.items()},
            size.repeats, goal=3.0,
        )
    ]  # fmt: skip


def cycle_of_20_moves(model: Any) -> Any:
    """Out and back between postures, jerk left free, half a second apart."""
    from cases.timed import cycle_of, move_to, planned

    rng = np.random.default_rng(5)
    lower, upper = (np.array(x) for x in (model.lower, model.upper))
    middle, reach = 0.5 * (lower + upper), 0.15 * (upper - lower)
    postures = middle + rng.uniform(-1, 1, (19, model.joint_count)) * reach
    moves = [move_to(p) for p in postures] + [move_to(middle)]
    cycle = cycle_of(middle, moves)
    return planned(model, cycle).motion


def cycle_time(size: Size) -> dict[str, float]:
    """Seconds of timing, drive check with power, and the greatest speed, for a cycle of 20 moves; printed."""
    model, _ = driven_model(0.85, 0.05)
    started = time.process_time()
    motion = cycle_of_20_moves(model)
    planned = time.process_time() - started
    supply = _core.limits.SupplySpec()
    supply.capacitance = 1e-3

    def checked() -> None:
        driven = _core.limits.driven_motion(model, [], motion, 0.005)
        _core.limits.drive_check(model, [], driven, True)
        _core.limits.power(model, driven, supply)

    def factors() -> None:
        scaled = _core.limits.scaled_torques(model, [], motion, 0.005)
        _core.limits.greatest_speed_factor(model, scaled, 1e6)

    took = {"timing": planned}
    for name, call in (("drive check and power", checked), ("how much faster", factors)):
        times = []
        for _ in range(max(2, size.repeats // 3)):
            started = time.process_time()
            call()
            times.append(time.process_time() - started)
        took[name] = sorted(times)[len(times) // 2]
    length = float(motion.time[-1])
    note(f"cycle of 20 moves, {length:.1f} s: " + ", ".join(f"{k} {1e3 * v:.1f} ms" for k, v in took.items()))
    return took
