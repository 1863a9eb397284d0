"""Pictures of results. They read results and scenes only, and compute nothing beyond picking and placing.

Every picture takes an ``ax``, uses it and gives it back; without one it makes a figure. matplotlib is imported when the
first picture is drawn.
"""

from armwright.pictures.base import bolt_pattern
from armwright.pictures.canvas import save
from armwright.pictures.cell_plan import plan
from armwright.pictures.changes import alternatives, changes
from armwright.pictures.drives import cycle_torques, operating_point, operating_points, speed_course, torque_course
from armwright.pictures.hanging import hanging
from armwright.pictures.live import live
from armwright.pictures.outline import axis_ranges, outline_plan, outline_section, outlines
from armwright.pictures.page3d import page
from armwright.pictures.parts import part_safeties
from armwright.pictures.payload import payload_curve, payload_section
from armwright.pictures.payload_at_speed import payload_at_speed, payload_at_speed_curve
from armwright.pictures.placement import placement_along, placement_plan, placement_set
from armwright.pictures.power import power
from armwright.pictures.sections import section
from armwright.pictures.slowing import payload_against_time
from armwright.pictures.stop import holding, stop
from armwright.pictures.structure import sag_causes, sag_over_reach
from armwright.pictures.sweep import sweep
from armwright.pictures.switches import switches
from armwright.pictures.track import track_intervals, track_worth
from armwright.pictures.track_loads import block_course, block_loads
from armwright.pictures.truth import error_shares
from armwright.pictures.uncertainty import uncertainty
from armwright.pictures.wrenches import wrenches
from armwright.results.units import UnitSystem

__all__ = [
    "UnitSystem", "alternatives", "axis_ranges", "block_course", "block_loads", "bolt_pattern", "changes",
    "cycle_torques", "error_shares", "hanging", "holding", "live", "operating_point", "operating_points",
    "outline_plan", "outline_section", "outlines", "page", "part_safeties", "payload_against_time", "payload_at_speed",
    "payload_at_speed_curve", "payload_curve", "payload_section", "placement_along", "placement_plan", "placement_set",
    "plan", "power",
    "sag_causes", "sag_over_reach", "save", "section", "speed_course", "stop", "sweep", "switches",
    "torque_course",
    "track_intervals", "track_worth", "uncertainty", "wrenches",
]
