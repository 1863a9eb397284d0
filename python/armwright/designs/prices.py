"""What a track costs."""

from __future__ import annotations

import math
from dataclasses import dataclass

from armwright.describe.wrong import shown
from armwright.errors import InputError


@dataclass(frozen=True)
class TrackPrices:
    """What a track costs, in any one currency: by the metre of stroke, what it costs however long it is, and its
    motor.

    >>> aw.TrackPrices(per_metre=800, fixed=1200, motor=400, currency="EUR")
    TrackPrices(per_metre=800, fixed=1200, motor=400, currency='EUR')
    """

    per_metre: float = 0.0
    fixed: float = 0.0
    motor: float = 0.0
    currency: str = ""

    def __post_init__(self) -> None:
        for name in ("per_metre", "fixed", "motor"):
            value = getattr(self, name)
            if isinstance(value, bool) or not isinstance(value, int | float) or not 0 <= value < math.inf:
                raise InputError.of(f"TrackPrices.{name}", shown(value), "an amount of 0 or more, as a plain number")
        if not isinstance(self.currency, str):
            raise InputError.of("TrackPrices.currency", shown(self.currency), "a text")

    def of(self, stroke: float) -> float:
        """Of a track with that stroke, m; no stroke, no track, no cost."""
        return self.fixed + self.motor + self.per_metre * stroke if stroke > 0 else 0.0
