"""What the drives draw from the supply through a cycle, and where what returns goes."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import xarray as xr

from armwright import _core
from armwright.results import make_dataset
from armwright.studies import run

caution = "Supply, protection and earthing: to local codes, by those licensed for them."
_SWITCHED_ON = 1.2  # braking voltage over the bus at rest, where it is not told: 390 V over 325 V, common practice


def supply_spec(supply: Any, continuous: bool) -> tuple[_core.limits.SupplySpec, tuple[str, ...]]:
    """A described supply as the core takes it, and what was assumed."""
    spec, numbers, assumed = _core.limits.SupplySpec(), supply.numbers, list(supply.assumptions)
    spec.mains_voltage, spec.phases = float(supply.voltage), int(supply.phases)
    spec.power_factor, spec.efficiency = numbers["power_factor"], numbers["efficiency"]
    spec.standing_power, spec.rest_voltage = numbers["standby_power"], float(supply.bus_voltage)
    spec.capacitance = float(supply.capacitance or 0.0)
    limit = supply.braking_voltage if supply.braking_voltage is not None else supply.greatest_voltage
    if limit is None:
        limit = _SWITCHED_ON * spec.rest_voltage
        assumed.append(f"supply: no braking voltage: {limit:.4g} V taken, 1.2 times the bus at rest, as is usual")
    spec.resistor_voltage = float(limit)
    if supply.resistance is None:
        assumed.append(f"supply: no brake resistor: what is told of one is what it would have to take at {limit:.4g} V")
    spec.breaker_current = math.inf if supply.branch_current is None else float(supply.branch_current)
    spec.resistance = float(supply.resistance or 0.0)
    spec.resistor_power = math.inf if supply.resistor_power is None else float(supply.resistor_power)
    spec.continuous = continuous
    return spec, tuple(assumed)


def power(
    model: _core.model.Model,
    motion: _core.motion.TimedMotion,
    loads: list[_core.model.Inertia],
    supply: Any,
    *,
    step: float,
    repeated: bool,
    continuous: bool,
    inputs_digest: str,
    arm_name: str,
    labels: dict[str, Any],
) -> xr.Dataset:
    """See Cell.power."""
    spec, assumed = supply_spec(supply, continuous)
    driven = _core.limits.driven_motion(model, loads, motion, step)
    courses, numbers, currents = _core.limits.power(model, driven, spec)
    attrs: dict[str, Any] = {
        "duration": float(driven.time[-1] - driven.time[0]), "step": step, "repeated": int(repeated),
        "caution": caution, "mains_voltage": spec.mains_voltage, "phases": spec.phases,
        "power_factor": spec.power_factor,
    }  # fmt: skip
    share = numbers.pop("branch_share")
    if math.isfinite(spec.breaker_current):
        attrs["branch_share"] = share
        if share > 0:  # power and current of the mains go together
            at_mains = numbers["mains_rms"] / share
            attrs["branch_power"] = max(0.0, (at_mains - spec.standing_power) * spec.efficiency)
        attrs["branch_rule"] = (
            f"80 % of {spec.breaker_current:g} A, for loads of three hours and more (NEC 210.19; other codes differ)"
            if continuous
            else f"{spec.breaker_current:g} A, for less than three hours at a time"
        )
    needed = numbers.pop("resistor_needed")
    if math.isfinite(needed):
        attrs["resistor_needed"] = needed
    if spec.resistance > 0:
        attrs["resistor_peak_share"] = numbers["resistor_peak"] * spec.resistance / spec.resistor_voltage**2
    if math.isfinite(spec.resistor_power):
        attrs["resistor_mean_share"] = numbers["resistor_mean"] / spec.resistor_power
    without = [name for name, part in zip(model.joint_names, _core.motion.drive_parts(model), strict=True)
               if not part["present"]]  # fmt: skip
    if without:
        assumed = (*assumed, f"no drive of {', '.join(without)}: its mechanical power alone counts, without losses")
    told = [text for text in (labels.get("assumptions", ""), *assumed) if text]
    extra = {"assumptions": "\n".join(told)} if told else {}
    return make_dataset(
        "power",
        {
            "time": driven.time, "move": driven.move,
            "mechanical_power": courses["mechanical"], "winding_power": courses["winding"],
            "friction_power": courses["friction"], "axis_power": courses["mechanical"] + courses["winding"],
            "electrical_power": courses["electrical"],
            "motor_current_rms": currents["rms"], "motor_current_peak": currents["peak"],
        },
        {"joint": np.array(model.joint_names), "joint_unit": run.joint_units(model)},
        attrs | numbers | labels | extra,
        inputs_digest,
        arm_name,
    )  # fmt: skip
