"""Rows of loading over the reach: every posture at rest in which the tool gets to the positions of a grid."""

from __future__ import annotations

import numpy as np

from armwright import _core
from armwright.studies import run
from armwright.studies.load_rows import Part
from armwright.studies.payload_map import curve_positions, middle_of_track
from armwright.studies.solve import redundant_values
from armwright.studies.subject import Subject

DIRECTIONS = 24  # of the tool axis, spread over the sphere
_VALUES = 7  # of a joint that a pose leaves free
_FEW = "over the reach: a tool of fewer than six freedoms takes few attitudes; its postures are not looked at"


def reach_part(subject: Subject, spacing: float, load: int, words: str) -> tuple[Part | None, str]:
    """All postures within the ranges that bring the tool to positions ``spacing`` (m; a hundredth of the reach, if that
    is more) apart over the upright half-plane ahead of axis 1, in each of 24 attitudes, a track at mid-stroke, fixtures
    not counted; or, in words, why there are none. ``load``: its place among all."""
    model = subject.model
    if subject.loose is not None:
        return None, _FEW
    distance, _, at = curve_positions(model, spacing)
    spacing = float(distance[1]) if len(distance) > 1 else spacing  # no less than a hundredth of the reach
    positions = at[:, :, 0].reshape(-1, 3)
    attitudes = run.attitudes_for("any", DIRECTIONS, 1)
    poses = np.zeros((len(positions), len(attitudes), 4, 4))
    poses[..., :3, :3], poses[..., :3, 3], poses[..., 3, 3] = attitudes, positions[:, None], 1.0
    tried = redundant_values(subject, _VALUES, middle_of_track(model))
    q, valid, _ = _core.kinematics.solve(subject.inverse, poses.reshape(-1, 4, 4), tried, True)
    found = np.ascontiguousarray(q[valid])
    if not len(found):
        return None, f"over the reach, every {1000 * spacing:.4g} mm: no position is reached"
    still = np.zeros_like(found)
    name = f"over the reach, every {1000 * spacing:.4g} mm, {words}, at rest"
    return Part(name, "rest", found, still, still, load), ""
