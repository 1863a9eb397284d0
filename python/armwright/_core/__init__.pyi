"""
The C++ core of armwright, a submodule a room.
"""
from __future__ import annotations
import numpy
import numpy.typing
import typing
from . import model
from . import kinematics
from . import elements
from . import dynamics
from . import stops
from . import motion
from . import limits
from . import clearance
from . import studies
__all__: list[str] = ['Refused', 'all_within', 'check_build', 'clearance', 'dynamics', 'elements', 'kinematics', 'limits', 'model', 'motion', 'stops', 'studies']
class Refused(ValueError):
    pass
def all_within(numbers: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], limit: typing.SupportsFloat | typing.SupportsIndex) -> bool:
    """
    Whether every number is at most limit in size; one that is not a number is not.
    """
def check_build() -> str:
    """
    What is wrong with the libraries that this module runs on; "" if nothing is.
    """
