"""Any result as tables: one for each set of dims, a column a variable, and two that say what they are about."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Sequence
from typing import Any

import numpy as np
import xarray as xr

from armwright.report.cautions import cautions
from armwright.report.document import Column, Entry, Quantity, Table
from armwright.results import check_dataset
from armwright.results.terms import COMMON_ATTRIBUTES, Study

# Dims that are components of one thing: each its own column, not its own row.
_COMPONENTS = ("xyz", "xy", "rz")
_PLACE = re.compile(r"place (?:of [^,:]* )?in (?:the )?(\w+)")
# "in joint_unit a second": the unit of each row stands in a variable of that name.
_UNIT_BESIDE = re.compile(r"(?:\bin |, )(\w*unit)\b(?! by (?!s))(?P<rate> a second squared| a second| by s²| by s)?")
# "N m, N where it slides": what a joint that slides has instead.
_UNIT_SLIDING = re.compile(r"\b(?P<slides>N|m/s|m) where (?P<what>it|the motor itself) slides")
_RATES = {" a second": "/s", " by s": "/s", " a second squared": "/s^2", " by s²": "/s^2"}
_ALL_FIGURES = 15


def tables_of(dataset: xr.Dataset) -> list[Table]:
    """The tables of a result, numbers in SI. First one for each set of dims that variables have: a row for each
    combination of their places, told by name where they have names, and a column for each variable (for each component
    of a position; for each unit, where rows differ in it). Places in other variables are told by the names there. Then
    "columns", what each means, and "about", the result's attributes with the cautions.

    >>> [table.name for table in report.tables_of(cell.check_targets())][-2:]
    ['columns', 'about']
    """
    what = check_dataset(dataset)
    groups: dict[tuple[str, ...], list[str]] = {}
    order = [variable.name for variable in (*what.variables, *what.coords)]  # what was asked for first
    for name in sorted(map(str, dataset.variables), key=order.index):
        variable = dataset.variables[name]
        dims = tuple(str(dim) for dim in variable.dims if dim not in _COMPONENTS)
        if variable.dims != (name,):
            groups.setdefault(dims, []).append(name)
    tables, meanings = [], []
    for dims, names in groups.items():
        table, told = _table(dataset, what, dims, names)
        tables.append(table)
        meanings += told
    return [*tables, _columns_table(meanings), _about(dataset, what)]


_Made = tuple[Column, list[Entry]]


def _table(dataset: xr.Dataset, what: Study, dims: tuple[str, ...], names: Sequence[str]) -> tuple[Table, list[Any]]:
    shape = tuple(dataset.sizes[dim] for dim in dims)
    title = " ".join(dims) or "values"
    columns: list[_Made] = []
    told: list[tuple[Entry, ...]] = []
    for k, dim in enumerate(dims):
        at = [1] * len(dims)
        at[k] = shape[k]
        for column, each, meaning in _places(dataset, what, dim, beside=len(dims) > 1):
            entries = np.empty(shape[k], dtype=object)
            entries[:] = each
            columns.append((column, np.broadcast_to(entries.reshape(at), shape).ravel().tolist()))
            told.append((title, column.words, meaning, column.unit, "", ""))
    for name in names:
        variable, known = dataset.variables[name], what.find(name)
        for made in _columns_of(dataset, what, name, dims):
            columns.append(made)
            nan, infinite = (known.nan, known.infinite) if known else ("", "")
            told.append((title, made[0].words, _meaning(variable), made[0].unit, nan, infinite))
    head = f"{dataset.attrs['study']} of {dataset.attrs['arm_name']}: {what.meaning}"
    rows = tuple(zip(*(entries for _, entries in columns), strict=True)) if columns else ()
    return Table(title, head, tuple(column for column, _ in columns), rows), told


def _places(dataset: xr.Dataset, what: Study, dim: str, *, beside: bool) -> Iterator[tuple[Column, list[Entry], str]]:
    """What tells the places along a dim: its coordinate; where it has none, numbers, and (``beside``) names."""
    if dim in dataset.variables:
        variable = dataset.variables[dim]
        yield *_column(dataset, what, dim, variable.values, str(variable.attrs["units"])), _meaning(variable)
        return
    yield Column(_words(dim), "1"), list(range(dataset.sizes[dim])), "place, counted from 0"
    for name, coord in dataset.coords.items():
        if beside and coord.dims == (dim,) and coord.dtype.kind == "U":
            yield *_column(dataset, what, str(name), coord.values, "1"), _meaning(coord.variable)


def _columns_of(dataset: xr.Dataset, what: Study, name: str, dims: tuple[str, ...]) -> Iterator[_Made]:
    """The columns that a variable fills: one for each component and unit."""
    variable = dataset.variables[name]
    spread = [str(dim) for dim in variable.dims if dim in _COMPONENTS]
    values = variable.transpose(*dims, *spread).values
    unit = str(variable.attrs["units"])
    if not spread:
        beside = _units_beside(dataset, name, dims) if variable.dtype.kind == "f" else None
        if beside is None:
            yield _column(dataset, what, name, values.ravel(), unit)
            return
        for each in dict.fromkeys(beside.ravel().tolist()):
            column, entries = _column(dataset, what, name, values.ravel(), str(each))
            yield column, [e if u == each else None for e, u in zip(entries, beside.ravel(), strict=True)]
        return
    words = [list(dataset[dim].values.astype(str)) if dim in dataset else list(map(str, range(dataset.sizes[dim])))
             for dim in spread]  # fmt: skip
    flat = values.reshape(math.prod(dataset.sizes[dim] for dim in dims), math.prod(map(len, words)))
    for k, parts in enumerate(np.ndindex(*map(len, words))):
        tail = " ".join(words[i][part] for i, part in enumerate(parts))
        column, entries = _column(dataset, what, name, flat[:, k], unit)
        yield Column(f"{column.words} {tail}", column.unit, column.digits), entries


def _column(dataset: xr.Dataset, what: Study, name: str, values: Any, unit: str) -> _Made:
    """A column of one unit, its entries as they are told."""
    labels, kind = dataset.variables[name].attrs, values.dtype.kind
    words = _words(name)
    if kind == "U":
        return Column(words), [str(value) for value in values]
    if kind == "b":
        return Column(words), ["yes" if value else "no" for value in values]
    if kind in "iu":
        names = labels["flag_meanings"].split(" ") if "flag_meanings" in labels else _names_at(dataset, labels)
        if names is not None:
            plain = [str(each).replace("_", " ") if "flag_meanings" in labels else str(each) for each in names]
            return Column(words), [plain[value] if 0 <= value < len(plain) else "" for value in values.tolist()]
        return Column(words, unit), values.tolist()
    meaning = what.find(name) if np.isinf(values).any() else None
    if meaning is not None and meaning.infinite:
        return Column(words, unit), [meaning.infinite if math.isinf(value) else value for value in values.tolist()]
    return Column(words, unit), values.tolist()


def _names_at(dataset: xr.Dataset, labels: Any) -> list[str] | None:
    """The names that an integer is a place among, if its meaning says so."""
    found = _PLACE.search(str(labels.get("long_name", "")))
    if found is None or found[1] not in dataset.variables:
        return None
    names = dataset.variables[found[1]]
    return list(names.values.astype(str)) if names.ndim == 1 and names.dtype.kind == "U" else None


def _units_beside(dataset: xr.Dataset, name: str, dims: tuple[str, ...]) -> Any:
    """The unit of each value, in the shape of ``dims``, where its meaning says that another variable tells it."""
    variable = dataset.variables[name]
    if (sliding := _UNIT_SLIDING.search(_meaning(variable))) is not None:
        slides = _sliding(dataset, dims, motor=sliding["what"] != "it")
        turns = str(variable.attrs["units"]).replace("1", "N*m")
        return None if slides is None else np.where(slides, sliding["slides"], turns)
    found = _UNIT_BESIDE.search(_meaning(variable))
    if found is None or found[1] not in dataset.variables:
        return None
    units = dataset.variables[found[1]]
    along = [dim for dim in dims if dim in units.dims or dim.removeprefix("posture_") in units.dims]
    if units.ndim != 1 or not along:
        return None
    told = np.array([f"{unit}{_RATES.get(found['rate'] or '', '')}" for unit in units.values.astype(str)])
    return _along(dataset, told, dims, (along[-1],))


def _sliding(dataset: xr.Dataset, dims: tuple[str, ...], *, motor: bool) -> Any:
    """Where a joint slides; of stages the last of such a joint, of motors those of such a joint without a stage."""
    if "joint" not in dims or "joint_unit" not in dataset.variables:
        return None
    slides = dataset["joint_unit"].values == "m"
    if "stage" not in dims and not motor:
        return _along(dataset, slides, dims, ("joint",))
    if "stage_name" not in dataset.variables:
        return None
    there = dataset["stage_name"].transpose("joint", "stage").values != ""
    if "stage" not in dims:
        return _along(dataset, slides & ~there.any(axis=1), dims, ("joint",))
    later = np.array([there[:, s + 1 :].any(axis=1) for s in range(there.shape[1])]).T
    return _along(dataset, slides[:, None] & ~later, dims, ("joint", "stage"))


def _along(dataset: xr.Dataset, values: Any, dims: tuple[str, ...], own: tuple[str, ...]) -> Any:
    """Values along dims of their own, in the shape of all."""
    shape = [dataset.sizes[dim] if dim in own else 1 for dim in dims]
    return np.broadcast_to(values.reshape(shape), tuple(dataset.sizes[dim] for dim in dims))


def _words(name: str) -> str:
    """A variable's name as a head; names of design numbers stay as they are."""
    return name if "." in name else name.replace("_", " ")


def _meaning(variable: xr.Variable) -> str:
    return str(variable.attrs.get("long_name", ""))


def _columns_table(meanings: Sequence[tuple[Any, ...]]) -> Table:
    heads = ("table", "column", "meaning", "SI unit", "an empty field means", "no number means")
    rows = tuple(tuple("" if entry is None else str(entry) for entry in row) for row in meanings)
    return Table("columns", "What the columns of the other tables mean", tuple(map(Column, heads)), rows)


def _about(dataset: xr.Dataset, what: Study) -> Table:
    """The attributes, one a row or one a line, and the cautions."""
    known = {attribute.name: attribute for attribute in COMMON_ATTRIBUTES + what.attributes}
    rows: list[tuple[Entry, ...]] = [("study's meaning", what.meaning, "")]
    for name, value in dataset.attrs.items():
        attribute = known[str(name)]
        if attribute.kind == "str":
            rows += [(_words(str(name)), line, attribute.meaning) for line in str(value).splitlines() or [""]]
            continue
        for k, each in enumerate(np.atleast_1d(value).tolist()):
            which = f" {k + 1}" if attribute.length else ""
            rows.append((_words(str(name)) + which, Quantity(float(each), attribute.unit), attribute.meaning))
    rows += [("caution", words, "") for words in cautions]
    columns = (Column("what"), Column("value", digits=_ALL_FIGURES), Column("meaning"))
    return Table("about", "About this result", columns, tuple(rows))
