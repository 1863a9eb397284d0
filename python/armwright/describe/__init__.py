"""Descriptions: what a builder writes about an arm and its cell, in files or in Python, with units, checked."""

from armwright.describe.arm import ArmDescription, Joint, Link
from armwright.describe.base import Base
from armwright.describe.bearing import BearingPair, SlewingBearing
from armwright.describe.bolts import BoltPattern
from armwright.describe.cell import CellDescription, Load, Target, Tool
from armwright.describe.counterbalance import Counterbalance
from armwright.describe.cycle import Cycle, CycleLimits
from armwright.describe.design_numbers import DesignNumber
from armwright.describe.drive import Brake, Drive, Friction
from armwright.describe.feed import BeltFeed, RackFeed, ScrewFeed
from armwright.describe.guide import Guide, RailBeam
from armwright.describe.lifting import LiftingEye
from armwright.describe.load import is_arm_file, load_arm, load_cell, load_cycle, load_parts, load_targets
from armwright.describe.material import Material
from armwright.describe.motor import Motor
from armwright.describe.moves import ArcMove, Dwell, JointMove, LineMove, PickUp, SetDown
from armwright.describe.parts_file import Parts
from armwright.describe.service import ServiceVolume
from armwright.describe.shapes import Box, Capsule, ConvexHull, Cylinder, HalfSpace, Mesh, Picture, Shape, Sphere
from armwright.describe.stage import Stage
from armwright.describe.structure import LinkStiffness, Tube
from armwright.describe.supply import Supply
from armwright.describe.track import Track

__all__ = [
    "ArcMove",
    "ArmDescription",
    "Base",
    "BearingPair",
    "BeltFeed",
    "BoltPattern",
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
    "Guide",
    "HalfSpace",
    "Joint",
    "JointMove",
    "LiftingEye",
    "LineMove",
    "Link",
    "LinkStiffness",
    "Load",
    "Material",
    "Mesh",
    "Motor",
    "Parts",
    "PickUp",
    "Picture",
    "RackFeed",
    "RailBeam",
    "ScrewFeed",
    "ServiceVolume",
    "SetDown",
    "Shape",
    "SlewingBearing",
    "Sphere",
    "Stage",
    "Supply",
    "Target",
    "Tool",
    "Track",
    "Tube",
    "is_arm_file",
    "load_arm",
    "load_cell",
    "load_cycle",
    "load_parts",
    "load_targets",
]
