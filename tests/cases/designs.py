"""A cell whose answers can be worked out by hand, for tests of studies over designs."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import armwright as aw
from cases.described import positioner

G = 9.80665
UPPER, FORE = 0.6, 0.5  # m, of the positioner; 8 kg and 3 kg in their middles; axes 2 and 3 hold 160 and 55 N m


def level_cell(**more: Any) -> aw.Cell:
    """The positioner, elbow up, with its tool at two work points 1.0 m and 0.9 m out at the height of axis 2; 2 kg
    wanted."""
    arm = positioner()
    told: dict[str, Any] = {
        "targets": [aw.Target.pointing((reach, 0, 0), "x", name) for reach, name in ((1.0, "far"), (0.9, "near"))],
        "load": aw.Load(2.0),
    }
    return aw.Cell(replace(arm, joints=tuple(_elbow_up(joint) for joint in arm.joints)), **(told | more))


def _elbow_up(joint: aw.Joint) -> aw.Joint:
    """Axis 1 ahead, the elbow above the line to the wrist."""
    ranges = {"axis 1": (-0.5, 0.5), "axis 2": (0.0, 2.0), "axis 3": (-3.0, 0.0)}
    return replace(joint, range=ranges.get(joint.name, joint.range))


def held_at(reach: float, upper: float = UPPER, fore: float = FORE, masses: tuple[float, float] = (8.0, 3.0),
            torques: tuple[float, float] = (160.0, 55.0)) -> float:
    """Mass that axes 2 and 3 hold with the wrist ``reach`` out at the height of axis 2, elbow up, kg: levers by the law
    of cosines."""
    knee = (reach**2 + upper**2 - fore**2) / (2 * reach)  # of the elbow, out from axis 2
    second = (torques[0] / G - masses[0] * knee / 2 - masses[1] * (knee + reach) / 2) / reach
    third = (torques[1] / G - masses[1] * (reach - knee) / 2) / abs(reach - knee)
    return min(second, third)
