"""What the base has to bear, in a few lines of plain words."""

from __future__ import annotations

import numpy as np
import xarray as xr

from armwright.results.words import notes, number, safety_against, with_unit


def base_lines(dataset: xr.Dataset) -> list[str]:
    """Reactions, bolts, every check, and what is missing."""
    lines = [f"{kind}: {_reaction(dataset.sel(kind=kind))}" for kind in dataset["kind"].values]
    if "bolt_pull" in dataset:
        lines.append(_bolts(dataset))
    if "floor_pressure" in dataset.attrs:
        under = "the feet" if "foot_position" in dataset else "the plate"
        pressure = with_unit(float(dataset.attrs["floor_pressure"]), "Pa")
        lines.append(f"greatest pressure under {under} {pressure} ({dataset.attrs['floor_pressure_case']})")
    for name in dataset["check"].values:
        row = dataset.sel(check=name)
        safety = float(row["safety"])
        part = "it tips over" if name == "floor pressure" and safety == 0 else row["check_part"].item()
        where = "" if safety == np.inf else f" ({part}; {row['check_case'].item()})"
        lines.append(f"{name}: {safety_against(safety, row['wanted'])}{where}")
    lines += notes("to mind", dataset.attrs["to_mind"]) + notes("not looked at", dataset.attrs["missing"])
    return [*lines, str(dataset.attrs["caution"])]


def _reaction(row: xr.Dataset) -> str:
    force, moment = row["reaction_force"], row["reaction_moment"]
    pull, push = float(force.sel(extreme="pull")[2]), -float(force.sel(extreme="push")[2])
    shear = float(np.hypot(*force.sel(extreme="shear").values[:2]))
    tilting = float(np.hypot(*moment.sel(extreme="tilting moment").values[:2]))
    torsion = abs(float(moment.sel(extreme="torsion")[2]))
    off = f"pulls off with {number(pull)} N, " if pull > 0 else ""
    case = row["reaction_case"].sel(extreme="tilting moment").item()
    return (
        f"{off}presses with up to {number(max(push, 0.0))} N, shears with {number(shear)} N, tilts "
        f"with {number(tilting)} N·m ({case}), twists with {number(torsion)} N·m"
    )


def _bolts(dataset: xr.Dataset) -> str:
    pull = dataset["bolt_pull"].values
    if np.isnan(pull).all():
        return "tension of the bolts: no method can tell"
    worst = int(np.nanargmax(pull))
    return (
        f"{dataset['bolt'].values[worst]}: {number(pull[worst])} N of tension at most, by the "
        f"{dataset['bolt_pull_method'].values[worst]} ({dataset['bolt_pull_case'].values[worst]}); shear up to "
        f"{number(float(np.nanmax(dataset['bolt_shear'].values, initial=0.0)))} N a bolt if friction bears nothing"
    )
