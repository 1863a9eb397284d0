"""Descriptions: what a builder writes about an arm and its cell, in files or in Python, with units, checked."""

from armwright.describe.arm import ArmDescription, Joint, Link
from armwright.describe.cell import CellDescription, Load, Target, Tool, Track
from armwright.describe.counterbalance import Counterbalance
from armwright.describe.cycle import Cycle, CycleLimits
from armwright.describe.design_numbers import DesignNumber
from armwright.describe.drive import Brake, Drive, Friction
from armwright.describe.load import is_arm_file, load_arm, load_cell, load_cycle, load_parts, load_targets
from armwright.describe.motor import Motor
from armwright.describe.moves import ArcMove, Dwell, JointMove, LineMove, PickUp, SetDown
from armwright.describe.parts_file import Parts
from armwright.describe.shapes import Box, Capsule, ConvexHull, Cylinder, HalfSpace, Mesh, Picture, Shape, Sphere
from armwright.describe.stage import Stage
from armwright.describe.supply import Supply

__all__ = [
    "ArcMove",
    "ArmDescription",
    "Box",
    "Brake",
    "Capsule",
    "CellDescription",
    "ConvexHull",
    "Counterbalance",
    "Cycle",
    "CycleLimits",
    "Cylinder",
    "DesignNumber",
    "Drive",
    "Dwell",
    "Friction",
    "HalfSpace",
    "Joint",
    "JointMove",
    "LineMove",
    "Link",
    "Load",
    "Mesh",
    "Motor",
    "Parts",
    "PickUp",
    "Picture",
    "SetDown",
    "Shape",
    "Sphere",
    "Stage",
    "Supply",
    "Target",
    "Tool",
    "Track",
    "is_arm_file",
    "load_arm",
    "load_cell",
    "load_cycle",
    "load_parts",
    "load_targets",
]
