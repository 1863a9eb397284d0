"""Labels the arrays of a study: a checked xarray.Dataset, every variable with its unit and long name."""

from __future__ import annotations

import difflib
import re
from collections.abc import Mapping
from functools import cache
from importlib import metadata
from typing import Any

import numpy as np
import xarray as xr

from armwright.errors import InputError, Problem
from armwright.results.swept import swept_study
from armwright.results.terms import BATCH, COMMON_ATTRIBUTES, Attribute, Study, Variable
from armwright.results.variables import STUDIES

_COMPONENTS = {"xyz": ("x", "y", "z"), "xy": ("x", "y"), "rz": ("r", "z")}
_KINDS = {"float": "f", "bool": "b", "int": "iu", "str": "U"}
_EMPTY = {"str": np.str_, "bool": np.bool_, "int": np.int64, "float": np.float64}
_ROUNDING = 1e-9  # values may pass their bounds by this


def make_dataset(
    study: str,
    variables: Mapping[str, Any],
    coords: Mapping[str, Any],
    attrs: Mapping[str, Any],
    inputs_digest: str,
    arm_name: str,
) -> xr.Dataset:
    """The labelled, checked data set of a study.

    ``variables`` and ``coords`` map names to arrays in the order of dims of the table in ``variables.py``; batch dims
    are called "posture", "posture_2" ... ``attrs`` are the study's own attributes; ``joint_names`` may be among them.
    Anything that is not in the table, or not of its dims and kind, is refused.

    >>> points = {"point_a": np.zeros((1, 3)), "point_b": np.ones((1, 3)), "name_a": ["arm"], "name_b": ["post"]}
    >>> made = results.make_dataset("clearance", {"distance": [0.2], **points}, {}, {}, arm.digest(), "arm")
    >>> made.distance.attrs["units"]
    'm'
    """
    what = find_study(study)
    attrs, coords = dict(attrs), dict(coords)
    if "joint_names" in attrs and what.find("joint_names"):
        coords.setdefault("joint_names", attrs.pop("joint_names"))
    attrs |= {
        "study": study, "armwright_version": version(), "inputs_digest": inputs_digest, "arm_name": arm_name,
    }
    problems: list[Problem] = []
    labelled: dict[str, xr.Variable] = {}
    for name, values in (coords | dict(variables)).items():
        variable = what.find(name)
        if variable is None:
            problems.append(_unknown(what, name))
            continue
        array = _array(variable, values, problems)
        if array is not None:
            labelled[name] = xr.Variable(_dims(variable, array.ndim), array, _labels(variable))
    _add_components(what, labelled)
    problems += _length_problems(study, labelled)
    if problems:
        raise InputError(problems)
    coord_names = {coord.name for coord in what.coords}
    dataset = xr.Dataset(
        {name: array for name, array in labelled.items() if name not in coord_names},
        {name: array for name, array in labelled.items() if name in coord_names},
        {name: _plain(value) for name, value in attrs.items()},
    )
    check_dataset(dataset)
    return dataset


def check_dataset(dataset: xr.Dataset, file: str = "") -> Study:
    """Refuses a data set that is not as the table says, all problems at once; gives its study back.

    >>> results.check_dataset(cell.clearance(q)).name
    'clearance'
    """
    if not isinstance(dataset, xr.Dataset):
        raise InputError.of("dataset", type(dataset).__name__, "an xarray.Dataset made by armwright", file=file)
    if "study" not in dataset.attrs:
        raise InputError.of("study", "no such attribute", "a data set made by armwright", file=file)
    what = find_study(str(dataset.attrs["study"]), file)
    if what.name == "sweep":
        inner = dataset.attrs.get("swept_study")
        what = swept_study(what, dataset, None if inner is None else find_study(str(inner), file))
    problems: list[Problem] = []
    for name in map(str, dataset.variables):
        variable = what.find(name)
        if variable is None:
            problems.append(_unknown(what, name))
        else:
            problems += _variable_problems(what, variable, dataset.variables[name])
    for variable in what.coords + what.variables:
        if variable.required and variable.name not in dataset.variables:
            problems.append(Problem(f"{what.name}.{variable.name}", "nothing", variable.long_name))
    problems += _attribute_problems(what, dataset.attrs)
    if problems:
        raise InputError(Problem(p.key, p.value, p.expected, p.meant, file) for p in problems)
    return what


def find_study(study: str, file: str = "") -> Study:
    """The study of that name, or an error that names those there are."""
    if study not in STUDIES:
        raise InputError.of("study", repr(study), "one of " + ", ".join(STUDIES), _nearest(study, STUDIES), file)
    return STUDIES[study]


@cache
def version() -> str:
    """The installed version; "not installed" when the package is used from its source folder."""
    try:
        return metadata.version("armwright")
    except metadata.PackageNotFoundError:
        return "not installed"


def _nearest(word: str, words: Any) -> str:
    return next(iter(difflib.get_close_matches(word, list(words), 1)), "")


def _unknown(what: Study, name: str) -> Problem:
    names = [variable.name for variable in what.coords + what.variables]
    return Problem(f"{what.name}.{name}", "a variable that is not in results/variables.py",
                   "one of " + ", ".join(names), _nearest(name, names))


def _array(variable: Variable, values: Any, problems: list[Problem]) -> np.ndarray[Any, Any] | None:
    if isinstance(values, xr.DataArray | xr.Variable):
        values = values.values
    array = np.asarray(values)
    if array.size == 0 and array.dtype.kind not in _KINDS[variable.kind]:
        array = array.astype(_EMPTY[variable.kind])
    if variable.kind == "str" and array.dtype.kind in "OT" and all(isinstance(word, str) for word in array.flat):
        array = array.astype(np.str_)
    if variable.kind == "float" and array.dtype.kind in "iu":
        array = array.astype(np.float64)
    if array.dtype.kind not in _KINDS[variable.kind]:
        problems.append(Problem(variable.name, f"an array of {array.dtype}", f"an array of {variable.kind}"))
        return None
    least = len(variable.dims) - (BATCH in variable.dims)
    if array.ndim < least or (array.ndim > least and BATCH not in variable.dims):
        shape = f"an array of shape {array.shape}"
        problems.append(Problem(variable.name, shape, f"dims ({', '.join(variable.dims)})"))
        return None
    return array


def _dims(variable: Variable, ndim: int) -> tuple[str, ...]:
    if BATCH not in variable.dims:
        return variable.dims
    rest = variable.dims[1:]
    return tuple("posture" if i == 0 else f"posture_{i + 1}" for i in range(ndim - len(rest))) + rest


def _labels(variable: Variable) -> dict[str, Any]:
    labels: dict[str, Any] = {"units": variable.unit, "long_name": variable.long_name}
    if variable.flags:
        labels |= {"flag_values": list(range(len(variable.flags))), "flag_meanings": " ".join(variable.flags)}
    return labels


def _add_components(what: Study, labelled: dict[str, xr.Variable]) -> None:
    for name, words in _COMPONENTS.items():
        variable = what.find(name)
        if variable is not None and name not in labelled:
            labelled[name] = xr.Variable(variable.dims, np.array(words), _labels(variable))


def _length_problems(study: str, labelled: Mapping[str, xr.Variable]) -> list[Problem]:
    lengths: dict[str, tuple[int, str]] = {}
    problems = []
    # Coordinates first: they say how long a dim is.
    for name, array in sorted(labelled.items(), key=lambda item: item[1].dims != (item[0],)):
        for dim, length in zip(array.dims, array.shape, strict=True):
            known, by = lengths.setdefault(str(dim), (length, name))
            if known != length:
                problems.append(Problem(f"{study}.{name}", f"{length} along {dim}", f"{known}, as {by} has"))
    return problems


def _variable_problems(what: Study, variable: Variable, array: xr.Variable) -> list[Problem]:
    key = f"{what.name}.{variable.name}"
    dims = tuple(map(str, array.dims))
    batch = BATCH in variable.dims
    fits = dims[len(dims) - len(variable.dims) + 1:] == variable.dims[1:] if batch else dims == variable.dims
    if not fits:
        return [Problem(key, f"dims ({', '.join(dims)})", f"dims ({', '.join(variable.dims)})")]
    if array.dtype.kind not in _KINDS[variable.kind]:
        return [Problem(key, f"an array of {array.dtype}", f"an array of {variable.kind}")]
    problems = [
        Problem(f"{key}.{label}", repr(array.attrs.get(label)), repr(wanted))
        for label, wanted in (("units", variable.unit), ("long_name", variable.long_name))
        if array.attrs.get(label) != wanted
    ]
    if variable.kind in ("float", "int"):
        problems += _number_problems(key, variable, array.values)
    if dims == (variable.name,) and variable.kind == "float" and not np.all(np.diff(array.values) > 0):
        problems.append(Problem(key, "values that do not grow", "values in growing order"))
    return problems


def _number_problems(key: str, variable: Variable, values: np.ndarray[Any, Any]) -> list[Problem]:
    problems = []
    known = np.isfinite(values)
    finite = values
    if not known.all():
        finite = values[known]
        for test, meaning, word in ((np.isnan, variable.nan, "NaN"), (np.isinf, variable.infinite, "infinite")):
            count = int(np.count_nonzero(test(values)))
            if count and not meaning:
                problems.append(Problem(key, f"{count} {word} of {values.size} values", "finite numbers"))
    if finite.size == 0:
        return problems
    if variable.least is not None and finite.min() < variable.least - _ROUNDING:
        problems.append(Problem(key, f"{finite.min():g}", f"at least {variable.least:g} {variable.unit}"))
    greatest = len(variable.flags) - 1 if variable.flags else variable.greatest
    if greatest is not None and finite.max() > greatest + _ROUNDING:
        problems.append(Problem(key, f"{finite.max():g}", f"at most {greatest:g} {variable.unit}"))
    return problems


def _attribute_problems(what: Study, attrs: Mapping[Any, Any]) -> list[Problem]:
    problems = []
    for name, value in attrs.items():
        attribute = what.find_attribute(str(name))
        if attribute is None:
            names = [known.name for known in COMMON_ATTRIBUTES + what.attributes]
            problems.append(Problem(f"{what.name} attribute {name}", "an attribute that is not in results/variables.py",
                                    "one of " + ", ".join(names), _nearest(str(name), names)))
        elif not _attribute_fits(attribute, value):
            words = f"one of {', '.join(attribute.choices)}" if attribute.choices else (
                f"{attribute.length or 'a single'} {attribute.kind} of unit {attribute.unit}: {attribute.meaning}")
            problems.append(Problem(f"{what.name} attribute {name}", repr(value), words))
    for attribute in COMMON_ATTRIBUTES + what.attributes:
        if attribute.required and attribute.name not in attrs:
            problems.append(Problem(f"{what.name} attribute {attribute.name}", "nothing", attribute.meaning))
    digest = attrs.get("inputs_digest")
    if isinstance(digest, str) and not re.fullmatch("[0-9a-f]{64}", digest):
        problems.append(Problem("inputs_digest", repr(digest), "64 hexadecimal digits, as SHA-256 gives"))
    return problems


def _attribute_fits(attribute: Attribute, value: Any) -> bool:
    if attribute.kind == "str":
        return isinstance(value, str) and (not attribute.choices or value in attribute.choices)
    array = np.asarray(value)
    if array.shape != ((attribute.length,) if attribute.length else ()) or array.dtype.kind not in "iuf":
        return False
    return bool(np.all(np.isfinite(array))) and (attribute.kind != "int" or array.dtype.kind in "iu")


def _plain(value: Any) -> Any:
    """An attribute as Python holds it, so that it is the same before and after a file."""
    if isinstance(value, np.generic):
        return value.item()
    if isinstance(value, np.ndarray | list | tuple):
        return [_plain(item) for item in value]
    return value
