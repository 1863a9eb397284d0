"""What a placement says, in sentences."""

from __future__ import annotations

import math

import numpy as np
import xarray as xr

_STANDS = {"base": "base", "track": "track", "parked arm": "position on the track"}
_PROMISED = 1e-3  # of the value: what the check keeps to this is kept


def placement_lines(dataset: xr.Dataset) -> list[str]:
    """The best place, what it serves, and what was kept of what the search had promised."""
    best = int(dataset.attrs["best"])
    points, count = dataset.sizes["target"], int(dataset.served_count[best])
    now = int(dataset.now_served.values.sum())
    several = dataset.sizes["aim"] > 1
    kind = "Balanced" if several else "Best"
    worst = "; ".join(_worst(dataset, best, k) for k in range(dataset.sizes["aim"]))
    where = "from the whole track" if dataset.attrs["stand"] == "parked arm" else "where it stands now"
    lines = [
        f"{kind} {_STANDS[str(dataset.attrs['stand'])]} {place_words(dataset, best)}: {count} of {points} points, "
        f"{worst}, against {now} of {points} {where}{_now(dataset)}"
    ]
    lines += [
        f"{name}: {reason}"
        for name, reason, served in zip(
            dataset.target.values, dataset.reason.values[best], dataset.served.values[best], strict=True
        )
        if not served
    ]
    if several:
        lines.append(f"{dataset.sizes['choice']} places that no other beats in all of: "
                     + ", ".join(map(str, dataset.aim.values)))  # fmt: skip
    lines += _broken(dataset, best)
    standing = int(np.count_nonzero(dataset.candidate_count.values >= 0))
    a = dataset.attrs
    checked = f"{a['places_checked']} checked at full accuracy"
    lines.append(f"{a['places_tried']} places tried, at {standing} of which it can stand; {checked}")
    return lines


def place_words(dataset: xr.Dataset, choice: int) -> str:
    """Where a choice is."""
    row = dataset.isel(choice=choice)
    if dataset.attrs["stand"] == "parked arm":
        return f"at {float(row.place_track) + 0.0:.3f} m"
    x, y, z = (f"{float(row[f'place_{axis}']) + 0.0:.3f}" for axis in "xyz")
    attitude = dataset.place_attitude.attrs["flag_meanings"].split()[int(row.place_attitude)]
    way = "facing" if attitude == "wall" else "turned"
    on = {"floor": ", on the floor", "wall": ", on a wall", "ceiling": ", on the ceiling"}.get(attitude, "")
    return f"at ({x}, {y}) m, {z} m high, {way} {math.degrees(float(row.place_yaw)) + 0.0:.3g}°{on}"


def _worst(dataset: xr.Dataset, choice: int, aim: int) -> str:
    value, name = float(dataset.worst[choice, aim]), str(dataset.aim.values[aim])
    at = str(dataset.worst_at.values[choice, aim])
    is_measure = not np.isnan(dataset.promised_worst.values[choice, aim])
    told = f"{'worst ' if is_measure else ''}{name} {_number(value, str(dataset.aim_unit.values[aim]))}"
    return f"{told} ({at})" if at else told


def _number(value: float, unit: str) -> str:
    if math.isnan(value):
        return "not known"
    text = f"{value:.3g}" if math.isfinite(value) else "without limit"
    return text if unit == "1" or not math.isfinite(value) else f"{text} {unit}"


def _now(dataset: xr.Dataset) -> str:
    worst = [
        f"{name} {_number(float(value), str(unit))}"
        for name, value, unit in zip(dataset.aim.values, dataset.now_worst.values, dataset.aim_unit.values, strict=True)
        if not np.isnan(value)
    ]
    return f" ({', '.join(worst)})" if worst else ""


def _broken(dataset: xr.Dataset, best: int) -> list[str]:
    """What the search had promised of the best place and the check did not find."""
    lines = []
    promised, kept = int(dataset.promised_count[best]), int(dataset.served_count[best])
    if promised > kept:
        lines.append(f"the search had promised {promised} points, the check found {kept}")
    for k, name in enumerate(dataset.aim.values):
        told, found = float(dataset.promised_worst[best, k]), float(dataset.worst[best, k])
        if promised == kept and found < told - _PROMISED * abs(told):
            unit = str(dataset.aim_unit.values[k])
            words = f"the search had promised {name} {_number(told, unit)}, the check found {_number(found, unit)}"
            lines.append(words)
    return lines
