"""Loads in motion: what is asked, as people pass it, and the answers for postures."""

from __future__ import annotations

from typing import Any

import numpy as np

from armwright import _core, arguments
from armwright.answers import Floats, MovingPayload
from armwright.studies import moving


def motion_of(
    tool_acceleration: Any = None,
    turn_acceleration: Any = None,
    joint_acceleration: float | None = None,
    speed_share: float | None = None,
    gyration: Any = 0.0,
) -> moving.Motion:
    """What is asked of the arm, checked."""
    return moving.Motion(
        arguments.acceleration_or_none("tool_acceleration", tool_acceleration),
        arguments.acceleration_or_none("turn_acceleration", turn_acceleration, turning=True),
        arguments.share_or_none("joint_acceleration", joint_acceleration),
        arguments.share_or_none("speed_share", speed_share),
        arguments.gyration("gyration", gyration),
    )


def payload_in_motion(
    model: _core.model.Model, batch: tuple[int, ...], rows: Floats, centre: Any, **motion: Any
) -> MovingPayload:
    """See Machine.payload_in_motion."""
    setup = moving.prepare(model, arguments.position("centre", centre), motion_of(**motion))
    mass, joint, part, limit, demand, moves = _core.limits.moving_payloads(setup, rows)
    names, place_of = moving.name_parts(setup)
    unlimited = np.isposinf(mass)
    words = [np.array([*known, ""]) for known in (names, moving.LIMITS, moving.DEMANDS)]
    parts = words[0][place_of(joint, part)]
    limits, demands = words[1][np.where(unlimited, -1, limit)], words[2][np.where(unlimited, -1, demand)]
    return MovingPayload(
        mass.reshape(batch),
        joint.reshape(batch),
        parts.reshape(batch),
        limits.reshape(batch),
        demands.reshape(batch),
        moves.reshape(batch),
        tuple(model.joint_names),
    )
