"""Sentences with quantities in SI, told in the reader's units."""

from __future__ import annotations

import re
from collections.abc import Iterable

import numpy as np
import xarray as xr

from armwright.results.units import UnitSystem, shown

# As sentences write a unit, and in which SI unit the number times the factor is.
_WRITTEN: dict[str, tuple[str, float]] = {
    "mm": ("m", 1e-3), "m": ("m", 1), "km": ("km", 1), "m²": ("m2", 1), "m³": ("m3", 1), "kg": ("kg", 1), "N": ("N", 1),
    "N·m": ("N*m", 1), "N m": ("N*m", 1), "N*m": ("N*m", 1),
    "Pa": ("Pa", 1), "kPa": ("Pa", 1e3), "MPa": ("Pa", 1e6), "GPa": ("Pa", 1e9),
    "mm/s": ("m/s", 1e-3), "m/s": ("m/s", 1), "m/s²": ("m/s^2", 1), "m/s^2": ("m/s^2", 1), "m/s³": ("m/s^3", 1),
    "N/mm": ("N/m", 1e3), "N/m": ("N/m", 1), "N·m/rad": ("N*m/rad", 1), "kg·m²": ("kg*m^2", 1), "kg/m³": ("kg/m^3", 1),
}  # fmt: skip
_NUMBER = r"(?<![\w.])[-−]?\d[\d\u202f]*(?:,\d{3})*(?:\.\d+)?(?:e[+-]?\d+)?"
_UNIT = "|".join(re.escape(unit) for unit in sorted(_WRITTEN, key=len, reverse=True))
_QUANTITY = re.compile(
    rf"(?P<numbers>\({_NUMBER}(?:, {_NUMBER})+\)|{_NUMBER}(?: (?:to|±|\+-|x|×) {_NUMBER})*)"
    rf"(?P<gap>[ \u00a0\u202f])(?P<unit>{_UNIT})(?![\w·/²³^*])"
)
_MOST_DIGITS = 5


def in_units(text: str, system: UnitSystem, names: Iterable[str] = ()) -> str:
    """The text with every quantity in that system of units. ``names``: what stays as it is, whatever is in it. A number
    keeps its figures and one more, so that rounding anew changes nothing of weight."""
    if system == "si":
        return text
    shown("m", system)  # refuses unknown ones
    kept = sorted({name for name in names if name in text and _QUANTITY.search(name)}, key=len, reverse=True)
    if not kept:
        return _QUANTITY.sub(lambda found: _told(found, system), text)
    pieces = re.split("(" + "|".join(map(re.escape, kept)) + ")", text)
    return "".join(piece if piece in kept else in_units(piece, system) for piece in pieces)


def names_in(dataset: xr.Dataset) -> set[str]:
    """All names that the result holds: of parts, work points, fixtures, cases."""
    told: set[str] = {str(value) for key, value in dataset.attrs.items() if key.endswith("_name")}
    for key, variable in dataset.variables.items():
        if variable.dtype.kind in "OU" and not str(key).endswith(("reason", "where")):  # those are sentences
            told |= {str(value) for value in np.unique(variable.values.astype(str))}
    return told


def _told(found: re.Match[str], system: UnitSystem) -> str:
    unit, factor = _WRITTEN[found["unit"]]
    how = shown(unit, system)
    numbers = re.sub(_NUMBER, lambda number: _converted(number[0], factor * how.factor), found["numbers"])
    return f"{numbers}{found['gap']}{how.unit}"


def _converted(text: str, factor: float) -> str:
    plain = text.replace("\u202f", "").replace(",", "").replace("−", "-")
    figures = len(re.sub(r"e.*|\D", "", plain).lstrip("0")) or 1
    value = float(plain) * factor
    told = f"{value:.{min(max(figures + 1, 3), _MOST_DIGITS)}g}"
    if "e" in told and abs(value) < 1e9:
        told = f"{float(told):.0f}" if abs(value) >= 1 else f"{float(told):.12f}".rstrip("0")
    return told.replace("-", "−") if "−" in text else told
