"""Results about stops and holding in a few lines of plain words."""

from __future__ import annotations

from typing import Any

import numpy as np
import xarray as xr

from armwright.results.words import ROUNDING, axis_speed, number, quantity


def stop_lines(dataset: xr.Dataset) -> list[str]:
    """Of a stop, or of many."""
    if not dataset.stop_time.size:
        return ["no stops"]
    ends, words = np.unique(dataset.end.values, return_counts=True)
    lines = [
        f"category {dataset.attrs['category']}: " + ", ".join(f"{n} {end}" for end, n in zip(ends, words, strict=True)),
        f"followed for {dataset.stop_time.values.max():.3g} s at most, the tool point for "
        f"{_mm(dataset.tool_path)}, {_mm(dataset.tool_drop)} lower at the lowest",
    ]
    lines += _given_up(ends)
    if int(dataset.attrs["category"]) == 1:
        lines += _held_lines(dataset)
    hit = dataset.impact_speed.values.reshape(-1, dataset.sizes["joint"]).max(axis=0)
    for name, speed, unit in zip(dataset.joint.values, hit, dataset.joint_unit.values, strict=True):
        if speed > 0:
            lines.append(f"{name} meets the end of its range at {axis_speed(speed, unit)}")
    if (hit > 0).any():
        lines.append("what an impact at the end of a range asks of the stages is not known, and in no figure")
    shares = dataset.brake_energy_share.values.reshape(-1, dataset.sizes["joint"])
    for name, column in zip(dataset.joint.values, shares.T, strict=True):
        if (column > 1).any():
            lines.append(f"{name}: its brake takes {np.nanmax(column):.3g} times the energy that it bears in a stop")
    return lines + _stage_lines(dataset)


def _mm(lengths: xr.DataArray) -> str:
    """The greatest of them, in millimetres as in the picture."""
    return f"{number(1000 * float(lengths.max()))} mm"


def stop_table_lines(dataset: xr.Dataset) -> list[str]:
    """The rows at full speed, load and extension."""
    worst = dataset.isel(speed_share=-1, load_share=-1, extension_share=-1)
    lines = []
    for axis in dataset.axis.values:
        for category in dataset.category.values:
            row = worst.sel(axis=axis, category=category)
            travel = quantity(float(row.travel), str(row.axis_unit.item()))
            lines.append(
                f"{axis}, category {category}: {float(row.stop_time):.3g} s, {travel}, "
                f"tool point {_mm(row.tool_path)} ({row.end.item()})"
            )
    return lines + _given_up(dataset.end.values) + _held_lines(dataset) + _stage_lines(dataset)


def _given_up(ends: Any) -> list[str]:
    if "given up" not in ends:
        return []
    return [
        "given up: too many steps, or numbers beyond all bounds, long before the time limit; what is told goes only so "
        "far (is a speed or a brake's torque wrong?)"
    ]


def _held_lines(dataset: xr.Dataset) -> list[str]:
    """How a controlled stop ends: what was assumed of the brakes, and whether the motors were strong enough."""
    hold = float(dataset.attrs["hold_after"])
    closing = dataset.attrs.get("greatest_closing_delay")
    if closing is None:
        lines = ["category 1: no brakes, so that nothing holds the arm when the power has gone"]
    elif hold == 0:
        lines = [f"category 1: the power goes when all stand, the brakes close after it, in up to {closing:.3g} s: the "
                 "arm sags meanwhile"]  # fmt: skip
    elif hold < closing:
        lines = [f"category 1: the motors hold for {hold:.3g} s at rest, but the slowest brake takes {closing:.3g} s: "
                 "the arm sags meanwhile"]  # fmt: skip
    else:
        lines = [f"category 1: the motors hold for {hold:.3g} s at rest until the brakes have closed, in up to "
                 f"{closing:.3g} s; the drives must be made to do so"]  # fmt: skip
    weak, count = int(dataset.saturated.sum()), dataset.saturated.size
    if weak:
        lines.append(f"a motor is TOO WEAK to slow or hold as asked, even at its peak ({weak} of {count} stops)")
    return lines


def _stage_lines(dataset: xr.Dataset) -> list[str]:
    """The stages that a stop asks too much of, or the one that is nearest to it."""
    shape = dataset.stage_name.shape
    shares, torques = (dataset[name].values.reshape(-1, *shape) for name in ("stage_torque_share", "stage_torque"))
    if not np.isfinite(shares).any():
        return []
    share = np.where(np.isnan(shares), -np.inf, shares).max(axis=0)
    lines: list[str] = []
    for k, s in zip(*np.unravel_index(np.argsort(-share, axis=None, kind="stable"), shape), strict=True):
        if share[k, s] <= 1 and lines:
            break
        slides = str(dataset.joint_unit.values[k]) == "m" and not "".join(dataset.stage_name.values[k, s + 1 :])
        unit = "N" if slides else "N·m"
        most, bears = torques[:, k, s].max(), float(dataset.stage_momentary_peak[k, s])
        line = f"{dataset.joint.values[k]}, {dataset.stage_name.values[k, s]}: {number(most)} {unit} in the stop"
        peak = f"{number(bears)} {unit} momentary peak"
        if share[k, s] > 1:
            line += f" against {peak}"
        else:
            line += f", {100 * share[k, s]:.0f} % of its {peak}: the stage that comes nearest"
        if "stage_torque_case" in dataset:
            line += f" ({dataset.stage_torque_case.values[k, s]})"
        lines.append(line)
        if share[k, s] <= 1:
            break
    return lines


def holding_lines(dataset: xr.Dataset) -> list[str]:
    """An axis a line."""
    lines = []
    for axis in dataset.joint.values:
        row = dataset.sel(joint=axis)
        unit = "N" if row.joint_unit.item() == "m" else "N·m"
        if float(row.torque_bound) < ROUNDING:
            lines.append(f"{axis}: nothing to hold")
            continue
        need = f"{axis}: at worst {float(row.torque_bound):.4g} {unit}"
        if np.isnan(float(row.brake_torque)):
            falls = f"moves at up to {axis_speed(float(row.fall_speed), str(row.joint_unit.item()))}"
            lines.append(f"{need}, no brake" + ("" if row.holds.item() else f"; without power it {falls}"))
        else:
            held = f"{float(row.brake_torque):.4g} {unit} held"
            if float(row.torque_bound) > ROUNDING:
                held += f", factor {float(row.factor):.3g}"
            else:
                need = f"{axis}: nothing to hold by weight"
            lines.append(f"{need}, {held}" + ("" if row.holds.item() else ": does not hold"))
    lines.append(f"the tool drops by {_mm(dataset['drop'])} at most when the power goes at rest")
    return lines
