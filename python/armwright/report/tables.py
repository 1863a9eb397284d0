"""Results as tables of plain text."""

from __future__ import annotations

import math

import numpy as np
import xarray as xr

from armwright.results import check_dataset


def targets_table(checked: xr.Dataset) -> str:
    """A line for each work point of a check_targets result: served or not and why; margins; what is nearest."""
    check_dataset(checked)
    rows = [("work point", "served", "to limits", "clearance", "holds", "track", "remark")]
    has_track = bool(checked.sizes["joint"]) and str(checked["joint"].values[0]) == "track"
    for name in checked["target"].values:
        row = checked.sel(target=name)
        served = bool(row["served"])
        nearest = str(row["clearance_name_b"].item()) if "clearance_name_b" in row else ""
        remark = f"nearest: {nearest}" if served and nearest else str(row["reason"].item())
        q0 = float(row["q"].values[0]) if has_track else math.nan
        rows.append((
            str(name), "yes" if served else "NO", _percent(_figure(row, "limit_margin")),
            _millimetres(_figure(row, "clearance")), _kilograms(_figure(row, "payload")), _metres(q0), remark,
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


def _millimetres(value: float) -> str:
    return "" if math.isnan(value) else "nothing near" if math.isinf(value) else f"{1000 * value:.0f} mm"


def _kilograms(value: float) -> str:
    # Rounded down: what is held must not be told too high.
    return "" if math.isnan(value) else "no limit" if math.isinf(value) else f"{math.floor(10 * value) / 10:.1f} kg"


def _metres(value: float) -> str:
    return "" if math.isnan(value) else f"{value:.2f} m"
