"""Results about stops and holding in a few lines of plain words."""

from __future__ import annotations

import numpy as np
import xarray as xr

_NOTHING = 1e-6  # N m, N; less than that is rounding


def stop_lines(dataset: xr.Dataset) -> list[str]:
    """Of a stop, or of many."""
    ends, words = np.unique(dataset.end.values, return_counts=True)
    lines = [
        f"category {dataset.attrs['category']}: " + ", ".join(f"{n} {end}" for end, n in zip(ends, words, strict=True)),
        f"followed for {dataset.stop_time.values.max():.3g} s at most, the tool point for "
        f"{dataset.tool_path.values.max():.3g} m, {1000 * dataset.tool_drop.values.max():.3g} mm lower at the lowest",
    ]
    hit = dataset.impact_speed.values.reshape(-1, dataset.sizes["joint"]).max(axis=0)
    for name, speed, unit in zip(dataset.joint.values, hit, dataset.joint_unit.values, strict=True):
        if speed > 0:
            lines.append(f"{name} meets the end of its range at {speed:.3g} {unit}/s")
    shares = dataset.brake_energy_share.values.reshape(-1, dataset.sizes["joint"])
    for name, column in zip(dataset.joint.values, shares.T, strict=True):
        if (column > 1).any():
            lines.append(f"{name}: its brake takes {np.nanmax(column):.3g} times the energy that it bears in a stop")
    return lines


def stop_table_lines(dataset: xr.Dataset) -> list[str]:
    """The rows at full speed, load and extension."""
    worst = dataset.isel(speed_share=-1, load_share=-1, extension_share=-1)
    lines = []
    for axis in dataset.axis.values:
        for category in dataset.category.values:
            row = worst.sel(axis=axis, category=category)
            lines.append(
                f"{axis}, category {category}: {float(row.stop_time):.3g} s, {float(row.travel):.3g} "
                f"{row.axis_unit.item()}, tool point {float(row.tool_path):.3g} m ({row.end.item()})"
            )
    return lines


def holding_lines(dataset: xr.Dataset) -> list[str]:
    """An axis a line."""
    lines = []
    for axis in dataset.joint.values:
        row = dataset.sel(joint=axis)
        unit = "N" if row.joint_unit.item() == "m" else "N m"
        if float(row.torque_bound) < _NOTHING:
            lines.append(f"{axis}: nothing to hold")
            continue
        need = f"{axis}: at worst {float(row.torque_bound):.4g} {unit}"
        if np.isnan(float(row.brake_torque)):
            falls = f"moves at up to {float(row.fall_speed):.3g} {row.joint_unit.item()}/s"
            lines.append(f"{need}, no brake" + ("" if row.holds.item() else f"; without power it {falls}"))
        else:
            held = f"{float(row.brake_torque):.4g} {unit} held"
            if float(row.torque_bound) > _NOTHING:
                held += f", factor {float(row.factor):.3g}"
            else:
                need = f"{axis}: nothing to hold by weight"
            lines.append(f"{need}, {held}" + ("" if row.holds.item() else ": does not hold"))
    lines.append(f"the tool drops by {1000 * dataset['drop'].values.max():.3g} mm at most when the power goes at rest")
    return lines
