"""Kinds of quantities of drives and motion, beside those of units.py. Where a joint slides, the kinds in m and N stand
for those in rad and N m."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from typing import Annotated, Any

from armwright.describe.units import ANGLE, FORCE, INERTIA, LENGTH, NUMBER, SHARE, TORQUE, Kind

POWER = Kind("a power", "W", ("W", "kW", "hp", "watt"), "750 W", least=0.0)
ENERGY = Kind("an energy", "J", ("J", "kJ", "W*s", "W*h", "joule"), "45 J", above=0.0)
ANGULAR_SPEED = Kind("an angular speed", "rad/s", ("rpm", "rad/s", "deg/s", "turn/s", "krpm"), "3000 rpm", above=0.0)
LINEAR_SPEED = Kind("a speed", "m/s", ("m/s", "mm/s", "m/min", "in/s", "ft/min"), "0.8 m/s", above=0.0)
ANGULAR_ACCELERATION = Kind(
    "an angular acceleration", "rad/s^2", ("deg/s^2", "rad/s^2", "rpm/s"), "400 deg/s^2", above=0.0
)
LINEAR_ACCELERATION = Kind("an acceleration", "m/s^2", ("m/s^2", "mm/s^2", "ft/s^2"), "2.5 m/s^2", above=0.0)
ANGULAR_JERK = Kind("an angular jerk", "rad/s^3", ("deg/s^3", "rad/s^3"), "4000 deg/s^3", above=0.0)
LINEAR_JERK = Kind("a jerk", "m/s^3", ("m/s^3", "mm/s^3"), "20 m/s^3", above=0.0)
ROTARY_INERTIA = replace(INERTIA, example="0.42 kg*cm^2", least=0.0)
STIFFNESS = Kind("a torsional stiffness", "N*m/rad", ("N*m/rad", "N*m/arcmin", "kN*m/rad", "N*m/deg"), "31 N*m/arcmin",
                 above=0.0)  # fmt: skip
LINEAR_STIFFNESS = Kind("a stiffness", "N/m", ("N/m", "N/mm", "N/um", "kN/m", "lbf/in"), "120 N/um", above=0.0)
VISCOUS = Kind("a viscous friction", "N*m*s", ("N*m*s", "N*m*s/rad", "N*m/rpm", "mN*m/rpm"), "0.002 N*m*s", least=0.0)
LINEAR_VISCOUS = Kind("a viscous friction", "N*s/m", ("N*s/m", "N*s/mm"), "40 N*s/m", least=0.0)
VOLTAGE = Kind("a voltage", "V", ("V", "kV", "volt"), "230 V", above=0.0)
CURRENT = Kind("a current", "A", ("A", "mA", "ampere"), "16 A", above=0.0)
RESISTANCE = Kind("a resistance", "ohm", ("ohm", "mohm", "kohm", "Ω"), "1.3 ohm", above=0.0)
TORQUE_CONSTANT = Kind("a torque constant", "N*m/A", ("N*m/A", "mN*m/A", "lbf*in/A"), "0.45 N*m/A", above=0.0)
CAPACITANCE = Kind("a capacitance", "F", ("uF", "mF", "F", "farad"), "1500 uF", above=0.0)
TIME = Kind("a time", "s", ("s", "ms", "min", "h", "second"), "1.5 s", least=0.0)
CYCLE_TIME = replace(TIME, most=1e6)  # twelve days; of much more, the steps of a move would be lost beside it
LIFE = replace(TIME, name="a running time", units=("h", "min", "s"), example="7000 h", above=0.0)
LOSS_FACTOR = Kind("a loss by squared torque", "W/(N*m)^2", ("W/(N*m)^2",), "5.2 W/(N*m)^2", above=0.0)
SIGNED_RATIO = replace(NUMBER, name="a ratio of input to output turns, negative if it reverses", example="101")
COUNTS = replace(NUMBER, name="a whole number of counts a turn", example="8388608", least=1.0, whole=True)
EXPONENT = replace(NUMBER, name="an exponent", example="3", least=1.0, most=12.0)
RESOLUTION = replace(ANGLE, above=0.0, example="0.02 deg")
BACKLASH = replace(ANGLE, least=0.0, example="1 arcmin")
LINEAR_BACKLASH = replace(LENGTH, least=0.0, example="0.02 mm")
POSITIVE_TORQUE = replace(TORQUE, least=None, above=0.0)
POSITIVE_FORCE = replace(FORCE, least=None, above=0.0)
RATE = replace(LINEAR_STIFFNESS, name="a spring rate", units=("N/mm", "N/m", "lbf/in"), example="3.2 N/mm")

Power = Annotated[float, POWER]
Energy = Annotated[float, ENERGY]
AngularSpeed = Annotated[float, ANGULAR_SPEED]
LinearSpeed = Annotated[float, LINEAR_SPEED]
LinearAcceleration = Annotated[float, LINEAR_ACCELERATION]
LinearJerk = Annotated[float, LINEAR_JERK]
AngularAcceleration = Annotated[float, ANGULAR_ACCELERATION]
RotaryInertia = Annotated[float, ROTARY_INERTIA]
Voltage = Annotated[float, VOLTAGE]
Current = Annotated[float, CURRENT]
Resistance = Annotated[float, RESISTANCE]
TorqueConstant = Annotated[float, TORQUE_CONSTANT]
Capacitance = Annotated[float, CAPACITANCE]
Time = Annotated[float, TIME]
CycleTime = Annotated[float, CYCLE_TIME]
Life = Annotated[float, LIFE]
LossFactor = Annotated[float, LOSS_FACTOR]
Counts = Annotated[float, COUNTS]
Exponent = Annotated[float, EXPONENT]
Resolution = Annotated[float, RESOLUTION]
PositiveTorque = Annotated[float, POSITIVE_TORQUE]
PositiveForce = Annotated[float, POSITIVE_FORCE]
Rate = Annotated[float, RATE]
SignedRatio = Annotated[float, SIGNED_RATIO]
Efficiency = Annotated[float, SHARE]

# What limits a joint's motion: of one that turns, of one that slides.
MOTION_LIMITS: dict[str, tuple[Kind, Kind]] = {
    "speed": (ANGULAR_SPEED, LINEAR_SPEED),
    "acceleration": (ANGULAR_ACCELERATION, LINEAR_ACCELERATION),
    "jerk": (ANGULAR_JERK, LINEAR_JERK),
}


def if_told(kind: Kind) -> Callable[[str, Any], float | None]:
    """A reader as Checks.take wants it: None stays None."""
    return lambda key, value: None if value is None else kind.si_value(key, value)


def or_unlimited(kind: Kind) -> Callable[[str, Any], float]:
    """A reader: infinity, and None, are no limit."""

    def read(key: str, value: Any) -> float:
        unlimited = value is None or (isinstance(value, float) and value == math.inf)
        return math.inf if unlimited else kind.si_value(key, value)

    return read
