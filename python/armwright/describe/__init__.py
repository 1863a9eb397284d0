"""Descriptions: what a builder writes about an arm and its cell, in files or in Python, with units, checked."""

from armwright.describe.arm import ArmDescription, Joint, Link
from armwright.describe.cell import CellDescription, Load, Target, Tool, Track
from armwright.describe.load import is_arm_file, load_arm, load_cell, load_targets
from armwright.describe.shapes import Box, Capsule, ConvexHull, Cylinder, HalfSpace, Mesh, Picture, Shape, Sphere

__all__ = [
    "ArmDescription",
    "Box",
    "Capsule",
    "CellDescription",
    "ConvexHull",
    "Cylinder",
    "HalfSpace",
    "Joint",
    "Link",
    "Load",
    "Mesh",
    "Picture",
    "Shape",
    "Sphere",
    "Target",
    "Tool",
    "Track",
    "is_arm_file",
    "load_arm",
    "load_cell",
    "load_targets",
]
