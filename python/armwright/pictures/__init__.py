"""Pictures of results. They read results and scenes only, and compute nothing beyond picking and placing.

Every picture takes an ``ax``, uses it and gives it back; without one it makes a figure. matplotlib is imported when the
first picture is drawn.
"""

from armwright.pictures.canvas import save
from armwright.pictures.cell_plan import plan
from armwright.pictures.outline import axis_ranges, outline_plan, outline_section, outlines
from armwright.pictures.page3d import page
from armwright.pictures.payload import payload_curve, payload_section
from armwright.pictures.payload_at_speed import payload_at_speed, payload_at_speed_curve
from armwright.pictures.sections import section
from armwright.pictures.units import UnitSystem

__all__ = [
    "UnitSystem",
    "axis_ranges", "outline_plan", "outline_section", "outlines", "page", "payload_at_speed", "payload_at_speed_curve",
    "payload_curve", "payload_section", "plan",
    "save", "section",
]
