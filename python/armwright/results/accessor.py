"""``dataset.armwright``: what can be done with a result, at hand on the data set itself."""

from __future__ import annotations

import os
from pathlib import Path

import xarray as xr

from armwright.results.store import to_netcdf
from armwright.results.summary import summary
from armwright.results.units import UnitSystem


@xr.register_dataset_accessor("armwright")  # type: ignore[no-untyped-call, unused-ignore]
class ResultAccessor:
    """Thin: each method hands the data set on.

    >>> near = cell.clearance(q)
    >>> near.armwright.to_netcdf("near.nc").name
    'near.nc'
    """

    def __init__(self, dataset: xr.Dataset):
        self._dataset = dataset

    def summary(self, units: UnitSystem = "si") -> str:
        """The result in a few lines of plain words, in metric or US units ("us")."""
        return summary(self._dataset, units)

    def to_netcdf(self, path: str | os.PathLike[str]) -> Path:
        """Writes the result to a file; see ``armwright.results.to_netcdf``."""
        return to_netcdf(self._dataset, path)
