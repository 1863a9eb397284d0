"""Quantities as a person writes them into a file: a number in SI told in a unit that suits its size."""

from __future__ import annotations

import math

# SI unit: units to tell it in, each with its size in SI and from what value (SI) on it is taken; the first that fits.
_UNITS: dict[str, tuple[tuple[str, float, float], ...]] = {
    "m": (("m", 1, 1), ("mm", 1e-3, 0)),
    "m^2": (("mm^2", 1e-6, 0),),
    "m^3": (("cm^3", 1e-6, 0),),
    "m^4": (("cm^4", 1e-8, 0),),
    "rad": (("deg", math.pi / 180, math.pi / 900), ("arcmin", math.pi / 10800, 0)),
    "rad/s": (("rpm", math.pi / 30, 60), ("deg/s", math.pi / 180, 0)),
    "rad/s^2": (("deg/s^2", math.pi / 180, 0),),
    "rad/s^3": (("deg/s^3", math.pi / 180, 0),),
    "kg*m^2": (("kg*m^2", 1, 1e-2), ("kg*cm^2", 1e-4, 0)),
    "N": (("kN", 1e3, 1e4), ("N", 1, 0)),
    "N/m": (("N/um", 1e6, 1e6), ("N/mm", 1e3, 0)),
    "N*m/rad": (("N*m/arcmin", 10800 / math.pi, 10800 / math.pi), ("N*m/rad", 1, 0)),
    "Pa": (("GPa", 1e9, 1e9), ("MPa", 1e6, 1e6), ("kPa", 1e3, 0)),
    "s": (("h", 3600, 3600), ("s", 1, 0.2), ("ms", 1e-3, 0)),
    "F": (("uF", 1e-6, 0),),
}


def quantity(value: float, unit: str, tolerance: float = 0.0, digits: int = 6) -> str:
    """A number with its unit, and its tolerance in the same, as a description file takes them: "31 N*m/arcmin",
    "585 mm ± 0.3 mm". ``value``: in the SI unit ``unit``; "1" for none."""
    name, size = _told_in(abs(value) or tolerance, unit)
    gap = f" {name}" if name else ""
    around = f" ± {tolerance / size:.3g}{gap}" if tolerance else ""
    return f"{value / size + 0.0:.{digits}g}{gap}{around}"


def counted(count: int, word: str) -> str:
    """ "1 shape", "2 shapes"."""
    return f"{count} {word}" if count == 1 else f"{count} {word}s"


def _told_in(size: float, unit: str) -> tuple[str, float]:
    if unit in ("1", ""):
        return "", 1.0
    if size == 0:  # in the unit that is most usual
        return _UNITS[unit][-1 if unit == "m" else 0][:2] if unit in _UNITS else (unit, 1.0)
    fits = (each for each in _UNITS.get(unit, ()) if size >= each[2])
    name, factor, _ = next(fits, (unit, 1.0, 0.0))
    return name, factor
