"""
The C++ core of armwright, a submodule a room.
"""
from __future__ import annotations
from . import model
from . import kinematics
from . import dynamics
from . import limits
__all__: list[str] = ['Refused', 'dynamics', 'kinematics', 'limits', 'model']
class Refused(ValueError):
    pass
