"""Tables as files: CSV, and sheets of one xlsx workbook, with the unit in each column's head."""

from __future__ import annotations

import csv
import math
import os
import re
from collections.abc import Iterable
from functools import lru_cache
from pathlib import Path
from typing import Any

from armwright.errors import InputError
from armwright.report.document import Column, Entry, Quantity, Table, Verdict
from armwright.report.figures import heading, how_told, told
from armwright.report.packages import package
from armwright.results.unit_words import in_units
from armwright.results.units import UnitSystem
from armwright.results.whole_file import file_path, whole_file

_ROWS = 2**20 - 3  # of a sheet, below title and heads
_TEXT, _CUT = 32767, " ... (cut)"  # letters that a field may have
_AS_TOLD = {"nan_inf_to_errors": False, "strings_to_formulas": False, "strings_to_urls": False}
_SHEET = 31  # letters that a sheet's name may have (ECMA-376 readers refuse more)
_FORBIDDEN = re.compile(r"[\[\]:*?/\\]")


def write_csv(
    table: Table, path: str | os.PathLike[str], *, units: UnitSystem = "si", names: Iterable[str] = ()
) -> Path:
    """Writes the table as UTF-8 text with commas (RFC 4180): a line of heads with units, then a line a row. Numbers
    have all their figures; nothing told is an empty field."""
    target, names = file_path(path), frozenset(names)
    with whole_file(target) as part, part.open("w", encoding="utf-8", newline="") as stream:
        lines = csv.writer(stream)
        lines.writerow([heading(column, units) for column in table.columns])
        for row in table.rows:
            lines.writerow([_plain(entry, column, units, names) for entry, column in _pairs(row, table)])
    return target


def write_xlsx(
    tables: Iterable[Table], path: str | os.PathLike[str], *, units: UnitSystem = "si", names: Iterable[str] = ()
) -> Path:
    """Writes a workbook (Office Open XML, ECMA-376) with a sheet a table: the title, heads with units, rows; numbers as
    numbers. Needs xlsxwriter: pip install armwright[export]."""
    xlsxwriter = package("xlsxwriter", path)
    target, sheets, names = file_path(path), list(tables), frozenset(names)
    for table in sheets:
        if len(table.rows) > _ROWS:
            raise InputError.of("path", f"{target}: {len(table.rows)} rows of {table.name}",
                                f"at most {_ROWS} rows, as a sheet holds; write CSV, which has no end")  # fmt: skip
    with whole_file(target) as part, xlsxwriter.Workbook(str(part), _AS_TOLD) as book:
        bold, head = book.add_format({"bold": True}), book.add_format({"bold": True, "text_wrap": True, "bottom": 1})
        for table, name in zip(sheets, sheet_names(sheets), strict=True):
            sheet = book.add_worksheet(name)
            _write(sheet, 0, 0, table.title, bold)
            for c, column in enumerate(table.columns):
                _write(sheet, 2, c, heading(column, units), head)
                sheet.set_column(c, c, 24 if column.unit is None else 14)
            for r, row in enumerate(table.rows, 3):
                for c, (entry, column) in enumerate(_pairs(row, table)):
                    _write(sheet, r, c, _plain(entry, column, units, names))
            sheet.freeze_panes(3, 1)
    return target


def _write(sheet: Any, row: int, column: int, value: Any, look: Any = None) -> None:
    """A number or words; words that are longer than a field holds are cut, and say so."""
    if isinstance(value, float | int):
        sheet.write_number(row, column, value, look)
    elif value:
        sheet.write_string(row, column, value if len(value) <= _TEXT else value[: _TEXT - len(_CUT)] + _CUT, look)


def _pairs(row: tuple[Entry, ...], table: Table) -> Iterable[tuple[Entry, Column]]:
    return zip(row, table.columns, strict=True)


def _plain(entry: Entry, column: Column, units: UnitSystem, names: Iterable[str]) -> Any:
    """A number in the head's unit, or words; what stands small below a number is told behind it."""
    if isinstance(entry, float | int):
        if isinstance(entry, int) and how_told(column, units).factor == 1:
            return entry
        value = float(entry) * how_told(column, units).factor
        return value if math.isfinite(value) else told(entry, column, units)
    if isinstance(entry, Quantity):
        return f"{told(entry, column, units)}; {entry.note}" if entry.note else told(entry, column, units)
    if isinstance(entry, Verdict):
        return entry.words
    return _in_units(entry, units, frozenset(names)) if entry else ""


@lru_cache(maxsize=4096)
def _in_units(text: str, units: UnitSystem, names: frozenset[str]) -> str:
    """Columns repeat their words."""
    return in_units(text, units, names)


def sheet_names(tables: Iterable[Table]) -> list[str]:
    """The names of the sheets of a workbook with these tables."""
    used: set[str] = set()
    return [_sheet_name(table.name, used) for table in tables]


def _sheet_name(name: str, used: set[str]) -> str:
    """Short, without what a sheet's name may not hold, and unlike those before it whatever their case."""
    plain = _FORBIDDEN.sub(" ", name).strip("' ")[:_SHEET].rstrip("' ") or "table"
    told_name, k = plain, 2
    while told_name.lower() in used:
        tail = f" {k}"
        told_name, k = plain[: _SHEET - len(tail)] + tail, k + 1
    used.add(told_name.lower())
    return told_name
