"""One axis that carries a ball of lead off to the side, on bearings of our own numbers, and rows of loading by hand."""

from __future__ import annotations

from typing import Any

import numpy as np

import armwright as aw
from armwright.studies.load_rows import LoadRows

MASS, RADIUS, HEIGHT, GRAVITY = 40.0, 0.5, 0.3, 9.80665
CROSSED: dict[str, Any] = {
    "kind": "crossed roller", "pitch_diameter": 0.1, "dynamic_rating": 20e3, "static_rating": 30e3, "roller_count": 40,
}  # fmt: skip
DEEP: dict[str, Any] = {
    "kind": "deep groove", "arrangement": "fixed and floating", "fixed": "near", "span": 0.2, "dynamic_rating": 15e3,
    "static_rating": (9e3, 8e3), "ball_count": 9,
}  # fmt: skip
TAPERED: dict[str, Any] = {
    "kind": "tapered", "arrangement": "back to back", "span": 0.1, "pressure_centre": 0.01, "dynamic_rating": 40e3,
    "static_rating": 44e3, "contact_angle": "14 deg", "ball_count": 17,
}  # fmt: skip


def slewing(**more: Any) -> aw.SlewingBearing:
    return aw.SlewingBearing(**(CROSSED | more))


def pair(told: dict[str, Any] = DEEP, /, **more: Any) -> aw.BearingPair:
    return aw.BearingPair(**(told | more))


def ball_on_axis(bearing: Any, axis: Any = "z", centre: Any = (RADIUS, 0.0, HEIGHT), **more: Any) -> aw.Cell:
    """The joint's frame is the world's; the ball's centre from there."""
    joint = aw.Joint("axis 1", axis=axis, bearing=bearing)
    return aw.Cell(aw.ArmDescription((joint,), (aw.Link("boom", MASS, centre),), "boom"), **more)


def rows_by_hand(q: Any, qd: Any = 0.0, qdd: Any = 0.0, duty: Any = 0.0, joints: int = 1) -> LoadRows:
    """One case; all joints alike."""
    angle = np.atleast_1d(np.asarray(q, float))
    count = len(angle)

    def column(values: Any) -> Any:
        return np.repeat(np.broadcast_to(np.asarray(values, float), count)[:, None], joints, axis=1)

    flat = np.broadcast_to(np.asarray(duty, float), count).copy()
    return LoadRows(
        column(angle), column(qd), column(qdd), np.full(count, -1, np.int32), (), np.arange(count) * 0.1, flat,
        np.zeros(count, np.int32), ("by hand",), ("cycle",), (),
    )  # fmt: skip
