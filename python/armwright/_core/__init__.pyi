"""
The C++ core of armwright, a submodule a room.
"""
from __future__ import annotations
from . import model
from . import kinematics
from . import elements
from . import dynamics
from . import stops
from . import motion
from . import limits
from . import clearance
from . import studies
__all__: list[str] = ['Refused', 'check_build', 'clearance', 'dynamics', 'elements', 'kinematics', 'limits', 'model', 'motion', 'stops', 'studies']
class Refused(ValueError):
    pass
def check_build() -> str:
    """
    What is wrong with the libraries that this module runs on; "" if nothing is.
    """
