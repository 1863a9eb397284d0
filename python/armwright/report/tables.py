"""Results as tables of plain text."""

from __future__ import annotations

import math

import numpy as np
import xarray as xr

from armwright.results import check_dataset
from armwright.results.unit_words import in_units, names_in
from armwright.results.units import UnitSystem, shown, shown_small

_PLACES: dict[UnitSystem, int] = {"si": 0, "us": 1}  # of short lengths


def targets_table(checked: xr.Dataset, units: UnitSystem = "si") -> str:
    """A line for each work point of a check_targets result: served or not and why; margins; what is nearest.

    >>> print(report.targets_table(cell.check_targets(), units="us").splitlines()[2])
    left shelf 2  yes     38 %       1.8 in     17.1 lb  16.7 in  nearest: left rack, shelf 2
    """
    check_dataset(checked)
    names = names_in(checked)
    rows = [("work point", "served", "to limits", "clearance", "holds", "track", "remark")]
    has_track = bool(checked.sizes["joint"]) and str(checked["joint"].values[0]) == "track"
    for name in checked["target"].values:
        row = checked.sel(target=name)
        served = bool(row["served"])
        nearest = str(row["clearance_name_b"].item()) if "clearance_name_b" in row else ""
        remark = f"nearest: {nearest}" if served and nearest else in_units(str(row["reason"].item()), units, names)
        q0 = float(row["q"].values[0]) if has_track else math.nan
        rows.append((
            str(name), "yes" if served else "NO", _percent(_figure(row, "limit_margin")),
            _near(_figure(row, "clearance"), units), _held(_figure(row, "payload"), units), _along(q0, units), remark,
        ))  # fmt: skip
    keep = [i for i in range(len(rows[0])) if has_track or rows[0][i] != "track"]
    widths = [max(len(row[i]) for row in rows) for i in keep]
    lines = ["  ".join(row[i].ljust(width) for i, width in zip(keep, widths, strict=True)).rstrip() for row in rows]
    lines.insert(1, "  ".join("-" * width for width in widths))
    served_count = int(np.sum(checked["served"].values))
    lines.append(f"{served_count} of {checked.sizes['target']} work points served")
    return "\n".join(lines)


def _figure(row: xr.Dataset, name: str) -> float:
    """NaN, which is told as nothing, where a result does not tell it."""
    return float(row[name]) if name in row else math.nan


def _percent(value: float) -> str:
    return "" if math.isnan(value) else f"{100 * value:.0f} %"


def _near(value: float, units: UnitSystem) -> str:
    if math.isinf(value):
        return "nothing near"
    how = shown_small(units)
    return "" if math.isnan(value) else f"{how.factor * value:.{_PLACES[units]}f} {how.unit}"


def _held(value: float, units: UnitSystem) -> str:
    # Rounded down: what is held must not be told too high.
    if math.isinf(value):
        return "no limit"
    how = shown("kg", units)
    return "" if math.isnan(value) else f"{math.floor(10 * how.factor * value) / 10:.1f} {how.unit}"


def _along(value: float, units: UnitSystem) -> str:
    how = shown("m", units)
    return "" if math.isnan(value) else f"{how.factor * value:.{1 if units == 'us' else 2}f} {how.unit}"
