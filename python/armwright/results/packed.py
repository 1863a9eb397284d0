"""A result as plain arrays of one item, as studies in pieces send and keep it; and back, bit for bit."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np
import xarray as xr
from numpy.typing import NDArray

_about = "about_result"  # dims, kinds, shapes and attributes, as JSON


def packed(dataset: xr.Dataset) -> dict[str, NDArray[Any]]:
    """Every variable with one axis more in front, of length 1, and a text with all the rest."""
    arrays = {str(name): np.asarray(variable.values)[np.newaxis] for name, variable in dataset.variables.items()}
    about = {
        "attrs": _plain(dataset.attrs),
        "coords": [str(name) for name in dataset.coords],
        "variables": {
            str(name): [list(map(str, v.dims)), v.dtype.str, list(v.shape), _plain(v.attrs)]
            for name, v in dataset.variables.items()
        },
    }
    return {_about: np.array([json.dumps(about)]), **arrays}


def unpacked(arrays: Mapping[str, NDArray[Any]], item: int) -> xr.Dataset:
    """The result of one item among several, which may have been filled up to the shape of the largest."""
    about = json.loads(str(arrays[_about][item]))
    variables = {
        name: xr.Variable(
            tuple(dims), arrays[name][item][tuple(slice(length) for length in shape)].astype(kind, copy=True), attrs
        )
        for name, (dims, kind, shape, attrs) in about["variables"].items()
    }
    coords = {name: variables.pop(name) for name in about["coords"]}
    return xr.Dataset(variables, coords, about["attrs"])


def _plain(value: Any) -> Any:
    """As JSON has it."""
    if isinstance(value, Mapping):
        return {str(key): _plain(each) for key, each in value.items()}
    if isinstance(value, np.ndarray | np.generic):
        return value.tolist()
    if isinstance(value, Sequence) and not isinstance(value, str):
        return [_plain(each) for each in value]
    return value
