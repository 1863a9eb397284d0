"""Where soft limits and limit switches go, and how far safeguards stand from the danger zone."""

from __future__ import annotations

from typing import Any

import numpy as np
import xarray as xr

from armwright import _core
from armwright.errors import InputError
from armwright.results import make_dataset
from armwright.studies import run

switch_caution = (
    "Switches and hard stops are tested at reduced speed (250 mm/s at the tool) before anyone stands near; "
    "a soft limit is no safeguard."
)
separation_caution = (
    "ISO 13855 and those who know it decide what applies; the stop time is measured on the finished machine, with "
    "every load, and again as brakes wear."
)


def switches(
    model: _core.model.Model,
    hard_stops: run.Floats,
    controlled: run.Floats,
    brake: run.Floats,
    *,
    rule: str,
    found: bool,
    switch_error: float,
    reserve: float,
    inputs_digest: str,
    arm_name: str,
    labels: dict[str, Any],
) -> xr.Dataset:
    """See Cell.switches. Arrays (joints, 2): lower end, upper end; not finite where there is no such end. ``found``:
    the travels come from stops and not from the user."""
    names = list(model.joint_names)
    away = np.array(
        [[_core.elements.stop_places(c, b, switch_error, reserve) for c, b in zip(cs, bs, strict=True)]
         for cs, bs in zip(controlled, brake, strict=True)]
    )  # fmt: skip
    inward = np.array([1.0, -1.0])
    stops = np.where(np.isfinite(hard_stops), hard_stops, np.nan)
    switch, soft = stops + inward * away[..., 0], stops + inward * away[..., 1]
    for k, name in enumerate(names):
        if soft[k, 0] < soft[k, 1] or np.isnan(soft[k]).any():
            continue
        if found:  # no place for switches: said so by the result, since the other joints have theirs
            switch[k], soft[k] = np.nan, np.nan
        else:
            raise InputError.of(
                f"switches of {name}",
                f"soft limits at {soft[k, 0]:.4g} and {soft[k, 1]:.4g}",
                f"travels that leave something of the range {stops[k, 0]:.4g} to {stops[k, 1]:.4g}",
            )
    return make_dataset(
        "switches",
        {"hard_stop": stops, "limit_switch": switch, "soft_limit": soft,
         "brake_travel": brake, "controlled_travel": controlled},
        {"joint": np.array(names), "joint_unit": run.joint_units(model), "end": np.array(["lower", "upper"])},
        {"switch_error": switch_error, "reserve": reserve, "rule": rule, "caution": switch_caution} | labels,
        inputs_digest,
        arm_name,
    )  # fmt: skip


def separation(
    stop_time: float,
    *,
    resolution: float,
    height: float,
    reach_through: float,
    inputs_digest: str,
    arm_name: str,
    labels: dict[str, Any],
) -> xr.Dataset:
    """See Cell.separation."""
    e = _core.elements
    curtain = e.separation_light_curtain(stop_time, resolution) if resolution <= 0.04 else e.separation_arm(stop_time)
    intrusion = max(0.0, 8 * (resolution - 0.014)) if resolution <= 0.04 else 0.85
    fast = resolution <= 0.04 and 2.0 * stop_time + intrusion <= 0.5
    rows = (
        ("light curtain across the way", curtain, 2.0 if fast else 1.6, intrusion),
        ("single beams across the way", e.separation_arm(stop_time), 1.6, 0.85),
        ("field along the way", e.separation_along(stop_time, height), 1.6, max(1.2 - 0.4 * height, 0.85)),
        ("two-hand control", e.separation_two_hand(stop_time), 1.6, 0.25),
        ("guard with interlock, no lock", e.separation_guard(stop_time, reach_through), 1.6, reach_through),
    )
    columns = list(zip(*rows, strict=True))
    return make_dataset(
        "separation",
        dict(zip(("distance", "approach_speed", "intrusion"), map(np.array, columns[1:]), strict=True)),
        {"safeguard": np.array(columns[0], np.str_)},
        {
            "stop_time": stop_time, "resolution": resolution, "height": height, "reach_through": reach_through,
            "coarsest_resolution": e.coarsest_resolution(height), "caution": separation_caution,
        }
        | labels,
        inputs_digest,
        arm_name,
    )  # fmt: skip
