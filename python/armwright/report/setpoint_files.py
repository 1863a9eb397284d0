"""Setpoints as tables in files, a row an instant, with the unit in each column's name."""

from __future__ import annotations

import importlib.util
import os
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np
import xarray as xr

from armwright.errors import InputError
from armwright.results import check_dataset
from armwright.results.whole_file import file_path, whole_file

if TYPE_CHECKING:
    import pandas as pd

_SLIDES = {"qd": "m/s", "qdd": "m/s^2", "joint_torque": "N"}
_TURNS = {"qd": "rad/s", "qdd": "rad/s^2", "joint_torque": "N*m"}


def setpoints_table(setpoints: xr.Dataset) -> pd.DataFrame:
    """A row an instant: time, move, load, then for each joint its columns, as "axis 1 q [rad]".

    >>> list(report.setpoints_table(cell.setpoints(cycle, 50)).columns[:4])
    ['time [s]', 'move', 'load', 'track q [m]']
    """
    import pandas as pd

    if check_dataset(setpoints).name != "setpoints":
        raise InputError.of("setpoints", str(setpoints.attrs["study"]), "a result of setpoints")
    columns: dict[str, Any] = {
        "time [s]": setpoints["time"].values, "move": setpoints["move"].values, "load": setpoints["load"].values,
    }  # fmt: skip
    units = setpoints["joint_unit"].values
    for k, joint in enumerate(setpoints["joint"].values):
        for name, variable in setpoints.data_vars.items():
            if variable.dims != ("time_point", "joint"):
                continue
            values = variable.values[:, k]
            if np.isnan(values).all():
                continue
            unit = _unit(str(name), str(units[k]), variable.attrs["units"])
            columns[f"{joint} {str(name).replace('_', ' ')} [{unit}]"] = values
    return pd.DataFrame(columns)


def setpoints_to_csv(setpoints: xr.Dataset, path: str | os.PathLike[str]) -> Path:
    """Writes the table as CSV; numbers to the last bit.

    >>> path = report.setpoints_to_csv(cell.setpoints(cycle, 50), "setpoints.csv")
    >>> path.read_text().splitlines()[0][:24]
    'time [s],move,load,track'
    """
    target = file_path(path)
    with whole_file(target) as part:
        setpoints_table(setpoints).to_csv(part, index=False)
    return target


def setpoints_to_parquet(setpoints: xr.Dataset, path: str | os.PathLike[str]) -> Path:
    """Writes the table as Parquet; needs pyarrow."""
    target = file_path(path)
    if importlib.util.find_spec("pyarrow") is None:
        raise InputError.of("path", str(target), "pyarrow for Parquet: pip install 'armwright[parquet]'; or CSV")
    with whole_file(target) as part:
        setpoints_table(setpoints).to_parquet(part, index=False)
    return target


def _unit(name: str, unit: str, told: str) -> str:
    if name == "q":
        return unit
    if name == "motor_counts":
        return "count"
    return (_SLIDES if unit == "m" else _TURNS).get(name, told)

