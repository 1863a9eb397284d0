"""Tables from the variables of a result: a row each place along a dim."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import xarray as xr

from armwright.report.document import Column, Entry, Quantity, Table

_BY_JOINT = ("joint_unit", "axis_unit")


@dataclass(frozen=True)
class Of:
    """A column of a variable's values. ``unit``: the name of the variable that tells each row's unit, where rows
    differ; ``per``: what follows on that unit, as "/s". The rest: as for Column."""

    variable: str
    words: str
    small: bool = False
    percent: bool = False
    down: bool = False
    hours: bool = False
    turns: bool = False
    unit: str = ""
    per: str = ""
    digits: int = 3


def table(
    dataset: xr.Dataset,
    dim: str,
    name: str,
    title: str,
    columns: Sequence[Of | tuple[Column, Iterable[Entry]]],
    *,
    note: str = "",
    shown: int | None = None,
) -> Table:
    """A row each place along ``dim``; columns of variables that are not there, or that tell nothing at all, are left
    out. Columns of other entries are given whole. ``shown``: as for Table."""
    heads: list[Column] = []
    entries: list[Sequence[Entry]] = []
    for column in columns:
        if isinstance(column, Of):
            if column.variable not in dataset:
                continue
            variable = dataset[column.variable]
            head, cells = _head(column, variable), _cells(column, dataset, variable, dim)
        else:
            head, cells = column[0], list(column[1])
        if heads and all(_is_nothing(cell) for cell in cells):
            continue
        heads.append(head)
        entries.append(cells)
    return Table(name, title, tuple(heads), tuple(zip(*entries, strict=True)), note, shown=shown)


def _head(column: Of, variable: xr.DataArray) -> Column:
    flags = {key: getattr(column, key) for key in ("small", "percent", "down", "hours", "turns", "digits")}
    words = variable.dtype.kind in "OUb" or "flag_meanings" in variable.attrs or bool(column.unit)
    return Column(column.words, None if words else str(variable.attrs["units"]), **flags)


def _cells(column: Of, dataset: xr.Dataset, variable: xr.DataArray, dim: str) -> list[Entry]:
    values = variable.transpose(dim).values
    if column.unit:
        units = dataset[column.unit].values
        return [_quantity(float(value), str(unit), column) for value, unit in zip(values, units, strict=True)]
    if "flag_meanings" in variable.attrs:
        meanings = str(variable.attrs["flag_meanings"]).split(" ")
        return [meanings[int(code)].replace("_", " ") if code >= 0 else "" for code in values]
    if variable.dtype.kind == "b":
        return ["yes" if value else "no" for value in values]
    return [plain(value) for value in values]


def _quantity(value: float, unit: str, column: Of) -> Entry:
    if math.isnan(value):
        return None
    return quantity(value, unit, per=column.per, small=column.small)


def quantity(value: float, unit: str, *, per: str = "", small: bool = False, note: str = "") -> Quantity:
    """A number of that unit; angles by time in degrees by time, as posture and travel are told in degrees."""
    if unit == "rad" and per:
        return Quantity(math.degrees(value), f"°{per}", note=note)
    if unit == "s" and not per and value >= 3600:
        return Quantity(value / 3600, "h", note=note)
    return Quantity(value, unit + per, small=small and unit + per == "m", note=note, percent=unit == "1" and not per)


def torque_unit(unit: str) -> str:
    """Of what acts on a joint of that unit."""
    return "N" if unit == "m" else "N*m"


def plain(value: Any) -> Entry:
    """A value as an entry."""
    return str(value) if isinstance(value, str | np.str_) else float(value)


def _is_nothing(entry: Entry) -> bool:
    if isinstance(entry, float):
        return math.isnan(entry)
    return entry is None or (isinstance(entry, str) and not entry)


def joined(first: Table, others: Iterable[Table]) -> Table:
    """The rows of tables with the same columns, one after the other."""
    return replace(first, rows=first.rows + tuple(row for other in others for row in other.rows))
