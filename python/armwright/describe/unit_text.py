"""Units in text: what one unit is in SI, and hints for units that people write and pint takes for something else."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Any

_UNIT_TEXT = re.compile(r"[A-Za-zµμ°%ΩΩ][A-Za-zµμ°%ΩΩ_·*/^()\s\d-]{0,59}")
# How people write units that pint would misread or not know. Left: the unit without spaces and signs of multiplication.
_SPELLINGS = {
    "nm": "N*m", "mnm": "mN*m", "knm": "kN*m", "ncm": "N*cm", "nmm": "N*mm", "rev": "turn", "revs": "turn",
    "″": "in", "kgm2": "kg*m^2", "kgcm2": "kg*cm^2", "gcm2": "g*cm^2",
}  # fmt: skip
_SPEEDS = ("revolutions_per_minute", "revolutions_per_second")  # an angle over a time, in one word
_ANGLES = ("radian", "degree", "arcminute", "arcsecond", "turn", "revolution", "grade", "cycle", *_SPEEDS)
# Units that are energy by name. Torque has the same dimension and must be told as force times length.
_ENERGIES = ("joule", "watt_hour", "calorie", "electron_volt", "british_thermal_unit", "erg", "watt", "horsepower")
# Pint takes a radian for 1, so that units of something else have the dimension asked for: a frequency that of a speed
# of rotation (wrong by 2 pi), a voltage over a speed that of a torque over a current (wrong by the root of 3 in a
# three-phase motor), an apparent power that of a power. By the SI unit asked for, what may not stand in its place.
_TORQUES = ("N*m", "N*m/rad", "N*m*s", "N*m/A")
_NEVER = {**dict.fromkeys(_TORQUES, (*_ENERGIES, "hertz", "volt", "weber", "volt_ampere", "tesla", "henry")),
          "W": ("volt_ampere",), "Pa": _ENERGIES}  # fmt: skip
# How many angles a unit holds, upstairs less downstairs, where the SI unit does not show all that is usual.
_ANGLE_POWERS = {"N*m*s": (0, -1)}


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


# What people write for a unit, and what we would take; left: without spaces and signs of multiplication, in lower case.
_MEANT = {
    "rad/s": {"hz": "turn/s", "1/s": "rad/s", "1/min": "rpm", "min-1": "rpm", "/min": "rpm", "u/min": "rpm",
              "dps": "deg/s"},
    "N*m/A": {"nm/arms": "N*m/A", "nm/a_rms": "N*m/A"},
    "N*m/rad": {"nm": "N*m/rad"},
    "N/m": {"n": "N/mm"},
    "A": {"arms": "A", "a_rms": "A", "aeff": "A", "amps": "A", "amp": "A"},
    "V": {"vac": "V", "vdc": "V", "vrms": "V", "volts": "V"},
    "W": {"va": "W", "kva": "kW", "ps": "metric_horsepower", "hp(m)": "metric_horsepower", "cv": "metric_horsepower"},
    "J": {"nm": "J", "ws": "J", "lbfft": "J", "ftlbf": "J"},
    "Pa": {"kg/mm2": "kgf/mm^2", "kg/cm2": "kgf/cm^2", "kg/m2": "kgf/m^2", "n/mm": "N/mm^2", "n": "N/mm^2"},
    "kg/m^3": {"kg/dm3": "g/cm^3"},
    "F": {"mfd": "uF", "uf": "uF"},
    "m/s^2": {"g": "g_0"},
    "m/s": {"ipm": "in/min", "mps": "m/s", "mpm": "m/min"},
    "s": {"m": "min"},
}  # fmt: skip


def unit_hint(unit: str, si: str) -> str:
    """For a unit that is none of the SI unit's kind: the one that was meant, where that is plain."""
    return _MEANT.get(si, {}).get(re.sub(r"[\s*·⋅^]", "", unit).lower(), "")


@lru_cache(maxsize=1024)
def unit_factor(unit: str, si: str) -> float | str:  # noqa: PLR0911  a line a trap
    """The factor from ``unit`` to ``si``, or "unknown" (no such unit) or "other" (a unit of something else)."""
    plain = unit.strip().replace("·", "*").replace("⋅", "*").replace("×", "*").replace("²", "^2").replace("³", "^3")
    plain = _SPELLINGS.get(re.sub(r"[\s*^.]", "", plain).lower() if not plain.startswith("MN") else "", plain)
    plain = re.sub(r"(?<=[A-Za-z])([234])(?!\d)", r"^\1", plain)
    plain = re.sub(
        r"(?<![A-Za-z])([mk]?N)(m|cm|mm)(s?)(?![A-Za-z])", lambda m: f"{m[1]}*{m[2]}" + ("*s" if m[3] else ""), plain
    )
    plain = re.sub(r"(?<![A-Za-z])(rev|r)(?![A-Za-z])", "turn", plain)
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
    names = dict(parsed._units)
    angles = sum(power for name, power in names.items() if name.endswith(_ANGLES))
    if angles not in _ANGLE_POWERS.get(si, (_angles_in(si),)) or any(
        name.endswith(_NEVER.get(si, ())) for name in names
    ):
        return "other"
    if si == "J" and not any(name.endswith(_ENERGIES) for name in names):
        return "other"  # force times length is a torque
    if si == "N*m*s" and not angles and names.get("second", 0) != 1:
        return "other"  # per 1/min: turns or radians?
    try:
        return float(registry.Quantity(1.0, parsed).to(si or "dimensionless").magnitude)
    except Exception:  # not convertible, or no number
        return "other"


def _angles_in(si: str) -> int:
    """How many radians an SI unit of ours holds: 1 in rad/s, -1 in N*m/rad."""
    return -1 if si.endswith("/rad") else 1 if si.startswith("rad") else 0


def _known(word: str) -> bool:
    try:
        _registry().parse_units(word)
    except Exception:
        return False
    return True
