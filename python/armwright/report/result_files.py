"""Any result as CSV files or as a workbook."""

from __future__ import annotations

import os
import re
from pathlib import Path

import xarray as xr

from armwright.report.result_tables import tables_of
from armwright.report.table_files import write_csv, write_xlsx
from armwright.results.unit_words import names_in
from armwright.results.units import UnitSystem
from armwright.results.whole_file import file_path

_LONGEST = 60  # letters of a table's name in a file's


def to_csv(dataset: xr.Dataset, path: str | os.PathLike[str], *, units: UnitSystem = "si") -> list[Path]:
    """Writes every table of a result (see ``tables_of``) as CSV: the first to ``path``, the others beside it, as
    "reach-about.csv" beside "reach.csv". The paths, in that order. ``units``: "si", or "us" for inches and pounds.

    >>> [path.name for path in report.to_csv(cell.clearance(q), "near.csv")][-1]
    'near-about.csv'
    """
    target = file_path(path, ".csv")
    names = names_in(dataset)
    written: list[Path] = []
    for table in tables_of(dataset):
        plain = re.sub(r"[^\w.]+", "-", table.name)[:_LONGEST].strip("-")
        beside = target.with_name(f"{target.stem}-{plain}{target.suffix}") if written else target
        while beside in written:
            beside = beside.with_name(f"{beside.stem}-more{target.suffix}")
        written.append(write_csv(table, beside, units=units, names=names))
    return written


def to_xlsx(dataset: xr.Dataset, path: str | os.PathLike[str], *, units: UnitSystem = "si") -> Path:
    """Writes every table of a result (see ``tables_of``) as a sheet of one workbook. ``units``: "si", or "us" for
    inches and pounds. InputError where a table has more rows than a sheet holds, or xlsxwriter is not installed.

    >>> report.to_xlsx(cell.check_targets(), "points.xlsx").name
    'points.xlsx'
    """
    target = file_path(path, ".xlsx")
    return write_xlsx(tables_of(dataset), target, units=units, names=names_in(dataset))
