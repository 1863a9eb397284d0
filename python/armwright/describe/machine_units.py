"""Kinds of quantities of bearings, links, bolts, guides and feeds, beside those of units.py and drive_units.py."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Annotated, Any

from armwright.describe.described import Checks, put
from armwright.describe.drive_units import LINEAR_STIFFNESS, STIFFNESS, if_told
from armwright.describe.units import ANGLE, MASS, NUMBER, SHARE, Kind

STRESS = Kind("a stress", "Pa", ("MPa", "N/mm^2", "GPa", "kPa", "psi", "ksi"), "235 MPa", above=0.0)
PRESSURE = replace(STRESS, name="a pressure", units=("kPa", "N/mm^2", "MPa", "Pa", "bar", "psi"), example="150 kPa")
ELASTIC = replace(STRESS, name="a modulus of elasticity", units=("GPa", "MPa", "N/mm^2"), example="210 GPa")
SHEAR_ELASTIC = replace(ELASTIC, name="a shear modulus", example="81 GPa")
DENSITY = Kind("a density", "kg/m^3", ("kg/m^3", "g/cm^3", "lb/in^3"), "7850 kg/m^3", above=0.0)
AREA = Kind("an area", "m^2", ("mm^2", "cm^2", "m^2", "in^2"), "157 mm^2", above=0.0)
SECTION_MODULUS = Kind("a section modulus", "m^3", ("mm^3", "cm^3", "m^3", "in^3"), "24 cm^3", above=0.0)
SECOND_MOMENT = Kind("a second moment of area", "m^4", ("mm^4", "cm^4", "m^4", "in^4"), "84 cm^4", above=0.0)
LOAD_FACTOR = replace(NUMBER, name="a factor of 0 or more", example="0.45", least=0.0, most=20.0)
SHARE_FACTOR = replace(NUMBER, name="a factor of more than 0", example="0.45", above=0.0, most=20.0)
PRYING = replace(NUMBER, name="a factor of 1 or more", example="1.3", least=1.0, most=10.0)
SAFETY = replace(NUMBER, name="a safety of 1 or more", example="1.5", least=1.0, most=100.0)
FRICTION_SHARE = replace(SHARE, name="a coefficient of friction", example="0.15")
DIRECTION_SHARE = replace(NUMBER, name="a share of the rating", example="84 %", above=0.0, most=2.0)
CONTACT_ANGLE = replace(ANGLE, name="a contact angle", example="30 deg", above=0.0, most=1.5)
PRESSURE_ANGLE = replace(ANGLE, name="a pressure angle", example="20 deg", above=0.0, most=0.8)
HELIX_ANGLE = replace(ANGLE, name="a helix angle", example="19.53 deg", least=0.0, most=0.8)
ROLLING_ELEMENTS = replace(NUMBER, name="a whole number of balls or rollers", example="38", least=3.0, most=2000.0,
                           whole=True)  # fmt: skip
TEETH = replace(NUMBER, name="a whole number of teeth", example="20", least=5.0, most=1000.0, whole=True)
BOLTS = replace(NUMBER, name="a whole number of bolts", example="8", least=1.0, most=200.0, whole=True)
WITHDRAWN_MASS = replace(MASS, least=None, above=0.0)

Stress = Annotated[float, STRESS]
Pressure = Annotated[float, PRESSURE]
ElasticModulus = Annotated[float, ELASTIC]
ShearModulus = Annotated[float, SHEAR_ELASTIC]
Density = Annotated[float, DENSITY]
Area = Annotated[float, AREA]
SectionModulus = Annotated[float, SECTION_MODULUS]
SecondMoment = Annotated[float, SECOND_MOMENT]
LoadFactor = Annotated[float, LOAD_FACTOR]
ShareFactor = Annotated[float, SHARE_FACTOR]
Prying = Annotated[float, PRYING]
Safety = Annotated[float, SAFETY]
FrictionShare = Annotated[float, FRICTION_SHARE]
DirectionShare = Annotated[float, DIRECTION_SHARE]
ContactAngle = Annotated[float, CONTACT_ANGLE]
PressureAngle = Annotated[float, PRESSURE_ANGLE]
HelixAngle = Annotated[float, HELIX_ANGLE]
RollingElements = Annotated[float, ROLLING_ELEMENTS]
Teeth = Annotated[float, TEETH]
Bolts = Annotated[float, BOLTS]
WithdrawnMass = Annotated[float, WITHDRAWN_MASS]
Stiffness = Annotated[float, STIFFNESS]
LinearStiffness = Annotated[float, LINEAR_STIFFNESS]


def put_told(owner: Any, checks: Checks, kinds: Mapping[str, Kind]) -> None:
    """Reads the fields of these kinds; None stays None: not told."""
    put(owner, **{key: checks.take(key, if_told(kind), getattr(owner, key), None) for key, kind in kinds.items()})


def refuse_told(owner: Any, checks: Checks, keys: tuple[str, ...], why: str) -> None:
    """Refuses keys that this kind of thing has not."""
    for key in keys:
        if getattr(owner, key) is not None:
            checks.wrong(key, str(getattr(owner, key)), f"no {key}: {why}")


def both_or_none(owner: Any, checks: Checks, first: str, second: str) -> None:
    """Refuses one of two keys without the other."""
    for key, other in ((first, second), (second, first)):
        if getattr(owner, key) is None and getattr(owner, other) is not None:
            checks.wrong(key, "nothing", f"this key beside {other}")
