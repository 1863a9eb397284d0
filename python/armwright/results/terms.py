"""What a study's result is told with: variables, attributes, and those that all studies share."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Kind = Literal["float", "bool", "int", "str"]

GRID = ("x", "y", "z")
BATCH = "..."  # stands for any number of leading dims of any name


@dataclass(frozen=True)
class Variable:
    """A variable or coordinate of one study.

    ``dims`` in order; a leading "..." stands for any batch dims. ``unit`` is SI; "1" for shares, codes and words.
    ``flags`` names the integer codes from 0 up. ``required``: the study always gives it. ``least`` and ``greatest``
    bound the finite values. ``nan`` and ``infinite`` say what NaN and infinity mean; "" where they are refused.
    """

    name: str
    dims: tuple[str, ...]
    unit: str
    long_name: str
    kind: Kind = "float"
    required: bool = True
    flags: tuple[str, ...] = ()
    least: float | None = None
    greatest: float | None = None
    nan: str = ""
    infinite: str = ""


@dataclass(frozen=True)
class Attribute:
    """An attribute of a study's data set. ``length`` is 0 for a single value, else the number of values."""

    name: str
    unit: str
    meaning: str
    kind: Kind = "float"
    required: bool = True
    length: int = 0
    choices: tuple[str, ...] = ()


@dataclass(frozen=True)
class Study:
    """What the data set of one study holds."""

    name: str
    meaning: str
    coords: tuple[Variable, ...]
    variables: tuple[Variable, ...]
    attributes: tuple[Attribute, ...]

    def find(self, name: str) -> Variable | None:
        """The variable or coordinate of that name."""
        return next((v for v in self.coords + self.variables if v.name == name), None)

    def find_attribute(self, name: str) -> Attribute | None:
        """The attribute of that name, those common to all studies included."""
        return next((a for a in COMMON_ATTRIBUTES + self.attributes if a.name == name), None)


COMMON_ATTRIBUTES = (
    Attribute("study", "1", "name of the study", "str"),
    Attribute("armwright_version", "1", "version of the program that computed it", "str"),
    Attribute("inputs_digest", "1", "SHA-256 of all that went in, as 64 hexadecimal digits", "str"),
    Attribute("arm_name", "1", "name of the arm", "str"),
    Attribute("cell_name", "1", "name of the cell", "str", required=False),
    Attribute("assumptions", "1", "what was assumed because it was not given, one a line", "str", required=False),
)

JOINT = Variable("joint", ("joint",), "1", "names of the joints, the track first", "str")
JOINT_UNIT = Variable("joint_unit", ("joint",), "1", 'unit of each joint: "m" where it slides, else "rad"', "str",
                       required=False)
XYZ = Variable("xyz", ("xyz",), "1", "components in the world frame", "str", required=False)
BASE_POSITION = Attribute("base_position", "m", "origin of the arm's base in the world, at track position 0",
                          required=False, length=3)
TRACK_SPAN = Attribute("track_span", "m", "where the base is at both ends of the track: x, y, z, then x, y, z",
                       required=False, length=6)
