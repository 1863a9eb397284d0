"""Result data sets to netCDF files and back, bit for bit."""

from __future__ import annotations

import difflib
import os
from pathlib import Path
from typing import Any

import numpy as np
import xarray as xr

from armwright.errors import InputError, Problem
from armwright.results.dataset import check_dataset, version
from armwright.results.terms import COMMON_ATTRIBUTES, Study
from armwright.results.whole_file import file_path, whole_file

_COMPRESS_FROM = 1024  # values; below, a chunk's overhead outweighs what it saves


def to_netcdf(dataset: xr.Dataset, path: str | os.PathLike[str]) -> Path:
    """Writes a result to a netCDF file. The file appears whole or not at all; one that was there is replaced.

    >>> results.to_netcdf(cell.clearance(q), "near.nc").name
    'near.nc'
    """
    check_dataset(dataset)
    target = file_path(path, example="reach.nc")
    with whole_file(target) as part:
        dataset.to_netcdf(part, engine="h5netcdf", format="NETCDF4", encoding=_encoding(dataset))
    return target


def open_result(path: str | os.PathLike[str]) -> xr.Dataset:
    """The result in a netCDF file, whole in memory, checked as if it were new.

    >>> near = cell.clearance(q)
    >>> path = near.armwright.to_netcdf("near.nc")
    >>> aw.open_result(path).identical(near)
    True
    """
    source = Path(path)
    if not source.is_file():
        meant = _similar_file(source)
        raise InputError.of("path", str(source), "a result file written by to_netcdf", meant)
    try:
        with xr.open_dataset(source, engine="h5netcdf") as stored:
            dataset: xr.Dataset = stored.load()
    except (OSError, ValueError, KeyError, RuntimeError, TypeError) as error:
        wanted = f"a whole netCDF file; run the study again and store it anew ({error})"
        raise InputError.of("path", str(source), wanted, file=str(source)) from error
    dataset = _as_made(dataset)
    try:
        what = check_dataset(dataset, file=str(source))
    except InputError as error:
        stored_by = str(dataset.attrs.get("armwright_version", "an unknown version"))
        wanted = f"a result as armwright {version()} stores it: run the study again"
        told = Problem("armwright_version", stored_by, wanted, file=str(source))
        raise InputError([*error.problems, told]) from error
    dataset.attrs = {name: _attribute(what, name, value) for name, value in dataset.attrs.items()}
    return dataset


def _encoding(dataset: xr.Dataset) -> dict[str, dict[str, Any]]:
    encoding: dict[str, dict[str, Any]] = {}
    for name, array in dataset.variables.items():
        settings: dict[str, Any] = {}
        if array.dtype.kind == "f":
            settings["_FillValue"] = None  # NaN is stored as NaN
        if array.dtype.kind in "fiub" and array.size >= _COMPRESS_FROM:
            settings |= {"zlib": True, "complevel": 4, "shuffle": True}
        encoding[str(name)] = settings
    return encoding


def _as_made(dataset: xr.Dataset) -> xr.Dataset:
    """Words come back as Python objects: make them arrays of str again."""
    words = {
        name: (array.dims, np.array(array.values, dtype=np.str_), array.attrs)
        for name, array in dataset.variables.items()
        if array.dtype.kind in "OT" and all(isinstance(word, str) for word in array.values.flat)
    }
    made: xr.Dataset = dataset.assign_coords({n: v for n, v in words.items() if n in dataset.coords})
    made = made.assign({n: v for n, v in words.items() if n not in dataset.coords})
    for array in made.variables.values():
        array.encoding = {}
        if "flag_values" in array.attrs:
            array.attrs["flag_values"] = [int(value) for value in np.atleast_1d(array.attrs["flag_values"])]
    made.encoding = {}
    return made


def _attribute(what: Study, name: object, value: Any) -> Any:
    known = {attribute.name: attribute for attribute in COMMON_ATTRIBUTES + what.attributes}[str(name)]
    if known.kind == "str":
        return str(value)
    number = int if known.kind == "int" else float
    return [number(item) for item in np.atleast_1d(value)] if known.length else number(value)


def _similar_file(source: Path) -> str:
    if not source.parent.is_dir():
        return ""
    names = [entry.name for entry in source.parent.iterdir() if entry.is_file()]
    nearest = difflib.get_close_matches(source.name, names, 1)
    return str(source.parent / nearest[0]) if nearest else ""

