"""What a track bears, in a few lines of plain words."""

from __future__ import annotations

import numpy as np
import xarray as xr

from armwright.results.words import ROUNDING, life, notes, number, way, with_unit


def track_loads_lines(dataset: xr.Dataset) -> list[str]:
    """Blocks, rails, feed, holding; then what to mind, and what is missing."""
    a = dataset.attrs
    lines = [_block_line(dataset, b) for b in range(dataset.sizes["block"])]
    lines += _rail_lines(dataset) + _feed_lines(dataset) + _held_lines(dataset)
    return lines + notes("to mind", a["warnings"]) + notes("not looked at", a["missing"])


def _block_line(dataset: xr.Dataset, b: int) -> str:
    block = dataset.isel(block=b)
    name = str(block.block.item())
    if np.isnan(float(block.radial_greatest)):
        return f"{name}: not known"
    line = f"{name}: {number(block.radial_least)} to {number(block.radial_greatest)} N onto the rail, "
    line += f"{number(abs(block.lateral_greatest))} N across"
    if not np.isnan(float(block.static_safety)):
        case = int(block.static_load_case)
        line += f"; static safety {number(block.static_safety)} ({dataset.case.values[case]})"
    if np.isfinite(float(block.life)):
        line += f"; life {way(float(block.life))}, {life(float(block.life_time))} of this duty"
        line += "" if bool(block.life_holds) else " (its formula does not hold)"
    elif np.isinf(float(block.life)):
        line += "; nothing wears it"
    return line


def _rail_lines(dataset: xr.Dataset) -> list[str]:
    if not dataset.sizes["rail"]:
        return []
    kind = str(dataset.attrs["rail_support"])
    bent = np.abs(dataset.rail_deflection.values)
    r = int(bent[:, list(dataset.support.values).index(kind)].argmax())
    each = ", ".join(f"{number(1000 * bent[r, k])} mm {word}" for k, word in enumerate(dataset.support.values))
    return [f"rail {r + 1} bends most between supports {dataset.attrs['rail_span']:g} m apart: {each} (told: {kind})"]


def _feed_lines(dataset: xr.Dataset) -> list[str]:
    lines = []
    for name, value, unit, allowed, safety in zip(
        dataset.feed_check.values, dataset.feed_value.values, dataset.feed_unit.values, dataset.feed_allowed.values,
        dataset.feed_safety.values, strict=True,
    ):  # fmt: skip
        if unit == "1":  # a share that the drive check tells
            lines.append(f"feed, {name}: {100 * value:.0f} % of what it bears")
            continue
        line = f"feed, {name}: {with_unit(float(value), str(unit))}"
        bears = with_unit(float(allowed), str(unit))
        lines.append(line + ("" if np.isnan(safety) else f" of {bears}, safety {number(safety)}"))
    return lines


def _held_lines(dataset: xr.Dataset) -> list[str]:
    lines = []
    words = {"rest": "at rest", "cycle": "in the cycle", "stop": "in stops"}
    for i, kind in enumerate(dataset.held.values):
        force, bears = float(dataset.held_force[i]), float(dataset.held_bears[i])
        if np.isnan(force) or force < ROUNDING:
            continue
        holder = "motor" if kind == "cycle" else "brake"
        held = f"no {holder} told" if np.isnan(bears) else f"{number(bears)} N held by the {holder}"
        case = dataset.case.values[int(dataset.held_case[i])]
        lines.append(f"the track, standing {words[kind]}: {number(force)} N along it ({case}), {held}")
    return lines
