"""A braked arm of which some bearings, a tube, the bolts, the guide and the feed are told, of our own numbers."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

import armwright as aw
from cases.borne_cells import pair, slewing
from cases.stopping import braked_arm

BOLTS = aw.BoltPattern(circle_diameter="260 mm", count=6, size="M12", property_class="8.8", preload="35 kN")
GUIDE: dict[str, Any] = {
    "rails": (-0.15, 0.15), "blocks": (-0.14, 0.14), "height": 0.06, "kind": "ball", "dynamic_rating": 17e3,
    "static_rating": 30e3, "rating_distance": 100e3, "lift_share": 1.0, "side_share": 1.0,
}  # fmt: skip


def laden_cell(*, track: bool = True, told: bool = True, **more: Any) -> aw.Cell:
    """``told`` False: nothing of bearings, links, base, guide and feed is described."""
    arm = braked_arm()
    if told:
        joints = (replace(arm.joints[0], bearing=slewing()), replace(arm.joints[1], bearing=pair()), *arm.joints[2:])
        tube = aw.Tube("round", "120 mm", "5 mm", "steel", (0, 0, 0), (0, 0, 0.3), safety=2.0, name="tube")
        arm = replace(arm, joints=joints, links=(replace(arm.links[0], structure=tube), *arm.links[1:]))
    rails = None
    if track:
        beam = aw.RailBeam("600 mm", "steel", second_moment="31 cm^4", deflection_limit="0.1 mm")
        guide = {"guide": aw.Guide(**GUIDE, beam=beam), "feed": aw.RackFeed("2 mm", 20)} if told else {}
        rails = aw.Track("x", (0.0, 1.5), carriage=aw.Link("carriage", 20.0), force_continuous=600, **guide)
    base = aw.Base(BOLTS, "320 mm", friction=0.15) if told else None
    tool, load = aw.Tool((0, 0, 0.12), 1.5, (0, 0, 0.05)), aw.Load(4.0, (0, 0, 0.05))
    return aw.Cell(arm, rails, tool=tool, load=load, base=base, **more)


def sway(cell: aw.Cell, seconds: float = 1.5, size: float = 0.9) -> aw.TimedMotion:
    """All joints from one posture to another, smoothly; then they stand."""
    n = cell.joint_count
    t = np.linspace(0.0, seconds, 201)[:, None]
    x = t / seconds
    rise, speed, change = 10 * x**3 - 15 * x**4 + 6 * x**5, 30 * x**2 - 60 * x**3 + 30 * x**4, 60 * x - 180 * x**2
    change = change + 120 * x**3
    start, way = np.linspace(0.2, 0.6, n), size * np.where(np.arange(n) % 2, -1.0, 1.0)
    return aw.TimedMotion(t[:, 0], start + way * rise, way * speed / seconds, way * change / seconds**2)
