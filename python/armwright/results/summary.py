"""A result in a few lines of plain words."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import xarray as xr

from armwright.results.base_summary import base_lines
from armwright.results.bearing_summary import bearings_lines
from armwright.results.dataset import check_dataset
from armwright.results.design_summary import changes_lines, sweep_lines, uncertainty_lines
from armwright.results.drive_summary import (
    drive_check_lines,
    motion_lines,
    payload_against_time_lines,
    power_lines,
    separation_lines,
    setpoints_lines,
    switches_lines,
)
from armwright.results.guide_summary import track_loads_lines
from armwright.results.lifting_summary import lifting_lines, service_lines
from armwright.results.part_summary import part_loads_lines
from armwright.results.placement_summary import placement_lines
from armwright.results.stop_summary import holding_lines, stop_lines, stop_table_lines
from armwright.results.structure_summary import (
    link_stress_lines,
    sag_lines,
    sag_over_reach_lines,
    stiffness_lines,
)
from armwright.results.track_summary import track_intervals_lines, track_worth_lines
from armwright.results.truth_summary import tool_error_lines
from armwright.results.unit_words import in_units, names_in
from armwright.results.units import UnitSystem, shown
from armwright.results.wrench_summary import joint_wrenches_lines


def summary(dataset: xr.Dataset, units: UnitSystem = "si") -> str:
    """What the result says, in a few lines; the first names the study and the arm. ``units``: "si", or "us" for inches,
    pounds and psi.

    >>> print(results.summary(cell.check_targets()))
    check_targets of ware loader: which work points are served, how well, and why not
      served 3 of 3
    """
    what = check_dataset(dataset)
    head = f"{what.name} of {dataset.attrs['arm_name']}: {what.meaning}"
    return "\n".join([head, *("  " + line for line in summary_lines(dataset, units))])


def summary_lines(dataset: xr.Dataset, units: UnitSystem = "si") -> list[str]:
    """The same without the first line."""
    told = _LINES[check_dataset(dataset).name](dataset)
    shown("m", units)  # refuses unknown units
    if units == "si":
        return told
    names = names_in(dataset)
    return [in_units(line, units, names) for line in told]


def _reach_map(dataset: xr.Dataset) -> list[str]:
    a = dataset.attrs
    reached = int(dataset.reachable.sum())
    return [
        f"reachable volume {_with_error(a['reachable_volume'], a['reachable_volume_error'])} m³",
        f"dexterous volume {_with_error(a['dexterous_volume'], a['dexterous_volume_error'])} m³ "
        f"(at least {100 * a['dexterous_share']:g} % of the attitudes)",
        f"{reached} of {dataset.reachable.size} positions reached, {a['spacing']:g} m apart, clearance "
        f"{a['margin']:g} m kept, {a['directions']} directions and {a['spins']} spin{'s' if a['spins'] > 1 else ''}",
    ]


def _payload_map(dataset: xr.Dataset) -> list[str]:
    a = dataset.attrs
    mass = dataset.mass_greatest.values
    centre = ", ".join(f"{value:g}" for value in a["load_centre"])
    terms = f"{a['limit']} torque, tool {a['attitude']}, load centre ({centre}) m from the tool frame"
    held = mass[~np.isnan(mass)]
    if held.size == 0:
        return ["no position is reached", terms]
    lines = [f"holds {_number(held.min())} kg (worst position) to {_number(held.max())} kg (best)", terms]
    names = dataset.joint_names.values
    joints = dataset.limiting_joint.values[~np.isnan(mass)]
    shares = sorted(((float(np.mean(joints == j)), str(names[j])) for j in range(len(names))), reverse=True)
    first = ", ".join(f"{name} at {100 * share:.0f} %" for share, name in shares if share > 0)
    return [*lines, f"gives out first: {first} of the positions" if first else "no joint limits the mass"]


def _payload_at_speed(dataset: xr.Dataset) -> list[str]:
    a = dataset.attrs
    mass, rest = dataset.mass_greatest.values, dataset.rest_mass_greatest.values
    reached = ~np.isnan(mass)
    asked = [f"{a[key]:g} {unit}" for key, unit in (
        ("tool_acceleration", "m/s² any way"), ("turn_acceleration", "rad/s² about any axis"),
        ("joint_acceleration_share", "of the joints' accelerations"), ("speed_share", "of the joints' speeds"),
    ) if a[key]]
    terms = f"asked: {', '.join(asked) or 'nothing'}; tool {a['attitude']}"
    if not reached.any():
        return ["no position is reached", terms]
    lines = [
        f"moves {_number(mass[reached].min())} kg (worst position) to {_number(mass[reached].max())} kg (best); "
        f"at rest {_number(rest[reached].min())} to {_number(rest[reached].max())} kg ({a['limit']})", terms,
    ]
    unable = float(np.mean(mass[reached] == 0))
    if unable:
        lines.append(f"cannot move itself so at {100 * unable:.0f} % of the positions")
    words = dataset.limiting_limit.attrs["flag_meanings"].split(" ")
    codes = dataset.limiting_limit.values[reached]
    shares = sorted(((float(np.mean(codes == i)), word) for i, word in enumerate(words)), reverse=True)
    first = ", ".join(f"{word.replace('_', ' ')} at {100 * share:.0f} %" for share, word in shares if share > 0)
    return [*lines, f"gives out first: {first} of the positions" if first else "nothing limits the mass"]


def _check_targets(dataset: xr.Dataset) -> list[str]:
    served = dataset.served.values
    lines = [f"served {int(served.sum())} of {served.size}"]
    for name, reason, good in zip(dataset.target.values, dataset.reason.values, served, strict=True):
        if not good:
            lines.append(f"{name}: {reason}")
    return lines


def _outlines(dataset: xr.Dataset) -> list[str]:
    section, plan = dataset.section.values, dataset.plan.values
    if np.isnan(section).all() or np.isnan(plan).all():
        return ["no position is reached"]
    return [
        f"tool point from axis 1: at most {_number(np.nanmax(section[:, 0]))} m",
        f"height: {_number(np.nanmin(section[:, 1]))} to {_number(np.nanmax(section[:, 1]))} m",
        *(f"{axis}: {_number(np.nanmin(plan[:, i]))} to {_number(np.nanmax(plan[:, i]))} m"
          for i, axis in enumerate("xy")),
    ]


def _clearance(dataset: xr.Dataset) -> list[str]:
    distance = dataset.distance.values
    if distance.size == 0:
        return ["no postures"]
    worst = np.unravel_index(int(np.argmin(distance)), distance.shape)
    pair = f"{dataset.name_a.values[worst]} and {dataset.name_b.values[worst]}"
    touching = int(np.count_nonzero(distance < 0))
    return [
        f"least distance {_number(distance[worst])} m, between {pair}",
        f"{touching} of {distance.size} postures overlap something",
    ]


def _number(value: float) -> str:
    return f"{float(value):.3g}"


def _with_error(value: float, error: float) -> str:
    """The value with as many places as its error has meaning for."""
    places = 3 if error <= 0 else max(0, 1 - int(np.floor(np.log10(error))))
    return f"{value:.{places}f} ± {error:.{places}f}"


_LINES: dict[str, Callable[[xr.Dataset], list[str]]] = {
    "reach_map": _reach_map,
    "payload_map": _payload_map,
    "payload_at_speed": _payload_at_speed,
    "check_targets": _check_targets,
    "outlines": _outlines,
    "track_intervals": track_intervals_lines,
    "track_worth": track_worth_lines,
    "track_loads": track_loads_lines,
    "placement": placement_lines,
    "clearance": _clearance,
    "stop": stop_lines,
    "stop_table": stop_table_lines,
    "holding": holding_lines,
    "motion": motion_lines,
    "drive_check": drive_check_lines,
    "payload_against_time": payload_against_time_lines,
    "power": power_lines,
    "setpoints": setpoints_lines,
    "switches": switches_lines,
    "separation": separation_lines,
    "sweep": sweep_lines,
    "changes": changes_lines,
    "uncertainty": uncertainty_lines,
    "joint_wrenches": joint_wrenches_lines,
    "base_loads": base_lines,
    "tool_error": tool_error_lines,
    "lifting": lifting_lines,
    "service": service_lines,
    "sag": sag_lines,
    "sag_over_reach": sag_over_reach_lines,
    "stiffness": stiffness_lines,
    "link_stress": link_stress_lines,
    "bearings": bearings_lines,
    "part_loads": part_loads_lines,
}
