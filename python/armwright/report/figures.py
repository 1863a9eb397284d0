"""How the entries of a table are told."""

from __future__ import annotations

import math

from armwright.report.document import Column, Entry, Quantity, Verdict
from armwright.results.units import Shown, UnitSystem, shown, shown_small

_THIN = "\u202f"  # between thousands, narrow and without a break
_PERCENT = Shown(100.0, "%")
_GREAT = 1e5  # from there on whole numbers only


def heading(column: Column, units: UnitSystem) -> str:
    """The head of a column, with the unit that its numbers are told in."""
    if column.unit is None and not column.percent:
        return column.words
    return how_told(column, units).label(column.words)


def how_told(column: Column, units: UnitSystem) -> Shown:
    """Factor and unit of a column's numbers."""
    if column.percent:
        return _PERCENT
    if column.hours:
        return Shown(1 / 3600, "h")
    if column.turns:
        return Shown(30 / math.pi, "rpm")
    return shown_small(units) if column.small else shown(column.unit or "1", units)


def told(entry: Entry, column: Column, units: UnitSystem) -> str:
    """An entry in words; its unit is in the head, unless it has one of its own."""
    if entry is None:
        return ""
    if isinstance(entry, str):
        return entry
    if isinstance(entry, Verdict):
        return entry.words
    if isinstance(entry, Quantity):
        if entry.words:
            return entry.words
        how = _PERCENT if entry.percent else shown_small(units) if entry.small else shown(entry.unit or "1", units)
        text = number(entry.value * how.factor, column.digits)
        gap = "" if how.unit == "°" else " "
        return f"{text}{gap}{how.unit}".rstrip() if text and math.isfinite(entry.value) else text
    return number(float(entry) * how_told(column, units).factor, column.digits, down=column.down)


def number(value: float, digits: int = 3, *, down: bool = False) -> str:
    """So many significant figures, whole numbers whole, thousands apart; nothing for NaN."""
    if math.isnan(value):
        return ""
    if math.isinf(value):
        return "no limit" if value > 0 else "none"
    if abs(value) < 1e-9:
        return "0"
    places = max(0, digits - 1 - math.floor(math.log10(abs(value)))) if abs(value) < _GREAT else 0
    rounded = math.floor(value * 10**places + 1e-9) / 10**places if down else round(value, places)
    text = f"{rounded:,.{places}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    apart = text.replace(",", _THIN) if abs(rounded) >= 1e4 else text.replace(",", "")
    return "0" if apart in ("-0", "0") else apart.replace("-", "−")
