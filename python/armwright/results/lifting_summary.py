"""Results about lifting and service in a few lines of plain words."""

from __future__ import annotations

from typing import Any

import numpy as np
import xarray as xr

from armwright.results.words import ROUNDING, notes

_LEVEL, _SLIGHT = 0.005, 0.01  # deg; N, N m: nobody can measure less on an arm that hangs


def _posture(q: xr.DataArray, units: xr.DataArray) -> str:
    told = []
    for name, value, unit in zip(q.joint.values, q.values, units.values, strict=True):
        told.append(f"{name} {1000 * value:.0f} mm" if unit == "m" else f"{name} {np.degrees(value):.0f} deg")
    return ", ".join(told)


def lifting_lines(dataset: xr.Dataset) -> list[str]:
    """Mass and centre, then two lines an eye."""
    centre = ", ".join(f"{1000 * value:.0f}" for value in dataset.centre.values)
    lines = [f"{dataset.attrs['mass']:.4g} kg, centre of gravity at ({centre}) mm from the base"]
    for eye in dataset.eye.values:
        row = dataset.sel(eye=eye)
        lines += [f"{eye}: {_hangs(row, '')}{_rated(row)}"]
        found = "level in" if bool(row.level_found) else "hangs level in no posture found; least tilted in"
        lines.append(f"{eye}: {found} {_posture(row.level_q, dataset.joint_unit)}: {_hangs(row, 'level_')}")
        if float(row.level_clearance) < 0:
            lines.append(f"{eye}: in that posture the arm OVERLAPS itself")
    return [*lines, *notes("not looked at", dataset.attrs["missing"]), dataset.attrs["caution"]]


def _hangs(row: Any, prefix: str) -> str:
    tilt = float(row[f"{prefix}tilt"])
    if np.isnan(tilt):
        return "hangs ANYHOW, its centre of gravity is in the eye, to 1 mm"
    text = f"leans by {_angle(tilt)}"
    if tilt > np.pi / 2:
        text += " and TURNS OVER, its centre of gravity is above the eye"
    factor = row[f"{prefix}brake_factor"].values
    if bool(row[f"{prefix}holds"]):
        return f"{text}, brakes hold it" + (f" {np.nanmin(factor):.3g} times" if np.isfinite(factor).any() else "")
    torque = row[f"{prefix}hung_torque"].values
    weak = [f"{name} {_small(abs(t))} {'N' if unit == 'm' else 'N·m'}"
            for name, f, t, unit in zip(row.joint.values, factor, torque, row.joint_unit.values, strict=True)
            if (np.isnan(f) and abs(t) > ROUNDING) or f < 1]  # fmt: skip
    return f"{text}, NOT HELD by brakes: {', '.join(weak)}"


def _angle(radians: float) -> str:
    degrees = float(np.degrees(radians))
    return "0 deg" if degrees < _LEVEL else f"{degrees:.3g} deg"


def _small(value: float) -> str:
    return f"less than {_SLIGHT:g}" if value < _SLIGHT else f"{value:.3g}"


def _rated(row: Any) -> str:
    safety = float(row.eye_safety)
    if np.isnan(safety):
        return ""
    enough = ": TOO LITTLE" if safety < 1 else ""
    return f"; rated {float(row.rated_mass):.4g} kg, {safety:.3g} times the mass{enough}"


def service_lines(dataset: xr.Dataset) -> list[str]:
    """A line a volume."""
    lines = []
    for volume in dataset.volume.values:
        row = dataset.sel(volume=volume)
        here = row.free.values
        at = "free as asked" if here.all() else f"free in {int(here.sum())} of {here.size} postures asked about"
        if np.isnan(row.best_q.values).any():
            lines.append(f"{volume}: {at}; no posture that was tried is clear")
            continue
        best = _posture(row.best_q, dataset.joint_unit)
        unit = "N" if str(dataset.joint_unit.sel(joint=str(row.motor.item())).item()) == "m" else "N·m"
        if bool(row.best_free):
            held = f", {abs(float(row.best_unheld_torque)):.3g} {unit} to be propped"
            held = "" if bool(row.held_without_motor) else held
            share = f"free in {100 * float(row.free_share):.0f} % of those tried"
            lines.append(f"{volume}: {at}; best in {best}{held}; {share}")
        else:
            lines.append(f"{volume}: {at}; free in NO posture tried: {1000 * float(row.best_distance):.0f} mm from "
                         f"{row.best_nearest.item()} at best, in {best}")  # fmt: skip
    return [*lines, *notes("not looked at", dataset.attrs["missing"]), dataset.attrs["caution"]]
