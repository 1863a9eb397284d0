"""The electrical supply of the drives."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from armwright.describe.described import Checks, Described, put
from armwright.describe.drive_units import CAPACITANCE, CURRENT, POWER, RESISTANCE, VOLTAGE, if_told
from armwright.describe.units import SHARE
from armwright.describe.wrong import shown

_EFFICIENCY, _POWER_FACTOR = 0.95, {1: 0.6, 3: 0.9}
_RECTIFIED = 2**0.5  # peak of a sine by its rms


@dataclass(frozen=True, eq=False, repr=False)
class Supply(Described):
    """The mains, and what the drives make of it. ``voltage``: V rms, between lines if ``phases`` is 3.
    ``power_factor`` (usual, if left out: 0.6 with one phase, 0.9 with three). ``branch_current``: what the branch
    circuit is rated for, A rms. ``capacitance`` of the bus, F. ``resistance`` of the braking resistor, ohm,
    ``resistor_power`` that it bears for any time, W; it is switched on at ``braking_voltage``; above
    ``greatest_voltage`` the drives trip, V. ``efficiency`` of the rectifier and drives (usual, if left out: 0.95).
    ``standby_power``: what controls and released brakes take all the time, W.

    >>> aw.Supply("230 V", branch_current="16 A")
    Supply: 230 V, 1 phase, branch circuit 16 A
    """

    voltage: Any
    phases: int = 1
    power_factor: Any = None
    branch_current: Any = None
    capacitance: Any = None
    resistance: Any = None
    resistor_power: Any = None
    braking_voltage: Any = None
    greatest_voltage: Any = None
    efficiency: Any = None
    standby_power: Any = None

    def __post_init__(self) -> None:
        checks = Checks(self)
        kinds = {
            "power_factor": SHARE, "branch_current": CURRENT, "capacitance": CAPACITANCE, "resistance": RESISTANCE,
            "resistor_power": POWER, "braking_voltage": VOLTAGE, "greatest_voltage": VOLTAGE, "efficiency": SHARE,
            "standby_power": POWER,
        }  # fmt: skip
        put(self, voltage=checks.take("voltage", VOLTAGE.si_value, self.voltage, 1.0))
        put(self, **{key: checks.take(key, if_told(kind), getattr(self, key), None) for key, kind in kinds.items()})
        if isinstance(self.phases, bool) or not isinstance(self.phases, int) or self.phases not in (1, 3):
            checks.wrong("phases", shown(self.phases), "1 or 3")
        if not checks.problems:
            self._check_voltages(checks)
        checks.done()

    def _check_voltages(self, checks: Checks) -> None:
        """The bus at rest is at the peak of the mains; braking begins above that, and tripping above braking."""
        below, what = self.bus_voltage, "the bus at rest, the peak of the mains"
        for key in ("braking_voltage", "greatest_voltage"):
            value = getattr(self, key)
            if value is None:
                continue
            if not value > below:
                checks.wrong(key, f"{value:.6g} V", f"more than {what}, {below:.6g} V")
            below, what = float(value), "the braking voltage"
        if self.resistance is not None and self.braking_voltage is None:
            checks.wrong("braking_voltage", "nothing", "this key beside resistance: when the resistor is switched on")
        if self.resistor_power is not None and self.resistance is None:
            checks.wrong("resistance", "nothing", "this key beside resistor_power")

    @property
    def bus_voltage(self) -> float:
        """Of the rectified bus at rest, V: the peak of the mains."""
        return float(self.voltage) * _RECTIFIED

    @property
    def numbers(self) -> dict[str, float]:
        """Shares that count: as told, else as ``assumptions`` say."""
        return {
            "power_factor": float(_POWER_FACTOR[self.phases] if self.power_factor is None else self.power_factor),
            "efficiency": float(_EFFICIENCY if self.efficiency is None else self.efficiency),
            "standby_power": float(self.standby_power or 0.0),
        }

    @property
    def assumptions(self) -> tuple[str, ...]:
        """What was assumed because it was not given; the usual values are common practice, without a source."""
        assumed = []
        if self.power_factor is None:
            assumed.append(f"no power factor: {self.numbers['power_factor']:g} taken, as is usual without a choke")
        if self.efficiency is None:
            assumed.append(f"no efficiency of rectifier and drives: {_EFFICIENCY:g} taken, as is usual")
        if self.standby_power is None:
            assumed.append("no standby power: 0 W")
        if self.capacitance is None:
            assumed.append("no bus capacitance: none stores what comes back in braking")
        return tuple(f"supply: {text}" for text in assumed)

    def __repr__(self) -> str:
        branch = f", branch circuit {self.branch_current:.6g} A" if self.branch_current is not None else ""
        return f"Supply: {self.voltage:.6g} V, {self.phases} phase{'s' if self.phases > 1 else ''}{branch}"
