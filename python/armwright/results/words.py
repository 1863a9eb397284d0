"""Numbers, safeties and notes as summaries say them."""

from __future__ import annotations

import math
from typing import SupportsFloat

ROUNDING = 1e-6  # N, N m; less than that is rounding


def number(value: SupportsFloat) -> str:
    """Three figures; whole from 1000 to a million; 0 for what is rounding."""
    told = float(value)
    if abs(told) < ROUNDING:
        return "0"
    return f"{told:.0f}" if 1000 <= abs(told) < 1e6 else f"{told:.3g}"


def safety_against(safety: SupportsFloat, wanted: SupportsFloat) -> str:
    """A safety, what is wanted, and whether it is enough. NaN: there is something that nothing is known to bear."""
    has, wants = float(safety), float(wanted)
    if math.isnan(has):
        verdict = "NOT SAFE, there is a load that nothing is known to bear"
    elif has < 1:
        verdict = "TOO LITTLE"
    else:
        verdict = "LESS THAN WANTED" if has < wants else "good"
    return f"safety {has:.3g}, wanted {wants:.3g}: {verdict}"


def notes(head: str, text: object) -> list[str]:
    """The lines of an attribute, each behind a word for what they are."""
    return [f"{head}: {line}" for line in str(text).splitlines() if line]
