"""Results about cycles and drives in a few lines of plain words."""

from __future__ import annotations

from typing import Any

import numpy as np
import xarray as xr

from armwright.results.drive_variables import CHECK_LIMITS
from armwright.results.words import quantity

_JOINT_LIMITS = tuple(CHECK_LIMITS.index(name) for name in ("joint_speed", "joint_acceleration"))
_SHOWN = 4  # parts


def motion_lines(dataset: xr.Dataset) -> list[str]:
    """The moves, with how long each takes and what it comes nearest to."""
    a = dataset.attrs
    lines = [f"{a['cycle_name']}: {a['duration']:.2f} s"]
    start, end = dataset.move_start.values, dataset.move_end.values
    for k, name in enumerate(dataset.move.values):
        line = f"{start[k]:6.2f} s  {name}, {end[k] - start[k]:.2f} s"
        clearance = float(dataset.move_clearance[k])
        if np.isfinite(clearance):
            pair = f"{dataset.move_clearance_name_a[k].item()} and {dataset.move_clearance_name_b[k].item()}"
            overlaps = clearance < 0
            line += f"; {'OVERLAP of' if overlaps else 'nearest'} {1000 * abs(clearance):.0f} mm, {pair}"
            if not overlaps and not bool(dataset.move_clearance_kept[k]):
                line += ": LESS THAN REQUIRED of a fixture on the way"
        lines.append(line)
    return lines


def drive_check_lines(dataset: xr.Dataset) -> list[str]:
    """The parts that are loaded most, and how much faster or heavier it could go."""
    a = dataset.attrs
    lines = [f"cycle of {a['duration']:.2f} s" + (", on and on" if a["repeated"] else "")]
    parts = np.flatnonzero(~np.isin(dataset.share_limit.values, _JOINT_LIMITS))
    order = parts[np.argsort(-dataset.share.values[parts], kind="stable")][:_SHOWN]
    for i in order:
        lines.append(f"{dataset.check.values[i]} at {100 * float(dataset.share[i]):.0f} % of what it bears")
    if "speed_factor" in a:
        lines.append(f"could go {a['speed_factor']:.2f} times as fast ({a['speed_limit']})")
    if "greatest_load_mass" in a:
        lines.append(
            f"could carry {a['greatest_load_mass']:.3g} kg instead of {a['load_mass']:.3g} kg ({a['load_limit']})"
        )
    return lines


def payload_against_time_lines(dataset: xr.Dataset) -> list[str]:
    """The greatest load at some paces."""
    lines = []
    for slowing in (0.75, 1.0, 1.5, 2.0, np.inf):
        values = dataset.slowing.values
        i = int(np.argmin(np.abs(values - slowing))) if np.isfinite(slowing) else len(values) - 1
        mass, time = float(dataset.mass[i]), float(dataset.duration[i])
        joint = int(dataset.limiting_joint[i])
        by = f" ({dataset.joint_names.values[joint]}, {dataset.limiting_part.values[i]})" if joint >= 0 else ""
        if mass == 0 and joint >= 0:
            lines.append(f"not in {time:.2f} s{by}")
        else:
            lines.append(f"{mass:.3g} kg " + (f"in {time:.2f} s{by}" if np.isfinite(time) else f"held still{by}"))
    return list(dict.fromkeys(lines))


def power_lines(dataset: xr.Dataset) -> list[str]:
    """What the supply has to give, and what returns."""
    a = dataset.attrs
    lines = [
        f"peak {a['electrical_peak']:.0f} W, root mean square {a['electrical_rms']:.0f} W, mean "
        f"{a['electrical_mean']:.0f} W from the bus, all axes at once",
        f"{a['returned_energy']:.0f} J return in a cycle; brake resistor {a['resistor_energy']:.0f} J, peak "
        f"{a['resistor_peak']:.0f} W, mean {a['resistor_mean']:.1f} W",
        f"mains {a['mains_voltage']:g} V, {a['phases']} phase{'s' if a['phases'] > 1 else ''}: "
        f"{a['current_rms']:.2f} A, peak {a['current_peak']:.2f} A",
    ]
    if "branch_share" in a:
        lines.append(f"{100 * a['branch_share']:.0f} % of the branch circuit ({a['branch_rule']})")
    return [*lines, str(a["caution"])]


def setpoints_lines(dataset: xr.Dataset) -> list[str]:
    """How many, and the greatest rates of counts."""
    rates = dataset.greatest_pulse_rate.values
    known = [
        f"{name} {rate:.4g}/s" for name, rate in zip(dataset.joint.values, rates, strict=True) if np.isfinite(rate)
    ]
    lines = [f"{dataset.sizes['time_point']} setpoints at {dataset.attrs['rate']:g} a second"]
    return [*lines, "greatest rate of counts: " + ", ".join(known)] if known else lines


def switches_lines(dataset: xr.Dataset) -> list[str]:
    """A joint a line."""
    lines = []
    for joint, unit in zip(dataset.joint.values, dataset.joint_unit.values, strict=True):
        soft, switch = (dataset[name].sel(joint=joint).values for name in ("soft_limit", "limit_switch"))
        if np.isfinite(soft).all():
            lines.append(f"{joint}: soft limits {_from_to(soft, str(unit))}, switches {_from_to(switch, str(unit))}")
        elif np.isfinite(dataset.hard_stop.sel(joint=joint).values).all():
            lines.append(f"{joint}: DOES NOT STOP within its range")
    return [*lines, str(dataset.attrs["caution"])]


def _from_to(ends: Any, unit: str) -> str:
    low, high = (quantity(float(end), unit, 4) for end in ends)
    return f"{low.removesuffix(f' {unit}')} to {high}"


def separation_lines(dataset: xr.Dataset) -> list[str]:
    """A safeguard a line."""
    lines = [
        f"{name}: {1000 * float(distance):.0f} mm"
        for name, distance in zip(dataset.safeguard.values, dataset.distance.values, strict=True)
    ]
    return [f"for a stop of {dataset.attrs['stop_time']:.3g} s", *lines, str(dataset.attrs["caution"])]
