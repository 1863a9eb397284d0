"""Results about links and joints as springs in a few lines of plain words."""

from __future__ import annotations

from typing import Any

import numpy as np
import xarray as xr

from armwright.results.words import notes, safety_against


def sag_lines(dataset: xr.Dataset) -> list[str]:
    """The worst posture, by cause."""
    size = dataset.sag_size.values
    known = np.isfinite(size)
    if not known.any():
        return ["no postures", *_left_out(dataset)]
    worst = np.unravel_index(int(np.argmax(np.where(known, size, -1.0))), size.shape)
    where = f" (at {dataset['at'].values[worst]})" if "at" in dataset else ""
    down, turn = float(dataset.sag_down.values[worst]), float(np.linalg.norm(dataset.sag_turn.values[worst]))
    load, own = (float(np.linalg.norm(dataset[name].values[worst])) for name in ("sag_load", "sag_own"))
    lines = [
        f"the tool point sinks by up to {_mm(size[worst])}{where}: {_mm(down)} down, turned by {np.degrees(turn):.3g}°",
        f"by the arm's own weight {_mm(own)}, by the load of {float(dataset.load_mass.values[worst]):.4g} kg "
        f"{_mm(load)}",
    ]
    lines += _shares(dataset.cause.values, dataset.cause_share.values[worst])
    if not known.all():
        lines.append(f"no posture{_places(dataset, ~known)}: no answer there")
    if not dataset.small.values[known].all():
        lines.append("the tool turns by MORE than 0.1 rad: no small deflection any more, so that figures are rough")
    return lines + _left_out(dataset)


def sag_over_reach_lines(dataset: xr.Dataset) -> list[str]:
    """The worst place, and what gives way most."""
    size = dataset.sag_greatest.values
    if not np.isfinite(size).any():
        return ["no position is reached", *_left_out(dataset)]
    row, column = np.unravel_index(int(np.nanargmax(size)), size.shape)
    place = f"{float(dataset.distance[column]):.3g} m from axis 1, {float(dataset.height[row]):.3g} m high"
    reached = dataset.main_cause.values[dataset.main_cause.values >= 0]
    names, counts = np.unique(reached, return_counts=True)
    main = ", ".join(
        f"{dataset.cause.values[names[k]]} at {100 * counts[k] / max(len(reached), 1):.0f} % of the positions"
        for k in np.argsort(-counts, kind="stable")[:3]
    )
    lines = [f"sinks by up to {_mm(size[row, column])} with {dataset.attrs['load_mass']:.4g} kg ({place})",
             f"by {_mm(float(np.nanmin(dataset.sag_least.values)))} at the least"]  # fmt: skip
    return lines + ([f"gives way most: {main}"] if main else []) + _left_out(dataset)


def stiffness_lines(dataset: xr.Dataset) -> list[str]:
    """The softest direction and the lowest frequency over all postures."""
    along = dataset.stiffness_along.values.reshape(-1, 3)
    if not len(along):
        return ["no postures", *_left_out(dataset)]
    softest = np.unravel_index(int(along.argmin()), along.shape)
    frequency = dataset.frequency.values
    worst = np.unravel_index(int(frequency.argmin()), frequency.shape)
    lines = [f"softest along {'xyz'[softest[1]]}: {along[softest] / 1000:.4g} N/mm" if np.isfinite(along[softest])
             else "rigid along all axes"]  # fmt: skip
    if np.isfinite(frequency[worst]):
        lines.append(
            f"lowest natural frequency {frequency[worst]:.4g} Hz with {dataset.attrs['load_mass']:.4g} kg, rotors "
            f"held: mostly {dataset.mode_cause.values[worst]}"
        )
    else:
        lines.append("nothing that swings")
    return lines + _left_out(dataset)


def link_stress_lines(dataset: xr.Dataset) -> list[str]:
    """A tube a line, by its worst section."""
    lines = []
    for tube in dataset.tube.values:
        row = dataset.sel(tube=tube)
        worst = int(row.von_mises.values.argmax())
        known = ~np.isnan(row.safety.values)
        if known.any():
            worst = int(np.nanargmin(row.safety.values))
        at = row.isel(end=worst)
        place = f"{at.end.item()} end"
        if at.end.item() == "between":
            place = f"{100 * float(at.station):.0f} % of its length"
        stress = f"{tube}, {place}: {float(at.von_mises) / 1e6:.4g} MPa ({at['case'].item()})"
        if known.any():
            stress += f" of {float(at.allowed_stress) / 1e6:.4g} MPa allowed"
            stress += f", {safety_against(at.safety, at.wanted_safety)}"
        lines.append(stress)
    return lines + _left_out(dataset)


def _shares(names: Any, shares: Any) -> list[str]:
    """The causes with the greatest shares."""
    order = [k for k in np.argsort(-np.nan_to_num(shares), kind="stable") if np.nan_to_num(shares)[k] >= 0.005]
    told = ", ".join(f"{names[k]} {100 * shares[k]:.0f} %" for k in order[:6])
    return [f"gives way: {told}"] if told else []


def _places(dataset: xr.Dataset, unknown: Any) -> str:
    """Which postures, by the names of their work points where they have any."""
    if "at" not in dataset:
        return f" in {int(unknown.sum())} of {unknown.size} rows"
    return " at " + ", ".join(map(str, dataset["at"].values[unknown]))


def _left_out(dataset: xr.Dataset) -> list[str]:
    return notes("not counted", dataset.attrs["not_counted"])


def _mm(metres: float) -> str:
    return f"{1000 * float(metres):.3g} mm"
