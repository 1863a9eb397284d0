"""Units in text: what one unit is in SI, and hints for units that people write and pint takes for something else."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Any

_UNIT_TEXT = re.compile(r"[A-Za-zµμ°%][A-Za-zµμ°%·*/^()\s\d-]{0,39}")
# How people write units that pint would misread or not know. Left: the unit without spaces and signs of multiplication.
_SPELLINGS = {
    "nm": "N*m", "mnm": "mN*m", "knm": "kN*m", "ncm": "N*cm", "nmm": "N*mm", "rev": "turn", "revs": "turn",
    "″": "in", "kgm2": "kg*m^2", "kgcm2": "kg*cm^2", "gcm2": "g*cm^2",
}  # fmt: skip
_ANGLES = ("radian", "degree", "arcminute", "arcsecond", "turn", "revolution", "grade", "cycle")
# Units that are energy by name. Torque has the same dimension and must be told as force times length.
_ENERGIES = ("joule", "watt_hour", "calorie", "electron_volt", "british_thermal_unit", "erg", "watt", "horsepower")


@lru_cache(maxsize=1)
def _registry() -> Any:
    import pint

    try:
        return pint.UnitRegistry(cache_folder=":auto:")
    except Exception:  # no folder for a cache, or a broken one: pint lets through what its helpers raise
        return pint.UnitRegistry()


def force_hint(unit: str) -> str:
    """For a unit of mass where one of force is needed: the unit of force; for pound-feet written as mass, lbf*ft."""
    names = [part for part in re.split(r"[\s·*⋅-]+", unit) if part]
    swapped = {"kg": "kgf", "g": "gf", "lb": "lbf", "lbs": "lbf", "oz": "ozf"}
    if any(name in swapped for name in names):
        forces = [swapped[name] for name in names if name in swapped]
        return "*".join(forces + [name for name in names if name not in swapped])
    run_together = re.fullmatch(r"(kg|lb|oz|g)(cm|mm|m|ft|in)|(ft|in)(lb|oz)", unit)
    if run_together:
        mass, arm = (run_together[1], run_together[2]) if run_together[1] else (run_together[4], run_together[3])
        return f"{swapped[mass]}*{arm}"
    return ""


@lru_cache(maxsize=1024)
def unit_factor(unit: str, si: str) -> float | str:  # noqa: PLR0911  a line a trap
    """The factor from ``unit`` to ``si``, or "unknown" (no such unit) or "other" (a unit of something else)."""
    plain = unit.strip().replace("·", "*").replace("⋅", "*").replace("×", "*").replace("²", "^2").replace("³", "^3")
    plain = _SPELLINGS.get(re.sub(r"[\s*^.]", "", plain).lower() if not plain.startswith("MN") else "", plain)
    plain = re.sub(r"(?<=[A-Za-z])([23])(?!\d)", r"^\1", plain)
    if not _UNIT_TEXT.fullmatch(plain) or re.search(r"\d{2}", plain):
        return "unknown"
    registry = _registry()
    try:
        parsed = registry.parse_units(plain)
    except Exception:  # pint's parser raises a dozen kinds, some of them Python's own
        if re.fullmatch(r"(kg|lb|oz|g)(cm|mm|m|ft|in)|(ft|in)(lb|oz)", plain):
            return "other"
        words = [word for word in re.split(r"[\s*-]+", plain) if word]  # "lb-ft", "in-lb"
        return "other" if len(words) > 1 and all(_known(word) for word in words) else "unknown"
    names = list(parsed._units)
    if any(name.endswith(_ANGLES) for name in names) != (si == "rad"):
        return "other"
    if si == "N*m" and any(name.endswith(_ENERGIES) for name in names):
        return "other"
    try:
        return float(registry.Quantity(1.0, parsed).to(si or "dimensionless").magnitude)
    except Exception:  # not convertible, or no number
        return "other"


def _known(word: str) -> bool:
    try:
        _registry().parse_units(word)
    except Exception:
        return False
    return True
