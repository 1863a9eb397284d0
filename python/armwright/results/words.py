"""Numbers, safeties and notes as summaries say them."""

from __future__ import annotations

import math
from typing import SupportsFloat

ROUNDING = 1e-6  # N, N m; less than that is rounding
LONG_LIFE, LONG_WAY = 100_000, 1_000_000  # h, km; beyond them a life is told as longer than that


def life(seconds: float) -> str:
    """In hours. What is longer than any machine stands is no figure to be told."""
    hours = seconds / 3600
    return f"more than {LONG_LIFE} h" if hours > LONG_LIFE else f"{number(hours)} h"


def way(metres: float) -> str:
    """In km, likewise."""
    told = metres / 1000
    return f"more than {LONG_WAY} km" if told > LONG_WAY else f"{number(told)} km"


def with_unit(value: float, unit: str) -> str:
    """A number with its unit as builders read it: a pressure or stress in MPa or kPa."""
    if unit == "Pa":
        return f"{number(value / 1e6)} MPa" if abs(value) >= 1e6 else f"{number(value / 1e3)} kPa"
    return f"{number(value)} {unit.replace('*', '·')}"


_TURNS = {"rad": "°", "rad/s": " °/s", "rad/s^2": " °/s²", "rad/s^3": " °/s³"}


def quantity(value: float, unit: str, figures: int = 3) -> str:
    """A number with its unit, of what turns in degrees; without one where it has none ("1")."""
    if unit in _TURNS:
        return f"{math.degrees(value):.{figures}g}{_TURNS[unit]}"
    return f"{value:.{figures}g}" + ("" if unit == "1" else f" {unit}")


def axis_speed(value: float, unit: str) -> str:
    """A speed of a joint: of what turns in degrees a second."""
    return quantity(value, f"{unit}/s")


def number(value: SupportsFloat) -> str:
    """Three figures; whole from 1000 to a million; 0 for what is rounding."""
    told = float(value)
    if abs(told) < ROUNDING:
        return "0"
    return f"{told:.0f}" if 1000 <= abs(told) < 1e6 else f"{told:.3g}"


def verdict(safety: float, wanted: float) -> str:
    """Whether a safety that is known is enough."""
    return "TOO LITTLE" if safety < 1 else "LESS THAN WANTED" if safety < wanted else "good"


def safety_against(safety: SupportsFloat, wanted: SupportsFloat) -> str:
    """A safety, what is wanted, and whether it is enough. NaN: there is something that nothing is known to bear."""
    has, wants = float(safety), float(wanted)
    judged = "NOT SAFE, there is a load that nothing is known to bear" if math.isnan(has) else verdict(has, wants)
    return f"safety {has:.3g}, wanted {wants:.3g}: {judged}"


def notes(head: str, text: object) -> list[str]:
    """The lines of an attribute, each behind a word for what they are."""
    return [f"{head}: {line}" for line in str(text).splitlines() if line]
