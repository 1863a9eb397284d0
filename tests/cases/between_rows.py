"""What a motion uses of its limits between its rows, worked out apart from the planner: resampled, joint speeds and
accelerations as they come, torques by inverse dynamics, the tool by the Jacobian and its change along the motion."""

from __future__ import annotations

from typing import Any

import numpy as np

from armwright import _core
from cases.chain import Array


def dense_times(time: Array, parts: int) -> Array:
    """Every way between two rows cut into that many parts."""
    inner = time[:-1, None] + np.diff(time)[:, None] * np.arange(1, parts)[None] / parts
    return np.unique(np.concatenate([time, inner.ravel()]))


def greatest_jerk(model: Any, told: Any, parts: int, share: float = 1.0) -> float:
    """The greatest share of any joint's jerk limit, by the change of acceleration between instants."""
    time = np.array(told.time)
    dense = _core.motion.motion_at(told, dense_times(time, parts))
    steps = np.diff(np.array(dense.time))
    jerk = np.diff(dense.acceleration, axis=0)[steps > 1e-7] / steps[steps > 1e-7, None]
    return float(np.max(np.abs(jerk) / (share**3 * np.array(model.jerk))))


def tool_motion(model: Any, q: Array, speed: Array, acceleration: Array) -> tuple[Array, Array, Array, Array]:
    """Velocity and acceleration of the tool point, and of its turning, (rows, 3) each."""
    jacobians = _core.kinematics.jacobians
    step = 1e-6
    ahead, back = (jacobians(model, np.ascontiguousarray(q + sign * step * speed)) for sign in (1, -1))
    here = jacobians(model, np.ascontiguousarray(q))
    twist = np.einsum("rij,rj->ri", here, speed)
    change = np.einsum("rij,rj->ri", here, acceleration) + np.einsum("rij,rj->ri", (ahead - back) / (2 * step), speed)
    return twist[:, :3], change[:, :3], twist[:, 3:], change[:, 3:]


def greatest_uses(model: Any, told: Any, parts: int, tool: dict[str, float], share: float = 1.0) -> dict[str, float]:
    """Of each kind of limit the greatest share used anywhere, ``parts`` instants from row to row. ``tool``: its limits
    by name; ``share``: of the joints' speeds, as in a move."""
    dense = _core.motion.motion_at(told, dense_times(np.array(told.time), parts))
    q, v, a = (np.ascontiguousarray(each) for each in (dense.q, dense.speed, dense.acceleration))
    torque = _core.dynamics.inverse_dynamics(model, _core.model.Inertia(), q, v, a)
    linear, linear_next, turn, turn_next = (np.linalg.norm(each, axis=1).max() for each in tool_motion(model, q, v, a))
    uses = {
        "speed": np.max(np.abs(v) / (share * np.array(model.speed))),
        "acceleration": np.max(np.abs(a) / (share**2 * np.array(model.acceleration))),
        "torque": np.max(np.abs(torque) / np.array(model.torque_peak)),
        "tool speed": linear / tool.get("speed", np.inf),
        "tool acceleration": linear_next / tool.get("acceleration", np.inf),
        "turn speed": turn / tool.get("turn_speed", np.inf),
        "turn acceleration": turn_next / tool.get("turn_acceleration", np.inf),
    }
    return {name: float(use) for name, use in uses.items()}
