"""Data sets over many designs: labelled with the design numbers, of answers or of any other study."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

import numpy as np
import xarray as xr

from armwright.errors import InputError
from armwright.results.terms import BATCH, COMMON_ATTRIBUTES, Study, Variable


def number_coords(
    numbers: Mapping[str, tuple[str, Any]], columns: Mapping[str, Any], dims: Mapping[str, str]
) -> dict[str, xr.Variable]:
    """Coordinates named by design numbers: ``numbers`` tell the unit and the meaning of each, ``columns`` its values,
    ``dims`` over what."""
    return {
        coord_name(path): xr.Variable((dims[path],), np.asarray(columns[path]), {"units": unit, "long_name": meaning})
        for path, (unit, meaning) in numbers.items()
    }


def coord_name(path: str) -> str:
    """The name of a design number in a data set: files of results know no "/" in names."""
    return path.replace("/", "|")


def swept_study(what: Study, dataset: xr.Dataset, inner: Study | None) -> Study:
    """What a swept data set may hold: besides the sweep's own variables the coordinates of its design numbers and, of
    the study that was swept, every variable over the designs besides and every number among its attributes as one."""
    known = {variable.name for variable in what.coords}
    coords = list(what.coords)
    if inner is not None:
        coords += [variable for variable in map(_perhaps_over_designs, inner.coords) if variable.name not in known]
        known |= {variable.name for variable in inner.coords}
    for name, array in dataset.coords.items():
        if str(name) not in known and "units" in array.attrs and array.ndim == 1:
            kind: Any = "str" if array.dtype.kind == "U" else "float"
            dims, unit, meaning = tuple(map(str, array.dims)), str(array.attrs["units"]), array.attrs.get("long_name")
            coords.append(Variable(str(name), dims, unit, str(meaning), kind))
    if inner is None:
        return replace(what, coords=tuple(coords))
    variables = tuple(_over_designs(variable) for variable in inner.variables)
    variables += tuple(
        Variable(attribute.name, (BATCH,), attribute.unit, attribute.meaning,
                 "str" if attribute.kind == "str" else "float", required=False)
        for attribute in inner.attributes if attribute.length == 0 and what.find_attribute(attribute.name) is None
    )  # fmt: skip
    settings = tuple(replace(a, required=False) for a in inner.attributes if what.find_attribute(a.name) is None)
    return replace(what, coords=tuple(coords), variables=variables, attributes=what.attributes + settings)


def _over_designs(variable: Variable) -> Variable:
    return variable if BATCH in variable.dims else replace(variable, dims=(BATCH, *variable.dims))


def _perhaps_over_designs(variable: Variable) -> Variable:
    """A coordinate that is not its dim's own may differ from design to design."""
    return variable if variable.dims == (variable.name,) else _over_designs(variable)


def joined(datasets: Sequence[xr.Dataset], dims: Mapping[str, int], study: Study) -> xr.Dataset:
    """Results of one study, a design each (in the order of the dims, the last one fastest), as one data set: variables
    over the designs besides, numbers among the attributes as variables, other attributes as they are if all agree.
    InputError where they are not of one shape."""
    first, shape = datasets[0], tuple(dims.values())
    for k, other in enumerate(datasets):
        for dim in first.dims:
            same = other.sizes.get(dim) == first.sizes[dim]
            if not same or (dim in first.coords and not first[dim].equals(other[dim])):
                raise InputError.of(
                    "study", f"results that differ along {dim}: {first.sizes[dim]} values of the first design, "
                    f"{other.sizes.get(dim, 0)} (or others) of design {k}",
                    "results of one shape (of maps: the same spacing and bounds), or answers instead",
                )  # fmt: skip
    variables: dict[str, xr.Variable] = {}
    coords: dict[str, xr.Variable] = {}
    for name, array in first.variables.items():
        stack = [other.variables[name].values for other in datasets]
        whole = xr.Variable(
            (*dims, *map(str, array.dims)), np.stack(stack).reshape(*shape, *array.shape), array.attrs
        )
        if name not in first.coords:
            variables[str(name)] = whole
        else:
            constant = all(np.array_equal(each, stack[0]) for each in stack)
            coords[str(name)] = array if constant else whole
    settings: dict[str, Any] = {}
    for attribute in study.attributes:
        told = [other.attrs.get(attribute.name) for other in datasets]
        if any(value is None for value in told):
            continue
        number = attribute.kind != "str" and not attribute.length
        if not number and all(value == told[0] for value in told):
            settings[attribute.name] = told[0]
        elif not attribute.length:
            values = np.array(told, np.float64 if number else np.str_).reshape(shape)
            labels = {"units": attribute.unit, "long_name": attribute.meaning}
            variables[attribute.name] = xr.Variable(tuple(dims), values, labels)
    return xr.Dataset(variables, coords, settings)


def common(datasets: Sequence[xr.Dataset]) -> dict[str, Any]:
    """Attributes of every study that all of the data sets share."""
    keys = [attribute.name for attribute in COMMON_ATTRIBUTES]
    first = datasets[0].attrs
    return {key: first[key] for key in keys if key in first and all(d.attrs.get(key) == first[key] for d in datasets)}
