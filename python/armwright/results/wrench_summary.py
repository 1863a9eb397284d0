"""What joints, mount and carriage bear, in a few lines of plain words."""

from __future__ import annotations

import numpy as np
import xarray as xr

from armwright.results.words import ROUNDING, notes, number


def joint_wrenches_lines(dataset: xr.Dataset) -> list[str]:
    """A part a line with its greatest figures, where the greatest tilting moment is; then what was not looked at."""
    lines = []
    for part in dataset.part.values:
        mine = dataset.sel(part=part)
        axial, radial, tilting, torque = (_largest(mine, quantity) for quantity in dataset.quantity.values)
        line = f"{part}: along its axis {axial} N, across {radial} N, tilting {tilting} N·m, about it {torque} N·m"
        worst = mine.sel(quantity="tilting moment", end="greatest")
        if float(worst.extreme) > ROUNDING:
            line += f"; tilts most {_place(dataset, worst)}"
        lines.append(line)
    kinds, counts = np.unique(dataset.case_kind.values, return_counts=True)
    words = dataset.case_kind.attrs["flag_meanings"].split(" ")
    cases = ", ".join(f"{count} of {words[kind]}" for kind, count in zip(kinds, counts, strict=True))
    lines.append(f"{dataset.sizes['row_point']} rows in {dataset.sizes['case']} cases: {cases}")
    return lines + notes("not looked at", dataset.attrs["missing"])


def _largest(mine: xr.Dataset, quantity: str) -> str:
    """With its sign, whichever end is farther from nothing."""
    values = mine.extreme.sel(quantity=quantity).values
    return number(values[np.argmax(np.abs(values))])


def _place(dataset: xr.Dataset, worst: xr.Dataset) -> str:
    case = str(dataset.case.values[int(worst.extreme_case)])
    time = float(worst.extreme_time)
    return f'in "{case}"' + ("" if np.isnan(time) else f", {time:.3f} s into it")
