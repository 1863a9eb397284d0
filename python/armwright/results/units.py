"""SI to what the reader is shown. The only place where results leave SI."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from armwright.errors import InputError

UnitSystem = Literal["si", "us"]

# Inch and pound are exact by definition (international yard and pound agreement, 1959).
_INCH, _POUND, _FOOT, _MILE = 0.0254, 0.45359237, 0.3048, 1.609344
_POUND_FORCE = _POUND * 9.80665  # standard gravity, exact (ISO 80000-3)
_SMALL = "small m"
_SHOWN: dict[str, dict[str, tuple[float, str]]] = {
    "si": {
        "m": (1, "m"), _SMALL: (1000, "mm"), "kg": (1, "kg"), "rad": (180 / math.pi, "°"), "m3": (1, "m³"),
        "Pa": (1e-6, "MPa"), "1": (1, ""),
    },
    "us": {
        "m": (1 / _INCH, "in"), _SMALL: (1 / _INCH, "in"), "km": (1 / _MILE, "mi"), "m2": (1 / _FOOT**2, "ft²"),
        "m3": (1 / _FOOT**3, "ft³"), "m/s": (1 / _INCH, "in/s"), "m/s^2": (1 / _INCH, "in/s²"),
        "m/s^3": (1 / _INCH, "in/s³"), "rad": (180 / math.pi, "°"), "kg": (1 / _POUND, "lb"),
        "kg*m^2": (1 / (_POUND * _FOOT**2), "lb·ft²"), "kg/m^3": (_FOOT**3 / _POUND, "lb/ft³"),
        "N": (1 / _POUND_FORCE, "lbf"), "N*m": (1 / (_POUND_FORCE * _FOOT), "lbf·ft"),
        "N/m": (_INCH / _POUND_FORCE, "lbf/in"), "N*m/rad": (1 / (_POUND_FORCE * _FOOT), "lbf·ft/rad"),
        "Pa": (_INCH**2 / _POUND_FORCE, "psi"), "1": (1, ""),
    },
}


@dataclass(frozen=True)
class Shown:
    """How a quantity is shown: SI value times ``factor``, in ``unit``."""

    factor: float
    unit: str

    def label(self, words: str) -> str:
        """An axis label: "height (m)"."""
        return f"{words} ({self.unit})" if self.unit else words

    def number(self, value: float, digits: int = 3) -> str:
        """A value (SI) with its unit, to that many significant digits, whole numbers whole; below 1e-6 it is 0."""
        shown = value * self.factor
        if abs(shown) < 1e-6:
            shown = 0.0
        places = max(0, digits - 1 - math.floor(math.log10(abs(shown)))) if shown and math.isfinite(shown) else 0
        text = f"{shown:.{places}f}"
        text = text.rstrip("0").rstrip(".") if "." in text else text
        gap = "" if self.unit in ("°", "") else " "
        return f"{text.replace('-', '−')}{gap}{self.unit}"


def shown(unit: str, system: UnitSystem) -> Shown:
    """How a quantity of that SI unit is shown in that system of units."""
    if system not in _SHOWN:
        raise InputError.of("units", repr(system), '"si" or "us"')
    written = unit.replace("*", "·").replace("^2", "²").replace("^3", "³")
    factor, name = _SHOWN[system].get(unit, (1, written))
    return Shown(factor, name)


def shown_small(system: UnitSystem) -> Shown:
    """How lengths that are mostly well below a metre are shown: in millimetres, or inches."""
    return shown(_SMALL, system)
